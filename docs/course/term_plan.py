"""The term plan's table: a lesson a week, what it bakes, and what to have ready."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.course.heads import head_of
from docs.parts.shared.cards import as_cards
from exercises.lessons import LESSONS
from exercises.publish.html import Child, element, table


def build(attributes: Mapping[str, str]) -> list[Element]:
    """No attributes. ``bench`` and ``ready`` are in the head of each lesson's teaching page."""
    rows = [_row(week, key) for week, key in enumerate(LESSONS, 1)]
    return [as_cards(table("", ["Week and lesson", "At the bench", "Have ready"], rows))]


def _row(week: int, key: str) -> list[Child]:
    head = head_of(f"teachers/lessons/{key}.md")
    link = element("a", LESSONS[key], href="#", data_site=f"teachers/lessons/{key}/")
    return [element("span", f"{week}. ", link), head["bench"], head["ready"]]
