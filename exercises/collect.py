"""Collect a class's answers: hand-in files, folders of them, and CSV tables from any system.

Everything is read one student at a time. What cannot be read becomes a `Refusal` with its reason,
and the rest go on.
"""

from __future__ import annotations

import difflib
import os
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from exercises.codes import code_of, same_code, sheet_of
from exercises.draws import Problem, ProblemSet, Variant, draw, plain_name
from exercises.free_working import LONGEST_WORKING, WORKING
from exercises.handin import LARGEST_HANDIN, Handin, HandinError, is_packed, read_handin
from exercises.table import Row, Table, TableError, open_table, unharmed

TABLE_ENDINGS = (".csv", ".tsv")
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
class Refusal:
    """What could not be marked, and why."""

    place: str
    reason: str


@dataclass(frozen=True)
class Remark:
    """What a teacher should know of a file that was read: how, and what of it was not used."""

    place: str
    says: str


Found = Entry | Refusal | Remark


@dataclass(frozen=True)
class Columns:
    """Which columns of a table hold what. Left empty, the headings themselves say.

    `student` names one column or several that make the name together; `answers` maps a heading to
    ``problem/step``, or to a problem alone for its last step.
    """

    student: tuple[str, ...] = ()
    answers: Mapping[str, str] = field(default_factory=dict)


def is_table(path: Path) -> bool:
    return path.suffix.lower() in TABLE_ENDINGS


# What a browser adds to the name of a file that is there already.
_COPY = re.compile(r" ?\((\d{1,9})\)(?=\.[^.]*$|$)")


def _by_name(name: str) -> tuple[str, int, str]:
    """Sorts “ada (2).json” after “ada.json”, and “ada (10).json” after both."""
    copy = _COPY.search(name)
    return (_COPY.sub("", name), int(copy[1]) if copy else 0, name)


def files_of(paths: Sequence[Path]) -> list[Path]:
    """The files named, and those in the folders named, in order of name. Hidden files are left out."""
    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        for folder, folders, names in os.walk(path):
            folders[:] = sorted(name for name in folders if not name.startswith("."))
            found += [
                Path(folder, name)
                for name in sorted(names, key=_by_name)
                if not name.startswith(".")
            ]
    return found


def sizes(paths: Sequence[Path]) -> int:
    """The bytes of some files, for a progress bar; what cannot be asked counts as nothing."""
    return sum(path.stat().st_size for path in paths if path.is_file())


def commonest_set(paths: Sequence[Path]) -> str | None:
    """The key of the set that most of the hand-ins are made for; None if there is no hand-in."""
    keys: Counter[str] = Counter()
    for path in paths:
        if not is_table(path):
            found = read_file(path)
            if isinstance(found, Handin):
                keys[found.set_key] += 1
    return keys.most_common(1)[0][0] if keys else None


def collect(
    paths: Sequence[Path],
    problem_set: ProblemSet,
    columns: Columns | None = None,
    tell: Tell = lambda read: None,
) -> Iterator[Found]:
    """Every student's answers in some files. `tell` is told how many bytes are done."""
    before = 0
    for path in paths:
        if path.is_symlink():
            # In a folder of hand-ins a link could bring in a file that was never handed in.
            yield Refusal(str(path), LINK)
        elif is_table(path):
            start = before
            yield from _from_table(
                path,
                problem_set,
                columns or Columns(),
                lambda read, start=start: tell(start + read),
            )
        else:
            found = read_file(path)
            yield found if isinstance(found, Refusal) else _entry(found, str(path), problem_set)
        before += sizes([path])
        tell(before)


# Hand-in files.


LINK = "This is a link to another place, not a file. If it is meant, name the file it leads to."


def read_file(path: Path) -> Handin | Refusal:
    """The hand-in in a file, or why there is none."""
    if path.is_symlink():
        return Refusal(str(path), LINK)
    if not path.is_file():
        return Refusal(str(path), "This is not a file that can be read.")
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_HANDIN + 1)
        return read_handin(raw.decode("utf-8"))
    except UnicodeDecodeError:
        return Refusal(
            str(path),
            "This is not a hand-in: it is no UTF-8 text. Ask for the file that the exercise page saves; "
            "save a spreadsheet as “CSV UTF-8”.",
        )
    except HandinError as error:
        return Refusal(str(path), str(error))
    except OSError as error:
        return Refusal(str(path), f"It cannot be read ({error.strerror}).")


def other_set(handin: Handin, problem_set: ProblemSet) -> str:
    """Says so where a hand-in is made for another set; else empty."""
    if handin.set_key == problem_set.key:
        return ""
    return f"This is for the set “{handin.set_key}”, not “{problem_set.key}”."


def _entry(handin: Handin, place: str, problem_set: ProblemSet) -> Entry | Refusal:
    other = other_set(handin, problem_set)
    if other:
        return Refusal(place, f"{other} Mark it by itself.")
    name = " ".join(handin.student.split())
    if not name:
        return Refusal(place, "It bears no name, so it cannot be put to a student.")
    return Entry(
        place,
        name,
        handin.student,
        _cut(handin.answers),
        handin.hints,
        tuple(doubts(handin, problem_set)),
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


def _from_table(
    path: Path, problem_set: ProblemSet, columns: Columns, tell: Tell
) -> Iterator[Found]:
    try:
        table = open_table(path)
        layout = _layout(table, problem_set, columns)
        if layout.unused:
            yield Remark(str(path), _not_used(layout.unused, problem_set))
        for row in table.rows(tell):
            yield _from_row(row, f"{path}, row {row.number}", layout, problem_set)
    except TableError as error:
        yield Refusal(str(path), str(error))
    except UnicodeError:
        yield Refusal(str(path), "It stops being text on the way. Save it again as “CSV UTF-8”.")
    except OSError as error:
        yield Refusal(str(path), f"It cannot be read ({error.strerror}).")


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


def is_marks(table: Table) -> bool:
    """Whether a table holds marks that an earlier run wrote. Its other columns look like answers."""
    return {OUT_OF, HANDED_IN_AS} <= set(map(plain_name, table.headings))


def _layout(table: Table, problem_set: ProblemSet, columns: Columns) -> _Layout:
    if is_marks(table):
        raise TableError("This is a table of marks from an earlier run.")
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
    code = places.get(CODE_HEADING)
    if not names and code is None:
        raise TableError(
            f"No column is headed “student”. Name it: --student-column HEADING. {_there_are(table)}"
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


def _there_are(table: Table) -> str:
    shown = ", ".join(f"“{heading[:40]}”" for heading in table.headings[:20])
    return f"The columns are: {shown}."


def _from_row(row: Row, place: str, layout: _Layout, problem_set: ProblemSet) -> Entry | Refusal:
    if row.trouble:
        return Refusal(place, f"This row is left out: {row.trouble}.")
    cells = row.cells
    for cell in cells:
        if is_packed(cell):
            try:
                return _entry(read_handin(cell), place, problem_set)
            except HandinError as error:
                return Refusal(place, str(error))
    if not layout.answers:
        return Refusal(
            place,
            "No column holds answers: none is headed problem/step, and no cell holds a pasted "
            "hand-in. Name the columns: --answer-columns HEADING=PROBLEM/STEP.",
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
