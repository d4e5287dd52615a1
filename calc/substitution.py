"""Swap one liquid for another at the same water, whole or in part.

The new liquid is weighed up by its water: divide the water to be replaced by the new liquid's
water content. `swap` changes a whole formula; `swap_working` is the calculation alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from calc.composition import Ingredient
from calc.expression import Expression, Name
from calc.formula import Formula, FormulaError, Item, content_given, fat_given, weighed
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
    def new_allergens(self) -> tuple[str, ...]:
        """Allergens that were not in the dough before."""
        known = set(self.before.allergens())
        return tuple(word for word in self.after.allergens() if word not in known)


def swap_working(old: Item, new: Ingredient, part: float = 1.0, scale: float = 0.0) -> Working:
    """The weight of `new` that brings the water of a part of `old`.

    `part` is the share of the old liquid to take out (above 0, at most 1); `scale` the step of the
    scale in grams (0: weights as stated). The step ``new`` is the answer in grams.

    Raises FormulaError when the part is out of range or the new liquid holds no water.
    """
    if not 0 < part <= 1:
        raise FormulaError(
            "The part to swap must be above 0 % and at most 100 % of the old liquid."
        )
    if not new.water > 0:
        raise FormulaError(f"{new.name} holds no water, so it cannot take the place of a liquid.")
    working = Working(f"{new.name} for {old.ingredient.name} at the same water")
    weight = working.given(
        "old",
        old.ingredient.name,
        old.grams,
        "mass",
        weighed(old.grams, scale),
        role="liquid",
        of="old",
    )
    replaced = weight
    if part < 1:
        share = working.given("part", "part to swap", part, "share", role="part")
        replaced = working.step(
            "replaced",
            f"{old.ingredient.name} to take out",
            weight * share,
            "mass",
            to=1.0,
            why="Only this part of the old liquid goes.",
        )
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
    content = content_given(working, "new-content", new, "new")
    if new.fat:
        fat_given(working, new, "new")
    working.step(
        "new",
        new.name,
        water / content,
        "mass",
        why="Only part of the new liquid is water, so it takes more of it: divide.",
    )
    return working


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
    place = next((n for n, item in enumerate(formula.items) if item.ingredient.key == old), None)
    if place is None or not formula.items[place].grams:
        raise FormulaError("There is no liquid to swap in this formula. Give it a weight.")
    item = formula.items[place]
    working = swap_working(item, new, part, scale)
    values = working.values()
    kept = item.grams - values.get("replaced", item.grams)
    fresh = Item(new, values["new"])
    staying = (replace(item, grams=kept),) if kept else ()
    items = formula.items[:place] + staying + (fresh,) + formula.items[place + 1 :]
    return Swap(formula, Formula(merged(items)), item, fresh, kept, working)


def merged(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """Items of the same ingredient as one, in the place of the first."""
    grams: dict[Ingredient, float] = {}
    for item in items:
        grams[item.ingredient] = grams.get(item.ingredient, 0.0) + item.grams
    return tuple(Item(ingredient, weight) for ingredient, weight in grams.items())
