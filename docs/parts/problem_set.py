"""A problem set in the page: the problems with a student's numbers, and their marking."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from xml.etree.ElementTree import Element

from calc.units import PLAIN, Style
from docs.parts import problem
from docs.parts.fields import FieldErrors, style_of
from docs.parts.html import element
from exercises import problems, study, untrusted
from exercises.handin import new_handin, pack, write_handin
from exercises.marking import ProblemMark, mark
from exercises.problems import ProblemSet, draw
from exercises.skills import Exercise

LONGEST_NAME = 100


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``name`` is a set's file name without its ending. Shown first with sample numbers."""
    problem_set = problems.load(attributes.get("name", ""))
    prefix = problem_set.key
    return [
        element("p", problem_set.about),
        element(
            "form",
            element(
                "div",
                element("label", "Your name", for_=f"{prefix}-student"),
                element(
                    "input",
                    id=f"{prefix}-student",
                    name="student",
                    type="text",
                    autocomplete="name",
                    maxlength=LONGEST_NAME,
                    aria_describedby=f"{prefix}-student-note",
                ),
                element(
                    "span",
                    "Your name picks your numbers: the same name gives the same numbers again. "
                    "It stays on this device until you save a hand-in file. "
                    "Without a name you see sample numbers.",
                    id=f"{prefix}-student-note",
                    class_="dw-note",
                ),
                element("span", class_="dw-complaint", data_for="student"),
                class_="dw-field",
            ),
            class_="dw-form dw-who",
        ),
        element("h2", "Problems", class_="dw-hidden"),
        element("div", *problem_list(problem_set, ""), class_="dw-problems", data_output=True),
        element(
            "div",
            element(
                "p",
                f"Marks: 0 of {_out_of(problem_set, '')}",
                class_="dw-total",
                data_total=True,
                role="status",
            ),
            element(
                "button",
                "Save hand-in file",
                type="button",
                data_action="hand-in",
                class_="dw-button",
            ),
            element(
                "button",
                "Copy as text",
                type="button",
                data_action="copy",
                class_="dw-button dw-quiet",
            ),
            element(
                "textarea",
                readonly=True,
                hidden=True,
                rows=4,
                aria_label="Your hand-in as text, to copy",
                data_packed=True,
            ),
            class_="dw-handin",
        ),
    ]


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``draw``, ``mark``, ``hand-in`` or ``copy``."""
    problem_set = problems.load(values.get("name", ""))
    student = values.get("student", "")[:LONGEST_NAME]
    style = style_of(values)
    answers = untrusted.answers(values.get("answers", ""))
    match values.get("action"):
        case "mark":
            return _marked(problem_set, values, student, answers, style)
        case "hand-in" | "copy" if not student.strip():
            raise FieldErrors({"student": "Write your name first: your teacher marks by it."})
        case "copy":
            handin = new_handin(problem_set, student, answers, _opened(values), _now(values))
            return {
                "text": pack(handin),
                "says": "Copied. Paste it where your teacher asks for it.",
            }
        case "hand-in":
            return {
                "file": write_handin(problem_set, student, answers, _opened(values), _now(values)),
                "filename": f"{problem_set.key}-hand-in.json",
                "says": "The hand-in file is saved.",
            }
        case _:
            return {
                "elements": problem_list(problem_set, student, style),
                "total": _total(problem_set, student, answers, _opened(values)),
                "says": "These are your numbers."
                if student.strip()
                else "These are sample numbers.",
            }


def _marked(
    problem_set: ProblemSet, values: Mapping[str, str], student: str, answers: dict, style: Style
) -> dict[str, object]:
    asked = problem_set.problem(values.get("problem", ""))
    if asked is None:
        raise ValueError("there is no such problem in the set")
    opened = _opened(values)
    drawn = draw(problem_set, asked, student)
    result = mark(drawn, answers.get(asked.id, {}), style, opened.get(asked.id))
    tries = int(values.get("tries", "1"))
    return {
        "elements": problem.feedback(result, tries, style),
        "total": _total(problem_set, student, answers, opened),
        "counts": result.answered,
        "attempts": attempts(Exercise(problem_set, asked), student, result, values),
        "verdicts": {one.step.key: one.verdict.name.lower() for one in result.steps},
        "says": f"{asked.title}: {result.marks} of {result.out_of} marks.",
    }


def attempts(
    exercise: Exercise, name: str, result: ProblemMark, values: Mapping[str, str]
) -> list[dict[str, object]]:
    """What the page logs of a marking, at its time ``now``: one attempt, or none yet."""
    made = study.attempt(exercise, name, result, int(values.get("now", "0")))
    return [asdict(made)] if made else []


def _now(values: Mapping[str, str]) -> int:
    """The time on the reader's device, in seconds; 0 where the page tells none."""
    return int(values.get("now", "0"))


def _opened(values: Mapping[str, str]) -> dict[str, dict[str, int]]:
    """How many hints of each step the student opened, by problem."""
    return untrusted.counts(values.get("hints", ""))


def _out_of(problem_set: ProblemSet, student: str) -> int:
    return sum(draw(problem_set, each, student).out_of for each in problem_set.problems)


def _total(
    problem_set: ProblemSet, student: str, answers: Mapping[str, Mapping[str, str]], opened: Mapping
) -> str:
    earned = sum(
        mark(
            draw(problem_set, each, student), answers.get(each.id, {}), PLAIN, opened.get(each.id)
        ).marks
        for each in problem_set.problems
    )
    return f"Marks: {earned:g} of {_out_of(problem_set, student)}"


def problem_list(problem_set: ProblemSet, student: str, style: Style = PLAIN) -> list[Element]:
    """Every problem with the student's numbers, as forms."""
    return [
        problem.form(problem_set.key, number, draw(problem_set, each, student), style)
        for number, each in enumerate(problem_set.problems, 1)
    ]
