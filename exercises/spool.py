"""Pieces of text on disk, given back in any order: a class's rows in the order of its list, in little memory."""

from __future__ import annotations

import tempfile
from array import array
from collections.abc import Iterable
from typing import TextIO


class Spool:
    """Use as a context manager; nothing is left behind."""

    def __enter__(self) -> Spool:
        self._file = tempfile.TemporaryFile("w+b")
        # Where each piece ends.
        self._ends = array("Q", [0])
        return self

    def __exit__(self, *trouble: object) -> None:
        self._file.close()

    def __len__(self) -> int:
        return len(self._ends) - 1

    def add(self, text: str) -> int:
        """Keep a piece; its number is given back."""
        self._ends.append(self._ends[-1] + self._file.write(text.encode("utf-8", "replace")))
        return len(self) - 1

    def copy(self, to: TextIO, numbers: Iterable[int] | None = None) -> None:
        """Write some pieces in the order named; without numbers, all of them as they came."""
        for number in range(len(self)) if numbers is None else numbers:
            begin, end = self._ends[number], self._ends[number + 1]
            self._file.seek(begin)
            to.write(self._file.read(end - begin).decode("utf-8"))
        self._file.seek(0, 2)
