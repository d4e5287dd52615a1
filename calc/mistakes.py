"""Known wrong methods, each one change to one step.

A `Mistake` rewrites a step's expression the way a student might. `diagnose` recomputes with each
change and reports those whose result is the number the student wrote. The rules look at the shape
of the expression and at the roles of the givens, so a new calculation is diagnosed without a line
written for it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from weakref import WeakKeyDictionary

from calc import units
from calc.expression import Expression, Name, Number, Operation, evaluate, names, replacements
from calc.units import Reading
from calc.working import Given, Step, Working, margin

# What a mistake makes of a step: every expression that it may have been.
Rewrites = Callable[[Working, Step], Iterator[Expression]]
PartRule = Callable[[Working, Expression], Iterator[Expression]]


@dataclass(frozen=True)
class Mistake:
    """A wrong method: what to call it, what a kind teacher says, and the lesson that helps.

    A `common` one is also sought together with another common one, in two steps not shown. One
    `when_shown` (a slip of the unit, say) is sought only in a step the student wrote down.
    """

    key: str
    name: str
    says: str
    lesson: str
    rewrites: Rewrites
    common: bool = False
    when_shown: bool = False


@dataclass(frozen=True)
class Finding:
    """A mistake that explains a student's number, and the step in which it was made."""

    mistake: Mistake
    step: str


# An explanation of a number: one finding, or two made one after the other.
Explanation = tuple[Finding, ...]

# Every known mistake; `BY_KEY` finds one by its key.
CATALOGUE: list[Mistake] = []
BY_KEY: dict[str, Mistake] = {}


def _enter(mistake: Mistake) -> None:
    CATALOGUE.append(mistake)
    BY_KEY[mistake.key] = mistake


def _in_a_part(key: str, name: str, says: str, lesson: str, common: bool = False):
    """Enter a rule that changes one part of a step's expression."""

    def enter(rule: PartRule) -> PartRule:
        def rewrites(working: Working, step: Step) -> Iterator[Expression]:
            return replacements(step.expression, lambda part: rule(working, part))

        _enter(Mistake(key, name, says, lesson, rewrites, common=common))
        return rule

    return enter


def _in_the_step(key: str, name: str, says: str, lesson: str, when_shown: bool = True):
    """Enter a rule that changes a step as a whole."""

    def enter(rule: Rewrites) -> Rewrites:
        _enter(Mistake(key, name, says, lesson, rule, when_shown=when_shown))
        return rule

    return enter


# What a part of an expression is to the dough.

_PERCENTAGES = ("hydration", "baker's percentage", "part")


def _given(working: Working, part: Expression, *roles: str) -> Given | None:
    """The given a part names, if it plays one of the roles."""
    if isinstance(part, Name) and part.key in working.givens:
        given = working.givens[part.key]
        return given if given.role in roles else None
    return None


def _content(working: Working, part: Expression) -> bool:
    """Whether a part is a water content: a given one, or that of a blend, found on the way."""
    return isinstance(part, Name) and working.part(part.key).role == "water content"


def _is_flour(working: Working, part: Expression) -> bool:
    """Whether a part is flour: a given, or a step that adds flours up."""
    return isinstance(part, Name) and working.part(part.key).role == "flour"


def _is_mass(working: Working, part: Expression) -> bool:
    return isinstance(part, Name) and working.part(part.key).kind == "mass"


# Water content.


@_in_a_part(
    "multiplied-by-water-content",
    "multiplied by the water content",
    "You multiplied by the water content. That gives the water inside the liquid. To find how much "
    "liquid holds the water you need, divide. The new liquid must weigh more than the water.",
    "divide-by-the-water-content",
    common=True,
)
def _multiplied(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _content(working, right):
            yield left * right


@_in_a_part(
    "divided-by-water-content",
    "divided where the water content multiplies",
    "You divided by the water content here. The water is only a part of the liquid, so it must "
    "weigh less than the liquid: multiply.",
    "what-hydration-means",
)
def _divided(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _content(working, right):
            yield left / right


@_in_a_part(
    "gram-for-gram",
    "swapped gram for gram",
    "You put in the new liquid gram for gram. Only part of it is water, so the dough would be "
    "drier. Divide the water you need by the liquid's water content.",
    "divide-by-the-water-content",
    common=True,
)
def _gram_for_gram(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _content(working, right):
            yield left


@_in_a_part(
    "liquid-for-water",
    "took the liquid's weight for its water",
    "You used the weight of the liquid. Hydration counts only its water. Multiply the liquid by "
    "its water content first.",
    "what-hydration-means",
    common=True,
)
def _liquid_for_water(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _content(working, right):
            yield left


@_in_a_part(
    "added-missing-percentage",
    "added the missing percentage",
    "You added the share that is not water on top. That comes out too low, because the extra "
    "liquid is not all water either. Divide by the water content instead.",
    "divide-by-the-water-content",
)
def _added_missing(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _content(working, right):
            yield left * (1 + (1 - right))


@_in_a_part(
    "solids-for-water",
    "used the solids in place of the water",
    "You used the share that is not water. Take the water content: what is left of 100 % when the "
    "solids are gone.",
    "finding-the-water",
)
def _solids_for_water(working: Working, part: Expression) -> Iterator[Expression]:
    if _content(working, part):
        yield 1 - part


@_in_a_part(
    "fat-for-water",
    "used the fat in place of the water",
    "You used the liquid's fat content. Look for its water content: that is what makes the dough "
    "wet.",
    "what-rides-along",
)
def _fat_for_water(working: Working, part: Expression) -> Iterator[Expression]:
    content = _given(working, part, "water content")
    if content:
        for fat in working.with_role("fat content", content.of):
            yield Name(fat.key)


@_in_a_part(
    "water-for-fat",
    "used the water in place of the fat",
    "You used the liquid's water content here. This step is about its fat: take the fat content.",
    "what-rides-along",
)
def _water_for_fat(working: Working, part: Expression) -> Iterator[Expression]:
    fat = _given(working, part, "fat content")
    if fat:
        for content in working.with_role("water content", fat.of):
            yield Name(content.key)


@_in_a_part(
    "multiplied-by-fat-content",
    "multiplied by the fat content",
    "You multiplied by the fat content. That gives the fat inside so much butter. To find how much "
    "butter holds the fat, divide. The butter must weigh more than its fat.",
    "what-rides-along",
)
def _multiplied_by_fat(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _given(working, right, "fat content"):
            yield left * right


@_in_a_part(
    "other-liquid",
    "took the other liquid's water content",
    "You used the water content of the other liquid. Each liquid goes with its own.",
    "part-swaps-blends-eggs",
)
def _other_liquid(working: Working, part: Expression) -> Iterator[Expression]:
    content = _given(working, part, "water content")
    if content:
        for other in working.with_role("water content"):
            if other.of != content.of:
                yield Name(other.key)


@_in_the_step(
    "plain-average",
    "averaged the percentages",
    "You took the middle of the two percentages. That fits only when both liquids weigh the same. "
    "Add up the water, and compare it with the whole weight.",
    "part-swaps-blends-eggs",
    when_shown=False,
)
def _plain_average(working: Working, step: Step) -> Iterator[Expression]:
    contents = working.with_role("water content")
    if step.role == "water content" and len(contents) == 2:
        yield (Name(contents[0].key) + Name(contents[1].key)) / 2


# Flour is 100 %.


@_in_a_part(
    "whole-dough",
    "counted on the whole dough",
    "You counted on the weight of the whole dough. Baker's percentages, hydration too, count on "
    "the flour alone.",
    "what-hydration-means",
)
def _whole_dough(working: Working, part: Expression) -> Iterator[Expression]:
    weights = [
        Name(given.key)
        for given in working.givens.values()
        if given.role in ("flour", "liquid", "ingredient")
    ]
    whole = sum(weights[1:], weights[0]) if len(weights) > 1 else None
    match part:
        case Operation("÷", left, right) if _is_flour(working, right):
            yield left / (whole or right + left)
        case Operation("×", left, right) if whole and _given(working, left, "flour"):
            yield whole * right


@_in_a_part(
    "wrong-weight",
    "took another weight of the formula",
    "You started from another weight of the formula. Say in words what each number is the weight "
    "of, then put them in.",
    "bakers-percentage",
)
def _wrong_weight(working: Working, part: Expression) -> Iterator[Expression]:
    given = _given(working, part, "flour", "liquid", "ingredient")
    if given:
        for other in working.givens.values():
            if other.kind == "mass" and other.key != given.key:
                yield Name(other.key)


@_in_a_part(
    "upside-down",
    "turned the ratio upside down",
    "Your ratio is upside down. Say it in words first: what are you measuring, and per what? The "
    "“per what” goes below the line.",
    "what-hydration-means",
)
def _upside_down(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if not _content(working, right):
            yield right / left


# What a meaning of hydration counts.


def _waters(working: Working) -> Iterator[tuple[Given, Expression]]:
    """Each ingredient's weight whose water content is known, and its water: a step, or the product."""
    for content in working.with_role("water content"):
        for role in ("ingredient", "flour"):
            for weight in working.with_role(role, content.of):
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


@_in_the_step(
    "counted-too-much",
    "counted more than this meaning counts",
    "You counted something that this meaning of hydration leaves out. Read again which water, or "
    "which weight, it counts.",
    "what-hydration-means",
    when_shown=False,
)
def _counted_too_much(working: Working, step: Step) -> Iterator[Expression]:
    counted = _sum_in(step)
    waters = list(_waters(working)) if counted else []
    used = set(names(counted)) if waters else set()
    by_water = any(set(names(water)) & used - {weight.key} for weight, water in waters)
    for weight, water in waters:
        extra = water if by_water else Name(weight.key)
        if not set(names(extra)) & used and (by_water or weight.role != "flour"):
            yield _with_sum(step, counted, counted + extra)


@_in_the_step(
    "counted-only-water",
    "counted only the water",
    "You counted the water in the liquids. This meaning counts their whole weight: add up what you "
    "weigh.",
    "what-hydration-means",
    when_shown=False,
)
def _counted_only_water(working: Working, step: Step) -> Iterator[Expression]:
    counted = _sum_in(step)
    water_of = {weight.key: water for weight, water in _waters(working)} if counted else {}
    used = list(names(counted)) if water_of else []
    if used and set(used) <= set(water_of):
        waters = [water_of[key] for key in used]
        yield _with_sum(step, counted, sum(waters[1:], waters[0]))


# Packs.

# What a panel that is not per serving is for.
_PANEL = 100.0


@_in_a_part(
    "hundred-for-serving",
    "took 100 g for the serving",
    "You compared the figures with 100 g. This pack prints them for one serving: divide by the "
    "weight of the serving.",
    "finding-the-water",
)
def _hundred_for_serving(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _given(working, right, "serving"):
            yield left / Number(_PANEL)


# Percentages.


@_in_a_part(
    "divided-by-percentage",
    "divided by the percentage",
    "You divided by the percentage. To find that many per cent of something, multiply.",
    "bakers-percentage",
    common=True,
)
def _divided_by_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _given(working, right, *_PERCENTAGES):
            yield left / right


@_in_a_part(
    "multiplied-by-percentage",
    "multiplied by the percentage",
    "You multiplied by the percentage. You know the part and want the whole, the flour: divide by "
    "the part's percentage.",
    "bakers-percentage",
    common=True,
)
def _multiplied_by_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _given(working, right, *_PERCENTAGES):
            yield left * right


@_in_a_part(
    "percentage-on-top",
    "added the percentage on top",
    "You added the percentage on top, so your number holds the flour as well. Take only that many "
    "per cent of it: multiply.",
    "bakers-percentage",
)
def _percentage_on_top(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _given(working, right, *_PERCENTAGES):
            yield left * (1 + right)


@_in_a_part(
    "rest-of-percentage",
    "took what is left of 100 %",
    "You took what is left of 100 %. Read again which part is asked for.",
    "bakers-percentage",
)
def _rest_of_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    if _given(working, part, *_PERCENTAGES):
        yield 1 - part


@_in_a_part(
    "forgot-percentage",
    "took all of it",
    "You took all of it. Only a percentage of it is asked for: multiply by that.",
    "bakers-percentage",
)
def _forgot_percentage(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, right) if _given(working, right, *_PERCENTAGES):
            yield left


@_in_a_part(
    "percent-for-points",
    "took per cent for points",
    "You took the points as per cent of the water. A point of hydration is one hundredth of the "
    "flour: add it to the percentage, or multiply the flour by it.",
    "acidity-and-feel",
)
def _percent_for_points(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("+", left, right) if _is_points(working, right):
            yield left * (1 + right)
        case Operation("×", left, right) if _is_points(working, right):
            for wetness in working.with_role("hydration"):
                yield left * Name(wetness.key) * right


def _is_points(working: Working, part: Expression) -> bool:
    return isinstance(part, Name) and working.part(part.key).role == "points"


# A preferment: to 1 of flour comes its hydration of water.


@_in_a_part(
    "hydration-of-the-whole",
    "took the hydration on the whole preferment",
    "You took the hydration as a share of the whole preferment. It counts on the preferment's "
    "flour: to 1 part of flour comes that much water.",
    "preferments",
)
def _hydration_of_the_whole(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Operation("+", Number(1.0), wetness)) if _given(
            working, wetness, "hydration"
        ):
            yield left * (1 - wetness)
        case Operation("×", left, Operation("+", Number(1.0), wetness)) if _given(
            working, wetness, "hydration"
        ):
            yield left / (1 - wetness)


@_in_a_part(
    "half-and-half",
    "took half flour and half water",
    "You took the preferment as half flour and half water. That is so only at 100 % hydration. "
    "Divide by 1 + its hydration.",
    "preferments",
)
def _half_and_half(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation(("÷" | "×") as sign, left, Operation("+", Number(1.0), wetness)) if _given(
            working, wetness, "hydration"
        ):
            yield Operation(sign, left, Number(2.0))


@_in_a_part(
    "loss-on-top",
    "added the loss on top",
    "You added the loss on top. That comes out too low, because the extra loses some too. Divide "
    "by what is left after the loss.",
    "scaling-and-rounding",
)
def _loss_on_top(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Operation("−", Number(1.0), loss)):
            yield left * (1 + loss)


@_in_a_part(
    "loss-taken-off",
    "took the loss off",
    "You took the loss off. You need more before than after, so divide by what is left after the "
    "loss.",
    "scaling-and-rounding",
)
def _loss_taken_off(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Operation("−", Number(1.0), _) as rest):
            yield left * rest


@_in_a_part(
    "forgot-loss",
    "forgot the loss",
    "You left the loss out. What is lost on the way must be there at the start.",
    "scaling-and-rounding",
)
def _forgot_loss(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Operation("−", Number(1.0), _)):
            yield left


# Adding up.


@_in_a_part(
    "divided-by-the-rest",
    "divided by the weight after",
    "You divided by the weight after. A loss is a share of what was there before, so divide by that.",
    "side-by-side-bake",
)
def _divided_by_the_rest(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, right) if _given(working, right, "before"):
            for after in working.with_role("after"):
                yield left / Name(after.key)


@_in_a_part(
    "forgot-to-halve",
    "forgot to halve",
    "You took the whole step of the scale. The scale shows the nearest step, so it is off by half a "
    "step at most: halve it.",
    "scaling-and-rounding",
)
def _forgot_to_halve(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("÷", left, Number(2.0)):
            yield left


@_in_a_part(
    "left-one-out",
    "left one out",
    "You left one part out of the sum. Tick off each ingredient as you add it.",
    "finding-the-water",
)
def _left_one_out(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("+", left, right):
            # One part, not a whole sum of them.
            if not isinstance(right, Operation):
                yield left
            if not isinstance(left, Operation):
                yield right
        case Operation("−", left, right) if not isinstance(left, Number):
            yield left


@_in_a_part(
    "added-for-taken-away",
    "added where it should be taken away",
    "You added where this step takes away.",
    "finding-the-water",
)
def _added_for_taken_away(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("−", left, right):
            yield left + right


@_in_a_part(
    "taken-away-for-added",
    "took away where it should be added",
    "You took away where this step adds.",
    "finding-the-water",
)
def _taken_away_for_added(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("+", left, right):
            yield left - right


@_in_a_part(
    "wrong-number-of-temperatures",
    "multiplied by the wrong number of temperatures",
    "You multiplied by another number of temperatures. Count them: flour, room and water make three, "
    "and a preferment makes four.",
    "dough-temperature",
)
def _wrong_number_of_temperatures(working: Working, part: Expression) -> Iterator[Expression]:
    match part:
        case Operation("×", left, Number(count)) if _given(working, left, "wanted"):
            yield left * (4.0 if count == 3.0 else 3.0)


@_in_a_part(
    "forgot-brackets",
    "forgot the brackets",
    "Your number is what comes out without the brackets. Work out what stands in brackets first.",
    "preferments",
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


@_in_the_step(
    "stopped-early",
    "stopped one step early",
    "This is the step before. One step is still to do.",
    "scaling-and-rounding",
)
def _stopped_early(working: Working, step: Step) -> Iterator[Expression]:
    steps = list(working.steps.values())
    before = steps[steps.index(step) - 1]
    # The first step has none before it: what stands there is the last, which it cannot use.
    goes_on = before.key in working.names_in(step)
    if goes_on and before.kind == step.kind and not _has_own_name(working, step):
        yield Name(before.key)


def _has_own_name(working: Working, step: Step) -> bool:
    """Leaving out a water content, a percentage, a loss or a part of a sum has its own name."""
    before = Name(list(working.steps)[list(working.steps).index(step.key) - 1])
    match step.expression:
        case Operation("+", left, right):
            return before in (left, right)
        case Operation("−", left, _):
            return left == before
        case Operation("÷", _, Operation("−", Number(1.0), _)):
            return True
        case Operation("×", _, Operation("+", Number(1.0), _)):
            return True
        case Operation("÷" | "×", _, right):
            return _content(working, right) or bool(_given(working, right, *_PERCENTAGES))
    return False


# Units and rounding.


def _scaled(step: Step, factor: float) -> Iterator[Expression]:
    yield step.expression * factor
    yield step.expression / factor


@_in_the_step(
    "percent-for-fraction",
    "mixed up a percentage and a decimal number",
    "You are out by a factor of 100. 81 % is 0.81: turn the percentage into a decimal number once, "
    "and only once.",
    "bakers-percentage",
)
def _percent_for_fraction(working: Working, step: Step) -> Iterator[Expression]:
    if step.kind in ("mass", "share"):
        yield from _scaled(step, 100.0)


@_in_the_step(
    "ounces-for-grams",
    "mixed up ounces and grams",
    "The number is right in the other unit. One ounce is 28.35 g: write the unit you weighed in.",
    "scaling-and-rounding",
)
def _ounces_for_grams(working: Working, step: Step) -> Iterator[Expression]:
    if step.kind == "mass":
        yield from _scaled(step, units.BY_SYMBOL["oz"].factor)


@_in_the_step(
    "kilograms-for-grams",
    "mixed up kilograms and grams",
    "You are out by a factor of 1000. One kilogram is 1000 g: write the unit.",
    "scaling-and-rounding",
)
def _kilograms_for_grams(working: Working, step: Step) -> Iterator[Expression]:
    if step.kind == "mass":
        yield from _scaled(step, units.BY_SYMBOL["kg"].factor)


@_in_the_step(
    "pounds-for-kilograms",
    "mixed up pounds and kilograms",
    "The number is right in the other unit. One pound is 0.454 kg.",
    "scaling-and-rounding",
)
def _pounds_for_kilograms(working: Working, step: Step) -> Iterator[Expression]:
    if step.kind == "mass":
        yield from _scaled(step, units.BY_SYMBOL["kg"].factor / units.BY_SYMBOL["lb"].factor)


@_in_the_step(
    "fahrenheit-for-celsius",
    "mixed up °F and °C",
    "The number is right on the other thermometer. °F = °C × 9 ÷ 5 + 32: write the unit.",
    "dough-temperature",
)
def _fahrenheit_for_celsius(working: Working, step: Step) -> Iterator[Expression]:
    if step.kind == "temperature":
        yield step.expression * 1.8 + 32
        yield (step.expression - 32) / 1.8


# How coarsely a hurried student rounds.
_COARSE = {"share": (0.1, 0.05), "mass": (10.0, 5.0)}


def _coarse(value: float, kind: str) -> Iterator[float]:
    for unit in _COARSE.get(kind, ()):
        rounded = math.floor(value / unit + 0.5) * unit
        if rounded and not math.isclose(rounded, value):
            yield rounded


@_in_the_step(
    "rounded-too-early",
    "rounded too early",
    "Your method fits, but you rounded too coarsely, or too early: the number is further off than honest rounding "
    "can be. Keep every figure until the end, then round once.",
    "scaling-and-rounding",
    when_shown=False,
)
def _rounded_too_early(working: Working, step: Step) -> Iterator[Expression]:
    values = working.values()

    def change(part: Expression) -> Iterator[Expression]:
        if isinstance(part, Name):
            for rounded in _coarse(values[part.key], working.part(part.key).kind):
                yield Number(rounded)

    yield from replacements(step.expression, change)
    for rounded in _coarse(values[step.key], step.kind):
        yield Number(rounded)


# Diagnosis.


# A nought, or a figure as coarse as 1 g, fits many mistakes and shows none.
COARSEST = 0.1

Rewritten = list[tuple[Mistake, Expression]]
_REWRITTEN: WeakKeyDictionary[Working, dict[str, Rewritten]] = WeakKeyDictionary()


def rewritten(working: Working, key: str) -> Rewritten:
    """Each mistake a step admits, with the changed expression; computed once for a working."""
    known = _REWRITTEN.setdefault(working, {})
    if key not in known:
        step = working.steps[key]
        known[key] = [
            (mistake, expression)
            for mistake in CATALOGUE
            for expression in mistake.rewrites(working, step)
            if expression != step.expression
        ]
    return known[key]


def diagnose(
    working: Working, key: str, reading: Reading, own: Mapping[str, Reading]
) -> list[Explanation]:
    """The explanations of a student's number for step `key`, each by one mistake or by two.

    `own` holds the student's readings of earlier steps: the search starts from those. Where an
    earlier step was left blank, its mistakes are tried too. Two mistakes in a row are sought only
    among the common ones, in steps not shown, and only where one alone explains nothing. A right
    number has no explanation: ask `exercises.marking` first.
    """
    if reading.half_unit > COARSEST * abs(reading.value):
        return []
    earlier = {name: one.value for name, one in own.items() if name != key}
    slack = _slack(working.steps[key], reading) * (1 + 1e-6)
    blamable = [
        name
        for name in working.steps
        if name == key or (name not in earlier and working.depends_on(key, name, unless=earlier))
    ]

    def fits(changes: Mapping[str, Expression]) -> bool:
        return any(
            abs(outcome - reading.value) <= slack + abs(outcome) * 1e-9
            for outcome in outcomes(working, key, changes, earlier)
        )

    single = {
        Finding(mistake, name): None
        for name in blamable
        for mistake, expression in rewritten(working, name)
        if (name == key or not mistake.when_shown) and fits({name: expression})
    }
    if single:
        return [(finding,) for finding in single]
    pairs = {
        (Finding(first, one), Finding(second, two)): None
        for place, one in enumerate(blamable)
        for two in blamable[place + 1 :]
        for first, changed in rewritten(working, one)
        if first.common
        for second, changed_too in rewritten(working, two)
        if second.common and fits({one: changed, two: changed_too})
    }
    return list(pairs)


def _slack(step: Step, reading: Reading) -> float:
    """How far a wrong method's outcome may lie from what the student wrote.

    A number on a step of a coarse scale (14580 g, in steps of 10 g) may have been rounded to it.
    """
    near = min(reading.half_unit, margin(step, reading))
    on_a_step = math.isclose(reading.value, round(reading.value / step.to) * step.to, rel_tol=1e-9)
    return max(near, step.to / 2) if on_a_step else near


def outcomes(
    working: Working,
    key: str,
    changes: Mapping[str, Expression],
    own: Mapping[str, float] | None = None,
) -> list[float]:
    """What a step comes to, in calc's unit, with some steps' expressions changed.

    A student who does not show a step keeps every figure of it or rounds it to the scale, and one
    who shows it may go on from what is still in the calculator: both are computed. `own` gives the
    figures the student did show.
    """
    found = []
    for rounding in (False, True):
        values = {given.key: given.value for given in working.givens.values()}
        try:
            for step in working.steps.values():
                value = evaluate(changes.get(step.key, step.expression), values.__getitem__, float)
                if step.key == key:
                    found.append(value)
                    break
                shown = (own or {}).get(step.key)
                if shown is not None and (
                    rounding or abs(shown - value) > step.to / 2 * (1 + 1e-9)
                ):
                    value = shown
                elif rounding:
                    value = math.floor(value / step.to + 0.5) * step.to
                values[step.key] = value
        except ZeroDivisionError:
            continue
    return found
