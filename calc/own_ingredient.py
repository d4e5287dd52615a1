"""An ingredient of the reader's own: read from a record that nothing vouches for, and written back.

A record is what the page keeps on the reader's device, and what a file holds that is exported and
imported. `calc.composition.known` makes such ingredients known to `find`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from calc import units
from calc.allergens import ALLERGENS
from calc.composition import OWN_LIQUID, Ingredient, table
from calc.interval import Interval
from calc.panel_figures import HEAVIEST, read_density
from calc.units import ReadingError

# What a reader may call an ingredient, and the table's group it then belongs to.
KINDS = {
    "liquid": OWN_LIQUID,
    "flour": "flour",
    "fat": "fat",
    "sweetener": "sweetener",
    "other": "other",
}
# The parts a reader may state, in grams in 100 g, in the order of a pack.
STATED_PARTS = ("fat", "carbohydrate", "sugars", "protein", "salt", "alcohol")
# What 1 ml weighs, in grams, and from the lightest to the heaviest.
DENSITIES = ("density", "density_low", "density_high")
# In g/ml: what is whipped or puffed is lighter than what a pack gives in ml.
LIGHTEST = 0.05
LONGEST_NAME = 60
# 100 g cannot hold more than 100 g, but a pack rounds each part.
_MOST_IN_100_G = 101.0


# The source of what a reader states of an ingredient of their own.
OWN_SOURCE = "own"


class RecordError(ValueError):
    """A reader's own ingredient cannot be taken as written: `field` says where."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


def kind_of(ingredient: Ingredient) -> str:
    """What a reader would call it: a key of `KINDS`."""
    if ingredient.is_liquid:
        return "liquid"
    return ingredient.group if ingredient.group in KINDS else "other"


def from_record(record: object) -> Ingredient:
    """A reader's own ingredient from what they wrote or imported; nothing in it is trusted.

    A record is a dict: ``name``, ``kind`` (a key of `KINDS`), ``water`` in grams in 100 g; and, where
    known, ``water_low``, ``water_high``, the `STATED_PARTS`, the `DENSITIES` in g/ml, ``ph_low``, ``ph_high``, ``allergens`` (a
    list of `calc.allergens` words), ``no_allergens`` (true where its pack names none) and
    ``perishable``. Other entries are not read. Without a word on allergens they are not known.

    Raises RecordError, a ValueError, which names the field and says what to change.
    """
    if not isinstance(record, Mapping):
        raise RecordError("name", "An ingredient must be a record with a name and its water.")
    name = _name(record)
    kind = record.get("kind", "liquid")
    if not isinstance(kind, str) or kind not in KINDS:
        raise RecordError("kind", f"The kind must be one of: {', '.join(KINDS)}.")
    water = _grams(record, "water")
    if water is None or (kind == "liquid" and not water):
        raise RecordError("water", "Give its water: what is in 100 g, above 0 g for a liquid.")
    parts = {part: _grams(record, part) for part in STATED_PARTS}
    _refuse_impossible(water, parts)
    density, bulk = _density(record)
    perishable = record.get("perishable", False)
    if not isinstance(perishable, bool):
        raise RecordError("perishable", "Perishable must be true or false.")
    return Ingredient(
        key=_own_key(name),
        name=name,
        group=KINDS[kind],
        water=water / 100,
        water_range=_water_range(record, water, kind),
        **{part: None if grams is None else grams / 100 for part, grams in parts.items()},
        density=density,
        bulk=bulk,
        ph=_ph(record),
        allergens=_allergens(record),
        allergens_known=bool(_allergens(record)) or record.get("no_allergens") is True,
        perishable=perishable,
        source=OWN_SOURCE,
        water_range_source=OWN_SOURCE,
        density_source=OWN_SOURCE if density else "",
        bulk_source=OWN_SOURCE if bulk else "",
    )


def to_record(ingredient: Ingredient) -> dict[str, object]:
    """The record of a reader's own ingredient, with its key; `from_record` reads it back."""

    def grams(share: float | None) -> float | None:
        return None if share is None else round(100 * share, 6)

    around = ingredient.water_range
    record = {
        "key": ingredient.key,
        "name": ingredient.name,
        "kind": kind_of(ingredient),
        "water": grams(ingredient.water),
        "water_low": grams(around.low) if around.width else None,
        "water_high": grams(around.high) if around.width else None,
        **{part: grams(getattr(ingredient, part)) for part in STATED_PARTS},
        "density": ingredient.density,
        "density_low": ingredient.bulk.low if ingredient.bulk else None,
        "density_high": ingredient.bulk.high if ingredient.bulk else None,
        "ph_low": ingredient.ph.low if ingredient.ph else None,
        "ph_high": ingredient.ph.high if ingredient.ph else None,
        "allergens": list(ingredient.allergens),
        "no_allergens": (ingredient.allergens_known and not ingredient.allergens) or None,
        "perishable": ingredient.perishable,
    }
    return {name: value for name, value in record.items() if value is not None}


def read_figures(texts: Mapping[str, str]) -> tuple[dict[str, float], dict[str, str]]:
    """A record's figures from what somebody typed, by field: ``water`` “81 g” or “81 %”, ``density`` “1.03 g/ml”.

    The figures, and what is wrong with those that cannot be read. Blank ones are in neither.
    """
    figures, messages = {}, {}
    for field, reader in _READERS.items():
        text = texts.get(field, "").strip()
        try:
            if text:
                figures[field] = reader(text)
        except ReadingError as error:
            messages[field] = str(error)
    return figures, messages


def _grams_in_100(text: str) -> float:
    """Grams in 100 g: as such, or in per cent."""
    if units.is_percentage(text):
        return units.read(text, "share").value * 100
    return units.read(text, "mass", "g").value


_READERS = {
    **dict.fromkeys(("water", "water_low", "water_high", *STATED_PARTS), _grams_in_100),
    **dict.fromkeys(DENSITIES, lambda text: read_density(text, LIGHTEST).value),
    **dict.fromkeys(("ph_low", "ph_high"), lambda text: units.read(text, "number").value),
}


def _name(record: Mapping) -> str:
    name = record.get("name")
    if not isinstance(name, str) or not name.strip():
        raise RecordError("name", "Give it a name, such as goat yogurt.")
    name = " ".join(name.split())
    if len(name) > LONGEST_NAME or not name.isprintable():
        raise RecordError(
            "name", f"The name must be plain text of at most {LONGEST_NAME} characters."
        )
    if not _own_key(name).removeprefix(OWN_PREFIX):
        raise RecordError("name", "The name needs a letter or a number in it.")
    if name.lower() in table() or any(each.name == name.lower() for each in table().values()):
        raise RecordError(
            "name", f"The table has {name} already. Call yours something else, such as my {name}."
        )
    return name


OWN_PREFIX = "own-"


def _own_key(name: str) -> str:
    """A key of letters, figures and hyphens only, and none of the table's."""
    return OWN_PREFIX + re.sub(r"[\W_]+", "-", name.lower()).strip("-")


def _number(record: Mapping, field: str, most: float, unit: str) -> float | None:
    value = record.get(field)
    if value is None:
        return None
    # True is a number to Python; a comparison with NaN is false.
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= most:
        called = field.replace("_", " ").replace("ph", "pH")
        raise RecordError(field, f"{called} must be a number from 0 to {most:g}{unit}.")
    return float(value)


def _grams(record: Mapping, field: str) -> float | None:
    return _number(record, field, 100, " g in 100 g")


def _water_range(record: Mapping, water: float, kind: str) -> Interval:
    low, high = _grams(record, "water_low"), _grams(record, "water_high")
    low, high = water if low is None else low, water if high is None else high
    if not low <= water <= high:
        raise RecordError(
            "water_low", "The water must lie between the lowest and the highest you give."
        )
    if kind == "liquid" and not low:
        raise RecordError("water_low", "The lowest water of a liquid must be above 0 g in 100 g.")
    return Interval(low / 100, high / 100)


def _refuse_impossible(water: float, parts: Mapping[str, float | None]) -> None:
    within = parts["sugars"], parts["carbohydrate"]
    if None not in within and within[0] > within[1]:
        raise RecordError("sugars", "Sugars are a part of the carbohydrate: they cannot be more.")
    # Sugars count within the carbohydrate, and alone only where the carbohydrate is not known.
    inside = "sugars" if parts["carbohydrate"] is not None else ""
    whole = water + sum(grams or 0.0 for part, grams in parts.items() if part != inside)
    if whole > _MOST_IN_100_G:
        raise RecordError(
            "water",
            f"Water and the other parts come to {whole:.4g} g in 100 g. Check them: one is too high.",
        )


def _density(record: Mapping) -> tuple[float | None, Interval | None]:
    """Grams in 1 ml as it is reckoned, and from the lightest to the heaviest where they are stated."""
    value, low, high = (_number(record, field, HEAVIEST, " g/ml") for field in DENSITIES)
    ends = [each for each in (low, high) if each is not None]
    stated = [*ends] if value is None else [value, *ends]
    if not stated:
        return None, None
    if min(stated) < LIGHTEST:
        raise RecordError("density", f"1 ml weighs at least {LIGHTEST:g} g. Check the density.")
    value = sum(stated) / len(stated) if value is None else value
    low, high = value if low is None else low, value if high is None else high
    if not low <= value <= high:
        raise RecordError(
            "density_low",
            "What 1 ml weighs must lie between the lightest and the heaviest you give.",
        )
    return value, Interval(low, high) if ends else None


def _ph(record: Mapping) -> Interval | None:
    low, high = (_number(record, f"ph_{end}", 14, "") for end in ("low", "high"))
    if low is None and high is None:
        return None
    low, high = high if low is None else low, low if high is None else high
    if low > high:
        raise RecordError("ph_low", "The lowest pH must not be above the highest.")
    return Interval(low, high)


def _allergens(record: Mapping) -> tuple[str, ...]:
    words = record.get("allergens", [])
    if not isinstance(words, list | tuple) or not all(
        isinstance(word, str) and word in ALLERGENS for word in words
    ):
        raise RecordError("allergens", f"The allergens must be words of: {', '.join(ALLERGENS)}.")
    return tuple(dict.fromkeys(words))
