"""The short code on a paper sheet, from which its numbers are found again.

A code is the first six letters of SHA-256 (FIPS 180-4) of set, version and name, in base32
(RFC 4648). A slip of the pen or of the key gives a code that belongs to no one, so it is noticed.
"""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache

from exercises.draws import ProblemSet, plain_name

LENGTH = 6
# Sheets printed without names are numbered; their codes are looked up among so many.
MOST_SHEETS = 999
_MISREAD = str.maketrans("018", "OIB")


def code_of(problem_set: ProblemSet, student: str) -> str:
    """The code on this student's sheet."""
    return _code(problem_set.key, problem_set.version, plain_name(student))


def same_code(written: str) -> str:
    """A code as someone typed it, in the letters it was printed in."""
    return "".join(c for c in written.upper().translate(_MISREAD) if c.isalnum())


def sheet_name(number: int) -> str:
    """The name that draws the numbers of a sheet printed without one."""
    return f"Sheet {number}"


def sheet_of(problem_set: ProblemSet, code: str) -> str | None:
    """The sheet that carries a code, among those printed without a name."""
    return _sheets(problem_set.key, problem_set.version).get(code)


@lru_cache(maxsize=8)
def _sheets(key: str, version: int) -> dict[str, str]:
    names = [sheet_name(number) for number in range(1, MOST_SHEETS + 1)]
    return {_code(key, version, plain_name(name)): name for name in names}


def _code(key: str, version: int, name: str) -> str:
    digest = hashlib.sha256("\n".join(("sheet", key, str(version), name)).encode()).digest()
    return base64.b32encode(digest).decode()[:LENGTH]
