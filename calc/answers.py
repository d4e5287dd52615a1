"""Read a quantity out of whatever a student writes: a sum, its result, words around a number.

`calc.units.read` reads a bare quantity, as a form wants it. An answer comes as people write:
“720 × 0.62 = 446.4 g”, “about 446 g of water”, “less: 296 g”, “x = 340”, “2 points”, “1h39”.
`read_answer` takes the number that counts, and says how it read what could be read otherwise.

>>> read_answer("720 × 0.62 = 446.4 g of water", "mass").reading.value
446.4
>>> read_answer("2,500 g", "mass", near=2480).note
'Read as 2500 g, not 2.5 g.'
>>> read_answer("1.7", "share", near=0.02).note
'Read as 1.7 %, not 170 %.'
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc import units
from calc.units import KINDS, PLAIN, Reading, ReadingError, Style, Unit
from calc.written import (
    LONGEST_ANSWER,
    Quantity,
    Token,
    is_quantity,
    is_sum,
    only_last_has_unit,
    outside_brackets,
    parted,
    sums,
    together,
    tokens,
    unit_of_all,
    without_tolerance,
    words_after,
)

# What is quoted of a text that cannot be read.
LONGEST_ECHO = 60
# A sum may be off by this part: its own figures may be rounded.
_SLACK = 0.004
# A sum that is left open is worked out to so many figures, in the unit written.
_WORKED_OUT = 1e-6
# How much nearer than per cent a fraction must be, as the logarithm of a ratio.
_PER_CENT_FIRST = 0.5

# Units of weight or number that nobody here weighs in: no word beside a number, but another measure.
_FOREIGN = {
    "stone", "st", "ton", "tons", "tonne", "tonnes", "dag", "dkg", "mcg", "µg", "ug", "dozen",
}  # fmt: skip


@dataclass(frozen=True)
class Answer:
    """What an answer is read as.

    `note` says how, where the text can be read in two ways (`is_doubtful`) or holds more than a
    number; `slip` says so where a sum does not give the result that is written after it.
    """

    reading: Reading
    note: str = ""
    slip: str = ""
    is_doubtful: bool = False


def read_answer(text: str, kind: str, near: float | None = None, style: Style = PLAIN) -> Answer:
    """Read an answer of a kind of `calc.units.KINDS`.

    `near` is what the question leads one to expect, in calc's unit: of two readings of one text the
    nearer one counts. Without it a bare share is a fraction up to 2, and 1,284 is asked back.
    Raises ReadingError with a message for the writer. Takes time in proportion to the text's length.
    """
    shown = text.strip()
    if not shown:
        raise ReadingError(f"There is nothing here yet. Write {KINDS[kind].wanted}.")
    if len(shown) > LONGEST_ANSWER:
        raise ReadingError(f"That is too long for one answer. Write {KINDS[kind].wanted}.")
    line = _Line(units.plain_letters(shown), kind)
    return line.answer(shown, near, style)


class _Line:
    """One line, split into tokens."""

    def __init__(self, text: str, kind: str) -> None:
        self.text, self.kind = text, kind
        self.tokens = list(tokens(text, kind))

    def answer(self, shown: str, near: float | None, style: Style) -> Answer:
        parts = [part for part in parted(self.tokens) if any(map(is_quantity, part))]
        if not parts:
            raise ReadingError(
                f"I cannot read a number in “{shown[:LONGEST_ECHO]}”. Write {KINDS[self.kind].wanted}."
            )
        *before, last = parts
        result = without_tolerance(together(last, self.kind))
        if is_sum(result):
            return self._open_sum(result, shown, near, style)
        found = self._readings(result, shown)
        reading, other = _nearest(found, near, self.text)
        worked = next((one for part in reversed(before) if (one := sums(part, self.kind))), [])
        return Answer(
            reading,
            self._note(reading, other, style),
            _slip(worked, reading, style),
            other is not None,
        )

    # The result.

    def _readings(self, part: Sequence[Token], shown: str) -> list[Reading]:
        """Every way to read the one quantity that counts in a part without signs."""
        negative = "neg" in part or part[0] == "−"
        quantity = self._chosen(part, shown)
        made = [
            Reading(
                (-value if negative else value) * unit.factor + unit.offset,
                half * unit.factor,
                unit,
            )
            for value, half in quantity.numbers
            for unit in self._units(quantity, value)
        ]
        if not made:
            raise ReadingError(
                f"I cannot read a number in “{shown[:LONGEST_ECHO]}”. Write {KINDS[self.kind].wanted}."
            )
        return made

    def _units(self, quantity: Quantity, value: float) -> list[Unit]:
        if not quantity.unit:
            self._refuse_measure_after(quantity)
            if self.kind == "share" and quantity.is_fraction:
                return [units.FRACTION]
            if self.kind == "share":
                percent, fraction = units.BY_SYMBOL["%"], units.FRACTION
                return (
                    [fraction, percent]
                    if value <= units.LARGEST_BARE_FRACTION
                    else [percent, fraction]
                )
        return [units.unit_of(quantity.unit, self.kind)]

    def _refuse_measure_after(self, quantity: Quantity) -> None:
        """A number before cups, eggs or stones has a unit: one that is not wanted here."""
        words = words_after(self.text, quantity.end)
        if not words:
            return
        first = words[0].lower().rstrip(".")
        known = first in units.VOLUMES or units.EGGS.intersection(one.lower() for one in words)
        if known or first in _FOREIGN or (len(first) == 1 and first != "x"):
            units.unit_of(" ".join(words), self.kind)

    def _chosen(self, part: Sequence[Token], shown: str) -> Quantity:
        """The quantity that counts: the one in the unit that is asked for, or the only bare one."""
        quantities = outside_brackets(part)
        fitting = [one for one in quantities if (self.kind, one.unit) in units.BY_WORD]
        bare = [one for one in quantities if not one.unit]
        wanted = fitting + bare
        if len(wanted) > 1:
            raise ReadingError(
                f"“{shown[:LONGEST_ECHO]}” holds two numbers. Write {KINDS[self.kind].wanted}."
            )
        return wanted[0] if wanted else quantities[0]

    # Sums.

    def _open_sum(
        self, part: Sequence[Token], shown: str, near: float | None, style: Style
    ) -> Answer:
        """A sum without its result: it is worked out, and that is told."""
        values = sums(part, self.kind)
        if not values:
            raise ReadingError(
                f"I cannot work out “{shown[:LONGEST_ECHO]}”. Write its result: {KINDS[self.kind].wanted}."
            )
        if values[0] < 0 and len(outside_brackets(part)) == 2:
            raise ReadingError(
                f"“{shown[:LONGEST_ECHO]}” is a range, or a sum without its result. "
                f"Write {KINDS[self.kind].wanted}."
            )
        unit = unit_of_all(part, self.kind) or units.unit_of("", self.kind)
        scale = [1.0, 0.01] if self.kind == "share" and unit is units.FRACTION else [1.0]
        factor = unit.factor if only_last_has_unit(part) else 1.0
        found = [
            Reading(value * factor * each, _WORKED_OUT * unit.factor, unit)
            for value in values
            for each in scale
        ]
        reading, _ = _nearest(found, near, self.text)
        return Answer(reading, f"Read as {_written(reading, self.kind, style)}.")

    def _note(self, reading: Reading, other: Reading | None, style: Style) -> str:
        chosen = _written(reading, self.kind, style)
        if other is not None:
            return f"Read as {chosen}, not {_written(other, self.kind, style)}."
        is_small_share = reading.unit is units.FRACTION
        return "" if self._is_plain() and not is_small_share else f"Read as {chosen}."

    def _is_plain(self) -> bool:
        """Whether it is a number with its unit, and nothing else."""
        return len([token for token in self.tokens if token != "neg"]) == 1


# What is said.


def _nearest(
    found: Sequence[Reading], near: float | None, text: str
) -> tuple[Reading, Reading | None]:
    """The reading that counts, and the one it could be taken for."""
    if near is None:
        if len(found) > 1 and found[0].unit == found[1].unit and "," in text:
            one, other = (_bare(reading) for reading in found[1::-1])
            raise ReadingError(
                f"“{text[:LONGEST_ECHO]}” can be {one} or {other}. Write {one}, or {other} with a point."
            )
        return found[0], None
    chosen = min(found, key=lambda reading: _distance(reading, near))
    others = [one for one in found if one is not chosen and _could_be_meant(one)]
    return chosen, others[0] if others else None


def _could_be_meant(other: Reading) -> bool:
    """Nobody takes a bare 68 for 6800 %, or asks whether it is one."""
    return not (other.unit is units.FRACTION and other.value > units.LARGEST_BARE_FRACTION)


def _distance(reading: Reading, near: float) -> tuple[float, float]:
    """How far a reading is from what is expected: by its ratio, where both have one sign.

    A bare number in a place for a percentage is per cent, unless a fraction fits clearly better.
    """
    handicap = _PER_CENT_FIRST if reading.unit is units.FRACTION else 0.0
    if reading.value * near > 0:
        return abs(math.log(reading.value / near)) + handicap, 0.0
    return math.inf, abs(reading.value - near)


def _bare(reading: Reading) -> str:
    return f"{reading.value / reading.unit.factor:.12g}"


def _written(reading: Reading, kind: str, style: Style) -> str:
    """A reading as the page tells it: in the student's own unit, a share in per cent."""
    unit = units.BY_SYMBOL["%"] if kind == "share" else reading.unit
    number = units.trimmed((reading.value - unit.offset) / unit.factor, style)
    return f"{number} {unit.symbol}".rstrip()


def _slip(values: list[float], reading: Reading, style: Style) -> str:
    """Says so where a written sum, whatever its values may be, does not give the written result."""
    number = (reading.value - reading.unit.offset) / reading.unit.factor
    scales = {1.0: reading.value, reading.unit.factor: number}
    for scale, result in scales.items():
        reach = reading.half_unit / scale + _SLACK * abs(result)
        if any(abs(value - result) <= reach for value in values):
            return ""
    if not values:
        return ""
    gives, wrote = (f"{each:.5g}".replace(".", style.decimal) for each in (values[0], number))
    return f"Your sum gives {gives}, not {wrote}. The result you wrote is what counts."


def sum_slip(text: str, style: Style = PLAIN) -> str:
    """Says so where a sum does not give its result, whatever is asked for; else empty."""
    line = tokens(units.plain_letters(text), "mass")
    unit = next((one.unit for one in reversed(list(line)) if is_quantity(one)), "")
    kinds = [units.any_unit(unit).kind] if unit else ["number", "share"]
    slips = []
    for kind in kinds:
        try:
            slips.append(read_answer(text, kind, style=style).slip)
        except ReadingError:
            return ""
    return slips[0] if all(slips) else ""
