"""Ingredients that the table does not have, as a table: a reader's own, and those of a set."""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from calc import units
from calc.allergens import ALLERGENS
from calc.composition import Ingredient
from calc.own_ingredient import kind_of
from exercises.publish.html import Child, element, table

KIND_NAMES = {
    "liquid": "liquid, egg or puree", "flour": "flour", "fat": "fat",
    "sweetener": "sugar or syrup", "other": "something else",
}  # fmt: skip
# Said where a class or a friend gets them.
READ_THE_PACK = "Check them against the packs you use, the allergens above all."


def own_table(caption: str, rows: list[list[Child]], more: Iterable[str] = ()) -> Element:
    """The table of such rows as `own_cells` makes; `more` heads further columns."""
    heads = ["Ingredient", "Water", "Fat", "Sugars", "1 ml weighs", "pH", "Allergens", *more]
    return table(caption, heads, rows)


def own_cells(each: Ingredient) -> list[Child]:
    """What is told of one: in 100 g, and what 1 ml weighs."""
    return [
        element("span", each.name, element("small", KIND_NAMES[kind_of(each)])),
        _water(each),
        _amount(each.fat),
        _amount(each.sugars),
        _weight_of_1_ml(each),
        _ph(each),
        _allergens(each),
    ]


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
