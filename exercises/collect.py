"""Collect a class's answers: hand-in files, folders of them, and CSV tables from any system.

Everything is read one student at a time. What cannot be read becomes a `Refusal` with its reason,
and the rest go on.
"""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from exercises.codes import code_of, same_code, sheet_of
from exercises.draws import Problem, ProblemSet, draw, plain_name
from exercises.handin import LARGEST_HANDIN, Handin, HandinError, is_packed, read_handin
from exercises.table import Row, Table, TableError, open_table, unharmed

TABLE_ENDINGS = (".csv", ".tsv")
STUDENT_HEADINGS = ("student", "name", "student name", "full name")
CODE_HEADING = "code"
# The longest answer that is looked at: options are words, numbers are shorter.
LONGEST_ANSWER = 200
LONGEST_NAME = 200

Answers = Mapping[str, Mapping[str, str]]
Tell = Callable[[int], None]


@dataclass(frozen=True)
class Entry:
    """One student's answers. `place` is the file or row; `drawn_for` the name that drew the numbers."""

    place: str
    student: str
    drawn_for: str
    answers: Answers
    hints: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Refusal:
    """What could not be marked, and why."""

    place: str
    reason: str


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


def files_of(paths: Sequence[Path]) -> list[Path]:
    """The files named, and those in the folders named, in order of name. Hidden files are left out."""
    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        for folder, folders, names in os.walk(path):
            folders[:] = sorted(name for name in folders if not name.startswith("."))
            shown = (name for name in names if not name.startswith("."))
            found += [Path(folder, name) for name in sorted(shown, key=_in_order)]
    return found


def _in_order(name: str) -> tuple[list[str | int], str]:
    """What sorts “ada (2).json”, which is a browser's second “ada.json”, after it and before (10)."""
    stem, ending = os.path.splitext(name)
    return [int(part) if part.isdecimal() else part for part in re.split(r"(\d+)", stem)], ending


def sizes(paths: Sequence[Path]) -> int:
    """The bytes of some files, for a progress bar; what cannot be asked counts as nothing."""
    return sum(path.stat().st_size for path in paths if path.is_file())


def commonest_set(paths: Sequence[Path]) -> str | None:
    """The key of the set that most of the hand-ins are made for; None if there is no hand-in."""
    keys: Counter[str] = Counter()
    for path in paths:
        if not is_table(path):
            found = _handin(path)
            if isinstance(found, Handin):
                keys[found.set_key] += 1
    return keys.most_common(1)[0][0] if keys else None


def collect(
    paths: Sequence[Path],
    problem_set: ProblemSet,
    columns: Columns | None = None,
    tell: Tell = lambda read: None,
) -> Iterator[Entry | Refusal]:
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
            found = _handin(path)
            yield found if isinstance(found, Refusal) else _entry(found, str(path), problem_set)
        before += sizes([path])
        tell(before)


# Hand-in files.


LINK = "This is a link to another place, not a file. If it is meant, name the file it leads to."


def _handin(path: Path) -> Handin | Refusal:
    if path.is_symlink():
        return Refusal(str(path), LINK)
    if not path.is_file():
        return Refusal(str(path), "This is not a file that can be read.")
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_HANDIN + 1)
        return read_handin(raw.decode("utf-8"))
    except UnicodeDecodeError:
        return Refusal(str(path), "This is not a hand-in: it is not UTF-8 text.")
    except HandinError as error:
        return Refusal(str(path), str(error))
    except OSError as error:
        return Refusal(str(path), f"It cannot be read ({error.strerror}).")


def _entry(handin: Handin, place: str, problem_set: ProblemSet) -> Entry | Refusal:
    if handin.set_key != problem_set.key:
        return Refusal(
            place,
            f"This is for the set “{handin.set_key}”, not “{problem_set.key}”. Mark it by itself.",
        )
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
    )


def _cut(answers: Answers) -> Answers:
    return {
        problem: {step: text[:LONGEST_ANSWER] for step, text in steps.items()}
        for problem, steps in answers.items()
    }


def doubts(handin: Handin, problem_set: ProblemSet) -> Iterator[str]:
    """What a teacher should know of a hand-in before trusting its marks."""
    if handin.version != problem_set.version:
        yield (
            f"Made for version {handin.version} of the set; marked by version "
            f"{problem_set.version}, whose numbers may differ."
        )
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
    for unknown in list(handin.answers.keys() - {p.id for p in problem_set.problems})[:5]:
        yield f"“{unknown[:60]}” is not a problem of this set; it was not marked."


# Tables.


@dataclass(frozen=True)
class _Layout:
    """Where in a row the name, the code and each answer stand."""

    student: tuple[int, ...]
    code: int | None
    answers: tuple[tuple[int, str, str], ...]


def _from_table(
    path: Path, problem_set: ProblemSet, columns: Columns, tell: Tell
) -> Iterator[Entry | Refusal]:
    try:
        table = open_table(path)
        layout = _layout(table, problem_set, columns)
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
        f"{problem.id}/{part.key}": (problem.id, part.key)
        for problem in problem_set.problems
        for part in draw(problem_set, problem, "").parts
    }


def _layout(table: Table, problem_set: ProblemSet, columns: Columns) -> _Layout:
    places = {plain_name(heading): n for n, heading in enumerate(table.headings)}
    known = _known_headings(problem_set)
    wanted = {plain_name(heading): heading for heading in places if heading in known}
    for heading, target in columns.answers.items():
        if plain_name(target) not in known:
            raise TableError(
                f"The set has no answer “{target}”. It has: {', '.join(answer_headings(problem_set))}."
            )
        wanted[plain_name(heading)] = plain_name(target)
    for heading in (*columns.student, *columns.answers):
        if plain_name(heading) not in places:
            raise TableError(f"There is no column “{heading}”. {_there_are(table)}")
    names = columns.student or [h for h in STUDENT_HEADINGS if h in places][:1]
    code = places.get(CODE_HEADING)
    if not names and code is None:
        raise TableError(
            f"No column is headed “student”. Name it: --student-column HEADING. {_there_are(table)}"
        )
    return _Layout(
        tuple(places[plain_name(name)] for name in names),
        code,
        tuple((places[heading], *known[target]) for heading, target in wanted.items()),
    )


def _known_headings(problem_set: ProblemSet) -> dict[str, tuple[str, str]]:
    known = {plain_name(name): target for name, target in answer_headings(problem_set).items()}
    return {
        problem.id: (problem.id, _last(problem_set, problem)) for problem in problem_set.problems
    } | known


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
        if text:
            answers.setdefault(problem, {})[step] = unharmed(text[:LONGEST_ANSWER])
    return Entry(place, student or drawn_for, drawn_for, answers)


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
