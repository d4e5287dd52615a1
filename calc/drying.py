"""Dry a sample: its weight before and after the oven gives its water content.

The weight lost in an oven, until it no longer changes, is taken as water: the principle of the
standard methods, each for its food (ISO 13580 for yogurt at 102 °C with zinc oxide; AOAC 990.19 for
milk at 100 °C; AOAC 934.06 for dried fruit at 70 °C in vacuum).
Whatever else evaporates, such as alcohol and vinegar's acid, counts as water in it.
"""

from __future__ import annotations

from calc.formula import weighed
from calc.registry import Slot, quantity
from calc.working import PART_OF_A_WHOLE, Working


class DryingError(ValueError):
    """Weights that cannot be true. `field` names the weight to look at."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


def drying_working(before: float, after: float, dish: float = 0.0, scale: float = 0.0) -> Working:
    """The water content of a sample, from its weights in grams.

    `before` and `after` are weighed with the dish if `dish` is not 0, without it if it is. `scale`
    is the step of the scale (0: weights as stated); each weight may be half a step off. The step
    ``water`` is the answer, a share of the fresh sample.

    Raises DryingError when the weights contradict each other.
    """
    _refuse_untrue(before, after, dish, scale)
    working = Working("Water by drying")
    fresh = working.given(
        "before", _with_dish("fresh sample", dish), before, "mass", weighed(before, scale)
    )
    dry = working.given(
        "after", _with_dish("dry sample", dish), after, "mass", weighed(after, scale)
    )
    if dish:
        empty = working.given("dish", "empty dish", dish, "mass", weighed(dish, scale), role="dish")
        alone = "The dish is not a part of the sample: take it away."
        step = scale or None
        fresh = working.step(
            "sample", "fresh sample alone", fresh - empty, "mass", to=step, why=alone
        )
        dry = working.step(
            "solids",
            "dry sample alone",
            dry - empty,
            "mass",
            to=step,
            why="The dish is in this weight too: take it away again.",
        )
    # Written so that each weight appears once, the bounds are as tight as the scale allows.
    stays = working.step(
        "stays",
        "share that stays",
        dry / fresh,
        "share",
        to=0.001,
        role=PART_OF_A_WHOLE,
        why="What stays in the oven is the solids. Compare it with the fresh sample.",
    )
    working.step(
        "water",
        "water content",
        1 - stays,
        "share",
        to=0.01,
        role=PART_OF_A_WHOLE,
        why="The rest left in the oven: that is the water.",
    )
    return working


def _refuse_untrue(before: float, after: float, dish: float, scale: float) -> None:
    """Raise DryingError when weights in grams contradict each other, or the scale cannot tell them apart."""
    if not before > dish:
        raise DryingError(
            "before",
            "The dish with the sample must weigh more than the empty dish."
            if dish
            else "The sample must weigh more than nothing.",
        )
    # Both weights of a sample in a dish may be half a step off.
    if before - dish <= (scale if dish else scale / 2) * (1 + 1e-9):
        raise DryingError(
            "before",
            "On this scale so little sample may be nothing at all. Take more of it, or a finer scale.",
        )
    if after > before:
        raise DryingError(
            "after", "A sample cannot gain weight in the oven. Weigh again, or swap the weights."
        )
    if after < dish:
        raise DryingError(
            "after", "This is less than the empty dish. Weigh the dish with the dry sample in it."
        )


def _with_dish(what: str, dish: float) -> str:
    return f"dish with {what}" if dish else what


def is_constant(last: float, weight: float, scale: float) -> bool:
    """Whether two weighings in a row, in grams, differ by no more than a step of the scale."""
    return abs(last - weight) <= scale + 1e-9


@quantity(
    "water by drying",
    "the water content of a sample from its weight before and after the oven",
    Slot("before", "mass", 1, 5_000),
    Slot("after", "mass", 0.1, 5_000),
    Slot("dish", "mass", 0, 5_000, optional=True),
    plausible_low=0.01,
    plausible_high=1.0,
)
def water_by_drying(before: float, after: float, dish: float = 0.0) -> Working:
    """Water = 1 − (after − dish) ÷ (before − dish): weights in grams, the answer a share."""
    return drying_working(before, after, dish)
