"""Swap one liquid for another at the same water, whole or in part.

The new liquid is weighed up by its water: divide the water to be replaced by the new liquid's
water content. `swap` changes a whole formula; `swap_working` is the calculation alone. Where the
weight of the new liquid is what there is, `swap_weight` says how much of the old one stays.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.composition import Ingredient
from calc.expression import Expression, Name
from calc.formula import (
    ONLY_WATER,
    Formula,
    FormulaError,
    Item,
    content_given,
    fat_given,
    liquid_step,
    refuse_dry,
    water_step,
)
from calc.interval import Interval
from calc.words import the
from calc.working import Working


@dataclass(frozen=True)
class Swap:
    """A formula before and after, and the working that leads from one to the other.

    `kept` is what stays of the old liquid, in grams.
    """

    before: Formula
    after: Formula
    old: Item
    new: Item
    kept: float
    working: Working

    @property
    def by_weight(self) -> bool:
        """Whether the new liquid's weight was given, and what stays of the old one was sought."""
        return "new" in self.working.givens


def swap_working(old: Item, new: Ingredient, part: float = 1.0, scale: float = 0.0) -> Working:
    """The weight of `new` that brings the water of a part of `old`.

    `part` is the share of the old liquid to take out (above 0, at most 1); `scale` the step of the
    scale in grams (0: weights as stated). The step ``new`` is the answer in grams.

    Raises FormulaError when the part is out of range, or the new liquid may hold no water.
    """
    if not 0 < part <= 1:
        raise FormulaError(
            "The part to swap must be above 0 % and at most 100 % of the old liquid."
        )
    working = Working(f"{new.name} for {old.ingredient.name} at the same water")
    weight = working.given(
        "old",
        old.ingredient.name,
        old.grams,
        "mass",
        old.bounds(scale),
        role="liquid",
        of="old",
    )
    replaced = _part_step(working, old, weight, part)
    if new.water == 1:
        whole = "The new liquid is all water, so its weight is the water."
        working.step("new", new.name, _water_in(working, old, replaced), "mass", why=whole)
        return working
    water = replaced
    if old.ingredient.water < 1:
        water = working.step(
            "water",
            f"water in that {old.ingredient.name}",
            _water_in(working, old, replaced),
            "mass",
            to=1.0,
            role="water",
            why="The old liquid is not all water. This is the water the dough loses.",
        )
    liquid_step(
        working, new, water, "new", "new-content", "new",
        why="Only part of the new liquid is water, so it takes more of it: divide.",
    )  # fmt: skip
    if new.fat:
        fat_given(working, new, "new")
    return working


def _part_step(working: Working, old: Item, weight: Name, part: float) -> Name:
    """Add what goes of the old liquid, in grams; all of it is no step."""
    if part == 1:
        return weight
    share = working.given("part", "part to swap", part, "share", role="part")
    return working.step(
        "replaced",
        f"{old.ingredient.name} to take out",
        weight * share,
        "mass",
        to=1.0,
        why="Only this part of the old liquid goes.",
    )


def _water_in(working: Working, old: Item, weight: Name) -> Expression:
    if old.ingredient.water == 1:
        return weight
    return weight * content_given(working, "old-content", old.ingredient, "old")


def swap(
    formula: Formula, old: str, new: Ingredient, part: float = 1.0, scale: float = 0.0
) -> Swap:
    """Swap a part of the liquid with key `old` for `new`; the dough's water stays the same.

    `part` is a share (above 0, at most 1); `scale` the step of the scale in grams (0: weights as
    stated). Raises FormulaError when the formula does not hold `old`, or as `swap_working` does.
    """
    item = old_liquid(formula, old)
    working = swap_working(item, new, part, scale)
    values = working.values()
    kept = item.grams - values.get("replaced", item.grams)
    return _swapped(formula, item, Item(new, values["new"]), kept, working)


def swap_weight(formula: Formula, old: str, new: Item, scale: float = 0.0) -> Swap:
    """Put all of `new` in place of a part of the liquid with key `old`; the dough's water stays the same.

    `scale` is the step of the scale in grams (0: weights as stated). Raises FormulaError when the
    formula does not hold `old`, or as `weight_working` does.
    """
    item = old_liquid(formula, old)
    working = weight_working(item, new, scale)
    kept = max(0.0, working.values()["kept"])
    # What is left by the computer's rounding is nothing.
    return _swapped(formula, item, new, kept if kept > item.grams * 1e-9 else 0.0, working)


def old_liquid(formula: Formula, old: str) -> Item:
    """The item with key `old`. Raises FormulaError when the formula does not hold it."""
    for item in formula.items:
        if item.ingredient.key == old and item.grams:
            return item
    raise FormulaError("There is no such liquid in this formula. Give it a weight.")


def weight_working(old: Item, new: Item, scale: float = 0.0) -> Working:
    """What stays of `old`, in grams, when all of `new` goes in at the same water: the step ``kept``.

    The part of the old liquid that goes is the new liquid's water ÷ the old one's.

    Raises FormulaError when one of them may hold no water, or `new` holds more than all of `old` does.
    """
    refuse_dry(old.ingredient)
    most = swap_working(old, new.ingredient).values()["new"]
    if not new.grams > 0:
        raise FormulaError(f"Give {the(new.ingredient.name)} a weight above 0 g.")
    if new.grams > most * (1 + 1e-9):
        raise FormulaError(
            f"{new.grams:.6g} g of {new.ingredient.name} brings more water than "
            f"{old.grams:.6g} g of {old.ingredient.name} holds. At most {most:.1f} g fits."
        )
    working = Working(f"{new.ingredient.name} for a part of {the(old.ingredient.name)}")
    brought = _water_step(working, "new", new, scale, "This is the water that comes.")
    water = _water_step(working, "old", old, scale, "This is the water there is to replace.")
    part = working.step(
        "part",
        f"part of {the(old.ingredient.name)} to take out",
        brought / water,
        "share",
        to=0.001,
        role="part",
        why="The water that comes, as a part of the water there is: divide.",
    )
    replaced = working.step(
        "replaced",
        f"{old.ingredient.name} to take out",
        Name("old") * part,
        "mass",
        to=1.0,
        why="Only this part of the old liquid goes.",
    )
    working.step(
        "kept",
        f"{old.ingredient.name} that stays",
        Name("old") - replaced,
        "mass",
        why="The rest of the old liquid stays.",
    )
    return working


def _water_step(working: Working, which: str, item: Item, scale: float, why: str) -> Name:
    """Add a liquid's weight, as given `which`, and the water in it; of water itself, the weight."""
    # A weight that its scale may show for nothing at all has no bounds to divide by.
    bounds = item.bounds(scale) if item.around or item.grams > scale / 2 else None
    weight = working.given(
        which,
        item.ingredient.name,
        item.grams,
        "mass",
        bounds,
        role="liquid",
        of=which,
    )
    return water_step(
        working, item.ingredient, weight, f"{which}-water", f"{which}-content", which,
        label=f"water in that {item.ingredient.name}", role="water", why=f"{ONLY_WATER} {why}",
    )  # fmt: skip


def _swapped(formula: Formula, old: Item, new: Item, kept: float, working: Working) -> Swap:
    place = formula.items.index(old)
    staying = (Item(old.ingredient, kept),) if kept else ()
    items = formula.items[:place] + staying + (new,) + formula.items[place + 1 :]
    return Swap(formula, Formula(merged(items)), old, new, kept, working)


def merged(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Items of the same ingredient as one, in the place of the first."""
    found: dict[Ingredient, Item] = {}
    for item in items:
        before = found.get(item.ingredient)
        found[item.ingredient] = _together(before, item) if before else item
    return tuple(found.values())


def _together(one: Item, other: Item) -> Item:
    around = None
    if one.around or other.around:
        exact = [each.around or Interval.exactly(each.grams) for each in (one, other)]
        around = exact[0] + exact[1]
    return Item(one.ingredient, one.grams + other.grams, around)
