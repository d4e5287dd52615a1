"""A nutrition panel's single figures: how a pack rounds them, and reading them as packs print them.

A printed figure stands for every amount that the pack's law would have printed that way. The rules:

- US, per serving: 21 CFR 101.9(c), paragraphs (1) calories, (2) fat, (4) sodium, (6) carbohydrate,
  fibre and sugars, (7) protein. Read in public copies of the regulation, not on its own page.
- EU and UK, per 100 g or 100 ml: the European Commission's guidance on tolerances for nutrient
  values declared on a label, December 2012. Read in two public summaries, not in the guidance.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from calc import units
from calc.composition import SALT_PER_SODIUM
from calc.household import ON_A_LABEL
from calc.interval import Interval
from calc.units import ReadingError

# Floating-point noise in the ends of an interval, in grams.
_NOISE = 1e-12
# No pack prints more about one figure.
LONGEST_TEXT = 80


# How a pack rounds, and what a printed figure may have been.


@dataclass(frozen=True)
class Rounding:
    """One rule of rounding, in grams.

    `steps` lists (from this amount on, to the nearest). Up to `zero` a figure may be printed as 0,
    or must be if `always_zero`. Up to `less` it may be printed as less than `less` (0: may not).
    """

    steps: tuple[tuple[float, float], ...]
    zero: float
    always_zero: bool = False
    less: float = 0.0

    def meant_by_less(self, limit: float) -> Interval:
        """What an amount may have been, printed as less than `limit`."""
        # The EU guidance lets up to 0.0125 g of salt be printed as “<0.01 g”.
        return Interval(0.0, max(limit, self.zero) if limit == self.less else limit)

    def meant_by_trace(self) -> Interval:
        """What an amount may have been, printed as a trace, or as none."""
        return Interval(0.0, max(self.zero, self.less))

    def meant(self, printed: float, half_figure: float) -> Interval:
        """What an amount may have been, from the figure printed.

        A figure finer than the rule asks for stands for half of its last figure (`half_figure`)
        to either side.
        """
        if printed == 0:
            return Interval(0.0, max(self.zero, self.steps[0][1] / 2))
        ends: list[float] = []
        for number, (start, step) in enumerate(self.steps):
            stop = self.steps[number + 1][0] if number + 1 < len(self.steps) else math.inf
            low, high = max(start, printed - step / 2), min(stop, printed + step / 2)
            if low <= high and abs(printed / step - round(printed / step)) < 1e-6:
                ends += [low, high]
        if not ends:
            ends = [printed - half_figure, printed + half_figure]
        return Interval(max(0.0, min(ends) - _NOISE), max(ends) + _NOISE)


# The rules of rounding, as the module's docstring cites them.
US_FAT = Rounding(steps=((0.5, 0.5), (5.0, 1.0)), zero=0.5, always_zero=True)
US_GRAM = Rounding(steps=((0.0, 1.0),), zero=0.5, less=1.0)
US_SODIUM = Rounding(steps=((0.005, 0.005), (0.140, 0.010)), zero=0.005, always_zero=True)
EU_GRAM = Rounding(steps=((0.0, 0.1), (10.0, 1.0)), zero=0.5, less=0.5)
EU_SALT = Rounding(steps=((0.0, 0.01), (1.0, 0.1)), zero=0.0125, less=0.01)
# Energy, in kilocalories: to 5 up to 50, then to 10; below 5 it may be 0.
US_ENERGY = Rounding(steps=((0.0, 5.0), (50.0, 10.0)), zero=5.0)


@dataclass(frozen=True)
class Figure:
    """A figure as printed: its text, its value and what it may have been, in calc's unit.

    `remark` tells the reader how the text was read, where that may not be what it means.
    """

    text: str
    value: float
    range: Interval
    remark: str = ""


# What packs call each line of a panel: for a single figure, and for a whole panel (`panel_text`).
NAMES = {
    "energy": ("energy value", "energy", "calories", "kilojoules"),
    "saturated": (
        "saturated fatty acids", "saturated fat", "of which saturates", "saturates", "saturated", "sat. fat", "sat fat",
    ),
    "fat": ("total fat", "fat total", "fat, total", "fats", "fat"),
    "carbohydrate": (
        "total carbohydrates", "total carbohydrate", "carbohydrates, total", "carbohydrate, total",
        "available carbohydrate", "carbohydrates", "carbohydrate", "total carbs", "total carb", "tot. carb", "carbs",
        "carb", "glucides",
    ),
    "sugars": ("of which sugars", "total sugars", "sugars", "sugar"),
    "fibre": ("dietary fibre", "dietary fiber", "fibres", "fibre", "fiber"),
    "protein": ("proteins", "protein"),
    "salt": ("salt equivalent", "salt"),
    "sodium": ("sodium",),
    "alcohol": ("alcohol by volume", "alcohol", "abv", "alc"),
}  # fmt: skip
_LESS_WORDS = ("less than", "under", "below", "not more than", "max.", "max", "up to")
_NONE = {"trace", "traces", "tr", "nil", "none", "zero", "no", "negligible", "-", "–", "—", "−"}
_NOT_SAID = {"n/a", "na", "n.a", "not available", "not declared", "not stated", "?"}
_NUMBER = r"\d{1,4}\s+\d{1,3}/\d{1,3}|\d{1,4}/\d{1,3}|\d[\d.,]*(?:[ \u00a0]\d{3}\b)*|[.,]\d+"
_PRINTED = re.compile(
    rf"""^(?P<words>[^\d<≤~≈.,½¼¾⅓⅔-][^\d<≤~≈½¼¾⅓⅔]*)?
        (?P<mark>[<≤~≈])?\s*
        (?P<number>{_NUMBER})\s*
        (?P<unit>mg|milligram(?:me)?s?|gm|gr|gram(?:me)?s?|g)?(?![^\W\d_])\.?\s*
        (?P<rest>.*)$""",
    re.VERBOSE | re.IGNORECASE | re.DOTALL,
)
# What follows a figure and belongs to another column: a daily value, or the line below.
_FURTHER = re.compile(
    r"^(?:[(\[]?\s*<?\s*\d[\d.,]*\s*%|[/|;,(]|of which|per\b|incl|\*|†)", re.IGNORECASE
)
_FINE_PRINT = str.maketrans({"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3"})


def is_not_said(text: str) -> bool:
    """Whether a text says that the pack prints no such figure, such as ``n/a``."""
    plain = " ".join(text.lower().split()).rstrip(".")
    return not plain or plain in _NOT_SAID


def _says_none(text: str) -> bool:
    return " ".join(text.lower().split()).rstrip(".") in _NONE


def _named(words: str) -> str:
    """The line that words name (a key of `NAMES`); nothing where they name none, or more."""
    plain = " ".join(words.lower().replace("of which", " ").strip(" :-–—•.").split())
    return next((name for name, called in NAMES.items() if plain in called), "")


@dataclass(frozen=True)
class _Printed:
    """A printed figure in its pieces: whether it is “less than”, which line it names, number, unit."""

    less: bool
    names: str
    number: str
    unit: str
    rest: str


def _taken_apart(text: str, such_as: str) -> _Printed:
    shown = text.strip()
    if len(shown) > LONGEST_TEXT:
        raise ReadingError(f"That is too long for one figure. Write such as {such_as}.")
    match = _PRINTED.match(shown.translate(_FINE_PRINT).strip())
    if not match:
        raise ReadingError(
            f"I cannot read a figure in “{shown}”. Write such as {such_as}, “<0.5 g” or “trace”."
        )
    words = (match["words"] or "").strip().lower()
    less = next((each for each in _LESS_WORDS if words.endswith(each)), "")
    words = words.removesuffix(less).strip().removesuffix("contains").strip()
    names = _named(words)
    if words and not names and not _plain_words(words):
        raise ReadingError(f"I do not know “{words}”. Write the figure alone, such as {such_as}.")
    return _Printed(
        bool(less) or match["mark"] in ("<", "≤"),
        names,
        " ".join(match["number"].rstrip(".,").split()),
        (match["unit"] or "").lower(),
        match["rest"].strip(),
    )


def _plain_words(words: str) -> bool:
    return words.rstrip(":. ") in ("about", "approx", "approximately", "ca", "circa", "total")


_THOUSANDS = re.compile(r"\d{1,3}[.,]\d{3}")


def _number(printed: _Printed, milligrams: bool) -> tuple[float, float]:
    """The number and half of its last figure. No pack prints thousandths of a milligram."""
    text = printed.number
    if milligrams and _THOUSANDS.fullmatch(text) and not text.startswith("0"):
        text = text.replace(",", "").replace(".", "")
    reading = units.read(text, "number")
    return reading.value, reading.half_unit


_WRONG_UNITS = (
    (re.compile(r"^k(?:j|cal)", re.I), "That is energy. It has a field of its own."),
    (re.compile(r"^(?:ml|l|cl)\b", re.I), "That measures volume. A panel prints weights here, such as 3.5 g."),
    (re.compile(r"^%"), "That is a share of what a person needs in a day. Write the grams beside it."),
    (re.compile(r"^(?:µg|mcg|ug)\b", re.I), "That is a millionth of a gram: another line of the panel."),
)  # fmt: skip


def _check_rest(printed: _Printed, such_as: str) -> None:
    for pattern, says in _WRONG_UNITS:
        if not printed.unit and pattern.match(printed.rest):
            raise ReadingError(says)
    if printed.rest and not _FURTHER.match(printed.rest) and not _named(printed.rest):
        raise ReadingError(
            f"I do not know what “{printed.rest}” means here. Write such as {such_as}."
        )


def _check_name(printed: _Printed, name: str) -> None:
    named = printed.names or _named(printed.rest)
    if name and named and named != name and {named, name} != {"salt", "sodium"}:
        raise ReadingError(f"That names the {named}. Write the figure of the {name} here.")


def read_figure(text: str, rule: Rounding, unit: str = "g", name: str = "") -> Figure:
    """A printed figure, such as ``3.5 g``, ``<0.5 g``, ``trace``, ``11 g 4 %``, in grams.

    `unit` is that of a bare number: ``g`` or ``mg``; `name` the line it is read for. The value of
    “less than 1 g” is the middle of its interval. Raises ReadingError with a message for the reader.
    """
    shown = text.strip()
    if _says_none(shown):
        meant = rule.meant_by_trace()
        return Figure(shown, meant.high / 2 if shown.lower().startswith("tr") else 0.0, meant)
    such_as = "110 mg" if unit == "mg" else "3.5 g"
    if re.match(r"^[-−–]\s*\d", shown):
        raise ReadingError("A pack prints nothing below 0. Leave the minus sign out.")
    printed = _taken_apart(shown, such_as)
    _check_rest(printed, such_as)
    _check_name(printed, name)
    milligrams = (printed.unit or unit).startswith("m")
    number, half = _number(printed, milligrams)
    factor = 0.001 if milligrams else 1.0
    if printed.less:
        meant = rule.meant_by_less(number * factor)
        return Figure(shown, (meant.low + meant.high) / 2, meant)
    return Figure(shown, number * factor, rule.meant(number * factor, half * factor))


def _named_in(text: str) -> str:
    """Whether a text names sodium or salt."""
    words = re.findall(r"[a-z]+", text.lower())
    return next((word for word in ("sodium", "salt") if word in words), "")


def read_sodium(text: str) -> Figure:
    """Sodium as a US pack prints it, in grams; salt in its place is turned into sodium."""
    if _named_in(text) == "salt":
        salt = read_figure(text, EU_SALT, "g", "salt")
        return _times(salt, 1 / SALT_PER_SODIUM, "This is salt. Salt ÷ 2.5 is sodium.")
    figure = read_figure(text, US_SODIUM, "mg", "sodium")
    if re.fullmatch(r"\d*[.,]\d+", text.strip()) and figure.value < 0.005:
        raise ReadingError(
            f"A US pack prints sodium in whole milligrams. Write “{text.strip()} g” if these are grams."
        )
    return figure


def read_salt(text: str) -> Figure:
    """Salt as an EU or UK pack prints it, in grams; sodium in its place is turned into salt."""
    if _named_in(text) == "sodium":
        figure = read_figure(text, _sodium_rule(text), "g", "sodium")
        return _times(figure, SALT_PER_SODIUM, "This is sodium. Salt is sodium × 2.5.")
    figure = read_figure(text, EU_SALT, "g", "salt")
    if re.search(r"\d\s*(?:mg|milli)", text, re.IGNORECASE):
        raise ReadingError(
            f"Packs print salt in grams. If this is the sodium, write “{text.strip()} sodium”: "
            f"salt is 2.5 times as much. If it is salt, write {figure.value:.6g} g."
        )
    return figure


def _sodium_rule(text: str) -> Rounding:
    """Sodium in grams is rounded as salt is; in milligrams, to the figure printed."""
    return US_SODIUM if re.search(r"\dmg|\d\s+mg", text, re.IGNORECASE) else EU_SALT


def _times(figure: Figure, factor: float, remark: str) -> Figure:
    low, high = figure.range.low * factor, figure.range.high * factor
    return Figure(figure.text, figure.value * factor, Interval(low, high), remark)


# Alcohol, density, energy and the serving.

_ALCOHOL = re.compile(
    r"(?P<less><|≤|less than|under)?\s*(?P<number>\d[\d.,]*|[.,]\d+)\s*(?P<unit>proof|%|°)?",
    re.IGNORECASE,
)
_ALCOHOL_WORDS = re.compile(
    r"\b(?:alc|alcohol|abv|by|vol|volume|contains|content)\b|[\s().,:/%°]", re.I
)


def read_alcohol(text: str) -> Figure:
    """Alcohol as a drink prints it, such as ``5 % vol`` or ``80 proof``, as a share of the volume."""
    shown = text.strip()
    if _says_none(shown) or shown.lower() in ("alcohol-free", "alcohol free", "non-alcoholic"):
        return Figure(shown, 0.0, Interval(0.0, 0.005 if "alcohol" in shown.lower() else 0.0))
    match = _ALCOHOL.search(shown) if len(shown) <= LONGEST_TEXT else None
    # “12.5 % (25 proof)” says the same twice.
    besides = _ALCOHOL.sub("", shown, count=2) if match else shown
    if not match or _ALCOHOL_WORDS.sub("", besides):
        raise ReadingError("Write the alcohol as the pack prints it, such as 5 % vol or 80 proof.")
    reading = units.read(match["number"].rstrip(".,"), "number")
    # US proof is twice the percentage.
    scale = 200 if (match["unit"] or "").lower() == "proof" else 100
    if reading.value > scale:
        raise ReadingError("Alcohol cannot be more than 100 % of the volume.")
    high = min(scale, reading.value + (0.0 if match["less"] else reading.half_unit))
    low = 0.0 if match["less"] else max(0.0, reading.value - reading.half_unit)
    value = reading.value / 2 if match["less"] else reading.value
    return Figure(shown, value / scale, Interval(low / scale, high / scale))


_DENSITY = re.compile(
    r"^(?P<number>\d[\d.,]*|[.,]\d+)\s*(?P<unit>kg|g)?\s*(?:/|per|in)?\s*"
    r"(?P<volume>(?a:100\s*ml|100\s*cm3|ml|cc|cm3|cm³|l|litre|liter))?$",
    re.IGNORECASE,
)


# What 1 ml of a food weighs, in grams: from foams to syrups.
LIGHTEST, HEAVIEST = 0.5, 2.0


def read_density(text: str, lightest: float = LIGHTEST) -> Figure:
    """A density such as ``1.03 g/ml``, ``1030 g/l``, ``103 g per 100 ml``, in g/ml."""
    shown = text.strip()
    match = _DENSITY.match(shown) if len(shown) <= LONGEST_TEXT else None
    if not match:
        raise ReadingError("Write the density such as 1.03 g/ml, 1030 g/l or 103 g per 100 ml.")
    reading = units.read(match["number"], "number")
    volume = (match["volume"] or "ml").lower().removeprefix("100").strip()
    millilitres = units.BY_WORD["volume", volume].factor
    if "100" in (match["volume"] or ""):
        millilitres *= 100
    factor = (1000.0 if (match["unit"] or "").lower() == "kg" else 1.0) / millilitres
    value = reading.value * factor
    if not lightest <= value <= HEAVIEST:
        raise ReadingError(
            f"A food weighs between {lightest:g} and {HEAVIEST:g} g in each ml. Check the density."
        )
    return Figure(shown, value, Interval.around(value, reading.half_unit * factor))


# A pack's ml beside its cups and spoons are whole ones.
LABEL_HALF_ML = 0.5
# Names of units in plain letters: what ignores case takes ſ for s, and no table has it.
_METRIC = re.compile(
    r"(?P<number>\d[\d.,]*|[.,]\d+)\s*(?P<unit>(?a:kg|gm|gr|grams?|g|ml|millilit(?:re|er)s?|cl|l|lit(?:re|er)s?))\b",
    re.IGNORECASE,
)
_MEASURE = re.compile(
    r"^(?P<number>\d{1,4}\s+\d{1,3}/\d{1,3}|\d{1,4}/\d{1,3}|\d[\d.,]*|[.,]\d+)\s*"
    r"(?P<measure>(?a:fl\.?\s*oz|cup|tablespoon|tbsp|teaspoon|tsp))s?\.?$",
    re.IGNORECASE,
)


def read_amount(text: str) -> tuple[Figure, bool]:
    """What a panel is for, such as ``240 g`` or ``2/3 cup (170g)``, and whether it is a volume, in ml.

    Beside a household measure the metric one counts: it is what the pack was weighed by.
    """
    shown = text.strip()
    if len(shown) > LONGEST_TEXT:
        raise ReadingError("That is too long for a serving. Write its weight, such as 240 g.")
    metric = [*_METRIC.finditer(shown)]
    if metric and not re.match(r"^[-−]", shown):
        last = metric[-1]
        return _metric_amount(shown, last["number"], last["unit"].lower())
    measure = _MEASURE.match(shown.translate(_FINE_PRINT).strip())
    if measure:
        called = " ".join(measure["measure"].lower().replace(".", " ").split())
        each = ON_A_LABEL[units.MEASURES[called]]
        value = units.read(measure["number"].rstrip(".,"), "number").value * each
        return _amount(shown, value, LABEL_HALF_ML), True
    reading = units.read(shown, "mass")
    return _amount(shown, reading.value, reading.half_unit), False


def _metric_amount(shown: str, number: str, unit: str) -> tuple[Figure, bool]:
    reading = units.read(number.rstrip(".,"), "number")
    volume = units.BY_WORD.get(("volume", unit))
    factor = (volume or units.BY_WORD["mass", unit]).factor
    return _amount(shown, reading.value * factor, reading.half_unit * factor), volume is not None


def _amount(shown: str, value: float, half: float) -> Figure:
    if value <= half:
        raise ReadingError(
            "So small a serving may be nothing at all. Write its weight, such as 240 g."
        )
    return Figure(shown, value, Interval.around(value, half))
