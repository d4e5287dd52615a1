"""Marks that a teacher gave by hand, before the project did: 271 sheets of 61 problems, 615 boxes."""

import re
from pathlib import Path

import pytest

from exercises.draws import draw
from exercises.marking import mark
from exercises.problems import read_set

FOLDER = Path(__file__).with_name("marked_by_hand")
SET = read_set((FOLDER / "set.yml").read_text("utf-8"), "set.yml")
PROBLEMS = {problem.id: problem for problem in SET.problems}
LINES = [
    line.partition(": ")
    for line in (FOLDER / "sheets.txt").read_text("utf-8").splitlines()
    if not line.startswith("#")
]


def boxes(sheet):
    """What is in each box of a line, and whether the teacher gives its mark."""
    for one in re.split(r"(?<= [RW]); ", sheet):
        step, _, written = one.partition("=")
        yield step, written[:-2], written.endswith(" R")


@pytest.mark.parametrize("problem", PROBLEMS)
def test_the_project_gives_the_marks_that_a_teacher_gave(problem):
    drawn = draw(SET, PROBLEMS[problem], "a student")
    sheets = [list(boxes(sheet)) for name, _, sheet in LINES if name == problem]
    assert sheets
    for sheet in sheets:
        marked = mark(drawn, {step: written for step, written, _ in sheet})
        earns = {one.step.key: one.verdict.earns for one in marked.steps}
        assert {step: earns[step] for step, _, _ in sheet} == {step: is_right for step, _, is_right in sheet}, sheet  # fmt: skip
