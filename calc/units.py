"""Read and write quantities the way bakers do: grams and ounces, per cent, decimal point or comma.

Inside ``calc`` a mass is in grams and a share is a fraction. A `Kind` says what a number measures;
a `Unit` is one way to write it. The ounce and pound are the avoirdupois ones of NIST Special
Publication 811, appendix B.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass


class ReadingError(ValueError):
    """A text is not the quantity that is wanted; the message tells the writer what to do."""


@dataclass(frozen=True)
class Kind:
    """What a number measures.

    `dimension` gives the powers of calc's own units (g, cm, K, J, min) and lets a working refuse
    grams added to per cent. `wanted` completes "Write …" for anyone who has to write one. `default` is
    the unit of a bare number, and `step` how finely it is usually read, in calc's unit.
    """

    dimension: dict[str, int]
    wanted: str
    default: str
    step: float


# What a number can measure, by name.
KINDS = {
    "mass": Kind({"g": 1}, "a weight, such as 171 g, 0.171 kg or 6 oz", "g", 1.0),
    "share": Kind({}, "a percentage, such as 81 % or 0.81", "", 0.01),
    "number": Kind({}, "a number, such as 4.5", "", 0.1),
    "temperature": Kind({"K": 1}, "a temperature, such as 24 °C or 75 °F", "°C", 1.0),
    "temperature difference": Kind({"K": 1}, "a difference, such as 6 °C or 11 °F", "°C", 1.0),
    "volume": Kind({"cm": 3}, "a volume, such as 250 ml", "ml", 1.0),
    "length": Kind({"cm": 1}, "a length, such as 22 cm", "cm", 0.1),
    "density": Kind({"g": 1, "cm": -3}, "a density, such as 1.03 g/ml", "g/ml", 0.01),
    "specific volume": Kind(
        {"cm": 3, "g": -1}, "a specific volume, such as 4.2 ml/g", "ml/g", 0.01
    ),
    "heat": Kind({"J": 1}, "an amount of heat, such as 12000 J or 12 kJ", "J", 100.0),
    "heat capacity": Kind(
        {"J": 1, "g": -1, "K": -1}, "a heat capacity, such as 3.9 J/(g·K)", "J/(g·K)", 0.01
    ),
    "heat of melting": Kind({"J": 1, "g": -1}, "a heat of melting, such as 334 J/g", "J/g", 1.0),
    "time": Kind({"min": 1}, "a time, such as 90 min or 1.5 h", "min", 1.0),
}


@dataclass(frozen=True)
class Unit:
    """One way to write a kind of quantity: calc's value = written × `factor` + `offset`.

    `scale_step` is the step, in this unit, of the kitchen scale (or of the table, or thermometer)
    on which it is usually read.
    """

    symbol: str
    kind: str
    factor: float
    scale_step: float
    also: tuple[str, ...] = ()
    offset: float = 0.0


_DEGREES = ("°", "º", "degree", "degrees", "deg")
_CELSIUS = (
    "c",
    "celsius",
    *_DEGREES,
    *(f"{one} c" for one in _DEGREES),
    "°c",
    "ºc",
    "degrees celsius",
)
_FAHRENHEIT = (
    "f",
    "fahrenheit",
    *(f"{one} f" for one in _DEGREES),
    "°f",
    "ºf",
    "degrees fahrenheit",
)
_POINTS = ("points", "point", "pts", "pt", "pp")
_CM3 = ("cm³", "cm3", "cm^3", "ccm", "cc", "ml", "mls")

# Every way to write it.
UNITS = (
    Unit(
        "g", "mass", 1.0, 1.0,
        ("gram", "grams", "gramme", "grammes", "gm", "gms", "gr", "grs", "grm", "grms"),
    ),
    Unit("mg", "mass", 0.001, 1.0, ("milligram", "milligrams", "milligramme", "milligrammes")),
    Unit("kg", "mass", 1000.0, 0.001, ("kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogrammes")),
    Unit("oz", "mass", 28.349523125, 0.1, ("ounce", "ounces")),
    Unit("lb", "mass", 453.59237, 0.01, ("lbs", "pound", "pounds")),
    Unit(
        "%", "share", 0.01, 1.0,
        (
            "percent", "per cent", "pct", "percentage", "%age", "percents",
            *(f"{before}{one}" for before in ("", "percentage ", "per cent ", "percent ", "% ", "%-", "%") for one in _POINTS),
        ),
    ),
    Unit("°C", "temperature", 1.0, 1.0, _CELSIUS),
    Unit("°F", "temperature", 5 / 9, 1.0, _FAHRENHEIT, -160 / 9),
    Unit("°C", "temperature difference", 1.0, 1.0, (*_CELSIUS, "k", "kelvin", "kelvins")),
    Unit("°F", "temperature difference", 5 / 9, 1.0, _FAHRENHEIT),
    Unit(
        "ml", "volume", 1.0, 1.0,
        ("millilitre", "millilitres", "milliliter", "milliliters", *_CM3),
    ),
    Unit("cl", "volume", 10.0, 0.1, ("centilitre", "centilitres", "centiliter", "centiliters")),
    Unit("dl", "volume", 100.0, 0.01, ("decilitre", "decilitres", "deciliter", "deciliters")),
    Unit("l", "volume", 1000.0, 0.001, ("litre", "litres", "liter", "liters", "ltr", "ltrs")),
    Unit("cm", "length", 1.0, 0.1, ("centimetre", "centimetres", "centimeter", "centimeters")),
    Unit("mm", "length", 0.1, 1.0, ("millimetre", "millimetres", "millimeter", "millimeters")),
    Unit(
        "g/ml", "density", 1.0, 0.01,
        ("kg/l", *(f"g{per}{one}" for per in ("/", " / ", " per ") for one in _CM3)),
    ),
    Unit(
        "ml/g", "specific volume", 1.0, 0.01,
        ("l/kg", *(f"{one}{per}g" for per in ("/", " / ", " per ") for one in _CM3)),
    ),
    Unit("J", "heat", 1.0, 100.0, ("joule", "joules")),
    Unit("kJ", "heat", 1000.0, 0.1, ("kilojoule", "kilojoules")),
    Unit("J/(g·K)", "heat capacity", 1.0, 0.01, ("kj/(kg·k)", "j/(g·k)", "j/(g k)", "j/g/k", "j/(g·°c)")),
    Unit("J/g", "heat of melting", 1.0, 1.0, ("kj/kg",)),
    Unit("min", "time", 1.0, 1.0, ("minute", "minutes", "mins", "m")),
    Unit("h", "time", 60.0, 0.1, ("hour", "hours", "hr", "hrs")),
)  # fmt: skip
BY_SYMBOL = {unit.symbol: unit for unit in UNITS if unit.kind != "temperature difference"}
BY_WORD = {(unit.kind, word): unit for unit in UNITS for word in (unit.symbol.lower(), *unit.also)}
_KINDS_OF_WORD: dict[str, list[str]] = {}
for _kind, _word in BY_WORD:
    _KINDS_OF_WORD.setdefault(_word, []).append(_kind)
# What people call the measures that they fill, by how each is written; `calc.household` says what they hold.
_FILLED = {
    "cup": ("cup", "cupful"),
    "tbsp": ("tbsp", "tbs", "tbl", "tb", "tblsp", "tablespoon", "tablespoonful"),
    "tsp": ("tsp", "teaspoon", "teaspoonful"),
    "fl oz": ("fl oz", "fl ounce", "fluid oz", "fluid ounce", "floz"),
    "pint": ("pint", "pt"),
    "quart": ("quart", "qt"),
}
MEASURES = {
    form: written
    for written, words in _FILLED.items()
    for word in words
    for form in (word, f"{word}s")
}
# Measures of volume that no unit above stands for, by their first word; and what is counted, not weighed.
VOLUMES = {word.split()[0] for word in MEASURES} | {"spoon", "spoons", "gallon", "gallons"}
EGGS = {"egg", "eggs"}
# Units that are written one after the other, the coarse one first: 1 lb 2 oz.
TOGETHER = {("kg", "g"), ("lb", "oz"), ("h", "min")}

# A share written without a sign up to this number is a fraction (0.81, 1.05); above it, per cent.
LARGEST_BARE_FRACTION = 2.0
# No dough needs more: it keeps a slip of the key from being read as a number.
LONGEST_TEXT = 40


@dataclass(frozen=True)
class Reading:
    """A quantity as someone wrote it.

    `value` is in calc's unit; `half_unit` is half of the last figure written, in the same unit:
    what honest rounding may have taken away. Of a fraction it is half of one of its parts: 5/8 is
    read as rounded to eighths. `unit` is how it was written, the finer one of 1 lb 2 oz.
    """

    value: float
    half_unit: float
    unit: Unit


# Digits: a fraction, a number with marks between its thousands and another one before its decimals, a number.
_DIGITS = r"""(?:
    (?:\d+(?:\ \d{3})*\s+)?\d{1,4}\s*/\s*\d{1,4}
    | \d{1,3}(?:\.\d{3})+,\d+
    | \d{1,3}(?:,\d{3})+\.\d+
    | \d[\d\ ]*(?:[.,]\d+)?
    | [.,]\d+)"""
_QUANTITY = re.compile(
    rf"""^(?P<sign>[+-]?)\s*
        (?:(?P<coarse>{_DIGITS})\s*(?P<coarse_unit>kg|lbs?|h)\.?\s*(?=[\d.,]))?
        (?P<digits>{_DIGITS})
        \s*(?P<unit>[^\d\s.,/+-].*)?$""",
    re.VERBOSE | re.IGNORECASE,
)
_LOOKALIKES = str.maketrans(
    {"−": "-", "–": "-", "⁄": "/", "\u00a0": " ", "\u2009": " ", "\u202f": " "}
    # A fraction of one letter: 1½ is 1 1/2.
    | {"½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅕": " 1/5", "⅖": " 2/5"}
    | {"⅗": " 3/5", "⅘": " 4/5", "⅙": " 1/6", "⅚": " 5/6", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8"}
    | {"⅞": " 7/8"}
)


def plain_letters(text: str) -> str:
    """A text with the lookalikes of minus, slash and space made plain, and fractions of one letter."""
    return text.translate(_LOOKALIKES).strip()


def read(text: str, kind: str, default_unit: str | None = None) -> Reading:
    """Read a quantity of the given kind (``mass`` or ``share``).

    A mass without a unit is in `default_unit` (grams if none is named); a share without a sign is
    a fraction up to 2 and per cent above. Decimal comma and point both work, and so do fractions
    (17 5/8 oz, ½ kg) and two units together (1 lb 2 oz, 1 h 10 min).

    Raises ReadingError with a message for the writer.

    >>> read("171,4 g", "mass").value
    171.4
    >>> read("81 %", "share").value
    0.81
    >>> read("1 kg 250 g", "mass").value
    1250.0
    """
    shown = text.strip()
    if not shown:
        raise ReadingError(f"There is nothing here yet. Write {KINDS[kind].wanted}.")
    if len(shown) > LONGEST_TEXT:
        raise ReadingError(f"That is too long for one number. Write {KINDS[kind].wanted}.")
    match = _QUANTITY.match(plain_letters(shown))
    if not match:
        raise ReadingError(f"I cannot read a number in “{shown}”. Write {KINDS[kind].wanted}.")
    number, half_unit = _number(match["digits"])
    unit = _unit(match["unit"], kind, default_unit, number)
    if unit.symbol not in ("kg", "lb"):
        _refuse_thousands_comma(match["digits"])
    value = number * unit.factor
    if match["coarse"]:
        coarse = _unit(match["coarse_unit"], kind, None, number)
        if (coarse.symbol, unit.symbol) not in TOGETHER or not match["unit"]:
            raise ReadingError(f"“{shown}” holds two numbers. Write {KINDS[kind].wanted}.")
        value += _number(match["coarse"])[0] * coarse.factor
    signed = -value if match["sign"] == "-" else value
    return Reading(signed + unit.offset, half_unit * unit.factor, unit)


def read_whole(text: str) -> int | None:
    """A whole number in plain figures, nine at most: a count, a place in a list. None for any other text."""
    return int(text) if text.isascii() and text.isdigit() and len(text) <= 9 else None


def written_unit(text: str) -> str:
    """The unit that a text names, in small letters; nothing where a number is alone, or none."""
    match = _QUANTITY.match(plain_letters(text[: LONGEST_TEXT + 1]))
    return _word(match["unit"]) if match else ""


def is_percentage(text: str) -> bool:
    """Whether a text is meant as a percentage: with its sign, or in words (65 per cent)."""
    return "%" in text or ("share", written_unit(text)) in BY_WORD


def _number(digits: str) -> tuple[float, float]:
    """A number's value, and half of its last figure or of one of its fraction's parts."""
    if "/" in digits:
        above, _, below = digits.partition("/")
        *whole, over = above.split()
        # Of odd spaces \d does not take, \s does; `int` takes some of them.
        under = int(below.strip())
        if not under:
            raise ReadingError("No fraction has a 0 below its line. Write such as 1/2.")
        return int("".join(whole) or 0) + int(over) / under, 0.5 / under
    digits = digits.replace(" ", "")
    if "," in digits and "." in digits:
        # The first mark is between thousands.
        digits = digits.replace("." if digits.index(".") < digits.index(",") else ",", "")
    whole, mark, decimals = digits.replace(",", ".").partition(".")
    number = float(f"{whole or '0'}{mark}{decimals}")
    if not math.isfinite(number):
        raise ReadingError("That number is too large for any dough.")
    return number, 0.5 * 10.0 ** -len(decimals)


def _refuse_thousands_comma(digits: str) -> None:
    """1,284 is 1284 to some readers and 1.284 to others: ask, never guess."""
    whole, comma, decimals = digits.replace(" ", "").partition(",")
    if comma and len(decimals) == 3 and whole.strip("0") and "." not in whole:
        raise ReadingError(
            f"“{digits}” can be {whole}{decimals} or {whole}.{decimals}. "
            f"Write {whole}{decimals}, or {whole}.{decimals} with a point."
        )


# A share written as a fraction of one, 0.81.
FRACTION = Unit("", "share", 1.0, 0.01)
_PLAIN_NUMBER = Unit("", "number", 1.0, 0.1)


def unit_of(word: str, kind: str) -> Unit:
    """The unit of a kind that a word names, the kind's own where it is empty.

    Raises ReadingError where the word measures something else, or nothing that is known.
    """
    return _unit(word, kind, None, 0.0)


def any_unit(word: str) -> Unit:
    """The first unit of any kind that a word names; KeyError if there is none."""
    return BY_WORD[_KINDS_OF_WORD[word][0], word]


def _unit(word: str | None, kind: str, default_unit: str | None, size: float) -> Unit:
    typed, word = (word or "").strip(), _word(word)
    wanted = KINDS[kind].wanted
    if not word:
        if kind == "share":
            return FRACTION if size <= LARGEST_BARE_FRACTION else BY_SYMBOL["%"]
        symbol = default_unit or KINDS[kind].default
        return BY_WORD.get((kind, symbol.lower()), _PLAIN_NUMBER)
    if (kind, word) in BY_WORD:
        return BY_WORD[kind, word]
    kinds = _KINDS_OF_WORD.get(word, [])
    if word.split()[0] in VOLUMES or "volume" in kinds:
        weigh = " A volume says no weight by itself: weigh it." if kind == "mass" else ""
        raise ReadingError(f"“{typed}” measures volume; write {wanted} here.{weigh}")
    if kind == "mass" and EGGS.intersection(word.split()):
        raise ReadingError(
            "Weigh the eggs without their shells, and write the weight. A medium to large egg is "
            "often about 50 g (common practice)."
        )
    if kinds:
        raise ReadingError(f"“{typed}” does not fit here. Write {wanted}.")
    raise ReadingError(f"I do not know the unit “{typed}”. Write {wanted}.")


def _word(unit: str | None) -> str:
    """A unit as the tables have it: small letters, no full stops, one space between words."""
    return " ".join((unit or "").lower().replace(".", " ").split())


@dataclass(frozen=True)
class Style:
    """How a reader wants quantities written: decimal mark, unit of mass, unit of temperature."""

    decimal: str = "."
    mass: str = "g"
    temperature: str = "°C"

    def unit(self, kind: str) -> Unit | None:
        """The unit this reader wants for a kind; None for plain numbers."""
        chosen = {
            "mass": self.mass,
            "share": "%",
            "temperature": self.temperature,
            "temperature difference": self.temperature,
        }
        return BY_WORD.get((kind, chosen.get(kind, KINDS[kind].default).lower()))


# Grams, °C and a decimal point.
PLAIN = Style()


def places(step: float) -> int:
    """How many decimals a multiple of `step`, in any unit, is written with: 1 for 0.1, and 2 for 0.05."""
    return max(0, -math.floor(math.log10(step) + 1e-9))


def digits(value: float, step: float, style: Style = PLAIN) -> str:
    """`value` rounded half up to a multiple of `step` (a power of ten, same unit), in the style's decimals."""
    rounded = math.floor(abs(value) / step + 0.5 + 1e-9) * step
    sign = "−" if value < 0 and rounded else ""
    return sign + f"{rounded:.{places(step)}f}".replace(".", style.decimal)


def mass_step(grams: float, style: Style = PLAIN) -> float:
    """The scale step, in grams, at which a mass is usually weighed: finer below 10 g (or 1 oz)."""
    if style.mass == "oz":
        ounce = BY_SYMBOL["oz"]
        return ounce.factor * (ounce.scale_step if abs(grams) >= ounce.factor else 0.01)
    return 1.0 if abs(grams) >= 10 else 0.1


def write(
    value: float, kind: str, style: Style = PLAIN, step: float | None = None, guard: int = 0
) -> str:
    """A quantity with its unit, rounded to `step` (in calc's unit) or to the usual scale.

    `guard` adds that many figures, for a middle result that must not be rounded too early.
    """
    unit = style.unit(kind)
    if kind == "mass" and (step is None or style.mass != "g"):
        step = mass_step(value, style)
    step = KINDS[kind].step if step is None else step
    if unit is None:
        return digits(value, step * 10.0**-guard, style)
    if unit.symbol == "°F":
        step = KINDS[kind].step * unit.factor
    written = (value - unit.offset) / unit.factor
    return f"{digits(written, step / unit.factor * 10.0**-guard, style)} {unit.symbol}"


def in_both_degrees(celsius: float) -> str:
    """A temperature for readers of either scale: ``5 °C (41 °F)``."""
    fahrenheit = write(celsius, "temperature", Style(temperature="°F"))
    return f"{write_exact(celsius, 'temperature')} ({fahrenheit})"


def write_exact(value: float, kind: str, style: Style = PLAIN) -> str:
    """A given as it was stated: up to six figures, without noise from floating point."""
    unit = style.unit(kind)
    if unit is None:
        return trimmed(value, style)
    return f"{trimmed((value - unit.offset) / unit.factor, style)} {unit.symbol}"


def write_fraction(value: float, style: Style = PLAIN, figures: int = 4) -> str:
    """A share as the decimal number a baker types into a calculator: 0.81.

    It keeps `figures` decimals, or as many figures where the number is small: 0.00625.
    """
    small = -math.floor(math.log10(abs(value))) - 1 if value else 0
    return trimmed(round(value, figures + max(0, small)), style)


def shown_value(written: str, kind: str, style: Style = PLAIN) -> float:
    """What `write`, `write_exact` or `write_fraction` wrote, in calc's unit: what a reader types on."""
    number, _, symbol = written.replace("−", "-").replace(style.decimal, ".").partition(" ")
    unit = style.unit(kind) if symbol else None
    return float(number) * unit.factor + unit.offset if unit else float(number)


def trimmed(value: float, style: Style = PLAIN) -> str:
    """A plain number with up to six figures, without noughts at its end."""
    text = f"{value:.6g}"
    if "e" in text:
        text = f"{value:.6f}".rstrip("0").rstrip(".")
    return text.replace("-", "−").replace(".", style.decimal)
