"""CSV as it really comes: any delimiter, decimal comma, byte-order marks; and CSV that does no harm.

Rows are read one at a time, so memory stays flat however long the file is. What is written follows
RFC 4180, with every cell that a spreadsheet would run as a formula turned into text.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from exercises import letters
from exercises.cells import harmless
from exercises.sources import Source
from exercises.workbook import Sheet, first_sheet

DELIMITERS = (",", ";", "\t", "|")
SAMPLE = 65_536
# One line of a file without line ends, or one row of many lines, could fill the memory.
LONGEST_LINE = 1_000_000

_SIGNS = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "strokes"}
_DECIMAL = re.compile(r"\d([.,])\d{1,2}(?!\d)")
# What `surrogateescape` makes of bytes that are no text.
_NO_LETTER = re.compile("[\ud800-\udfff]")


class TableError(ValueError):
    """A CSV that cannot be read at all; the message says what to do."""


@dataclass(frozen=True)
class Row:
    """One row of a table: its number as a spreadsheet counts, and its cells, or why it is lost."""

    number: int
    cells: list[str]
    trouble: str = ""


@dataclass(frozen=True)
class Cut:
    """How a spreadsheet that opened a CSV wrongly saved it: its letters, and the sign that it should have cut rows at.

    Where that sign is empty, the rows were cut rightly.
    """

    sign: str = ""

    @classmethod
    def of(cls, headings: list[str]) -> Cut:
        """As a table's first row tells: all headings are in its first cell."""
        first = headings[0] if headings and not any(headings[1:]) else ""
        sign = delimiter_of(first)
        # A class list may be headed “Name, first name”.
        return cls(sign if first.count(sign) > (sign == ",") else "")

    def cells(self, row: list[str]) -> list[str]:
        """A row's cells as they were meant."""
        if self.sign:
            row = next(csv.reader([",".join(row).rstrip(",")], delimiter=self.sign), [])
        return list(map(letters.put_right, row))


@dataclass(frozen=True)
class Table:
    """A CSV file: how it is written, and its headings."""

    path: Path | Source
    encoding: str
    delimiter: str
    decimal: str
    headings: list[str]
    cut: Cut = Cut()

    @property
    def says(self) -> str:
        """How it was read."""
        commas = ", decimal commas" if self.decimal == "," else ""
        return f"Read as {letters.NAMES[self.encoding]}, with {_SIGNS[self.delimiter]} between the cells{commas}."

    def rows(self, tell: Callable[[int], None] = lambda read: None) -> Iterator[Row]:
        """The rows below the headings. `tell` is told how many bytes are read so far."""
        with self.path.open("rb") as raw:
            file = io.TextIOWrapper(raw, self.encoding, "surrogateescape", newline="")
            lines = _Lines(file)
            reader = csv.reader(lines, delimiter=self.delimiter)
            number = 0
            while True:
                number += 1
                lines.taken = 0
                try:
                    cells = next(reader)
                    if number == 1:
                        continue
                except StopIteration:
                    return
                except csv.Error:
                    yield Row(
                        number,
                        [],
                        "a cell or the row is far too long; a closing quote may be missing",
                    )
                    continue
                if number % 200 == 0:
                    tell(raw.tell())
                if any(cells):
                    yield Row(number, self.cut.cells(cells), _not_text(cells))


class _Lines:
    """The lines of a file, so many letters at most for one row."""

    def __init__(self, file: io.TextIOBase) -> None:
        self.file = file
        self.taken = 0

    def __iter__(self) -> Iterator[str]:
        return self

    def __next__(self) -> str:
        line = self.file.readline(LONGEST_LINE)
        self.taken += len(line)
        if self.taken > LONGEST_LINE:
            raise csv.Error("the row is too long")
        if not line:
            raise StopIteration
        return line


def _not_text(cells: list[str]) -> str:
    if any(map(_NO_LETTER.search, cells)):
        return "it holds letters that are not UTF-8; save the table again as “CSV UTF-8”"
    return ""


@dataclass(frozen=True)
class SheetTable:
    """The first sheet of a workbook as a table. Its numbers are written with a point."""

    sheet: Sheet
    headings: list[str]
    cut: Cut = Cut()
    delimiter: str = ","
    decimal: str = "."

    @property
    def says(self) -> str:
        others = ", ".join(f"“{name[:40]}”" for name in self.sheet.others[:5])
        more = f" The other sheets are not read: {others}." if others else ""
        return f"Read from the sheet “{self.sheet.name[:40]}”.{more}"

    def rows(self, tell: Callable[[int], None] = lambda read: None) -> Iterator[Row]:
        """The rows below the headings. Raises WorkbookError."""
        for number, cells in enumerate(self.sheet.rows(), 1):
            if number > 1 and any(cells):
                yield Row(number, self.cut.cells(cells))


def open_workbook(file: Path | Source) -> SheetTable:
    """The first sheet of an .xlsx or .ods. Raises WorkbookError, TableError where it is empty, OSError."""
    with file.open("rb") as opened:
        sheet = first_sheet(opened)
    headings = next(sheet.rows(), [])
    if not any(headings):
        raise TableError("The first row of the first sheet must hold the headings.")
    cut = Cut.of(headings)
    return SheetTable(sheet, cut.cells(headings), cut)


def open_table(path: Path | Source) -> Table:
    """Find out how a CSV is written. Raises TableError where it is none, OSError as `open` does."""
    with path.open("rb") as file:
        encoding = letters.encoding_of(file)
    with path.open("rb") as file:
        sample = file.read(SAMPLE)
    text = sample.decode(encoding, "replace")
    if not text.strip():
        raise TableError("The table is empty. Its first line must hold the headings.")
    if "\0" in text:
        raise TableError("This is not a CSV. Save the table again as “CSV UTF-8”.")
    try:
        delimiter = delimiter_of(text)
        headings = next(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error:
        raise TableError("A heading is far too long. A closing quote may be missing.") from None
    cut = Cut.of(headings)
    return Table(path, encoding, delimiter, _decimal(text, delimiter), cut.cells(headings), cut)


def delimiter_of(text: str) -> str:
    """What parts the cells of a table: the sign that parts its first line most often."""
    first = (text[:SAMPLE].splitlines() or [""])[0]
    return max(DELIMITERS, key=lambda mark: len(next(csv.reader([first], delimiter=mark), [])))


def _decimal(text: str, delimiter: str) -> str:
    """The decimal mark that most numbers of the sample use."""
    if delimiter == ",":
        text = " ".join(re.findall(r'"([^"\n]*)"', text)) or text.replace(",", " ")
    found = Counter(match[1] for match in _DECIMAL.finditer(text))
    if found[","] == found["."]:
        # Semicolons part the cells where commas are in numbers.
        return "," if delimiter == ";" else "."
    return "," if found[","] > found["."] else "."


class TableWriter:
    """Writes RFC 4180, with a byte-order mark so that spreadsheets read names rightly.

    A spreadsheet set to decimal commas parts cells at semicolons: both can be asked for.
    """

    def __init__(self, file: io.TextIOBase, delimiter: str = ",", decimal: str = ".") -> None:
        self._writer = csv.writer(file, delimiter=delimiter)
        self._decimal = decimal

    @staticmethod
    def open(path: Path) -> io.TextIOWrapper:
        return path.open("w", encoding="utf-8-sig", errors="replace", newline="")

    def write(self, *cells: str | float) -> None:
        """A row; numbers stay numbers, text is made harmless."""
        self._writer.writerow(
            harmless(c) if isinstance(c, str) else str(c).replace(".", self._decimal) for c in cells
        )
