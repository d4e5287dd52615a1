"""Free working: lines as on paper, each matched to the step of the problem that it computes.

A line such as “480 × 0.68 = 326” is put to a step by what it comes to, by the numbers that go into
it, and by its words; its result may be wrong, and the next line may go on from it. What is matched
is then marked as if it had been written into the steps' own boxes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from calc.answers import read_answer, sum_slip
from calc.expression import Expression, Name, Number, Operation
from calc.units import PLAIN, Reading, ReadingError, Style
from calc.working import Step, margin
from calc.written import Worked, worked
from exercises.draws import Variant

# The key of free working among the answers to a problem.
WORKING = "working"
LONGEST_WORKING = 2_000
MOST_LINES = 40
# Two numbers are one within this part: an operand may have been rounded.
_NEAR = 0.006
# What fits is worth: what a line comes to, the numbers in it, its words. Less than `_LEAST` is no fit.
_RIGHT, _FOLLOWS, _OPERANDS, _WORDS, _LEAST = 3.0, 2.5, 2.0, 1.0, 0.95
# A number that an unknown line gave fits a step that no line is put to yet, a little less well.
_GUESSED = 0.8
_FEW = 0.3
# What a line comes to alone is worth no more, and every number of a step in it so much more.
_UNSURE, _ALL = 0.96, 3.0
_LINE_ENDS = re.compile(r"[\n;]")
_NO_WORDS = {"of", "the", "in", "for", "a", "and", "to", "by", "is", "g", "x"}


@dataclass(frozen=True)
class Matched:
    """The text put to each step, and the lines that no step asks for."""

    answers: Mapping[str, str]
    stray: tuple[str, ...]


NO_LINES = Matched({}, ())


def lines(text: str) -> list[str]:
    """The lines of a working, blank ones left out; a semicolon ends a line too, as in a table's cell."""
    found = (line.strip() for line in _LINE_ENDS.split(text[:LONGEST_WORKING]))
    return [line for line in found if line][:MOST_LINES]


def match(variant: Variant, text: str) -> Matched:
    """Put each line of a working to the step that it computes."""
    matching = _Matching(variant, [one for line in lines(text) for one in worked(line)])
    matching.run()
    return Matched(
        {key: one.text for key, one in matching.of_step.items()}, tuple(matching.stray())
    )


def sums_that_do_not_come_out(text: str, style: Style = PLAIN) -> Iterator[str]:
    """A sentence for each sum of a working that does not give the result written after it."""
    for number, line in enumerate(lines(text), 1):
        for one in worked(line):
            if slip := sum_slip(one.text, style):
                yield f"Line {number}: {slip}"


@dataclass
class _Matching:
    """Lines and steps, put together one pair at a time, the surest first."""

    variant: Variant
    lines: list[Worked]
    of_step: dict[str, Worked] = field(default_factory=dict)
    own: dict[str, Reading] = field(default_factory=dict)
    readings: dict[tuple[int, str], Reading | None] = field(default_factory=dict)

    @cached_property
    def values(self) -> dict[str, float]:
        return self.variant.working.values()

    @cached_property
    def right(self) -> dict:
        return self.variant.working.attainable({})

    def run(self) -> None:
        while pair := max(self._pairs(), default=None, key=lambda pair: pair[0]):
            self._put(*pair[1:])
        self._last_is_the_answer()

    @property
    def free(self) -> list[int]:
        taken = {id(line) for line in self.of_step.values()}
        return [number for number, line in enumerate(self.lines) if id(line) not in taken]

    def _pairs(self) -> Iterator[tuple[float, int, str]]:
        for number in self.free:
            for key in self.variant.working.steps:
                if key not in self.of_step and (fit := self._fit(number, key)) >= _LEAST:
                    yield fit, number, key

    def _put(self, number: int, key: str) -> None:
        line, reading = self.lines[number], self._reading(number, key)
        self.of_step[key] = line
        if reading and reading.value > 0:
            self.own[key] = reading
        self._go_back(line, key)

    def _go_back(self, line: Worked, key: str) -> None:
        """The line whose result this one uses computes the step that this one's step uses."""
        expression = self.variant.working.steps[key].expression
        unknown = [name for name in _names(expression) if name in self._unmatched]
        for operand in self._unexplained(line, expression):
            pairs = [
                (self._fit(number, name), number, name)
                for number in self.free
                for name in unknown
                if name not in self.of_step and self._gives(number, name, operand)
            ]
            if pairs:
                self._put(*max(pairs)[1:])

    def _last_is_the_answer(self) -> None:
        """On paper the last line is the answer, whatever it comes to."""
        last, free = self.variant.asked[-1].key, self.free
        is_open = free and free[-1] == len(self.lines) - 1 and last not in self.of_step
        if is_open and len(self.variant.asked) == 1 and self._reading(free[-1], last):
            self._put(free[-1], last)

    # How well a line fits a step.

    def _fit(self, number: int, key: str) -> float:
        reading = self._reading(number, key)
        if reading is None:
            return 0.0
        step, line = self.variant.working.steps[key], self.lines[number]
        (operands, are_known), value = (
            self._by_operands(number, step),
            self._by_value(reading, step),
        )
        is_like = not line.signs or bool(_kinds(line.signs) & _kinds(_signs(step.expression)))
        if not is_like:
            operands /= 2
        if line.operands and (operands < _FEW or not are_known or not is_like):
            # It comes to the same, from other numbers: by chance, or by a way of its own.
            value = min(value, _UNSURE)
        elif operands == 1.0:
            value += _ALL
        return value + _OPERANDS * operands + _WORDS * _by_words(line, step)

    def _by_value(self, reading: Reading, step: Step) -> float:
        reach = margin(step, reading, self.variant.rounding(step))
        if reading.value in self.right[step.key].widened(reach):
            return _RIGHT
        try:
            follows = self.variant.working.attainable(self.own, step.key)[step.key].widened(reach)
        except ZeroDivisionError:
            return 0.0
        return _FOLLOWS if self.own and reading.value in follows else 0.0

    def _by_operands(self, number: int, step: Step) -> tuple[float, bool]:
        """The part of a sum's numbers, and of the step's, that are the same; whether one is for sure."""
        wanted = [part for part in _leaves(step.expression) if part != Number(1.0)]
        given = {self.values[part.key] for part in wanted if isinstance(part, Name)}
        constants = {1.0, 100.0} - given
        operands = [one for one in self.lines[number].operands if one not in constants]
        if not operands or not wanted:
            return 0.0, False
        fits: list[float] = []
        left = list(wanted)
        for operand in operands:
            best = max(
                left, key=lambda part, x=operand: self._is_same(x, part, number), default=None
            )
            if best is not None and (fit := self._is_same(operand, best, number)):
                left.remove(best)
                fits.append(fit)
        return sum(fits) / max(len(operands), len(wanted)), 1.0 in fits

    def _is_same(self, operand: float, part: Expression, number: int) -> float:
        if isinstance(part, Number):
            return float(_near(operand, part.value))
        name = part.key
        known = self.own[name].value if name in self.own else self.values[name]
        if _near(operand, known) or _near(operand, known * 100):
            return 1.0
        if name not in self._unmatched:
            return float(_near(operand, self.values[name]))
        others = (other for other in self.free if other != number)
        return _GUESSED if any(self._gives(other, name, operand) for other in others) else 0.0

    @property
    def _unmatched(self) -> set[str]:
        return self.variant.working.steps.keys() - self.of_step.keys()

    def _unexplained(self, line: Worked, expression: Expression) -> Iterator[float]:
        """The numbers of a line that are no given and no step that is matched."""
        names = [name for name in _names(expression) if name not in self._unmatched]
        known = [self.own[n].value if n in self.own else self.values[n] for n in names]
        for operand in line.operands:
            if not any(_near(operand, one) or _near(operand, one * 100) for one in known):
                yield operand

    def _gives(self, number: int, key: str, operand: float) -> bool:
        """Whether a line, read as that step, gives the number."""
        reading = self._reading(number, key)
        return reading is not None and (
            _near(reading.value, operand) or _near(reading.value * 100, operand)
        )

    def _reading(self, number: int, key: str) -> Reading | None:
        if (number, key) not in self.readings:
            step = self.variant.working.steps[key]
            try:
                reading = read_answer(self.lines[number].text, step.kind, self.values[key]).reading
            except ReadingError:
                reading = None
            self.readings[number, key] = reading
        return self.readings[number, key]

    # What is left over.

    def stray(self) -> Iterator[str]:
        """The sums that lead nowhere; a given copied out or a result said again is no sum."""
        for number in self.free:
            line = self.lines[number]
            again = any(one.text.endswith(line.text) for one in self.of_step.values())
            if line.operands and not again:
                yield line.text


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= _NEAR * max(abs(one), abs(other))


def _signs(expression: Expression) -> set[str]:
    if not isinstance(expression, Operation):
        return set()
    return {expression.symbol} | _signs(expression.left) | _signs(expression.right)


def _kinds(signs: Iterable[str]) -> set[str]:
    """Whether a sum adds or multiplies: who divides by mistake still multiplies, in a way."""
    return {"adds" if sign in "+−" else "multiplies" for sign in signs}


def _leaves(expression: Expression) -> Iterator[Name | Number]:
    if isinstance(expression, Operation):
        yield from _leaves(expression.left)
        yield from _leaves(expression.right)
    else:
        yield expression


def _names(expression: Expression) -> list[str]:
    return [part.key for part in _leaves(expression) if isinstance(part, Name)]


def _by_words(line: Worked, step: Step) -> float:
    """The part of a step's own words that a line has."""
    wanted = {word.strip("()").lower() for word in step.label.split()} - _NO_WORDS
    return len(wanted & line.words) / len(wanted) if wanted else 0.0
