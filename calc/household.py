"""Cups, spoons, millilitres and eggs: what they weigh, and how far that may be off.

A volume becomes a weight through the ingredient's own figures in the composition table: its
density where it is poured, or what it weighs by cup and spoon, from loose to packed (`bulk`).

- US cup, tablespoon, teaspoon, fluid ounce: NIST Handbook 44, appendix C (a gallon of 231 cubic
  inches; from memory). Metric cup 250 ml, tablespoon 15 ml, teaspoon 5 ml; the Australian
  tablespoon is 20 ml, the imperial fluid ounce 28.41 ml (common practice, from memory). Those of US
  food labels: 21 CFR 101.9(b)(5)(viii).
- EU and UK eggs by weight class: Regulation (EC) 589/2008, article 4, taken over by Delegated
  Regulation (EU) 2023/2465: S under 53 g, M 53 to 63 g, L 63 to 73 g, XL 73 g and more.
- US eggs: least weight of a dozen, 7 CFR 56.218 (from memory): 18, 21, 24, 27 and 30 ounces.
- Shell off, an egg is 86 to 90 % of its weight, and yolk 29 to 36 % of that (common practice).
- Quail, duck and goose eggs: the household weights of the USDA table (from memory).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from calc import composition, units
from calc.composition import Ingredient
from calc.interval import Interval
from calc.names import plain
from calc.units import PLAIN, ReadingError, Style
from calc.words import the

# A density of the table is taken for products up to this much lighter or heavier, in g/ml.
DENSITY_SPREAD = 0.01


@dataclass(frozen=True)
class Measure:
    """A measure of volume: ml as it is taken, the range of what it may be, what it is called, and
    what others of that name hold.
    """

    ml: float
    range: Interval
    called: str = ""
    others: str = ""


def _exactly(ml: float, called: str = "") -> Measure:
    return Measure(ml, Interval.exactly(ml), called)


_US_CUP, _US_SPOON, _US_OUNCE, _UK_OUNCE = 236.588, 14.787, 29.5735, 28.4131
_CUP = Measure(
    _US_CUP,
    Interval(_US_CUP, 250),
    "a US cup of 236.6 ml",
    "a metric cup holds 250 ml",
)
_SPOON = Measure(
    15, Interval(_US_SPOON, 15), "a tablespoon of 15 ml", "an Australian one holds 20 ml"
)
_TEASPOON = Measure(5, Interval(_US_SPOON / 3, 5), "a teaspoon of 5 ml")
_OUNCE = Measure(
    _US_OUNCE, Interval(_UK_OUNCE, _US_OUNCE), "a US fluid ounce of 29.6 ml", "an imperial one holds 28.4 ml"
)  # fmt: skip
# On a US food label, in ml.
ON_A_LABEL = {"cup": 240.0, "tbsp": 15.0, "tsp": 5.0, "fl oz": 30.0}
_NAMED = {
    "us": {"cup": _US_CUP, "tbsp": _US_SPOON, "tsp": _US_SPOON / 3, "fl oz": _US_OUNCE,
           "pint": 16 * _US_OUNCE, "quart": 32 * _US_OUNCE},
    "uk": {"cup": 284.131, "tbsp": 15, "tsp": 5, "fl oz": _UK_OUNCE, "pint": 568.261,
           "quart": 1136.52},
    "metric": {"cup": 250, "tbsp": 15, "tsp": 5},
    "au": {"cup": 250, "tbsp": 20, "tsp": 5},
    "label": ON_A_LABEL,
}  # fmt: skip
_PLACES = {
    **dict.fromkeys(("us", "american", "customary"), "us"),
    **dict.fromkeys(("uk", "british", "imperial"), "uk"),
    **dict.fromkeys(("metric", "canadian", "nz", "eu", "european"), "metric"),
    **dict.fromkeys(("au", "australian", "aussie"), "au"),
    **dict.fromkeys(("label", "legal"), "label"),
}
_VOLUMES = {
    word: _exactly(unit.factor) for (kind, word), unit in units.BY_WORD.items() if kind == "volume"
}
_UNNAMED = {"cup": _CUP, "tbsp": _SPOON, "tsp": _TEASPOON, "fl oz": _OUNCE}

# Eggs. A share as it is reckoned, and its range.
_SHELL_OFF = 0.88, Interval(0.86, 0.90)
_PARTS = {
    "egg": (1.0, Interval.exactly(1.0)),
    "egg-yolk": (0.34, Interval(0.29, 0.36)),
    "egg-white": (0.66, Interval(0.62, 0.71)),
}
# In the shell, grams: what is reckoned with, and what eggs of that name weigh.
_SIZES = ("extra large", "small", "medium", "large", "jumbo")
_DOZEN = {"small": 18, "medium": 21, "large": 24, "extra large": 27, "jumbo": 30}
_OUNCE_OF_12 = units.BY_SYMBOL["oz"].factor / 12
_US_EGGS = {
    name: (ounces * _OUNCE_OF_12, Interval(ounces * _OUNCE_OF_12, (ounces + 3) * _OUNCE_OF_12))
    for name, ounces in _DOZEN.items()
}
_EU_EGGS = {
    "s": (49.0, Interval(43.0, 53.0)),
    "m": (58.0, Interval(53.0, 63.0)),
    "l": (68.0, Interval(63.0, 73.0)),
    "xl": (76.0, Interval(73.0, 83.0)),
}
_EU_SIZES = {"small": "s", "medium": "m", "large": "l", "extra large": "xl", "jumbo": "xl"}
# What is taken where no size is named: US large or EU medium.
_USUAL = _US_EGGS["large"][0], Interval(_EU_EGGS["m"][1].low, _US_EGGS["large"][1].high)
# Shell off, grams: other birds' eggs.
_OTHER_EGGS = {
    "quail-egg": (9.0, Interval(7.5, 10.5)),
    "duck-egg": (70.0, Interval(58.0, 80.0)),
    "goose-egg": (144.0, Interval(120.0, 170.0)),
}
_BIRDS = {"quail", "duck", "goose"}
_COUNTED = {"egg", "yolk", "stick"}
# The keys of the eggs that can be counted.
EGGS = (*_PARTS, *_OTHER_EGGS)
# A stick is a quarter of a pound by US packing.
_STICK = units.BY_SYMBOL["lb"].factor / 4

_NUMBER_WORDS = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
    "eight": 8, "nine": 9, "ten": 10, "twelve": 12, "dozen": 12, "half": 0.5, "quarter": 0.25,
    "third": 1 / 3,
}  # fmt: skip
_IDLE = {"of", "level", "scant", "whole", "fresh", "hens", "hen", "chicken", "class", "size", "us"}
_HEAPED = {"heaped", "heaping", "rounded", "generous", "pinch", "dash", "handful", "knob", "splash"}
_SPLIT = re.compile(r"^\s*-?\s*(?P<number>[\d.,/\s]*\d)?\s*(?P<words>.*)$", re.DOTALL)
# Longer than “2 1/2 US tablespoons of sweetened condensed milk”.
LONGEST = 80


@dataclass(frozen=True)
class Measured:
    """What a measure of an ingredient weighs: grams, the bounds (grams), and how it was taken.

    Nobody reckons with the figures behind the decimal point of a cup: the grams are round ones.
    """

    grams: float
    bounds: Interval
    typed: str
    how: str

    def says(self, style: Style = PLAIN) -> str:
        """In one sentence, what was taken: “250 ml: 258 g, at 1.03 g/ml; from 255 to 260 g.”"""
        grams, low, high = (
            units.write(each, "mass", style)
            for each in (self.grams, self.bounds.low, self.bounds.high)
        )
        off = f"; from {low.rpartition(' ')[0]} to {high}" if low != high else ""
        how = re.sub(r"(?<=\d)\.(?=\d)", style.decimal, self.how)
        return f"{self.typed}: {grams}, {how}{off}."


def is_measure(text: str) -> bool:
    """Whether a text is a volume or a count of eggs or sticks, and no weight or percentage."""
    if "%" in text or len(text) > LONGEST:
        return False
    number, spoken, words = _counted_words(text)
    if not (number or spoken) or not words or ("mass", words[0]) in units.BY_WORD:
        return False
    return _is_counted(words) or _volume(words) is not None


def read(text: str, ingredient: Ingredient) -> Measured:
    """What a measure of an ingredient weighs. Raises ReadingError, with what to write instead.

    >>> from calc.composition import find
    >>> read("250 ml", find("buttermilk")).grams
    257.5
    """
    typed = " ".join(text.split())
    if units.plain_letters(typed).startswith("-"):
        raise ReadingError("A measure cannot be less than nothing. Leave the minus sign out.")
    number, spoken, words = _counted_words(text[:LONGEST])
    count = _count(number, spoken)
    for heaped in _HEAPED.intersection(words):
        raise ReadingError(f"“{heaped}” can be anything. Weigh it, or fill the spoon level.")
    found = _volume(words)
    if not found:
        return _rounded(_counted(typed, count, words, ingredient))
    before, word, after = found
    _check_name(after, ingredient)
    return _rounded(_poured(typed, count, _measure(word, before), ingredient))


def _rounded(measured: Measured) -> Measured:
    grams = round(measured.grams, 1 if measured.grams >= 10 else 2)
    low, high = measured.bounds.low, measured.bounds.high
    return replace(measured, grams=grams, bounds=Interval(min(low, grams), max(high, grams)))


def _counted_words(text: str) -> tuple[str, list[str], list[str]]:
    """The figures at the start of a text, the words for numbers after them, and all other words.

    Words are in small letters, singular and without marks.
    """
    match = _SPLIT.match(units.plain_letters(text))
    # U.S. is one word.
    words = plain(re.sub(r"\b(\w)\.(?=\w\b)", r"\1", match["words"])).split()
    spoken = 0
    while spoken < len(words) and words[spoken] in (*_NUMBER_WORDS, "&", "of"):
        spoken += 1
    return (match["number"] or "").strip(), words[:spoken], words[spoken:]


def _count(number: str, spoken: list[str]) -> float:
    """How many: half a cup is half of one, one and a half cups are one and half of one.

    Raises ReadingError where the figures cannot be read.
    """
    value = units.read(number, "number").value if number else 1.0
    added = 0.0
    for word in spoken:
        if word == "&":
            added, value = added + value, 1.0
        value *= _NUMBER_WORDS.get(word, 1)
    return added + value


def _is_counted(words: list[str]) -> bool:
    return bool(_COUNTED.intersection(words)) or words[-1:] == ["white"]


def _volume(words: list[str]) -> tuple[list[str], str, list[str]] | None:
    """The measure in some words, with the words before and after it; None where there is none."""
    for at in range(len(words)):
        for end in (at + 2, at + 1):
            word = " ".join(words[at:end])
            # “2 L eggs” are eggs of a class, not litres.
            if word in _VOLUMES or word in units.MEASURES:
                if word == "l" and _is_counted(words):
                    continue
                return words[:at], word, words[end:]
    return None


def _measure(word: str, before: list[str]) -> Measure:
    if word in _VOLUMES:
        return _VOLUMES[word]
    kind = units.MEASURES[word]
    place = next((_PLACES[each] for each in before if each in _PLACES), "")
    if place and kind in _NAMED[place]:
        ml = _NAMED[place][kind]
        return _exactly(
            ml, f"{'an' if place in ('au', 'uk') else 'a'} {_article(place)} {word} of {ml:.4g} ml"
        )
    if kind not in _UNNAMED:
        raise ReadingError(
            f"A {kind} is larger in the UK than in the US. Write millilitres, “US {kind}” or “UK {kind}”."
        )
    return _UNNAMED[kind]


def _article(place: str) -> str:
    return {"us": "US", "uk": "imperial", "au": "Australian"}.get(place, place)


def _check_name(words: list[str], ingredient: Ingredient) -> None:
    """A name after the measure must be the ingredient's own."""
    named = " ".join(word for word in words if word not in _IDLE)
    if not named:
        return
    try:
        meant = composition.find(named)
    except composition.UnknownIngredient:
        if named in plain(ingredient.name):
            return
        raise ReadingError(
            f"This is the field for {ingredient.name}. Leave “{named}” out, or choose it in the list."
        ) from None
    if meant != ingredient:
        raise ReadingError(
            f"“{named}” is {meant.name}, and this is the field for {ingredient.name}. "
            "Choose it in the list, or leave it out here."
        )


def _poured(typed: str, count: float, measure: Measure, ingredient: Ingredient) -> Measured:
    density, around = _density(ingredient)
    how = f"{measure.called} at {density:.2f} g/ml".strip()
    how += f" ({measure.others})" if measure.others else ""
    bounds = _times(count, measure.range, around)
    return Measured(count * measure.ml * density, bounds, typed, how)


def _times(count: float, *ranges: Interval) -> Interval:
    """The range of a count of something, from the ranges of its factors, all above nothing."""
    low = math.prod((count, *(each.low for each in ranges)))
    high = math.prod((count, *(each.high for each in ranges)))
    return Interval(low, high)


def _density(ingredient: Ingredient) -> tuple[float, Interval]:
    """Grams in 1 ml: as it is reckoned, and from the lightest to the heaviest."""
    poured = ingredient.density
    if ingredient.bulk:
        middle = (ingredient.bulk.low + ingredient.bulk.high) / 2
        return poured if poured and poured in ingredient.bulk else middle, ingredient.bulk
    if poured is None:
        raise ReadingError(
            f"We do not know what 1 ml of {ingredient.name} weighs. Weigh it, and write the weight."
        )
    spread = 0.0 if ingredient.group == "water" else DENSITY_SPREAD
    return poured, Interval.around(poured, spread)


def _counted(typed: str, count: float, words: list[str], ingredient: Ingredient) -> Measured:
    _refuse_other_words(words)
    if "stick" in words:
        return _sticks(typed, count, ingredient)
    for bird in _BIRDS.intersection(words):
        if bird not in ingredient.name:
            raise ReadingError(f"{bird} eggs are another row. Choose {bird} egg in the list.")
    if ingredient.key in _OTHER_EGGS:
        each, around = _OTHER_EGGS[ingredient.key]
        how = "shell off, a usual weight"
        return Measured(count * each, _times(count, around), typed, how)
    if ingredient.key not in _PARTS:
        raise ReadingError(
            f"Eggs are not {ingredient.name}. Choose whole egg, egg white or egg yolk in the list."
        )
    # “3 yolks” of whole egg is a slip; “3 eggs” of egg yolk are three yolks.
    for part in {"yolk", "white"}.intersection(words):
        if part not in ingredient.name:
            raise ReadingError(
                f"Egg {part} is not {ingredient.name}. Choose egg {part} in the list."
            )
    (shell, shells), called = _egg_size(words)
    (off, offs), (share, shares) = _SHELL_OFF, _PARTS[ingredient.key]
    grams, bounds = count * shell * off * share, _times(count, shells, offs, shares)
    return Measured(grams, bounds, typed, f"shell off, {called}")


def _refuse_other_words(words: list[str]) -> None:
    sizes = {part for size in _SIZES for part in size.split()}
    known = _COUNTED | {"white", "butter", "margarine", "salted", "unsalted"} | _IDLE | sizes
    for word in words:
        if word not in known and word not in _EU_EGGS and word not in (*_PLACES, *_BIRDS):
            raise ReadingError(
                f"I cannot read “{word}” here. Write such as 2 eggs, 3 yolks, 1 cup or a weight."
            )


def _sticks(typed: str, count: float, ingredient: Ingredient) -> Measured:
    if not ingredient.key.startswith(("butter", "margarine")) or "milk" in ingredient.name:
        raise ReadingError(f"Only butter comes in sticks. Weigh {the(ingredient.name)}.")
    grams, how = count * _STICK, "a US stick is 4 ounces"
    return Measured(grams, Interval.exactly(grams), typed, how)


def _egg_size(words: list[str]) -> tuple[tuple[float, Interval], str]:
    """What an egg weighs in its shell (grams): as it is reckoned, and the range; and of what size."""
    size = next((each for each in _SIZES if each in " ".join(words)), "")
    letter = next((each for each in words if each in _EU_EGGS), "")
    if size and {"eu", "uk", "european", "british"}.intersection(words):
        letter = _EU_SIZES[size]
    if letter:
        return _EU_EGGS[letter], f"EU class {letter.upper()}"
    if size:
        return _US_EGGS[size], f"US size {size} (for EU classes write such as “2 L eggs”)"
    return _USUAL, "US large or EU class M (for others write such as “2 L eggs”)"
