"""A line that somebody wrote: its numbers with their units, its signs, its words, and the sum in it.

A line becomes tokens: quantities, the signs ``+ − × ÷ ± ( ) =``, and words. `sums` works out what
is on one side of an equals sign; `worked` takes a line of working apart, sum by sum. Every
function takes time in proportion to the length of the text.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from calc import units
from calc.expression import Expression, Number, Operation, evaluate
from calc.units import KINDS, ReadingError, Unit

# A line of working is longer than a number; nothing longer is looked at.
LONGEST_ANSWER = 120

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


# Matches nothing.
_NEVER = "(?!)"


def _pattern(words: set[str]) -> re.Pattern:
    """Any of the units, the longest first, where no letter follows.

    Their letters are plain ones: where case is ignored, ſ would pass for s, and no table of units has it.
    """
    longest = sorted(words, key=len, reverse=True)
    spelt = (re.escape(word).replace(r"\ ", r"\s+") for word in longest)
    any_of_them = "|".join(spelt) or _NEVER
    return re.compile(rf"\s*((?a:{any_of_them}))(?![^\W\d_])", re.IGNORECASE)


_UNITS_OF = {
    kind: _pattern({word for other, word in units.BY_WORD if other == kind}) for kind in KINDS
}
_ANY_UNIT = _pattern({word for _, word in units.BY_WORD})
_TIMES = re.compile(r"\s*-?(?:times|fold|x|×)(?!\s*[\d(.])(?![^\W\d_])", re.IGNORECASE)


@dataclass(frozen=True)
class Quantity:
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
        """Whether it was written as one number over another."""
        return bool(self.over)


# What a line is made of: quantities, the signs + − × ÷ ± ( ) =, “neg” for a minus of a number
# alone, and “w” for words.
Token = Quantity | str


# From text to tokens.


def tokens(text: str, kind: str) -> Iterator[Token]:
    """What a line is made of, from left to right, read as amounts of a kind."""
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


def _quantity(text: str, place: int, kind: str, before: str) -> Quantity | None:
    """The number that starts at a place of the text, with its unit."""
    if kind == "time" and (clock := _CLOCK.match(text, place)):
        minutes = int(clock[1]) * 60.0 + int(clock[2])
        return Quantity(((minutes, 0.5),), "min", place, clock.end())
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
        return Quantity(numbers, "", place, times.end())
    unit = _UNITS_OF[kind].match(text, end) or _ANY_UNIT.match(text, end)
    word = " ".join(unit[1].lower().split()) if unit else ""
    return Quantity(numbers, word, place, unit.end() if unit else end, over)


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


def words_after(text: str, place: int) -> list[str]:
    """The words right after a number, up to the next sign."""
    found = []
    while match := _WORD_AFTER.match(text, place):
        found.append(match[1])
        place = match.end()
    return found


# Tokens together.


def is_quantity(token: Token) -> bool:
    """Whether it is a number, and not a sign or a word."""
    return isinstance(token, Quantity)


def parted(line: Sequence[Token]) -> list[list[Token]]:
    """The tokens between the equals signs."""
    parts: list[list[Token]] = [[]]
    for token in line:
        if token == "=":
            parts.append([])
        else:
            parts[-1].append(token)
    return parts


def together(part: Sequence[Token], kind: str) -> list[Token]:
    """Two units of one quantity made one: 5 lb 8 oz, 1 hour 39 minutes, 1h39."""
    made: list[Token] = []
    for number, token in enumerate(part):
        before = made[-1] if made else None
        if before == "w" and len(made) > 1 and is_quantity(made[-2]) and is_quantity(token):
            # “1 hour and 39 minutes”: the word may come between.
            joined = _joined(made[-2], token, kind)
            if joined and number:
                made[-2:] = [joined]
                continue
        joined = (
            _joined(before, token, kind) if is_quantity(before) and is_quantity(token) else None
        )
        if joined:
            made[-1] = joined
        else:
            made.append(token)
    return made


def _joined(one: Quantity, two: Quantity, kind: str) -> Quantity | None:
    coarse, fine = units.BY_WORD.get((kind, one.unit)), units.BY_WORD.get((kind, two.unit))
    # "0’0" is a number that cannot be told.
    if not (one.numbers and two.numbers):
        return None
    if coarse and coarse.symbol == "h" and not two.unit and two.numbers[0][0] < 60:
        fine = units.BY_SYMBOL["min"]
    if not (coarse and fine and (coarse.symbol, fine.symbol) in units.TOGETHER):
        return None
    more = one.numbers[0][0] * coarse.factor / fine.factor
    numbers = tuple((value + more, half) for value, half in two.numbers)
    return Quantity(numbers, fine.symbol.lower(), one.start, two.end)


def without_tolerance(part: list[Token]) -> list[Token]:
    """“446 ± 1 g” is 446 g."""
    if "±" not in part:
        return part
    place = part.index("±")
    before, after = part[:place], part[place + 1 :]
    if not any(map(is_quantity, before)):
        return before + after
    last = before[-1]
    if is_quantity(last) and not last.unit and after and is_quantity(after[0]):
        before[-1] = replace(last, unit=after[0].unit)
    return before


def outside_brackets(part: Sequence[Token]) -> list[Quantity]:
    """The quantities that no bracket holds, or all where brackets hold them all."""
    depth, outside = 0, []
    for token in part:
        depth += (token == "(") - (token == ")")
        if is_quantity(token) and depth <= 0:
            outside.append(token)
    return outside or [token for token in part if is_quantity(token)]


def _last_run(part: Sequence[Token]) -> list[Token]:
    """What comes after two numbers with no sign between: “… = 300, 300 / 2” goes on from the second."""
    start = 0
    for place, (one, two) in enumerate(pairwise(part), 1):
        if is_quantity(one) and is_quantity(two):
            start = place
    return list(part[start:])


def is_sum(part: Sequence[Token]) -> bool:
    """Whether a sign is between two numbers."""
    places = [place for place, token in enumerate(part) if is_quantity(token)]
    return any(token in ("+", "−", "×", "÷") for token in part[places[0] : places[-1]])


def only_last_has_unit(part: Sequence[Token]) -> bool:
    """Whether one unit, after the last number, is meant for all of them."""
    *before, last = [token for token in part if is_quantity(token)]
    return bool(last.unit) and not any(one.unit for one in before)


def unit_of_all(part: Sequence[Token], kind: str) -> Unit | None:
    """The unit of the wanted kind that some number of a sum has."""
    found = (units.BY_WORD.get((kind, token.unit)) for token in part if is_quantity(token))
    return next(filter(None, found), None)


class _Parser:
    """The expression of a sum, by the rules of precedence; `which` picks the value of a number."""

    def __init__(self, part: Sequence[Token], which: int, kind: str) -> None:
        self.tokens = [token for token in part if token != "w"]
        self.which, self.kind, self.place = which, kind, 0
        self.bare = only_last_has_unit(part)

    def whole(self) -> Expression | None:
        """The expression, if all of the tokens are one."""
        while self._next() in ("×", "÷", "+"):
            self.place += 1
        try:
            found = self._terms()
        except _NoSum:
            return None
        return found if self.place == len(self.tokens) else None

    def _next(self) -> Token | None:
        return self.tokens[self.place] if self.place < len(self.tokens) else None

    def _terms(self) -> Expression:
        return self._chain(("+", "−"), self._factors)

    def _factors(self) -> Expression:
        return self._chain(("×", "÷"), self._operand)

    def _chain(self, signs: tuple[str, str], part: Callable[[], Expression]) -> Expression:
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
        if not isinstance(token, Quantity) or not token.numbers:
            raise _NoSum
        return Number(self._value(token))

    def _value(self, quantity: Quantity) -> float:
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


def sums(part: Sequence[Token], kind: str) -> list[float]:
    """What the sum of a part gives as a plain number, with decimals and with thousands where marks can be either."""
    run = _last_run(without_tolerance(together(part, kind)))
    if not (is_sum(run) or any(is_quantity(one) and one.is_fraction for one in run)):
        return []
    found = (_Parser(run, which, kind).whole() for which in (0, -1))
    return [value for one in found if one is not None and (value := _value(one)) is not None]


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
    told = [(side, list(tokens(side, "mass"))) for side in sides]
    told = [(side, part) for side, part in told if any(map(is_quantity, part))]
    if len(told) < 3:
        sum_ = _sum_of(told)
        return [Worked(line.strip(), _numbers(sum_), _signs(sum_), words)] if told else []
    made = []
    for (left, sum_), (right, result) in pairwise(told):
        if is_sum(sum_):
            first = next(filter(is_quantity, result))
            end = first.end if is_sum(result) else len(right)
            text = f"{left} = {right[:end]}"
            made.append(Worked(text, _numbers(sum_), _signs(sum_), words))
    return made


def _sum_of(told: Sequence[tuple[str, list[Token]]]) -> list[Token]:
    """What goes into the last result: the sum before it, or an open sum."""
    return told[0][1] if told and (len(told) > 1 or is_sum(told[0][1])) else []


def _signs(part: Sequence[Token]) -> frozenset[str]:
    found = {token for token in part if token in ("+", "−", "×", "÷")}
    return frozenset(found | {"÷" for token in part if is_quantity(token) and token.over})


def _numbers(part: Sequence[Token]) -> tuple[float, ...]:
    """The numbers of some tokens, in calc's unit; a fraction's line divides two of them."""
    found = []
    for token in filter(is_quantity, part):
        unit = units.any_unit(token.unit) if token.unit else None
        values = token.over or [value for value, _ in token.numbers]
        found += [value * (unit.factor if unit else 1.0) for value in values]
    return tuple(found)
