"""Several liquids as one: blends, a swap for a blend, and the most that fits under a fat limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.acid import ph_bounds
from calc.composition import Ingredient, find
from calc.expression import Expression, Name, summed
from calc.formula import (
    Formula,
    FormulaError,
    Item,
    content_given,
    fat_given,
    hydration,
    liquid_step,
    water_needed_step,
    water_step,
)
from calc.interval import Interval
from calc.registry import (
    FLOUR,
    HYDRATION,
    LIQUID,
    LIQUID_WEIGHT,
    PART,
    SECOND_LIQUID,
    Slot,
    quantity,
)
from calc.substitution import Swap, merged, old_liquid, swap, swap_working
from calc.words import capital
from calc.working import PART_OF_A_WHOLE, Working

_SHARES = (
    "protein", "fat", "carbohydrate", "sugars", "lactose", "fibre", "ash", "salt", "alcohol",
)  # fmt: skip

# What the pH range of a blend means.
PH_NOTE = (
    "The pH of a blend is not the average of its parts. It lies between the lowest and the highest."
)


def blend_working(parts: Sequence[Item]) -> Working:
    """The water content of a blend: all water ÷ all weight. The step ``content`` is a share.

    Bounds carry the range of each liquid's products.

    Raises FormulaError when there is nothing to blend.
    """
    parts = [part for part in merged(tuple(parts)) if part.grams]
    if not parts:
        raise FormulaError("There is nothing to blend. Give at least one liquid a weight.")
    working = Working("Water content of the blend")
    weights = [
        working.given(
            f"weight{n}",
            part.ingredient.name,
            part.grams,
            "mass",
            role="liquid",
            of=f"{n}",
        )
        for n, part in enumerate(parts)
    ]
    waters = [
        water_step(working, part.ingredient, weight, f"water{n}", f"content{n}", f"{n}")
        for n, (part, weight) in enumerate(zip(parts, weights, strict=True))
    ]
    water = waters[0]
    if len(parts) > 1:
        water = working.step(
            "water", "water in all", summed(waters), "mass", to=1.0, why="Add up the water."
        )
    whole = weights[0]
    if len(parts) > 1:
        whole = working.step(
            "whole",
            "weight of the blend",
            summed(weights),
            "mass",
            to=1.0,
            why="Add up the weights.",
        )
    working.step(
        "content",
        "water content of the blend",
        water / whole,
        "share",
        role="water content",
        why="Compare all the water with all the weight.",
    )
    return working


def blend(parts: Sequence[Item], name: str = "") -> Ingredient:
    """The parts as one ingredient, with shares weighted by weight.

    A share is None if it is unknown for any part. The water range comes from the ranges of the
    parts. The pH runs from the lowest to the highest of its parts (`PH_NOTE`); density is None.

    Raises FormulaError when there is nothing to blend.
    """
    parts = [part for part in merged(tuple(parts)) if part.grams]
    working = blend_working(parts)
    if len(parts) == 1:
        return parts[0].ingredient
    whole = sum(part.grams for part in parts)
    bounds = working.bounds()["content"]
    water = working.values()["content"]
    return Ingredient(
        key="blend",
        name=name or "blend of " + " and ".join(part.ingredient.name for part in parts),
        group=max(parts, key=lambda part: part.grams * part.ingredient.water).ingredient.group,
        water=water,
        # A share of more than the whole is not possible, whatever the rounding.
        water_range=Interval(bounds.low, max(water, min(1.0, bounds.high))),
        **{share: _share(parts, share, whole) for share in _SHARES},
        ph=ph_bounds(parts),
        allergens=tuple(dict.fromkeys(a for part in parts for a in part.ingredient.allergens)),
        perishable=any(part.ingredient.perishable for part in parts),
        source="; ".join(part.ingredient.source or "stated" for part in parts),
        note=PH_NOTE,
    )


def _share(parts: Sequence[Item], share: str, whole: float) -> float | None:
    known = [getattr(part.ingredient, share) for part in parts]
    if None in known:
        return None
    return sum(part.grams * each for part, each in zip(parts, known, strict=True)) / whole


def swap_for_blend(
    formula: Formula, old: str, parts: Sequence[Item], part: float = 1.0, scale: float = 0.0
) -> Swap:
    """Swap a part of the liquid with key `old` for a blend; the water stays the same.

    The weights of `parts` say only how much of one there is to the other. In the formula after,
    each liquid of the blend has a line of its own. `part` is the share of the old liquid to take
    out; `scale` the step of the scale in grams (0: weights as stated).

    Raises FormulaError as `blend` and `calc.substitution.swap` do.
    """
    made = blend(parts)
    done = swap(formula, old, made, part, scale)
    apart = [one for item in done.after.items for one in _apart(item, made, parts)]
    return replace(done, after=Formula(merged(tuple(apart))))


def _apart(item: Item, made: Ingredient, parts: Sequence[Item]) -> list[Item]:
    if item.ingredient != made:
        return [item]
    whole = sum(part.grams for part in parts)
    return [Item(part.ingredient, item.grams * part.grams / whole) for part in parts if part.grams]


# As much as fits.


@dataclass(frozen=True)
class MostThatFits:
    """The largest part of a liquid that can be swapped with the dough's fat under a limit.

    `part` is a share, at most 1 (`is_all`); `swap` is that swap, None if `part` is 0. `working` finds the
    part, and may find more than 1; where the new liquid brings no more fat, it is the swap's own.
    """

    part: float
    is_all: bool
    swap: Swap | None
    working: Working


def most_that_fits(formula: Formula, old: str, new: Ingredient, limit: float) -> MostThatFits:
    """As much of `new` in place of `old` as keeps all fat in the dough at most `limit` × flour.

    The water stays the same. `limit` is a share of the flour; the flour's own fat counts too.

    Raises FormulaError when the dough does not hold `old`, when a fat content is unknown, or when
    the dough is over the limit whatever is swapped.
    """
    item = old_liquid(formula, old)
    unknown = [e.name for e in (*(i.ingredient for i in formula.items), new) if e.fat is None]
    if unknown:
        raise FormulaError(
            f"The table does not know the fat of {', '.join(unknown)}. Without it a fat limit cannot be kept."
        )
    others = sum(i.grams * i.ingredient.fat for i in formula.items if i is not item)
    gains = swap_working(item, new).values()["new"] * new.fat > item.grams * item.ingredient.fat
    if not gains:
        done = swap(formula, old, new)
        if done.after.total("fat") > formula.flour * limit:
            raise FormulaError(
                "The dough is over the limit even when all of the liquid is swapped. Take fat out first, or raise the limit."
            )
        return MostThatFits(1.0, True, done, done.working)
    working = fat_limit_working(formula.flour, item, new, limit, others)
    part = min(1.0, working.values()["part"])
    if part < 0:
        raise FormulaError(
            "The dough holds more fat than the limit before anything is swapped. Take fat out first, or raise the limit."
        )
    done = swap(formula, old, new, part) if part else None
    return MostThatFits(part, part == 1, done, working)


def fat_limit_working(
    flour: float, old: Item, new: Ingredient, limit: float, other_fat: float = 0.0
) -> Working:
    """The part of `old` to swap: (fat allowed − fat now) ÷ (fat gained by a whole swap).

    `flour` and `other_fat` in grams, `limit` a share of the flour. The answer is a share; above 1
    means that all of it fits.

    Raises ZeroDivisionError where the swap changes no fat.
    """
    working = swap_working(old, new)
    working.title = f"As much {new.name} as fits under a fat limit"
    base = working.given("flour", "flour", flour, "mass", role="flour")
    share = working.given("limit", "fat limit", limit, "share", role="baker's percentage")
    gained, now = _fats(working, old, new, other_fat)
    allowed = working.step(
        "allowed",
        "fat allowed",
        base * share,
        "mass",
        why="The limit is a share of the flour.",
    )
    room = working.step(
        "room",
        "room for more fat",
        allowed - now,
        "mass",
        why="The room is what is left until the limit.",
    )
    working.step(
        "part",
        f"part of the {old.ingredient.name} to swap",
        room / gained,
        "share",
        role=PART_OF_A_WHOLE,
        why="Each part swapped brings the same part of that fat. Above 100 %, all of it fits.",
    )
    return working


def _fats(working: Working, old: Item, new: Ingredient, other_fat: float) -> tuple[Name, Name]:
    """The fat a whole swap gains, and the fat of the dough now."""
    brought = working.step(
        "new fat",
        f"fat in that {new.name}",
        Name("new") * Name("fat content"),
        "mass",
        why="Reckon as if all of the old liquid were swapped.",
    )
    now: Expression | None = (
        working.given("other fat", "fat in everything else", other_fat, "mass")
        if other_fat
        else None
    )
    gained = brought
    if old.ingredient.fat:
        lost = working.step(
            "old fat",
            f"fat in the {old.ingredient.name}",
            Name("old") * fat_given(working, old.ingredient, "old", "old fat content"),
            "mass",
            why="This fat goes when the old liquid goes.",
        )
        gained = working.step(
            "gained",
            "fat gained by a whole swap",
            brought - lost,
            "mass",
            why="The new liquid's fat comes in, and the old liquid's fat goes out.",
        )
        now = lost if now is None else now + lost
    if now is None:
        return gained, working.given("other fat", "fat in everything else", 0.0, "mass")
    if isinstance(now, Name):
        return gained, now
    return gained, working.step(
        "now",
        "fat in the dough now",
        now,
        "mass",
        why="The old liquid's fat counts, and that of all the rest.",
    )


# Grams of fat; with less, nothing is left to work out.
LEAST_GAIN = 1.0

# What problems on a fat limit give.
FAT_LIMIT_SLOTS = (
    FLOUR,
    LIQUID_WEIGHT,
    LIQUID,
    Slot("new liquid", "ingredient", needs="fat"),
    Slot("fat limit", "share", 0.01, 1.0),
    Slot("other fat", "mass", 0, 20_000, optional=True),
)


@quantity(
    "most that fits under a fat limit",
    "the largest part of a liquid that can be swapped with the dough's fat under a share of the flour",
    *FAT_LIMIT_SLOTS,
    plausible_low=0.01,
    plausible_high=1.0,
)
def most_under_fat_limit(
    flour: float,
    liquid_weight: float,
    liquid: Ingredient,
    new_liquid: Ingredient,
    fat_limit: float,
    other_fat: float = 0.0,
) -> Working:
    """`fat_limit_working` with weights in grams; `other_fat` is the fat of everything else.

    Raises FormulaError when the new liquid brings less than `LEAST_GAIN` more fat: any part fits.
    """
    old = Item(liquid, liquid_weight)
    fresh = swap_working(old, new_liquid).values()["new"]
    if fresh * new_liquid.fat - liquid_weight * (liquid.fat or 0.0) < LEAST_GAIN:
        raise FormulaError(
            f"{capital(new_liquid.name)} brings hardly more fat than {liquid.name}. Choose a liquid with more fat."
        )
    return fat_limit_working(flour, old, new_liquid, fat_limit, other_fat)


@quantity(
    "blend water",
    "the water content of two liquids mixed",
    LIQUID,
    LIQUID_WEIGHT,
    SECOND_LIQUID,
    Slot("second weight", "mass", 20, 50_000),
    plausible_low=0.1,
    plausible_high=1.0,
)
def blend_water(
    liquid: Ingredient, liquid_weight: float, second_liquid: Ingredient, second_weight: float
) -> Working:
    """`blend_working` of two liquids; weights in grams."""
    return blend_working((Item(liquid, liquid_weight), Item(second_liquid, second_weight)))


# Two liquids in one dough: eggs, a puree, or what is left in the tub.


@quantity(
    "hydration with two liquids",
    "the hydration of a dough made with two liquids, such as milk and egg",
    FLOUR,
    LIQUID,
    Slot("liquid weight", "mass", 10, 50_000),
    SECOND_LIQUID,
    Slot("second weight", "mass", 10, 50_000),
    plausible_low=0.4,
    plausible_high=1.2,
)
def hydration_of_two(
    flour: float,
    liquid: Ingredient,
    liquid_weight: float,
    second_liquid: Ingredient,
    second_weight: float,
) -> Working:
    """Hydration = (water of the one + water of the other) ÷ flour; grams, the answer a share."""
    items = (
        Item(find("bread-flour"), flour),
        Item(liquid, liquid_weight),
        Item(second_liquid, second_weight),
    )
    working = hydration(Formula(items))
    working.title = f"Hydration with {liquid.name} and {second_liquid.name}"
    return working


@quantity(
    "liquid beside another",
    "how much liquid a dough still needs beside an egg, a puree or another liquid",
    FLOUR,
    HYDRATION,
    Slot("first liquid", "ingredient"),
    Slot("first weight", "mass", 10, 50_000),
    LIQUID,
    plausible_low=20,
)
def liquid_beside(
    flour: float,
    hydration: float,
    first_liquid: Ingredient,
    first_weight: float,
    liquid: Ingredient,
) -> Working:
    """Liquid = (flour × hydration − water of the first) ÷ the liquid's water content.

    Weights in grams, hydration a share: the water in both liquids ÷ flour.
    """
    working = Working(f"{liquid.name} beside {first_liquid.name}")
    needed = water_needed_step(working, flour, hydration, "needed")
    weight = working.given(
        "first", first_liquid.name, first_weight, "mass", role="liquid", of="first"
    )
    brought = water_step(working, first_liquid, weight, "brought", "first-content", "first")
    left = working.step(
        "left",
        "water still needed",
        needed - brought,
        "mass",
        to=1.0,
        why=f"The {first_liquid.name} has brought this water already.",
    )
    if liquid.water < 1:
        label = f"weight of {liquid.name}"
        liquid_step(working, liquid, left, "liquid", "content", "liquid", label=label, to=1.0)
    return working


@quantity(
    "blend in place of water",
    "the weights of two liquids, mixed in a stated share, that bring the water of a dough",
    FLOUR,
    HYDRATION,
    LIQUID,
    PART,
    SECOND_LIQUID,
    plausible_low=10,
)
def blend_for_water(
    flour: float, hydration: float, liquid: Ingredient, part: float, second_liquid: Ingredient
) -> Working:
    """Blend = flour × hydration ÷ the blend's water content; then its two parts, in grams.

    `part` is the first liquid's share of the blend's weight.
    """
    working = Working(f"{liquid.name} and {second_liquid.name} in place of water")
    needed = water_needed_step(working, flour, hydration, "needed")
    share = working.given("part", f"part that is {liquid.name}", part, "share", role="part")
    content = working.step(
        "content",
        "water content of the blend",
        share * content_given(working, "content1", liquid, "1")
        + (1 - share) * content_given(working, "content2", second_liquid, "2"),
        "share",
        role="water content",
        why="Each liquid counts for as much as there is of it.",
    )
    whole = working.step(
        "blend",
        "weight of the blend",
        needed / content,
        "mass",
        to=1.0,
        why="Only part of the blend is water, so it takes more of it: divide.",
    )
    first = working.step(
        "first",
        f"{liquid.name} in the blend",
        whole * share,
        "mass",
        to=1.0,
        why="This part of the blend is the first liquid.",
    )
    working.step(
        "second",
        f"{second_liquid.name} in the blend",
        whole - first,
        "mass",
        to=1.0,
        why="What is not the first liquid is the second.",
    )
    return working
