"""A picture of the kitchen in a page; lists and the heads of pages have theirs from here, too."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.course.pictures.scenes import SCENES, SIZE, hands_in_dough, water_into_dough
from exercises.publish.html import element
from exercises.setfile import nearest

WIDE = "hands-in-dough"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``of`` names the picture. Raises ValueError with a message for the page's author."""
    name = attributes.get("of", "")
    if name == WIDE:
        return [framed(hands_in_dough(), 420, 180, "wide")]
    if name not in SCENES:
        raise ValueError(f"“of” names no picture. {nearest(name, [*SCENES, WIDE])}")
    return [picture(name, "small")]


def picture(name: str, place: str) -> Element:
    """A small picture, for a `place` (a class ``dw-…`` of pictures.css), such as ``head`` of a page or ``small`` in a list.

    A new lesson has water going into a dough until somebody draws its own.
    """
    return framed(SCENES.get(name, water_into_dough)(), SIZE, 110, place)


def framed(marks: list[Element], width: float, height: float, place: str) -> Element:
    """Marks as a picture that a screen reader passes over: what it shows is said beside it."""
    drawn = element("svg", *marks, viewBox=f"0 0 {width:g} {height:g}", aria_hidden="true", focusable="false")  # fmt: skip
    return element("span", drawn, class_=f"dw-picture dw-{place}")
