"""Help for a step, a little at a time, and a word of praise when it is right.

Hints go from a question, to the size check, to the relation, to the numbers. What they say comes
from the step's own expression, so it cannot disagree with the marks.
"""

from __future__ import annotations

from collections.abc import Iterator

from calc import units
from calc.expression import Expression, Name, Number, Operation, evaluate, words
from calc.units import PLAIN, Style
from calc.words import capital, plural
from calc.working import Step, Working
from exercises.draws import Variant

# What each hint tells, in order.
HINTS = ("a question", "the size check", "the relation", "the numbers put in")


def hints(variant: Variant, key: str, style: Style = PLAIN) -> tuple[str, str, str, str]:
    """Four hints for a step, each telling more than the one before."""
    working = variant.working
    step = working.steps[key]
    return (
        _question(working, step),
        size_check(working, key, style),
        f"{step.label} = {working.relation(key)}. {step.why}".strip(),
        f"{step.label} = {working.numbers(key, style)}",
    )


def _question(working: Working, step: Step) -> str:
    used = step.uses
    found, told = used & working.steps.keys(), used & working.givens.keys()
    own = f"which {plural(len(found), 'figure')} that you have found already"
    given = f"which {plural(len(told), 'number')} of the story"
    asked = " and ".join(filter(None, (own * bool(found), given * bool(told))))
    verb = "tells" if len(used) == 1 else "tell"
    return f"{capital(step.label)}: {asked} {verb} you that?"


# The size check: “more” or “less”, than what, and why.

_Bound = tuple[str, Expression, str]


def size_check(working: Working, key: str, style: Style = PLAIN) -> str:
    """What a step's result must be more or less than, and why; else a rough sum to do first."""
    step = working.steps[key]
    found = _largest_part(working, _compared(working, step))
    if found is None or not isinstance(found[1], Name | Number):
        return f"Guess first, with rounded numbers: {_roughly(working, step, style)}."
    side, part, why = found
    return f"It must come to {side} than {_told(working, part, step, style)}, because {why}."


def _told(working: Working, part: Name | Number, step: Step, style: Style) -> str:
    """A given with its value, or a step by its name: what that comes to is for the student to find."""
    if isinstance(part, Number):
        return units.write(part.value, step.kind, style)
    if part.key in working.steps:
        return f"your figure for “{working.steps[part.key].label}”"
    return f"{working.stated(part.key, style)} ({working.givens[part.key].label})"


def _compared(working: Working, step: Step) -> _Bound | None:
    """What the last operation of a step says of its size."""
    values = working.values()

    def value(part: Expression) -> float:
        return evaluate(part, values.__getitem__, float)

    def is_like(part: Expression) -> bool:
        return working.dimension(part) == units.KINDS[step.kind].dimension

    match step.expression:
        case Operation("+", left, right) if value(left) > 0 and value(right) > 0:
            return "more", max((left, right), key=value), "more is added to that"
        case Operation("−", left, right) if value(left) > 0 and value(right) > 0:
            return "less", left, "something is taken away from that"
        case Operation("×", left, right):
            of, times = (left, right) if is_like(left) and value(right) > 0 else (right, left)
            if is_like(of) and 0 < value(times) < 1:
                return "less", of, "it is only a part of that"
            if is_like(of) and value(times) > 1:
                return "more", of, "it is that many times over"
        case Operation("÷", left, right) if is_like(left) and 0 < value(right) < 1:
            return "more", left, "that is only a part of it"
        case Operation("÷", left, right) if is_like(left) and value(right) > 1:
            return "less", left, "that is shared out"
        case Operation("÷", left, right) if step.kind == "share" and 0 < value(left) < value(right):
            return "less", Number(1.0), "there is less above the line than below it"
        case Operation("÷", left, right) if step.kind == "share" and 0 < value(right) < value(left):
            return "more", Number(1.0), "there is more above the line than below it"
    return None


def _largest_part(working: Working, bound: _Bound | None) -> _Bound | None:
    """What is more than a sum is more than the largest of its parts."""
    values = working.values()
    while (
        bound and bound[0] == "more" and isinstance(bound[1], Operation) and bound[1].symbol == "+"
    ):
        side, total, why = bound
        parts = (total.left, total.right)
        bound = side, max(parts, key=lambda one: evaluate(one, values.__getitem__, float)), why
    return bound


def _roughly(working: Working, step: Step, style: Style) -> str:
    """A step with its givens rounded to two figures: what one does in the head first."""

    def shown(name: str) -> str:
        if name in working.steps:
            return f"your “{working.steps[name].label}”"
        given = working.givens[name]
        value = float(f"{given.value:.2g}")
        if given.kind == "share":
            return units.write_fraction(value, style)
        return units.write_exact(value, given.kind, style)

    return words(step.expression, shown, lambda number: units.write_fraction(number, style))


# Praise.

_PERCENTAGES = {"hydration", "baker's percentage"}


def praise(variant: Variant) -> str:
    """One line on what was done well, from the working itself: the last thing that is worth a word."""
    working = variant.working
    for step in reversed(working.steps.values()):
        if good := next(_done_well(working, step.expression), ""):
            return f"Well done: you {good}."
    return "Well done: it comes out, and it is rounded as it was asked."


def _done_well(working: Working, expression: Expression) -> Iterator[str]:
    """What is worth a word in a step."""

    def role(part: Expression) -> str:
        return working.part(part.key).role if isinstance(part, Name) else ""

    match expression:
        case Operation("÷", _, right) if role(right) == "water content":
            yield "divided by the water content, so the new liquid brings the same water"
        case Operation("÷", _, right) if role(right) == "fat content":
            yield "divided by the fat content, so it brings the fat that was wanted"
        case Operation("÷", _, Operation("−", Number(1.0), _)):
            yield "divided by what is left after the loss"
        case Operation("÷", _, Operation("+", Number(1.0), _)):
            yield "divided by flour and water together, where the flour is 1"
        case Operation("÷", _, right) if role(right) == "flour":
            yield "compared with the flour, not with the whole dough"
        case Operation("÷", _, Name(key)) if key in working.steps and working.values()[key] > 1:
            if working.part(key).kind == "share":
                yield "divided by the sum of the percentages, so the flour comes out"
        case Operation("÷", _, right) if role(right) in _PERCENTAGES:
            yield "divided by the percentage, so you came back to the flour"
        case Operation("×", left, right) if "water content" in (role(left), role(right)):
            yield "counted only the water in the liquid"
        case Operation("×", left, right) if {role(left), role(right)} & {*_PERCENTAGES, "flour"}:
            yield "took the percentage of the flour"
        case Operation("−", Operation("×", _, Number(_)), _):
            yield "took the wanted temperature as many times as there are others to take away"
        case Operation("−", Number(1.0), _):
            yield "took what is left of 100 %"
        case Operation("−", Operation("−", Number(1.0), _), _):
            yield "took away everything that is not water"
        case Operation("−", _, _):
            yield "took away what is there already"
        case Operation("+", _, _):
            yield "added up every part, and left none out"
