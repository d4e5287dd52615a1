"""A question in a lesson, answered and marked in its place: one problem of a set, with fixed numbers.

With ``blank`` only some steps are asked and the others are shown worked, so that an example fades
from a complete one to a bare one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc.units import PLAIN, Style
from calc.words import capital
from calc.working import Step
from docs.parts.shared import problem
from docs.parts.shared.fields import style_of
from exercises import problems, untrusted
from exercises.draws import Box, Variant, draw
from exercises.marking import ProblemMark, mark, read_back, solution
from exercises.publish.html import element


@dataclass(frozen=True)
class Asked:
    """A problem with its numbers, and the steps or boxes that are left blank."""

    variant: Variant
    blanks: tuple[Step | Box, ...]
    prefix: str

    @property
    def worked(self) -> dict[str, str]:
        """What is shown of the other steps: each result, as it is written."""
        return {
            step.key: self.variant.working.sentence(step.key).rpartition(" = ")[2]
            for step in self.variant.working.steps.values()
            if step not in self.blanks
        }

    def mark(self, typed: Mapping[str, str], style: Style) -> ProblemMark:
        """The marks of what was typed, beside the steps that are shown."""
        return mark(self.variant, {**typed, **self.worked}, style)


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``problem`` is ``set/problem``; ``draw`` names other numbers of it, ``blank`` the steps to fill in.

    ``label`` stands above the question. Raises ValueError or LookupError.
    """
    asked = asked_of(attributes)
    label = attributes.get("label", "Your turn")
    return [_form(asked, label), _folded_answer(asked)]


def asked_of(values: Mapping[str, str]) -> Asked:
    """The problem that an element's attributes name. Raises ValueError or LookupError."""
    name, drawn, blank = (values.get(key, "") for key in ("problem", "draw", "blank"))
    key, _, problem_id = name.rpartition("/")
    problem_set = problems.load(key)
    one = problem_set.problem(problem_id)
    if one is None:
        ids = ", ".join(each.id for each in problem_set.problems)
        raise ValueError(f"“{problem_id}” is no problem of {key}: {ids}.")
    variant = draw(problem_set, one, drawn)
    prefix = "-".join(re.findall(r"[a-z0-9]+", f"check {name} {drawn} {blank}".lower()))
    return Asked(variant, _blanks(variant, blank), prefix)


def _blanks(variant: Variant, blank: str) -> tuple[Step | Box, ...]:
    parts = variant.parts
    if not blank:
        return parts
    wanted = [int(number) for number in re.findall(r"\d+", blank)]
    if not wanted or not all(1 <= number <= len(parts) for number in wanted):
        raise ValueError(f"“blank” names steps by number, from 1 to {len(parts)}.")
    return tuple(parts[number - 1] for number in wanted)


def _form(asked: Asked, label: str) -> Element:
    return element(
        "form",
        element("p", label, class_="dw-eyebrow"),
        *(element("p", text) for text in asked.variant.story.strip().split("\n\n")),
        *_places(asked, PLAIN),
        element("button", "Check", type="submit", class_="dw-button"),
        element("div", class_="dw-feedback", data_feedback=True, aria_live="polite"),
        class_="dw-problem dw-check",
        data_problem=asked.variant.problem.id,
        # Three questions of a step may come “from lesson 1”: each has its own name.
        aria_label=f"{label}: {asked.variant.problem.title}",
        novalidate=True,
    )


def _places(asked: Asked, style: Style) -> list[Element]:
    """A box for each blank, and the other steps as they are worked."""
    if asked.variant.boxes:
        return problem.places(asked.prefix, asked.variant, style)
    return [
        problem.step_box(asked.prefix, asked.variant, step, style)
        if step in asked.blanks
        else _shown(asked.variant, step, style)
        for step in asked.variant.working.steps.values()
    ]


def _shown(variant: Variant, step: Step, style: Style) -> Element:
    sentence = variant.working.sentence(step.key, style)
    return element(
        "p", f"{capital(step.label)}: ", element("strong", sentence), class_="dw-shown-step"
    )


def _folded_answer(asked: Asked) -> Element:
    """The answer for those who read without scripts; the script takes it away, and marks."""
    lines = (element("li", line) for line in solution(asked.variant))
    return element("details", element("summary", "The answer"), element("ul", *lines))


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page: ``action`` is ``read`` or ``mark``; ``answers`` by box, ``marked`` those before."""
    asked, style = asked_of(values), style_of(values)
    typed = untrusted.strings(values.get("answers", ""))
    if values.get("action") == "read":
        return {"read": read_back(asked.variant, typed, style)}
    last = untrusted.strings(values.get("marked", ""))
    result = asked.mark(typed, style)
    tries = untrusted.numbers(values.get("counts", "")).get("tries", 0)
    if any(text.strip() for text in typed.values()):
        tries = problem.tries_used(result, typed, last, tries)
    return {
        "elements": _feedback(asked, result, typed, tries, style),
        "verdicts": problem.verdicts(result, typed, typed),
        "tries": tries,
        "right": _all_right(asked, result),
    }


def _told(asked: Asked, result: ProblemMark) -> list:
    keys = {each.key for each in asked.blanks}
    return [one for one in result.steps if one.step.key in keys]


def _all_right(asked: Asked, result: ProblemMark) -> bool:
    return all(one.verdict.earns for one in _told(asked, result))


def _feedback(
    asked: Asked, result: ProblemMark, typed: Mapping[str, str], tries: int, style: Style
) -> list[Element]:
    """The verdict on each blank; the worked solution once the tries are used."""
    if not any(typed.get(each.key, "").strip() for each in asked.blanks):
        choose = asked.variant.boxes
        return [element("p", "Choose an answer first." if choose else "Write your answer first.")]
    verdicts = map(problem.step_feedback, _told(asked, result))
    made = [element("ul", *verdicts, class_="dw-verdicts")]
    if not _all_right(asked, result) and tries >= asked.variant.problem.tries:
        lines = (element("li", line) for line in solution(asked.variant, style))
        made += [element("p", "Worked out:"), element("ul", *lines)]
    return made
