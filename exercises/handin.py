"""A hand-in file: what one student answered to one set, as JSON.

It holds answers and, for the teacher's eye, the numbers the student was given. Marks are always
recomputed from the answers: a file cannot carry its own marks.
"""

from __future__ import annotations

import json
from dataclasses import dataclass

from exercises.problems import ProblemSet, draw

FORMAT = "doughwater hand-in 1"
LARGEST_HANDIN = 1_000_000


class HandinError(ValueError):
    """The file is not a hand-in that can be marked; the message says what to do."""


@dataclass(frozen=True)
class Handin:
    """Answers by problem and step, as the student wrote them."""

    set_key: str
    version: int
    student: str
    answers: dict[str, dict[str, str]]


def write_handin(problem_set: ProblemSet, student: str, answers: dict[str, dict[str, str]]) -> str:
    """The text of a hand-in file."""
    given = {
        problem.id: draw(problem_set, problem, student).shown for problem in problem_set.problems
    }
    return json.dumps(
        {
            "format": FORMAT,
            "set": problem_set.key,
            "version": problem_set.version,
            "student": student,
            "given": given,
            "answers": answers,
        },
        ensure_ascii=False,
        indent=2,
    )


def read_handin(text: str) -> Handin:
    """Read a hand-in file. Raises HandinError with the reason in plain words."""
    if len(text) > LARGEST_HANDIN:
        raise HandinError(
            "This file is far too large for a hand-in. Ask the student to save it again."
        )
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        raise HandinError(
            f"line {error.lineno}, column {error.colno}: this is not complete JSON. "
            "The file may be cut short: ask the student to save it again."
        ) from None
    except RecursionError:
        raise HandinError("This is not a hand-in file: it is nested too deeply.") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise HandinError(f"This is not a hand-in file: it does not say “{FORMAT}”.")
    answers = data.get("answers")
    shaped = (
        isinstance(data.get("set"), str)
        and isinstance(data.get("student"), str)
        and isinstance(data.get("version"), int)
        and isinstance(answers, dict)
        and all(isinstance(steps, dict) for steps in answers.values())
        and all(isinstance(text, str) for steps in answers.values() for text in steps.values())
    )
    if not shaped:
        raise HandinError(
            "A hand-in needs “set”, “version”, “student” and “answers”, as the exercise page saves them."
        )
    return Handin(data["set"], data["version"], data["student"], answers)
