"""Other correct routes to a step: every short sum over givens and earlier steps that always gives it.

A student may find the dough as the sum of the table, or the water as the preferment's flour times
its hydration, where the working goes another way. Such a sum is a route if it gives the step
whatever the givens are; that is tried with givens moved away from their values.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import combinations

from calc import units
from calc.expression import Expression, Name, Number, Operation, evaluate, names
from calc.working import Working

# How the givens are moved for a trial: by unlike parts, so that nothing comes out by chance.
_TRIALS = (1.0, 1.0137, 0.9871)
# By how much each name is moved from the one before it, to tell two expressions apart.
_APART = 1.00731
# A sum of more parts than this is not looked for.
_MOST_PARTS = 10

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
        name: column[0] * _APART ** (number + 1)
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


def _same(one: Numbers, other: Numbers) -> bool:
    return all(math.isclose(a, b, rel_tol=1e-9) for a, b in zip(one, other, strict=True))


def _joined(sign: str, one: Numbers, other: Numbers) -> Numbers | None:
    if sign == "÷" and not all(other):
        return None
    compute: Callable[[float, float], float] = {
        "+": lambda a, b: a + b, "−": lambda a, b: a - b, "×": lambda a, b: a * b, "÷": lambda a, b: a / b,
    }[sign]  # fmt: skip
    return tuple(compute(a, b) for a, b in zip(one, other, strict=True))


def _short(columns: dict[str, Numbers], wanted: Numbers) -> Iterator[Expression]:
    """``a``, ``a × b``, ``a ÷ (1 + b)``, ``a × b ÷ c`` and their like."""
    parts: list[tuple[Expression, Numbers]] = [
        (Name(name), values) for name, values in columns.items()
    ]
    one = Number(1.0), (1.0,) * len(wanted)
    beside = [
        (Operation(sign, one[0], part), _joined(sign, one[1], values))
        for part, values in parts
        for sign in "+−"
    ]
    products = [
        (Operation(sign, a, b), made)
        for a, left in parts
        for b, right in parts
        for sign in "×÷"
        if (made := _joined(sign, left, right)) is not None
    ]
    yield from (part for part, values in parts if _same(values, wanted))
    yield from (part for part, values in (*beside, *products) if _same(values, wanted))
    for firsts, signs, seconds in (
        (parts, "−", parts),
        (parts, "×÷", beside),
        (products, "×÷", parts),
        (beside, "−", parts),
    ):
        for a, left in firsts:
            for b, right in seconds:
                for sign in signs:
                    made = _joined(sign, left, right)
                    if made is not None and _same(made, wanted):
                        yield Operation(sign, a, b)


def _sums(
    columns: dict[str, Numbers], wanted: Numbers, alike: Sequence[str]
) -> Iterator[Expression]:
    """Sums of several like parts, and what is left of one when others are taken away."""
    for count in range(2, min(len(alike), _MOST_PARTS) + 1):
        for chosen in combinations(alike, count):
            total = tuple(map(sum, zip(*(columns[name] for name in chosen), strict=True)))
            if _same(total, wanted):
                yield _added(chosen)
            if count > 3:
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
