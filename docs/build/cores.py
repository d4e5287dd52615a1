"""The same work on many things, on all cores of the processor."""

from __future__ import annotations

import gc
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from itertools import starmap
from typing import TypeVar

from exercises.cores import all_cores

# Below so many a process takes longer to start than to do its share.
MANY = 6
# A page is a tree of thousands of tags that know each other: Python would look through all of them again and again.
TAGS = 200_000

Made = TypeVar("Made")


@contextmanager
def on_cores(make: Callable[..., Made], asked: Sequence[tuple]) -> Iterator[Iterator[Made]]:
    """What `make` gives for each of `asked`, in their order. Raises what it raises."""
    # On Windows a process that is ended (docs/writing) would leave its own behind.
    number = 1 if os.name == "nt" or len(asked) < MANY else all_cores()
    if number == 1:
        with _seldom_looked_through():
            yield starmap(make, asked)
        return
    pool = ProcessPoolExecutor(number, initializer=_begin)
    try:
        yield pool.map(make, *zip(*asked, strict=True))
    finally:
        # Where something went wrong, nobody waits for what is not begun.
        pool.shutdown(cancel_futures=True)


def _begin() -> None:
    # What the process that asks does when it is ended is not this one's to do.
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    _look_through_seldom()


def _look_through_seldom() -> None:
    gc.freeze()
    gc.set_threshold(TAGS, 50, 50)


@contextmanager
def _seldom_looked_through() -> Iterator[None]:
    before = gc.get_threshold()
    _look_through_seldom()
    try:
        yield
    finally:
        gc.unfreeze()
        gc.set_threshold(*before)
