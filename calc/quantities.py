"""What a problem may ask for: each quantity's givens, and the working that answers it.

A problem set names a quantity and gives its slots; answer, steps, tolerance, mistakes and solution
all come from the working built here.
"""

from __future__ import annotations

from importlib import import_module

from calc.composition import Ingredient
from calc.expression import Name
from calc.formula import Item, content_given, fat_given
from calc.registry import RANKINGS, REGISTRY, Slot, quantity, ranking
from calc.substitution import swap_working
from calc.working import Working

__all__ = ["RANKINGS", "REGISTRY"]


FLOUR = Slot("flour", "mass", 50, 50_000)
HYDRATION = Slot("hydration", "share", 0.40, 1.20)
LIQUID = Slot("liquid", "ingredient")
NEW_LIQUID = Slot("new liquid", "ingredient")
LIQUID_WEIGHT = Slot("liquid weight", "mass", 20, 50_000)
OTHERS = Slot("other ingredients", "mass", 0, 50_000, optional=True)
PART = Slot("part", "share", 0.05, 0.95)


def _content(working: Working, liquid: Ingredient) -> Name:
    """Give a liquid's water content (and, for those who take the wrong column, its fat)."""
    if liquid.fat:
        fat_given(working, liquid, "liquid")
    return content_given(working, "water content", liquid, "liquid")


def _flour(working: Working, flour: float) -> Name:
    return working.given("flour", "flour", flour, "mass", role="flour")


def _water_needed(working: Working, flour: float, hydration: float) -> Name:
    weight = _flour(working, flour)
    share = working.given("hydration", "hydration", hydration, "share", role="hydration")
    return working.step(
        "water",
        "water needed",
        weight * share,
        "mass",
        to=1.0,
        why="Hydration is the water as a share of the flour, so multiply the flour by it.",
    )


@quantity("water needed", "the water a dough needs at a hydration", FLOUR, HYDRATION, least=20)
def water_needed(flour: float, hydration: float) -> Working:
    """Water = flour × hydration."""
    working = Working("Water needed")
    _water_needed(working, flour, hydration)
    return working


@quantity(
    "weight from baker's percentage",
    "the weight of an ingredient from its baker's percentage",
    FLOUR,
    Slot("percentage", "share", 0.005, 1.0),
    Slot("ingredient", "ingredient"),
    least=1,
)
def weight_from_percentage(flour: float, percentage: float, ingredient: Ingredient) -> Working:
    """Ingredient = flour × its baker's percentage."""
    working = Working("Weight from a baker's percentage")
    weight = _flour(working, flour)
    share = working.given(
        "percentage",
        f"baker's percentage of {ingredient.name}",
        percentage,
        "share",
        role="baker's percentage",
    )
    working.step(
        "weight",
        f"weight of {ingredient.name}",
        weight * share,
        "mass",
        why="A baker's percentage counts on the flour, so multiply the flour by it.",
    )
    return working


@quantity(
    "hydration",
    "the hydration of a dough made with one liquid",
    FLOUR,
    LIQUID,
    LIQUID_WEIGHT,
    OTHERS,
    least=0.4,
    most=1.2,
)
def hydration(
    flour: float, liquid: Ingredient, liquid_weight: float, other_ingredients: float = 0.0
) -> Working:
    """Hydration = liquid × its water content ÷ flour."""
    working = Working("Hydration")
    base = _flour(working, flour)
    weight = working.given(
        "liquid weight", liquid.name, liquid_weight, "mass", role="liquid", of="liquid"
    )
    if other_ingredients:
        working.given(
            "other ingredients", "other ingredients", other_ingredients, "mass", role="ingredient"
        )
    water = weight
    if liquid.water < 1:
        content = _content(working, liquid)
        water = working.step(
            "water",
            f"water in the {liquid.name}",
            weight * content,
            "mass",
            to=1.0,
            why="Only this part of the liquid is water.",
        )
    working.step(
        "hydration",
        "hydration",
        water / base,
        "share",
        to=0.01,
        why="Compare the water with the flour, not with the whole dough.",
    )
    return working


@quantity(
    "new liquid",
    "how much of a liquid brings the water that a hydration asks for",
    FLOUR,
    HYDRATION,
    LIQUID,
    least=20,
)
def new_liquid(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Liquid = flour × hydration ÷ the liquid's water content."""
    working = Working(f"{liquid.name} in place of water")
    water = _water_needed(working, flour, hydration)
    content = _content(working, liquid)
    working.step(
        "liquid",
        f"weight of {liquid.name}",
        water / content,
        "mass",
        to=1.0,
        why="Only part of the liquid is water, so it takes more of it: divide.",
    )
    return working


@quantity(
    "liquid for liquid",
    "how much of a new liquid brings the water of the old one",
    LIQUID_WEIGHT,
    LIQUID,
    NEW_LIQUID,
    least=20,
)
def liquid_for_liquid(liquid_weight: float, liquid: Ingredient, new_liquid: Ingredient) -> Working:
    """New liquid = old liquid × its water content ÷ the new liquid's water content."""
    return swap_working(Item(liquid, liquid_weight), new_liquid)


@quantity(
    "part swap",
    "how much of a new liquid replaces a part of the old one",
    LIQUID_WEIGHT,
    LIQUID,
    NEW_LIQUID,
    PART,
    least=10,
)
def part_swap(
    liquid_weight: float, liquid: Ingredient, new_liquid: Ingredient, part: float
) -> Working:
    """As `liquid_for_liquid`, for a part of the old liquid."""
    return swap_working(Item(liquid, liquid_weight), new_liquid, part)


@quantity(
    "hydration after gram for gram",
    "the hydration a dough really has when a liquid went in gram for gram",
    FLOUR,
    HYDRATION,
    LIQUID,
    least=0.4,
    most=1.2,
)
def hydration_gram_for_gram(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """What is left of the hydration when the liquid weighs what the water weighed."""
    working = Working(f"{liquid.name} put in gram for gram")
    liquid_weight = _water_needed(working, flour, hydration)
    content = _content(working, liquid)
    water = working.step(
        "real water",
        f"water in that weight of {liquid.name}",
        liquid_weight * content,
        "mass",
        to=1.0,
        why="The liquid weighs as much as the water did, but only part of it is water.",
    )
    working.step(
        "real hydration",
        "hydration of that dough",
        water / Name("flour"),
        "share",
        to=0.01,
        why="Compare that water with the flour.",
    )
    return working


@quantity(
    "fat brought",
    "the fat a swapped-in liquid brings, as a baker's percentage",
    FLOUR,
    HYDRATION,
    Slot("liquid", "ingredient", needs="fat"),
    least=0.005,
    most=1.0,
)
def fat_brought(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Fat = liquid × its fat content ÷ flour, after a swap at the same water."""
    working = new_liquid(flour, hydration, liquid)
    working.title = f"Fat that {liquid.name} brings"
    fat = working.step(
        "fat",
        f"fat in that {liquid.name}",
        Name("liquid") * Name("fat content"),
        "mass",
        why="Part of the liquid is fat, and it comes along.",
    )
    working.step(
        "fat percentage",
        "fat as a baker's percentage",
        fat / Name("flour"),
        "share",
        to=0.01,
        why="Compare the fat with the flour.",
    )
    return working


@quantity(
    "converted formula",
    "every weight of a small formula, converted to another liquid",
    FLOUR,
    HYDRATION,
    LIQUID,
    Slot("salt", "share", 0.005, 0.05),
    Slot("butter", "share", 0.01, 0.6),
    least=100,
    cells=True,
)
def converted_formula(
    flour: float, hydration: float, liquid: Ingredient, salt: float, butter: float
) -> Working:
    """The weigh-up of a formula made with another liquid, and the weight of its dough."""
    working = new_liquid(flour, hydration, liquid)
    working.title = f"A formula with {liquid.name}"
    weights = [Name("flour"), Name("liquid")]
    for key, share in (("salt", salt), ("butter", butter)):
        percentage = working.given(
            f"{key} percentage", f"{key} percentage", share, "share", role="baker's percentage"
        )
        weights.append(
            working.step(
                key,
                f"weight of {key}",
                Name("flour") * percentage,
                "mass",
                why="A baker's percentage counts on the flour, so multiply the flour by it.",
            )
        )
    working.step(
        "dough",
        "weight of the dough",
        sum(weights[1:], weights[0]),
        "mass",
        to=1.0,
        why="Add up everything that goes in the bowl. The water is in the liquid already.",
    )
    return working


@ranking("water content", "Most water first.", same=0.005)
def by_water(ingredient: Ingredient) -> float:
    """The share of an ingredient that is water."""
    return ingredient.water


@ranking("weight for the same water", "The one you need most of first.", same=0.005)
def by_weight_needed(ingredient: Ingredient) -> float:
    """How many grams bring one gram of water."""
    if not ingredient.water:
        raise ValueError(f"{ingredient.name} holds no water. Choose a liquid.")
    return 1 / ingredient.water


@ranking("fat content", "Most fat first.", same=0.003)
def by_fat(ingredient: Ingredient) -> float:
    """The share of an ingredient that is fat."""
    if ingredient.fat is None:
        raise ValueError(f"The table does not know the fat of {ingredient.name}.")
    return ingredient.fat


# The other modules register their own quantities; last, so that the swaps come first in every list.
for _module in (
    "label",
    "drying",
    "blend",
    "balance",
    "preferment",
    "feel",
    "temperature",
    "scaling",
):
    import_module(f"calc.{_module}")
