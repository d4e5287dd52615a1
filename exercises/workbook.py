"""The cells of a workbook, .xlsx (ECMA-376) or .ods (ISO/IEC 26300), a row at a time, in bounded memory.

Both are zips of XML. A library for them builds whole documents, styles and formulas, weighs more than all of this
project and reads what a stranger sent; all that marking wants is the text and the numbers of the first sheet. So they
are read with expat: a document type, and with it every entity, is refused, and each part is read only so far.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import BinaryIO
from xml.parsers import expat

from calc.units import read_whole
from exercises.sources import UNREADABLE, in_zip

LARGEST = 64_000_000
# Unpacked, of one part of the zip.
LARGEST_PART = 200_000_000
MOST_COLUMNS = 1_000
MOST_ROWS = 200_000
MOST_TEXTS = 500_000
MOST_LETTERS = 20_000_000
LONGEST_CELL = 40_000
_CHUNK = 65_536
_PERCENT_FORMATS = ("9", "10")

NOT_READ = "This workbook cannot be read: it is damaged, locked or of another kind. Save it again as .xlsx, .ods or CSV."
TOO_LARGE = "This workbook is far too large. Save the sheet with the answers as CSV."


class WorkbookError(ValueError):
    """A workbook that cannot be read; the message says what to do."""


@dataclass(frozen=True)
class Sheet:
    """The first sheet of a workbook: its name, the names of the others, and its rows, from the first."""

    name: str
    others: tuple[str, ...]
    rows: Callable[[], Iterator[list[str]]]


def first_sheet(file: BinaryIO) -> Sheet:
    """The first sheet of a workbook. Raises WorkbookError."""
    book = opened(file)
    names = set(book.namelist())
    if "content.xml" in names:
        return _of_ods(book)
    if "xl/workbook.xml" in names:
        return _of_xlsx(book)
    raise WorkbookError(NOT_READ)


def opened(file: BinaryIO) -> zipfile.ZipFile:
    """A zip of XML. Raises WorkbookError."""
    raw = file.read(LARGEST + 1)
    if len(raw) > LARGEST:
        raise WorkbookError(TOO_LARGE)
    try:
        return zipfile.ZipFile(io.BytesIO(raw))
    except (*UNREADABLE, ValueError, OSError):
        raise WorkbookError(NOT_READ) from None


# Reading XML.

Start = Callable[[str, dict[str, str]], None]
End = Callable[[str], None]


def parse(book: zipfile.ZipFile, part: str, start: Start, end: End, text: Callable[[str], None]) -> Iterator[None]:  # fmt: skip
    """Read a part of the zip, calling on each element without its namespace; yields after each chunk.

    Raises WorkbookError.
    """
    parser = expat.ParserCreate(namespace_separator="}")
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = _refuse
    parser.EntityDeclHandler = _refuse
    parser.StartElementHandler = lambda tag, attributes: start(
        _local(tag), {_local(name): value for name, value in attributes.items()}
    )
    parser.EndElementHandler = lambda tag: end(_local(tag))
    parser.CharacterDataHandler = text
    try:
        with in_zip(book, part) as file:
            left = LARGEST_PART
            while chunk := file.read(_CHUNK):
                left -= len(chunk)
                if left < 0:
                    raise WorkbookError(TOO_LARGE)
                _feed(parser, chunk)
                yield
            _feed(parser, b"")
            yield
    except (expat.ExpatError, KeyError, OSError, *UNREADABLE):
        raise WorkbookError(NOT_READ) from None


def _feed(parser: expat.XMLParserType, chunk: bytes) -> None:
    """Give the parser some bytes; none at the end. Raises WorkbookError for an encoding that it does not know."""
    try:
        parser.Parse(chunk, not chunk)
    except WorkbookError:
        raise
    except (LookupError, ValueError):
        raise WorkbookError(NOT_READ) from None


def _local(name: str) -> str:
    return name.rpartition("}")[2]


def _refuse(*declared: object) -> None:
    raise WorkbookError("This workbook declares what no workbook needs. Save it again as CSV.")


def _elements(book: zipfile.ZipFile, part: str) -> list[tuple[str, dict[str, str]]]:
    """Each element of a small part, in order."""
    found: list[tuple[str, dict[str, str]]] = []

    def start(tag: str, attributes: dict[str, str]) -> None:
        if len(found) > MOST_TEXTS:
            raise WorkbookError(TOO_LARGE)
        found.append((tag, attributes))

    for _ in parse(book, part, start, lambda tag: None, lambda text: None):
        pass
    return found


# .xlsx


def _of_xlsx(book: zipfile.ZipFile) -> Sheet:
    sheets = [a for tag, a in _elements(book, "xl/workbook.xml") if tag == "sheet"]
    targets = {
        a.get("Id", ""): a.get("Target", "")
        for tag, a in _elements(book, "xl/_rels/workbook.xml.rels")
        if tag == "Relationship"
    }
    if not sheets:
        raise WorkbookError(NOT_READ)
    target = targets.get(sheets[0].get("id", ""), "")
    part = target[1:] if target.startswith("/") else f"xl/{target}"
    names = [sheet.get("name", "") for sheet in sheets]
    return Sheet(names[0], tuple(names[1:]), lambda: _Xlsx(book, part).rows())


class _Xlsx:
    """Reads the rows of one sheet."""

    def __init__(self, book: zipfile.ZipFile, part: str) -> None:
        self._book, self._part = book, part
        self._texts = _shared_texts(book)
        self._percents = _percent_styles(book)
        self._done: list[list[str]] = []
        self._row: list[str] = []
        self._cell: dict[str, str] = {}
        self._column = self._number = 0
        self._text: list[str] = []
        self._takes = self._silent = False

    def rows(self) -> Iterator[list[str]]:
        for _ in parse(self._book, self._part, self._start, self._end, self._take):
            yield from self._done
            self._done.clear()

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        if tag == "row":
            self._skip_to(attributes.get("r", ""))
            self._row, self._column = [], 0
        elif tag == "c":
            self._cell, self._text = attributes, []
            self._column = _column_of(attributes.get("r", "")) or self._column + 1
        elif tag == "rPh":
            # How a word is spoken is no part of it.
            self._silent = True
        self._takes = tag in ("v", "t") and not self._silent

    def _skip_to(self, row: str) -> None:
        """Rows left out are empty: what is told of a row has the number that a spreadsheet shows."""
        number = read_whole(row) or self._number + 1
        if number > MOST_ROWS:
            raise WorkbookError(TOO_LARGE)
        while self._number + 1 < number:
            self._number += 1
            self._done.append([])
        self._number += 1

    def _take(self, text: str) -> None:
        if self._takes and len(self._text) < LONGEST_CELL:
            self._text.append(text)

    def _end(self, tag: str) -> None:
        self._takes = False
        if tag == "rPh":
            self._silent = False
        elif tag == "c" and self._text and self._column <= MOST_COLUMNS:
            self._row += [""] * (self._column - 1 - len(self._row))
            self._row.append(self._value("".join(self._text)))
        elif tag == "row":
            self._done.append(self._row)

    def _value(self, text: str) -> str:
        kind = self._cell.get("t", "n")
        if kind == "s":
            number = read_whole(text)
            is_there = number is not None and number < len(self._texts)
            return self._texts[number] if is_there else ""
        if kind == "b":
            return "yes" if text == "1" else "no"
        if kind != "n":
            return text[:LONGEST_CELL]
        return as_written(text, self._cell.get("s", "0") in self._percents)


_COLUMN = re.compile(r"[A-Z]{1,3}(?=\d)")


def _column_of(reference: str) -> int:
    """The number of a cell's column, from 1; 0 where it names none. “AB7” is in column 28."""
    letters, number = _COLUMN.match(reference), 0
    for letter in letters[0] if letters else "":
        number = 26 * number + ord(letter) - 64
    return number


def as_written(number: str, is_percent: bool) -> str:
    """A number as a person would type it: 15 figures, which is what a spreadsheet keeps."""
    try:
        value = float(number[:40])
    except ValueError:
        return number[:LONGEST_CELL]
    if value != value or abs(value) == float("inf"):
        return number[:LONGEST_CELL]
    plain = f"{value * 100 if is_percent else value:.15g}"
    # 0.070000000000000007 is what a sum leaves of 0.07.
    short = f"{float(plain):.12g}"
    shown = short if abs(float(short) - float(plain)) <= 1e-11 * abs(float(plain)) else plain
    return f"{shown} %" if is_percent else shown


def _shared_texts(book: zipfile.ZipFile) -> list[str]:
    """The texts that cells name by number."""
    part = "xl/sharedStrings.xml"
    if part not in book.namelist():
        return []
    texts: list[str] = []
    now: list[str] = []
    state = {"takes": False, "silent": False, "letters": 0}

    def start(tag: str, attributes: dict[str, str]) -> None:
        if tag == "si":
            now.clear()
        state["silent"] = state["silent"] or tag == "rPh"
        state["takes"] = tag == "t" and not state["silent"]

    def take(text: str) -> None:
        if state["takes"]:
            state["letters"] += len(text)
            if state["letters"] > MOST_LETTERS:
                raise WorkbookError(TOO_LARGE)
            now.append(text)

    def end(tag: str) -> None:
        state["takes"] = False
        if tag == "rPh":
            state["silent"] = False
        elif tag == "si":
            if len(texts) > MOST_TEXTS:
                raise WorkbookError(TOO_LARGE)
            texts.append("".join(now)[:LONGEST_CELL])

    for _ in parse(book, part, start, end, take):
        pass
    return texts


# In quotes or after a backslash, a sign of a number's format is only shown.
_QUOTED = re.compile(r'"[^"]*"|\\.')


def _percent_styles(book: zipfile.ZipFile) -> frozenset[str]:
    """The numbers of the styles that show 0.68 as 68 %: a student typed 68 %."""
    part = "xl/styles.xml"
    if part not in book.namelist():
        return frozenset()
    percents, found, inside, number = set(_PERCENT_FORMATS), set(), False, 0
    for tag, a in _elements(book, part):
        if tag == "numFmt" and "%" in _QUOTED.sub("", a.get("formatCode", "")):
            percents.add(a.get("numFmtId", ""))
        elif tag in ("cellStyleXfs", "cellXfs"):
            inside = tag == "cellXfs"
        elif tag == "xf" and inside:
            found |= {str(number)} if a.get("numFmtId", "") in percents else set()
            number += 1
    return frozenset(found)


# .ods


def _of_ods(book: zipfile.ZipFile) -> Sheet:
    names = [a.get("name", "") for tag, a in _elements_of_tables(book) if tag == "table"]
    if not names:
        raise WorkbookError(NOT_READ)
    return Sheet(names[0], tuple(names[1:]), lambda: _Ods(book).rows())


def _elements_of_tables(book: zipfile.ZipFile) -> list[tuple[str, dict[str, str]]]:
    found: list[tuple[str, dict[str, str]]] = []

    def start(tag: str, attributes: dict[str, str]) -> None:
        if tag == "table" and len(found) < MOST_COLUMNS:
            found.append((tag, attributes))

    for _ in parse(book, "content.xml", start, lambda tag: None, lambda text: None):
        pass
    return found


class _Ods:
    """Reads the rows of the first table. Cells and rows that repeat are written once with a number."""

    def __init__(self, book: zipfile.ZipFile) -> None:
        self._book = book
        self._done: list[list[str]] = []
        self._row: list[str] = []
        self._cell: dict[str, str] = {}
        self._text: list[str] = []
        self._rows = self._empty = self._again = self._tables = self._notes = self._paragraphs = 0
        self._inside = False

    def rows(self) -> Iterator[list[str]]:
        for _ in parse(self._book, "content.xml", self._start, self._end, self._take):
            yield from self._done
            self._done.clear()

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        if tag == "table":
            self._tables += 1
        if self._tables != 1:
            return
        if tag == "table-row":
            self._row, self._again = [], _times(attributes.get("number-rows-repeated"))
        elif tag in ("table-cell", "covered-table-cell"):
            self._cell, self._text, self._inside, self._paragraphs = attributes, [], True, 0
        elif tag == "annotation":
            self._notes += 1
        elif tag == "p" and self._inside and not self._notes:
            self._paragraphs += 1
            self._text += ["\n"] if self._paragraphs > 1 else []
        elif tag == "s":
            self._take(" " * min(100, _times(attributes.get("c"))))

    def _take(self, text: str) -> None:
        if self._inside and self._paragraphs and not self._notes and len(self._text) < LONGEST_CELL:
            self._text.append(text)

    def _end(self, tag: str) -> None:
        if self._tables != 1:
            return
        if tag == "annotation":
            self._notes -= 1
        elif tag in ("table-cell", "covered-table-cell"):
            self._inside = False
            again = min(_times(self._cell.get("number-columns-repeated")), MOST_COLUMNS - len(self._row))  # fmt: skip
            self._row += [self._value()] * again
        elif tag == "table-row":
            self._add_row()

    def _add_row(self) -> None:
        row = self._row
        while row and not row[-1]:
            row.pop()
        if not row:
            # A sheet ends in a million empty rows; they are there only where something follows.
            self._empty += self._again
            return
        self._rows += self._empty + self._again
        if self._rows > MOST_ROWS:
            raise WorkbookError(TOO_LARGE)
        self._done += [[] for _ in range(self._empty)] + [row] * self._again
        self._empty = 0

    def _value(self) -> str:
        kind = self._cell.get("value-type", "")
        value = self._cell.get("value")
        if kind in ("float", "percentage", "currency") and value is not None:
            return as_written(value, kind == "percentage")
        return "".join(self._text)[:LONGEST_CELL]


def _times(number: str | None) -> int:
    times = read_whole(number or "")
    return 1 if times is None else times


# Text documents, for a pasted hand-in in them.

_DOCUMENTS = {"word/document.xml": ("t", "p"), "content.xml": ("", "p")}


def text_of_document(file: BinaryIO) -> str:
    """The text of a .docx or .odt, a line a paragraph; so much as a hand-in may have. Raises WorkbookError."""
    book = opened(file)
    part = next((part for part in _DOCUMENTS if part in book.namelist()), None)
    if part is None:
        raise WorkbookError(NOT_READ)
    holds, ends = _DOCUMENTS[part]
    taken: list[str] = []
    state = {"takes": not holds, "letters": 0}

    def start(tag: str, attributes: dict[str, str]) -> None:
        state["takes"] = not holds or tag == holds

    def take(text: str) -> None:
        state["letters"] += len(text)
        if state["takes"] and state["letters"] < LARGEST_PART // 100:
            taken.append(text)

    def end(tag: str) -> None:
        state["takes"] = not holds
        taken.extend(["\n"] if tag == ends else [])

    for _ in parse(book, part, start, end, take):
        pass
    return "".join(taken)
