"""Marks a class on several cores, at the terminal: the same bytes as on one, in the same order.

Hand-ins go to the other processes by the file, a few at a time: they read and mark them, and write what becomes of
each student. What comes back is plain data, put together here in the order of the files. A table or a zip, which may
hold a class, is read and marked here. So memory stays flat.
"""

from __future__ import annotations

import os
import tempfile
from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from calc.units import Style
from exercises.classroom import (
    Output,
    Tell,
    Wanted,
    mark_files,
    outputs_of,
    tell_nobody,
    writing,
)
from exercises.collect import Entry, Refusal, Remark, is_table, sets_of, sizes
from exercises.gradebook import Gradebook, Names, Seen, StudentMark, Tally, mark_student, seen

# Files that go to a process at once; the pieces that are on their way, for each process.
TOGETHER = 50
AHEAD = 3
# Below this many files a process takes longer to start than to mark its share.
WORTH_IT = 200
# What is in a larger file is not a student's.
SMALL = 100_000

Result = TypeVar("Result")
# What the outputs keep of a student.
Kept = tuple[Tally, list[object]]


@dataclass(frozen=True)
class Piece:
    """Some files in a row. `first` is the number of what is first in them, `counted` how many before it count."""

    files: tuple[Path, ...]
    is_small: bool
    first: int = 0
    counted: int = 0


def all_cores() -> int:
    """How many this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def sets_on(cores: int, files: Sequence[Path]) -> Counter[str]:
    """As `collect.sets_of`, on so many cores."""
    if cores < 2 or len(files) < WORTH_IT:
        return sets_of(files)
    keys: Counter[str] = Counter()
    with ProcessPoolExecutor(cores) as pool:
        for found in pool.map(sets_of, [piece.files for piece in in_pieces(files)]):
            keys.update(found)
    return keys


def mark_on(
    cores: int, wanted: Wanted, tell: Tell = tell_nobody
) -> tuple[Gradebook, Iterable[StudentMark | Tally]]:
    """As `classroom.mark_files`, on so many cores. Raises OSError."""
    if cores < 2 or len(wanted.files) < WORTH_IT:
        return mark_files(wanted, tell)
    book = Gradebook(wanted.problem_set, wanted.roster)
    return book, _marked_on(cores, wanted, book, tell)


def _marked_on(cores: int, wanted: Wanted, book: Gradebook, tell: Tell) -> Iterator[Tally]:
    with tempfile.TemporaryDirectory() as folder:
        store = str(Path(folder, "names"))
        # The decimal mark is told by all the files, not by a few.
        job = Job(replace(wanted, paths=(), decimal=wanted.writing.decimal), store)
        pool = ProcessPoolExecutor(cores, initializer=_begin, initargs=(job,))
        try:
            line = Line(pool, cores * AHEAD, 2 * sizes(wanted.files), tell)
            pieces = _numbered(line, job, list(in_pieces(wanted.files)))
            with writing(wanted, book) as outputs:
                for _, found in line.run(job.mark, _mark, pieces, "Marking"):
                    yield from _kept(found, book, outputs)
        finally:
            pool.shutdown(cancel_futures=True)


def _numbered(line: Line, job: Job, pieces: list[Piece]) -> list[Piece]:
    """The pieces, when all names are seen and it is known how many hand-ins before each of them count."""
    numbered, number, counted = [], 0, 0
    with Names(job.store) as names:
        for piece, found in line.run(job.see, _see, pieces, "Reading"):
            numbered.append(replace(piece, first=number))
            for one in found:
                if one:
                    names.see(number, one)
                number += 1
        names.know()
        for place, end in enumerate([*(piece.first for piece in numbered[1:]), number]):
            numbered[place] = replace(numbered[place], counted=counted)
            counted += names.counted(numbered[place].first, end)
    return numbered


def _kept(
    found: Iterable[Refusal | Remark | Kept], book: Gradebook, outputs: Sequence[Output]
) -> Iterator[Tally]:
    for one in found:
        if isinstance(one, Refusal):
            book.refuse(one)
        elif isinstance(one, Remark):
            book.remark(one)
        else:
            tally, written = one
            book.add(tally)
            for output, each in zip(outputs, written, strict=True):
                output.keep(each)
            yield tally


@dataclass
class Line:
    """Work on pieces in the other processes, its results in order; no more than `ahead` are waited for at once."""

    pool: ProcessPoolExecutor
    ahead: int
    whole: int
    tell: Tell
    done: int = 0

    def run(
        self,
        here: Callable[[Piece, Callable[[int], None]], Iterable[Result]],
        there: Callable[[Piece], list[Result]],
        pieces: Iterable[Piece],
        words: str,
    ) -> Iterator[tuple[Piece, Iterable[Result]]]:
        """Each piece with what was found in it: `there`, in another process, where it is small."""
        waiting: deque[tuple[Piece, Future | None]] = deque()

        def come() -> tuple[Piece, Iterable[Result]]:
            piece, future = waiting.popleft()
            begin, self.done = self.done, self.done + sizes(piece.files)
            self.tell(begin, self.whole, words)
            if future:
                return piece, future.result()
            return piece, here(piece, lambda done: self.tell(begin + done, self.whole, words))

        for piece in pieces:
            waiting.append((piece, self.pool.submit(there, piece) if piece.is_small else None))
            if len(waiting) > self.ahead:
                yield come()
        while waiting:
            yield come()


def in_pieces(files: Sequence[Path]) -> Iterator[Piece]:
    """The files in their order: a few hand-ins at a time, and alone what may hold many."""
    together: list[Path] = []
    for file in files:
        is_small = sizes([file]) <= SMALL and not is_table(file) and file.suffix.lower() != ".zip"
        if is_small:
            together.append(file)
        if together and (not is_small or len(together) == TOGETHER):
            yield Piece(tuple(together), True)
            together = []
        if not is_small:
            yield Piece((file,), False)
    if together:
        yield Piece(tuple(together), True)


@dataclass
class Job:
    """What each process knows: what is wanted, and where the names are kept."""

    wanted: Wanted
    store: str

    def see(
        self, piece: Piece, tell: Callable[[int], None] = lambda done: None
    ) -> Iterator[Seen | None]:
        """Who handed in, first to last; None for what is no hand-in."""
        for one in self.wanted.read(tell, piece.files):
            yield seen(one) if isinstance(one, Entry) else None

    def mark(
        self, piece: Piece, tell: Callable[[int], None] = lambda done: None
    ) -> Iterator[Refusal | Remark | Kept]:
        """Each student marked and written."""
        counted = piece.counted
        for number, one in enumerate(self.wanted.read(tell, piece.files), piece.first):
            if not isinstance(one, Entry):
                yield one
                continue
            student = self._marked(one, number)
            yield student.tally, [each.written(student, counted) for each in self._outputs]
            counted += student.counts

    def _marked(self, entry: Entry, number: int) -> StudentMark:
        wanted = self.wanted
        style = Style(decimal=wanted.writing.decimal)
        marked = mark_student(wanted.problem_set, entry, style, self._names, number, wanted.roster)
        return wanted.changes.apply(marked)

    @cached_property
    def _names(self) -> Names:
        return Names(self.store, known=True)

    @cached_property
    def _outputs(self) -> list[Output]:
        return list(outputs_of(self.wanted).values())


# In another process: what `_begin` was told.
_job: Job


def _begin(job: Job) -> None:
    global _job
    _job = job


def _see(piece: Piece) -> list[Seen | None]:
    return list(_job.see(piece))


def _mark(piece: Piece) -> list[Refusal | Remark | Kept]:
    return list(_job.mark(piece))
