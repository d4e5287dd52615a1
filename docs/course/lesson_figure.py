"""A picture in a lesson: drawn at build time from what `calc` computes, with its words beside it."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.course.figures import FIGURES
from docs.parts.shared.drawing import as_figure


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``draw`` names a figure; its givens are the other attributes.

    Raises ValueError with a message for the lesson's author.
    """
    name = attributes.get("draw", "")
    if name not in FIGURES:
        raise ValueError(f"“draw” must be one of: {', '.join(FIGURES)}")
    return [as_figure(FIGURES[name](attributes))]
