"""Files for the parts of the teacher's desk: what a reader chose, what is made of it, and how far it is.

The page's worker mounts the files that a reader chose, and takes what is written. Nothing leaves the
device.
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from exercises.publish.zipped import entry

# How far a long task is: so much done of the whole, and what is being done.
Tell = Callable[[int, int, str], None]

_heard: Tell | None = None


def hear(tell: Tell | None) -> None:
    """The worker says who hears of `tell` from now on."""
    global _heard
    _heard = tell


def tell(done: int, whole: int, words: str = "") -> None:
    """Say how far a task is; the page shows it, and waits on. It may be called as often as one likes."""
    if _heard:
        _heard(done, whole, words)


def given(fields: Mapping[str, str]) -> Path:
    """The folder of the files that came with a question, as the reader named them; to be read only."""
    return Path(fields["folder"], "in")


def made(fields: Mapping[str, str]) -> Path:
    """The folder, empty, for what the page may take: an answer names the files as ``made``."""
    return Path(fields["folder"], "out")


def pack(files: Iterable[Path], folder: Path, target: Path) -> None:
    """Write a zip of some files, each under its path from a folder."""
    with zipfile.ZipFile(target, "w") as packed:
        for path in files:
            name = path.relative_to(folder).as_posix()
            packed.writestr(entry(name), path.read_bytes(), zipfile.ZIP_DEFLATED)
