"""``marks.csv``: one line a student, in the order and by the keys of the teacher's list.

Those on the list who handed in nothing have a line of blanks; those who are not on it follow at the end. Of two
hand-ins of a student the one that counts is in the table; the other one is in a table of its own beside it.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path

from calc.mistakes import BY_KEY
from exercises.collect import HANDED_IN_AS, OUT_OF
from exercises.draws import ProblemSet
from exercises.gradebook import Gradebook, StudentMark
from exercises.roster import Roster
from exercises.school_scale import Scale
from exercises.spool import Spool
from exercises.table import TableWriter

# A student's name, whether the hand-in counts, and the line.
Row = tuple[str, bool, str]
PERCENT, GRADE, MARKS = "percent", "grade", "marks"


@dataclass(frozen=True)
class Writing:
    """How marks are written: the decimal mark of the reader's spreadsheet, and the school's scale.

    A spreadsheet that writes decimal commas parts cells at semicolons.
    """

    decimal: str = "."
    scale: Scale | None = None

    @property
    def delimiter(self) -> str:
        return ";" if self.decimal == "," else ","

    def writer(self, file: io.TextIOBase) -> TableWriter:
        return TableWriter(file, self.delimiter, self.decimal)

    def headings(self) -> list[str]:
        return [MARKS, OUT_OF, PERCENT, *([GRADE] if self.scale else [])]

    def earned(self, marks: float, out_of: float) -> list[object]:
        """The cells under `headings`; the percentage to one decimal."""
        percent = round(100 * marks / out_of, 1) if out_of else 0.0
        return [
            _short(marks),
            out_of,
            _short(percent),
            *([self.scale.grade(percent)] if self.scale else []),
        ]


def _short(number: float) -> float:
    return int(number) if number == int(number) else number


def older_path(path: Path) -> Path:
    """Where the hand-ins that do not count are written, beside the marks."""
    return path.with_name(f"{path.stem}-older{path.suffix}")


@dataclass
class MarksTable:
    """Collects the rows on disk, and writes them in order. Use as a context manager."""

    problem_set: ProblemSet
    roster: Roster = field(default_factory=Roster)
    writing: Writing = field(default_factory=Writing)

    def __enter__(self) -> MarksTable:
        self._stack = ExitStack()
        self._rows, self._older = (self._stack.enter_context(Spool()) for _ in range(2))
        # The number of the row of each place on the list; then the rows of others.
        self._of: dict[int, int] = {}
        self._others: list[int] = []
        return self

    def __exit__(self, *trouble: object) -> None:
        self._stack.close()

    def written(self, student: StudentMark, number: int) -> Row:
        """A student's line, to `keep`: plain data, which another process may have written."""
        return student.entry.student, student.counts, self._line(self._cells(student))

    def keep(self, row: Row) -> None:
        student, counts, line = row
        if not counts:
            self._older.add(line)
            return
        number = self._rows.add(line)
        place = self.roster.place(student)
        if place is None:
            self._others.append(number)
        else:
            self._of[place] = number

    def _line(self, cells: list[object]) -> str:
        file = io.StringIO(newline="")
        self.writing.writer(file).write(*cells)
        return file.getvalue()

    def _headings(self) -> list[str]:
        ids = [problem.id for problem in self.problem_set.problems]
        return [*self.roster.headings, *self.writing.headings(), *ids, "mistakes", "notes", HANDED_IN_AS]  # fmt: skip

    def _cells(self, student: StudentMark) -> list[object]:
        return [
            *listed_cells(self.roster, student.entry.student),
            *self.writing.earned(student.marks, student.out_of),
            *student.each,
            "; ".join(BY_KEY[key].name for key in student.mistakes),
            " ".join((*student.notes, *_by_hand(student))),
            student.entry.place,
        ]

    def finish(self, book: Gradebook, path: Path) -> None:
        """Write the marks, and the older hand-ins where the book counts any. Raises OSError as `open` does."""
        with TableWriter.open(path) as file:
            self.writing.writer(file).write(*self._headings())
            self._write_rows(file)
        if book.handed_in_twice:
            with TableWriter.open(older_path(path)) as file:
                self.writing.writer(file).write(*self._headings())
                self._older.copy(file)
        else:
            # One that an earlier run wrote would tell of hand-ins that are gone.
            older_path(path).unlink(missing_ok=True)

    def _write_rows(self, file: io.TextIOBase) -> None:
        blanks = [""] * (len(self._headings()) - len(self.roster.headings))
        for place, person in enumerate(self.roster.people):
            if place in self._of:
                self._rows.copy(file, [self._of[place]])
            else:
                self.writing.writer(file).write(*person.cells, *blanks)
        self._rows.copy(file, self._others)


def listed_cells(roster: Roster, student: str) -> tuple[str, ...]:
    """What a student's line begins with: the cells of the list, or the name in its column."""
    place = roster.place(student)
    return roster.unlisted(student) if place is None else roster.people[place].cells


def _by_hand(student: StudentMark) -> Iterator[str]:
    """What was changed by hand, and why."""
    for problem in student.problems:
        if problem.by_hand:
            yield f"{problem.variant.problem.id}: {problem.by_hand.says}"
        for step in problem.steps:
            if step.by_hand:
                yield f"{problem.variant.problem.id}/{step.step.key}: {step.by_hand.says}"
