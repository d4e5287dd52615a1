"""The list of lessons: each with what it is about, its set, and how many problems that has."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from xml.etree.ElementTree import Element

import yaml

from exercises import problems
from exercises.publish.html import element
from exercises.skills import LESSONS

PAGES = Path(__file__).resolve().parent.parent / "pages" / "lessons"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The lessons in teaching order, from the head of each one's page."""
    return [element("ol", *map(_line, LESSONS), class_="dw-sets")]


def _line(key: str) -> Element:
    _, head, _ = (PAGES / f"{key}.md").read_text("utf-8").split("---\n", 2)
    said = yaml.safe_load(head)
    count = len(problems.load(key).problems)
    practice = element("a", f"{count} problems", href="#", data_site=f"practice/{key}/")
    return element(
        "li",
        element("a", said["title"], href="#", data_site=f"lessons/{key}/"),
        element("span", f"{said['description']} Then ", practice, "."),
    )
