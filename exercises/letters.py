"""The letters of a text file, whatever program saved it.

A byte-order mark says it; else what is valid UTF-8 is UTF-8 (RFC 3629: other text hardly ever is by chance), and what is
not is Windows-1252, or Mac Roman where only that gives words. Both tables are Python's own.
"""

from __future__ import annotations

import codecs
import io
import unicodedata

# Imported here so that the page's trimmed library keeps them.
from encodings import cp1252, mac_roman, utf_8_sig, utf_16, utf_16_be, utf_16_le  # noqa: F401
from typing import BinaryIO

UTF8, WINDOWS, MAC = "utf-8", "cp1252", "mac-roman"
# How a teacher knows them.
NAMES = {
    UTF8: "UTF-8",
    "utf-8-sig": "UTF-8",
    "utf-16": "UTF-16",
    "utf-16-le": "UTF-16",
    "utf-16-be": "UTF-16",
    WINDOWS: "Windows-1252",
    MAC: "Mac Roman",
}
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_MARK = "\ufeff"
# Before a byte that has no letter, to keep it in Unicode's private area: seen in what an office program saved.
_PRIVATE = 0xF100
_LONGEST_LINE = 1_000_000
_SAMPLE = 4_096
_MOST_LINES = 500
# Signs that follow a letter in good text; other signs there mean that a letter was read wrongly.
_MAY_FOLLOW = "’‘“”'\"…–—™®©°ºª»«›‹€"


def encoding_of(file: BinaryIO) -> str:
    """The encoding of a file, for `open`; all of it is read, a line at a time."""
    head = file.read(_SAMPLE)
    for mark, name in _MARKS:
        if head.startswith(mark):
            return name
    if wide := without_mark(head):
        return wide
    file.seek(0)
    good = bad = 0
    odd: list[bytes] = []
    while line := file.readline(_LONGEST_LINE):
        if line.isascii():
            continue
        if _is_utf8(line):
            good += 1
        else:
            bad += 1
            odd += [line[:_SAMPLE]] if len(odd) < _MOST_LINES else []
    # Where most is UTF-8, a row that is not was put together wrongly, and is told.
    return UTF8 if good >= bad else _of_one_byte(b"".join(odd))


def without_mark(head: bytes) -> str:
    """UTF-16 that bears no mark, by its name: of plain letters every other byte is nought. Else empty."""
    half = len(head) // 2
    evens, odds = head[0 : 2 * half : 2].count(0), head[1 : 2 * half : 2].count(0)
    if odds > 0.4 * half and not evens:
        return "utf-16-le"
    return "utf-16-be" if evens > 0.4 * half and not odds else ""


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode(UTF8)
    except UnicodeDecodeError:
        return False
    return True


def _of_one_byte(raw: bytes) -> str:
    windows, mac = (_oddities(raw.decode(name, "replace")) for name in (WINDOWS, MAC))
    return MAC if windows and not mac else WINDOWS


def _oddities(text: str) -> int:
    """How many letters and signs are where no word has them."""
    around = zip(text, text[1:], text[2:] + " ", strict=False)
    return sum(_is_odd(before, sign, after) for before, sign, after in around if sign > "\x7f")


def _is_odd(before: str, sign: str, after: str) -> bool:
    if sign == "\ufffd":
        return True
    if not before.isalpha():
        return False
    if sign.isalpha():
        return sign.isupper() and (before.islower() or after.islower())
    return sign not in _MAY_FOLLOW and unicodedata.category(sign)[0] in "SPNC"


def put_right(text: str) -> str:
    """Text of UTF-8 that a program took for Windows-1252, as it was: "SofÃ\xada" is "Sofía". Other text as it is.

    A spreadsheet that opens a CSV so saves it so; hardly any other text is UTF-8 by chance.
    """
    if text.isascii():
        return text
    text = text.removeprefix(_MARK)
    try:
        return b"".join(map(_byte_of, text)).decode(UTF8).removeprefix(_MARK)
    except UnicodeError:
        return text


def _byte_of(letter: str) -> bytes:
    """The byte that a program read as this letter. Windows-1252 has no letter for five: they are Latin-1's, or private ones."""
    try:
        return letter.encode(WINDOWS)
    except UnicodeEncodeError:
        return (chr(ord(letter) - _PRIVATE) if ord(letter) > _PRIVATE else letter).encode("latin-1")


def decode(raw: bytes) -> str:
    """The text of a small file; what is no letter becomes U+FFFD."""
    return raw.decode(encoding_of(io.BytesIO(raw)), "replace")
