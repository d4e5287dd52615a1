"""What a school's system is told of each step: the answer, how it came out, and what is right."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from exercises.draws import Box, ProblemSet, Variant, draw
from exercises.marking import ProblemMark, StepMark, right_answers

# What SCORM 2004 4th edition, Run-Time Environment 4.2.9, calls an answer's result.
CORRECT, INCORRECT, NEUTRAL = "correct", "incorrect", "neutral"


def record(
    problem_set: ProblemSet, student: str, results: Mapping[str, ProblemMark]
) -> list[dict[str, object]]:
    """An entry for each step of a set, in its order; `results` has the problems that were marked.

    An entry has an `id` without a space, what the step `asks`, the `answer` as it was written (a
    letter, where one is chosen) with its `result`, the `right` answer, and the `weight` in marks.
    """
    entries = []
    for problem in problem_set.problems:
        result = results.get(problem.id)
        variant = result.variant if result else draw(problem_set, problem, student)
        entries += _steps(variant, {one.step.key: one for one in result.steps} if result else {})
    return entries


def _steps(variant: Variant, marks: Mapping[str, StepMark]) -> Iterator[dict[str, object]]:
    problem, right = variant.problem, right_answers(variant)
    for number, part in enumerate(variant.parts, 1):
        one = marks.get(part.key)
        yield {
            "id": f"{problem.id}.{number}-{re.sub(r'[^A-Za-z0-9]+', '-', part.key).strip('-')}",
            "type": "choice" if isinstance(part, Box) else "fill-in",
            "asks": f"{problem.title} – {part.label}",
            "answer": _answer(part, one.wrote) if one else "",
            "result": _result(one),
            "right": _answer(part, right[part.key]),
            "weight": problem.marks_per_step,
        }


def _answer(part: object, wrote: str) -> str:
    """What was written; of a choice its letter, which is all that the standard takes."""
    if not isinstance(part, Box):
        return wrote
    chosen = part.chosen(wrote)
    return next((letter for letter, option in part.lettered() if option is chosen), "")


def _result(one: StepMark | None) -> str:
    if one is None or not (one.verdict.earns or one.wrote):
        return NEUTRAL
    return CORRECT if one.verdict.earns else INCORRECT
