"""Several sets from one folder at once, and a table of marks over the term.

`mark_term` marks each set as `classroom.mark_files` does, with its files named for the set beside those asked for
(``marks-KEY.csv``, ``report-KEY.html``), and writes the table over the term as the marks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from exercises.classroom import Tell, Wanted, mark_files, tell_nobody
from exercises.collect import HANDED_IN_AS
from exercises.draws import ProblemSet, plain_name
from exercises.gradebook import Gradebook, StudentMark, Tally
from exercises.marks_table import listed_cells, older_path
from exercises.roster import Roster
from exercises.table import TableWriter

Show = Callable[[ProblemSet, StudentMark], None]
Marker = Callable[[Wanted, Tell], tuple[Gradebook, Iterable[StudentMark | Tally]]]


def show_nobody(problem_set: ProblemSet, student: StudentMark) -> None:
    pass


@dataclass(frozen=True)
class Earned:
    """What a student earned in one set, and where the hand-in lies."""

    marks: float
    out_of: int
    place: str


@dataclass
class Term:
    """A class's marks over several sets. `students` are the names as they came, in that order.

    A set that a student did not hand in has no marks, and counts neither way in the total: the “out of” says so.
    """

    sets: tuple[ProblemSet, ...]
    roster: Roster = field(default_factory=Roster)
    books: dict[str, Gradebook] = field(default_factory=dict)
    _names: dict[str, str] = field(default_factory=dict)
    _earned: dict[tuple[str, str], Earned] = field(default_factory=dict)

    def add(self, problem_set: ProblemSet, student: StudentMark | Tally) -> None:
        if student.counts:
            plain = plain_name(student.entry.student)
            self._names.setdefault(plain, student.entry.student)
            self._earned[plain, problem_set.key] = Earned(
                student.marks, student.out_of, student.entry.place
            )

    def keep(self, problem_set: ProblemSet, book: Gradebook) -> None:
        """Keep a set's book. What cannot be read is in the book of each set: it is told once."""
        told = {one for other in self.books.values() for one in other.refusals}
        left = [one for one in book.refusals if one not in told]
        book.refused -= len(book.refusals) - len(left)
        book.refusals = left
        self.books[problem_set.key] = book

    def students(self) -> list[str]:
        """Everybody: those on the list in its order, then the others as they came."""
        listed = set(map(plain_name, self.roster.names))
        others = [name for plain, name in self._names.items() if plain not in listed]
        return [*self.roster.names, *others]

    def earned(self, student: str) -> dict[str, Earned]:
        """What a student earned, by the keys of the sets handed in."""
        plain = plain_name(student)
        found = {each.key: self._earned.get((plain, each.key)) for each in self.sets}
        return {key: earned for key, earned in found.items() if earned}


def named_for(path: Path | None, key: str) -> Path | None:
    """Where one set's file is written, beside the one asked for."""
    return path and path.with_name(f"{path.stem}-{key}{path.suffix}")


def mark_term(wanted: Wanted, sets: Sequence[ProblemSet], tell: Tell = tell_nobody, show: Show = show_nobody, marker: Marker = mark_files) -> Term:  # fmt: skip
    """Mark several sets from the same files; `wanted` says the rest, its own set aside. Raises OSError.

    `show` is called with each student's marks that count, set by set; `marker` marks one set, as `mark_files` does.
    """
    term = Term(tuple(sets), wanted.roster)
    parts = [_part(wanted, each, sets) for each in sets]
    for number, part in enumerate(parts):
        book, students = marker(part, _share(tell, number, len(parts)))
        for student in students:
            term.add(part.problem_set, student)
            if student.counts:
                show(part.problem_set, student)
        term.keep(part.problem_set, book)
    if wanted.marks:
        _write(term, wanted, wanted.marks)
    return term


def _part(wanted: Wanted, problem_set: ProblemSet, sets: Sequence[ProblemSet]) -> Wanted:
    outputs = [
        named_for(path, each.key)
        for each in sets
        for path in (wanted.marks, wanted.report, wanted.marks and older_path(wanted.marks))
        if path
    ]
    return replace(
        wanted,
        problem_set=problem_set,
        elsewhere={each.key: each for each in sets if each.key != problem_set.key},
        ours=tuple(path for path in (*outputs, wanted.marks) if path),
        marks=named_for(wanted.marks, problem_set.key),
        report=named_for(wanted.report, problem_set.key),
        feedback=wanted.feedback and wanted.feedback / problem_set.key,
    )


def _share(tell: Tell, number: int, parts: int) -> Callable[[int, int, str], None]:
    return lambda done, whole, words: tell(number * whole + done, parts * whole, words)


def _write(term: Term, wanted: Wanted, path: Path) -> None:
    """One line a student: the total of the sets handed in, then the marks of each."""
    writing = wanted.writing
    each = [f"{problem_set.key}{more}" for problem_set in term.sets for more in ("", " out of")]
    with TableWriter.open(path) as file:
        writer = writing.writer(file)
        writer.write(*term.roster.headings, *writing.headings(), *each, HANDED_IN_AS)
        for student in term.students():
            earned = term.earned(student)
            writer.write(*listed_cells(term.roster, student), *_total(earned, wanted), *_each(term, earned))  # fmt: skip


def _total(earned: Mapping[str, Earned], wanted: Wanted) -> Iterator[object]:
    if not earned:
        yield from ("" for _ in wanted.writing.headings())
        return
    marks = sum(one.marks for one in earned.values())
    yield from wanted.writing.earned(round(marks, 2), sum(one.out_of for one in earned.values()))


def _each(term: Term, earned: Mapping[str, Earned]) -> Iterator[object]:
    for problem_set in term.sets:
        one = earned.get(problem_set.key)
        yield from (one.marks, one.out_of) if one else ("", "")
    yield "; ".join(one.place for one in earned.values())
