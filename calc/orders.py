"""Whole jobs: a written recipe in ounces for a bowl that is too small, and an order to the scale."""

from __future__ import annotations

from calc.composition import Ingredient
from calc.expression import Name
from calc.formula import FormulaError, content_given, liquid_step
from calc.registry import HYDRATION, LIQUID, Slot, quantity
from calc.units import BY_SYMBOL
from calc.working import Working

# As kitchens print it.
OUNCE = round(BY_SYMBOL["oz"].factor, 2)


@quantity(
    "recipe for a smaller bowl",
    "flour and new liquid for the scale, from a recipe in ounces and a bowl that is too small",
    Slot("flour ounces", "number", 2, 2000),
    LIQUID,
    Slot("liquid ounces", "number", 1, 2000),
    Slot("other ounces", "number", 0, 1000),
    Slot("bowl", "mass", 200, 50_000),
    Slot("new liquid", "ingredient"),
    plausible_low=50,
    plausible_high=20_000,
    asks=("flour grams", "liquid grams"),
)
def recipe_for_a_bowl(
    flour_ounces: float,
    liquid: Ingredient,
    liquid_ounces: float,
    other_ounces: float,
    bowl: float,
    new_liquid: Ingredient,
) -> Working:
    """Swap in ounces, weigh the whole dough in grams, and shrink it to `bowl` grams.

    Raises FormulaError when the bowl is large enough: then there is nothing to shrink.
    """
    working = Working("A recipe in ounces for a smaller bowl")
    flour = working.given("flour", "flour in ounces", flour_ounces, "number", role="flour")
    fresh = _swapped(working, liquid, liquid_ounces, new_liquid)
    others = working.given("others", "all else in ounces", other_ounces, "number")
    ounce = working.given("ounce", "grams in an ounce", OUNCE, "mass")
    factor = _shrunk(working, (flour + fresh + others) * ounce, bowl)
    for key, label, ounces in (
        ("flour grams", "flour on the scale", flour),
        ("liquid grams", f"{new_liquid.name} on the scale", fresh),
    ):
        working.step(
            key,
            label,
            ounces * ounce * factor,
            "mass",
            to=1.0,
            why="Ounces to grams, and smaller by the factor.",
        )
    return working


def _swapped(working: Working, old: Ingredient, ounces: float, new: Ingredient) -> Name:
    """The new liquid in ounces: a swap is a proportion, so it works in any unit."""
    weight = working.given(
        "old", f"{old.name} in ounces", ounces, "number", role="liquid", of="old"
    )
    water = weight * content_given(working, "old-content", old, "old") if old.water < 1 else weight
    return liquid_step(
        working, new, water, "new", "new-content", "new",
        label=f"{new.name} in ounces", kind="number", to=0.1,
        why="The same water in the new liquid: to the water, then divide.",
    )  # fmt: skip


def _shrunk(working: Working, dough, bowl: float) -> Name:
    """By how much every weight shrinks."""
    most = working.given("bowl", "dough that fits", bowl, "mass", role="dough")
    whole = working.step(
        "dough", "whole dough in grams", dough, "mass", to=1.0,
        why=f"Add up all that goes in, then each ounce is {OUNCE} g.",
    )  # fmt: skip
    if working.values()["dough"] <= bowl:
        raise FormulaError("The whole dough fits into that bowl. Choose a smaller bowl.")
    return working.step(
        "factor", "scaling factor", most / whole, "number", to=0.001,
        why="The dough that fits ÷ the dough that the recipe makes.",
    )  # fmt: skip


@quantity(
    "liquid for an order",
    "the liquid on the scale for an order of pieces, whatever the liquid is",
    Slot("pieces", "number", 1, 5000),
    Slot("piece weight", "mass", 5, 10_000),
    HYDRATION,
    Slot("other percentages", "share", 0.0, 2.0),
    LIQUID,
    plausible_low=20,
    plausible_high=100_000,
    asks=("flour", "weighed"),
)
def liquid_for_an_order(
    pieces: float,
    piece_weight: float,
    hydration: float,
    other_percentages: float,
    liquid: Ingredient,
) -> Working:
    """Dough, then the liquid's own percentage, then the flour, then the liquid in grams."""
    working = Working(f"An order with {liquid.name}")
    number = working.given("pieces", "pieces", pieces, "number")
    weight = working.given("piece", "weight of one piece", piece_weight, "mass")
    water = working.given("hydration", "hydration", hydration, "share", role="hydration")
    rest = working.given(
        "others", "all other percentages", other_percentages, "share", role="baker's percentage"
    )
    dough = working.step(
        "dough", "dough", number * weight, "mass", to=1.0, why="Every piece weighs the same."
    )
    share = liquid_step(
        working, liquid, water, "share", "content", "liquid",
        label=f"{liquid.name} as a baker's percentage", kind="share", to=0.001,
        why="The hydration is water. The liquid that holds it is more: divide.",
    )  # fmt: skip
    total = working.step(
        "total", "total percentage", 1 + share + rest, "share", to=0.001,
        why="The flour is 100 %. Add the liquid and everything else.",
    )  # fmt: skip
    flour = working.step(
        "flour", "flour", dough / total, "mass", to=1.0,
        why="The dough is that many per cent of the flour, so divide.",
    )  # fmt: skip
    working.step(
        "weighed", f"{liquid.name} to weigh", flour * share, "mass", to=1.0,
        why="Its percentage of the flour.",
    )  # fmt: skip
    return working
