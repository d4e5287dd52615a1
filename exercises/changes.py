"""Marks changed by hand, each with its reason: a right method that marking does not know needs a remedy.

A changes file is a table (CSV) with the columns student, problem, step, marks and reason; a row without a step sets the
marks of the whole problem. `read_changes` reads it, `write_changes` writes it, and ``Changes.of`` takes the same as
plain dictionaries, as a page keeps them. `Changes.apply` gives a student's marks with the changes in them: every
output is made from those.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from exercises.cells import unharmed
from exercises.draws import plain_name
from exercises.gradebook import StudentMark
from exercises.marking import ByHand, ProblemMark, StepMark
from exercises.table import TableWriter, delimiter_of

HEADINGS = ("student", "problem", "step", "marks", "reason")
MOST_CHANGES = 10_000
LONGEST_REASON = 500
LONGEST_TEXT = 4_000_000


class ChangesError(ValueError):
    """A changes file that cannot be used; the message says which line."""


@dataclass(frozen=True)
class Change:
    """One change: whose marks for what, and why. Without a step it is about the whole problem."""

    student: str
    problem: str
    step: str
    marks: float
    reason: str

    @property
    def about(self) -> str:
        """What it is about, in short."""
        return f"{self.student}: {'/'.join(filter(None, (self.problem, self.step)))}"

    @property
    def told(self) -> str:
        """The whole change in a line."""
        return f"{self.about}: {self.marks:g}. {self.reason}"

    @property
    def as_row(self) -> dict[str, str]:
        """The change by the headings of a file of changes."""
        cells = (self.student, self.problem, self.step, f"{self.marks:g}", self.reason)
        return dict(zip(HEADINGS, cells, strict=True))


class Changes:
    """The changes of a class, by student. ``unused`` says which fitted nothing that was marked."""

    def __init__(self, changes: Iterable[Change] = ()) -> None:
        self._of: dict[str, dict[tuple[str, str], Change]] = {}
        for change in changes:
            # The last word on a thing counts.
            self._of.setdefault(plain_name(change.student), {})[change.problem, change.step] = change  # fmt: skip
        self._used: set[Change] = set()

    @classmethod
    def of(cls, rows: Iterable[Mapping[str, object]]) -> Changes:
        """The changes from dictionaries with the keys of `HEADINGS`. Raises ChangesError."""
        return cls(_change(n, row) for n, row in enumerate(rows, 1))

    def __iter__(self) -> Iterator[Change]:
        return (change for of in self._of.values() for change in of.values())

    @property
    def unused(self) -> list[str]:
        """What is wrong with each change that was not used."""
        return [
            f"{change.about}: nothing of that name was marked, or it has fewer marks to give."
            for change in self
            if change not in self._used
        ]

    def apply(self, student: StudentMark, *names: str) -> StudentMark:
        """The same student with the marks that were changed, known by any of some names."""
        wanted = {}
        for name in (student.entry.student, *names):
            wanted |= self._of.get(plain_name(name), {})
        if not wanted or not student.counts:
            return student
        return replace(student, problems=tuple(self._changed(p, wanted) for p in student.problems))

    def _changed(self, mark: ProblemMark, wanted: Mapping[tuple[str, str], Change]) -> ProblemMark:
        key = mark.variant.problem.id
        steps = tuple(
            self._step(mark, step, wanted.get((key, step.step.key))) for step in mark.steps
        )
        return replace(mark, steps=steps, by_hand=self._taken(wanted.get((key, "")), mark.out_of))

    def _step(self, mark: ProblemMark, step: StepMark, change: Change | None) -> StepMark:
        most = mark.variant.problem.marks_per_step
        by_hand = self._taken(change, most)
        if by_hand is None:
            return step
        # What earns all its marks was no mistake.
        findings = [] if by_hand.marks >= most else step.findings
        return replace(step, by_hand=by_hand, findings=findings)

    def _taken(self, change: Change | None, most: float) -> ByHand | None:
        if change is None or change.marks > most:
            return None
        self._used.add(change)
        return ByHand(change.marks, change.reason)


def read_changes(text: str) -> Changes:
    """A changes file. Raises ChangesError."""
    text = text.lstrip("\ufeff")
    if len(text) > LONGEST_TEXT:
        raise ChangesError("this is far too long for a file of changes.")
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter_of(text))
    try:
        headings = [plain_name(heading) for heading in next(rows, [])]
        missing = [name for name in HEADINGS if name not in headings and name != "step"]
        if missing:
            raise ChangesError(f"line 1: there is no column “{missing[0]}”. The columns are {', '.join(HEADINGS)}.")  # fmt: skip
        return Changes(
            _change(rows.line_num, dict(zip(headings, map(unharmed, row), strict=False)))
            for row in rows
            if any(map(str.strip, row))
        )
    except csv.Error:
        raise ChangesError(f"line {rows.line_num}: a closing quote may be missing.") from None


def _change(line: int, row: Mapping[str, object]) -> Change:
    if line > MOST_CHANGES:
        raise ChangesError(f"there are more than {MOST_CHANGES} lines in it.")
    student, problem, step, marks, reason = (" ".join(str(row.get(name, "")).split()) for name in HEADINGS)  # fmt: skip
    if not student or not problem:
        raise ChangesError(f"line {line}: it needs a student and a problem.")
    try:
        number = float(marks.replace(",", "."))
    except ValueError:
        number = -1.0
    if not 0 <= number <= 1_000:
        raise ChangesError(f"line {line}: “{marks[:20]}” are no marks. Write a number.")
    if not reason:
        raise ChangesError(f"line {line}: it needs a reason. The student will read it.")
    return Change(student, problem, step, number, reason[:LONGEST_REASON])


def write_changes(changes: Iterable[Change]) -> str:
    """The text of a changes file."""
    file = io.StringIO(newline="")
    writer = TableWriter(file)
    writer.write(*HEADINGS)
    for one in changes:
        writer.write(*one.as_row.values())
    return file.getvalue()
