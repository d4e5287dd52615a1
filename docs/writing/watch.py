"""Watches what the site is made of and builds it again, so that what is saved is soon in the open page."""

from __future__ import annotations

import json
import queue
import subprocess
import sys
import tempfile
import threading
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from docs.writing.news import News

ROOT = Path(__file__).resolve().parents[2]
WATCHED = ("calc", "exercises", "docs")
CONFIG = "site_config.yml"
# What a build reads; what editors and Python leave beside it is not.
SUFFIXES = (
    ".md",
    ".py",
    ".yml",
    ".csv",
    ".js",
    ".mjs",
    ".css",
    ".svg",
    ".png",
    ".json",
    ".webmanifest",
)
CHANGES = ("created", "modified", "moved", "deleted")
# An editor may save in several steps, in seconds.
REST = 0.1
START = ""


class Saved(FileSystemEventHandler):
    """Passes on each file that was saved, moved or removed."""

    def __init__(self, heard: Callable[[], None]) -> None:
        self._heard = heard

    def on_any_event(self, event: FileSystemEvent) -> None:
        if event.is_directory or event.event_type not in CHANGES:
            return
        if any(map(is_source, filter(None, (event.src_path, event.dest_path)))):
            self._heard()


def is_source(name: str) -> bool:
    """Whether a build may read a file, by its name; what npm brings is no writing of ours."""
    path = Path(name)
    if "node_modules" in path.parts:
        return False
    if path.parent == ROOT:
        return path.name == CONFIG
    return path.suffix in SUFFIXES and not path.name.startswith((".", "#"))


class Builder:
    """Builds when it is asked to; a newer wish ends the build that is on its way."""

    def __init__(self, command: list[str], news: News, how: dict[str, object]) -> None:
        """`command` builds, as `docs.writing.rebuild` does; `how` is what it is asked, but for the pages to make first."""
        self._command, self._news, self._how = command, news, dict(how)
        self._wishes: queue.Queue[bool] = queue.Queue()
        self._ready = self._start()
        self._running: subprocess.Popen | None = None

    def wish(self) -> None:
        self._wishes.put(True)

    def run(self) -> None:
        """Build now and after each wish, until it is stopped."""
        self._build()
        while self._wishes.get() and self._rests():
            self._build()
        running, self._running = self._running, None
        self._end(running)
        self._end(self._ready)

    def stop(self) -> None:
        self._wishes.put(False)

    def _rests(self) -> bool:
        """Wait until nobody saves for a moment; False when there is nothing to do any more."""
        while True:
            try:
                if not self._wishes.get(timeout=REST):
                    return False
            except queue.Empty:
                return True

    def _start(self) -> subprocess.Popen:
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
        return subprocess.Popen(self._command, cwd=ROOT, text=True, encoding="utf-8", **pipes)

    def _end(self, process: subprocess.Popen | None) -> None:
        if process is not None and process.poll() is None:
            process.terminate()
            process.wait()

    def _build(self) -> None:
        """Let the process that waits build, and have another wait in its place."""
        before, self._running = self._running, self._ready
        self._end(before)
        self._news.begin()
        asked = {**self._how, "first": self._news.open_pages() or [START]}
        self._running.stdin.write(json.dumps(asked) + "\n")
        self._running.stdin.flush()
        # Only the first build makes anew what is there already.
        self._how.pop("anew", None)
        threading.Thread(target=self._listen, args=(self._running,), daemon=True).start()
        self._ready = self._start()

    def _listen(self, running: subprocess.Popen) -> None:
        trouble = "The build ended and did not say why. The terminal may know."
        for line in running.stdout:
            if not line.startswith("{"):
                # npm and Node speak here too, where a first build calls them.
                print(line, end="", file=sys.stderr)
                continue
            said = json.loads(line)
            trouble = said.get("trouble", trouble)
            self._news.tell(said.get("changed", ()))
        if running is self._running:
            print(trouble or "The site is up to date.", file=sys.stderr, flush=True)
            self._news.end(trouble)


@contextmanager
def watching(site: Path, news: News, how: dict[str, object]) -> Iterator[None]:
    """Build into `site` now and whenever something is saved, in threads of its own."""
    with tempfile.TemporaryDirectory(prefix="doughwater-") as folder:
        made = Path(folder, "site")
        command = [sys.executable, "-m", "docs.writing.rebuild", str(made), str(site)]
        builder = Builder(command, news, how)
        # It warns of folders that come faster than it looks at them: npm's, in a first build. Nothing there is watched for.
        warnings.filterwarnings("ignore", category=RuntimeWarning, module="watchdog")
        observer = Observer()
        for name in WATCHED:
            observer.schedule(Saved(builder.wish), str(ROOT / name), recursive=True)
        observer.schedule(Saved(builder.wish), str(ROOT), recursive=False)
        observer.start()
        building = threading.Thread(target=builder.run, daemon=True)
        building.start()
        try:
            yield
        finally:
            observer.stop()
            observer.join()
            builder.stop()
            building.join()
