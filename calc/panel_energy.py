"""A panel's energy against its figures: which of them to look at where the two do not fit.

Packs compute their energy from the figures themselves:

- EU and UK: Regulation (EU) 1169/2011, annex XIV, per gram: carbohydrate and protein 17 kJ or 4 kcal,
  fat 37 or 9, alcohol 29 or 7, fibre 8 or 2, organic acid 13 or 3, polyols 10 or 2.4. Read in public
  copies of the annex.
- US: 21 CFR 101.9(c)(1): 4, 4 and 9 kcal, and alcohol 7; fibre that nobody digests may be left out.
  Calories are to the nearest 5 up to 50, then 10. Read in public copies; alcohol's 7 is from memory.

So a figure typed wrong shows. Polyols are in the carbohydrate, and no field tells them apart: a
panel full of sweeteners fits less well, and nothing here stops a panel.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from calc import units
from calc.interval import Interval
from calc.label import ALCOHOL_DENSITY, Panel
from calc.panel_figures import LONGEST_TEXT, US_ENERGY, Figure
from calc.units import ReadingError

_FACTORS = {
    "kJ": {"fat": 37, "carbohydrate": 17, "protein": 17, "fibre": 8, "alcohol": 29, "acid": 13},
    "kcal": {"fat": 9, "carbohydrate": 4, "protein": 4, "fibre": 2, "alcohol": 7, "acid": 3},
}
# How far below and above what its figures give a pack's energy may lie, besides their rounding. US packs
# may use lower factors of their own for fruit and vegetables (the USDA's do), and none lies much higher.
_BELOW, _ABOVE = {"us": 0.20, "eu": 0.04}, 0.04
_BESIDES = {"kJ": 8.0, "kcal": 4.0}
_ENERGY = re.compile(
    r"(?P<number>\d[\d.,]*(?:[ \u00a0]\d{3}\b)*)\s*(?P<unit>kj|kcal|cal(?:orie)?s?)?", re.I
)
_ENERGY_WORDS = re.compile(
    r"\b(?:energy|energie|calories|cal|kcal|kj|per|serving)\b|[\s:/()|,;.]", re.I
)


@dataclass(frozen=True)
class Energy:
    """Energy as a panel prints it, in `unit` (kJ or kcal)."""

    figure: Figure
    unit: str


def read_energy(text: str, us: bool) -> Energy:
    """Energy such as ``250 kcal``, ``1046 kJ / 250 kcal`` or, on a US panel, ``250``.

    Raises ReadingError with a message for the reader.
    """
    shown = text.strip()
    matches = [*_ENERGY.finditer(shown)] if len(shown) <= LONGEST_TEXT else []
    if not matches or _ENERGY_WORDS.sub("", _ENERGY.sub("", shown)):
        raise ReadingError("Write the energy as the pack prints it, such as 250 kcal or 1046 kJ.")
    # Where both are printed, the finer one.
    match = next((each for each in matches if _unit(each, us) == "kJ"), matches[0])
    unit = _unit(match, us)
    if not unit:
        raise ReadingError("Write the unit of the energy: kJ or kcal.")
    number = re.sub(r"[.,](?=\d{3}\b)|\s", "", match["number"].rstrip(".,"))
    reading = units.read(number, "number")
    around = Interval.around(reading.value, reading.half_unit)
    if us and unit == "kcal":
        around = US_ENERGY.meant(reading.value, reading.half_unit)
    return Energy(Figure(shown, reading.value, around), unit)


def _unit(match: re.Match[str], us: bool) -> str:
    written = (match["unit"] or "").lower()
    if written == "kj":
        return "kJ"
    return "kcal" if written or us else ""


# What the figures give.


def given_by(panel: Panel, unit: str) -> Interval:
    """The energy that a panel's figures give, from least to most."""
    factors, figures = _FACTORS[unit], panel.figures
    low = high = 0.0
    for name in ("fat", "protein", "carbohydrate"):
        low += factors[name] * figures[name].range.low
        high += factors[name] * figures[name].range.high
    fibre = (
        figures["fibre"].range if "fibre" in figures else _unprinted(panel, panel.kind.fibre.range)
    )
    if panel.basis.fibre_apart:
        low += factors["fibre"] * fibre.low
        high += factors["fibre"] * fibre.high
        high += factors["acid"] * _unprinted(panel, panel.kind.acid.range).high
    else:
        # Fibre counts in the carbohydrate, and may have been left out of the energy.
        low -= factors["carbohydrate"] * min(fibre.high, figures["carbohydrate"].range.low)
    if panel.alcohol:
        low += factors["alcohol"] * _alcohol(panel, panel.alcohol.range.low)
        high += factors["alcohol"] * _alcohol(panel, panel.alcohol.range.high)
    return Interval(low, high)


def _unprinted(panel: Panel, share: Interval) -> Interval:
    return Interval(share.low * panel.weight.low, share.high * panel.weight.high)


def _alcohol(panel: Panel, share: float) -> float:
    """Grams of alcohol in the panel's amount, for a share of the volume."""
    density = panel.density.value if panel.density else 1.0
    volume = panel.amount.value if panel.by_volume else panel.amount.value / density
    return share * volume * ALCOHOL_DENSITY


def fits(panel: Panel, energy: Energy) -> bool:
    """Whether the energy printed can come from the figures."""
    given, printed, besides = (
        given_by(panel, energy.unit),
        energy.figure.range,
        _BESIDES[energy.unit],
    )
    below = _BELOW["eu" if panel.basis.fibre_apart else "us"]
    return (
        printed.low <= given.high * (1 + _ABOVE) + besides
        and printed.high >= given.low * (1 - below) - besides
    )


# Which figure to look at.


@dataclass(frozen=True)
class Suspect:
    """A field, and what it may be meant to be: `instead` in grams (or in the energy's unit)."""

    field: str
    instead: float
    other: str = ""


# Where a decimal point may have gone: one place off, or else two.
_SLIPS = ((0.1, 10.0), (0.01, 100.0))
_TYPED = ("fat", "carbohydrate", "protein", "fibre")


def suspects(panel: Panel, energy: Energy) -> list[Suspect]:
    """The single slips that explain an energy that does not fit, likeliest first; none where it fits.

    A decimal point in one figure, two figures exchanged, kJ for kcal.
    """
    if fits(panel, energy):
        return []
    found = [*_points(panel, energy), *_exchanges(panel, energy)]
    return found or [*_units_exchanged(panel, energy)]


def _points(panel: Panel, energy: Energy) -> Iterator[Suspect]:
    names = [name for name in _TYPED if name in panel.figures and panel.figures[name].value]
    for slips in _SLIPS:
        found = [
            Suspect(name, panel.figures[name].value * slip)
            for slip in slips
            for name in names
            if _would_fit(panel, energy, {name: panel.figures[name].value * slip})
        ]
        found += [
            Suspect("energy", energy.figure.value * slip)
            for slip in slips
            if energy.figure.value and fits(panel, _times(energy, slip))
        ]
        if found:
            yield from found
            return


def _times(energy: Energy, slip: float) -> Energy:
    figure = energy.figure
    ends = Interval(figure.range.low * slip, figure.range.high * slip)
    return replace(energy, figure=Figure(figure.text, figure.value * slip, ends))


def _exchanges(panel: Panel, energy: Energy) -> Iterator[Suspect]:
    values = {name: panel.figures[name].value for name in ("fat", "carbohydrate", "protein")}
    for one, other in (("fat", "carbohydrate"), ("fat", "protein"), ("carbohydrate", "protein")):
        changed = {one: values[other], other: values[one]}
        if values[one] != values[other] and _would_fit(panel, energy, changed):
            yield Suspect(one, values[other], other)


def _units_exchanged(panel: Panel, energy: Energy) -> Iterator[Suspect]:
    unit = "kcal" if energy.unit == "kJ" else "kJ"
    if fits(panel, Energy(energy.figure, unit)):
        yield Suspect("energy", energy.figure.value, unit)


def _would_fit(panel: Panel, energy: Energy, changed: Mapping[str, float]) -> bool:
    """Whether the energy fits with other figures, and these can be true."""
    figures = dict(panel.figures)
    for name, value in changed.items():
        meant = panel.basis.rules[name].meant(value, 0.05 * value)
        figures[name] = Figure(panel.figures[name].text, value, meant)
    other = replace(panel, figures=figures)
    solids = sum(figures[name].range.low for name in ("fat", "carbohydrate", "protein"))
    sugars = figures["sugars"].range.low if "sugars" in figures else 0.0
    possible = solids <= panel.weight.high and sugars <= figures["carbohydrate"].range.high
    return possible and fits(other, energy)
