"""What the teacher's kit is made of: exit tickets and short tests, outcomes and where they show.

Tickets and outcomes are in each lesson's demonstration file, the tests in ``kit.yml``. All of them
name problems of the sets; the numbers, the answers and the marks are the sets' own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

from docs.build.tree import read
from docs.course.benches import bench_of
from docs.course.heads import PAGES
from exercises import problems
from exercises.draws import Problem, Variant, draw


@dataclass(frozen=True)
class WrittenTest:
    """A short written test of a unit: its title, and its problems as ``set/problem``."""

    title: str
    problems: tuple[str, ...]

    def drawn(self, form: str) -> list[Variant]:
        """Its problems with the numbers of one form. Raises ValueError for one that is no problem."""
        return [drawn(name, f"{self.title}, form {form}") for name in self.problems]


@cache
def written_tests() -> dict[str, WrittenTest]:
    """The tests of the units, by key, in the order of the course."""
    rows = yaml.safe_load(Path(__file__).with_suffix(".yml").read_text("utf-8"))
    return {row["key"]: WrittenTest(row["title"], tuple(row["problems"])) for row in rows}


def ticket_of(lesson: str) -> WrittenTest:
    """A lesson's exit ticket. Raises ValueError for a lesson that has none."""
    return WrittenTest("Exit ticket", bench_of(lesson).ticket)


def drawn(name: str, form: str) -> Variant:
    """One problem, named ``set/problem``, with the numbers of one form."""
    problem_set, problem = found(name)
    return draw(problem_set, problem, form)


def found(name: str) -> tuple[problems.ProblemSet, Problem]:
    """A set and its problem. Raises ValueError where there is none of that name."""
    key, _, problem_id = name.rpartition("/")
    problem_set = problems.load(key)
    problem = problem_set.problem(problem_id)
    if problem is None:
        raise ValueError(f"“{problem_id}” is no problem of {key}.")
    return problem_set, problem


def outcomes_of(lesson: str) -> list[str]:
    """What its page says a student will be able to do."""
    _, _, rest = _text(lesson).partition("## What you will be able to do\n")
    lines = rest.partition("\n## ")[0].splitlines()
    return [line.removeprefix("- ") for line in lines if line.startswith("- ")]


def questions_of(lesson: str) -> Iterator[tuple[str, dict[str, str]]]:
    """The questions that its page asks: the heading of their step, and their attributes."""
    heading = ""
    for line in _text(lesson).splitlines():
        if line.startswith("## "):
            heading = re.sub(r"\s*\{[^}]*\}$", "", line.removeprefix("## "))
        elif "<check-question" in line:
            yield heading, dict(read(line).find(".//check-question").attrib)


def _text(lesson: str) -> str:
    return (PAGES / "lessons" / f"{lesson}.md").read_text("utf-8")
