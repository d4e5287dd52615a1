"""The rules of a QTI 3.0 item as a tree: values, comparisons, conditions, and bounds.

Only what the standard has is written. A number that a later rule needs is kept in an ordered
container: a player may write a single computed outcome as a person reads it (1,234.568), and what
is in a container it leaves as it is.
"""

from __future__ import annotations

import operator
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from calc.interval import Interval
from calc.units import Unit
from exercises.publish.html import element

# A comparison must not turn on the last bit of a computed bound: 1e-9 g is nothing on any scale.
_BIT = 1e-9

Scalar = float | Element
Rule = Element


def call(name: str, *operands: Element, **attributes: object) -> Element:
    """An expression or rule of the standard: ``call("and", a, b)`` gives ``<qti-and>``."""
    return element(f"qti-{name}", *operands, **attributes)


def variable(identifier: str) -> Element:
    return call("variable", identifier=identifier)


def value(text: object, base_type: str = "identifier") -> Element:
    return call("base-value", str(text), base_type=base_type)


def number(scalar: Scalar) -> Element:
    if isinstance(scalar, Element):
        return scalar
    return value(written(scalar), "float")


def written(figure: float) -> str:
    """A number as the standard's files write it."""
    return f"{figure:.12f}".rstrip("0").rstrip(".")


def is_(identifier: str, word: str) -> Element:
    """Whether a variable holds that word."""
    return call("match", variable(identifier), value(word))


def all_of(*conditions: Element) -> Element:
    return conditions[0] if len(conditions) == 1 else call("and", *conditions)


def any_of(*conditions: Element) -> Element:
    return conditions[0] if len(conditions) == 1 else call("or", *conditions)


def kept(identifier: str, place: int) -> Element:
    """The value at a place (from 1) of an ordered container."""
    return call("index", variable(identifier), n=str(place))


def is_one_of(integer: Element, known: Iterable[int]) -> Element:
    listed = (value(one, "integer") for one in known)
    return call("member", integer, call("multiple", *listed))


def put(identifier: str, expression: Element | str) -> Rule:
    """Give an outcome a value; a string is an identifier."""
    if isinstance(expression, str):
        expression = value(expression)
    return call("set-outcome-value", expression, identifier=identifier)


def choose(*branches: tuple[Element, Sequence[Rule]], otherwise: Sequence[Rule] = ()) -> Rule:
    """The rules of the first branch whose condition holds; if none does, the other rules."""
    names = ["response-if"] + ["response-else-if"] * (len(branches) - 1)
    parts = [
        call(name, condition, *rules)
        for name, (condition, rules) in zip(names, branches, strict=True)
    ]
    if otherwise:
        parts.append(call("response-else", *otherwise))
    return call("response-condition", *parts)


_COMPUTED = {
    "sum": operator.add,
    "subtract": operator.sub,
    "product": operator.mul,
    "divide": operator.truediv,
    "min": lambda *ends: min(ends),
    "max": lambda *ends: max(ends),
}


def _apply(name: str, *operands: Scalar) -> Scalar:
    """An operation of the standard: done here where its operands are known, else written."""
    if all(isinstance(one, float) for one in operands):
        return _COMPUTED[name](*operands)
    return call(name, *map(number, operands))


@dataclass(frozen=True)
class Bounds:
    """An interval whose ends are numbers or QTI expressions.

    It knows ``+ − × ÷`` as `calc.interval.Interval` does, so `calc.expression.evaluate` writes a
    step's bounds from the same expression that gives its value. `positive` says that both ends are
    known to be above zero: then a product needs no look at every corner. `provided` are conditions
    without which the bounds say nothing: a divisor that may be zero.
    """

    low: Scalar
    high: Scalar
    positive: bool
    provided: tuple[Element, ...] = ()

    @classmethod
    def exactly(cls, number: float) -> Bounds:
        return cls(float(number), float(number), number > 0)

    @classmethod
    def of(cls, interval: Interval) -> Bounds:
        return cls(interval.low, interval.high, interval.low > 0)

    @classmethod
    def around(cls, figure: Scalar, reach: Scalar, positive: bool = True) -> Bounds:
        return cls(_apply("subtract", figure, reach), _apply("sum", figure, reach), positive)

    @property
    def _ends(self) -> tuple[Scalar, ...]:
        return (self.low,) if self.low == self.high else (self.low, self.high)

    @classmethod
    def kept(cls, identifier: str) -> Bounds:
        """The bounds that an outcome keeps: its low end, then its high end."""
        return cls(kept(identifier, 1), kept(identifier, 2), False)

    @property
    def ordered(self) -> Element:
        """Both ends, as an outcome keeps them."""
        return call("ordered", number(self.low), number(self.high))

    def _with(self, other: Bounds, low: Scalar, high: Scalar, positive: bool) -> Bounds:
        return Bounds(low, high, positive, (*self.provided, *other.provided))

    def widened(self, margin: float) -> Bounds:
        low, high = _apply("subtract", self.low, margin), _apply("sum", self.high, margin)
        return replace(self, low=low, high=high, positive=_is_above_zero(low))

    def __add__(self, other: Bounds) -> Bounds:
        low, high = _apply("sum", self.low, other.low), _apply("sum", self.high, other.high)
        return self._with(other, low, high, self.positive and other.positive)

    def __sub__(self, other: Bounds) -> Bounds:
        low = _apply("subtract", self.low, other.high)
        high = _apply("subtract", self.high, other.low)
        return self._with(other, low, high, _is_above_zero(low))

    def __mul__(self, other: Bounds) -> Bounds:
        if self.positive and other.positive:
            low = _apply("product", self.low, other.low)
            return self._with(other, low, _apply("product", self.high, other.high), True)
        if self.positive:
            return other._scaled("product", self)
        return self._scaled("product", other) if other.positive else self._corners("product", other)

    def __truediv__(self, other: Bounds) -> Bounds:
        if self.positive and other.positive:
            low = _apply("divide", self.low, other.high)
            return self._with(other, low, _apply("divide", self.high, other.low), True)
        if other.positive:
            return self._scaled("divide", other)
        one_sign = call("gt", number(_apply("product", other.low, other.high)), number(0.0))
        other = replace(other, provided=(*other.provided, one_sign))
        return self._corners("divide", other)

    def _scaled(self, name: str, other: Bounds) -> Bounds:
        """By what is above zero: the low end gives the smallest, the high end the largest."""
        low = _smallest(*(_apply(name, self.low, by) for by in other._ends))
        high = _largest(*(_apply(name, self.high, by) for by in other._ends))
        return self._with(other, low, high, False)

    def _corners(self, name: str, other: Bounds) -> Bounds:
        """The smallest and the largest that any two ends give: whatever their signs are."""
        corners = [_apply(name, one, two) for one in self._ends for two in other._ends]
        return self._with(other, _smallest(*corners), _largest(*corners), False)


def _smallest(*ends: Scalar) -> Scalar:
    return ends[0] if len(ends) == 1 else _apply("min", *ends)


def _largest(*ends: Scalar) -> Scalar:
    return ends[0] if len(ends) == 1 else _apply("max", *ends)


def _is_above_zero(end: Scalar) -> bool:
    return isinstance(end, float) and end > 0


def within(figure: Element, bounds: Bounds) -> Element:
    """Whether a figure lies in its bounds, ends included."""
    return call(
        "and",
        *bounds.provided,
        call("lte", number(_apply("subtract", bounds.low, _BIT)), figure),
        call("lte", figure, number(_apply("sum", bounds.high, _BIT))),
    )


def rounded(figure: Element, to: float) -> Element:
    """A figure as a whole number of steps of the scale, rounded half up."""
    steps = _apply("sum", figure, _BIT)
    return call("round", steps if to == 1 else _apply("divide", steps, to))


def on_scale(figure: Element, to: float) -> Element:
    """Whether a figure is written to the scale's own figures, and no finer."""
    steps = _apply("product", figure, 1 / to)
    return within(call("subtract", steps, call("round", steps)), Bounds(-1e-6, 1e-6, False))


def in_own_unit(response: str, unit: Unit | None) -> Element:
    """What a student typed in the unit of the prompt, in calc's unit."""
    figure: Scalar = variable(response)
    if unit is not None and unit.factor != 1:
        figure = _apply("product", figure, unit.factor)
    if unit is not None and unit.offset:
        figure = _apply("sum", figure, unit.offset)
    return figure
