"""The same work on many things, on all cores of the processor."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager, suppress
from functools import partial
from itertools import starmap
from typing import TypeVar

from exercises.cores import all_cores

# Below so many a process takes longer to start than to do its share.
MANY = 6
# A page is a tree of thousands of tags that know each other: Python would look through all of them again and again.
TAGS = 200_000
# How nice a process is that others need not wait for (POSIX, nice).
GIVES_WAY = 5

Made = TypeVar("Made")


def _nothing() -> None:
    pass


@contextmanager
def on_cores(
    make: Callable[..., Made], asked: Sequence[tuple], ready: Callable[[], object] = _nothing
) -> Iterator[Iterator[Made]]:
    """What `make` gives for each of `asked`, in their order. Raises what it raises.

    Other processes call `ready` first: it may bring what is known here.
    """
    number = all_cores()
    if not _has_others() or len(asked) < MANY:
        with _seldom_looked_through():
            yield starmap(make, asked)
        return
    with _pool(number, ready) as pool:
        yield pool.map(make, *zip(*asked, strict=True))


@contextmanager
def aside() -> Iterator[Callable[..., Callable[[], object]]]:
    """Work that another process does meanwhile, in order: ``ask(make, …)`` begins it, and gives a call that waits for what `make` gives.

    Where there is no other process, the work is done when it is waited for.
    """
    if not _has_others():
        yield partial
        return
    with _pool(1) as pool:
        yield lambda make, *asked: pool.submit(make, *asked).result


def begun(make: Callable[[], object]) -> Callable[[], object]:
    """Begin what takes long and is kept, in a process that gives way to all others; gives a call that waits for its end.

    Where there is no other process, or something goes wrong there, whoever needs it does it and hears what is wrong.
    """
    if not _has_others():
        return _nothing
    process = multiprocessing.Process(target=_give_way, args=(make,), daemon=True)
    process.start()
    return process.join


def _give_way(make: Callable[[], object]) -> None:
    # Ended like this, it ends what it has begun, and removes what is half made.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    os.nice(GIVES_WAY)
    with suppress(Exception):
        make()


@contextmanager
def _pool(number: int, ready: Callable[[], object] = _nothing) -> Iterator[ProcessPoolExecutor]:
    pool = ProcessPoolExecutor(number, initializer=_begin, initargs=(ready,))
    try:
        yield pool
    finally:
        # Where something went wrong, nobody waits for what is not begun.
        pool.shutdown(cancel_futures=True)


def _has_others() -> bool:
    # On Windows a process that is ended (docs/writing) would leave its own behind.
    return os.name != "nt" and all_cores() > 1


def _begin(ready: Callable[[], object]) -> None:
    # What the process that asks does when it is ended is not this one's to do.
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    _look_through_seldom()
    ready()


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
