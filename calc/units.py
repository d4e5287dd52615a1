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
class Unit:
    """One way to write a kind of quantity.

    `factor` turns it into calc's own unit; `scale_step` is the step, in this unit, of the kitchen
    scale (or of the table) on which it is usually read.
    """

    symbol: str
    kind: str
    factor: float
    scale_step: float
    also: tuple[str, ...] = ()


UNITS = (
    Unit("g", "mass", 1.0, 1.0, ("gram", "grams", "gramme", "grammes", "gm", "gr")),
    Unit("kg", "mass", 1000.0, 0.001, ("kilo", "kilos", "kilogram", "kilograms")),
    Unit("oz", "mass", 28.349523125, 0.1, ("ounce", "ounces")),
    Unit("lb", "mass", 453.59237, 0.01, ("lbs", "pound", "pounds")),
    Unit("%", "share", 0.01, 1.0, ("percent", "per cent", "pct")),
)
BY_SYMBOL = {unit.symbol: unit for unit in UNITS}
_BY_WORD = {word: unit for unit in UNITS for word in (unit.symbol, *unit.also)}

WANTED = {
    "mass": "a weight, such as 128 g, 0.128 kg or 4.5 oz",
    "share": "a percentage, such as 74 % or 0.74",
}
_VOLUMES = {"ml", "l", "cl", "dl", "cup", "cups", "tbsp", "tsp", "pint", "pints", "litre", "liter"}

# A share written without a sign up to this number is a fraction (0.74, 1.05); above it, per cent.
LARGEST_BARE_FRACTION = 2.0
# No dough needs more: it keeps a slip of the key from being read as a number.
LONGEST_TEXT = 40


@dataclass(frozen=True)
class Reading:
    """A quantity as someone wrote it.

    `value` is in calc's unit; `half_unit` is half of the last figure written, in the same unit:
    what honest rounding may have taken away. `unit` is how it was written.
    """

    value: float
    half_unit: float
    unit: Unit


_QUANTITY = re.compile(
    r"""^(?P<sign>[+-]?)
        (?P<digits>\d[\d\ ]*(?:[.,]\d+)?|[.,]\d+)
        \s*(?P<unit>[^\d\s].*)?$""",
    re.VERBOSE,
)
_LOOKALIKES = str.maketrans({"−": "-", "–": "-", "\u00a0": " ", "\u2009": " ", "\u202f": " "})


def read(text: str, kind: str, default_unit: str | None = None) -> Reading:
    """Read a quantity of the given kind (``mass`` or ``share``).

    A mass without a unit is in `default_unit` (grams if none is named); a share without a sign is
    a fraction up to 2 and per cent above. Decimal comma and point both work.

    Raises ReadingError with a message for the writer.

    >>> read("128,4 g", "mass").value
    128.4
    >>> read("74 %", "share").value
    0.74
    """
    shown = text.strip()
    if not shown:
        raise ReadingError(f"There is nothing here yet. Write {WANTED[kind]}.")
    if len(shown) > LONGEST_TEXT:
        raise ReadingError(f"That is too long for one number. Write {WANTED[kind]}.")
    match = _QUANTITY.match(shown.translate(_LOOKALIKES))
    if not match:
        raise ReadingError(f"I cannot read a number in “{shown}”. Write {WANTED[kind]}.")
    number, half_unit = _number(match["sign"], match["digits"])
    unit = _unit(match["unit"], kind, default_unit, abs(number))
    if unit.symbol not in ("kg", "lb"):
        _refuse_thousands_comma(match["digits"])
    return Reading(number * unit.factor, half_unit * unit.factor, unit)


def _number(sign: str, digits: str) -> tuple[float, float]:
    whole, mark, decimals = digits.replace(" ", "").replace(",", ".").partition(".")
    number = float(f"{sign}{whole or '0'}{mark}{decimals}")
    if not math.isfinite(number):
        raise ReadingError("That number is too large for any dough.")
    return number, 0.5 * 10.0 ** -len(decimals)


def _refuse_thousands_comma(digits: str) -> None:
    """1,284 is 1284 to some readers and 1.284 to others: ask, never guess."""
    whole, comma, decimals = digits.replace(" ", "").partition(",")
    if comma and len(decimals) == 3 and whole.strip("0"):
        raise ReadingError(
            f"“{digits}” can be {whole}{decimals} or {whole}.{decimals}. "
            f"Write {whole}{decimals}, or {whole}.{decimals} with a point."
        )


_FRACTION = Unit("", "share", 1.0, 0.01)


def _unit(word: str | None, kind: str, default_unit: str | None, size: float) -> Unit:
    word = (word or "").strip().lower().rstrip(".")
    if not word:
        if kind == "share":
            return _FRACTION if size <= LARGEST_BARE_FRACTION else BY_SYMBOL["%"]
        return BY_SYMBOL[default_unit or "g"]
    unit = _BY_WORD.get(word)
    if unit is not None and unit.kind == kind:
        return unit
    if unit is not None:
        raise ReadingError(f"“{unit.symbol}” does not fit here. Write {WANTED[kind]}.")
    if word in _VOLUMES:
        raise ReadingError(f"“{word}” measures volume; this step needs a weight, such as 128 g.")
    raise ReadingError(f"I do not know the unit “{word}”. Write {WANTED[kind]}.")


@dataclass(frozen=True)
class Style:
    """How a reader wants quantities written: decimal mark and unit of mass (``g`` or ``oz``)."""

    decimal: str = "."
    mass: str = "g"


PLAIN = Style()


def digits(value: float, step: float, style: Style = PLAIN) -> str:
    """`value` rounded half up to a multiple of `step` (a power of ten), in the style's decimals."""
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    rounded = math.floor(abs(value) / step + 0.5 + 1e-9) * step
    sign = "−" if value < 0 and rounded else ""
    return sign + f"{rounded:.{places}f}".replace(".", style.decimal)


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
    fine = 10.0**-guard
    if kind == "mass":
        unit = BY_SYMBOL[style.mass]
        step = mass_step(value, style) if step is None or unit.symbol != "g" else step
        return f"{digits(value / unit.factor, step / unit.factor * fine, style)} {unit.symbol}"
    if kind == "share":
        unit = BY_SYMBOL["%"]
        step = unit.scale_step if step is None else step / unit.factor
        return f"{digits(value / unit.factor, step * fine, style)} %"
    return digits(value, (step or 0.01) * fine, style)


def write_exact(value: float, kind: str, style: Style = PLAIN) -> str:
    """A given as it was stated: up to six figures, without noise from floating point."""
    if kind == "mass":
        unit = BY_SYMBOL[style.mass]
        return f"{_trimmed(value / unit.factor, style)} {unit.symbol}"
    if kind == "share":
        return f"{_trimmed(value * 100, style)} %"
    return _trimmed(value, style)


def write_fraction(value: float, style: Style = PLAIN, figures: int = 4) -> str:
    """A share as the decimal number a baker types into a calculator: 0.74."""
    return _trimmed(round(value, figures), style)


def _trimmed(value: float, style: Style) -> str:
    text = f"{value:.6g}"
    if "e" in text:
        text = f"{value:.6f}".rstrip("0").rstrip(".")
    return text.replace("-", "−").replace(".", style.decimal)
