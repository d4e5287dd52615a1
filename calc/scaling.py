"""Yield and scaling: pieces to dough, dough to flour, tins, volumes, and rounding to a scale's step.

Masses in grams, volumes in ml, shares as fractions. A volume becomes a weight only through a stated
density; without one it is refused.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.composition import Ingredient
from calc.formula import Formula, FormulaError, Item, counts, hydration
from calc.interval import Interval
from calc.registry import HYDRATION, Slot, quantity
from calc.working import Working

# From a dough's weight back to a formula.


def _scale_step(grams: float) -> float:
    """A large scale reads 10 g, a small one 1 g."""
    return 10.0 if grams >= 10_000 else 1.0


@quantity(
    "dough for pieces",
    "the dough that the pieces need, with bake loss and an allowance for the bowl",
    Slot("pieces", "number", 1, 5000),
    Slot("piece weight", "mass", 5, 10_000),
    Slot("bake loss", "share", 0.0, 0.40, optional=True),
    Slot("allowance", "share", 0.0, 0.20, optional=True),
    plausible_low=20,
    plausible_high=100_000,
)
def dough_for_pieces(
    pieces: float, piece_weight: float, bake_loss: float = 0.0, allowance: float = 0.0
) -> Working:
    """Dough = pieces × weight ÷ (1 − bake loss) ÷ (1 − allowance).

    With a bake loss, `piece_weight` is the weight after baking; without one, that of the raw piece.
    Both losses are shares of the dough. Raises FormulaError when a loss is not from 0 to below 1.
    """
    for name, share in (("bake loss", bake_loss), ("allowance", allowance)):
        if not 0 <= share < 1:
            raise FormulaError(f"The {name} must be from 0 % to less than 100 % of the dough.")
    working = Working("Dough for the pieces")
    step = _scale_step(pieces * piece_weight)
    number = working.given("pieces", "pieces", pieces, "number")
    weight = working.given(
        "piece", "weight of one baked piece" if bake_loss else "weight of one piece",
        piece_weight, "mass",
    )  # fmt: skip
    dough = working.step(
        "together",
        "baked pieces together" if bake_loss else "pieces together",
        number * weight,
        "mass",
        to=step,
        why="Every piece weighs the same.",
    )
    if bake_loss:
        loss = working.given("loss", "bake loss", bake_loss, "share", role="loss")
        dough = working.step(
            "raw",
            "raw pieces together",
            dough / (1 - loss),
            "mass",
            to=step,
            why="The oven takes this share of the raw dough, so divide by what is left of it.",
        )
    if allowance:
        kept = working.given("allowance", "allowance", allowance, "share", role="loss")
        working.step(
            "dough",
            "dough to mix",
            dough / (1 - kept),
            "mass",
            to=step,
            why="That share of the dough stays in the bowl and on the hands.",
        )
    return working


@quantity(
    "flour for a dough weight",
    "the flour in a dough of a wanted weight, from its baker's percentages",
    Slot("dough weight", "mass", 50, 100_000),
    HYDRATION,
    Slot("other percentages", "share", 0.0, 2.0),
    plausible_low=20,
    plausible_high=1_000_000,
)
def flour_for_dough(
    dough_weight: float, hydration: float, other_percentages: float = 0.0
) -> Working:
    """Flour = dough ÷ (100 % + water % + the rest %): weights in grams, percentages as shares.

    `hydration` is the water, for a water dough.
    """
    working = Working("Flour for a dough weight")
    dough = working.given("dough", "dough", dough_weight, "mass", role="dough")
    water = working.given("hydration", "water percentage", hydration, "share", role="hydration")
    rest = working.given(
        "others", "all other percentages", other_percentages, "share", role="baker's percentage"
    )
    total = working.step(
        "total",
        "total percentage",
        1 + water + rest,
        "share",
        to=0.001,
        why="The flour is 100 %. Add every baker's percentage to it.",
    )
    working.step(
        "flour",
        "flour",
        dough / total,
        "mass",
        to=_scale_step(dough_weight),
        why="The dough is that many per cent of the flour, so divide.",
    )
    return working


@quantity(
    "scaling factor",
    "what to multiply every weight of a formula by",
    Slot("old weight", "mass", 20, 1_000_000),
    Slot("new weight", "mass", 20, 1_000_000),
    plausible_low=0.01,
    plausible_high=1000,
)
def scaling_factor(old_weight: float, new_weight: float) -> Working:
    """Factor = new weight ÷ old weight, in grams (both of the dough, or both of the flour)."""
    working = Working("Scaling factor")
    old = working.given("old", "old weight", old_weight, "mass")
    new = working.given("new", "new weight", new_weight, "mass")
    working.step(
        "factor",
        "scaling factor",
        new / old,
        "number",
        to=0.001,
        why="Every weight is multiplied by the same number, so the percentages stay.",
    )
    return working


def scaled(formula: Formula, factor: float) -> Formula:
    """The formula with every weight times `factor`, a plain number. Raises FormulaError when it is not above 0."""
    if not (factor > 0 and math.isfinite(factor)):
        raise FormulaError("The wanted weight must be above 0 g.")
    return Formula(tuple(replace(item, grams=item.grams * factor) for item in formula.items))


def scale_to_dough(formula: Formula, grams: float) -> Formula:
    """The formula for a dough of that weight in grams."""
    return scaled(formula, grams / formula.dough)


def scale_to_flour(formula: Formula, grams: float) -> Formula:
    """The formula on that weight of flour in all, in grams."""
    return scaled(formula, grams / formula.flour)


# Tins and volumes.


@dataclass(frozen=True)
class TinFill:
    """Dough for a tin: grams of dough for each ml of the tin, usual and from … to.

    Common practice, from memory, no source: flour, tin and taste move it. Bake one and adjust.
    """

    key: str
    name: str
    usual: float
    range: Interval


# How full tins usually are: grams of dough for each ml.
TIN_FILLS = (
    TinFill("open", "white pan loaf, open tin", 0.34, Interval(0.30, 0.40)),
    TinFill("lidded", "white pan loaf, lidded tin", 0.29, Interval(0.26, 0.32)),
    TinFill("enriched", "rich sweet loaf, open tin", 0.36, Interval(0.30, 0.42)),
    TinFill("wholemeal", "whole wheat pan loaf", 0.42, Interval(0.36, 0.50)),
    TinFill("rye", "rye pan loaf", 0.62, Interval(0.55, 0.75)),
)


@quantity(
    "dough for a tin",
    "the dough that fills a tin, from its volume and the grams for each ml",
    Slot("tin volume", "volume", 50, 20_000),
    Slot("dough for each ml", "density", 0.1, 1.2),
    plausible_low=20,
)
def dough_for_tin(
    tin_volume: float, dough_for_each_ml: float, range: Interval | None = None
) -> Working:
    """Dough = tin volume × grams of dough for each ml. `range` is what the ratio may be."""
    working = Working("Dough for the tin")
    volume = working.given("volume", "tin volume", tin_volume, "volume")
    ratio = working.given("ratio", "dough for each ml of tin", dough_for_each_ml, "density", range)
    working.step(
        "dough",
        "dough for the tin",
        volume * ratio,
        "mass",
        to=1.0,
        why="The dough fills only a part of the tin; rising does the rest.",
    )
    return working


@quantity(
    "weight of a volume",
    "the weight of a measured volume, through a stated density",
    Slot("volume", "volume", 1, 100_000),
    Slot("ingredient", "ingredient", needs="density"),
    plausible_low=1,
)
def weight_of_volume(volume: float, ingredient: Ingredient) -> Working:
    """Weight = volume × density: ml × g/ml. Raises FormulaError when no density is stated."""
    if ingredient.density is None:
        raise FormulaError(
            f"No density is stated for {ingredient.name}, so a volume of it says no weight. "
            "Weigh it."
        )
    working = Working(f"Weight of a volume of {ingredient.name}")
    millilitres = working.given("volume", "volume", volume, "volume")
    density = working.given(
        "density", f"density of {ingredient.name}", ingredient.density, "density"
    )
    working.step(
        "weight",
        f"weight of {ingredient.name}",
        millilitres * density,
        "mass",
        why="Each ml weighs as many grams as the density says.",
    )
    return working


# Rounding to the scale.


@quantity(
    "error of a reading",
    "how far off a weight may be because of its scale's step, as a share of the weight",
    Slot("scale step", "mass", 0.01, 100),
    Slot("weight", "mass", 0.1, 100_000),
    plausible_low=0.0001,
    plausible_high=1,
)
def reading_error(scale_step: float, weight: float) -> Working:
    """Error = half of the scale's step ÷ weight; both in grams, the error a share either way.

    It is what rounding to the step can hide. It takes for granted that the scale is true.
    """
    working = Working("Error of a reading")
    step = working.given("step", "step of the scale", scale_step, "mass")
    grams = working.given("weight", "weight", weight, "mass")
    half = working.step(
        "half", "most that rounding hides", step / 2, "mass", to=scale_step / 20,
        why="The scale shows the nearest step, so the truth lies within half a step of it.",
    )  # fmt: skip
    working.step(
        "error", "error of the reading", half / grams, "share", to=0.0001,
        why="The same half step matters more to a small weight: compare it with the weight.",
    )  # fmt: skip
    return working


# At most this many weights are tried both ways (1024 formulas); smaller ones go to the nearest step.
MOST_TRIED = 10


@dataclass(frozen=True)
class Rounding:
    """A formula on a scale's steps: `exact`, `best`, and `nearest` (each weight rounded alone).

    The hydrations are shares, in the default meaning: water in liquids, eggs and purees ÷ total flour.
    """

    exact: Formula
    best: Formula
    nearest: Formula
    wanted: float
    found: float
    found_nearest: float

    @property
    def error(self) -> float:
        """The hydration's error, as a share (0.001 is 0.1 points)."""
        return abs(self.found - self.wanted)

    @property
    def error_nearest(self) -> float:
        """The error, as a share, when each weight is rounded alone."""
        return abs(self.found_nearest - self.wanted)


def round_to_scale(formula: Formula, step: float, fine_step: float | None = None) -> Rounding:
    """Round every weight to a scale's step so that the hydration errs least.

    `step` is in grams; `fine_step` is that of a second scale for weights below 10 g. Each weight
    goes to the step below it or above it, never further. Flour and liquids are tried both ways,
    all together, and the formula whose hydration is nearest the exact one is taken; of equals, the
    one whose weights move least. The other weights do not touch the hydration and go to the
    nearest step. Nothing that is in the formula is rounded away.

    Raises FormulaError when a step is not above 0.
    """
    for each in (step, fine_step):
        if each is not None and not each > 0:
            raise FormulaError("A scale's step must be above 0 g, such as 1 g or 0.1 g.")
    steps = [fine_step if fine_step and item.grams < 10 else step for item in formula.items]
    near = [_nearest(i.grams, s) for i, s in zip(formula.items, steps, strict=True)]
    choices = [[grams] for grams in near]
    for place in _tried(formula):
        choices[place] = _neighbours(formula.items[place].grams, steps[place])
    wanted = hydration_of(formula.items)

    def cost(weights: tuple[float, ...]) -> tuple[float, float]:
        items = _with(formula, weights)
        moved = sum(
            abs(item.grams - old.grams) for item, old in zip(items, formula.items, strict=True)
        )
        # Equal errors must compare as equal, so that the second rule decides.
        return round(abs(hydration_of(items) - wanted), 12), moved

    best = min(itertools.product(*choices), key=cost)
    items, plain = _with(formula, best), _with(formula, tuple(near))
    return Rounding(
        formula, Formula(items), Formula(plain), wanted, hydration_of(items), hydration_of(plain)
    )


def hydration_of(items: tuple[Item, ...]) -> float:
    """Water in liquids, eggs and purees ÷ total flour, a share: the value of `calc.formula.hydration`."""
    return hydration(Formula(items)).values()["hydration"]


def _tried(formula: Formula) -> list[int]:
    """The places of the weights that touch the hydration, the heaviest `MOST_TRIED` of them."""
    places = [
        place
        for place, item in enumerate(formula.items)
        if item.grams and (item.ingredient.is_flour or counts(item, "water"))
    ]
    return sorted(places, key=lambda place: -formula.items[place].grams)[:MOST_TRIED]


def _with(formula: Formula, weights: tuple[float, ...]) -> tuple[Item, ...]:
    return tuple(
        replace(item, grams=grams) for item, grams in zip(formula.items, weights, strict=True)
    )


def _neighbours(grams: float, step: float) -> list[float]:
    return list(dict.fromkeys(_grid(grams, step)))


def _nearest(grams: float, step: float) -> float:
    if not grams:
        return 0.0
    return min(_grid(grams, step), key=lambda each: abs(each - grams))


def _grid(grams: float, step: float) -> Iterator[float]:
    """The steps below and above a weight; a weight that is there never becomes nothing."""
    count = grams / step
    whole = round(count)
    if math.isclose(count, whole, rel_tol=1e-9) and whole:
        yield whole * step
        return
    if math.floor(count):
        yield math.floor(count) * step
    yield math.ceil(count) * step
