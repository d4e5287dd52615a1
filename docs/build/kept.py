"""What a build made is kept in ``.cache``, under the hash of all that it was made of, and not made again."""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TypeVar

from docs.build.cores import on_cores
from docs.build.stamp import AT_START, ROOT, stamp

CACHE = ROOT / ".cache" / "made"
MOST_KEPT = 600

Made = TypeVar("Made")


class Kept:
    """What earlier builds made, and what this one adds."""

    def __init__(self, anew: bool = False) -> None:
        """With `anew` nothing earlier is taken."""
        self._anew = anew
        self._added: list[tuple[Path, str]] = []

    def get(self, made_of: Iterable[str], make: Callable[[], Made]) -> Made:
        """What `make` gives (plain data): now, or when the code and all of `made_of` were the same."""
        (made,) = self.all([made_of], make, [()])
        return made

    def all(
        self,
        made_of: Iterable[Iterable[str]],
        make: Callable[..., Made],
        asked: Iterable[tuple],
        ready: Callable[[], object] | None = None,
    ) -> Iterator[Made]:
        """As `get` for several, in order: what `make` gives for each of `asked`, on all cores where it is much.

        `ready` prepares another process for that.
        """
        files = [_place(each) for each in made_of]
        found = [None if self._anew else _read(file) for file in files]
        missing = [one for one, made in zip(asked, found, strict=True) if made is None]
        with on_cores(make, missing, *filter(None, [ready])) as making:
            for file, made in zip(files, found, strict=True):
                if made is None:
                    made = next(making)
                    self._added.append((file, json.dumps(made)))
                yield made

    def has(self, made_of: Iterable[str]) -> bool:
        """Whether an earlier build made this of the same, so that it need not be made."""
        return not self._anew and _place(made_of).is_file()

    def keep(self) -> None:
        """Write what was made, unless somebody edited what it was made of meanwhile; the oldest goes."""
        if not self._added or stamp() != AT_START:
            return
        CACHE.mkdir(parents=True, exist_ok=True)
        for file, text in self._added:
            _write(file, text)
        files = sorted(CACHE.glob("*"), key=_taken_at)
        for file in files[:-MOST_KEPT]:
            file.unlink(missing_ok=True)


def _place(made_of: Iterable[str]) -> Path:
    return CACHE / hashlib.sha256(_line(made_of)).hexdigest()


def _line(made_of: Iterable[str]) -> bytes:
    return json.dumps([AT_START, *made_of]).encode()


def _read(file: Path) -> object:
    try:
        # Taken again, it is not among the oldest.
        os.utime(file)
        return json.loads(file.read_text("utf-8"))
    except (OSError, ValueError):
        return None


def _taken_at(file: Path) -> float:
    """When it was last taken or written; another build may have removed it meanwhile."""
    try:
        return file.stat().st_mtime
    except OSError:
        return 0.0


def _write(file: Path, text: str) -> None:
    """Whole or not at all: another build may read it at the same time."""
    with tempfile.NamedTemporaryFile("w", encoding="utf-8", dir=CACHE, delete=False) as making:
        making.write(text)
    Path(making.name).replace(file)
