"""Other correct routes to a step: every short sum over givens and earlier steps that always gives it.

A student may find the dough as the sum of the table, or the water as the preferment's flour times
its hydration, where the working goes another way. Such a sum is a route if it gives the step
whatever the givens are; that is tried with givens moved away from their values.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import combinations

from calc import units
from calc.expression import Expression, Name, Number, Operation, evaluate, names
from calc.working import Working

# How the givens are moved for a trial: by unlike parts, so that nothing comes out by chance.
_TRIALS = (1.0, 1.0137, 0.9871)
# The golden ratio's part below 1: its multiples, cut to below 1, move each name by a part of its own.
_APART = 0.6180339887
# A sum of more parts than this is not looked for.
_MOST_PARTS = 10
# Of more parts than this, nothing is taken from a whole.
_FEW = 3

Numbers = tuple[float, ...]


def routes(working: Working, key: str) -> tuple[Expression, ...]:
    """Other expressions that give the step of that key, each with an earlier step in it."""
    return _routes(_Shape(working), key)


class _Shape:
    """A working as far as its routes go: two draws of a problem have one shape, and one search."""

    def __init__(self, working: Working) -> None:
        self.working = working
        self._key = (
            tuple((given.key, given.kind) for given in working.givens.values()),
            tuple((step.key, step.expression) for step in working.steps.values()),
        )

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Shape) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)


@lru_cache(maxsize=2_000)
def _routes(shape: _Shape, key: str) -> tuple[Expression, ...]:
    working = shape.working
    try:
        trials = [_values(working, number) for number in range(len(_TRIALS))]
    except ZeroDivisionError:
        return ()
    earlier = [*working.givens, *working.steps][
        : len(working.givens) + list(working.steps).index(key)
    ]
    columns = {name: tuple(trial[name] for trial in trials) for name in earlier}
    wanted = tuple(trial[key] for trial in trials)
    dimension = units.KINDS[working.steps[key].kind].dimension
    alike = [
        name for name in earlier if units.KINDS[working.part(name).kind].dimension == dimension
    ]
    found = (*_short(columns, wanted), *_sums(columns, wanted, alike))
    apart = {
        name: column[0] * (1.5 + (number + 1) * _APART % 1)
        for number, (name, column) in enumerate(columns.items())
    }
    # Two orders of one sum are one route, and the working's own is none.
    different = {_mark(working.steps[key].expression, apart): None}
    for one in found:
        goes_on = any(name in working.steps for name in names(one))
        if goes_on and _has_kind(working, one, dimension):
            different.setdefault(_mark(one, apart), one)
    return tuple(filter(None, different.values()))


def _mark(expression: Expression, apart: dict[str, float]) -> str:
    """What tells one expression from another: its value with each name moved for itself."""
    return f"{evaluate(expression, apart.__getitem__, float):.9g}"


def _values(working: Working, trial: int) -> dict[str, float]:
    """Every given and step, the givens moved by a part that differs from one to the next."""
    found = {
        given.key: given.value * _TRIALS[trial] ** (1 + 0.37 * number)
        for number, given in enumerate(working.givens.values())
    }
    for step in working.steps.values():
        found[step.key] = evaluate(step.expression, found.__getitem__, float)
    return found


def _has_kind(working: Working, expression: Expression, dimension: dict[str, int]) -> bool:
    try:
        return working.dimension(expression) == dimension
    except ValueError:
        return False


def _close(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-9 * abs(other)


def _same(one: Numbers, other: Numbers) -> bool:
    return all(map(_close, one, other))


_OPERATORS: dict[str, Callable[[float, float], float]] = {
    "+": operator.add, "−": operator.sub, "×": operator.mul, "÷": operator.truediv,
}  # fmt: skip


def _joined(sign: str, one: Numbers, other: Numbers) -> Numbers | None:
    """Two columns of trials put together; None where that divides by nothing."""
    if sign == "÷" and not all(other):
        return None
    return tuple(map(_OPERATORS[sign], one, other))


def _short(columns: dict[str, Numbers], wanted: Numbers) -> Iterator[Expression]:
    """``a``, ``a × b``, ``a ÷ (1 + b)``, ``a × b ÷ c`` and their like."""
    parts = [(Name(name), values) for name, values in columns.items()]
    one = [(Number(1.0), (1.0,) * len(wanted))]
    beside = list(_pairs(one, "+−", parts))
    products = list(_pairs(parts, "×÷", parts))
    yield from (part for part, values in (*parts, *beside, *products) if _same(values, wanted))
    for firsts, signs, seconds in (
        (parts, "−", parts),
        (parts, "×÷", beside),
        (products, "×÷", parts),
        (beside, "−", parts),
    ):
        yield from _fitting(firsts, signs, seconds, wanted)


_Column = tuple[Expression, Numbers]


def _pairs(firsts: Sequence[_Column], signs: str, seconds: Sequence[_Column]) -> Iterator[_Column]:
    for a, left in firsts:
        for b, right in seconds:
            for sign in signs:
                made = _joined(sign, left, right)
                if made is not None:
                    yield Operation(sign, a, b), made


def _fitting(
    firsts: Sequence[_Column], signs: str, seconds: Sequence[_Column], wanted: Numbers
) -> Iterator[Expression]:
    """The pairs that give what is wanted; most are ruled out by their first trial."""
    near = 1e-9 * abs(wanted[0])
    for sign in signs:
        compute = _OPERATORS[sign]
        for b, right in seconds:
            if sign == "÷" and not all(right):
                continue
            for a, left in firsts:
                close = abs(compute(left[0], right[0]) - wanted[0]) <= near
                if close and _same(tuple(map(compute, left, right)), wanted):
                    yield Operation(sign, a, b)


def _sums(
    columns: dict[str, Numbers], wanted: Numbers, alike: Sequence[str]
) -> Iterator[Expression]:
    """Sums of several like parts, and what is left of one when others are taken away."""
    for count in range(2, min(len(alike), _MOST_PARTS) + 1):
        for chosen in combinations(alike, count):
            if count > _FEW and not _close(sum(columns[name][0] for name in chosen), wanted[0]):
                continue
            total = tuple(map(sum, zip(*(columns[name] for name in chosen), strict=True)))
            if _same(total, wanted):
                yield _added(chosen)
            if count > _FEW:
                continue
            for whole in alike:
                left = tuple(a - b for a, b in zip(columns[whole], total, strict=True))
                if whole not in chosen and _same(left, wanted):
                    yield Operation("−", Name(whole), _added(chosen))


def _added(chosen: Sequence[str]) -> Expression:
    first, *others = (Name(name) for name in chosen)
    total: Expression = first
    for other in others:
        total = Operation("+", total, other)
    return total
