"""Means, spread, and how large a difference between two means must be to say something.

Plain Python for the few numbers a bake gives. "Spread" is always the sample standard deviation.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

from calc.interval import Interval

# A plan sees a difference that it would show in four bakes of five.
POWER = 0.8


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


def without_rows(rows: Sequence[Sequence[float]]) -> tuple[tuple[Summary, ...], Pooled | None]:
    """What each column gave when each row's own level is taken out, and the spread that is left.

    A row is one taster, with a score for each column; no score is missing. The columns keep their
    means. The spread is that of a two-way analysis: each score less its row's and its column's mean,
    with (rows − 1) × (columns − 1) degrees of freedom. It is None for a single row or column.
    """
    whole = math.fsum(math.fsum(row) for row in rows) / (len(rows) * len(rows[0]))
    level = [[score - math.fsum(row) / len(row) + whole for score in row] for row in rows]
    columns = tuple(Summary(tuple(column)) for column in zip(*level, strict=True))
    freedom = (len(rows) - 1) * (len(columns) - 1)
    if freedom < 1:
        return columns, None
    left = math.fsum(column.squares for column in columns)
    # What rounding in the last bits leaves is no spread.
    spread = math.sqrt(left / freedom)
    return columns, Pooled(spread if spread > 1e-9 * max(1.0, abs(whole)) else 0.0, freedom)


def level_of_each(pairs: int, level: float = 0.95) -> float:
    """The level (a share) each of several intervals needs so that all hold together at `level`.

    Bonferroni's rule: the risk of a false alarm is shared out equally over the pairs.
    """
    return 1 - (1 - level) / pairs


def holm(chances: Sequence[float]) -> tuple[float, ...]:
    """The chances (p values, shares) of several comparisons, each raised so that all may be read together.

    What stays at 0.05 or below can be claimed: the risk of any false claim among all of them is then
    5 % at most. Source: “A simple sequentially rejective multiple test procedure”, Scandinavian Journal
    of Statistics 6 (1979), 65–70 (from memory).
    """
    raised, most = [0.0] * len(chances), 0.0
    for place, number in enumerate(sorted(range(len(chances)), key=chances.__getitem__)):
        most = max(most, min(1.0, (len(chances) - place) * chances[number]))
        raised[number] = most
    return tuple(raised)


def chance_of_difference(one: Summary, other: Summary, common: Pooled) -> float:
    """How often loaves that do not differ would give means at least so far apart: the p value, a share.

    Two-sided Student's t with the common spread, which must be above 0.
    """
    t = abs(one.mean - other.mean) / (common.spread * math.sqrt(1 / one.number + 1 / other.number))
    return 1 - central_share(math.atan(t / math.sqrt(common.freedom)), common.freedom)


# What a plan can see, in spreads.


def needed_gap(loaves: int, freedom: int, level: float = 0.95) -> float:
    """How many spreads two means of `loaves` each must lie apart to be called different at a level (a share)."""
    return critical_t(level, freedom) * math.sqrt(2 / loaves)


def power(gap: float, loaves: int, freedom: int, level: float = 0.95) -> float:
    """How often a true difference of `gap` spreads comes out as one: the power of the t test.

    Over what the spread may come out as (s, in true spreads), the share of means that lie far enough
    apart; Simpson's rule. Two means of `loaves` each, told apart at `level`.
    """
    bar, middle = critical_t(level, freedom), gap * math.sqrt(loaves / 2)
    normal, reach = NormalDist().cdf, 8 / math.sqrt(2 * freedom)
    low, high, parts = max(1e-9, 1 - reach), 1 + reach, 400
    total = 0.0
    for step in range(parts + 1):
        s = low + (high - low) * step / parts
        found = normal(middle - bar * s) + normal(-middle - bar * s)
        total += _simpson(step, parts) * found * _density_of_spread(s, freedom)
    return min(1.0, total * (high - low) / parts / 3)


def _simpson(step: int, parts: int) -> int:
    return 1 if step in (0, parts) else 4 if step % 2 else 2


def _density_of_spread(s: float, freedom: int) -> float:
    half = freedom / 2
    return 2 * math.exp(
        half * math.log(half) - math.lgamma(half) + (freedom - 1) * math.log(s) - half * s * s
    )


@cache
def least_seen(loaves: int, freedom: int, level: float = 0.95, often: float = POWER) -> float:
    """The least true difference, in spreads, that comes out as one in `often` of such bakes."""
    low, high = 0.0, 1.0
    while power(high, loaves, freedom, level) < often:
        low, high = high, high * 2
    while high - low > 1e-6 * high:
        middle = (low + high) / 2
        if power(middle, loaves, freedom, level) < often:
            low = middle
        else:
            high = middle
    return high


def central_share(angle: float, freedom: int) -> float:
    """The share of Student's t between −t and t, where t = √freedom × tan(angle).

    `freedom` is a whole number of at least 1. Source: Handbook of Mathematical Functions
    (US National Bureau of Standards, 1964), 26.7.3 and 26.7.4 (from memory).
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
