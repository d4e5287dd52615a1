"""A set's own ingredients: what a school bakes with and the table does not have.

Each is checked as a reader's own is (`calc.own_ingredient`); a complaint says at which part. None takes
the place of a row of the table, under any of the row's names, so no caution of the table is lost.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from calc import composition, units
from calc.allergens import ALLERGENS
from calc.composition import OWN_LIQUID, Ingredient
from calc.own_ingredient import KINDS, RecordError, from_record, read_figures, to_record
from exercises.setfile import Entry, nearest
from exercises.yaml_write import Data

MOST = 50
# The parts of an ingredient in a set, and the fields of a record that they fill.
FIELDS = {
    "name": "name", "kind": "kind",
    "water": "water", "lowest water": "water_low", "highest water": "water_high",
    "fat": "fat", "carbohydrate": "carbohydrate", "sugars": "sugars", "protein": "protein",
    "salt": "salt", "alcohol": "alcohol",
    "density": "density", "lowest density": "density_low", "highest density": "density_high",
    "lowest pH": "ph_low", "highest pH": "ph_high",
    "allergens": "allergens", "keep cold": "perishable",
}  # fmt: skip
# Someone may have to rely on what is said of allergens and the cold: neither may be left out.
KEYS = {part: part in ("name", "water", "allergens", "keep cold") for part in FIELDS}
NONE, NONE_READ, NOT_KNOWN = "none", "none on its pack", "not known"
_YES = {"yes": True, "true": True, "no": False, "false": False}

Complain = Callable[[Entry, str], None]


def ingredient_of(
    entry: Entry, parts: Mapping[str, Entry], complain: Complain
) -> Ingredient | None:
    """One ingredient from its parts; None where something is wrong, which is complained of."""
    texts = {FIELDS[part]: one.text for part, one in parts.items() if part in FIELDS}
    figures, messages = read_figures(texts)
    for field, message in messages.items():
        complain(_place(parts, field, entry), f"“{_part(field)}”: {message}")
    record = {"name": texts.get("name", ""), "kind": texts.get("kind", "liquid"), **figures}
    said = _allergens(parts["allergens"], record["name"], complain)
    cold = _YES.get(texts.get("perishable", "").lower())
    if cold is None:
        complain(parts["keep cold"], "“keep cold” is yes for what spoils, or no.")
    wrong = said is None or cold is None or bool(messages)
    try:
        # What is wrong with its figures is told now, and not after the next try.
        made = from_record(record | (said or {}) | {"perishable": bool(cold)})
    except RecordError as error:
        if error.field not in messages:
            place = _place(parts, error.field, entry)
            complain(place, f"“{_part(error.field)}”: {error}")
        return None
    return None if _is_the_tables(made, parts["name"], complain) or wrong else made


def stand_in(entry: Entry) -> Ingredient:
    """Any row of the table that is of the kind, under the name of an ingredient that has a slip."""
    parts = entry.value if isinstance(entry.value, dict) else {}
    text = {part: one.text for part, one in parts.items()}
    group = KINDS.get(text.get("kind", ""), OWN_LIQUID)
    rows = [row for row in composition.table().values() if row.group == group]
    like = rows[0] if rows else composition.find("buttermilk")
    return replace(like, key="own-stand-in", name=" ".join(text.get("name", "").split()))


def as_parts(ingredient: Ingredient) -> dict[str, Data]:
    """An ingredient as a teacher would write it in a set."""
    record = to_record(ingredient)
    parts = {
        part: _written(field, record[field]) for part, field in FIELDS.items() if field in record
    }
    nothing = NONE if ingredient.allergens_known else NOT_KNOWN
    return parts | {"allergens": list(ingredient.allergens) or nothing}


def _written(field: str, value: object) -> Data:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, float | int):
        return value if isinstance(value, list) else str(value)
    if field.startswith("density"):
        return f"{units.write_exact(value, 'density')}"
    return f"{value:.6g}" if field.startswith("ph") else f"{value:.6g} g"


def _allergens(entry: Entry, name: str, complain: Complain) -> dict[str, object] | None:
    """What a set says of allergens, as a record has it; None where that cannot be taken."""
    text = entry.text.strip().lower()
    usual = [ALLERGENS[word].name for word in composition.usual_allergens(name)]
    if text == NONE and usual:
        complain(
            entry,
            f"Such a food usually holds {', '.join(usual)}. Add it, or write “{NONE_READ}” when you have read the pack.",
        )
        return None
    if text in (NONE, NONE_READ):
        return {"no_allergens": True}
    if text == NOT_KNOWN:
        return {}
    listed = entry.value if isinstance(entry.value, list) else [entry]
    words = [one.text.strip().lower().replace(" ", "-") for one in listed]
    for one, word in zip(listed, words, strict=True):
        if word not in ALLERGENS:
            hint = nearest(word, [*ALLERGENS, NONE, NOT_KNOWN])
            complain(one, f"No allergen is called “{one.text[:40]}” here. {hint}")
    return {"allergens": words} if words and all(word in ALLERGENS for word in words) else None


def _is_the_tables(made: Ingredient, entry: Entry, complain: Complain) -> bool:
    """Whether the table calls something else so: that row's cautions must not be lost."""
    rows = composition.called(made.name)
    if rows:
        complain(
            entry,
            f"The table has {rows[0].name} under this name. Call yours something else, such as my {made.name}.",
        )
    return bool(rows)


def _part(field: str) -> str:
    return next((part for part, its in FIELDS.items() if its == field), field)


def _place(parts: Mapping[str, Entry], field: str, otherwise: Entry) -> Entry:
    return parts.get(_part(field), otherwise)
