"""How soon Python's first answer is in a page, and what comes after it.

    python -m tests.bench.first_answer               seven rounds of every line
    python -m tests.bench.first_answer 3             as many rounds as you say
    python -m tests.bench.first_answer 5 cold memory only these lines

README.md beside this file says what each line measures. The rounds take turns, and medians are printed.
"""

from __future__ import annotations

import gzip
import shutil
import statistics
import tempfile
import threading
import time
from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from functools import cache, partial
from io import BufferedIOBase
from pathlib import Path
from typing import NamedTuple
from urllib.parse import unquote, urlsplit

from playwright.sync_api import Browser, BrowserContext, Page, Playwright, sync_playwright

from docs.__main__ import Handler, server
from docs.build.site import build_site
from docs.engine.files import GLUE, LIBRARY, WASM, pyodide_package
from exercises.publish.pdf import browser as find_browser
from tests.site.shared_worker import RUN

HERE = Path(__file__).resolve().parent
ROUNDS = 7
LIMIT = 180_000
SETTLED = 1_000
# A lesson with a swap whose numbers come from the address: it asks Python as soon as it can.
LESSON = "lessons/what-hydration-means/?flour=1234+g"
ANSWERED = "document.querySelector('liquid-swap .dw-answer')?.closest('[data-output]').textContent.includes('1234')"
# Another page, with the same number in it.
NEXT = "lessons/part-swaps-blends-eggs/?flour=1234+g"
BARE = "bare/"
ADDED = "document.getElementById('sum')?.textContent === 'sum: 3'"
# A line of 10 Mbit/s, and what each request waits for on it, in seconds.
BYTES_A_SECOND = 10e6 / 8
DELAY = 0.04
PIECE = 16_384
PYTHON = ("engine/pyodide/", "engine/snapshot.zstd", "engine/python.zip", "engine/unpack.wasm")
PACKABLE = (".html", ".css", ".js", ".mjs", ".json", ".wasm", ".svg", "/")


@cache
def packed(path: Path) -> bytes:
    return gzip.compress(path.read_bytes(), 9)


class PackingHandler(Handler):
    """A host that compresses what it sends, as many do."""

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file() or not self.path.partition("?")[0].endswith(PACKABLE):
            super().do_GET()
            return
        content = packed(path)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)


class SlowLine:
    """All that a server sends goes over one line. (The browser's own emulation slows no shared worker.)"""

    taken = threading.Lock()

    def __init__(self, file: BufferedIOBase) -> None:
        self.file = file

    def __getattr__(self, name: str) -> object:
        return getattr(self.file, name)

    def write(self, content: bytes) -> int:
        for at in range(0, len(content), PIECE):
            piece = content[at : at + PIECE]
            with self.taken:
                time.sleep(len(piece) / BYTES_A_SECOND)
            self.file.write(piece)
        return len(content)


def slowly(kind: type[Handler]) -> type[Handler]:
    """The same server at the other end of a slow line."""

    class SlowHandler(kind):
        def setup(self) -> None:
            super().setup()
            self.wfile = SlowLine(self.wfile)

        def do_GET(self) -> None:
            time.sleep(DELAY)
            super().do_GET()

    return SlowHandler


@contextmanager
def served(folder: Path, packing: bool = False, slow: bool = False) -> Iterator[str]:
    kind = PackingHandler if packing else Handler
    kind = slowly(kind) if slow else kind
    with server(folder, 0) as running:
        running.RequestHandlerClass = lambda *a: kind(*a, directory=str(folder))
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()


def with_bare_page(folder: Path) -> Path:
    """The built site with the bare page and the same Pyodide, as it comes, in it."""
    build_site(folder)
    shutil.copytree(HERE / "bare", folder / "bare")
    pyodide = folder / "bare" / "pyodide"
    pyodide.mkdir()
    for name in (*GLUE, WASM, LIBRARY, "pyodide-lock.json"):
        shutil.copyfile(pyodide_package() / name, pyodide / name)
    return folder


# The time since the visit began, when the text is there; the page may still be loading.
WATCH = """
new MutationObserver(() => {
  const page = document.documentElement;
  if (!page || page.dataset.answered || !(%s)) return;
  page.dataset.answered = performance.now();
}).observe(document, {childList: true, subtree: true, characterData: true});
"""


def visit(context: BrowserContext, address: str, seen: str, slower: int = 1) -> tuple[Page, float]:
    """A page, and the milliseconds from the start of the visit to the answer.

    `slower` is how many times slower the page's own thread is.
    """
    page = context.new_page()
    # A new tab keeps the browser itself busy for a moment, which is no part of the visit.
    page.wait_for_timeout(SETTLED)
    if slower > 1:
        emulation = context.new_cdp_session(page)
        emulation.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    page.add_init_script(WATCH % seen)
    page.goto(address, wait_until="commit")
    return page, answered(page)


def answered(page: Page) -> float:
    """Wait for the answer; not until it is visible: to look at that, the page would be laid out anew each time."""
    page.wait_for_selector("html[data-answered]", state="attached", timeout=LIMIT)
    return float(page.locator("html").get_attribute("data-answered"))


def cold(browser: Browser, address: str, seen: str, **how) -> float:
    context = browser.new_context()
    try:
        return visit(context, address, seen, **how)[1]
    finally:
        context.close()


def second(browser: Browser, address: str, seen: str) -> float:
    """A second visit, in a tab of its own, with what the first one left in the cache."""
    context = browser.new_context()
    try:
        visit(context, address, seen)[0].close()
        return visit(context, address, seen)[1]
    finally:
        context.close()


ASK = """async (flours) => {
  const {engine} = await import(new URL('../../engine/engine.js', location.href.replace(/[?].*/, '')));
  const form = document.querySelector('liquid-swap form');
  const times = [];
  for (const flour of flours) {
    const fields = {...Object.fromEntries(new FormData(form)), flour: `${flour} g`};
    const begun = performance.now();
    await engine.ask({part: 'liquid-swap', fields});
    times.push(performance.now() - begun);
  }
  return times;
}"""


def next_page(browser: Browser, address: str) -> float:
    """From the way to another page of the same visit to its answer: Python runs already."""
    context = browser.new_context()
    try:
        page, _ = visit(context, address + LESSON, ANSWERED)
        page.wait_for_timeout(SETTLED)
        page.goto(address + NEXT, wait_until="commit")
        return answered(page)
    finally:
        context.close()


def recovery(browser: Browser, address: str) -> float:
    """From the death of the worker to the next answer, asked for at once."""
    context = browser.new_context()
    try:
        page, _ = visit(context, address + LESSON, ANSWERED)
        page.evaluate(RUN, "import js\njs.self.close()")
        return page.evaluate(ASK, [700])[0]
    finally:
        context.close()


def input_to_answer(browser: Browser, address: str) -> float:
    """The median of a hundred answers of a running engine, each to other numbers."""
    context = browser.new_context()
    try:
        page, _ = visit(context, address + LESSON, ANSWERED)
        return statistics.median(page.evaluate(ASK, list(range(500, 600))))
    finally:
        context.close()


def memory(address: str, seen: str) -> float:
    """MB of the tab's process with an answer in it: its share of all pages in memory (Linux: PSS)."""
    with sync_playwright() as playwright, launched(playwright) as browser:
        visit(browser.new_context(), address, seen)[0].wait_for_timeout(1000)
        found = browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
        return max(pss(each["id"]) for each in found if each["type"] == "renderer")


def pss(process: int) -> float:
    lines = Path(f"/proc/{process}/smaps_rollup").read_text("utf-8").splitlines()
    return sum(int(line.split()[1]) for line in lines if line.startswith("Pss:")) / 1024


@contextmanager
def launched(playwright: Playwright) -> Iterator[Browser]:
    browser = playwright.chromium.launch(
        executable_path=find_browser(), args=["--no-sandbox", "--disable-gpu"]
    )
    yield browser
    browser.close()


def in_turn(rounds: int, *measures: Callable[[], float]) -> list[float]:
    """The median of each measure; they take turns, so that other work on the machine hits all alike."""
    taken = [[measure() for measure in measures] for _ in range(rounds)]
    return [statistics.median(column) for column in zip(*taken, strict=True)]


def compare(what: str, ours: float, bare: float, goal: str = "") -> None:
    print(f"{what:<44} {ours:9.0f} {bare:9.0f} {ours / bare:7.2f}  {goal}", flush=True)


def single(what: str, value: float, unit: str, goal: str = "") -> None:
    print(f"{what:<44} {value:9.1f} {unit:<17}  {goal}", flush=True)


Measure = Callable[[Browser, str], float]


class Line(NamedTuple):
    """What a line of the table puts side by side."""

    what: str
    ours: Measure
    anchor: Measure
    goal: str = ""
    slow: bool = False
    packing: bool = False


def ours(visited: Callable[..., float] = cold, **how) -> Measure:
    return lambda browser, here: visited(browser, here + LESSON, ANSWERED, **how)


def bare(visited: Callable[..., float] = cold, **how) -> Measure:
    return lambda browser, here: visited(browser, here + BARE, ADDED, **how)


LINES = {
    "cold": Line("first answer, empty cache, loopback", ours(), bare(), "0.30"),
    "slower": Line("the same, the page's thread four times slower", ours(slower=4), bare(slower=4), "0.22"),
    "second": Line("second visit, loopback", ours(second), bare(second)),
    "next": Line("the next page's first answer (bare: first)", next_page, bare(), "0.05"),
    "killed": Line("a killed worker to the next answer (ours: first)", recovery, ours(), "1.00"),
    "slow": Line("first answer, 10 Mbit/s and 40 ms", ours(), bare(), "0.55", slow=True),
    "packed": Line("the same, from a host that compresses", ours(), bare(), "1.00", slow=True, packing=True),
}  # fmt: skip


def times(rounds: int, folder: Path, wanted: Collection[str]) -> None:
    title = f"milliseconds, medians of {rounds}"
    print(f"{title:<48} {'ours':>9} {'anchor':>9} {'ratio':>7}  goal")
    with sync_playwright() as playwright, launched(playwright) as browser:
        for line in (line for name, line in LINES.items() if name in wanted):
            with served(folder, line.packing, line.slow) as here:
                both = (partial(each, browser, here) for each in (line.ours, line.anchor))
                compare(line.what, *in_turn(rounds, *both), line.goal)


def typing(rounds: int, folder: Path) -> None:
    with (
        sync_playwright() as playwright,
        launched(playwright) as browser,
        served(folder) as here,
    ):
        quick = in_turn(rounds, lambda: input_to_answer(browser, here))[0]
    single("input to answer", quick, "ms", "16")


def memories(folder: Path) -> None:
    with served(folder) as here:
        ways = (partial(memory, here + LESSON, ANSWERED), partial(memory, here + BARE, ADDED))
        compare("memory of the tab, with an answer in it (MB)", *in_turn(3, *ways), "1.15")


def sizes(folder: Path) -> None:
    plain, whole = engine_bytes(folder)
    single("plain engine, gzipped", plain / 1e6, "MB", "5.5")
    single("engine with its snapshot, gzipped", whole / 1e6, "MB", "9.0")
    with (
        sync_playwright() as playwright,
        launched(playwright) as browser,
        served(folder) as here,
    ):
        lesson = page_bytes(browser.new_page(), folder, here, LESSON.partition("?")[0])
    single("a lesson without Python, gzipped", lesson / 1e3, "kB", "350")


def engine_bytes(folder: Path) -> tuple[int, int]:
    """What a plain start fetches, and all there is with the snapshot, gzipped."""
    engine = folder / "engine"
    small = [
        *engine.glob("*.js"),
        engine / "python.zip",
        engine / "unpack.wasm",
        *(engine / "pyodide").iterdir(),
    ]
    plain = sum(map(gzipped, small))
    return plain, plain + gzipped(engine / "snapshot.zstd")


def page_bytes(page: Page, folder: Path, address: str, path: str) -> int:
    """All that a page of the site fetches, gzipped, but Python."""
    asked = {address + path}
    page.on("request", lambda request: asked.add(request.url))
    page.goto(address + path)
    # The last that it asks for of itself comes when Python runs (offline.js, a quiet moment later).
    page.wait_for_selector("html[data-engine=ready]", state="attached", timeout=LIMIT)
    page.wait_for_timeout(500)
    paths = {unquote(urlsplit(url.removeprefix(address)).path) for url in asked}
    files = {folder / each for each in paths if not each.startswith(PYTHON)}
    return sum(gzipped(file / "index.html" if file.is_dir() else file) for file in files)


def gzipped(file: Path) -> int:
    """The bytes that go over the line; files that are packed already stay as they are."""
    return file.stat().st_size if file.suffix in (".zstd", ".zip") else len(packed(file))


OTHERS = {"input": typing, "sizes": lambda _, folder: sizes(folder), "memory": lambda _, folder: memories(folder)}  # fmt: skip


def report(rounds: int, wanted: Collection[str]) -> None:
    with tempfile.TemporaryDirectory() as made:
        folder = with_bare_page(Path(made, "site"))
        times(rounds, folder, wanted)
        for name, print_it in OTHERS.items():
            if name in wanted:
                print_it(rounds, folder)


def arguments() -> Namespace:
    parser = ArgumentParser(prog="python -m tests.bench.first_answer")
    parser.add_argument("rounds", type=int, nargs="?", default=ROUNDS)
    names = [*LINES, *OTHERS]
    parser.add_argument(
        "lines", nargs="*", metavar="LINE", help=f"of {', '.join(names)}; all, if none is named"
    )
    given = parser.parse_args()
    if unknown := set(given.lines) - set(names):
        parser.error(
            f"no line is called {', '.join(sorted(unknown))}; there are {', '.join(names)}"
        )
    given.lines = given.lines or names
    return given


if __name__ == "__main__":
    given = arguments()
    report(given.rounds, given.lines)
