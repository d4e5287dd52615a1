"""Mistakes about percentages: what is 100 %, and what a hydration counts."""

from __future__ import annotations

from collections.abc import Iterator

from calc.expression import Expression, Name, Number, Operation, names, summed
from calc.mistakes.rule import (
    COMMON,
    PERCENTAGES,
    RARE,
    RIDERS,
    USUAL,
    WEIGHTS,
    Changed,
    also,
    given,
    in_a_part,
    in_the_step,
    is_content,
    is_mass,
    is_number,
    is_percentage,
    is_plain,
    is_what_is_left,
    kind,
    role,
    steps_before,
    terms,
    without,
)
from calc.working import PART_OF_A_WHOLE, Given, Step, Working

# Flour is 100 %.


def _is_flour(working: Working, part: Expression) -> bool:
    """Whether a part is flour: a given, or a step that adds flours up."""
    return role(working, part) == "flour"


def _weights(working: Working) -> list[Name]:
    """The weights of the formula that are stated."""
    return [Name(one.key) for one in working.givens.values() if one.role in WEIGHTS]


@in_the_step(
    "whole-dough",
    "counted on more than the flour",
    "The flour alone is 100 %, not the whole dough, nor flour and liquid together.",
    "what-hydration-means",
    COMMON,
)
def _whole_dough(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match step.expression:
        case Operation("÷", left, right) if _is_flour(working, right):
            for base, rank in _bases(working, step, right, left):
                yield Changed(left / base, rank=rank)
            for weight, water in _waters(working):
                if water == left:
                    yield Name(weight.key) / (right + Name(weight.key))
        case Operation("×", left, right) if _is_flour(working, left):
            for base, rank in _bases(working, step, left):
                yield Changed(base * right, rank=rank)
            if is_percentage(working, right):
                yield Changed(left * right / (1 + right), rank=USUAL)
                yield Changed(left / (1 + right), rank=RARE)


def _bases(
    working: Working, step: Step, flour: Expression, counted: Expression | None = None
) -> Iterator[tuple[Expression, int]]:
    """What a student may take for the flour: flour with the liquid, with all the rest, with what is counted."""
    others = [
        one
        for one in _weights(working)
        if one != flour and not (flour.key in working.steps and _is_flour(working, one))
    ]
    if counted is not None and is_mass(working, counted):
        yield flour + counted, USUAL
    if others:
        yield summed([flour, *others]), COMMON
    if len(others) > 1:
        yield from ((flour + one, RARE) for one in others)
        liquids = [one for one in others if not _is_flour(working, one)]
        counted_in = [
            one for one in liquids if any(working.with_role("water content", _of(working, one)))
        ]
        yield summed([flour, *(counted_in or liquids)]), USUAL
    for one in _earlier(working, step):
        if (
            one.kind == "mass"
            and Name(one.key) != counted
            and not _is_flour(working, Name(one.key))
        ):
            yield flour + Name(one.key), USUAL


def _of(working: Working, weight: Name) -> str:
    return working.givens[weight.key].of


def _earlier(working: Working, step: Step) -> list[Step]:
    """The steps before this one."""
    found = []
    for one in working.steps.values():
        if one is step:
            break
        found.append(one)
    return found


@in_the_step(
    "wrong-weight",
    "started from another weight of the formula",
    "Say in words what each number is the weight of, then put them in.",
    "bakers-percentage",
    RARE,
)
def _wrong_weight(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    for place in dict.fromkeys(names(step.expression)):
        one = working.givens.get(place)
        if not one or one.role not in WEIGHTS:
            continue
        for other in _other_weights(working, step, one):
            yield _with(step.expression, Name(place), other)
    match step.expression:
        case Operation("÷", left, right) if _is_flour(working, right):
            others = [name for name in _weights(working) if name != right]
            if len(others) > 1:
                yield left / summed(others)
        case Operation("×", Name(key), content) if key in working.steps and _is_content_of_any(
            working, content
        ):
            yield from (Name(one.key) * content for one in working.with_role("flour"))


def _is_content_of_any(working: Working, part: Expression) -> bool:
    return role(working, part).endswith(" content")


def _other_weights(working: Working, step: Step, one: Given) -> Iterator[Expression]:
    for other in working.givens.values():
        if other.kind == "mass" and other.key != one.key:
            yield Name(other.key)
    if one.role == "flour":
        used = set(names(step.expression))
        for earlier in _earlier(working, step):
            if earlier.kind == "mass" and earlier.key not in used:
                yield Name(earlier.key)


def _with(expression: Expression, old: Expression, new: Expression) -> Expression:
    if expression == old:
        return new
    if isinstance(expression, Operation):
        left, right = (_with(one, old, new) for one in (expression.left, expression.right))
        return Operation(expression.symbol, left, right)
    return expression


@in_a_part(
    "one-flour-only",
    "counted on {part|one flour} alone",
    "Baker's percentages count on all the flour of the formula.",
    "bakers-percentage",
)
def _one_flour_only(working: Working, part: Expression) -> Iterator[Changed]:
    if given(working, part, "flour"):
        for step in working.steps.values():
            if step.role == "one flour":
                yield Changed(Name(step.key), Name(step.key))


@also("one-flour-only")
def _final_flour_only(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    """A hydration or percentage of the whole dough that is counted on the flour outside the preferment."""
    match step.expression:
        case Operation("×", total, percentage) if given(working, total, "flour") and is_percentage(
            working, percentage
        ):
            for preferment in working.with_role("preferment"):
                for one in working.steps.values():
                    match one.expression:
                        case Operation("÷", Name(key), _) if key == preferment.key:
                            yield Changed((total - one.expression) * percentage)


@in_the_step(
    "upside-down",
    "turned the ratio upside down",
    "Say it in words first: what are you measuring, and per what? The “per what” goes below the line.",
    "what-hydration-means",
    COMMON,
)
def _upside_down(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    def ratios(part: Expression) -> Iterator[tuple[Expression, Expression]]:
        match part:
            case Operation("÷", left, right) if not is_plain(working, right):
                yield part, right / left
        if isinstance(part, Operation):
            yield from ratios(part.left)
            yield from ratios(part.right)

    for old, new in ratios(step.expression):
        yield _with(step.expression, old, new)
    match step.expression:
        case Operation("÷", Operation("×", whole, one), two) if _same_unit(working, one, two):
            yield whole * two / one
    match step.expression:
        case Operation("÷", left, right):
            found = [weight for weight, water in _waters(working) if water == left]
            yield from (right / Name(weight.key) for weight in found)
        case Operation("−", Number(1.0), ratio):
            yield 1 / step.expression
            if is_plain(working, ratio):
                yield 1 / ratio
            if ratio != flat:
                yield 1 / flat


# What a meaning of hydration counts.


def _waters(working: Working) -> Iterator[tuple[Given, Expression]]:
    """Each ingredient's weight whose water content is known, and its water: a step, or the product."""
    for content in working.with_role("water content"):
        for wanted in WEIGHTS:
            for weight in working.with_role(wanted, content.of):
                product = Name(weight.key) * Name(content.key)
                found = (s for s in working.steps.values() if s.expression == product)
                step = next(found, None)
                yield weight, Name(step.key) if step else product


def _sum_in(step: Step) -> Expression | None:
    """The sum that a step adds up, alone or before it compares the sum with the flour."""
    match step.expression:
        case Operation("+") as counted:
            return counted
        case Operation("÷", Operation("+") as counted, _):
            return counted
    return None


def _with_sum(step: Step, counted: Expression, instead: Expression) -> Expression:
    if step.expression is counted:
        return instead
    return Operation("÷", instead, step.expression.right)


@in_the_step(
    "counted-too-much",
    "counted {part|one part} as well",
    "It does not belong in this sum. Read again what is counted here.",
    "what-hydration-means",
)
def _counted_too_much(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    counted = _sum_in(step)
    if counted is None or not is_mass(working, counted):
        return
    used = set(names(counted))
    waters = list(_waters(working))
    for weight, water in waters:
        by_water = any(set(names(one)) & used - {two.key} for two, one in waters)
        extra = water if by_water else Name(weight.key)
        if not set(names(extra)) & used and (by_water or weight.role != "flour"):
            yield Changed(_with_sum(step, counted, counted + extra), Name(weight.key))
            if by_water and weight.role != "flour":
                yield Changed(
                    _with_sum(step, counted, counted + Name(weight.key)), Name(weight.key)
                )
    for one in _earlier(working, step):
        if one.kind == "mass" and one.key not in used and not _is_flour(working, Name(one.key)):
            yield Changed(_with_sum(step, counted, counted + Name(one.key)), Name(one.key))
    for name in _weights(working):
        if name.key not in used and role(working, name) != "flour" and not waters:
            yield Changed(_with_sum(step, counted, counted + name), name)


@in_the_step(
    "counted-other-ingredients",
    "counted {part|other ingredients} as liquid",
    "Only what brings water counts as liquid.",
    "what-hydration-means",
    RARE,
)
def _counted_other_ingredients(working: Working, step: Step, flat: Expression) -> Iterator[Changed]:
    match flat:
        case Operation("÷", Operation("×", liquid, content), flour) if is_content(working, content):
            for name in _weights(working):
                if name not in (liquid, flour):
                    yield Changed((liquid + name) * content / flour, name)
                    yield Changed((liquid * content + name) / flour, name)


@in_the_step(
    "counted-only-water",
    "counted only the water",
    "This meaning counts the whole weight of the liquids: add up what you weigh.",
    "what-hydration-means",
)
def _counted_only_water(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    counted = _sum_in(step)
    water_of = {weight.key: water for weight, water in _waters(working)} if counted else {}
    used = list(names(counted)) if water_of else []
    if used and set(used) <= set(water_of):
        yield _with_sum(step, counted, summed([water_of[key] for key in used]))


# Percentages.


@in_a_part(
    "divided-by-percentage",
    "divided by the percentage",
    "To find that many per cent of something, multiply.",
    "bakers-percentage",
    COMMON,
    in_pairs=True,
)
def _divided_by_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if is_percentage(working, right):
            yield left / right


@in_a_part(
    "multiplied-by-percentage",
    "multiplied by the percentage",
    "You know the part and want the whole, the flour: divide by the part's percentage.",
    "bakers-percentage",
    COMMON,
    in_pairs=True,
)
def _multiplied_by_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if is_percentage(working, right):
            yield left * right


@in_a_part(
    "percentage-on-top",
    "added the percentage on top",
    "Then the number holds the whole as well as the part. Only that many per cent are asked for.",
    "bakers-percentage",
)
def _percentage_on_top(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×" | "÷" as sign, left, right) if is_percentage(working, right):
            yield left * (1 + right)
            if not _is_flour(working, left):
                yield Changed(left / (1 + right), rank=RARE)
            if sign == "÷":
                yield Changed(left * (1 - right), rank=RARE)
                yield Changed(left / right - left, rank=RARE)
        case Operation("÷", left, right) if is_content(working, right):
            yield Changed(left * (1 + right), rank=RARE)


@in_a_part(
    "rest-of-percentage",
    "took what is left of 100 %",
    "Read again which part is asked for.",
    "bakers-percentage",
)
def _rest_of_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    if is_percentage(working, part) or (
        isinstance(part, Name) and part.key in working.steps and _is_share_step(working, part)
    ):
        yield 1 - part


def _is_share_step(working: Working, part: Expression) -> bool:
    return kind(working, part) == "share" and role(working, part) in ("", PART_OF_A_WHOLE)


@also("rest-of-percentage")
def _rest_for_part(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if step.kind == "share" and step.role != "points":
        match step.expression:
            case Operation("÷", left, right):
                yield 1 - left / right
                if is_mass(working, left):
                    yield (right - left) / right
    match step.expression:
        case Operation("÷", Operation("×", whole, one), two) if _same_unit(working, one, two):
            yield whole - step.expression
        case Operation("×", whole, share) if (
            is_plain(working, share) and not isinstance(share, Number) and _is_part(working, share)
        ):
            yield whole - whole * share
        case Operation("×", whole, share) if _is_density(working, share):
            yield whole - whole * share
    for before in steps_before(working, step):
        match before.expression:
            case Operation("×", whole, part) if role(working, part) == "part":
                if working.dimension(whole) == working.dimension(step.expression):
                    yield Changed(whole - whole * part, rank=RARE)


def _same_unit(working: Working, one: Expression, two: Expression) -> bool:
    """Whether two parts are of one kind that has a unit, so that one divided by the other is a share."""
    return not is_plain(working, one) and working.dimension(one) == working.dimension(two)


def _is_part(working: Working, share: Expression) -> bool:
    return kind(working, share) == "share" and not is_content(working, share)


@in_a_part(
    "forgot-percentage",
    "took all of it",
    "Only a percentage of it is asked for: multiply by that.",
    "bakers-percentage",
    COMMON,
    in_pairs=True,
)
def _forgot_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _is_part(working, right):
            yield left
            if kind(working, left) == "share":
                yield right


@in_a_part(
    "percentage-twice",
    "took the percentage twice",
    "Each percentage is taken once: look which weight already holds it.",
    "bakers-percentage",
    RARE,
    across=True,
)
def _percentage_twice(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", _, Name() as right) if kind(working, right) == "share":
            yield part * right
        case Operation("÷", _, right) if is_content(working, right) or is_percentage(
            working, right
        ):
            yield part / right


@in_a_part(
    "other-percentage",
    "took another percentage of the formula",
    "Say in words what each percentage is for, then put it in.",
    "bakers-percentage",
)
def _other_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    one = given(working, part, *PERCENTAGES)
    if one:
        for other in working.givens.values():
            if other.role in PERCENTAGES and other.key != one.key:
                yield Name(other.key)


@in_a_part(
    "percent-for-points",
    "took per cent for points",
    "A point of hydration is one hundredth of the flour: add it to the percentage, or multiply the flour by it.",
    "acidity-and-feel",
    COMMON,
)
def _percent_for_points(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("+", left, right) if _is_points(working, right):
            yield left * (1 + right)
        case Operation("×", left, right) if _is_points(working, right):
            for wetness in working.with_role("hydration"):
                yield left * Name(wetness.key) * right


def _is_points(working: Working, part: Expression) -> bool:
    return role(working, part) == "points"


@in_the_step(
    "all-of-the-water",
    "gave all the water of the dough",
    "Only the water that comes on top is asked for.",
    "acidity-and-feel",
    RARE,
)
def _all_of_the_water(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match step.expression:
        case Operation("×", left, right) if _is_points(working, right):
            for wetness in working.with_role("hydration"):
                yield left * (Name(wetness.key) + right)
                yield left * Name(wetness.key)


@in_a_part(
    "multiplied-for-divided",
    "multiplied where this step divides",
    "Ask which of the two must be larger. Here the result must be the smaller one: divide.",
    "bakers-percentage",
)
def _multiplied_for_divided(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _is_factor(working, right) or (
            isinstance(left, Name) and kind(working, left) == "volume"
        ):
            yield left * right


@in_a_part(
    "divided-for-multiplied",
    "divided where this step multiplies",
    "Say in words what the number below the line is for. Here each one counts: multiply.",
    "bakers-percentage",
)
def _divided_for_multiplied(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _is_factor(working, right) or _is_density(
            working, right
        ):
            yield left / right
            if kind(working, left) == "number":
                yield right / left
        case Operation("×", left, right) if kind(working, left) == "number":
            yield right / left
            yield left / right


def _is_factor(working: Working, part: Expression) -> bool:
    """A number without a unit that has no rule of its own."""
    return (
        is_plain(working, part)
        and not is_content(working, part)
        and not is_percentage(working, part)
        and role(working, part) not in RIDERS
        and not is_what_is_left(part)
        and not (isinstance(part, Number) and part.value == 2.0)
    )


def _is_density(working: Working, part: Expression) -> bool:
    return kind(working, part) == "density"


@in_a_part(
    "forgot-density",
    "took millilitres for grams",
    "A millilitre weighs a gram only if it is water. Multiply the millilitres by the grams that each one takes.",
    "scaling-and-rounding",
    COMMON,
)
def _forgot_density(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _is_density(working, right):
            yield left


@in_a_part(
    "subtracted-for-divided",
    "took one from the other, or added them",
    "A factor says how many times the one is in the other: divide.",
    "scaling-and-rounding",
)
def _subtracted_for_divided(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", Name() as left, Name() as right) if kind(working, right) in (
            "mass",
            "volume",
        ):
            if not role(working, right) or kind(working, left) != "mass":
                yield left - right
                yield left + right


@in_a_part(
    "subtracted-for-multiplied",
    "took the missing per cent off the percentage",
    "A share of a share is multiplied.",
    "divide-by-the-water-content",
    RARE,
    across=True,
)
def _subtracted_for_multiplied(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", Operation("×", Operation("×", flour, wetness), content), same) if (
            flour == same and is_content(working, content)
        ):
            yield wetness - (1 - content)
        case Operation("÷", Operation("×", liquid, content), flour) if is_content(working, content):
            yield liquid / flour - (1 - content)


# To 1 of flour comes its hydration of water.


def _flour_and_water(working: Working, part: Expression) -> Expression | None:
    """The hydration in “1 + hydration”."""
    match part:
        case Operation("+", Number(1.0), wetness) if _is_ratio(working, wetness):
            return wetness
    return None


def _is_ratio(working: Working, part: Expression) -> bool:
    """A hydration, or the liquid for each gram of flour."""
    return given(working, part, "hydration") is not None or role(working, part) == "ratio"


@in_a_part(
    "hydration-of-the-whole",
    "took the hydration on the whole preferment",
    "It counts on the preferment's flour: to 1 part of flour comes that much water.",
    "preferments",
)
def _hydration_of_the_whole(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right):
            wetness = _flour_and_water(working, right)
            if wetness is not None:
                yield left * (1 - wetness)
                yield left * wetness
        case Operation("×", left, right):
            wetness = _flour_and_water(working, right)
            if wetness is not None:
                yield left / (1 - wetness)
        case Operation("−", whole, Name(key)) if key in working.steps:
            match working.steps[key].expression:
                case Operation("÷", same, right) if same == whole:
                    wetness = _flour_and_water(working, right)
                    if wetness is not None:
                        yield whole * wetness


@in_a_part(
    "half-and-half",
    "took half flour and half water",
    "That is so only at 100 % hydration. Divide by 1 + its hydration.",
    "preferments",
    COMMON,
)
def _half_and_half(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation(("÷" | "×") as sign, left, right) if (
            _flour_and_water(working, right) is not None
        ):
            yield Operation(sign, left, Number(2.0))


@in_a_part(
    "whole-preferment",
    "took the whole preferment as flour, or as water",
    "It is flour and water: divide it by 1 + its hydration to get its flour. The rest is its water.",
    "preferments",
    COMMON,
)
def _whole_preferment(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷" | "×", left, right) if _flour_and_water(working, right) is not None:
            yield left
        case Operation("−", left, Name(key)) if key in working.steps:
            match working.steps[key].expression:
                case Operation("÷", same, right) if (
                    same == left and _flour_and_water(working, right) is not None
                ):
                    yield left


@also("whole-preferment")
def _whole_preferment_throughout(
    working: Working, step: Step, flat: Expression
) -> Iterator[Expression]:
    """All of it taken as flour, so no water; or as water, so no flour."""
    if any(True for _ in _waters_of_preferments(working, flat)):
        for flour_is in (1.0, 0.0):
            yield _with_flour(working, flat, flour_is)
    match step.expression, flat:
        case Operation("÷"), Operation("÷", Operation("÷", whole, right), _) if (
            _flour_and_water(working, right) is not None
        ):
            yield from (
                whole / Name(one.key)
                for one in working.with_role("flour")
                if one.key in working.givens
            )


def _waters_of_preferments(working: Working, part: Expression) -> Iterator[Expression]:
    """Each “preferment − its flour” in an expression."""
    match part:
        case Operation("−", left, Operation("÷", same, right)) if (
            left == same and _flour_and_water(working, right) is not None
        ):
            yield part
        case Operation(_, left, right):
            yield from _waters_of_preferments(working, left)
            yield from _waters_of_preferments(working, right)


def _with_flour(working: Working, part: Expression, share: float) -> Expression:
    match part:
        case Operation("÷", whole, right) if _flour_and_water(working, right) is not None:
            return whole * share
        case Operation(sign, left, right):
            one, two = (_with_flour(working, each, share) for each in (left, right))
            return Operation(sign, one, two)
    return part


@in_the_step(
    "flour-for-water",
    "took the preferment's flour for its water, or its water for its flour",
    "Divide the preferment by 1 + its hydration: that is its flour. What is left is its water.",
    "preferments",
)
def _flour_for_water(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match step.expression:
        case Operation("÷", left, right) if _flour_and_water(working, right) is not None:
            yield left - left / right
        case Operation("×", left, right) if _flour_and_water(working, right) is not None:
            yield left * right - left
        case Operation("−", left, Name(key)) if key in working.steps:
            match working.steps[key].expression:
                case Operation("÷", same, right) if (
                    same == left and _flour_and_water(working, right) is not None
                ):
                    yield Name(key)
    swapped = _flour_and_water_swapped(working, flat)
    if swapped != flat:
        yield swapped


def _flour_and_water_swapped(working: Working, part: Expression) -> Expression:
    """Everything as it comes out when each preferment's flour and water change places."""
    match part:
        case Operation("−", left, Operation("÷", same, right) as flour) if (
            left == same and _flour_and_water(working, right) is not None
        ):
            return flour
        case Operation("÷", left, right) if _flour_and_water(working, right) is not None:
            return left - part
        case Operation(sign, left, right):
            one, two = (_flour_and_water_swapped(working, each) for each in (left, right))
            return Operation(sign, one, two)
    return part


@in_a_part(
    "forgot-the-flour",
    "left out the flour's own 100 %",
    "To 1 of flour come the percentages of the rest: the sum starts with 1.",
    "preferments",
    throughout=True,
)
def _forgot_the_flour(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("+"):
            parts = terms(part)
            if len(parts) > 1 and any(is_number(one, 1.0) for one in parts):
                kept = [one for one in parts if not is_number(one, 1.0)]
                if all(is_percentage(working, one) or _is_ratio(working, one) for one in kept):
                    yield summed(kept)
                    yield from kept if len(kept) > 1 else ()


@in_the_step(
    "forgot-preferment",
    "left the preferment out",
    "It brings flour and water too: count both in.",
    "preferments",
    COMMON,
)
def _forgot_preferment(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    for preferment in working.with_role("preferment"):
        left = without(flat, Name(preferment.key))
        if left is not None and left != flat:
            yield left


@also("whole-dough")
def _percentages_of_the_dough(
    working: Working, step: Step, flat: Expression
) -> Iterator[Expression]:
    match flat:
        case Operation("÷", whole, Operation("+") as total) if is_number(terms(total)[0], 1.0):
            parts = terms(total)[1:]
            if len(parts) > 1 and all(is_percentage(working, one) for one in parts):
                yield whole * (1 - summed(parts))
                for one in parts:
                    others = [other for other in parts if other != one]
                    yield whole * (1 - one)
                    yield Changed(whole / (1 - one), rank=RARE)
                    yield whole * (1 - one) / summed([Number(1.0), *others])
                    yield whole * one


@in_the_step(
    "another-part",
    "gave another part of the dough",
    "The flour is asked for: the dough divided by the total percentage.",
    "scaling-and-rounding",
    RARE,
)
def _another_part(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match flat:
        case Operation("÷", whole, Operation("+") as total) if is_number(terms(total)[0], 1.0):
            parts = terms(total)[1:]
            if len(parts) > 1 and all(is_percentage(working, one) for one in parts):
                yield whole - whole / total
                for one in parts:
                    yield whole / total * one
                    yield whole / one
