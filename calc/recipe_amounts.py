"""Amounts in a line of a recipe: weights, cups and spoons, percentages, counts, packs, and what only looks like one.

A line is cut into tokens once, and each amount is a run of them. What an amount weighs is asked of
`calc.units` and `calc.household`: no figure of theirs is here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from calc import household, units
from calc.composition import Ingredient
from calc.interval import Interval
from calc.units import ReadingError
from calc.words import the

_TOKEN = re.compile(
    r"""(?P<number>(?:\d{1,3}(?:\s+|-))?\d{1,3}/\d{1,3}(?![\d/])      # 1 1/2, 1-1/2, 3/4
        |\d{1,3}(?:[ ]\d{3})+(?=\s?(?:g|ml)\b(?!\s(?:tin|can|pa|tub|jar|carton))) # 1 000 g
        |\d{1,12}(?:[.,]\d{1,6})*|[.,]\d{1,6})
    |(?P<word>[^\W\d_](?:[\w'’]|-(?=[^\W\d_]))*)
    |(?P<percent>%)
    |(?P<money>[€$£])
    |(?P<degree>[°º])
    |(?P<mark>\S)""",
    re.VERBOSE,
)


@dataclass(frozen=True)
class Token:
    """A number, a word or a mark of a line, and where it is."""

    kind: str
    text: str
    start: int
    end: int

    @property
    def word(self) -> str:
        """A word in small letters, without a full stop."""
        return self.text.casefold()


def tokens(line: str) -> list[Token]:
    """A line's tokens. Takes time in proportion to its length."""
    return [
        Token(found.lastgroup or "mark", found[0], found.start(), found.end())
        for found in _TOKEN.finditer(line)
    ]


@dataclass(frozen=True)
class Amount:
    """One amount: the tokens from `start` up to `end`, and how much of `unit` it is, from `low` to `high`.

    `kind` is ``mass`` (grams), ``share`` (a fraction), ``volume`` (as `household` reads it), ``count``,
    ``pack`` (a sachet, a can), ``vague`` (a pinch) or ``other`` (a time, a price: no amount at all).
    `text` is what a form's field takes; `note` says what was taken for granted.
    """

    start: int
    end: int
    kind: str
    low: float
    high: float
    unit: str = ""
    text: str = ""
    note: str = ""
    doubt: tuple[float, ...] = ()

    @property
    def middle(self) -> float:
        """The middle of a range."""
        return (self.low + self.high) / 2

    def times(self, count: float) -> Amount:
        """So many of it."""
        return Amount(
            self.start, self.end, self.kind, self.low * count, self.high * count, self.unit, "", self.note
        )  # fmt: skip


# Words for units, as household or units knows them. Europe's dekagram is no unit of theirs.
_MASS = {word: unit.factor for (kind, word), unit in units.BY_WORD.items() if kind == "mass"}
_MASS |= {"dag": 10.0, "dkg": 10.0, "deka": 10.0, "dekagram": 10.0, "dekagrams": 10.0}
_VOLUME = {word: unit.symbol for (kind, word), unit in units.BY_WORD.items() if kind == "volume"}
_VOLUME |= units.MEASURES | {"stick": "stick", "sticks": "stick"}
_COARSE = {"kg", "kilo", "kilos", "lb", "lbs", "pound", "pounds"}
# In capitals or small letters these differ; a C after a large number is a temperature.
_SIGNS = {"T": "tbsp", "t": "tsp", "c": "cup", "C": "cup", "Tb": "tbsp"}
_PLACES = {"us", "uk", "metric", "imperial", "american", "british", "australian"}
_LEVEL = {"level", "scant", "lightly", "packed", "full", "generous", "heaped", "heaping", "rounded"}
_HEAPED = {"generous", "heaped", "heaping", "rounded"}
_PACKS = {
    "sachet", "packet", "pack", "package", "pkg", "pkt", "envelope", "can", "tin", "tub", "pot", "jar",
    "carton", "bottle", "box", "bag", "container", "block", "cube", "tube", "bar", "brick",
}  # fmt: skip
_VAGUE = {
    "pinch", "dash", "handful", "knob", "splash", "drizzle", "sprinkle", "bit", "glug", "drop", "drops", "few",
    "little", "touch", "some",
}  # fmt: skip
# A number before these is no amount of an ingredient.
_TIMES = {
    "min",
    "mins",
    "minute",
    "minutes",
    "hour",
    "hours",
    "hr",
    "hrs",
    "h",
    "days",
    "day",
    "seconds",
}
_SIZES = {
    "cm",
    "mm",
    "inch",
    "inches",
    "kcal",
    "kj",
    "calories",
    "cal",
    "p",
    "usd",
    "eur",
    "euro",
    "euros",
    "dollars",
}
_SPOKEN = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "twelve": 12, "dozen": 12, "half": 0.5, "quarter": 0.25,
}  # fmt: skip
_APPROXIMATE = {
    "about",
    "approx",
    "approximately",
    "ca",
    "circa",
    "roughly",
    "around",
    "nearly",
    "scarce",
}
_TO = {"-", "–", "—", "to"}
# A bare number this large is a temperature where C or F follows.
_LEAST_TEMPERATURE = 15


def amounts(found: Sequence[Token]) -> list[Amount]:
    """Every amount among some tokens, in their order; a number in a name (type 550) is none."""
    made: list[Amount] = []
    at = 0
    while at < len(found):
        amount = _Scan(found, at).amount()
        if amount and amount.end > at:
            made.append(amount)
            at = amount.end
        else:
            at += 1
    return made


def is_unit(word: str) -> bool:
    """Whether a word is a unit of weight or volume."""
    return word.casefold() in _MASS or word.casefold() in _VOLUME or word in _SIGNS


class _Scan:
    """Reads one amount from a place on."""

    def __init__(self, found: Sequence[Token], at: int) -> None:
        self.found, self.at, self.begin = found, at, at
        self.note = ""
        self.doubt: tuple[float, ...] = ()

    def word(self, ahead: int = 0) -> str:
        """The word or mark at a place; nothing at the end."""
        place = self.at + ahead
        return self.found[place].word if place < len(self.found) else ""

    def kind(self, ahead: int = 0) -> str:
        place = self.at + ahead
        return self.found[place].kind if place < len(self.found) else ""

    def amount(self) -> Amount | None:
        if self.kind() == "money" or (self.word() == "@" and self.kind(1) == "number"):
            return self._price()
        if self.word() in (*_APPROXIMATE, "~", "≈"):
            self.at += 1
            self.at += self.word() == "."
        article = self.word() in ("a", "an")
        numbers = self._number()
        numbers = self._and_a_half(numbers) if numbers else None
        if numbers is None and article:
            self.at += 1
            numbers = self._number() or (1.0, 1.0)
            bare = False
        else:
            bare = True
        if numbers is None:
            return self._vague()
        if self._in_a_name():
            return None
        return self._with_unit(*numbers, bare)

    # Numbers.

    def _number(self) -> tuple[float, float] | None:
        low = self._one()
        if low is None:
            return None
        start = self.at
        unit_between = self._skip_unit()
        if (self.word() in _TO or (self.word() == "or" and not unit_between)) and self.kind(
            1
        ) == "number":
            self.at += 1
            high = self._one()
            if high is not None and high > low:
                return low, high
        self.at = start
        return low, low

    def _and_a_half(self, numbers: tuple[float, float]) -> tuple[float, float]:
        """One and a half."""
        start = self.at
        if self.word() == "and":
            self.at += 1 + (self.word(1) == "a")
            more = {"half": 0.5, "quarter": 0.25}.get(self.word())
            if more:
                self.at += 1
                return numbers[0] + more, numbers[1] + more
        self.at = start
        return numbers

    def _skip_unit(self) -> bool:
        """Over the unit between the ends of a range: 300 g to 320 g."""
        if self.word() in _MASS or self.word() in _VOLUME:
            self.at += 1
            return True
        return False

    def _one(self) -> float | None:
        if self.kind() == "number":
            value = self._figures(self.found[self.at].text)
            self.at += 1
            return value
        # Half and half is a cream.
        parts = self.word() in ("half", "quarter") and not self._before_a_unit()
        if self.word() in _SPOKEN and self.kind() == "word" and not parts:
            value = float(_SPOKEN[self.word()])
            self.at += 1
            while self.word() in ("a", "an", "dozen") and self.kind() == "word":
                value *= 12 if self.word() == "dozen" else 1
                self.at += 1
            return value
        return None

    def _before_a_unit(self) -> bool:
        """Whether half of something is meant."""
        after = self.word(1)
        return after in ("a", "an", "the", "dozen") or after in _VOLUME or after in _MASS

    def _figures(self, text: str) -> float:
        """The value of a number; where a mark in it may be of thousands, both values are in `doubt`."""
        text = re.sub(r"(?<=\d)-(?=\d+/)", " ", text)
        if re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", text):
            self.doubt = (float(re.sub(r"\D", "", text)), float(text.replace(",", ".")))
            return self.doubt[0 if "," in text else 1]
        try:
            return units.read(text, "number").value
        except ReadingError:
            return 0.0

    # Units.

    def _in_a_name(self) -> bool:
        """“Type 550”, “00 flour”: a number that says which flour."""
        before = self.found[self.begin - 1].word if self.begin else ""
        text = self.found[self.begin].text
        named = before in ("type", "typ", "tipo", "no", "grade") or text in ("0", "00", "000")
        return named and self.begin < len(self.found) and not self._unit_word()

    def _unit_word(self) -> bool:
        return self.word() in _MASS or self.word() in _VOLUME or self.kind() == "percent"

    def _with_unit(self, low: float, high: float, bare: bool) -> Amount | None:
        if self.word() in ("x", "×"):
            each = _Scan(self.found, self.at + 1).amount()
            if each and each.kind in ("mass", "volume"):
                end = each.end
                return Amount(
                    self.begin, end, each.kind, low * each.low, high * each.high, each.unit
                )
        if self.word() == "-" and self.kind(1) == "word" and self.word(1) in {**_MASS, **_VOLUME}:
            self.at += 1
        if self._no_amount(low):
            return self._made("other", low, high)
        if self.kind() == "percent" or self.word() in ("percent", "pct"):
            self.at += 1
            return self._made("share", low / 100, high / 100)
        if self.word() == "per" and self.word(1) == "cent":
            self.at += 2
            return self._made("share", low / 100, high / 100)
        return self._measure(low, high) or self._pack(low, high) or self._plain(low, high, bare)

    def _no_amount(self, low: float) -> bool:
        """Over a temperature, a time, a size or a price."""
        if self.kind() == "degree" or self.word() in ("deg", "degrees", "degree"):
            self.at += 1
            self.at += self.word() in ("c", "f", "celsius", "fahrenheit")
            return True
        if self.word() in ("c", "f") and low >= _LEAST_TEMPERATURE:
            self.at += 1
            return True
        if self.kind() == "money" or self.word() in (*_TIMES, *_SIZES):
            self.at += 1
            return True
        return False

    def _measure(self, low: float, high: float) -> Amount | None:
        start, place, heaped = self.at, "", False
        while self.word() in _PLACES or self.word() in _LEVEL or self.word() == ".":
            place = f"{self.word()} " if self.word() in _PLACES else place
            heaped = heaped or self.word() in _HEAPED
            self.at += 1
        found = self._unit()
        if not found:
            self.at = start
            return None
        kind, unit = found
        if heaped:
            self.note = "a heaped one holds more than a level one"
            return self._made("vague", low, high, unit)
        if kind == "mass":
            return self._mass(low, high, unit)
        return self._made("volume", low, high, f"{place}{unit}")

    def _unit(self) -> tuple[str, str] | None:
        text = self.found[self.at].text if self.at < len(self.found) else ""
        if text in _SIGNS:
            self._step()
            return "volume", _SIGNS[text]
        word = self.word()
        if word in ("fl", "fluid"):
            self._step()
            if self.word() in ("oz", "ounce", "ounces"):
                self._step()
            return "volume", "fl oz"
        if word in _VOLUME:
            # “2 L eggs” are eggs of a class.
            if text == "L" and self.word(1) in ("egg", "eggs"):
                return None
            self._step()
            return "volume", _VOLUME[word]
        if word in _MASS:
            self._step()
            return "mass", word
        return None

    def _step(self) -> None:
        """Over a unit and its full stop."""
        self.at += 1
        self.at += self.word() == "."

    def _mass(self, low: float, high: float, unit: str) -> Amount:
        factor = _MASS[unit]
        low, high = low * factor, high * factor
        if unit in _COARSE and self.kind() == "number":
            rest = _Scan(self.found, self.at).amount()
            fine = {"kg": ("g",)}.get(unit, ("oz", "ounce", "ounces"))
            if rest and rest.kind == "mass" and rest.unit in fine:
                self.at = rest.end
                return self._made("mass", low + rest.low, high + rest.high, unit)
        if unit in _COARSE or ("." in self.found[self.begin].text and factor != 1):
            # 1,250 kg is 1.25 kg: nobody writes a tonne so.
            low, high = (low, high) if not self.doubt else (self.doubt[1] * factor,) * 2
            self.doubt = ()
        self.doubt = tuple(each * factor for each in self.doubt)
        return self._made("mass", low, high, unit)

    def _pack(self, low: float, high: float) -> Amount | None:
        word = self.word()
        for name in (word, word.removesuffix("s"), word.removesuffix("es")):
            if name in _PACKS:
                self.at += 1
                self.at += self.word() == "."
                return self._made("pack", low, high, name)
        return None

    def _plain(self, low: float, high: float, bare: bool) -> Amount | None:
        """A count; “a pinch” is no count, and “a” alone says nothing."""
        if (
            self.word().removesuffix("es") in ("pinch", "dash")
            or self.word().removesuffix("s") in _VAGUE
        ):
            self.at += 1
            return self._made("vague", low, high, self.found[self.at - 1].word)
        return self._made("count", low, high) if bare else None

    def _vague(self) -> Amount | None:
        if self.word() in _VAGUE and self.kind() == "word":
            self.at += 1
            return self._made("vague", 1, 1, self.found[self.at - 1].word)
        return None

    def _price(self) -> Amount | None:
        self.at += 1
        low = self._one()
        if low is None:
            return None
        if not self._no_amount(low) and self.word() == "/" and is_unit(self.word(1)):
            self.at += 2
        return self._made("other", 0, 0)

    def _made(self, kind: str, low: float, high: float, unit: str = "") -> Amount:
        text = ""
        if kind == "volume":
            ends = [f"{round(each, 4):g}" for each in dict.fromkeys((low, high))]
            text = f"{ends[0]} {unit}" if len(ends) == 1 else ""
        doubt = self.doubt if kind in ("mass", "count", "volume") else ()
        return Amount(self.begin, self.at, kind, low, high, unit, text, self.note, doubt)


# What an amount weighs.


@dataclass(frozen=True)
class Weight:
    """Grams, what they may really be where they were not weighed, what to say of it, and a field's text."""

    grams: float
    around: Interval | None = None
    how: str = ""
    typed: str = ""


def weigh(amount: Amount, ingredient: Ingredient, words: Sequence[str] = ()) -> Weight:
    """What an amount of an ingredient weighs; `words` are those around it, which may say an egg's size.

    Raises ReadingError, with what to write, where it says no weight.
    """
    if amount.kind == "mass":
        around = Interval(amount.low, amount.high) if amount.low != amount.high else None
        how = "the middle of the range" if around else ""
        return Weight(amount.middle, around, how)
    if amount.kind == "volume":
        return _household(ingredient, *(f"{each:g} {amount.unit}" for each in _ends(amount)))
    if amount.kind == "count" and ingredient.key in household.EGGS:
        size = " ".join(_egg_words(words))
        return _household(ingredient, *(f"{each:g} {size} eggs" for each in _ends(amount)))
    if amount.kind == "vague":
        raise ReadingError(f"“{amount.unit}” can be anything. Weigh it.")
    raise ReadingError(f"How much does it weigh? The recipe counts {the(ingredient.name)}.")


def _ends(amount: Amount) -> list[float]:
    return list(dict.fromkeys((round(amount.low, 4), round(amount.high, 4))))


def _household(ingredient: Ingredient, *texts: str) -> Weight:
    read = [household.read(" ".join(text.split()), ingredient) for text in texts]
    grams = sum(each.grams for each in read) / len(read)
    around = Interval(min(each.bounds.low for each in read), max(each.bounds.high for each in read))
    how = read[0].how if len(read) == 1 else f"the middle of the range; {read[0].how}"
    return Weight(grams, around, how, read[0].typed if len(read) == 1 else "")


_EGG_WORDS = {"small", "medium", "large", "extra", "jumbo", "eu", "uk", "us", "s", "m", "l", "xl"}


_SHORT_SIZES = {"lg": "large", "lrg": "large", "med": "medium", "sm": "small", "sml": "small"}


def _egg_words(words: Sequence[str]) -> list[str]:
    return [each for word in words if (each := _SHORT_SIZES.get(word, word)) in _EGG_WORDS]
