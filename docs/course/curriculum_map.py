"""Which lessons teach what public standards for bakers state: ``<curriculum-map></curriculum-map>``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

import yaml

from docs.parts.shared.cards import as_cards
from exercises.lessons import LESSONS
from exercises.publish.html import Child, element, table

PARTS = {"code", "asks", "lessons", "not"}
HEADS = ["They state", "Lessons that teach it", "Not in this course"]


@dataclass(frozen=True)
class Outcome:
    """One thing that a standard states: its code there, our words for it, who teaches it, what is left."""

    code: str
    asks: str
    lessons: tuple[str, ...]
    missing: str


@dataclass(frozen=True)
class Standard:
    """A public standard, with what of it was opened."""

    title: str
    body: str
    year: str
    opened: str
    outcomes: tuple[Outcome, ...]


@cache
def standards() -> tuple[Standard, ...]:
    """All that ``curricula.yml`` lists. Raises ValueError for a lesson that nobody knows."""
    rows = yaml.safe_load(Path(__file__).with_name("curricula.yml").read_text("utf-8"))
    return tuple(_standard(row) for row in rows)


def _standard(row: Mapping) -> Standard:
    outcomes = tuple(_outcome(each) for each in row["outcomes"])
    return Standard(row["title"], row["body"], str(row["year"]), row["opened"], outcomes)


def _outcome(row: Mapping) -> Outcome:
    unknown = [key for key in row["lessons"] if key not in LESSONS]
    if unknown:
        raise ValueError(f"“{row['code']}” names lessons that are none: {', '.join(unknown)}.")
    if odd := row.keys() - PARTS:
        raise ValueError(
            f"“{row['code']}” has “{odd.pop()}”. Put quotes around words with a comma."
        )
    return Outcome(row["code"], row["asks"], tuple(row["lessons"]), row.get("not", ""))


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A heading, the source and a table for each standard; it takes no attributes."""
    return [part for each in standards() for part in _told(each)]


def _told(standard: Standard) -> Iterator[Element]:
    yield element("h3", standard.title)
    yield element("p", f"{standard.body}, {standard.year}. Opened: {standard.opened}.")
    rows = [
        [f"{one.code}: {one.asks}", element("span", *_links(one)), one.missing]
        for one in standard.outcomes
    ]
    yield as_cards(table("", HEADS, rows))


def _links(outcome: Outcome) -> Iterator[Child]:
    """The lessons by number and title, in the order of the course."""
    numbers = {key: number for number, key in enumerate(LESSONS, 1)}
    for place, key in enumerate(sorted(outcome.lessons, key=numbers.get)):
        yield ", " if place else None
        yield element("a", f"{numbers[key]}. {LESSONS[key]}", data_site=f"lessons/{key}/")
