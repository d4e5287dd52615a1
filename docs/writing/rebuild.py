"""One build for the writers' server, in a process of its own: so it reads code and data as they are now.

    python -m docs.writing.rebuild MADE SITE

The libraries are read at once; our own code and data when a line comes on standard input: JSON, the
arguments of `docs.build.site.building`. So a process can wait for the next change. What it did is
printed, a JSON object a line: ``changed``, a list of the site's files, and at last ``trouble``.
"""

from __future__ import annotations

import filecmp
import json
import logging
import multiprocessing
import os
import shutil
import signal
import sys
import traceback
from collections.abc import Iterable, Iterator
from pathlib import Path

# The libraries take half of the time that a build takes to start, and nobody edits them.
import lxml.html  # noqa: F401
import material  # noqa: F401
import mkdocs.commands.build
import mkdocs.config  # noqa: F401

ROOT = Path(__file__).resolve().parents[2]


def rebuild(made: Path, site: Path, asked: dict[str, object]) -> Iterator[list[str]]:
    """Build into the folder `made`, and bring over what differs, so that no page is ever missing; yield what did.

    Pages come as they are done. Raises BuildError.
    """
    from docs.build.site import building

    is_first = True
    for page in building(made, quick=True, **asked):
        if is_first:
            yield bring((file for file in files_of(made) if file.suffix != ".html"), made, site)
            is_first = False
        yield bring([page], made, site)
    yield [*bring(files_of(made), made, site), *clear(made, site)]


def files_of(folder: Path) -> list[Path]:
    return sorted(file for file in folder.rglob("*") if file.is_file())


def bring(files: Iterable[Path], made: Path, site: Path) -> list[str]:
    """Copy those files that the site does not have like this; their paths."""
    changed = []
    for file in files:
        path = file.relative_to(made)
        target = site / path
        if target.is_file() and filecmp.cmp(file, target, shallow=False):
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        # In one step: a reader gets the old file or the new one.
        coming = target.with_name(f"{target.name}.new")
        shutil.copyfile(file, coming)
        coming.replace(target)
        changed.append(path.as_posix())
    return changed


def clear(made: Path, site: Path) -> list[str]:
    """Remove what is no longer made; the paths."""
    gone = [file for file in files_of(site) if not (made / file.relative_to(site)).is_file()]
    for file in gone:
        file.unlink()
    return [file.relative_to(site).as_posix() for file in gone]


class Warnings(logging.Handler):
    """Keeps what MkDocs warns of: it names the page to mend, and the build's own error does not."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


def trouble_of(error: Exception) -> str:
    """What an author must mend: the build's own words, or where in our code a slip is."""
    if isinstance(error, SyntaxError) and error.filename:
        return f"{_from_root(error.filename)}:{error.lineno}:{error.offset}: {error.msg}"
    ours = [frame for frame in traceback.extract_tb(error.__traceback__) if _is_ours(frame)]
    last = ours[-1]
    return f"{_from_root(last.filename)}:{last.lineno}: {type(error).__name__}: {error}"


def _is_ours(frame: traceback.FrameSummary) -> bool:
    path = Path(frame.filename)
    return path.is_relative_to(ROOT) and not any(part.startswith(".") for part in path.parts)


def _from_root(name: str) -> str:
    path = Path(name)
    return path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else name


def work(made: Path, site: Path, asked: dict[str, object]) -> str:
    """Build and tell what changed; the trouble that stopped it, or nothing."""
    warnings = Warnings()
    logging.getLogger().addHandler(warnings)
    # Our own, so not before somebody asks.
    from docs.build.error import BuildError

    try:
        for changed in rebuild(made, site, asked):
            if changed:
                tell(changed=changed)
    except BuildError as error:
        return "\n".join([*warnings.said, str(error)])
    except SyntaxError as error:
        return trouble_of(error)
    except Exception as error:
        # Somebody writes code: the way there is worth reading.
        traceback.print_exc()
        return trouble_of(error)
    return ""


def tell(**said: object) -> None:
    print(json.dumps(said), flush=True)


def end(*_: object) -> None:
    """A newer build waits: the processes that fill pages end at once, the engine's removes what is half made."""
    others = multiprocessing.active_children()
    for process in others:
        process.terminate()
    if others:
        os._exit(1)
    sys.exit(1)


def main() -> None:
    # Who stops the server with Ctrl-C stops it there.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, end)
    if asked := sys.stdin.readline():
        tell(trouble=work(Path(sys.argv[1]), Path(sys.argv[2]), json.loads(asked)))


if __name__ == "__main__":
    main()
