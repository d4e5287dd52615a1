"""The class list: names, and what the school knows each student by.

`read_roster` takes the text of a list as it comes: one name a line, or a table (commas, semicolons, tabs) with or
without headings, in any order of columns. `open_roster` reads a file, a workbook too; `roster_of` takes rows. A
`Roster` keeps the teacher's own headings and cells, so that the marks go back in the list's order and by its keys.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from exercises.codes import MOST_SHEETS
from exercises.collect import LONGEST_NAME, STUDENT_HEADINGS
from exercises.draws import plain_name
from exercises.letters import decode, put_right
from exercises.name_columns import (
    EMAIL,
    FIRST,
    GROUP,
    NAME,
    NUMBER,
    SURNAME,
    NameColumns,
    of_headings,
)
from exercises.sources import WORKBOOKS, advice
from exercises.workbook import WorkbookError, first_sheet

# More than any school has; each is kept in memory.
MOST_LISTED = 20_000
LARGEST_LIST = 8_000_000
MOST_COLUMNS = 200
LONGEST_CELL = 300
_LONGEST_LINE = 10_000

_INVERTED = re.compile(r"[^,;|\t]+, [^,;|\t]+$")
_NUMBERED = re.compile(r"^\d{1,4}[.)]\s+")


class NamesError(ValueError):
    """A class list that cannot be used; the message says which line."""


@dataclass(frozen=True)
class Person:
    """One student of the list: `name` as the student would write it, `cells` as the list has them."""

    name: str
    cells: tuple[str, ...] = ()
    number: str = ""
    email: str = ""
    group: str = ""


@dataclass(frozen=True)
class Roster:
    """A class list. `headings` are those of each person's cells; `remarks` say how the list was read."""

    people: tuple[Person, ...] = ()
    headings: tuple[str, ...] = (STUDENT_HEADINGS[0],)
    remarks: tuple[str, ...] = ()
    # The cell that a name goes to that is not on the list.
    name_at: int = field(default=0, compare=False)

    @classmethod
    def of(cls, names: Iterable[str]) -> Roster:
        """A list of names alone."""
        return cls(tuple(Person(name, (name,)) for name in names))

    @cached_property
    def names(self) -> tuple[str, ...]:
        return tuple(person.name for person in self.people)

    @cached_property
    def _places(self) -> dict[str, int]:
        """Where each is on the list, by name, number and e-mail; a name goes before a number."""
        places: dict[str, int] = {}
        for by in ("name", "email", "number"):
            for place, person in enumerate(self.people):
                key = plain_name(getattr(person, by))
                if key:
                    places.setdefault(key, place)
        return places

    def place(self, student: str) -> int | None:
        """Where a student is on the list: by the name, number or e-mail that a hand-in or a row bears."""
        return self._places.get(plain_name(student))

    def unlisted(self, student: str) -> tuple[str, ...]:
        """The cells for somebody who is not on the list."""
        return tuple(student if n == self.name_at else "" for n in range(len(self.headings)))

    @cached_property
    def groups(self) -> tuple[str, ...]:
        """The groups, in the order of the list."""
        return tuple(dict.fromkeys(person.group for person in self.people if person.group))


def read_names(text: str) -> list[str]:
    """The names of a class list, for sheets of their own. Raises NamesError, also for two alike."""
    return names_alone(read_roster(text))


def names_alone(roster: Roster) -> list[str]:
    """The names of a class list, each for numbers of its own. Raises NamesError for two alike, or too many."""
    seen: set[str] = set()
    for name in roster.names:
        if plain_name(name) in seen:
            raise NamesError(_twice(name))
        seen.add(plain_name(name))
    if len(roster.names) > MOST_SHEETS:
        raise NamesError(f"there are more than {MOST_SHEETS} names in it. Split the list.")
    return list(roster.names)


def _twice(name: str) -> str:
    return f"“{name}” is in the list already, and would get the same numbers. Add an initial."


def open_roster(path: Path) -> Roster:
    """A class list from a file: text in any usual encoding, or a workbook. Raises NamesError, OSError."""
    if path.suffix.lower() in WORKBOOKS:
        try:
            with path.open("rb") as file:
                return roster_of(enumerate(first_sheet(file).rows(), 1))
        except WorkbookError as error:
            raise NamesError(str(error)) from None
    with path.open("rb") as file:
        raw = file.read(LARGEST_LIST + 1)
    if len(raw) > LARGEST_LIST:
        raise NamesError("this is far too large for a class list.")
    if said := advice(raw[:4_096], path.suffix.lower()):
        raise NamesError(said)
    return read_roster(decode(raw))


def read_roster(text: str) -> Roster:
    """A class list from its text. Raises NamesError."""
    lines = text.lstrip("\ufeff").splitlines()
    delimiter = _delimiter([line for line in lines if line.strip()])
    if delimiter is None:
        return roster_of((n, [_NUMBERED.sub("", line.strip())]) for n, line in enumerate(lines, 1))
    rows = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=""), delimiter=delimiter, skipinitialspace=True)  # fmt: skip
    try:
        return roster_of((rows.line_num, row) for row in rows)
    except csv.Error:
        raise NamesError(f"line {rows.line_num}: a closing quote may be missing.") from None


def _delimiter(lines: Sequence[str]) -> str | None:
    """What parts the cells: a sign that is in nearly every line, as often in each; None where nothing is."""
    sample = lines[:200]
    if sample and all(_INVERTED.match(line) for line in sample):
        # “Sample, Ada” is one name, unless it heads two columns.
        return "," if of_headings(sample[0].split(",")) else None
    for sign in "\t;|,":
        counts = [line.count(sign) for line in sample]
        if counts and min(counts[0], sorted(counts)[len(counts) // 5]) > 0:
            return sign
    return None


def roster_of(numbered: Iterable[tuple[int, Sequence[str]]]) -> Roster:
    """A class list from rows of cells, each with its line's number. Raises NamesError."""
    rows = []
    for number, row in numbered:
        cells = [" ".join(put_right(cell).split()) for cell in row[:MOST_COLUMNS]]
        if not any(cells):
            continue
        for cell in cells:
            if len(cell) > LONGEST_CELL or not cell.isprintable():
                raise NamesError(f"line {number}: this is too long, or is no name.")
        rows.append((number, cells))
        if len(rows) > MOST_LISTED:
            raise NamesError(f"there are more than {MOST_LISTED} names in it. Split the list.")
    if not rows:
        raise NamesError("there is no name in it. Write one name a line.")
    width = max(len(cells) for _, cells in rows)
    for _, cells in rows:
        cells += [""] * (width - len(cells))
    headed = of_headings(rows[0][1])
    body = rows[1:] if headed else rows
    if not body:
        raise NamesError("there is no name in it. Write one name a line.")
    columns = headed or _columns_of_cells([cells for _, cells in body])
    headings = rows[0][1] if headed else [columns.get(n, "") for n in range(width)]
    return _roster(body, columns, headings, bool(headed))


def _columns_of_cells(rows: Sequence[Sequence[str]]) -> NameColumns:
    """What columns without headings hold, from what is in them."""
    columns: NameColumns = {}
    texts = []
    for n in range(len(rows[0])):
        cells = [row[n] for row in rows if row[n]]
        if not cells:
            continue
        if all("@" in cell for cell in cells):
            columns.setdefault(n, EMAIL)
        elif all(any(c.isdigit() for c in cell) for cell in cells) and len(rows[0]) > 1:
            columns[n] = GROUP if len(set(cells)) <= len(cells) // 2 else NUMBER
        else:
            texts.append(n)
    whole = [n for n in texts if _share(rows, n, lambda cell: " " in cell) > 0.5]
    names = whole[:1] or [n for n in texts if not _repeats(rows, n)][:2] or texts[:1]
    columns.update(zip(names, (NAME,) if len(names) == 1 else (FIRST, SURNAME), strict=False))
    for n in texts:
        if n not in names and _repeats(rows, n) and GROUP not in columns.values():
            columns[n] = GROUP
    return columns


def _share(rows: Sequence[Sequence[str]], n: int, holds) -> float:
    return sum(holds(row[n]) for row in rows) / len(rows)


def _repeats(rows: Sequence[Sequence[str]], n: int) -> bool:
    """Whether a column has few different words, as groups are."""
    cells = [row[n] for row in rows if row[n]]
    return len(cells) > 3 and len(set(cells)) <= len(cells) / 2


def _roster(
    rows: Sequence[tuple[int, Sequence[str]]],
    columns: NameColumns,
    headings: Sequence[str],
    headed: bool,
) -> Roster:
    at = {what: n for n, what in columns.items()}
    if not {NAME, FIRST, SURNAME} & at.keys():
        raise NamesError("no column holds names. Head one of them “name”.")
    kept = sorted(columns)
    people, remarks = [], _said(columns, headings, headed)
    seen: dict[str, int] = {}
    for number, cells in rows:
        person = Person(
            _name(cells, at),
            tuple(cells[n] for n in kept),
            *(cells[at[what]] if what in at else "" for what in (NUMBER, EMAIL, GROUP)),
        )
        if not person.name:
            remarks.append(f"Line {number} bears no name, and is left out.")
            continue
        if len(person.name) > LONGEST_NAME:
            raise NamesError(f"line {number}: this is too long, or is no name.")
        if (first := seen.setdefault(plain_name(person.name), number)) != number:
            if not (person.number or person.email):
                raise NamesError(f"line {number}: {_twice(person.name)}")
            remarks.append(
                f"“{person.name}” is on the list twice, in lines {first} and {number}. Marks go to the first: "
                "the same name gives the same numbers, so let one of them add an initial."
            )
        people.append(person)
    if not people:
        raise NamesError("there is no name in it. Write one name a line.")
    name_at = min(kept.index(at[what]) for what in (NAME, FIRST, SURNAME) if what in at)
    shown = tuple(headings[n] or columns[n] for n in kept)
    return Roster(tuple(people), shown if len(kept) > 1 or headed else Roster.headings, tuple(remarks), name_at)  # fmt: skip


def _name(cells: Sequence[str], at: dict[str, int]) -> str:
    """The name as its student writes it: first name first, also where the list has “Sample, Ada”."""
    if NAME in at:
        surname, comma, first = cells[at[NAME]].partition(", ")
        return f"{first} {surname}" if comma and first and surname else cells[at[NAME]]
    parts = (cells[at[what]] for what in (FIRST, SURNAME) if what in at)
    return " ".join(filter(None, parts))


def _said(columns: NameColumns, headings: Sequence[str], headed: bool) -> list[str]:
    """How a list with columns was read; nothing of a list of names."""
    if len(headings) < 2:
        return []
    names = [f"“{heading}”" if headed else f"column {n + 1}" for n, heading in enumerate(headings)]
    read = ", ".join(f"{what} from {names[n]}" for n, what in sorted(columns.items()))
    unused = [name for n, name in enumerate(names) if n not in columns and (headings[n] or not headed)]  # fmt: skip
    said = [f"The class list was read so: {read}."]
    if not headed and FIRST in columns.values():
        said.append("If the surname comes first, write a line of headings above it.")
    return said + ([f"Not used: {', '.join(unused)}."] if unused else [])
