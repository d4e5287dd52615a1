"""Milk that is scalded for bread: what boils off is water, so it is weighed again."""

from __future__ import annotations

from calc.composition import Ingredient
from calc.expression import Name
from calc.formula import ONLY_WATER, content_given
from calc.registry import FLOUR, LIQUID_WEIGHT, Slot, quantity
from calc.words import the
from calc.working import Working


def may_be_scalded(ingredient: Ingredient) -> bool:
    """Whether bakers may scald it for bread: milk or sweet whey, not yet thickened or cultured."""
    return ingredient.group == "dairy" and ingredient.water > 0.8


@quantity(
    "hydration with scalded milk",
    "the hydration when the water that boiled off a scalded liquid is not made up",
    FLOUR,
    Slot("liquid", "ingredient", needs="protein"),
    LIQUID_WEIGHT,
    Slot("weight after", "mass", 20, 50_000),
    plausible_low=0.3,
    plausible_high=1.2,
)
def with_scalded_milk(
    flour: float, liquid: Ingredient, liquid_weight: float, weight_after: float
) -> Working:
    """(Liquid × its water content − what boiled off) ÷ flour: grams, a share.

    What boils off is water alone; fat, protein and milk sugar stay in the pan.
    """
    working = Working(f"{liquid.name}, scalded and not weighed again")
    base = working.given("flour", "flour", flour, "mass", role="flour")
    before = working.given(
        "before", f"{liquid.name} before", liquid_weight, "mass", role="liquid", of="liquid"
    )
    after = working.given("after", f"{liquid.name} after scalding", weight_after, "mass")
    water = working.step(
        "water",
        f"water in {the(liquid.name)} before",
        before * content_given(working, "content", liquid, "liquid"),
        "mass",
        to=1.0,
        why=ONLY_WATER,
    )
    lost = working.step(
        "lost",
        "water boiled off",
        before - after,
        "mass",
        why="What is missing is water: weigh it.",
    )
    working.step("left", "water left", water - lost, "mass", why="The rest of the water is there.")
    working.step(
        "hydration",
        "hydration",
        Name("left") / base,
        "share",
        to=0.01,
        why="Compare the water that is left with the flour.",
    )
    return working
