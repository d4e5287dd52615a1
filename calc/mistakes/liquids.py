"""Mistakes about liquids: their water, their fat, and one liquid in place of another."""

from __future__ import annotations

from collections.abc import Iterator

from calc.expression import Expression, Name, Number, Operation
from calc.mistakes.rule import (
    COMMON,
    RARE,
    RIDERS,
    USUAL,
    Changed,
    also,
    given,
    in_a_part,
    in_the_step,
    is_content,
    is_mass,
    is_percentage,
    is_what_is_left,
    put_in,
    role,
    without,
)
from calc.working import PART_OF_A_WHOLE, Step, Working


def _swap(working: Working, part: Expression) -> tuple[Expression, Name, Name] | None:
    """Old liquid × its water content ÷ the new one's: the liquid and the two contents."""
    match part:
        case Operation("÷", Operation("×", old, one), two) if (
            is_content(working, one) and is_content(working, two) and one != two
        ):
            return old, one, two
    return None


@in_a_part(
    "multiplied-by-water-content",
    "multiplied by the water content",
    "That gives the water inside the liquid. To find how much liquid holds the water you need, divide. The new "
    "liquid must weigh more than the water.",
    "divide-by-the-water-content",
    COMMON,
    in_pairs=True,
)
def _multiplied(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if is_content(working, right):
            yield left * right


@in_a_part(
    "divided-by-water-content",
    "divided where the water content multiplies",
    "The water is only a part of the liquid, so it must weigh less than the liquid: multiply.",
    "what-hydration-means",
    throughout=True,
)
def _divided(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if is_content(working, right):
            yield left / right


@in_a_part(
    "gram-for-gram",
    "swapped gram for gram",
    "Two liquids of one weight do not hold the same water. Find the water you need, and divide it by the water "
    "content of the liquid that brings it.",
    "divide-by-the-water-content",
    COMMON,
    in_pairs=True,
    across=True,
)
def _gram_for_gram(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if is_content(working, right):
            yield left
    swapped = _swap(working, part)
    if swapped:
        yield swapped[0]


@in_a_part(
    "liquid-for-water",
    "took the liquid's weight for its water",
    "Only a part of the liquid is water. Multiply the liquid by its water content first.",
    "what-hydration-means",
    COMMON,
    in_pairs=True,
    throughout=True,
)
def _liquid_for_water(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if is_content(working, right):
            yield left


@in_a_part(
    "added-missing-percentage",
    "added the missing percentage",
    "That comes out wrong, because what you add or leave out is not all water either. Divide by the water "
    "content instead.",
    "divide-by-the-water-content",
    COMMON,
    across=True,
)
def _added_missing(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if is_content(working, right):
            yield left * (1 + (1 - right))
        case Operation("×", left, right) if is_content(working, right) and is_mass(working, left):
            yield Changed(left * (1 + (1 - right)), rank=RARE)
    swapped = _swap(working, part)
    if swapped:
        old, one, two = swapped
        yield old * (1 + (one - two))
        yield old * (1 - (one - two))


@also("added-missing-percentage")
def _missing_points(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    """The missing per cent put on the hydration, or taken off it, as points."""
    for place in dict.fromkeys((step.expression, flat)):
        match place:
            case Operation("÷", Operation("×", flour, wetness), content) if is_content(
                working, content
            ) and is_percentage(working, wetness):
                yield Changed(flour * (wetness + (1 - content)), rank=USUAL)


@in_a_part(
    "solids-for-water",
    "used the solids in place of the water",
    "That is the share that is not water. Take the water content: what is left of 100 % when the solids are gone.",
    "finding-the-water",
    throughout=True,
)
def _solids_for_water(working: Working, part: Expression) -> Iterator[Expression]:
    if is_content(working, part):
        yield 1 - part


@also("solids-for-water")
def _solids_for_the_rest(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if step.role == PART_OF_A_WHOLE:
        match step.expression:
            case Operation("−", Operation("−", Number(1.0), one), two):
                yield one + two
                yield one
            case Operation("−", Number(1.0), one):
                yield one
    match step.expression:
        case Operation("÷", left, right) if is_content(working, right):
            yield left * (1 - right)


@in_a_part(
    "fat-for-water",
    "used the fat in place of the water",
    "Look for the liquid's water content: that is what makes the dough wet.",
    "what-rides-along",
    RARE,
    looks_at_numbers=True,
)
def _fat_for_water(working: Working, part: Expression) -> Iterator[Expression]:
    content = given(working, part, "water content")
    if content:
        for fat in working.with_role("fat content", content.of):
            yield Name(fat.key)
            # As the tub says: “20 % fat”.
            whole = round(fat.value, 2)
            if whole and whole != fat.value:
                yield Number(whole)


@in_a_part(
    "water-for-fat",
    "took the water content in place of what rides along",
    "This step is about the fat, sugar or salt in the liquid: take the content of that.",
    "what-rides-along",
)
def _water_for_fat(working: Working, part: Expression) -> Iterator[Expression]:
    rider = given(working, part, *RIDERS)
    if rider:
        for content in working.with_role("water content", rider.of):
            yield Name(content.key)


@in_a_part(
    "solids-for-fat",
    "took all the solids for one of them",
    "Take the content of the fat, sugar or salt alone: what is not water is more than that.",
    "what-rides-along",
)
def _solids_for_fat(working: Working, part: Expression) -> Iterator[Expression]:
    rider = given(working, part, *RIDERS)
    if rider:
        for content in working.with_role("water content", rider.of):
            yield 1 - Name(content.key)


@in_a_part(
    "multiplied-by-fat-content",
    "multiplied by the fat content",
    "That gives the fat inside so much butter. To find how much butter holds the fat, divide. The butter must "
    "weigh more than its fat.",
    "what-rides-along",
)
def _multiplied_by_fat(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if given(working, right, *RIDERS):
            yield left * right


@in_a_part(
    "divided-by-fat-content",
    "divided where the content multiplies",
    "What rides along is only a part of the liquid, so it weighs less than the liquid: multiply.",
    "what-rides-along",
    RARE,
)
def _divided_by_fat(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if given(working, right, *RIDERS):
            yield left / right


@in_a_part(
    "forgot-fat-content",
    "took the weight of the fat for the weight of what holds it",
    "Not all of it is fat, so it must weigh more than its fat: divide by its fat content.",
    "what-rides-along",
)
def _forgot_fat_content(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if given(working, right, *RIDERS):
            yield left


@in_a_part(
    "other-liquid",
    "took the other liquid's figure",
    "Each liquid goes with its own water content, and with its own fat.",
    "part-swaps-blends-eggs",
    across=True,
)
def _other_liquid(working: Working, part: Expression) -> Iterator[Expression]:
    content = given(working, part, "water content", *RIDERS)
    if content:
        for other in working.with_role(content.role):
            if other.of != content.of:
                yield Name(other.key)
    swapped = _swap(working, part)
    if swapped:
        yield swapped[0] / swapped[1]
        yield swapped[0] / ((swapped[1] + swapped[2]) / 2)


@in_a_part(
    "both-liquids",
    "counted the old liquid with the new one",
    "The new liquid takes the place of the old one: give its weight alone.",
    "divide-by-the-water-content",
    RARE,
    across=True,
)
def _both_liquids(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", Name() as old, content) if is_content(working, content):
            yield old / content + old
        case Operation("÷", Operation("×", old, share), content) if (
            is_content(working, content) and role(working, old) == "liquid"
        ):
            yield part + old
            yield old - old * share + part


@also("other-liquid")
def _contents_swapped(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    """Two liquids' figures that changed places."""
    contents = [
        name
        for name in dict.fromkeys(_names_in(flat))
        if role(working, name) in ("water content", *RIDERS)
    ]
    for place, one in enumerate(contents):
        for two in contents[place + 1 :]:
            if role(working, one) == role(working, two):
                other = {one: two, two: one}
                yield put_in(flat, other.get)


@in_a_part(
    "contents-upside-down",
    "turned the two water contents round",
    "Multiply by the old liquid's water content: that is the water. Then divide by the new one's. A drier "
    "liquid must weigh more than the one it replaces.",
    "divide-by-the-water-content",
    COMMON,
    across=True,
)
def _contents_upside_down(working: Working, part: Expression) -> Iterator[Expression]:
    swapped = _swap(working, part)
    if swapped:
        old, one, two = swapped
        yield old * two / one


# Figures of two things whose mixture's figure is between them, nearer to the one there is more of.
_AVERAGED = ("water content", "protein content", "absorption")


@in_the_step(
    "plain-average",
    "took the middle of the two figures",
    "That fits only when both weigh the same and hold the same. Add up what each brings, and compare it with "
    "the whole.",
    "part-swaps-blends-eggs",
    COMMON,
)
def _plain_average(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    figures = working.with_role(step.role) if step.role in _AVERAGED else []
    if len(figures) == 2:
        yield (Name(figures[0].key) + Name(figures[1].key)) / 2
    celsius = [
        part
        for part in dict.fromkeys(_names_in(flat))
        if working.part(part.key).kind == "temperature"
    ]
    if step.kind == "temperature" and len(celsius) == 2 and _is_mixed(step):
        yield (celsius[0] + celsius[1]) / 2
    yield from ((one + two) / 2 for one, two in _own_hydrations(working, step, flat))


def _names_in(part: Expression) -> Iterator[Name]:
    match part:
        case Name():
            yield part
        case Operation(_, left, right):
            yield from _names_in(left)
            yield from _names_in(right)


def _is_mixed(step: Step) -> bool:
    """Whether a step is a mean of several things, each with its weight."""
    match step.expression:
        case Operation("÷", Operation("+"), Operation("+")):
            return True
    return False


@in_the_step(
    "added-percentages",
    "added the two percentages",
    "Percentages of different weights cannot be added. Add up the water, and compare it with the whole weight.",
    "part-swaps-blends-eggs",
    RARE,
)
def _added_percentages(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    contents = working.with_role("water content")
    if step.role == "water content" and len(contents) == 2:
        yield Name(contents[0].key) + Name(contents[1].key)
    yield from (one + two for one, two in _own_hydrations(working, step, flat))
    match flat:
        case Operation("÷", Operation("×", liquid, content), flour) if is_content(working, content):
            yield liquid / flour + content


def _own_hydrations(
    working: Working, step: Step, flat: Expression
) -> Iterator[tuple[Expression, Expression]]:
    """The hydration of the final dough by itself, and that of its preferment."""
    match step.expression:
        case Operation("÷", left, right) if is_mass(working, left) and is_mass(working, right):
            for preferment in working.with_role("preferment"):
                final = without(flat, Name(preferment.key))
                if final is not None and role(working, right) == "flour":
                    yield from ((final, Name(one.key)) for one in working.with_role("hydration"))


@in_a_part(
    "only-the-extra",
    "gave only what comes on top",
    "The whole amount is asked for, not the difference from before.",
    "divide-by-the-water-content",
    RARE,
    across=True,
)
def _only_the_extra(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if is_content(working, right) or is_what_is_left(right):
            yield left / right - left
        case Operation("÷", left, right) if _is_a_factor(working, left, right):
            yield Changed(left / right - 1, rank=COMMON)
            yield Changed(left / right + 1, rank=RARE)
            yield Changed(1 - right / left, rank=RARE)
    swapped = _swap(working, part)
    if swapped:
        old, one, two = swapped
        yield old * one / two - old
        yield old - old * one / two


def _is_a_factor(working: Working, left: Expression, right: Expression) -> bool:
    """Whether a weight is compared with another of its own sort: neither is flour, nor in the other."""
    return (
        isinstance(left, Name)
        and isinstance(right, Name)
        and is_mass(working, left)
        and is_mass(working, right)
        and not role(working, left)
        and not role(working, right)
    )
