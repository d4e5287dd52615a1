"""Cells of a table that a spreadsheet shows and never runs."""

from __future__ import annotations

import re

# A spreadsheet takes a cell that starts so for a formula (CWE-1236). One that parts cells at another
# mark than we do takes what follows that mark for a cell of its own.
_STARTS = r"(?:^|(?<=[,;\t\r\n|]))"
_FORMULA = re.compile(_STARTS + r"(?='*[=+\-@\t\r\n＝＋－＠])")
_SPARED = re.compile(_STARTS + r"'(?='*[=+\-@\t\r\n＝＋－＠])")


def harmless(text: str) -> str:
    """A cell that no spreadsheet runs: what looks like a formula gets an apostrophe before it."""
    return _FORMULA.sub("'", text)


def unharmed(text: str) -> str:
    """The text that `harmless` was given."""
    return _SPARED.sub("", text)
