"""Write a problem set in the page, and see it as students will: nothing to install."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.parts.problem_set import Work, problem_list
from docs.parts.shared import problem
from docs.parts.shared.fields import style_of
from exercises import untrusted
from exercises.draws import Problem, ProblemSet, draw
from exercises.marking import mark
from exercises.problems import read_set
from exercises.publish.html import element
from exercises.review import describe, review
from exercises.setfile import SetError

# The page looks at fewer draws than the terminal does: it answers while the teacher types.
DRAWS_IN_THE_PAGE = 60
FILE = "my-set.yml"

STARTER = """\
# Everything after a # is a note to yourself.
title: Monday's set
version: 1
about: The demo school is invented.
problems:
  - id: monday-loaf
    title: Monday's loaf
    ask: new liquid
    story: |
      A loaf has {flour} of flour at {hydration} hydration. You have {liquid},
      which is {water content of liquid} water. How much goes in?
    hint cost: [0, 0, 0.5]
    givens:
      flour: {from: 400 g, to: 900 g, step: 50 g}
      hydration: [60 %, 65 %, 70 %]
      liquid: ["goat yogurt, 86 % water", buttermilk]
  - id: wettest
    title: The wettest first
    ask: order
    by: water content
    story: Put these in order by their water.
    items: [water, whole-milk, sour-cream, egg]
"""


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The text box with a set to start from, and that set as students see it."""
    problem_set = read_set(STARTER, FILE, DRAWS_IN_THE_PAGE)
    return [
        element(
            "form",
            element("label", "Your set", for_="set-text"),
            element(
                "textarea",
                STARTER,
                id="set-text",
                name="text",
                rows=STARTER.count("\n") + 2,
                spellcheck="false",
                autocapitalize="off",
                autocomplete="off",
                class_="dw-code",
                aria_describedby="set-text-note",
            ),
            element(
                "p",
                "The Tab key moves on. Indent with spaces. What you write is kept on this device.",
                class_="dw-note",
                id="set-text-note",
            ),
            element(
                "div",
                element("label", "File name", for_="set-file"),
                element("input", id="set-file", name="file", type="text", value=FILE, autocomplete="off", spellcheck="false", maxlength=100, aria_describedby="set-file-note"),
                element("p", "The file's name and the version give each student's numbers: keep both.", class_="dw-note", id="set-file-note"),
                class_="dw-field",
            ),
            element(
                "div",
                element("label", "See it as this student", for_="set-student"),
                element("input", id="set-student", name="student", type="text", autocomplete="off", maxlength=100),
                class_="dw-field",
            ),
            element("button", "Look at it", type="submit", class_="dw-button"),
            class_="dw-form",
            novalidate=True,
        ),
        element("div", *preview(problem_set, ""), class_="dw-output", data_output=True),
    ]  # fmt: skip


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``look`` or ``mark``.

    A set with slips gives the list of them, each with its line, and no preview.
    """
    student = values.get("student", "")[:100]
    try:
        name = file_name(values.get("file", ""))
        problem_set = read_set(values.get("text", ""), name, DRAWS_IN_THE_PAGE)
    except SetError as error:
        count = len(error.complaints)
        return {
            "elements": [slips(error)],
            "says": f"{counted(count, 'thing')} to put right.",
        }
    if values.get("action") == "mark":
        return _marked(problem_set, values, student)
    return {
        "elements": preview(problem_set, student),
        "says": f"Good: {len(problem_set.problems)} problems.",
    }


def file_name(typed: str) -> str:
    """The name under which the set is saved: its numbers are drawn from it."""
    return typed.strip()[:100] or FILE


def _marked(problem_set: ProblemSet, values: Mapping[str, str], student: str) -> dict[str, object]:
    asked = problem_set.problem(values.get("problem", ""))
    if asked is None:
        return {"elements": [], "says": "That problem is gone from the set. Look at it again."}
    style = style_of(values)
    answers = untrusted.strings(values.get("answers", ""))
    result = mark(draw(problem_set, asked, student), answers, style)
    return {
        "elements": problem.feedback(result, asked.tries, style),
        "says": f"{asked.title}: {problem.earned(result)}.",
    }


def slips(error: SetError) -> Element:
    """What is to be put right; each line leads to its place in the text."""
    return element(
        "ul",
        *(
            element(
                "li",
                element(
                    "button",
                    f"line {each.line}, column {each.column}",
                    type="button",
                    data_line=each.line,
                    data_column=each.column,
                    class_="dw-button dw-quiet",
                ),
                f" {each.message}",
            )
            for each in error.complaints
        ),
        class_="dw-slips",
    )


def preview(problem_set: ProblemSet, student: str) -> list[Element]:
    """The set as a student sees it, and for its writer what each problem's draws come to."""
    lines = [
        element("li", element("strong", f"{each.title}: "), _draws(each))
        for each in problem_set.problems
    ]
    return [
        element("h2", problem_set.title),
        element("p", problem_set.about) if problem_set.about else element("span"),
        element(
            "details",
            element("summary", "What students can be given: the smallest and largest answers"),
            element("ul", *lines),
        ),
        *problem_list(problem_set, Work(student)),
    ]


def _draws(each: Problem) -> str:
    return describe(review(each, DRAWS_IN_THE_PAGE)) if each.quantity else "the same for everyone"
