"""Means, spread, and how large a difference between two means must be to say something.

Plain Python for the few numbers a bake gives. "Spread" is the sample standard deviation.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from calc.interval import Interval


@dataclass(frozen=True)
class Summary:
    """Some loaves' numbers: `mean` and `spread` in their own unit; `spread` is None for one loaf."""

    values: tuple[float, ...]

    @property
    def number(self) -> int:
        """How many values there are."""
        return len(self.values)

    @property
    def mean(self) -> float:
        """Raises ZeroDivisionError when there are no values."""
        return math.fsum(self.values) / self.number

    @property
    def squares(self) -> float:
        """The sum of squared distances from the mean."""
        mean = self.mean
        return math.fsum((value - mean) ** 2 for value in self.values)

    @property
    def spread(self) -> float | None:
        """The sample standard deviation: √(sum of squared distances ÷ (number − 1))."""
        return math.sqrt(self.squares / (self.number - 1)) if self.number > 1 else None


@dataclass(frozen=True)
class Pooled:
    """The spread within groups, all groups together, and its degrees of freedom."""

    spread: float
    freedom: int


def pooled(groups: Sequence[Summary]) -> Pooled | None:
    """The common spread of several groups; None when no group has two values.

    It takes for granted that every group spreads alike: few loaves cannot show whether they do.
    """
    filled = [group for group in groups if group.number]
    freedom = sum(group.number - 1 for group in filled)
    if freedom < 1:
        return None
    return Pooled(math.sqrt(math.fsum(group.squares for group in filled) / freedom), freedom)


def difference(one: Summary, other: Summary, common: Pooled, level: float = 0.95) -> Interval:
    """The confidence interval of mean of `one` − mean of `other`, in their unit, at a level such as 0.95.

    Student's t interval with the pooled spread: difference ± t × spread × √(1 ÷ n₁ + 1 ÷ n₂).
    """
    middle = one.mean - other.mean
    error = common.spread * math.sqrt(1 / one.number + 1 / other.number)
    margin = critical_t(level, common.freedom) * error
    return Interval(middle - margin, middle + margin)


def level_of_each(pairs: int, level: float = 0.95) -> float:
    """The level (a share) each of several intervals needs so that all hold together at `level`.

    Bonferroni's rule: the risk of a false alarm is shared out equally over the pairs.
    """
    return 1 - (1 - level) / pairs


def central_share(angle: float, freedom: int) -> float:
    """The share of Student's t between −t and t, where t = √freedom × tan(angle).

    `freedom` is a whole number of at least 1. Source: M. Abramowitz and I. A. Stegun, Handbook of
    Mathematical Functions (1964), 26.7.3 and 26.7.4 (from memory).
    """
    cosine, sine = math.cos(angle), math.sin(angle)
    odd = freedom % 2
    term = cosine if odd else 1.0
    total = 0.0
    for power in range(1 if odd else 0, freedom - 1, 2):
        total += term
        term *= cosine**2 * (power + 1) / (power + 2)
    return 2 / math.pi * (angle + sine * total) if odd else sine * total


@cache
def critical_t(level: float, freedom: int) -> float:
    """The t between whose two signs the share `level` of Student's distribution lies.

    `level` is above 0 and below 1, `freedom` a whole number of at least 1; raises ValueError.
    """
    if not 0 < level < 1 or freedom < 1:
        raise ValueError("The level lies between 0 and 1; degrees of freedom begin at 1.")
    low, high = 0.0, math.pi / 2
    while low < (middle := (low + high) / 2) < high:
        if central_share(middle, freedom) < level:
            low = middle
        else:
            high = middle
    return math.sqrt(freedom) * math.tan(low)
