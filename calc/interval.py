"""Interval arithmetic, and slopes to keep it tight.

An `Interval` holds every value a quantity can honestly have. Each operation rounds its ends
outward by one floating-point step, so the true result is always inside.

Plain interval arithmetic grows too wide when one given appears twice (``x ÷ (x + y)``).
`Graded` carries an interval together with the interval of its slope in each given. Where a slope
keeps its sign, the result is largest and smallest at the given's own ends, and `tighten` uses that.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass


def _down(value: float) -> float:
    return math.nextafter(value, -math.inf)


def _up(value: float) -> float:
    return math.nextafter(value, math.inf)


@dataclass(frozen=True)
class Interval:
    """A closed range from `low` to `high`, in the unit of its quantity.

    Raises ValueError when `low` is above `high`.
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.high:
            raise ValueError(
                f"an interval runs from low to high, not from {self.low} to {self.high}"
            )

    @classmethod
    def exactly(cls, value: float) -> Interval:
        """The interval that holds one value only."""
        return cls(value, value)

    @classmethod
    def around(cls, value: float, margin: float) -> Interval:
        """The interval `value` − `margin` … `value` + `margin`, rounded outward."""
        return cls(_down(value - margin), _up(value + margin)) if margin else cls(value, value)

    @property
    def width(self) -> float:
        """`high` − `low`, in the same unit."""
        return self.high - self.low

    def __contains__(self, value: float) -> bool:
        return self.low <= value <= self.high

    def widened(self, margin: float) -> Interval:
        """This interval with `margin` added at both ends."""
        return Interval(_down(self.low - margin), _up(self.high + margin))

    def intersection(self, other: Interval) -> Interval:
        """What two enclosures of the same quantity have in common."""
        return Interval(max(self.low, other.low), min(self.high, other.high))

    def __neg__(self) -> Interval:
        return Interval(-self.high, -self.low)

    def __add__(self, other: Interval) -> Interval:
        return Interval(_down(self.low + other.low), _up(self.high + other.high))

    def __sub__(self, other: Interval) -> Interval:
        return self + -other

    def __mul__(self, other: Interval) -> Interval:
        corners = [a * b for a in (self.low, self.high) for b in (other.low, other.high)]
        return Interval(_down(min(corners)), _up(max(corners)))

    def __truediv__(self, other: Interval) -> Interval:
        if 0 in other:
            raise ZeroDivisionError("the divisor may be zero")
        return self * Interval(_down(1 / other.high), _up(1 / other.low))


@dataclass(frozen=True)
class Graded:
    """An interval and the intervals of its slopes in each given (zero where a given is absent)."""

    value: Interval
    slopes: Mapping[str, Interval]

    @classmethod
    def given(cls, name: str, value: Interval) -> Graded:
        """A given of that name: its slope in itself is 1."""
        return cls(value, {name: Interval.exactly(1.0)})

    @classmethod
    def exactly(cls, value: float) -> Graded:
        """A number, in any unit, that depends on no given."""
        return cls(Interval.exactly(value), {})

    def _combine(
        self,
        other: Graded,
        value: Interval,
        from_self: Callable[[Interval], Interval],
        from_other: Callable[[Interval], Interval],
    ) -> Graded:
        slopes = {name: from_self(slope) for name, slope in self.slopes.items()}
        for name, slope in other.slopes.items():
            term = from_other(slope)
            slopes[name] = slopes[name] + term if name in slopes else term
        return Graded(value, slopes)

    def __add__(self, other: Graded) -> Graded:
        return self._combine(other, self.value + other.value, lambda s: s, lambda s: s)

    def __sub__(self, other: Graded) -> Graded:
        return self._combine(other, self.value - other.value, lambda s: s, lambda s: -s)

    def __mul__(self, other: Graded) -> Graded:
        return self._combine(
            other, self.value * other.value, lambda s: s * other.value, lambda s: s * self.value
        )

    def __truediv__(self, other: Graded) -> Graded:
        ratio = self.value / other.value
        return self._combine(
            other, ratio, lambda s: s / other.value, lambda s: -(s * ratio) / other.value
        )


def tighten(
    graded: Graded, box: Mapping[str, Interval], at: Callable[[Mapping[str, Interval]], Interval]
) -> Interval:
    """The range of a quantity over `box`, made narrower where its slopes keep their sign.

    `at` computes the quantity's interval for other ranges of the givens. The result still holds
    every value the quantity can take.
    """
    lowest, highest = dict(box), dict(box)
    for name, slope in graded.slopes.items():
        ends = box[name]
        if slope.low >= 0:
            lowest[name], highest[name] = Interval.exactly(ends.low), Interval.exactly(ends.high)
        elif slope.high <= 0:
            lowest[name], highest[name] = Interval.exactly(ends.high), Interval.exactly(ends.low)
    return graded.value.intersection(Interval(at(lowest).low, at(highest).high))
