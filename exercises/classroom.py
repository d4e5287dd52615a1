"""Mark a class: files in, a table of marks and a report page out; and, before that, a look at what came.

`mark_files` marks one set and writes the files asked for; `look` says at once who came, who is missing and what cannot
be read. Both tell how far they are by a callback ``tell(done, whole, words)`` in bytes of the files; a callback that
raises stops the work, and nothing is written. The same functions run at the terminal and in the page.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path

from calc.units import Style
from exercises import near_names
from exercises.changes import Changes
from exercises.collect import (
    Columns,
    Entry,
    Found,
    OtherSet,
    Refusal,
    Remark,
    collect,
    files_of,
    is_marks,
    is_table,
    sizes,
)
from exercises.draws import ProblemSet, draw, plain_name
from exercises.gradebook import MOST_GROUPED, MOST_REFUSALS, Gradebook, StudentMark, mark_class
from exercises.marking import mark
from exercises.marks_table import MarksTable, Writing, older_path
from exercises.near_names import Near
from exercises.publish.report import FeedbackPages, Report
from exercises.roster import Roster
from exercises.school_scale import Scale
from exercises.table import TableError, open_table

Tell = Callable[[int, int, str], None]


def tell_nobody(done: int, whole: int, words: str) -> None:
    pass


@dataclass(frozen=True)
class Wanted:
    """What to mark, and where to write the marks (CSV), the report (HTML) and a page for each student (a folder).

    `roster` are those who should have handed in. `same` says who else a name on the list handed in as: the name on the
    hand-in, and the name on the list. `changes` are marks given by hand, `scale` the school's grades. `decimal` is the
    decimal mark of the marks; left empty, it is that of the first table of answers. Places are told from the folder
    `within`, if one is named. What belongs to the sets `elsewhere`, by key, and the files `ours` are passed over.
    """

    paths: tuple[Path, ...]
    problem_set: ProblemSet
    columns: Columns = field(default_factory=Columns)
    roster: Roster = field(default_factory=Roster)
    same: Mapping[str, str] = field(default_factory=dict)
    changes: Changes = field(default_factory=Changes)
    scale: Scale | None = None
    decimal: str = ""
    marks: Path | None = None
    report: Path | None = None
    feedback: Path | None = None
    within: Path | None = None
    elsewhere: Mapping[str, ProblemSet] = field(default_factory=dict)
    ours: tuple[Path, ...] = ()

    @cached_property
    def files(self) -> list[Path]:
        """The files to read; not what an earlier run wrote into the folder."""
        # A link may lead round in a circle; links are refused later.
        written = [*self.ours, self.marks, self.report, self.marks and older_path(self.marks)]
        ours = [out.resolve() for out in written if out]
        return [p for p in files_of(self.paths) if p.is_symlink() or p.resolve() not in ours]

    @cached_property
    def writing(self) -> Writing:
        return Writing(self.decimal or _decimal(self.files), self.scale)

    @cached_property
    def _same(self) -> dict[str, str]:
        return {plain_name(name): listed for name, listed in self.same.items()}

    def read(
        self,
        tell: Callable[[int], None] = lambda done: None,
        files: Sequence[Path] | None = None,
    ) -> Iterator[Found]:
        """Every student's answers in all or some of the files, with the names of the list and places told from `within`."""
        chosen = self.files if files is None else files
        for one in collect(chosen, self.problem_set, self.columns, tell, self.elsewhere):
            told = self._told(one)
            yield self._named(told) if isinstance(told, Entry) else told

    def _told(self, one: Found) -> Found:
        if not self.within:
            return one
        return replace(one, place=one.place.removeprefix(f"{self.within}{os.sep}"))

    def _named(self, entry: Entry) -> Entry:
        """An entry under the name of the list."""
        name = self._same.get(plain_name(entry.student), entry.student)
        place = self.roster.place(name)
        if place is not None:
            name = self.roster.names[place]
        if plain_name(name) == plain_name(entry.student):
            return entry
        return replace(entry, student=name, drawn_for=self._drawn_for(entry, name))

    def _drawn_for(self, entry: Entry, name: str) -> str:
        """Whose numbers were worked with. Of a typed name and the list's, the one under which more is right."""
        if not entry.typed:
            return entry.drawn_for
        return max((name, entry.student), key=lambda one: self._earned(entry, one))

    def _earned(self, entry: Entry, drawn_for: str) -> float:
        return sum(
            mark(draw(self.problem_set, problem, drawn_for), entry.answers[problem.id]).marks
            for problem in self.problem_set.problems
            if problem.id in entry.answers
        )


def _decimal(files: list[Path]) -> str:
    """The decimal mark of the first table of answers, as its cells are parted; else a point."""
    for path in filter(is_table, files):
        try:
            table = open_table(path)
        except (TableError, OSError):
            continue
        if not is_marks(table):
            semicolons = table.delimiter == ";" or (table.delimiter != "," and table.decimal == ",")
            return "," if semicolons else "."
    return "."


def mark_files(wanted: Wanted, tell: Tell = tell_nobody) -> tuple[Gradebook, Iterable[StudentMark]]:
    """A gradebook, and the students' marks to go through: going through them does the work.

    When they are through, the files asked for are written. Raises OSError where one cannot be.
    """
    book = Gradebook(wanted.problem_set, wanted.roster)
    return book, _students(wanted, book, tell)


def _students(wanted: Wanted, book: Gradebook, tell: Tell) -> Iterator[StudentMark]:
    whole = sizes(wanted.files)
    # The files are read twice: for the names, then for the marks.
    rounds = iter(((0, "Reading"), (whole, "Marking")))

    def read() -> Iterator[Found]:
        before, words = next(rounds)
        return wanted.read(lambda done: tell(before + done, 2 * whole, words))

    style = Style(decimal=wanted.writing.decimal)
    with writing(wanted, book) as outputs:
        for student in mark_class(wanted.problem_set, read, book, style, wanted.changes.apply):
            for output in outputs:
                output.keep(output.written(student, book.students - student.counts))
            yield student


Output = MarksTable | Report | FeedbackPages


def outputs_of(wanted: Wanted) -> dict[Path, Output]:
    """What is to be written, by its place."""
    asked = {
        wanted.marks: MarksTable(wanted.problem_set, wanted.roster, wanted.writing),
        wanted.report: Report(wanted.roster),
        wanted.feedback: FeedbackPages(wanted.problem_set.title),
    }
    return {path: output for path, output in asked.items() if path}


@contextmanager
def writing(wanted: Wanted, book: Gradebook) -> Iterator[list[Output]]:
    """The outputs, to keep students in; at the end the files are written. Raises OSError."""
    with ExitStack() as stack:
        outputs = outputs_of(wanted)
        yield [stack.enter_context(output) for output in outputs.values()]
        for path, output in outputs.items():
            output.finish(book, path)


@dataclass
class Came:
    """What came from a class, before anything is marked.

    `students` are those who handed in, `twice` those who did so again; `number` and `refused` count them all, of whom
    names and reasons are kept as far as a reader can use them. `elsewhere` counts the hand-ins for other sets, by key.
    """

    roster: Roster
    students: list[str] = field(default_factory=list)
    twice: list[str] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    elsewhere: Counter[str] = field(default_factory=Counter)
    number: int = 0
    refused: int = 0

    def __post_init__(self) -> None:
        self._seen: Counter[str] = Counter()

    def add(self, one: Found) -> None:
        if isinstance(one, OtherSet):
            self.elsewhere[one.key] += 1
        elif isinstance(one, Refusal):
            self.refused += 1
            self.refusals += [one] if self.refused <= MOST_REFUSALS else []
        elif isinstance(one, Remark):
            self.remarks += [one] if len(self.remarks) < MOST_REFUSALS else []
        else:
            self._see(one.student)

    def _see(self, name: str) -> None:
        plain = plain_name(name)
        self._seen[plain] += 1
        if self._seen[plain] == 1:
            self.number += 1
            self.students += [name] if self.number <= MOST_GROUPED else []
        elif self._seen[plain] == 2 and len(self.twice) < MOST_GROUPED:
            self.twice.append(name)

    @property
    def missing(self) -> list[str]:
        return [name for name in self.roster.names if plain_name(name) not in self._seen]

    @property
    def unlisted(self) -> list[str]:
        """Those who are not on the list; nobody where there is no list."""
        listed = self.roster
        return [name for name in self.students if listed.place(name) is None] if listed.people else []  # fmt: skip

    @property
    def near(self) -> list[Near]:
        """Whose name is nearly another's: one on the list, those missing first; else one who came too."""
        if not self.roster.people:
            return near_names.among(self.students)
        return near_names.of_a_list(self.unlisted, self.missing, self.roster.names)


def look(wanted: Wanted, tell: Tell = tell_nobody) -> Came:
    """Read all that came, and say what it is. Nothing is marked, and nothing written."""
    whole = sizes(wanted.files)
    came = Came(wanted.roster)
    for one in wanted.read(lambda done: tell(done, whole, "Reading")):
        came.add(one)
    return came
