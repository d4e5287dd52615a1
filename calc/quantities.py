"""What a problem may ask for: each quantity's givens, and the working that answers it.

A problem set names a quantity and gives its slots; answer, steps, tolerance, mistakes and solution
all come from the working built here.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

from calc import units
from calc.composition import RIDERS, Ingredient
from calc.expression import Name, summed
from calc.formula import Item, content_given, fat_given, liquid_step, water_needed_step
from calc.registry import (
    FLOUR,
    HYDRATION,
    INGREDIENT,
    LIQUID,
    LIQUID_WEIGHT,
    OTHERS,
    PART,
    RANKINGS,
    REGISTRY,
    SALT,
    Slot,
    quantity,
    ranking,
)
from calc.substitution import swap_working
from calc.units import Style
from calc.words import capital
from calc.working import Working

__all__ = ["RANKINGS", "REGISTRY"]


NEW_LIQUID = Slot("new liquid", "ingredient")


def _give_fat(working: Working, liquid: Ingredient) -> None:
    """Give a liquid's fat, for those who take the wrong column."""
    if liquid.fat:
        fat_given(working, liquid, "liquid")


def _content(working: Working, liquid: Ingredient) -> Name:
    """Give a liquid's water content, and its fat."""
    _give_fat(working, liquid)
    return content_given(working, "water content", liquid, "liquid")


def _water_in(working: Working, liquid: Ingredient, weight: Name) -> Name:
    return working.step(
        "water",
        f"water in the {liquid.name}",
        weight * _content(working, liquid),
        "mass",
        to=1.0,
        why="Only this part of the liquid is water.",
    )


def _flour(working: Working, flour: float) -> Name:
    return working.given("flour", "flour", flour, "mass", role="flour")


@quantity(
    "water needed", "the water a dough needs at a hydration", FLOUR, HYDRATION, plausible_low=20
)
def water_needed(flour: float, hydration: float) -> Working:
    """Water = flour × hydration: grams, a share, grams."""
    working = Working("Water needed")
    water_needed_step(working, flour, hydration)
    return working


@quantity(
    "weight from baker's percentage",
    "the weight of an ingredient from its baker's percentage",
    FLOUR,
    Slot("percentage", "share", 0.005, 1.0),
    INGREDIENT,
    plausible_low=1,
)
def weight_from_percentage(flour: float, percentage: float, ingredient: Ingredient) -> Working:
    """Ingredient = flour × its baker's percentage: grams, a share, grams."""
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
    "water in a liquid",
    "the water in a weight of liquid, from its water content",
    LIQUID_WEIGHT,
    LIQUID,
    plausible_low=5,
)
def water_in_liquid(liquid_weight: float, liquid: Ingredient) -> Working:
    """Water = liquid × its water content; grams."""
    working = Working(f"Water in {liquid.name}")
    weight = working.given(
        "liquid weight", liquid.name, liquid_weight, "mass", role="liquid", of="liquid"
    )
    _water_in(working, liquid, weight)
    return working


@quantity(
    "hydration",
    "the hydration of a dough made with one liquid",
    FLOUR,
    LIQUID,
    LIQUID_WEIGHT,
    OTHERS,
    plausible_low=0.4,
    plausible_high=1.2,
)
def hydration(
    flour: float, liquid: Ingredient, liquid_weight: float, other_ingredients: float = 0.0
) -> Working:
    """Hydration = liquid × its water content ÷ flour: weights in grams, the answer a share."""
    working = Working("Hydration")
    base = _flour(working, flour)
    weight = working.given(
        "liquid weight", liquid.name, liquid_weight, "mass", role="liquid", of="liquid"
    )
    if other_ingredients:
        working.given(
            "other ingredients", "other ingredients", other_ingredients, "mass", role="ingredient"
        )
    water = weight if liquid.water == 1 else _water_in(working, liquid, weight)
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
    plausible_low=20,
)
def new_liquid(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Liquid = flour × hydration ÷ the liquid's water content; weights in grams."""
    working = Working(f"{liquid.name} in place of water")
    water = water_needed_step(working, flour, hydration)
    _give_fat(working, liquid)
    label = f"weight of {liquid.name}"
    liquid_step(working, liquid, water, "liquid", "water content", "liquid", label=label, to=1.0)
    return working


@quantity(
    "liquid for liquid",
    "how much of a new liquid brings the water of the old one",
    LIQUID_WEIGHT,
    LIQUID,
    NEW_LIQUID,
    plausible_low=20,
)
def liquid_for_liquid(liquid_weight: float, liquid: Ingredient, new_liquid: Ingredient) -> Working:
    """New liquid = old liquid × its water content ÷ the new liquid's water content; grams."""
    return swap_working(Item(liquid, liquid_weight), new_liquid)


@quantity(
    "part swap",
    "how much of a new liquid replaces a part of the old one",
    LIQUID_WEIGHT,
    LIQUID,
    NEW_LIQUID,
    PART,
    plausible_low=10,
)
def part_swap(
    liquid_weight: float, liquid: Ingredient, new_liquid: Ingredient, part: float
) -> Working:
    """As `liquid_for_liquid`, for a part (a share) of the old liquid; weights in grams."""
    return swap_working(Item(liquid, liquid_weight), new_liquid, part)


@quantity(
    "hydration after gram for gram",
    "the hydration a dough really has when a liquid went in gram for gram",
    FLOUR,
    HYDRATION,
    LIQUID,
    plausible_low=0.4,
    plausible_high=1.2,
)
def hydration_gram_for_gram(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """What is left of the hydration when the liquid weighs what the water weighed.

    Flour in grams; both hydrations are shares.
    """
    working = Working(f"{liquid.name} put in gram for gram")
    liquid_weight = water_needed_step(working, flour, hydration)
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
    plausible_low=0.005,
    plausible_high=1.0,
)
def fat_brought(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Fat = liquid × its fat content ÷ flour, after a swap at the same water.

    Flour in grams; the answer is a share of the flour.
    """
    return _share_brought(flour, hydration, liquid, "fat", to=0.01)


@quantity(
    "protein brought",
    "the protein a swapped-in liquid brings, as a baker's percentage",
    FLOUR,
    HYDRATION,
    Slot("liquid", "ingredient", needs="protein"),
    plausible_low=0.005,
    plausible_high=1.0,
)
def protein_brought(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Protein = liquid × its protein content ÷ flour, after a swap at the same water.

    Flour in grams; the answer is a share of the flour.
    """
    return _share_brought(flour, hydration, liquid, "protein", to=0.01)


@quantity(
    "sugar brought",
    "the sugar a swapped-in liquid brings, as a baker's percentage",
    FLOUR,
    HYDRATION,
    Slot("liquid", "ingredient", needs="sugars"),
    plausible_low=0.005,
    plausible_high=1.0,
)
def sugar_brought(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Sugar = liquid × its sugar content ÷ flour, after a swap at the same water.

    All the sugars of the table, milk sugar too. Flour in grams; the answer is a share of the flour.
    """
    return _share_brought(flour, hydration, liquid, "sugars")


@quantity(
    "salt brought",
    "the salt a swapped-in liquid brings, as a baker's percentage",
    FLOUR,
    HYDRATION,
    Slot("liquid", "ingredient", needs="salt"),
    plausible_low=0.001,
    plausible_high=0.05,
)
def salt_brought(flour: float, hydration: float, liquid: Ingredient) -> Working:
    """Salt = liquid × its salt content ÷ flour, after a swap at the same water.

    Flour in grams; the answer is a share of the flour.
    """
    return _share_brought(flour, hydration, liquid, "salt")


@quantity(
    "sugar left to add",
    "the sugar still to weigh when a swapped-in liquid has brought some",
    FLOUR,
    HYDRATION,
    Slot("liquid", "ingredient", needs="sugars"),
    Slot("sugar", "share", 0.01, 0.5),
    plausible_low=1,
)
def sugar_left(flour: float, hydration: float, liquid: Ingredient, sugar: float) -> Working:
    """Sugar to add = flour × sugar − the sugar of the liquid; weights in grams, shares of the flour.

    It counts weight, not sweetness: sugars differ in that.
    """
    return _left_to_add(flour, hydration, liquid, "sugars", sugar)


@quantity(
    "salt left to add",
    "the salt still to weigh when a swapped-in liquid has brought some",
    FLOUR,
    HYDRATION,
    Slot("liquid", "ingredient", needs="salt"),
    SALT,
    plausible_low=0.5,
)
def salt_left(flour: float, hydration: float, liquid: Ingredient, salt: float) -> Working:
    """Salt to add = flour × salt − the salt of the liquid; weights in grams, shares of the flour."""
    return _left_to_add(flour, hydration, liquid, "salt", salt)


# A little salt or yeast counts: it is weighed to 0.1 g.
_FINE = {"salt": 0.1, "yeast": 0.1}


def _brought(working: Working, liquid: Ingredient, part: str) -> Name:
    """Add what the step ``liquid`` brings of a part, in grams."""
    name = RIDERS[part]
    key = f"{name} content"
    if key not in working.givens:
        label = f"{key} of {liquid.name}"
        working.given(key, label, getattr(liquid, part), "share", role=key, of="liquid")
    return working.step(
        name,
        f"{name} in that {liquid.name}",
        Name("liquid") * Name(key),
        "mass",
        to=_FINE.get(part),
        why=f"Part of the liquid is {name}, and it comes along.",
    )


def _share_brought(
    flour: float, hydration: float, liquid: Ingredient, part: str, to: float = 0.001
) -> Working:
    """Part = liquid × its content ÷ flour, after a swap at the same water."""
    name = RIDERS[part]
    working = new_liquid(flour, hydration, liquid)
    working.title = f"{name.capitalize()} that {liquid.name} brings"
    working.step(
        f"{name} percentage",
        f"{name} as a baker's percentage",
        _brought(working, liquid, part) / Name("flour"),
        "share",
        to=to,
        why=f"Compare the {name} with the flour.",
    )
    return working


def _left_to_add(
    flour: float, hydration: float, liquid: Ingredient, part: str, wanted: float
) -> Working:
    """Part to add = flour × its baker's percentage − what the liquid brings."""
    name = RIDERS[part]
    working = new_liquid(flour, hydration, liquid)
    working.title = f"{name.capitalize()} left to add beside {liquid.name}"
    brought = _brought(working, liquid, part)
    share = working.given(
        f"{name} percentage", f"{name} percentage", wanted, "share", role="baker's percentage"
    )
    whole = working.step(
        f"{name} in all",
        f"{name} in all",
        Name("flour") * share,
        "mass",
        to=_FINE.get(part),
        why="A baker's percentage counts on the flour, so multiply the flour by it.",
    )
    working.step(
        f"{name} to add",
        f"{name} to weigh",
        whole - brought,
        "mass",
        to=_FINE.get(part),
        why=f"The liquid has brought this {name} already.",
    )
    return working


@quantity(
    "converted formula",
    "every weight of a small formula, converted to another liquid",
    FLOUR,
    HYDRATION,
    LIQUID,
    SALT,
    Slot("yeast", "share", 0.002, 0.1),
    Slot("sugar", "share", 0.005, 0.5),
    Slot("butter", "share", 0.01, 0.6),
    plausible_low=100,
    cells=True,
)
def converted_formula(
    flour: float,
    hydration: float,
    liquid: Ingredient,
    salt: float,
    yeast: float,
    sugar: float,
    butter: float,
) -> Working:
    """The weigh-up of a formula made with another liquid, and the weight of its dough.

    Weights in grams; hydration, salt, yeast, sugar and butter are shares of the flour.
    """
    working = new_liquid(flour, hydration, liquid)
    working.title = f"A formula with {liquid.name}"
    weights = [Name("flour"), Name("liquid")]
    for key, share in (("salt", salt), ("yeast", yeast), ("sugar", sugar), ("butter", butter)):
        percentage = working.given(
            f"{key} percentage", f"{key} percentage", share, "share", role="baker's percentage"
        )
        weights.append(
            working.step(
                key,
                f"weight of {key}",
                Name("flour") * percentage,
                "mass",
                to=_FINE["yeast"] if key == "yeast" else None,
                why="A baker's percentage counts on the flour, so multiply the flour by it.",
            )
        )
    working.step(
        "dough",
        "weight of the dough",
        summed(weights),
        "mass",
        to=1.0,
        why="Add up everything that goes in the bowl. The water is in the liquid already.",
    )
    return working


def _tells(part: str, word: str, step: float = 0.001) -> Callable[[Ingredient, Style], str]:
    """Writes a share of an ingredient, as finely as rankings by it look: “88.1 % water”."""
    return lambda ingredient, style: (
        f"{units.write(getattr(ingredient, part), 'share', style, step=step)} {word}"
    )


@ranking("water content", "Most water first.", _tells("water", "water"), same=0.01)
def by_water(ingredient: Ingredient) -> float:
    """The share of an ingredient that is water."""
    return ingredient.water


@ranking(
    "weight for the same water",
    "The one you need most of first.",
    _tells("water", "water"),
    same=0.02,
)
def by_weight_needed(ingredient: Ingredient) -> float:
    """How many grams bring one gram of water."""
    if not ingredient.water:
        raise ValueError(f"{capital(ingredient.name)} holds no water. Choose a liquid.")
    return 1 / ingredient.water


@ranking("fat content", "Most fat first.", _tells("fat", "fat"), same=0.003)
def by_fat(ingredient: Ingredient) -> float:
    """The share of an ingredient that is fat."""
    if ingredient.fat is None:
        raise ValueError(f"The table does not know the fat of {ingredient.name}.")
    return ingredient.fat


@ranking("sugar content", "Most sugar first.", _tells("sugars", "sugar"), same=0.002)
def by_sugar(ingredient: Ingredient) -> float:
    """The share of an ingredient that is sugars, milk sugar too."""
    if ingredient.sugars is None:
        raise ValueError(f"The table does not know the sugar of {ingredient.name}.")
    return ingredient.sugars


@ranking("salt content", "Most salt first.", _tells("salt", "salt", 0.0001), same=0.0005)
def by_salt(ingredient: Ingredient) -> float:
    """The share of an ingredient that is salt, or sodium counted as salt."""
    if ingredient.salt is None:
        raise ValueError(f"The table does not know the salt of {ingredient.name}.")
    return ingredient.salt


# The modules that register calculations, in the order of every list, and what each is about: one line each.
CALCULATIONS: dict[str, str] = {
    "percentages": "Baker's percentages",
    "meanings": "Hydration in its meanings",
    "quantities": "Water, hydration and swaps",
    "label": "From a pack",
    "drying": "From the oven",
    "blend": "Blends and fat limits",
    "balance": "Balance what rides along",
    "preferment": "Preferments",
    "acid": "Acid as a load",
    "feel": "Sour liquids",
    "temperature": "Dough temperature",
    "scaling": "Yield and scaling",
    "orders": "Whole jobs",
    "loaves": "Loaves measured",
    "handling": "Safe handling",
    "scalding": "Scalded milk",
    "flours": "What the flour brings",
}


def _gather() -> None:
    """Import them all, and put their entries in order, whichever of them was imported first."""
    places = {f"calc.{name}": place for place, name in enumerate(CALCULATIONS)}
    for module in places:
        import_module(module)
    quantities = sorted(REGISTRY.values(), key=lambda each: places[each.build.__module__])
    rankings = sorted(RANKINGS.values(), key=lambda each: places[each.score.__module__])
    for register, entries in ((REGISTRY, quantities), (RANKINGS, rankings)):
        register.clear()
        register.update({each.name: each for each in entries})


_gather()
