"""A class that is no real one, for the tests: what its students write, and a way to mark it."""

import csv
import io
from pathlib import Path

from exercises.classroom import Wanted, mark_files
from exercises.collect import Entry, answer_headings, collect
from exercises.draws import draw
from exercises.gradebook import Gradebook, StudentMark
from exercises.problems import load

KEY = "first-swaps"
SET = load(KEY)


def entries(*asked) -> list[Entry]:
    """The students' answers that `collect` finds; what it remarks on the way is left out."""
    return [each for each in collect(*asked) if isinstance(each, Entry)]


def right(student: str) -> dict[str, dict[str, str]]:
    """Every step right."""
    return {
        problem.id: {
            key: drawn.working.weighed(key)
            for drawn in [draw(SET, problem, student)]
            for key in drawn.working.steps
        }
        for problem in SET.problems
    }


def gram_for_gram(student: str) -> dict[str, dict[str, str]]:
    """All right, but the new liquid goes in gram for gram where one loaf is asked for."""
    answers = right(student)
    for problem in ("yogurt-loaf", "from-milk-to-cream"):
        working = draw(SET, SET.problem(problem), student).working
        answers[problem] = {working.answer.key: working.weighed("water")}
    return answers


def whole_dough(student: str) -> dict[str, dict[str, str]]:
    """All right, but hydration counted on the whole dough."""
    answers = right(student)
    values = draw(SET, SET.problem("milk-in-the-dough"), student).working.values()
    whole = values["flour"] + values["liquid weight"] + values["other ingredients"]
    answers["milk-in-the-dough"]["hydration"] = f"{values['water'] / whole * 100:.1f} %"
    return answers


def csv_of(rows: list[tuple[str, dict]], delimiter: str = ",", decimal: str = ".") -> str:
    """A table with a row a student, as another system would export it."""
    written = io.StringIO()
    writer = csv.writer(written, delimiter=delimiter)
    headings = answer_headings(SET)
    writer.writerow(["Student", *headings])
    for student, answers in rows:
        cells = [answers.get(p, {}).get(s, "") for p, s in headings.values()]
        writer.writerow([student, *(cell.replace(".", decimal) for cell in cells)])
    return written.getvalue()


def marked(*paths: Path, **more) -> tuple[Gradebook, list[StudentMark]]:
    book, students = mark_files(Wanted(paths, SET, **more))
    return book, list(students)
