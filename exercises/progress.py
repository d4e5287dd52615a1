"""A progress bar for long work: on a terminal only, and never more often than the eye follows."""

from __future__ import annotations

import sys
import time
from typing import TextIO

WIDTH = 30
SECONDS_BETWEEN = 0.1


class Progress:
    """How much of a known whole is done. Use as a context manager; it wipes its line at the end."""

    def __init__(self, label: str, stream: TextIO | None = None) -> None:
        self._label = label
        self._stream = sys.stderr if stream is None else stream
        self._shows = self._stream.isatty()
        self._next = 0.0

    def __enter__(self) -> Progress:
        return self

    def __exit__(self, *trouble: object) -> None:
        if self._shows:
            self._stream.write("\r\x1b[K")
            self._stream.flush()

    def to(self, done: int, whole: int, words: str = "") -> None:
        """Show that `done` of the whole is done, and what is being done."""
        if not self._shows or time.monotonic() < self._next:
            return
        self._next = time.monotonic() + SECONDS_BETWEEN
        share = min(1.0, done / max(1, whole))
        full = round(share * WIDTH)
        self._stream.write(
            f"\r{words or self._label} [{'#' * full}{'.' * (WIDTH - full)}] {share:4.0%}"
        )
        self._stream.flush()
