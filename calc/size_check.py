"""The size check: between which numbers a result must lie, and why, before anything is worked out.

A cook sees a wrong weight by its size: a liquid weighs more than the water in it, a part less than the whole.
Each bound is read off the shape of a step; only numbers that the student knows are in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from calc import units
from calc.expression import Expression, Name, Number, Operation
from calc.units import PLAIN, Style
from calc.working import Step, Working


@dataclass(frozen=True)
class Bound:
    """A number that a result must lie above (or below), and why, as it goes on after "because"."""

    value: float
    above: bool
    because: str

    def broken_by(self, value: float) -> bool:
        """Whether a number, in the unit of the step, is on the wrong side of it."""
        return value <= self.value if self.above else value >= self.value


def size_check(
    working: Working, key: str, value: float, own: Mapping[str, float], style: Style = PLAIN
) -> str:
    """What a number breaks: ``It must be more than 480 g, because …``; empty where its size is possible.

    `own` holds the student's figures for earlier steps, in calc's unit.
    """
    step = working.steps[key]
    if step.kind.startswith("temperature"):
        return ""
    for bound in _bounds(working, step, own):
        if bound.broken_by(value):
            limit = units.write_exact(round(bound.value / step.to) * step.to, step.kind, style)
            return f"It must be {'more' if bound.above else 'less'} than {limit}, because {bound.because}."
    return ""


def _bounds(working: Working, step: Step, own: Mapping[str, float]) -> Iterator[Bound]:
    def known(part: Expression) -> float | None:
        match part:
            case Number(value):
                return value
            case Name(key) if key in working.givens:
                return working.givens[key].value
            case Name(key):
                return own.get(key)
            case Operation("−", Number(1.0), loss):
                lost = known(loss)
                return None if lost is None else 1 - lost
            case Operation("+", Number(1.0), more):
                added = known(more)
                return None if added is None else 1 + added
        return None

    def the(part: Expression) -> str:
        return working.named(part)

    match step.expression:
        case Operation("÷", left, right) if not working.dimension(right):
            yield from _divided(known(left), known(right), the(left))
        case Operation("×", left, right) if not working.dimension(right):
            yield from _multiplied(known(left), known(right), the(left))
        case Operation("÷", left, right) if working.dimension(left) == working.dimension(right):
            yield from _compared(known(left), known(right), the(left), the(right))
        case Operation("+", left, right):
            for one in (left, right):
                if isinstance(one, Name) and (value := known(one)):
                    yield Bound(value, True, f"it has more in it than {the(one)}")
        case Operation("−", left, right) if isinstance(left, Name) and (value := known(left)):
            if (known(right) or 1) > 0:
                yield Bound(value, False, f"something comes off {the(left)}")


def _divided(whole: float | None, by: float | None, name: str) -> Iterator[Bound]:
    if whole and by and 0 < by < 1:
        yield Bound(whole, True, f"{name} must be in it, and more")
    elif whole and by and by > 1:
        yield Bound(whole, False, f"it is only a part of {name}")


def _multiplied(whole: float | None, by: float | None, name: str) -> Iterator[Bound]:
    if whole and by and 0 < by < 1:
        yield Bound(whole, False, f"it is only a part of {name}")
    elif whole and by and by > 1:
        yield Bound(whole, True, f"{name} must be in it, and more")


def _compared(one: float | None, two: float | None, name: str, other: str) -> Iterator[Bound]:
    if one and two and one != two:
        less = one < two
        verb = "are" if _is_plural(name) else "is"
        yield Bound(1.0, not less, f"{name} {verb} {'less' if less else 'more'} than {other}")


_PLURALS = ("solids", "pieces", "degrees", "heights", "minerals", "eggs", "oats")


def _is_plural(name: str) -> bool:
    """Whether a label's first noun is more than one: “the solids on the panel”."""
    before = re.split(r" (?:in|on|of|for|that|to|together)\b", name)[0]
    return before.endswith(_PLURALS)
