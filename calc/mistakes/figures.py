"""Mistakes of writing: the decimal point, units, rounding."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc import units
from calc.expression import Expression, Name, Number, Operation
from calc.mistakes.rule import COMMON, RARE, in_the_step
from calc.working import Step, Working


def _scaled(step: Step, factor: float) -> Iterator[Expression]:
    yield step.expression * factor
    yield step.expression / factor


@in_the_step(
    "decimal-point",
    "put the decimal point one place off",
    "Your figures are right: look at the size of the number, and count the places again.",
    "bakers-percentage",
    COMMON,
    when_shown=True,
    is_slip=True,
)
def _decimal_point(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    yield from _scaled(step, 10.0)


@in_the_step(
    "percent-for-fraction",
    "mixed up a percentage and a decimal number",
    "The number is out by a factor of 100. 81 % is 0.81: turn the percentage into a decimal number once, and only "
    "once.",
    "bakers-percentage",
    COMMON,
    when_shown=True,
    is_slip=True,
)
def _percent_for_fraction(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if step.kind in ("mass", "share"):
        yield from _scaled(step, 100.0)


@in_the_step(
    "ounces-for-grams",
    "mixed up ounces and grams",
    f"The number is right in the other unit. One ounce is {units.BY_SYMBOL['oz'].factor:.2f} g: write the unit you weighed in.",
    "scaling-and-rounding",
    when_shown=True,
)
def _ounces_for_grams(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if step.kind == "mass":
        yield from _scaled(step, units.BY_SYMBOL["oz"].factor)


@in_the_step(
    "kilograms-for-grams",
    "mixed up kilograms and grams",
    "The number is out by a factor of 1000. One kilogram is 1000 g: write the unit.",
    "scaling-and-rounding",
    COMMON,
    when_shown=True,
)
def _kilograms_for_grams(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if step.kind == "mass":
        yield from _scaled(step, units.BY_SYMBOL["kg"].factor)


@in_the_step(
    "pounds-for-kilograms",
    "mixed up pounds and kilograms",
    "The number is right in the other unit. One pound is 0.454 kg.",
    "scaling-and-rounding",
    RARE,
    when_shown=True,
)
def _pounds_for_kilograms(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    if step.kind == "mass":
        yield from _scaled(step, units.BY_SYMBOL["kg"].factor / units.BY_SYMBOL["lb"].factor)


@in_the_step(
    "fahrenheit-for-celsius",
    "mixed up °F and °C",
    "The number is right on the other thermometer. °F = °C × 9 ÷ 5 + 32: write the unit.",
    "dough-temperature",
    when_shown=True,
)
def _fahrenheit_for_celsius(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
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


@in_the_step(
    "rounded-too-early",
    "rounded too early, or too coarsely",
    "The method fits, but the number is further off than honest rounding can be. Keep every figure until the end, "
    "then round once.",
    "scaling-and-rounding",
    RARE,
    looks_at_numbers=True,
)
def _rounded_too_early(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    values = working.values()

    def changed(part: Expression) -> Iterator[Expression]:
        match part:
            case Name(key):
                for rounded in _coarse(values[key], working.part(key).kind):
                    yield Number(rounded)
            case Operation(sign, left, right):
                yield from (Operation(sign, one, right) for one in changed(left))
                yield from (Operation(sign, left, one) for one in changed(right))

    yield from changed(step.expression)
    for rounded in _coarse(values[step.key], step.kind):
        yield Number(rounded)
