"""One dough's hydration in each of the trade's meanings, as something a problem may ask for.

The calculation is `calc.formula.hydration`; here are the quantities that ask for it. What a
meaning leaves out is told all the same, so that it can be seen when a student counts it.
"""

from __future__ import annotations

from calc import composition
from calc.composition import Ingredient
from calc.expression import summed
from calc.formula import (
    BY_WEIGHT,
    MEANINGS,
    Formula,
    Item,
    content_given,
    counts,
    hydration,
    numbered_water,
    weigh,
)
from calc.registry import FLOUR, FLOUR_KIND, LIQUID, LIQUID_WEIGHT, SECOND_LIQUID, Slot, quantity
from calc.working import Working

SLOTS = (
    FLOUR,
    LIQUID,
    LIQUID_WEIGHT,
    SECOND_LIQUID,
    Slot("second weight", "mass", 5, 50_000),
    Slot("fat", "ingredient", needs="fat"),
    Slot("fat weight", "mass", 5, 50_000),
)
MAY_TELL_FLOUR = Slot("flour kind", "ingredient", optional=True, needs="is_flour")
SENSIBLE = {"plausible_low": 0.3, "plausible_high": 1.5}


def _dough(
    flour: float,
    liquid: Ingredient,
    liquid_weight: float,
    second_liquid: Ingredient,
    second_weight: float,
    fat: Ingredient,
    fat_weight: float,
    flour_kind: Ingredient | None = None,
) -> Formula:
    kind = flour_kind or composition.find("bread-flour")
    weights = ((kind, flour), (liquid, liquid_weight), (second_liquid, second_weight))
    return Formula(tuple(Item(*each) for each in (*weights, (fat, fat_weight))))


def _in_meaning(meaning: str, **given: float | Ingredient) -> Working:
    """The working of a small formula's hydration, with the water contents it does not count."""
    dough = _dough(**given)
    working = hydration(dough, meaning)
    for number, item in enumerate(dough.items):
        told = "flour_kind" in given or not item.ingredient.is_flour
        if told and item.ingredient.water < 1 and f"content{number}" not in working.givens:
            content_given(working, f"content{number}", item.ingredient)
    return working


@quantity(
    "hydration of an enriched dough",
    "the hydration of a dough with two liquids and fat: water in the liquids ÷ flour",
    *SLOTS,
    MAY_TELL_FLOUR,
    **SENSIBLE,
)
def with_two_liquids(**given: float | Ingredient) -> Working:
    """Hydration = water in both liquids ÷ flour. The fat's own water does not count. Grams, a share."""
    return _in_meaning("water", **given)


@quantity(
    "hydration by weight of the liquids",
    "the hydration of a dough, counted as the whole weight of the liquids ÷ flour",
    *SLOTS,
    MAY_TELL_FLOUR,
    **SENSIBLE,
)
def by_weight_of_liquids(**given: float | Ingredient) -> Working:
    """Hydration = both liquids ÷ flour, whatever else than water they hold. Grams, a share."""
    return _in_meaning("liquid", **given)


@quantity(
    "hydration by water and milk alone",
    "the hydration of a dough, counted as the weight of what is poured ÷ flour, without egg or puree",
    *SLOTS,
    MAY_TELL_FLOUR,
    **SENSIBLE,
)
def by_weight_of_what_is_poured(**given: float | Ingredient) -> Working:
    """Hydration = the liquids that are no egg and no puree ÷ flour. Grams, a share."""
    return _in_meaning("poured", **given)


@quantity(
    "hydration with all added water",
    "the hydration of a dough, counted as all water but the flour's own ÷ flour",
    *SLOTS,
    MAY_TELL_FLOUR,
    **SENSIBLE,
)
def with_all_added_water(**given: float | Ingredient) -> Working:
    """Hydration = water in both liquids and in the fat ÷ flour: grams, a share."""
    return _in_meaning("all-water", **given)


@quantity(
    "hydration with the flour's moisture",
    "the hydration of a dough, counted as all water, the flour's own too ÷ flour",
    *SLOTS,
    FLOUR_KIND,
    **SENSIBLE,
)
def with_flour_moisture(**given: float | Ingredient) -> Working:
    """Hydration = water in the liquids, in the fat and in the flour ÷ flour: grams, a share."""
    return _in_meaning("flour-moisture", **given)


@quantity(
    "hydration in each meaning",
    "one dough's hydration in each of its meanings",
    *SLOTS,
    FLOUR_KIND,
    asks=tuple(meaning.key for meaning in MEANINGS),
    **SENSIBLE,
)
def in_each_meaning(**given: float | Ingredient) -> Working:
    """Every hydration of one dough, in one working: weights in grams, hydrations as shares."""
    dough = _dough(**given)
    working = Working("Hydration in each meaning")
    weights = list(weigh(working, dough))
    waters = [
        numbered_water(working, number, item.ingredient, weight)
        for number, (item, weight) in enumerate(weights)
    ]
    for meaning in MEANINGS:
        by_weight = meaning.key in BY_WEIGHT
        counted = [
            weight if by_weight else water
            for (item, weight), water in zip(weights, waters, strict=True)
            if counts(item, meaning.key)
        ]
        working.step(
            meaning.key,
            f"hydration: {meaning.name}",
            (summed(counted) if counted else weights[0][1] * 0) / weights[0][1],
            "share",
            to=0.01,
            why=f"Above the line: {meaning.explained.replace(' ÷ total flour', '')}. Below the line: the total flour.",
        )
    return working
