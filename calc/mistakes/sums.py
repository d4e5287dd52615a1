"""Mistakes of adding up, taking away and going on: something left out, counted twice, or too early."""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce
from operator import add

from calc.expression import Expression, Name, Number, Operation, names
from calc.mistakes.rule import (
    COMMON,
    RARE,
    Changed,
    also,
    flattened,
    in_a_part,
    in_the_step,
    is_content,
    is_plain,
    kind,
    put_in,
    steps_before,
    terms,
)
from calc.working import Step, Working


@in_a_part(
    "left-one-out",
    "left out {part|one part}",
    "Each number of the story counts, whether it is added or taken away: tick it off as you use it.",
    "finding-the-water",
    COMMON,
)
def _left_one_out(working: Working, part: Expression) -> Iterator[Changed]:
    match part:
        case Operation("+", left, right):
            # One part, not a whole sum of them; the 1 of a percentage has a name of its own.
            if not _is_sum(right) and not isinstance(right, Number):
                yield Changed(left, right)
            if not _is_sum(left) and not isinstance(left, Number):
                yield Changed(right, left)
        case Operation("−", left, right) if not isinstance(left, Number):
            yield Changed(left, right)
            yield Changed(right, left, RARE)
        case Operation("×", left, right) if kind(working, left) == "number":
            yield Changed(right, left)
        case Operation("×", left, right) if kind(working, right) == "temperature":
            yield Changed(left, right)
        case Operation("×", left, right) if kind(working, right) == "number":
            yield Changed(left, right)


@also("left-one-out")
def _all_but_one(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    """A sum of several parts of which only one was counted."""
    match step.expression:
        case Operation("+"):
            parts = terms(step.expression)
            if len(parts) > 2 and not any(isinstance(one, Number) for one in parts):
                yield from (Changed(one, rank=RARE) for one in parts)


def _is_sum(part: Expression) -> bool:
    return isinstance(part, Operation) and part.symbol in "+−"


@in_a_part(
    "counted-twice",
    "counted {part|one part} twice",
    "Each part counts once.",
    "finding-the-water",
    RARE,
)
def _counted_twice(working: Working, part: Expression) -> Iterator[Changed]:
    match part:
        case Operation("+", left, right):
            yield from (
                Changed(part + one, one)
                for one in (left, right)
                if not _is_sum(one) and not isinstance(one, Number)
            )
        case Operation("−", left, right) if not isinstance(left, Number) and not _is_sum(right):
            yield Changed(part - right, right)


@in_a_part(
    "added-for-taken-away",
    "added {part|one part} where it is taken away",
    "Ask whether it makes the number larger or smaller.",
    "finding-the-water",
)
def _added_for_taken_away(working: Working, part: Expression) -> Iterator[Changed]:
    match part:
        case Operation("−", left, right):
            yield Changed(left + right, right)
            # What is added inside brackets that are taken away is itself taken away.
            inside = terms(right)
            for one in inside if len(inside) > 1 else ():
                others = reduce(add, (each for each in inside if each is not one))
                yield Changed(left - others + one, one)


@in_a_part(
    "taken-away-for-added",
    "took {part|one part} away where it is added",
    "Ask whether it makes the number larger or smaller.",
    "finding-the-water",
)
def _taken_away_for_added(working: Working, part: Expression) -> Iterator[Changed]:
    match part:
        case Operation("+", left, right) if not isinstance(right, Number):
            yield Changed(left - right, right)
            if not isinstance(left, Number):
                yield Changed(right - left, left, RARE)


@in_the_step(
    "wrong-way-round",
    "took away the wrong way round",
    "Start from the number that something is taken from.",
    "finding-the-water",
    COMMON,
    when_shown=True,
)
def _wrong_way_round(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match step.expression:
        case Operation("−", left, right) if not isinstance(left, Number):
            yield right - left
        case Operation("÷", Operation("−", left, right), divisor):
            yield (right - left) / divisor


@also("wrong-way-round")
def _wrong_way_round_before(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    """The same in a step before, or within the step."""
    for place in dict.fromkeys((step.expression, flat)):
        for one in _turned(place):
            yield Changed(one, rank=RARE)


def _turned(part: Expression) -> Iterator[Expression]:
    match part:
        case Operation(sign, left, right):
            if sign == "−" and not isinstance(left, Number):
                yield right - left
            yield from (Operation(sign, one, right) for one in _turned(left))
            yield from (Operation(sign, left, one) for one in _turned(right))


@in_a_part(
    "forgot-brackets",
    "forgot the brackets",
    "Work out what is in brackets first.",
    "preferments",
    RARE,
    across=True,
)
def _forgot_brackets(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation(("×" | "÷") as outer, Operation(("+" | "−") as inner, a, b), c):
            yield Operation(inner, a, Operation(outer, b, c))
        case Operation(("×" | "÷") as outer, a, Operation(("+" | "−") as inner, b, c)) if (
            # Grams less a share: the loss forgotten, to the eye.
            inner == "+" or not isinstance(b, Number)
        ):
            yield Operation(inner, Operation(outer, a, b), c)


@in_a_part(
    "divided-one-part",
    "divided only one part",
    "Finish the sum or the difference first, then divide all of it.",
    "part-swaps-blends-eggs",
    RARE,
    across=True,
)
def _divided_one_part(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", Operation(("+" | "−") as inner, a, b), c) if is_plain(working, c):
            yield Operation(inner, a / c, b)
            match b:
                case Operation("×", weight, content) if is_content(working, content):
                    yield Operation(inner, a / c, weight)


@in_the_step(
    "stopped-early",
    "stopped at {part|an earlier step}",
    "Go on from there.",
    "scaling-and-rounding",
)
def _stopped_early(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    for before in reversed(steps_before(working, step)):
        if working.dimension(before.expression) == working.dimension(step.expression):
            yield Changed(Name(before.key), Name(before.key))


@also("stopped-early")
def _part_of_the_step(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    match step.expression:
        case Operation(_, left, right):
            for one in (left, right):
                if isinstance(one, Operation) and working.dimension(one) == working.dimension(
                    step.expression
                ):
                    yield Changed(one, one)


@in_the_step(
    "gave-a-given",
    "gave {part|a number of the story}, unchanged",
    "Something is still to be done with it.",
    "scaling-and-rounding",
    RARE,
    when_shown=True,
)
def _gave_a_given(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    for one in working.givens.values():
        if working.dimension(Name(one.key)) == working.dimension(step.expression):
            yield Changed(Name(one.key), Name(one.key))


@in_the_step(
    "doubled-or-halved",
    "doubled something, or halved it",
    "Look for a number that you took twice, or a 2 too many.",
    "scaling-and-rounding",
    RARE,
    when_shown=True,
)
def _doubled_or_halved(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    yield step.expression * 2
    yield step.expression / 2


@in_a_part(
    "wrong-count",
    "divided by the wrong number of them",
    "A mean is the sum divided by how many there are: count them.",
    "side-by-side-bake",
    throughout=False,
)
def _wrong_count(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Number(count)) if count > 2.0 and count == int(count):
            yield left / (count - 1)
            yield left / (count + 1)


@in_the_step(
    "mean-of-some",
    "took the mean of only two of them",
    "All of them count: add them up, and divide by how many there are.",
    "side-by-side-bake",
    RARE,
)
def _mean_of_some(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match flat:
        case Operation("÷", Operation("+", Operation("+", a, b), c), Number(3.0)):
            yield from ((one + two) / 2 for one, two in ((a, b), (b, c), (a, c)))


@in_a_part(
    "added-for-multiplied",
    "added where this step multiplies",
    "So many of something, or a part of it, is a product: multiply.",
    "scaling-and-rounding",
    RARE,
)
def _added_for_multiplied(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", Name() as left, Name() as right) if kind(working, left) == "number" or (
            is_plain(working, left) and is_plain(working, right)
        ):
            yield left + right


@in_a_part(
    "multiplied-for-added",
    "multiplied where this step adds",
    "What comes on top is added.",
    "acidity-and-feel",
    RARE,
)
def _multiplied_for_added(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("+", left, right) if (
            is_plain(working, left)
            and is_plain(working, right)
            and not isinstance(left, Number)
            and not isinstance(right, Number)
        ):
            yield left * right


@in_the_step(
    "part-to-rest",
    "compared the part with the rest",
    "A share is a part of the whole, so divide by all of it, the part itself included.",
    "preferments",
)
def _part_to_rest(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    for place in dict.fromkeys((step.expression, flat)):
        match place:
            case Operation("÷", left, right) if working.dimension(left) == working.dimension(right):
                rest = _rest(working, left, right)
                if rest is not None:
                    yield left / rest


def _rest(working: Working, part: Expression, whole: Expression) -> Expression | None:
    """What is left of a sum when one part of it is gone, the sum written in the step or found before."""
    match whole:
        case Name(key) if key in working.steps:
            return _rest(working, part, working.steps[key].expression)
        case Operation("+", left, right):
            return right if left == part else left if right == part else None
    return None


@in_the_step(
    "another-answer",
    "gave {part|another answer} here",
    "That figure belongs on another line. Read again what is asked on this one.",
    "scaling-and-rounding",
    RARE,
    when_shown=True,
)
def _another_answer(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    before = {step.key, *(one.key for one in steps_before(working, step))}
    for one in working.steps.values():
        if one.key not in before and one.kind == step.kind:
            yield Changed(flattened(working, one), Name(one.key))


# So that a dough has few of them: numbers of one kind that a student takes for each other.
_MISTAKEN_FOR_EACH_OTHER = ("mass", "share", "temperature", "heat capacity", "number", "volume")


@in_the_step(
    "other-number",
    "used another number in place of {part|one of them}",
    "Write beside each number of the story what it is, then put it in.",
    "bakers-percentage",
    RARE,
)
def _other_number(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    alike: dict[str, list[Name]] = {}
    for one in working.givens.values():
        if one.kind in _MISTAKEN_FOR_EACH_OTHER:
            alike.setdefault(one.kind, []).append(Name(one.key))
    for key in dict.fromkeys(names(step.expression)):
        for other in alike.get(kind(working, Name(key)), ()):
            if other.key != key:
                new = put_in(
                    step.expression, lambda name, k=key, o=other: o if name.key == k else None
                )
                yield Changed(new, Name(key))


@also("other-number")
def _two_numbers_swapped(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    used = [Name(key) for key in dict.fromkeys(names(flat)) if key in working.givens]
    for place, one in enumerate(used):
        for two in used[place + 1 :]:
            if kind(working, one) == kind(working, two) in _MISTAKEN_FOR_EACH_OTHER:
                yield Changed(put_in(flat, {one: two, two: one}.get), one)
