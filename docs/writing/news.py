"""What changed in the site from build to build: told by the build, asked by the pages that are open."""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

# What no open page shows.
UNSEEN = ("search/", "offline/", "sw.js", "doughwater.zip", "demo/", "serve.py", "404.html")


@dataclass(frozen=True)
class Tidings:
    """For one page: the number of the news that it has now, whether it is to be read again, and what an author must mend."""

    number: int
    is_other: bool
    trouble: str


class News:
    """Any thread may tell, and any may ask."""

    def __init__(self) -> None:
        self._told = threading.Condition()
        self._changes: list[frozenset[str]] = []
        self._open: Counter[str] = Counter()
        self.trouble = ""
        self._at_work = False

    @property
    def number(self) -> int:
        return len(self._changes)

    def begin(self) -> None:
        """A build begins: what is not there yet may come, and what was wrong may be mended."""
        self._turn(at_work=True, trouble="")

    def tell(self, changed: Iterable[str]) -> None:
        """Files of the site that are others now."""
        with self._told:
            self._changes.append(frozenset(changed))
            self._told.notify_all()

    def end(self, trouble: str = "") -> None:
        """The build is over; `trouble` is what stopped it."""
        self._turn(at_work=False, trouble=trouble)

    def _turn(self, at_work: bool, trouble: str) -> None:
        with self._told:
            if trouble != self.trouble:
                self._changes.append(frozenset())
            self._at_work, self.trouble = at_work, trouble
            self._told.notify_all()

    def await_file(self, is_there: Callable[[], bool], seconds: float) -> None:
        """Wait until `is_there()`, or until no build can bring it, or for so long."""
        with self._told:
            self._told.wait_for(lambda: is_there() or not self._at_work, seconds)

    def wait(self, since: int, page: str, seconds: float) -> Tidings:
        """What there is for a page after the news of number `since`; waits for some, but not longer than told."""
        with self._told:
            self._told.wait_for(lambda: self.number > since, seconds)
            changed = frozenset().union(*self._changes[since:])
            return Tidings(self.number, is_other(page, changed), self.trouble)

    @contextmanager
    def opened(self, page: str) -> Iterator[None]:
        """While a page is looked at, builds make it before all others."""
        with self._told:
            self._open[page] += 1
        try:
            yield
        finally:
            with self._told:
                self._open[page] -= 1

    def open_pages(self) -> list[str]:
        with self._told:
            return [page for page, times in self._open.items() if times > 0]


def is_other(page: str, changed: Iterable[str]) -> bool:
    """Whether a page shows or runs one of the files that changed: its own HTML, or what pages share."""
    own = f"{page}index.html" if not page or page.endswith("/") else page
    return any(
        path == own or not (path.endswith(".html") or path.startswith(UNSEEN)) for path in changed
    )
