"""The water line: doughs as vessels of one width, filled to scale, so that the same water is one height.

What rides along is stacked above the water. Every tool that compares doughs has the same picture.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.formula import Formula, Item, counts
from calc.units import PLAIN, Style
from docs.parts import composition_bars
from docs.parts.shared.drawing import WIDTH, Drawing, as_figure, bar, line, text
from exercises.publish.html import element

# What is stacked on the water, from below; the rest is ash, alcohol, acid, and what no source tells.
STACKED = ("fat", "protein", "carbohydrate")
REST = "other"
# Waters that differ by less, as a share, are one water line.
SAME = 0.005

HEIGHT = 150.0
TOP = 16.0
GUTTER = 58.0
WIDEST = 64.0
LINE = 13.0
LETTER = 6.6
SMALL_LETTER = 6.0
# A thinner layer would be a hair, not a colour.
THINNEST = 0.3
MOST_IN_ROW = 4
# Of what rides along, the two that weigh most are told beside the picture.
MOST_TOLD = 2


@dataclass(frozen=True)
class Vessel:
    """The liquids of a dough, by weight in grams."""

    name: str
    liquids: tuple[Item, ...]

    @property
    def grams(self) -> float:
        return sum(item.grams for item in self.liquids)

    @property
    def water(self) -> float:
        """Grams of water, as the first meaning of hydration counts it."""
        return self.part("water")

    def part(self, name: str) -> float:
        """Grams of a part, such as ``fat``; what no source tells counts as nothing, and so as the rest."""
        return sum(item.grams * (getattr(item.ingredient, name) or 0.0) for item in self.liquids)

    def layers(self) -> dict[str, float]:
        """Grams of each layer, from below."""
        found = {"water": self.water} | {name: self.part(name) for name in STACKED}
        return found | {REST: max(0.0, self.grams - sum(found.values()))}


def vessel(name: str, dough: Formula) -> Vessel:
    """The vessel of a dough: what counts as its liquid."""
    return Vessel(name, tuple(item for item in dough.items if item.grams and counts(item, "water")))


def water_line(doughs: Mapping[str, Formula], style: Style = PLAIN) -> Element:
    """The picture of some doughs by their names, told in words too; nothing where none has a liquid."""
    vessels = [vessel(name, dough) for name, dough in doughs.items()]
    filled = [each for each in vessels if each.grams]
    if not filled:
        return element("span")
    return as_figure(drawing(filled, style), composition_bars.legend())


def drawing(
    vessels: Sequence[Vessel], style: Style = PLAIN, needed: float | None = None
) -> Drawing:
    """Vessels side by side, drawn to one scale, in rows that a phone has room for.

    `needed` grams of water have their line even where a vessel holds less or more.
    """
    scale = HEIGHT / max(each.grams for each in vessels)
    size = math.ceil(len(vessels) / math.ceil(len(vessels) / MOST_IN_ROW))
    level = is_level(vessels)
    water = vessels[0].water if level and needed is None else needed
    marks: list[Element] = []
    top = TOP
    for start in range(0, len(vessels), size):
        drawn, height = _row(vessels[start : start + size], top, scale, style, level)
        marks += drawn
        if water is not None:
            marks += _level(water, top, scale, style)
        top += height
    told = _said(vessels, style)
    if needed is not None:
        told += f" A line through all is the {units.write(needed, 'mass', style)} of water that the dough needs."
    return Drawing(told, _caption(vessels, style), top - TOP, tuple(marks))


# The colours of the layers, where no legend is beside the picture.
COLOURS = "Blue is water. Above it are fat (gold), protein (red), sugar and starch (brown) and the rest (grey)."


def _row(
    vessels: Sequence[Vessel], top: float, scale: float, style: Style, level: bool
) -> tuple[list[Element], float]:
    """A row of vessels, and how high it is with what is written under it."""
    slot = (WIDTH - GUTTER) / len(vessels)
    marks, most = [], 0
    for number, each in enumerate(vessels):
        middle = GUTTER + (number + 0.5) * slot
        marks += _filled(each, middle, top, min(WIDEST, 0.72 * slot), scale)
        lines = _label(each, slot, style, level)
        most = max(most, len(lines))
        for row, (says, class_) in enumerate(lines):
            marks.append(text(middle, top + HEIGHT + 17 + row * LINE, says, "middle", class_))
    return marks, TOP + HEIGHT + 12 + LINE * most


def is_level(vessels: Sequence[Vessel]) -> bool:
    """Whether all hold the same water, near enough."""
    waters = [each.water for each in vessels]
    return max(waters) - min(waters) <= SAME * max(waters)


def _filled(each: Vessel, middle: float, top: float, width: float, scale: float) -> list[Element]:
    """The layers from below, and the vessel around them."""
    left, floor = middle - width / 2, top + HEIGHT
    marks, level = [], floor
    for part, grams in each.layers().items():
        high = grams * scale
        level -= high
        if high >= THINNEST:
            marks.append(bar(left, level, width, part, high))
    rim = top - 8
    outline = line(
        (left - 4, rim), (left, rim + 4), (left, floor), (left + width, floor), (left + width, rim)
    )
    return [*marks, outline]


def _level(water: float, top: float, scale: float, style: Style) -> list[Element]:
    """The line through all vessels, and what it stands for."""
    y = top + HEIGHT - water * scale
    return [
        line((GUTTER - 6, y), (WIDTH, y), class_="dw-stroke dw-dashes"),
        text(GUTTER - 10, y - 3, units.write(water, "mass", style), "end"),
        text(GUTTER - 10, y + 11, "water", "end", "dw-small"),
    ]


def _label(each: Vessel, slot: float, style: Style, level: bool) -> list[tuple[str, str]]:
    """What is written under a vessel: its name, what it weighs, its water where no line tells it, what rides along most."""
    plain = each.name.partition(" (")[0] or each.name
    names = textwrap.wrap(plain, max(6, int(slot / LETTER)), break_long_words=False)[:2]
    told = [f"{part} {units.write(grams, 'mass', style)}" for part, grams in _riders(each)]
    fitting = [one for one in told if len(one) * SMALL_LETTER <= slot]
    water = [] if level else [f"water {units.write(each.water, 'mass', style)}"]
    small = [units.write(each.grams, "mass", style), *water, *fitting[:MOST_TOLD]]
    return [*((name, "") for name in names), *((one, "dw-small") for one in small)]


def _riders(each: Vessel) -> list[tuple[str, float]]:
    """What rides along, what weighs most first; under half a gram there is nothing to see."""
    stacked = [(part, each.part(part)) for part in STACKED]
    return sorted(((p, g) for p, g in stacked if g >= 0.5), key=lambda pair: -pair[1])


def _said(vessels: Sequence[Vessel], style: Style) -> str:
    def told(each: Vessel) -> str:
        parts = [f"{units.write(grams, 'mass', style)} of {part}" for part, grams in _riders(each)]
        water = units.write(each.water, "mass", style)
        weight = units.write(each.grams, "mass", style)
        return f"{each.name}: {weight} of liquid with {', '.join([f'{water} of water', *parts])}"

    return f"Vessels drawn to one scale. {'; '.join(map(told, vessels))}."


def _caption(vessels: Sequence[Vessel], style: Style) -> str:
    if len(vessels) == 1:
        return "The liquid of this dough: the water below, what rides along above."
    if is_level(vessels):
        return "The same water, one line. What stands above it rides along."
    low, high = (
        units.write(end(each.water for each in vessels), "mass", style) for end in (min, max)
    )
    return f"The water stands at different heights: from {low} to {high}."
