"""Known wrong methods, each one change to one step.

A `Mistake` rewrites a step's expression the way a student might. `diagnose` recomputes with each
change and reports those whose result is the number the student wrote. The rules look at the shape
of the expression and at the roles of the givens, so a new calculation is diagnosed without a line
written for it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from calc import units
from calc.expression import Expression, Name, Number, Operation, replacements
from calc.units import Reading
from calc.working import Given, Step, Working, margin

Rewrites = Callable[[Working, Step], Iterator[Expression]]


@dataclass(frozen=True)
class Mistake:
    """A wrong method: what to call it, what a kind teacher says, and the lesson that helps."""

    key: str
    name: str
    says: str
    lesson: str
    rewrites: Rewrites


@dataclass(frozen=True)
class Finding:
    """A mistake that explains a student's number, and the step in which it was made."""

    mistake: Mistake
    step: str


CATALOGUE: list[Mistake] = []


def _mistake(key: str, name: str, says: str, lesson: str) -> Callable[[Rewrites], Rewrites]:
    def enter(rewrites: Rewrites) -> Rewrites:
        CATALOGUE.append(Mistake(key, name, says, lesson, rewrites))
        return rewrites

    return enter


def _content(working: Working, expression: Expression) -> Given | None:
    """The water content a part of the expression names, if it names one."""
    if isinstance(expression, Name) and expression.key in working.givens:
        given = working.givens[expression.key]
        return given if given.role == "water content" else None
    return None


def _rewrite(step: Step, change: Callable[[Expression], Iterator[Expression]]):
    return replacements(step.expression, change)


@_mistake(
    "multiplied-by-water-content",
    "multiplied by the water content",
    "You multiplied by the water content. That gives the water inside the liquid. To find how much "
    "liquid holds the water you need, divide. The new liquid must weigh more than the water.",
    "divide-by-the-water-content",
)
def _multiplied(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("÷", left, right) if _content(working, right):
                yield Operation("×", left, right)

    return _rewrite(step, change)


@_mistake(
    "divided-by-water-content",
    "divided where the water content multiplies",
    "You divided by the water content here. The water is only a part of the liquid, so it must "
    "weigh less than the liquid: multiply.",
    "what-hydration-means",
)
def _divided(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("×", left, right) if _content(working, right):
                yield Operation("÷", left, right)

    return _rewrite(step, change)


@_mistake(
    "gram-for-gram",
    "swapped gram for gram",
    "You put in the new liquid gram for gram. Only part of it is water, so the dough would be "
    "drier. Divide the water you need by the liquid's water content.",
    "divide-by-the-water-content",
)
def _gram_for_gram(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("÷", left, right) if _content(working, right):
                yield left

    return _rewrite(step, change)


@_mistake(
    "liquid-for-water",
    "took the liquid's weight for its water",
    "You used the weight of the liquid. Hydration counts only its water. Multiply the liquid by "
    "its water content first.",
    "what-hydration-means",
)
def _liquid_for_water(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("×", left, right) if _content(working, right):
                yield left

    return _rewrite(step, change)


@_mistake(
    "added-missing-percentage",
    "added the missing percentage",
    "You added the share that is not water on top. That comes out too low, because the extra "
    "liquid is not all water either. Divide by the water content instead.",
    "divide-by-the-water-content",
)
def _added_missing(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("÷", left, right) if _content(working, right):
                yield left * (1 + (1 - right))

    return _rewrite(step, change)


@_mistake(
    "solids-for-water",
    "used the solids in place of the water",
    "You used the share that is not water. Take the water content: what is left of 100 % when the "
    "solids are gone.",
    "divide-by-the-water-content",
)
def _solids_for_water(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        if _content(working, part):
            yield Operation("−", Number(1.0), part)

    return _rewrite(step, change)


@_mistake(
    "fat-for-water",
    "used the fat in place of the water",
    "You used the liquid's fat content. Look for its water content: that is what makes the dough "
    "wet.",
    "divide-by-the-water-content",
)
def _fat_for_water(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        content = _content(working, part)
        if content:
            for fat in working.with_role("fat content", content.of):
                yield Name(fat.key)

    return _rewrite(step, change)


@_mistake(
    "other-liquid",
    "took the other liquid's water content",
    "You used the water content of the other liquid. Each liquid goes with its own.",
    "divide-by-the-water-content",
)
def _other_liquid(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        content = _content(working, part)
        if content:
            for other in working.with_role("water content"):
                if other.of != content.of:
                    yield Name(other.key)

    return _rewrite(step, change)


@_mistake(
    "whole-dough",
    "counted on the whole dough",
    "You divided by the weight of the whole dough. Baker's percentages, hydration too, count on "
    "the flour alone.",
    "what-hydration-means",
)
def _whole_dough(working: Working, step: Step) -> Iterator[Expression]:
    weights = [
        Name(given.key)
        for given in working.givens.values()
        if given.role in ("flour", "liquid", "ingredient")
    ]
    whole = sum(weights[1:], weights[0]) if len(weights) > 1 else None

    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation(("÷" | "×") as symbol, left, Name(key)) if (
                key in working.givens and working.givens[key].role == "flour"
            ):
                yield Operation(symbol, left, whole if whole else Name(key) + left)
            case Operation("×", Name(key), right) if (
                whole and key in working.givens and working.givens[key].role == "flour"
            ):
                yield Operation("×", whole, right)

    return _rewrite(step, change)


@_mistake(
    "upside-down",
    "turned the ratio upside down",
    "Your ratio is upside down. Say it in words first: what are you measuring, and per what? The "
    "“per what” goes below the line.",
    "what-hydration-means",
)
def _upside_down(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("÷", left, right) if not _content(working, right):
                yield Operation("÷", right, left)

    return _rewrite(step, change)


@_mistake(
    "divided-by-percentage",
    "divided by the percentage",
    "You divided by the percentage. To find that many per cent of the flour, multiply.",
    "what-hydration-means",
)
def _divided_by_percentage(working: Working, step: Step) -> Iterator[Expression]:
    def change(part: Expression) -> Iterator[Expression]:
        match part:
            case Operation("×", left, Name(key)) if key in working.givens and working.givens[
                key
            ].role in ("hydration", "baker's percentage", "part"):
                yield Operation("÷", left, Name(key))

    return _rewrite(step, change)


@_mistake(
    "percent-for-fraction",
    "mixed up a percentage and a decimal number",
    "You are out by a factor of 100. 74 % is 0.74: turn the percentage into a decimal number once, "
    "and only once.",
    "what-hydration-means",
)
def _percent_for_fraction(working: Working, step: Step) -> Iterator[Expression]:
    yield Operation("×", step.expression, Number(100.0))
    yield Operation("÷", step.expression, Number(100.0))


@_mistake(
    "ounces-for-grams",
    "mixed up ounces and grams",
    "The number is right in the other unit. One ounce is 28.35 g: write the unit you weighed in.",
    "divide-by-the-water-content",
)
def _ounces_for_grams(working: Working, step: Step) -> Iterator[Expression]:
    if step.kind == "mass":
        ounce = Number(units.BY_SYMBOL["oz"].factor)
        yield Operation("÷", step.expression, ounce)
        yield Operation("×", step.expression, ounce)


@_mistake(
    "rounded-too-early",
    "rounded too early",
    "Your method fits, but you rounded too early: the number is further off than honest rounding "
    "can be. Keep every figure until the end, then round once.",
    "divide-by-the-water-content",
)
def _rounded_too_early(working: Working, step: Step) -> Iterator[Expression]:
    values = working.values()
    coarse = {"share": (0.1, 0.05), "mass": (10.0, 5.0)}

    def change(part: Expression) -> Iterator[Expression]:
        if isinstance(part, Name):
            for unit in coarse.get(working.part(part.key).kind, ()):
                rounded = math.floor(values[part.key] / unit + 0.5) * unit
                if rounded and not math.isclose(rounded, values[part.key]):
                    yield Number(rounded)

    yield from _rewrite(step, change)
    for unit in coarse.get(step.kind, ()):
        rounded = math.floor(values[step.key] / unit + 0.5) * unit
        if rounded:
            # The result itself, rounded to tens: a weight cannot stand as a bare number, so scale it.
            yield Operation("×", step.expression, Number(rounded / values[step.key]))


def diagnose(
    working: Working, key: str, reading: Reading, own: Mapping[str, Reading]
) -> list[Finding]:
    """The mistakes that turn step `key` into the student's number, fewest words first.

    `own` holds the student's readings of earlier steps: the search starts from those. Where an
    earlier step was left blank, its mistakes are tried too. A right number has no findings: ask
    `exercises.marking` first. Where two or more mistakes give the number, all are returned, and
    it is for the caller to say both or neither.
    """
    earlier = {name: own[name] for name in own if name != key}
    slack = min(reading.half_unit, margin(working.steps[key], reading))
    findings: list[Finding] = []
    for step in working.steps.values():
        blamable = step.key == key or (
            step.key not in earlier and working.depends_on(key, step.key, unless=earlier)
        )
        if not blamable:
            continue
        for mistake in CATALOGUE:
            if _explains(working, mistake, step, key, reading.value, slack, earlier):
                findings.append(Finding(mistake, step.key))
        if step.key == key:
            break
    return findings


def _explains(
    working: Working,
    mistake: Mistake,
    step: Step,
    key: str,
    number: float,
    slack: float,
    earlier: Mapping[str, Reading],
) -> bool:
    for expression in mistake.rewrites(working, step):
        try:
            outcome = working.honest(earlier, wrong=replace(step, expression=expression))
        except ZeroDivisionError:
            continue
        if number in outcome[key].widened(slack):
            return True
    return False
