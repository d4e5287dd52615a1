"""Answers to all that a lesson asks in its steps, for its teacher: ``<step-answers lesson="preferments">``."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby
from xml.etree.ElementTree import Element

from docs.course.kit import questions_of
from docs.parts.check_question import Asked, asked_of
from exercises.marking import solution
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``lesson`` is its key. The answers are those of the questions as the lesson draws them."""
    return [
        element(
            "details",
            element("summary", "Every answer, step by step"),
            *_steps(attributes["lesson"]),
        )
    ]


def _steps(lesson: str) -> Iterator[Element]:
    for heading, questions in groupby(questions_of(lesson), key=lambda each: each[0]):
        yield element("p", element("strong", heading))
        yield element("ul", *(_answer(asked_of(given)) for _, given in questions))


def _answer(asked: Asked) -> Element:
    title = asked.variant.problem.title
    ended = title if title.endswith("?") else f"{title}:"
    return element("li", f"{ended} ", " · ".join(left_blank(asked)))


def left_blank(asked: Asked) -> list[str]:
    """The answer to each place that is left blank."""
    lines = solution(asked.variant)
    if asked.variant.boxes:
        return lines
    steps = asked.variant.working.steps.values()
    return [line for step, line in zip(steps, lines, strict=True) if step in asked.blanks]
