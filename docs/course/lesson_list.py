"""The list of lessons: each with what it is about, its set, and how many problems that has."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.course.heads import head_of
from docs.course.kitchen_picture import picture
from exercises import problems
from exercises.lessons import LESSONS
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The lessons in teaching order, from the head of each one's page."""
    return [element("ol", *map(_line, LESSONS), class_="dw-sets")]


def _line(key: str) -> Element:
    count = len(problems.load(key).problems)
    practice = element("a", counted(count, "problem"), href="#", data_site=f"practice/{key}/")
    about = head_of(f"lessons/{key}.md")["description"]
    read = element("span", class_="dw-standing", data_lesson=key)
    standing = element("span", class_="dw-standing", data_standing=key)
    return element(
        "li",
        picture(key, "small"),
        element("a", LESSONS[key], href="#", data_site=f"lessons/{key}/"),
        element("span", f"{about} ", read, "Then ", practice, ". ", standing),
    )
