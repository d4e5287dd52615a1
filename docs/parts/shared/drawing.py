"""How a figure is drawn: a width that fits a phone, our own colours by class, and words for everyone.

Coordinates are in the units of the picture's box; a picture 320 wide is about as wide as a phone.
Colours come from classes in the style sheet (`dw-water`, `dw-fat` …), so that each picture has a
light and a dark form. A colour never tells something alone: write it beside.
"""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from exercises.publish.html import element

WIDTH = 320


@dataclass(frozen=True)
class Drawing:
    """A finished picture. `says` tells all of it in words, `caption` is under it."""

    says: str
    caption: str
    height: float
    marks: tuple[Element, ...]
    width: float = WIDTH


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


def as_figure(drawing: Drawing, *more: Element) -> Element:
    """A drawing as an element; a screen reader says its words in place of the picture."""
    return element(
        "figure",
        element(
            "svg",
            # Firefox would have the letters in a picture read after its words.
            element("g", *drawing.marks, aria_hidden="true"),
            viewBox=f"0 0 {drawing.width:g} {drawing.height:g}",
            role="img",
            aria_label=drawing.says,
        ),
        *more,
        element("figcaption", drawing.caption),
        class_="dw-drawing",
    )
