"""A problem set in the page: the problems with a student's numbers, and their marking."""

from __future__ import annotations

import json
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.units import PLAIN, Style
from docs.parts.fields import FieldErrors, style_of
from docs.parts.html import element
from exercises import problems
from exercises.handin import write_handin
from exercises.marking import ProblemMark, StepMark, Verdict, hints, mark, solution
from exercises.problems import ProblemSet, Variant, draw

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
            class_="dw-handin",
        ),
    ]


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``draw``, ``mark`` or ``hand-in``."""
    problem_set = problems.load(values.get("name", ""))
    student = values.get("student", "")[:LONGEST_NAME]
    style = style_of(values)
    answers = json.loads(values.get("answers", "{}"))
    match values.get("action"):
        case "mark":
            return _marked(problem_set, values, student, answers, style)
        case "hand-in":
            if not student.strip():
                raise FieldErrors({"student": "Write your name first: your teacher marks by it."})
            return {
                "file": write_handin(problem_set, student, answers),
                "filename": f"{problem_set.key}-hand-in.json",
                "says": "The hand-in file is saved.",
            }
        case _:
            return {
                "elements": problem_list(problem_set, student, style),
                "total": _total(problem_set, student, answers),
                "says": "These are your numbers."
                if student.strip()
                else "These are sample numbers.",
            }


def _marked(
    problem_set: ProblemSet, values: Mapping[str, str], student: str, answers: dict, style: Style
) -> dict[str, object]:
    problem = problem_set.problem(values.get("problem", ""))
    if problem is None:
        raise ValueError("there is no such problem in the set")
    result = mark(draw(problem_set, problem, student), answers.get(problem.id, {}), style)
    tries = int(values.get("tries", "1"))
    return {
        "elements": feedback(result, tries, style),
        "total": _total(problem_set, student, answers),
        "counts": result.answered,
        "verdicts": {one.step.key: one.verdict.name.lower() for one in result.steps},
        "says": f"{problem.title}: {result.marks} of {result.out_of} marks.",
    }


def _out_of(problem_set: ProblemSet, student: str) -> int:
    return sum(draw(problem_set, problem, student).out_of for problem in problem_set.problems)


def _total(problem_set: ProblemSet, student: str, answers: Mapping[str, Mapping[str, str]]) -> str:
    earned = sum(
        mark(draw(problem_set, problem, student), answers.get(problem.id, {})).marks
        for problem in problem_set.problems
    )
    return f"Marks: {earned} of {_out_of(problem_set, student)}"


def problem_list(problem_set: ProblemSet, student: str, style: Style = PLAIN) -> list[Element]:
    """Every problem with the student's numbers, as forms."""
    return [
        _problem(problem_set.key, number, draw(problem_set, problem, student), style)
        for number, problem in enumerate(problem_set.problems, 1)
    ]


def _problem(prefix: str, number: int, variant: Variant, style: Style) -> Element:
    problem = variant.problem
    marks = f"{variant.out_of} mark{'s' * (variant.out_of != 1)}"
    heading = f"{prefix}-{problem.id}"
    last = variant.working.answer.key
    return element(
        "form",
        element("h3", f"{number}. {problem.title} ", element("small", marks), id=heading),
        *(element("p", paragraph) for paragraph in variant.story.strip().split("\n\n")),
        element("p", "Write every step, or just the last one.", class_="dw-note")
        if len(variant.working.steps) > 1
        else None,
        *(_step(prefix, variant, key, key == last, style) for key in variant.working.steps),
        element("button", "Mark my answer", type="submit", class_="dw-button"),
        element("div", class_="dw-feedback", data_feedback=True, aria_live="polite"),
        class_="dw-problem",
        data_problem=problem.id,
        aria_labelledby=heading,
        novalidate=True,
    )


def _step(prefix: str, variant: Variant, key: str, is_last: bool, style: Style) -> Element:
    step = variant.working.steps[key]
    box = f"{prefix}-{variant.problem.id}-{key.replace(' ', '-')}"
    three = hints(variant, key, style)
    label = step.label[0].upper() + step.label[1:]
    return element(
        "div",
        element("label", label + (" (the answer)" if is_last else ""), for_=box),
        element(
            "input",
            id=box,
            name=key,
            type="text",
            autocomplete="off",
            spellcheck="false",
            maxlength=60,
        ),
        _hints(three),
        class_="dw-field dw-answer-box",
    )


def _hints(three: tuple[str, str, str]) -> Element:
    """Hints that open one inside the other, each telling more."""
    names = ("Hint: what to find", "More: the relation", "More: the numbers put in")
    made = None
    for name, text in reversed(list(zip(names, three, strict=True))):
        made = element(
            "details", element("summary", name), element("p", text), made, class_="dw-hint"
        )
    return made


def feedback(result: ProblemMark, tries: int, style: Style) -> list[Element]:
    """What the marking says, step by step; the model solution after the last try."""
    made = [
        element(
            "p",
            f"{result.marks} of {result.out_of} mark{'s' * (result.out_of != 1)}",
            class_="dw-marks" + (" dw-right" if result.all_right else ""),
        )
    ]
    if not result.answered and all(one.verdict is Verdict.BLANK for one in result.steps):
        return [element("p", "Nothing is filled in yet. Write at least the answer.")]
    made.append(element("ul", *(_step_feedback(one) for one in result.steps), class_="dw-verdicts"))
    left = result.variant.problem.tries - tries
    if result.all_right or left <= 0:
        made.append(
            element(
                "details",
                element("summary", "The worked solution"),
                element("ol", *(element("li", line) for line in solution(result.variant, style))),
                open=not result.all_right,
            )
        )
    elif result.answered:
        made.append(
            element("p", f"Tries left before the worked solution: {left}", class_="dw-note")
        )
    return made


SIGNS = {
    Verdict.RIGHT: "✓", Verdict.FOLLOWS: "✓", Verdict.NOT_NEEDED: "✓",
    Verdict.WRONG: "✗", Verdict.UNREAD: "?", Verdict.BLANK: "·",
}  # fmt: skip


def _step_feedback(one: StepMark) -> Element:
    links = [
        element(
            "a",
            f"Read again: {finding.mistake.name}",
            href=f"../lessons/{finding.mistake.lesson}/#{finding.mistake.key}",
            class_="dw-reread",
        )
        for finding in one.findings
    ]
    return element(
        "li",
        element("span", SIGNS[one.verdict], aria_hidden="true", class_="dw-sign"),
        element("strong", f"{one.step.label}: {one.verdict.value}. "),
        one.says,
        " ",
        *links,
        class_=f"dw-{one.verdict.name.lower().replace('_', '-')}",
    )
