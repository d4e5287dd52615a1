"""The skills map: which problem trains what, at which level, and which mistakes it can show."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.diagnosis import rewritten
from calc.mistakes import BY_KEY
from calc.words import capital, counted
from docs.course.python_reference import folded
from docs.parts.shared.cards import as_cards
from exercises.draws import draw
from exercises.publish.html import element, table
from exercises.skills import Exercise, trained


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A table for each skill: its problems, with level, marks and the mistakes they can show."""
    made: list[Element] = []
    for skill, exercises in trained().items():
        rows = [_row(each) for each in sorted(exercises, key=_order)]
        heads = ["Problem", "Set", "Level", "Marks", "Mistakes it can show"]
        title = f"Problems that train this: {len(exercises)}"
        lesson = element("a", "the lesson", href="#", data_site=skill.page)
        made.append(
            folded(
                "h2",
                capital(skill.name),
                f"skill-{skill.key}",
                element("p", "Read first: ", lesson, "."),
                as_cards(table(title, heads, rows, "dw-skills-map")),
            )
        )
    return made


def _order(exercise: Exercise) -> tuple[int, str]:
    return exercise.problem.level, exercise.key


def _row(exercise: Exercise) -> list[Element | str]:
    key = exercise.problem_set.key
    place = f"practice/{key}/#{key}-{exercise.problem.id}"
    drawn = draw(exercise.problem_set, exercise.problem, "")
    return [
        element("a", exercise.problem.title, href="#", data_site=place),
        exercise.problem_set.title,
        str(exercise.problem.level),
        str(drawn.out_of),
        _mistakes([BY_KEY[mistake].name for mistake in shown_mistakes(exercise)]),
    ]


def _mistakes(names: list[str]) -> Element | str:
    """The mistakes a problem can show, folded, and not printed: there are many, and few want them all."""
    if not names:
        return "its own wrong options"
    return element(
        "details",
        element("summary", counted(len(names), "mistake")),
        element("div", "; ".join(names)),
    )


def shown_mistakes(exercise: Exercise) -> list[str]:
    """The keys of the known mistakes that can be made in some step of a problem."""
    drawn = draw(exercise.problem_set, exercise.problem, "")
    return list(
        dict.fromkeys(
            one.mistake.key
            for step in drawn.working.steps
            for one in rewritten(drawn.working, step)
        )
    )
