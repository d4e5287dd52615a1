"""The CSV files in ``calc/data``, which anybody may edit: read, and checked before anything runs.

A slip is told with file, line, column and what to write. A spreadsheet's own ways are met: the mark
it puts before the text, semicolons for commas, a decimal comma, lines of empty cells.
"""

from __future__ import annotations

import csv
import difflib
import io
import re
from collections.abc import Callable, Collection, Iterator, Mapping
from importlib.resources import files
from math import inf

from calc.allergens import ALLERGENS
from calc.names import plain

INGREDIENTS, SOURCES, ACIDS = "ingredients.csv", "sources.csv", "acids.csv"
PACK_KINDS = "pack_kinds.csv"

# The columns of the parts that make up 100 g. Sugars, lactose and fibre count in the carbohydrate.
WHOLE = ("water", "protein", "fat", "carbohydrate", "ash", "alcohol")
ABOUT_100 = (99.5, 100.5)
# USDA's own yeast rows do not add up (18374: 99.2, 18375: 95.7); in acids the rest is acetic acid.
NOT_WHOLE = {"yeast": (90.0, 100.5), "acid": (90.0, 100.5)}

# Columns of numbers, and the most that each can be.
_MOST = {
    **dict.fromkeys((*WHOLE, "sugars", "lactose", "fibre", "water_low", "water_high"), 100.0),
    "sodium_mg": 100_000.0,
    "density": 3.0,
    "bulk_low": 3.0,
    "bulk_high": 3.0,
    "ph_low": 14.0,
    "ph_high": 14.0,
}
# Left of each pair is a part of what is right, or at most as large.
_NO_MORE_THAN = (
    ("water_low", "water"),
    ("water", "water_high"),
    ("ph_low", "ph_high"),
    ("bulk_low", "bulk_high"),
    ("sugars", "carbohydrate"),
    ("lactose", "sugars"),
    ("fibre", "carbohydrate"),
)
# A figure, and what must be filled in with it.
_WITH = (
    ("sugars", "sugars_source"),
    ("density", "density_source"),
    ("ph_low", "ph_source"),
    ("ph_low", "ph_high"),
    ("ph_high", "ph_low"),
    ("bulk_low", "bulk_high"),
    ("bulk_high", "bulk_low"),
    ("bulk_low", "bulk_source"),
)
_SOURCE_COLUMNS = (
    "source", "water_range_source", "sugars_source", "density_source", "bulk_source", "ph_source",
)  # fmt: skip
_NEVER_EMPTY = (
    "key", "name", "group", "water", "water_low", "water_high", "protein", "fat", "carbohydrate",
    "fibre", "ash", "sodium_mg", "perishable", "source", "water_range_source",
)  # fmt: skip
_HEADINGS = {
    INGREDIENTS: (
        *_NEVER_EMPTY, "sugars", "lactose", "alcohol", "density", "bulk_low", "bulk_high", "ph_low",
        "ph_high", "allergens", "sugars_source", "density_source", "bulk_source", "ph_source", "note",
        "also",
    ),
    PACK_KINDS: (
        "key", "name", "rows", "least", "most", "per_protein", "minerals_low", "minerals",
        "minerals_high", "fibre", "fibre_high", "most_salt", "acid", "acid_high", "acid_laws", "pours",
    ),
    ACIDS: ("key", "mmol", "mmol_low", "mmol_high", "source", "note"),
    SOURCES: ("key", "short", "title", "publisher", "year", "licence_or_status", "note"),
}  # fmt: skip
_DELIMITERS = {";": "semicolons", "\t": "tabs", "|": "bars"}
_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_COMMA = re.compile(r"\d+,\d+")

Row = Mapping[str, str]
Slip = tuple[str, str]


class DataFileError(Exception):
    """A data file that must be mended first; a line for each slip.

    It is no ValueError: a set, or a page, that names an ingredient is not to blame.
    """


def read_rows(name: str) -> dict[int, dict[str, str]]:
    """The rows of a file in ``calc/data``, by line. Raises DataFileError."""
    return rows_of((files("calc") / "data" / name).read_bytes(), name)


def rows_of(content: bytes, name: str) -> dict[int, dict[str, str]]:
    """The rows of a file's bytes, by line, cells without spaces around. Raises DataFileError."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise _error(name, 1, "this is not UTF-8 text. Save it again as CSV UTF-8.") from None
    reader = csv.reader(io.StringIO(text, newline=""))
    try:
        headings = [cell.strip() for cell in next(reader, [])]
        _check_headings(headings, name)
        found = {}
        for cells in reader:
            if not any(cell.strip() for cell in cells):
                continue
            if len(cells) != len(headings):
                raise _error(
                    name,
                    reader.line_num,
                    f"this line has {len(cells)} cells, and the headings are {len(headings)}. "
                    "Write a decimal point, not a comma; put a text with a comma in quotes.",
                )
            found[reader.line_num] = {
                heading: cell.strip() for heading, cell in zip(headings, cells, strict=True)
            }
    except csv.Error:
        raise _error(
            name, reader.line_num, "this line cannot be read. A closing quote may be missing."
        ) from None
    return found


def _error(name: str, line: int, says: str) -> DataFileError:
    return DataFileError(f"calc/data/{name}, line {line}: {says}")


def _check_headings(headings: list[str], name: str) -> None:
    missing = [each for each in _HEADINGS[name] if each not in headings]
    for mark, called in _DELIMITERS.items():
        if missing and mark in "".join(headings):
            raise _error(name, 1, f"{called} part the cells. Save it as CSV UTF-8, with commas.")
    if missing:
        raise _error(
            name,
            1,
            f"there is no column “{missing[0]}”. The first line must hold the headings, as they were.",
        )


def check_sources(rows: Mapping[int, Row]) -> None:
    """Raises DataFileError for a source without a key of its own, or without a short name."""

    def slips(row: Row) -> Iterator[Slip]:
        for column in ("key", "short"):
            if not row[column]:
                yield column, "this is empty. Fill it in."

    _check(SOURCES, rows, slips, unique=("key",))


def check_acids(rows: Mapping[int, Row], known: Collection[str], sources: Collection[str]) -> None:
    """Raises DataFileError, with every slip in the acids: a row for an ingredient, its source, its range."""

    def slips(row: Row) -> Iterator[Slip]:
        if row["key"] not in known:
            yield "key", f"“{row['key']}” is not a key in calc/data/{INGREDIENTS}."
        if row["source"] not in sources:
            yield "source", _unknown(row["source"], sources)
        low, usual, high = (_number(row[each]) for each in ("mmol_low", "mmol", "mmol_high"))
        if not 0 <= low <= usual <= high < 1000:
            yield (
                "mmol",
                "write three numbers in mmol: mmol_low, then mmol, then mmol_high at most.",
            )

    _check(ACIDS, rows, slips, unique=("key",))


def check_ingredients(
    rows: Mapping[int, Row], groups: Collection[str], sources: Collection[str]
) -> None:
    """Raises DataFileError, with every slip in the rows."""

    def slips(row: Row) -> Iterator[Slip]:
        yield from _empty_cells(row)
        yield from _words(row, groups, sources)
        wrong = list(_numbers(row))
        # Sums of what is no number would say nothing.
        yield from wrong or _sums(row)

    _check(INGREDIENTS, rows, slips, unique=("key", "name"))
    _check(INGREDIENTS, rows, _also_slips({plain(row["name"]) for row in rows.values()}), unique=())


def also_called(row: Row) -> list[str]:
    """The other names in a row's column ``also``."""
    return [name.strip() for name in row["also"].split(",") if name.strip()]


def _also_slips(named: Collection[str]) -> Callable[[Row], Iterator[Slip]]:
    """A name that is a row's own cannot be another's too; two rows may share one that is neither's."""

    def slips(row: Row) -> Iterator[Slip]:
        for other in also_called(row):
            if plain(other) in named:
                yield "also", f"“{other}” is the name of a row. Leave it out here."

    return slips


def _check(
    name: str,
    rows: Mapping[int, Row],
    slips: Callable[[Row], Iterator[Slip]],
    unique: tuple[str, ...],
) -> None:
    said = []
    lines: dict[Slip, int] = {}
    for line, row in rows.items():
        found = list(slips(row))
        for column in unique:
            first = lines.setdefault((column, row[column].lower()), line)
            if row[column] and first != line:
                found.append((column, f"line {first} has “{row[column]}” too. Choose another."))
        said += [f"calc/data/{name}, line {line}, column {c}: {says}" for c, says in found]
    if said:
        raise DataFileError("\n".join(said))


def _empty_cells(row: Row) -> Iterator[Slip]:
    for column in _NEVER_EMPTY:
        if not row[column]:
            yield column, "this is empty. Fill it in."
    for figure, needed in _WITH:
        if row[figure] and not row[needed]:
            yield needed, f"this is empty, and {figure} is not. Fill in both, or neither."


def _words(row: Row, groups: Collection[str], sources: Collection[str]) -> Iterator[Slip]:
    if row["key"] and not _KEY.fullmatch(row["key"]):
        yield (
            "key",
            f"“{row['key']}” is no key. Use small letters a to z, figures and hyphens: my-quark.",
        )
    if row["group"] and row["group"] not in groups:
        yield "group", _unknown(row["group"], groups)
    if row["perishable"] not in ("", "yes", "no"):
        yield "perishable", f"“{row['perishable']}” is not known. Write yes or no."
    for word in row["allergens"].split():
        if word not in ALLERGENS:
            yield "allergens", _unknown(word, ALLERGENS)
    for column in _SOURCE_COLUMNS:
        source = row[column].partition(":")[0]
        if source and source not in sources:
            yield (
                column,
                f"“{source}” is not a key in calc/data/{SOURCES}. Add a line there, or write "
                f"{_one_of(source, sources)}.",
            )


def _unknown(word: str, known: Collection[str]) -> str:
    return f"“{word}” is not known. Write {_one_of(word, known)}."


def _one_of(word: str, known: Collection[str]) -> str:
    near = difflib.get_close_matches(word.lower(), known, n=1)
    return f"“{near[0]}”, if you mean that" if near else f"one of: {', '.join(sorted(known))}"


def _numbers(row: Row) -> Iterator[Slip]:
    for column, most in _MOST.items():
        text = row[column]
        if _COMMA.fullmatch(text):
            yield column, f"write {text.replace(',', '.')} with a point, not “{text}”."
        elif text and not 0 <= _number(text) <= most:
            yield column, f"“{text}” must be a number from 0 to {most:g}, without a unit."


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return inf


def _sums(row: Row) -> Iterator[Slip]:
    for part, whole in _NO_MORE_THAN:
        if row[part] and row[whole] and float(row[part]) > float(row[whole]):
            yield part, f"{row[part]} is more than {row[whole]}, the {whole}. Look at both."
    total = sum(float(row[part] or 0) for part in WHOLE)
    low, high = NOT_WHOLE.get(row["group"], ABOUT_100)
    if not low <= round(total, 3) <= high:
        yield (
            "water",
            f"{', '.join(WHOLE[:-1])} and {WHOLE[-1]} add up to {total:.4g} g, and must come to "
            f"{low:g} to {high:g} g. One of them is wrong.",
        )
