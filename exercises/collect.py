"""Collect a class's answers: hand-in files, folders of them, and CSV tables from any system.

Everything is read one student at a time. What cannot be read becomes a `Refusal` with its reason,
and the rest go on.
"""

from __future__ import annotations

import difflib
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from types import MappingProxyType

from exercises.cells import unharmed
from exercises.codes import code_of, same_code, sheet_of
from exercises.draws import Problem, ProblemSet, Variant, draw, plain_name
from exercises.free_working import LONGEST_WORKING, WORKING
from exercises.handin import (
    LARGEST_HANDIN,
    Handin,
    HandinError,
    NoHandinError,
    is_packed,
    read_handins,
)
from exercises.letters import decode
from exercises.name_columns import headings_of_name
from exercises.sources import (
    DOCUMENTS,
    TABLES,
    UNREADABLE,
    WORKBOOKS,
    Refusal,
    Source,
    advice,
    advice_by_ending,
    size_of,
    sources,
)
from exercises.sources import files_of as files_of
from exercises.table import Row, SheetTable, Table, TableError, open_table, open_workbook
from exercises.workbook import WorkbookError, text_of_document

STUDENT_HEADINGS = ("student", "name", "student name", "full name")
CODE_HEADING = "code"
# Headings of the marks that we write (`marks_table`). No table of answers has both.
OUT_OF, HANDED_IN_AS = "out of", "handed in as"
# The longest answer that is looked at: options are words, numbers are shorter.
LONGEST_ANSWER = 200
LONGEST_NAME = 200

Answers = Mapping[str, Mapping[str, str]]
Tell = Callable[[int], None]
# How close a heading must come to one of ours to be offered it.
LIKE = 0.75
_HEAD = 4_096
# The name that a folder's name begins with.
_NAME = re.compile(r"[^\W\d_]{2,}(?:[ '’.,-]+[^\W\d_]+)*")
_SLASH = re.compile(r"\s*/\s*")
MOST_UNUSED = 20


@dataclass(frozen=True)
class Entry:
    """One student's answers.

    `place` is the file or row, `drawn_for` the name that drew the numbers, `saved` the hand-in's time
    in seconds since 1970, or 0. `typed`: the name is from a table, and no code confirms it.
    """

    place: str
    student: str
    drawn_for: str
    answers: Answers
    hints: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    saved: int = 0
    typed: bool = False

    @property
    def when(self) -> str:
        """When it was saved, in this computer's time; empty where no time is told."""
        if not self.saved:
            return ""
        return f"{datetime.fromtimestamp(self.saved).astimezone():%Y-%m-%d %H:%M}"


@dataclass(frozen=True)
class Remark:
    """What a teacher should know of a file that was read: how, and the headings of a table that were not used."""

    place: str
    says: str
    unused: tuple[str, ...] = ()


@dataclass(frozen=True)
class OtherSet(Refusal):
    """A good hand-in, made for another set than the one that is marked: the set's `key`."""

    key: str = ""


Found = Entry | Refusal | Remark


@dataclass(frozen=True)
class Columns:
    """Which columns of a table hold what. Left empty, the headings themselves say.

    `student` names one column or several that make the name together; `answers` maps a heading to
    ``problem/step``, or to a problem alone for its last step. Where some tables lack them (`of_some`), the
    others are read by them.
    """

    student: tuple[str, ...] = ()
    answers: Mapping[str, str] = field(default_factory=dict)
    of_some: bool = False

    def of(self, headings: Iterable[str]) -> Columns:
        """Those that a table has."""
        if not self.of_some:
            return self
        there = set(map(_squeezed, headings))
        return Columns(
            tuple(one for one in self.student if _squeezed(one) in there),
            {one: to for one, to in self.answers.items() if _squeezed(one) in there},
        )


def is_table(file: Path | Source) -> bool:
    """Whether a file is a table by its name: CSV, or a workbook."""
    return _ending(file) in (*TABLES, *WORKBOOKS)


def holds_many(path: Path) -> bool:
    """Whether a path is for a class: a folder, a table, a zip, or a file of several hand-ins."""
    if path.is_dir() or is_table(path) or path.suffix.lower() == ".zip":
        return True
    found = next(sources([path]))
    return isinstance(found, Source) and (_is_tabbed(found) or len(read_all(found)) > 1)


def _ending(file: Path | Source) -> str:
    return file.suffix.lower() if isinstance(file, Path) else file.ending


def sizes(paths: Sequence[Path]) -> int:
    """The bytes of some files, for a progress bar."""
    return sum(map(size_of, paths))


def sets_of(paths: Sequence[Path]) -> Counter[str]:
    """The keys of the sets that hand-ins are made for, each with how many."""
    keys: Counter[str] = Counter()
    for source in sources(paths):
        if isinstance(source, Source) and not (is_table(source) or _is_tabbed(source)):
            keys.update(one.set_key for one in read_all(source) if isinstance(one, Handin))
    return keys


def sets_of_tables(paths: Sequence[Path], sets: Iterable[ProblemSet]) -> Counter[str]:
    """The keys of the sets that tables hold answers to, as their headings say, each with how many tables."""
    known = tuple(sets)
    keys: Counter[str] = Counter()
    for source in sources(paths):
        if isinstance(source, Source) and (is_table(source) or _is_tabbed(source)):
            with suppress(TableError, WorkbookError, UnicodeError, OSError, *UNREADABLE):
                table = _opened(source)
                key = "" if is_marks(table) else _best_fit(table, known)
                keys.update([key] if key else [])
    return keys


def collect(
    paths: Sequence[Path],
    problem_set: ProblemSet,
    columns: Columns | None = None,
    tell: Tell = lambda read: None,
    elsewhere: Mapping[str, ProblemSet] = MappingProxyType({}),
) -> Iterator[Found]:
    """Every student's answers in some files. `tell` is told how many bytes are done.

    What belongs to one of the sets `elsewhere`, by their keys, is passed over: it is marked there.
    """
    for source in sources(paths):
        if isinstance(source, Refusal):
            yield source
            continue
        tell(source.done)
        if is_table(source) or _is_tabbed(source):
            yield from _from_table(source, problem_set, columns or Columns(), tell, elsewhere)
            continue
        for one in read_all(source):
            if isinstance(one, Refusal):
                yield one
            elif one.set_key not in elsewhere:
                yield _entry(one, source, problem_set)
    tell(sizes(paths))


# Hand-in files.


def read_file(path: Path) -> Handin | Refusal:
    """The only hand-in in a file, or why there is none."""
    found = next(sources([path]))
    return found if isinstance(found, Refusal) else read_all(found)[0]


def read_all(source: Source) -> list[Handin | Refusal]:
    """The hand-ins in a file: one, or several texts pasted one after the other. What cannot be read says why."""
    try:
        with source.open() as file:
            raw = file.read(LARGEST_HANDIN + 1)
        if said := advice(raw[:_HEAD], source.ending):
            return _in_document(source, said)
        found = read_handins(decode(raw))
    except (*UNREADABLE, OSError):
        return [Refusal(source.place, "It cannot be read: it is damaged, or locked.")]
    many = len(found) > 1
    return [
        one if isinstance(one, Handin) else Refusal(_place(source, n, many), _better(one, source))
        for n, one in enumerate(found, 1)
    ]


def _place(source: Source, number: int, many: bool) -> str:
    return f"{source.place}, text {number}" if many else source.place


def _better(error: HandinError, source: Source) -> str:
    """What the name of a file says better than what is in it."""
    return (advice_by_ending(source.ending) if isinstance(error, NoHandinError) else "") or str(
        error
    )


def _in_document(source: Source, said: str) -> list[Handin | Refusal]:
    """A pasted hand-in in a text document; else what the file is."""
    if source.ending in DOCUMENTS:
        try:
            with source.open() as file:
                text = text_of_document(file)
            if is_packed(text):
                return [
                    one if isinstance(one, Handin) else Refusal(source.place, str(one))
                    for one in read_handins(text)
                ]
        except (WorkbookError, OSError):
            pass
    return [Refusal(source.place, said)]


def other_set(handin: Handin, problem_set: ProblemSet) -> str:
    """Says so where a hand-in is made for another set; else empty."""
    if handin.set_key == problem_set.key:
        return ""
    return f"This is for the set “{handin.set_key}”, not “{problem_set.key}”."


def _entry(handin: Handin, source: Source, problem_set: ProblemSet) -> Entry | Refusal:
    other = other_set(handin, problem_set)
    if other:
        return OtherSet(source.place, f"{other} Mark it by itself.", handin.set_key)
    name = " ".join(handin.student.split())
    notes = tuple(doubts(handin, problem_set))
    if not name and source.in_zip and (letters := _NAME.match(source.folder)):
        name = " ".join(letters[0].split())
        notes = (*notes, f"It bears no name: “{name}” is that of its folder.")
    if not name:
        return Refusal(source.place, "It bears no name, so it cannot be put to a student.")
    return Entry(
        source.place,
        name,
        handin.student,
        _cut(handin.answers),
        handin.hints,
        notes,
        handin.saved,
    )


def _cut(answers: Answers) -> Answers:
    return {
        problem: {step: text[: _longest(step)] for step, text in steps.items()}
        for problem, steps in answers.items()
    }


def _longest(step: str) -> int:
    return LONGEST_WORKING if step == WORKING else LONGEST_ANSWER


def doubts(handin: Handin, problem_set: ProblemSet) -> Iterator[str]:
    """What a teacher should know of a hand-in before trusting its marks."""
    if handin.version != problem_set.version:
        yield (
            f"Made for version {handin.version} of the set; marked by version "
            f"{problem_set.version}, whose numbers may differ."
        )
    elif handin.content and handin.content != problem_set.content:
        yield (
            "Made from another text of this set than the one it is marked by, though both say version "
            f"{problem_set.version}: what was asked may differ."
        )
    if problem_set.due and (late := problem_set.due.late(handin.saved)):
        yield late
    changed = [
        problem.title
        for problem in problem_set.problems
        if handin.given.get(problem.id, {})
        and handin.given[problem.id] != draw(problem_set, problem, handin.student).shown
    ]
    if changed:
        yield (
            "The numbers in the file are not the ones this name draws now: "
            f"{', '.join(changed)}. Was the name, or the set, changed afterwards?"
        )
    known = {p.id for p in (*problem_set.problems, *problem_set.not_asked)}
    for unknown in sorted(handin.answers.keys() - known)[:5]:
        yield f"“{unknown[:60]}” is not a problem of this set; it was not marked."


# Tables.


@dataclass(frozen=True)
class _Layout:
    """Where in a row the name, the code and each answer are."""

    student: tuple[int, ...]
    code: int | None
    answers: tuple[tuple[int, str, str], ...]
    unused: tuple[str, ...] = ()


def _is_tabbed(source: Source) -> bool:
    """Whether a text file is a table with tabs between its cells, as a spreadsheet's “Unicode text” is."""
    if source.ending != ".txt":
        return False
    try:
        with source.open() as file:
            text = decode(file.read(_HEAD))
    except (*UNREADABLE, OSError):
        return False
    return "\t" in text.strip().partition("\n")[0] and not is_packed(text)


def _from_table(
    source: Source,
    problem_set: ProblemSet,
    columns: Columns,
    tell: Tell,
    elsewhere: Mapping[str, ProblemSet],
) -> Iterator[Found]:
    place = source.place
    try:
        table = _opened(source)
        if _best_fit(table, (problem_set, *elsewhere.values())) not in ("", problem_set.key):
            return
        layout = _layout(table, problem_set, columns)
        unused = _not_used(layout.unused, problem_set) if layout.unused else ""
        says = " ".join(filter(None, (table.says, unused)))
        yield Remark(place, says, layout.unused[:MOST_UNUSED])
        for row in table.rows(lambda read: None if source.in_zip else tell(source.done + read)):
            yield from _from_row(row, _in_row(source, row), layout, problem_set, elsewhere)
    except _NoNames as error:
        yield Remark(place, table.says, tuple(table.headings[:MOST_UNUSED]))
        yield Refusal(place, str(error))
    except (TableError, WorkbookError) as error:
        yield Refusal(place, str(error))
    except UnicodeError:
        yield Refusal(place, "It stops being text on the way. Save it again as “CSV UTF-8”.")
    except OSError as error:
        yield Refusal(place, f"It cannot be read ({error.strerror or error}).")
    except UNREADABLE:
        yield Refusal(place, "It cannot be read: it is damaged, or locked.")


def _opened(source: Source) -> Table | SheetTable:
    """A table, of whichever kind. Raises TableError, WorkbookError, OSError."""
    return open_workbook(source) if source.ending in WORKBOOKS else open_table(source)


def _best_fit(table: Table | SheetTable, sets: Iterable[ProblemSet]) -> str:
    """The key of the set that most of a table's headings are of, of two alike the first by key; empty where none is."""
    headings = set(map(_squeezed, table.headings))
    fits = {each.key: len(headings & _known_headings(each).keys()) for each in sets}
    best = min(fits, key=lambda key: (-fits[key], key), default="")
    return best if fits.get(best) else ""


def _in_row(source: Source, row: Row) -> Source:
    return replace(source, place=f"{source.place}, row {row.number}", folder="")


def answer_headings(problem_set: ProblemSet) -> dict[str, tuple[str, str]]:
    """The heading of each place for an answer, ``problem/step``, and what it stands for."""
    return {
        f"{problem.id}/{key}": (problem.id, key)
        for problem in problem_set.problems
        for key in places(draw(problem_set, problem, ""))
    }


def places(drawn: Variant) -> list[str]:
    """The keys of what a student may write for a problem: each step and box, and free working."""
    free = [WORKING] if drawn.takes_lines else []
    return [*free, *(part.key for part in drawn.parts)]


def places_on_paper(drawn: Variant) -> list[str]:
    """The keys of what a sheet has a place for: lines and answers where the plan is the student's own."""
    if drawn.is_free:
        return [WORKING, *(step.key for step in drawn.asked)]
    return [part.key for part in drawn.parts]


def is_marks(table: Table | SheetTable) -> bool:
    """Whether a table holds marks that an earlier run wrote. Its other columns look like answers."""
    return {OUT_OF, HANDED_IN_AS} <= set(map(plain_name, table.headings))


class _NoNames(TableError):
    """A table in which no column is known to hold the name."""


def _layout(table: Table | SheetTable, problem_set: ProblemSet, columns: Columns) -> _Layout:
    if is_marks(table):
        raise TableError("This is a table of marks from an earlier run.")
    columns = columns.of(table.headings)
    places = {_squeezed(heading): n for n, heading in enumerate(table.headings)}
    known = _known_headings(problem_set)
    wanted = {heading: heading for heading in places if heading in known}
    for heading, target in columns.answers.items():
        if _squeezed(target) not in known:
            raise TableError(
                f"The set has no answer “{target}”. It has: {', '.join(answer_headings(problem_set))}."
            )
        wanted[_squeezed(heading)] = _squeezed(target)
    for heading in (*columns.student, *columns.answers):
        if _squeezed(heading) not in places:
            raise TableError(f"There is no column “{heading}”. {_there_are(table)}")
    names = columns.student or [h for h in STUDENT_HEADINGS if h in places][:1]
    names = names or headings_of_name(table.headings)
    code = places.get(CODE_HEADING)
    if not names and code is None:
        raise _NoNames(
            "No column is headed “student”. Say which one holds the name "
            f"(at a terminal: --student-column HEADING). {_there_are(table)}"
        )
    used = {*map(_squeezed, names), *wanted, CODE_HEADING, ""}
    return _Layout(
        tuple(places[_squeezed(name)] for name in names),
        code,
        tuple((places[heading], *known[target]) for heading, target in wanted.items()),
        tuple(
            h
            for h in table.headings
            if _squeezed(h) not in used and not _is_not_asked(h, problem_set)
        ),
    )


def _squeezed(heading: str) -> str:
    """A heading without the differences that typing makes, spaces round its slash among them."""
    return _SLASH.sub("/", plain_name(heading))


def _is_not_asked(heading: str, problem_set: ProblemSet) -> bool:
    """Whether a column is about a problem of the set that is not asked here."""
    return _squeezed(heading).partition("/")[0] in {p.id for p in problem_set.not_asked}


def _not_used(headings: Sequence[str], problem_set: ProblemSet) -> str:
    """Which columns nothing was read from, with what one that comes near may have meant."""
    asked = {plain_name(name): name for name in answer_headings(problem_set)}
    asked |= {plain_name(problem.id): problem.id for problem in problem_set.problems}
    said = f"Not used: {', '.join(f'“{heading[:60]}”' for heading in headings[:MOST_UNUSED])}."
    meant = []
    for heading in headings[:MOST_UNUSED]:
        near = difflib.get_close_matches(_squeezed(heading), asked, n=1, cutoff=LIKE)
        meant += [f"By “{heading[:60]}”, did you mean “{asked[near[0]]}”?"] if near else []
    return " ".join([said, *meant])


def _known_headings(problem_set: ProblemSet) -> dict[str, tuple[str, str]]:
    """What a column may be headed, ``problem/step``, or a problem's id or title for its last step."""
    last = {p: (p.id, _last(problem_set, p)) for p in problem_set.problems}
    return {
        **{_squeezed(p.title): target for p, target in last.items()},
        **{plain_name(p.id): target for p, target in last.items()},
        **{_squeezed(name): target for name, target in answer_headings(problem_set).items()},
    }


def _last(problem_set: ProblemSet, problem: Problem) -> str:
    return draw(problem_set, problem, "").parts[-1].key


def _there_are(table: Table | SheetTable) -> str:
    shown = ", ".join(f"“{heading[:40]}”" for heading in table.headings[:20])
    return f"The columns are: {shown}."


def _from_row(
    row: Row,
    source: Source,
    layout: _Layout,
    problem_set: ProblemSet,
    elsewhere: Mapping[str, ProblemSet],
) -> Iterator[Entry | Refusal]:
    """What is in a row: the answers in its cells, or the hand-ins that are pasted into one."""
    if row.trouble:
        yield Refusal(source.place, f"This row is left out: {row.trouble}.")
        return
    pasted = next((cell for cell in row.cells if is_packed(cell)), None)
    if pasted is None:
        yield _of_cells(row.cells, source.place, layout, problem_set)
        return
    for one in read_handins(pasted):
        if isinstance(one, HandinError):
            yield Refusal(source.place, str(one))
        elif one.set_key not in elsewhere:
            yield _entry(one, source, problem_set)


def _of_cells(
    cells: list[str], place: str, layout: _Layout, problem_set: ProblemSet
) -> Entry | Refusal:
    if not layout.answers:
        return Refusal(
            place,
            "No column holds answers: none is headed problem/step, and no cell holds a pasted "
            "hand-in. Say what the columns hold (at a terminal: --answer-columns HEADING=PROBLEM/STEP).",
        )
    student = " ".join(" ".join(unharmed(_cell(cells, n)) for n in layout.student).split())
    if len(student) > LONGEST_NAME:
        return Refusal(place, "The name is too long for one student. Is it the right column?")
    drawn_for, trouble = _drawn_for(problem_set, student, _cell(cells, layout.code))
    if trouble:
        return Refusal(place, trouble)
    answers: dict[str, dict[str, str]] = {}
    for n, problem, step in layout.answers:
        text = _cell(cells, n)
        if text.strip():
            answers.setdefault(problem, {})[step] = unharmed(text[: _longest(step)])
    if not answers:
        # It would count as nothing earned, and take the place of a hand-in.
        return Refusal(place, f"“{student or drawn_for}” has no answers: absent? Not counted.")
    typed = not same_code(_cell(cells, layout.code))
    return Entry(place, student or drawn_for, drawn_for, answers, typed=typed)


def _cell(cells: list[str], number: int | None) -> str:
    return cells[number] if number is not None and number < len(cells) else ""


def _drawn_for(problem_set: ProblemSet, student: str, code: str) -> tuple[str, str]:
    """The name that drew a row's numbers, from the name and the code on the sheet; or the trouble."""
    code = same_code(code)
    if not code:
        return student, "" if student else "It bears neither a name nor a code."
    if student and code == code_of(problem_set, student):
        return student, ""
    sheet = sheet_of(problem_set, code)
    if sheet:
        return sheet, ""
    if not student:
        return "", f"The code “{code[:20]}” was printed with a name. Write that name too."
    return "", (
        f"The code “{code[:20]}” does not belong to “{student}”. Look at both on the sheet: "
        "the numbers depend on them."
    )
