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
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from calc import units
from calc.expression import Expression, Number, Operation, evaluate
from calc.units import KINDS, PLAIN, Reading, ReadingError, Style, Unit

# A line of working is longer than a number; nothing longer is looked at.
LONGEST_ANSWER = 120
# What is quoted of a text that cannot be read.
LONGEST_ECHO = 60
# A sum may be off by this part: its own figures may be rounded.
_SLACK = 0.004
# How much nearer than per cent a fraction must be, as the logarithm of a ratio.
_PER_CENT_FIRST = 0.5

_SIGNS = (
    dict.fromkeys("×*·⋅∙•✕✖", "×") | dict.fromkeys("÷/∕:", "÷") | {"+": "+", "-": "−", "±": "±"}
)
_WORDS_FOR_SIGNS = {"x": "×", "times": "×", "by": "×", "over": "÷", "plus": "+", "minus": "−"}
_EQUALS = "=≈≃≅→⇒"

# Thousands by spaces, a run of digits with marks in it, or decimals alone.
_NUMBER = re.compile(r"\d{1,3}(?: \d{3})+(?!\d)(?:[.,]\d+)?|\d+(?:[.,'’]\d+)*|[.,]\d+")
_FRACTION = re.compile(r"(?:(\d{1,6}) +)?(\d{1,4}) ?/ ?(\d{1,4})(?![\d.,]| ?/)")
_CLOCK = re.compile(r"(\d{1,2}):([0-5]\d)(?![\d:.,])")
_WORD = re.compile(r"[^\W\d_]+(?:[-'’.][^\W\d_]+)*\.?")
_WORD_AFTER = re.compile(rf"\s*({_WORD.pattern})")
_BY = re.compile(r"\s+by\b", re.IGNORECASE)
_GROUPS = re.compile(r"\d{1,3}(?:[.,'’ ]\d{3})+")
# Units of weight or number that nobody here weighs in: no word beside a number, but another measure.
_FOREIGN = {
    "stone",
    "st",
    "ton",
    "tons",
    "tonne",
    "tonnes",
    "dag",
    "dkg",
    "mcg",
    "µg",
    "ug",
    "dozen",
}


def _pattern(words: set[str]) -> re.Pattern:
    """Any of the units, the longest first, where no letter follows."""
    longest = sorted(words, key=len, reverse=True)
    spelt = (re.escape(word).replace(r"\ ", r"\s+") for word in longest)
    return re.compile(rf"\s*({'|'.join(spelt)})(?![^\W\d_])", re.IGNORECASE)


_UNITS_OF = {
    kind: _pattern({word for other, word in units.BY_WORD if other == kind} or {"\0"})
    for kind in KINDS
}
_ANY_UNIT = _pattern({word for _, word in units.BY_WORD})
_TIMES = re.compile(r"\s*-?(?:times|fold|x|×)(?!\s*[\d(.])(?![^\W\d_])", re.IGNORECASE)


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


@dataclass(frozen=True)
class _Quantity:
    """A number as written: every value it can have with half of its last figure, and its unit.

    `over` are the two numbers of a fraction.
    """

    numbers: tuple[tuple[float, float], ...]
    unit: str
    start: int
    end: int
    over: tuple[float, ...] = ()

    @property
    def is_fraction(self) -> bool:
        return bool(self.over)


# What a line is made of: quantities, the signs + − × ÷ ± ( ) =, “neg” for a minus of a number
# alone, and “w” for words.
_Token = _Quantity | str


class _Line:
    """One line, split into tokens."""

    def __init__(self, text: str, kind: str) -> None:
        self.text, self.kind = text, kind
        self.tokens = list(_tokens(text, kind))

    def answer(self, shown: str, near: float | None, style: Style) -> Answer:
        parts = [part for part in _parted(self.tokens) if any(map(_is_quantity, part))]
        if not parts:
            raise ReadingError(
                f"I cannot read a number in “{shown[:LONGEST_ECHO]}”. Write {KINDS[self.kind].wanted}."
            )
        *before, last = parts
        result = _without_tolerance(_together(last, self.kind))
        if _is_sum(result):
            return self._open_sum(result, shown, near, style)
        found = self._readings(result, shown)
        reading, other = _nearest(found, near, self.text)
        worked = next((one for part in reversed(before) if (one := self._sum(part))), [])
        return Answer(
            reading,
            self._note(reading, other, style),
            _slip(worked, reading, style),
            other is not None,
        )

    # The result.

    def _readings(self, part: Sequence[_Token], shown: str) -> list[Reading]:
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

    def _units(self, quantity: _Quantity, value: float) -> list[Unit]:
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

    def _refuse_measure_after(self, quantity: _Quantity) -> None:
        """A number before cups, eggs or stones has a unit: one that is not wanted here."""
        words = _words_after(self.text, quantity.end)
        if not words:
            return
        first = words[0].lower().rstrip(".")
        known = first in units.VOLUMES or units.EGGS.intersection(one.lower() for one in words)
        if known or first in _FOREIGN or (len(first) == 1 and first != "x"):
            units.unit_of(" ".join(words), self.kind)

    def _chosen(self, part: Sequence[_Token], shown: str) -> _Quantity:
        """The quantity that counts: the one in the unit that is asked for, or the only bare one."""
        quantities = _outside_brackets(part)
        fitting = [one for one in quantities if (self.kind, one.unit) in units.BY_WORD]
        bare = [one for one in quantities if not one.unit]
        wanted = fitting + bare
        if len(wanted) > 1:
            raise ReadingError(
                f"“{shown[:LONGEST_ECHO]}” holds two numbers. Write {KINDS[self.kind].wanted}."
            )
        return wanted[0] if wanted else quantities[0]

    # Sums.

    def _sum(self, part: Sequence[_Token]) -> list[float]:
        """What the sum of a part gives, with decimals and with thousands where marks can be either."""
        tokens = _last_run(_without_tolerance(_together(part, self.kind)))
        if not (_is_sum(tokens) or any(_is_quantity(one) and one.is_fraction for one in tokens)):
            return []
        found = (_Parser(tokens, which, self.kind).whole() for which in (0, -1))
        return [value for one in found if one is not None and (value := _value(one)) is not None]

    def _open_sum(
        self, part: Sequence[_Token], shown: str, near: float | None, style: Style
    ) -> Answer:
        """A sum without its result: it is worked out, and that is told."""
        values = self._sum(part)
        if not values:
            raise ReadingError(
                f"I cannot work out “{shown[:LONGEST_ECHO]}”. Write its result: {KINDS[self.kind].wanted}."
            )
        if values[0] < 0 and len(_outside_brackets(part)) == 2:
            raise ReadingError(
                f"“{shown[:LONGEST_ECHO]}” is a range, or a sum without its result. "
                f"Write {KINDS[self.kind].wanted}."
            )
        unit = _unit_of_all(part, self.kind) or units.unit_of("", self.kind)
        scale = [1.0, 0.01] if self.kind == "share" and unit is units.FRACTION else [1.0]
        factor = unit.factor if _only_last_has_unit(part) else 1.0
        found = [Reading(value * factor * each, 0.0, unit) for value in values for each in scale]
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
        tokens = [token for token in self.tokens if token != "neg"]
        return len(tokens) == 1


# From text to tokens.


def _tokens(text: str, kind: str) -> Iterator[_Token]:
    place, before = 0, ""
    while place < len(text):
        if text[place].isspace():
            place += 1
            continue
        found = _quantity(text, place, kind, before)
        if found:
            yield found
            place, before = found.end, "n"
            continue
        sign, place = _sign(text, place, before)
        if sign:
            yield sign
            before = sign


def _sign(text: str, place: int, before: str) -> tuple[str, int]:
    """A sign or a word at a place of the text, and where the next token may start."""
    letter, after, is_after_number = text[place], place + 1, before in ("n", ")")
    if letter in "()":
        return letter, after
    if letter in _EQUALS:
        return "=", after
    if letter == "-" and not is_after_number:
        return _minus(text, place, before), after
    if letter == ":" and not is_after_number:
        # “water: 446 g” names what it tells; “326 : 0.94” divides.
        return "=", after
    if letter in _SIGNS:
        return _SIGNS[letter], after
    word = _WORD.match(text, place)
    if not word:
        return "", after
    bare = word[0].lower().rstrip(".")
    if bare == "divided" and (by := _BY.match(text, word.end())):
        return "÷", by.end()
    if bare in _WORDS_FOR_SIGNS and (is_after_number or bare in ("x", "minus")):
        is_name = bare == "x" and not (is_after_number or _NUMBER.match(text, word.end()))
        return "w" if is_name else _WORDS_FOR_SIGNS[bare], word.end()
    return "w", word.end()


def _minus(text: str, place: int, before: str) -> str:
    """A minus of a number, or a dash after words: “water - 446 g”."""
    is_glued = text[place + 1 : place + 2].strip() != ""
    return "neg" if is_glued or before != "w" else ""


def _quantity(text: str, place: int, kind: str, before: str) -> _Quantity | None:
    """The number that starts at a place of the text, with its unit."""
    if kind == "time" and (clock := _CLOCK.match(text, place)):
        minutes = int(clock[1]) * 60.0 + int(clock[2])
        return _Quantity(((minutes, 0.5),), "min", place, clock.end())
    over: tuple[float, ...] = ()
    fraction = _FRACTION.match(text, place) if before != "÷" else None
    if fraction and int(fraction[3]):
        whole, top, under = (int(part or 0) for part in fraction.groups())
        numbers, end = ((whole + top / under, 0.5 / under),), fraction.end()
        over = (float(top), float(under))
    elif number := _NUMBER.match(text, place):
        numbers, end = tuple(_values(number[0])), number.end()
    else:
        return None
    if kind == "number" and (times := _TIMES.match(text, end)):
        return _Quantity(numbers, "", place, times.end())
    unit = _UNITS_OF[kind].match(text, end) or _ANY_UNIT.match(text, end)
    word = " ".join(unit[1].lower().split()) if unit else ""
    return _Quantity(numbers, word, place, unit.end() if unit else end, over)


def _values(digits: str) -> Iterator[tuple[float, float]]:
    """Each value a run of digits can have, with half of its last figure; decimals come first."""
    marks = [letter for letter in digits if not letter.isdigit()]
    grouped = bool(_GROUPS.fullmatch(digits)) and len(set(marks)) == 1 and digits[0] != "0"
    whole, mark, decimals = digits.rpartition(marks[-1]) if marks else (digits, "", "")
    is_decimal = mark in (".", ",") and marks.count(mark) == 1
    if is_decimal and (len(marks) == 1 or _GROUPS.fullmatch(whole)):
        number = re.sub(r"\D", "", whole) or "0"
        yield _finite(f"{number}.{decimals}"), 0.5 * 10.0 ** -len(decimals)
    if not marks or grouped:
        yield _finite(re.sub(r"\D", "", digits)), 0.5


def _finite(digits: str) -> float:
    number = float(digits)
    if not math.isfinite(number):
        raise ReadingError("That number is too large for any dough.")
    return number


def _words_after(text: str, place: int) -> list[str]:
    """The words right after a number, up to the next sign."""
    found = []
    while match := _WORD_AFTER.match(text, place):
        found.append(match[1])
        place = match.end()
    return found


# Tokens together.


def _is_quantity(token: _Token) -> bool:
    return isinstance(token, _Quantity)


def _parted(tokens: Sequence[_Token]) -> list[list[_Token]]:
    """The tokens between the equals signs."""
    parts: list[list[_Token]] = [[]]
    for token in tokens:
        if token == "=":
            parts.append([])
        else:
            parts[-1].append(token)
    return parts


def _together(part: Sequence[_Token], kind: str) -> list[_Token]:
    """Two units of one quantity made one: 5 lb 8 oz, 1 hour 39 minutes, 1h39."""
    made: list[_Token] = []
    for number, token in enumerate(part):
        before = made[-1] if made else None
        if before == "w" and len(made) > 1 and _is_quantity(made[-2]) and _is_quantity(token):
            # “1 hour and 39 minutes”: the word may stand between.
            joined = _joined(made[-2], token, kind)
            if joined and number:
                made[-2:] = [joined]
                continue
        joined = (
            _joined(before, token, kind) if _is_quantity(before) and _is_quantity(token) else None
        )
        if joined:
            made[-1] = joined
        else:
            made.append(token)
    return made


def _joined(one: _Quantity, two: _Quantity, kind: str) -> _Quantity | None:
    coarse, fine = units.BY_WORD.get((kind, one.unit)), units.BY_WORD.get((kind, two.unit))
    if coarse and coarse.symbol == "h" and not two.unit and two.numbers[0][0] < 60:
        fine = units.BY_SYMBOL["min"]
    if not (coarse and fine and (coarse.symbol, fine.symbol) in units.TOGETHER):
        return None
    more = one.numbers[0][0] * coarse.factor / fine.factor
    numbers = tuple((value + more, half) for value, half in two.numbers)
    return _Quantity(numbers, fine.symbol.lower(), one.start, two.end)


def _without_tolerance(part: list[_Token]) -> list[_Token]:
    """“446 ± 1 g” is 446 g."""
    if "±" not in part:
        return part
    place = part.index("±")
    before, after = part[:place], part[place + 1 :]
    if not any(map(_is_quantity, before)):
        return before + after
    last = before[-1]
    if _is_quantity(last) and not last.unit and after and _is_quantity(after[0]):
        before[-1] = replace(last, unit=after[0].unit)
    return before


def _outside_brackets(part: Sequence[_Token]) -> list[_Quantity]:
    """The quantities that no bracket holds, or all where brackets hold them all."""
    depth, outside = 0, []
    for token in part:
        depth += (token == "(") - (token == ")")
        if _is_quantity(token) and depth <= 0:
            outside.append(token)
    return outside or [token for token in part if _is_quantity(token)]


def _last_run(part: Sequence[_Token]) -> list[_Token]:
    """What comes after two numbers with no sign between: “… = 300, 300 / 2” goes on from the second."""
    start = 0
    for place, (one, two) in enumerate(pairwise(part), 1):
        if _is_quantity(one) and _is_quantity(two):
            start = place
    return list(part[start:])


def _is_sum(part: Sequence[_Token]) -> bool:
    """Whether a sign stands between two numbers."""
    places = [place for place, token in enumerate(part) if _is_quantity(token)]
    return any(token in ("+", "−", "×", "÷") for token in part[places[0] : places[-1]])


def _only_last_has_unit(part: Sequence[_Token]) -> bool:
    *before, last = [token for token in part if _is_quantity(token)]
    return bool(last.unit) and not any(one.unit for one in before)


def _unit_of_all(part: Sequence[_Token], kind: str) -> Unit | None:
    """The unit of the wanted kind that some number of a sum has."""
    found = (units.BY_WORD.get((kind, token.unit)) for token in part if _is_quantity(token))
    return next(filter(None, found), None)


class _Parser:
    """The expression of a sum, by the rules of precedence; `which` picks the value of a number."""

    def __init__(self, tokens: Sequence[_Token], which: int, kind: str) -> None:
        self.tokens = [token for token in tokens if token != "w"]
        self.which, self.kind, self.place = which, kind, 0
        self.bare = _only_last_has_unit(tokens)

    def whole(self) -> Expression | None:
        """The expression, if all of the tokens are one."""
        while self._next() in ("×", "÷", "+"):
            self.place += 1
        try:
            found = self._terms()
        except _NoSum:
            return None
        return found if self.place == len(self.tokens) else None

    def _next(self) -> _Token | None:
        return self.tokens[self.place] if self.place < len(self.tokens) else None

    def _terms(self) -> Expression:
        return self._chain(("+", "−"), self._factors)

    def _factors(self) -> Expression:
        return self._chain(("×", "÷"), self._operand)

    def _chain(self, signs: tuple[str, str], part) -> Expression:
        found = part()
        while (sign := self._next()) in signs:
            self.place += 1
            found = Operation(sign, found, part())
        return found

    def _operand(self) -> Expression:
        token = self._next()
        self.place += 1
        if token in ("neg", "−"):
            return Operation("−", Number(0.0), self._operand())
        if token == "(":
            inside = self._terms()
            if self._next() != ")":
                raise _NoSum
            self.place += 1
            return inside
        if not isinstance(token, _Quantity) or not token.numbers:
            raise _NoSum
        return Number(self._value(token))

    def _value(self, quantity: _Quantity) -> float:
        value = quantity.numbers[self.which][0]
        if not quantity.unit or self.bare:
            return value
        unit = units.BY_WORD.get((self.kind, quantity.unit)) or units.any_unit(quantity.unit)
        return value * unit.factor + unit.offset


class _NoSum(Exception):
    """The tokens are no sum."""


def _value(expression: Expression) -> float | None:
    """What a sum comes to; None where it divides by nothing."""
    try:
        found = evaluate(expression, lambda name: math.nan, float)
    except (ZeroDivisionError, OverflowError):
        return None
    return found if math.isfinite(found) else None


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


# A line of free working, piece by piece.


@dataclass(frozen=True)
class Worked:
    """One sum of a line with its result, or a number alone: its text, and what went into it.

    `operands` are the numbers of the sum in calc's unit (a percentage as a fraction), `signs` its
    signs; `words` are the words around the numbers, in small letters.
    """

    text: str
    operands: tuple[float, ...]
    signs: frozenset[str]
    words: frozenset[str]


_EQUALS_SIGN = re.compile(f"[{_EQUALS}]")


def worked(line: str) -> list[Worked]:
    """The sums of one line: “480 × 0.68 = 326 ÷ 0.94 = 347” holds two.

    Nothing for a line without a number, or a longer one than an answer can be.
    """
    line = units.plain_letters(line)
    if len(line) > LONGEST_ANSWER:
        return []
    words = frozenset(word.lower().rstrip(".") for word in _WORD.findall(line))
    sides = [side.strip() for side in _EQUALS_SIGN.split(line)]
    told = [(side, list(_tokens(side, "mass"))) for side in sides]
    told = [(side, tokens) for side, tokens in told if any(map(_is_quantity, tokens))]
    if len(told) < 3:
        sum_ = _sum_of(told)
        return [Worked(line.strip(), _numbers(sum_), _signs(sum_), words)] if told else []
    made = []
    for (left, sum_), (right, result) in pairwise(told):
        if _is_sum(sum_):
            first = next(filter(_is_quantity, result))
            end = first.end if _is_sum(result) else len(right)
            text = f"{left} = {right[:end]}"
            made.append(Worked(text, _numbers(sum_), _signs(sum_), words))
    return made


def sum_slip(text: str, style: Style = PLAIN) -> str:
    """Says so where a sum does not give its result, whatever is asked for; else empty."""
    tokens = [token for token in _tokens(units.plain_letters(text), "mass") if _is_quantity(token)]
    unit = tokens[-1].unit if tokens else ""
    kinds = [units.any_unit(unit).kind] if unit else ["number", "share"]
    slips = []
    for kind in kinds:
        try:
            slips.append(read_answer(text, kind, style=style).slip)
        except ReadingError:
            return ""
    return slips[0] if all(slips) else ""


def _sum_of(told: Sequence[tuple[str, list[_Token]]]) -> list[_Token]:
    """What goes into the last result: the sum before it, or an open sum."""
    return told[0][1] if told and (len(told) > 1 or _is_sum(told[0][1])) else []


def _signs(tokens: Sequence[_Token]) -> frozenset[str]:
    found = {token for token in tokens if token in ("+", "−", "×", "÷")}
    return frozenset(found | {"÷" for token in tokens if _is_quantity(token) and token.over})


def _numbers(tokens: Sequence[_Token]) -> tuple[float, ...]:
    """The numbers of some tokens, in calc's unit; a fraction's line divides two of them."""
    found = []
    for token in filter(_is_quantity, tokens):
        unit = units.any_unit(token.unit) if token.unit else None
        values = token.over or [value for value, _ in token.numbers]
        found += [value * (unit.factor if unit else 1.0) for value in values]
    return tuple(found)
