"""A reader's own ingredients: added in the page, kept on their device, exported and imported.

The page sends what it keeps as text with each request. That text, and a file to import, may hold
anything: `kept` leaves out what cannot be read, the form and the import say what is wrong.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.allergens import ALLERGENS
from calc.composition import Ingredient
from calc.own_ingredient import (
    DENSITIES,
    KINDS,
    LIGHTEST,
    STATED_PARTS,
    RecordError,
    from_record,
    kind_of,
    to_record,
)
from calc.panel_figures import read_density
from calc.units import ReadingError
from calc.words import counted
from docs.parts.shared.cards import as_cards
from docs.parts.shared.fields import FieldErrors, choice_field, text_field
from exercises import untrusted
from exercises.publish.html import element, table

MOST_INGREDIENTS = 200
LONGEST_TEXT = 200_000
# A link has room for some dozens: programs that pass it on cut longer ones.
LONGEST_SHARED = 8_000
FORMAT = "doughwater-ingredients"
NO_ALLERGENS = "no-allergens"
FILE_NAME = "my-ingredients.json"

KIND_NAMES = {
    "liquid": "liquid, egg or puree", "flour": "flour", "fat": "fat",
    "sweetener": "sugar or syrup", "other": "something else",
}  # fmt: skip
PART_NAMES = {
    "fat": "Fat", "carbohydrate": "Carbohydrate, with fibre", "sugars": "Sugars",
    "protein": "Protein", "salt": "Salt", "alcohol": "Alcohol",
}  # fmt: skip

# Its form is in a card, as the other tools' do.
card = True


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The empty form and the empty list."""
    prefix = attributes.get("id", "own")
    return [
        form(prefix),
        element("div", *list_view([]), class_="dw-output", data_output=True),
        _file_buttons(prefix),
        element("p", class_="dw-status", role="status"),
    ]


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Do the ``action`` (list, save, remove, import, export, share, arrive) on the ``store``.

    Raises FieldErrors when a field or the file cannot be read; the store then stays as it is.
    """
    text, action = values.get("store", ""), values.get("action", "list")
    have = {each.key: each for each in kept(text)}
    if action == "share":
        return {"elements": list_view(have.values()), "link": _link(have.values()), "says": ""}
    if action == "arrive":
        found = _linked(values.get("file", ""))
        return {
            "elements": _offer(found, have),
            "says": f"This link brings {counted(len(found), 'ingredient')}.",
        }
    if action == "export":
        made = json.dumps(
            {"format": FORMAT, "version": 1, "ingredients": [to_record(i) for i in have.values()]},
            ensure_ascii=False,
            indent=1,
        )
        says = f"Saved {counted(len(have), 'ingredient')} to {FILE_NAME}."
        return {"elements": list_view(have.values()), "says": says, "file": made, "filename": FILE_NAME}  # fmt: skip
    if action == "list":
        return {"elements": list_view(have.values()), "says": _lost(text, len(have))}
    if action == "remove":
        gone = have.pop(values.get("key", ""), None)
        says = f"Removed {gone.name}." if gone else "There is no such ingredient."
    elif action == "import":
        found = imported(values.get("file", ""))
        have |= {each.key: each for each in found}
        says = f"Added {counted(len(found), 'ingredient')} from the file."
    else:
        new = from_form(values)
        # A change of name leaves no twin under the old one.
        if values.get("was", new.key) != new.key and new.key not in have:
            have.pop(values["was"], None)
        says = f"{'Changed' if new.key in have else 'Added'} {new.name}. It is now in the lists of this site, on this device."
        have[new.key] = new
    if len(have) > MOST_INGREDIENTS:
        raise FieldErrors(
            {"name": f"There is room for {MOST_INGREDIENTS} ingredients. Remove some first."}
        )
    records = [to_record(each) for each in have.values()]
    return {"elements": list_view(have.values()), "says": says, "records": records}


# Sharing.


def _link(ingredients: Iterable[Ingredient]) -> str:
    """The ingredients as the part of a link that stays in the browser. Raises FieldErrors."""
    records = [to_record(each) for each in ingredients]
    text = json.dumps(records, ensure_ascii=False, separators=(",", ":"))
    if not records:
        raise FieldErrors({"file": "There is nothing to share yet. Keep an ingredient first."})
    if len(text) > LONGEST_SHARED:
        raise FieldErrors(
            {"file": "That is too much for a link. Save it to a file, and send that."}
        )
    return text


def _linked(text: str) -> list[Ingredient]:
    try:
        return imported(text)
    except FieldErrors:
        raise FieldErrors(
            {"file": "This link’s ingredients cannot be read. It may have been cut: ask for it again, or for a file."}
        ) from None  # fmt: skip


def _offer(found: Iterable[Ingredient], have: Mapping[str, Ingredient]) -> list[Element]:
    """What a link brings, to keep or to leave; nothing is kept before the reader says so."""
    found = list(found)
    replaced = [each.name for each in found if each.key in have and have[each.key] != each]
    warning = f"Keeping them replaces your own {', '.join(replaced)}." if replaced else ""
    return [
        element("p", f"This link brings {counted(len(found), 'ingredient')}. Check them against the packs you use, the allergens above all. {warning}"),
        as_cards(_grid("In the link (in 100 g)", [_cells(each) for each in found])),
        element(
            "div",
            element("button", "Keep them on this device", type="button", class_="dw-button", data_action="keep"),
            element("button", "Leave them", type="button", class_="dw-button dw-quiet", data_action="leave"),
            class_="dw-buttons",
        ),
        *list_view(have.values()),
    ]  # fmt: skip


# Reading.


def kept(text: object) -> list[Ingredient]:
    """The ingredients in a store's text; what cannot be read is left out."""
    found = {}
    for record in _records(text):
        try:
            ingredient = from_record(record)
        except RecordError:
            continue
        found[ingredient.key] = ingredient
    return list(found.values())


def imported(text: str) -> list[Ingredient]:
    """The ingredients in a file, all of them. Raises FieldErrors: nothing is added in part."""
    records = _records(text)
    if not records:
        raise FieldErrors(
            {"file": f"This file holds no ingredients. Choose one saved here, such as {FILE_NAME}."}
        )
    found = []
    for number, record in enumerate(records, 1):
        try:
            found.append(from_record(record))
        except RecordError as error:
            raise FieldErrors(
                {"file": f"Ingredient {number} in the file: {error} Nothing was added."}
            ) from None
    return found


# Deeper JSON is none of ours, and overflows the stack of the page's Python for good.
def _records(text: object) -> list[object]:
    if not isinstance(text, str):
        return []
    try:
        found = untrusted.read_json(text, LONGEST_TEXT)
    except ValueError:
        return []
    if isinstance(found, dict):
        found = found.get("ingredients")
    return found[:MOST_INGREDIENTS] if isinstance(found, list) else []


def from_form(values: Mapping[str, str]) -> Ingredient:
    """The ingredient in the form. Raises FieldErrors."""
    messages: dict[str, str] = {}
    record: dict[str, object] = {"name": values.get("name", ""), "kind": values.get("kind", "")}
    for field in ("water", "water_low", "water_high", *STATED_PARTS):
        record[field] = _read(values, field, _grams, messages)
    for field in DENSITIES:
        record[field] = _read(values, field, _density, messages)
    for field in ("ph_low", "ph_high"):
        record[field] = _read(values, field, _plain, messages)
    record["allergens"] = [word for word in ALLERGENS if f"allergen-{word}" in values]
    record["no_allergens"] = NO_ALLERGENS in values
    record["perishable"] = "perishable" in values
    if bool(record["allergens"]) == record["no_allergens"]:
        messages["allergens"] = (
            "You ticked allergens and “none of these”. Take one of them off."
            if record["allergens"]
            else "Read the pack, and tick what it names, or “none of these”. Someone may have to rely on it."
        )
    try:
        made = from_record(record)
    except RecordError as error:
        messages.setdefault(error.field, str(error))
    if messages:
        raise FieldErrors(messages)
    return made


def _read(values, field, reader, messages) -> float | None:
    text = values.get(field, "").strip()
    if not text:
        return None
    try:
        return reader(text)
    except ReadingError as error:
        messages[field] = str(error)
        return None


def _grams(text: str) -> float:
    """Grams in 100 g: as such, or in per cent."""
    if units.is_percentage(text):
        return units.read(text, "share").value * 100
    return units.read(text, "mass", "g").value


def _density(text: str) -> float:
    return read_density(text, LIGHTEST).value


def _plain(text: str) -> float:
    return units.read(text, "number").value


# Showing.


def form(prefix: str) -> Element:
    """The empty form for one ingredient."""

    def number(name: str, label: str, help: str = "") -> Element:
        return text_field(prefix, name, label, "", help)

    return element(
        "form",
        element(
            "fieldset",
            element("legend", "What it is"),
            element(
                "div",
                text_field(prefix, "name", "Name", "", "such as goat yogurt"),
                choice_field(
                    prefix, "kind", "Kind", "liquid", [(k, KIND_NAMES[k], "") for k in KINDS]
                ),
                class_="dw-row",
            ),
        ),
        element(
            "fieldset",
            element("legend", "In 100 g of it"),
            element(
                "div",
                number("water", "Water", "such as 81 g"),
                number("water_low", "Lowest (may be blank)"),
                number("water_high", "Highest (may be blank)"),
                class_="dw-row",
            ),
            element(
                "div",
                *(number(part, PART_NAMES[part], "blank: not known") for part in STATED_PARTS),
                class_="dw-row",
            ),
            element(
                "div",
                number("density", "Weight of 1 ml", "such as 1.03 g, to read cups and ml"),
                number("density_low", "Lightest", "may be blank"),
                number("density_high", "Heaviest", "may be blank"),
                class_="dw-row",
            ),
            element(
                "div",
                number("ph_low", "pH, lowest", "blank: not known"),
                number("ph_high", "pH, highest"),
                class_="dw-row",
            ),
        ),
        element(
            "fieldset",
            element("legend", "Allergens, as its pack says"),
            element(
                "div",
                *(_box(prefix, f"allergen-{a.word}", a.name) for a in ALLERGENS.values()),
                _box(prefix, NO_ALLERGENS, "none of these"),
                class_="dw-boxes",
            ),
            element("span", class_="dw-complaint", data_for="allergens"),
            _box(prefix, "perishable", "It spoils: it must be kept cold"),
        ),
        element(
            "div",
            element("button", "Keep this ingredient", type="submit", class_="dw-button"),
            class_="dw-buttons",
        ),
        class_="dw-form",
        novalidate=True,
        aria_label="An ingredient of your own",
    )


def _box(prefix: str, name: str, label: str) -> Element:
    box = element("input", type="checkbox", name=name, value="yes", id=f"{prefix}-{name}")
    return element("label", box, f" {label}", for_=f"{prefix}-{name}", class_="dw-box")


def _file_buttons(prefix: str) -> Element:
    return element(
        "div",
        element("button", "Save to a file", type="button", class_="dw-button dw-quiet", data_action="export"),
        element("button", "Copy a link to all of them", type="button", class_="dw-button dw-quiet", data_action="share"),
        element(
            "label", "Read from a file ",
            element("input", type="file", name="file", id=f"{prefix}-file", accept=".json,application/json"),
            for_=f"{prefix}-file",
        ),
        element("span", class_="dw-complaint", data_for="file"),
        class_="dw-buttons",
    )  # fmt: skip


def list_view(ingredients) -> list[Element]:
    """The ingredients as a table, each with its buttons."""
    rows = [
        [
            *_cells(each),
            element("span", _button("Change", "change", each), _button("Remove", "remove", each)),
        ]
        for each in ingredients
    ]
    if not rows:
        return [element("p", "You have no ingredients of your own on this device yet. The first one you keep is shown here.")]  # fmt: skip
    return [as_cards(_grid("Kept on this device (in 100 g)", rows, [""]))]


def _grid(caption: str, rows: list[list], more: Iterable[str] = ()) -> Element:
    heads = ["Your ingredient", "Water", "Fat", "Sugars", "1 ml weighs", "pH", "Allergens", *more]
    return table(caption, heads, rows)


def _cells(each: Ingredient) -> list:
    return [
        element("span", each.name, element("small", KIND_NAMES[kind_of(each)])),
        _water(each),
        _amount(each.fat),
        _amount(each.sugars),
        _weight_of_1_ml(each),
        _ph(each),
        _allergens(each),
    ]


def _button(text: str, action: str, ingredient: Ingredient) -> Element:
    return element(
        "button", text, type="button", class_="dw-button dw-quiet", data_action=action, data_key=ingredient.key,
        aria_label=f"{text} {ingredient.name}",
    )  # fmt: skip


def _amount(share: float | None) -> str:
    return "not known" if share is None else units.write_exact(share * 100, "mass")


def _water(ingredient: Ingredient) -> str:
    low, high = ingredient.water_range.low, ingredient.water_range.high
    around = f" ({_amount(low)} to {_amount(high)})" if high > low else ""
    return _amount(ingredient.water) + around


def _weight_of_1_ml(ingredient: Ingredient) -> str:
    if ingredient.density is None:
        return "not known"
    around = ingredient.bulk
    ends = f" ({around.low:.3g} to {around.high:.3g} g)" if around and around.width else ""
    return f"{ingredient.density:.3g} g{ends}"


def _allergens(ingredient: Ingredient) -> str:
    none = "none on its pack" if ingredient.allergens_known else "not known: read its pack"
    return ", ".join(ALLERGENS[word].name for word in ingredient.allergens) or none


def _ph(ingredient: Ingredient) -> str:
    if ingredient.ph is None:
        return "not known"
    low, high = ingredient.ph.low, ingredient.ph.high
    return f"{low:g}" + (f" to {high:g}" if high > low else "")


def _lost(text: str, readable: int) -> str:
    lost = len(_records(text)) - readable
    return (
        f"{counted(lost, 'ingredient')} on this device cannot be read and is left out."
        if lost > 0
        else ""
    )
