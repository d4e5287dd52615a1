"""What a problem may ask for: each quantity's givens, and the working that answers it.

A problem set names a quantity and gives its slots; answer, steps, tolerance, mistakes and solution
all come from the working built here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from calc import units
from calc.composition import Ingredient
from calc.expression import Name
from calc.formula import Item, content_given, fat_given
from calc.interval import Interval
from calc.substitution import swap_working
from calc.working import Working


@dataclass(frozen=True)
class Slot:
    """One thing a problem must give: its name, what it measures and what is sensible for it.

    `kind` is ``mass``, ``share`` or ``ingredient``; `low` and `high` are in calc's unit. `needs`
    names a part that an ingredient must hold, such as ``fat``.
    """

    name: str
    kind: str
    low: float = 0.0
    high: float = 0.0
    optional: bool = False
    needs: str = ""

    def refusal(self, value: float | Ingredient) -> str:
        """Why a value does not fit here, in words for the set's writer; empty when it fits."""
        if isinstance(value, Ingredient):
            if self.needs and not getattr(for_bench(value), self.needs):
                return f"{value.name} has no {self.needs} in the table. Choose one that has some."
        elif not self.low <= value <= self.high:
            low, high = (units.write_exact(end, self.kind) for end in (self.low, self.high))
            shown = units.write_exact(value, self.kind)
            return f"{shown} is not sensible here; stay between {low} and {high}."
        return ""


@dataclass(frozen=True)
class Quantity:
    """Something to ask for. `build` takes the slots by name and returns the working."""

    name: str
    means: str
    slots: tuple[Slot, ...]
    build: Callable[..., Working]
    # The ends of what is not absurd, in calc's unit: nobody weighs a 3 g swap.
    least: float = 0.0
    most: float = 100_000.0

    def slot(self, name: str) -> Slot | None:
        return next((slot for slot in self.slots if slot.name == name), None)

    def working(self, values: dict[str, float | Ingredient]) -> Working:
        """Build the working from values by slot name; ingredients as a bench table prints them.

        Raises ValueError when an ingredient lacks what the quantity is about.
        """
        for slot in self.slots:
            if slot.needs and slot.refusal(values[slot.name]):
                raise ValueError(slot.refusal(values[slot.name]))
        return self.build(
            **{
                name.replace(" ", "_"): for_bench(value) if isinstance(value, Ingredient) else value
                for name, value in values.items()
            }
        )


REGISTRY: dict[str, Quantity] = {}


def _quantity(name: str, means: str, *slots: Slot, least: float = 0.0, most: float = 100_000.0):
    def enter(build: Callable[..., Working]) -> Callable[..., Working]:
        REGISTRY[name] = Quantity(name, means, slots, build, least, most)
        return build

    return enter


FLOUR = Slot("flour", "mass", 50, 50_000)
HYDRATION = Slot("hydration", "share", 0.40, 1.20)
LIQUID = Slot("liquid", "ingredient")
NEW_LIQUID = Slot("new liquid", "ingredient")
LIQUID_WEIGHT = Slot("liquid weight", "mass", 20, 50_000)
OTHERS = Slot("other ingredients", "mass", 0, 50_000, optional=True)
PART = Slot("part", "share", 0.05, 0.95)


def for_bench(ingredient: Ingredient) -> Ingredient:
    """An ingredient with water and fat to the whole per cent, as a student reads them."""
    water, fat = round(ingredient.water, 2), ingredient.fat
    products = ingredient.water_range
    return replace(
        ingredient,
        water=water,
        water_range=Interval(min(products.low, water), max(products.high, water)),
        fat=fat if fat is None else round(fat, 2),
    )


def _content(working: Working, liquid: Ingredient) -> Name:
    """Give a liquid's water content (and, for those who take the wrong column, its fat)."""
    if liquid.fat:
        fat_given(working, liquid, "liquid")
    return content_given(working, "water content", liquid, "liquid")


def _flour(working: Working, flour: float):
    return working.given("flour", "flour", flour, "mass", role="flour")


def _water_needed(working: Working, flour: float, hydration: float):
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


@_quantity("water needed", "the water a dough needs at a hydration", FLOUR, HYDRATION, least=20)
def water_needed(flour: float, hydration: float) -> Working:
    """Water = flour × hydration."""
    working = Working("Water needed")
    _water_needed(working, flour, hydration)
    return working


@_quantity(
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


@_quantity(
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


@_quantity(
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


@_quantity(
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


@_quantity(
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


@_quantity(
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


@_quantity(
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
        to=1.0,
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
