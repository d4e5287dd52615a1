"""``doughwater mark`` for a whole class: files in, a CSV of marks and a report page out."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field, replace
from pathlib import Path

from calc.units import Style
from exercises.collect import Columns, Entry, Refusal, collect, files_of, is_marks, is_table, sizes
from exercises.draws import ProblemSet
from exercises.gradebook import Gradebook, StudentMark, mark_class, marks_headings, marks_row
from exercises.progress import Progress
from exercises.publish.report import Report
from exercises.table import TableError, TableWriter, open_table


@dataclass(frozen=True)
class Wanted:
    """What to mark, and where to write the marks (CSV) and the report (HTML).

    `students` are the names of those who should have handed in. Places are told from the folder `within`, if one is named.
    """

    paths: tuple[Path, ...]
    problem_set: ProblemSet
    columns: Columns = field(default_factory=Columns)
    students: tuple[str, ...] = ()
    marks: Path | None = None
    report: Path | None = None
    within: Path | None = None


def mark_files(wanted: Wanted) -> tuple[Gradebook, Iterable[StudentMark]]:
    """A gradebook, and the students' marks to go through: going through them does the work.

    When they are through, the files asked for are written. Raises OSError where one cannot be.
    """
    book = Gradebook(wanted.problem_set, wanted.students)
    return book, _students(wanted, book)


def _students(wanted: Wanted, book: Gradebook) -> Iterator[StudentMark]:
    files = [path for path in files_of(wanted.paths) if not _is_ours(path, wanted)]
    with ExitStack() as stack:
        # The files are read twice: for the names, then for the marks.
        progress = stack.enter_context(Progress("Marking", 2 * sizes(files)))
        rounds = iter((0, sizes(files)))

        def read() -> Iterator[Entry | Refusal]:
            before = next(rounds)
            found = collect(
                files,
                wanted.problem_set,
                wanted.columns,
                lambda done: progress.to(before + done),
            )
            return (_told(one, wanted.within) for one in found) if wanted.within else found

        decimal, delimiter = _written(files)
        writer = report = None
        if wanted.marks:
            file = stack.enter_context(TableWriter.open(wanted.marks))
            writer = TableWriter(file, delimiter, decimal)
            writer.write(*marks_headings(wanted.problem_set))
        if wanted.report:
            report = stack.enter_context(Report())
        for student in mark_class(wanted.problem_set, read, book, Style(decimal=decimal)):
            if writer:
                writer.write(*marks_row(student))
            if report:
                report.add(student)
            yield student
        if report and wanted.report:
            report.finish(book, wanted.report)


def _told(one: Entry | Refusal, within: Path) -> Entry | Refusal:
    """The same, with its place told from a folder."""
    return replace(one, place=one.place.removeprefix(f"{within}{os.sep}"))


def _is_ours(path: Path, wanted: Wanted) -> bool:
    """Whether a file is what an earlier run wrote into the folder it reads."""
    # A link may lead round in a circle; links are refused later.
    return not path.is_symlink() and path.resolve() in [
        out.resolve() for out in (wanted.marks, wanted.report) if out
    ]


def _written(files: list[Path]) -> tuple[str, str]:
    """The decimal mark and the delimiter of the first table of answers; else point and comma."""
    for path in filter(is_table, files):
        try:
            table = open_table(path)
        except (TableError, OSError):
            continue
        if not is_marks(table):
            semicolons = table.delimiter == ";" or (table.delimiter != "," and table.decimal == ",")
            return table.decimal, ";" if semicolons else ","
    return ".", ","
