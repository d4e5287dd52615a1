"""A dough formula: weights of ingredients, baker's percentages, and hydration in each meaning.

The trade has several hydrations, and each has a name here (`MEANINGS`). The default is the water
in liquids, eggs and purees, divided by the total flour.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.composition import Ingredient
from calc.expression import Expression, Name, summed
from calc.interval import Interval
from calc.words import capital, the
from calc.working import Working


class FormulaError(ValueError):
    """The formula cannot be worked with; the message says what to change."""


@dataclass(frozen=True)
class Item:
    """An ingredient and its weight in grams; `around` is what it may weigh where it was not weighed."""

    ingredient: Ingredient
    grams: float
    around: Interval | None = None

    def __post_init__(self) -> None:
        if self.grams < 0:
            raise FormulaError(f"{capital(self.ingredient.name)} cannot weigh less than 0 g.")

    def bounds(self, scale: float) -> Interval | None:
        """What it may really weigh (grams), with the step of the scale in grams; None: as stated."""
        return self.around or weighed(self.grams, scale)


@dataclass(frozen=True)
class Meaning:
    """One of the trade's hydrations: what counts above the line."""

    key: str
    name: str
    explained: str


# Every meaning of hydration; the first is the default.
MEANINGS = (
    Meaning("water", "water in the liquids", "water in liquids, eggs and purees ÷ total flour"),
    Meaning(
        "liquid", "weight of the liquids", "whole weight of liquids, eggs and purees ÷ total flour"
    ),
    Meaning(
        "poured",
        "water and milk alone",
        "weight of the water, milk or juice ÷ total flour; eggs and purees not counted",
    ),
    Meaning(
        "all-water", "all added water", "water in everything but flour, butter’s too ÷ total flour"
    ),
    Meaning(
        "flour-moisture",
        "all water, flour’s too",
        "all water and the flour’s own moisture ÷ total flour",
    ),
)

# The meanings that count whole weights, and the groups that one of them leaves out.
BY_WEIGHT = ("liquid", "poured")
NOT_POURED = ("egg", "puree", "fruit")


@dataclass(frozen=True)
class Formula:
    """Items in the order a baker lists them. Needs flour: raises FormulaError without it."""

    items: tuple[Item, ...]

    def __post_init__(self) -> None:
        if not self.flour:
            raise FormulaError(
                "There is no flour in this formula. Give the flour a weight: hydration counts on it."
            )

    @property
    def flour(self) -> float:
        """Total flour in grams: the 100 % of every baker's percentage."""
        return sum(item.grams for item in self.items if item.ingredient.is_flour)

    @property
    def dough(self) -> float:
        """Weight of the dough in grams."""
        return sum(item.grams for item in self.items)

    def bakers_percentage(self, item: Item) -> float:
        """An item's weight as a share of the total flour."""
        return item.grams / self.flour

    def total(self, part: str) -> float | None:
        """Grams of a part (``fat``, ``sugars``, ``salt`` …) in the dough; None if one is unknown."""
        shares = [(item.grams, getattr(item.ingredient, part)) for item in self.items if item.grams]
        if any(share is None for _, share in shares):
            return None
        return sum(grams * share for grams, share in shares)

    def allergens(self) -> tuple[str, ...]:
        """The allergens of everything in it, each once."""
        return tuple(
            dict.fromkeys(
                word for item in self.items if item.grams for word in item.ingredient.allergens
            )
        )


def counts(item: Item, meaning: str) -> bool:
    """Whether an item's water (or weight) counts towards hydration in a meaning."""
    if meaning == "poured" and item.ingredient.group in NOT_POURED:
        return False
    if meaning in ("water", *BY_WEIGHT):
        return item.ingredient.is_liquid
    return meaning == "flour-moisture" or not item.ingredient.is_flour


def hydration(formula: Formula, meaning: str = "water") -> Working:
    """The working of a formula's hydration, a share of the total flour.

    `meaning` is a key of `MEANINGS`.
    """
    explained = next(m for m in MEANINGS if m.key == meaning).explained
    working = Working(f"Hydration: {explained}")
    weights = list(weigh(working, formula))
    flour = summed([name for item, name in weights if item.ingredient.is_flour])
    parts = []
    for number, (item, weight) in enumerate(weights):
        if not item.grams or not counts(item, meaning):
            continue
        whole = meaning in BY_WEIGHT
        parts.append(weight if whole else numbered_water(working, number, item.ingredient, weight))
    total = summed(parts) if parts else flour - flour
    counted = "liquid" if meaning in BY_WEIGHT else "water"
    if len(parts) != 1:
        total = working.step(
            "total",
            f"{counted} in all",
            total,
            "mass",
            to=1.0,
            why="All that counts as liquid belongs in this sum.",
        )
    working.step(
        "hydration",
        "hydration",
        total / flour,
        "share",
        to=0.01,
        why=f"Compare the {counted} with the flour.",
    )
    return working


# Why a liquid's weight is multiplied by its water content.
ONLY_WATER = "Only this part of it is water."


def water_step(
    working: Working,
    ingredient: Ingredient,
    weight: Name,
    key: str,
    content: str,
    which: str = "",
    *,
    label: str = "",
    to: float | None = 1.0,
    role: str = "",
    why: str = ONLY_WATER,
) -> Name:
    """Add the water in an ingredient of that weight, in grams, to a working; water itself is all water.

    `key` is the step's, `content` the water content's; `which` names the ingredient among the givens.
    """
    if ingredient.water == 1:
        return weight
    share = content_given(working, content, ingredient, which)
    label = label or f"water in {the(ingredient.name)}"
    return working.step(key, label, weight * share, "mass", to=to, role=role, why=why)


def liquid_step(
    working: Working,
    ingredient: Ingredient,
    water: Expression,
    key: str,
    content: str,
    which: str = "",
    *,
    label: str = "",
    kind: str = "mass",
    to: float | None = None,
    role: str = "",
    why: str = "Only part of the liquid is water, so it takes more of it: divide.",
) -> Name:
    """Add the weight of an ingredient that brings that water, to a working: `water_step` backwards.

    `key` is the step's, `content` the water content's; `which` names the ingredient among the givens.
    `kind` is that of `water` and of the weight: grams, or a share of the flour.

    Raises FormulaError as `refuse_dry`.
    """
    refuse_dry(ingredient)
    share = content_given(working, content, ingredient, which)
    return working.step(
        key, label or ingredient.name, water / share, kind, to=to, role=role, why=why
    )


def refuse_dry(ingredient: Ingredient) -> None:
    """Raise FormulaError where products of that name may hold no water: no weight has an upper bound then."""
    if not ingredient.water_range.low > 0:
        holds, brings = (
            ("may hold", "is sure to bring") if ingredient.water else ("holds", "brings")
        )
        raise FormulaError(
            f"{capital(ingredient.name)} {holds} no water, so no weight of it {brings} any. Choose a liquid."
        )


def numbered_water(working: Working, number: int, ingredient: Ingredient, weight: Name) -> Name:
    """`water_step` for one of several ingredients, by its number."""
    return water_step(
        working, ingredient, weight, f"water{number}", f"content{number}", role="water"
    )


def weigh(working: Working, formula: Formula) -> Iterator[tuple[Item, Name]]:
    """Add each item's weight to a working, and give it back with its name."""
    for number, item in enumerate(formula.items):
        role = "flour" if item.ingredient.is_flour else "ingredient"
        yield (
            item,
            working.given(
                f"weight{number}",
                item.ingredient.name,
                item.grams,
                "mass",
                item.around,
                role=role,
                of=item.ingredient.key,
            ),
        )


def weighed(grams: float, scale: float) -> Interval | None:
    """What a weight read on a scale of that step (g) may really be; never below nothing."""
    if not scale or not grams:
        return None
    around = Interval.around(grams, scale / 2)
    return Interval(max(0.0, around.low), around.high)


def water_needed_step(working: Working, flour: float, hydration: float, key: str = "water") -> Name:
    """Add flour (grams) and hydration (a share), and as step `key` the water they ask for."""
    weight = working.given("flour", "flour", flour, "mass", role="flour")
    share = working.given("hydration", "hydration", hydration, "share", role="hydration")
    return working.step(
        key,
        "water needed",
        weight * share,
        "mass",
        to=1.0,
        why="Hydration is the water as a share of the flour, so multiply the flour by it.",
    )


def content_given(working: Working, key: str, ingredient: Ingredient, which: str = "") -> Name:
    """Add an ingredient's water content, with the range of its products, to a working."""
    return working.given(
        key,
        f"water content of {ingredient.name}",
        ingredient.water,
        "share",
        ingredient.water_range,
        role="water content",
        of=which or ingredient.key,
    )


def fat_given(
    working: Working, ingredient: Ingredient, which: str, key: str = "fat content"
) -> Name:
    """Add an ingredient's fat content: for its own sake, or for anyone who takes the wrong column."""
    return working.given(
        key,
        f"fat content of {ingredient.name}",
        ingredient.fat,
        "share",
        role="fat content",
        of=which,
    )
