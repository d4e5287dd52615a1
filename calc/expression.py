"""Expressions over named quantities: written once, read in many ways.

An expression is a small tree of names, numbers and the four operations. `evaluate` works on any
numbers that know ``+ − × ÷``: floats give the value, intervals the bounds, graded intervals the
slopes. `words` prints it as a baker writes it, and `replacements` walks over the tree so that a
known mistake can change one part of it.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

# What an expression is computed with: a float, an interval …
Value = TypeVar("Value")

_OPERATORS: dict[str, Callable] = {
    "+": operator.add,
    "−": operator.sub,
    "×": operator.mul,
    "÷": operator.truediv,
}
_PRECEDENCE = {"+": 1, "−": 1, "×": 2, "÷": 2}


class Expression:
    """Base of the tree; gives Python's operators their meaning."""

    def computed(self, lookup: Callable[[str], Value], number: Callable[[float], Value]) -> Value:
        """See `evaluate`. Marking spends its time here, so each class has its own short method."""
        raise TypeError(f"not an expression: {self!r}")

    def __add__(self, other: Expression | float) -> Expression:
        return Operation("+", self, _expression(other))

    def __radd__(self, other: float) -> Expression:
        return Operation("+", _expression(other), self)

    def __sub__(self, other: Expression | float) -> Expression:
        return Operation("−", self, _expression(other))

    def __rsub__(self, other: float) -> Expression:
        return Operation("−", _expression(other), self)

    def __mul__(self, other: Expression | float) -> Expression:
        return Operation("×", self, _expression(other))

    def __rmul__(self, other: float) -> Expression:
        return Operation("×", _expression(other), self)

    def __truediv__(self, other: Expression | float) -> Expression:
        return Operation("÷", self, _expression(other))

    def __rtruediv__(self, other: float) -> Expression:
        return Operation("÷", _expression(other), self)


@dataclass(frozen=True)
class Number(Expression):
    """A bare number in the formula itself, such as the 1 in ``1 − 0.81``."""

    value: float

    def computed(self, lookup: Callable[[str], Value], number: Callable[[float], Value]) -> Value:
        return number(self.value)


@dataclass(frozen=True)
class Name(Expression):
    """A given or an earlier step, by its key."""

    key: str

    def computed(self, lookup: Callable[[str], Value], number: Callable[[float], Value]) -> Value:
        return lookup(self.key)


@dataclass(frozen=True)
class Operation(Expression):
    """Two expressions joined by one of ``+ − × ÷``."""

    symbol: str
    left: Expression
    right: Expression

    def computed(self, lookup: Callable[[str], Value], number: Callable[[float], Value]) -> Value:
        return _OPERATORS[self.symbol](
            self.left.computed(lookup, number), self.right.computed(lookup, number)
        )


def _expression(value: Expression | float) -> Expression:
    return value if isinstance(value, Expression) else Number(float(value))


def summed(parts: Sequence[Expression]) -> Expression:
    """The sum of one part or more, from left to right, without the nought that `sum` starts from."""
    return sum(parts[1:], parts[0])


def evaluate(
    expression: Expression, lookup: Callable[[str], Value], number: Callable[[float], Value]
) -> Value:
    """Compute an expression.

    `lookup` gives the value of a name and `number` lifts a bare number into the same arithmetic.
    Raises ZeroDivisionError when a divisor is (or may be) zero, KeyError for an unknown name.
    """
    return expression.computed(lookup, number)


def words(
    expression: Expression, name: Callable[[str], str], number: Callable[[float], str]
) -> str:
    """Print an expression; `name` and `number` say how each leaf is written."""

    def text(part: Expression, floor: int) -> str:
        match part:
            case Number(value):
                return number(value)
            case Name(key):
                return name(key)
            case Operation(symbol, left, right):
                own = _PRECEDENCE[symbol]
                # a − (b + c) and a ÷ (b × c) need their brackets; a + (b + c) does not.
                keep = own + 1 if symbol in "−÷" else own
                line = f"{text(left, own)} {symbol} {text(right, keep)}"
                return f"({line})" if own < floor else line
        raise TypeError(f"not an expression: {part!r}")

    return text(expression, 0)


def names(expression: Expression) -> Iterator[str]:
    """The names an expression uses, in reading order, repeats included."""
    match expression:
        case Name(key):
            yield key
        case Operation(_, left, right):
            yield from names(left)
            yield from names(right)


def replacements(
    expression: Expression, change: Callable[[Expression], Iterator[Expression]]
) -> Iterator[Expression]:
    """Every expression got by applying `change` to exactly one part of this one."""
    yield from change(expression)
    if isinstance(expression, Operation):
        for left in replacements(expression.left, change):
            yield Operation(expression.symbol, left, expression.right)
        for right in replacements(expression.right, change):
            yield Operation(expression.symbol, expression.left, right)
