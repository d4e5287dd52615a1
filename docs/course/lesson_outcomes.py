"""What a lesson's students can do at its end, and where it shows: ``<lesson-outcomes lesson="preferments">``."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.course.benches import bench_of
from docs.course.kit import found, outcomes_of
from exercises.publish.html import element, table

BENCH = "bench"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``lesson`` is its key. Raises ValueError where the lesson's list and the places do not agree."""
    lesson = attributes["lesson"]
    told, places = outcomes_of(lesson), bench_of(lesson).outcomes
    if len(told) != len(places):
        raise ValueError(f"{lesson} has {len(told)} outcomes, and places for {len(places)}.")
    rows = [
        [element("span", outcome), "; ".join(_place(name, lesson) for name in names)]
        for outcome, names in zip(told, places, strict=True)
    ]
    return [table("", ["A student can", "It shows in"], rows)]


def _place(name: str, lesson: str) -> str:
    if name == BENCH:
        return "the bench demonstration"
    _, problem = found(name if "/" in name else f"{lesson}/{name}")
    where = "a question of the lesson, " if name.startswith("checks/") else ""
    return f"{where}“{problem.title}”"
