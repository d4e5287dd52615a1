"""How a figure is drawn: a width that fits a phone, our own colours by class, and words for everyone.

Coordinates are in the units of the picture's box; a picture 320 wide is about as wide as a phone.
Colours come from classes in the style sheet (`dw-water`, `dw-fat` …), so that each picture has a
light and a dark form. A colour never tells something alone: write it beside.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.quantities import REGISTRY
from calc.working import Working
from exercises.publish.html import element

WIDTH = 320


@dataclass(frozen=True)
class Drawing:
    """A finished picture. `says` tells all of it in words, `caption` stands under it."""

    says: str
    caption: str
    height: float
    marks: tuple[Element, ...]
    width: float = WIDTH


Draw = Callable[[Mapping[str, str]], Drawing]
FIGURES: dict[str, Draw] = {}


def figure(name: str) -> Callable[[Draw], Draw]:
    """Enter a figure under the name a lesson calls it by."""

    def enter(draw: Draw) -> Draw:
        FIGURES[name] = draw
        return draw

    return enter


def working(asked: str, **given: str) -> Working:
    """The working of a registered quantity, its givens in words; underscores stand for spaces."""
    quantity = REGISTRY[asked]
    kinds = {slot.name: slot.kind for slot in quantity.slots}
    values = {}
    for key, text in given.items():
        name = key.replace("_", " ")
        read = composition.read if kinds[name] == "ingredient" else None
        values[name] = read(text) if read else units.read(text, kinds[name]).value
    return quantity.working(values)


def bar(x: float, y: float, width: float, of: str, height: float = 24) -> Element:
    """A rectangle in the colour of what it shows: water, fat, protein, carbohydrate, flour, other …"""
    return element(
        "rect",
        x=f"{x:.1f}",
        y=f"{y:.1f}",
        width=f"{width:.1f}",
        height=f"{height:.1f}",
        class_=f"dw-{of}",
    )


def text(x: float, y: float, says: str, anchor: str = "start", class_: str = "") -> Element:
    """A line of text; `anchor` is start, middle or end."""
    where = None if anchor == "start" else anchor
    return element(
        "text", says, x=f"{x:.1f}", y=f"{y:.1f}", text_anchor=where, class_=class_ or None
    )


def line(*points: tuple[float, float], class_: str = "dw-stroke") -> Element:
    """A line through points."""
    path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return element("path", d=path, class_=class_)
