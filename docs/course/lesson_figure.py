"""A picture in a lesson: drawn at build time from what `calc` computes, with its words beside it."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.course.figures import FIGURES
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``draw`` names a figure; its givens are the other attributes.

    Raises ValueError with a message for the lesson's author.
    """
    name = attributes.get("draw", "")
    if name not in FIGURES:
        raise ValueError(f"“draw” must be one of: {', '.join(FIGURES)}")
    drawing = FIGURES[name](attributes)
    title = f"figure-{name}"
    return [
        element(
            "figure",
            element(
                "svg",
                element("title", drawing.says, id=title),
                *drawing.marks,
                viewBox=f"0 0 {drawing.width:g} {drawing.height:g}",
                role="img",
                aria_labelledby=title,
            ),
            element("figcaption", drawing.caption),
            class_="dw-drawing",
        )
    ]
