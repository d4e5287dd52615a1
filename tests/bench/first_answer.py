"""How soon Python's first answer is in a page, and what comes after it.

    python -m tests.bench.first_answer        seven rounds
    python -m tests.bench.first_answer 3      as many as you say

README.md beside this file says what each line measures. The rounds take turns, and medians are printed.
"""

from __future__ import annotations

import gzip
import shutil
import statistics
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
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
# 10 Mbit/s and 40 ms, as the browser's own network emulation takes them.
SLOW = {
    "offline": False,
    "latency": 40,
    "downloadThroughput": 10e6 / 8,
    "uploadThroughput": 10e6 / 8,
}
PYTHON = ("engine/pyodide/", "engine/snapshot.gzip", "engine/python.zip")
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


@contextmanager
def served(folder: Path, packing: bool = False) -> Iterator[str]:
    with server(folder, 0) as running:
        if packing:
            running.RequestHandlerClass = lambda *a: PackingHandler(*a, directory=str(folder))
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


# The time since the visit began, when the text is there.
WATCH = """
addEventListener('DOMContentLoaded', () => {
  const look = () => {
    if (document.documentElement.dataset.answered || !(%s)) return;
    document.documentElement.dataset.answered = performance.now();
  };
  new MutationObserver(look).observe(document.documentElement, {childList: true, subtree: true, characterData: true});
  look();
});
"""


def visit(
    context: BrowserContext, address: str, seen: str, slow: bool = False
) -> tuple[Page, float]:
    """A page, and the milliseconds from the start of the visit to the answer."""
    page = context.new_page()
    # A new tab keeps the browser itself busy for a moment, which is no part of the visit.
    page.wait_for_timeout(SETTLED)
    if slow:
        lines = context.new_cdp_session(page)
        lines.send("Network.enable")
        lines.send("Network.emulateNetworkConditions", SLOW)
    page.add_init_script(WATCH % seen)
    page.goto(address, wait_until="commit")
    page.wait_for_selector("html[data-answered]", timeout=LIMIT)
    return page, float(page.locator("html").get_attribute("data-answered"))


def cold(browser: Browser, address: str, seen: str, slow: bool = False) -> float:
    context = browser.new_context()
    try:
        return visit(context, address, seen, slow)[1]
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
        page.wait_for_selector("html[data-answered]", timeout=LIMIT)
        return float(page.locator("html").get_attribute("data-answered"))
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


def times(rounds: int, folder: Path) -> None:
    print(
        f"{'milliseconds, medians of ' + str(rounds):<44} {'ours':>9} {'bare':>9} {'ratio':>7}  goal"
    )
    with sync_playwright() as playwright, launched(playwright) as browser:
        with served(folder) as here:
            ours, bare = (here + LESSON, ANSWERED), (here + BARE, ADDED)
            first = in_turn(rounds, lambda: cold(browser, *ours), lambda: cold(browser, *bare))
            compare("first answer, empty cache, loopback", *first, "0.30")
            again = in_turn(rounds, lambda: second(browser, *ours), lambda: second(browser, *bare))
            compare("second visit, loopback", *again)
            further = in_turn(rounds, lambda: next_page(browser, here))[0]
            compare("the next page's first answer (bare: first)", further, first[1], "0.05")
            mended = in_turn(rounds, lambda: recovery(browser, here))[0]
            compare("a killed worker to the next answer (bare: first)", mended, first[0], "1.00")
            slow = in_turn(
                rounds, lambda: cold(browser, *ours, True), lambda: cold(browser, *bare, True)
            )
            compare("first answer, 10 Mbit/s and 40 ms", *slow, "1.00")
            quick = in_turn(rounds, lambda: input_to_answer(browser, here))[0]
            single("input to answer", quick, "ms", "16")
        with served(folder, packing=True) as here:
            ours, bare = (here + LESSON, ANSWERED, True), (here + BARE, ADDED, True)
            slow = in_turn(rounds, lambda: cold(browser, *ours), lambda: cold(browser, *bare))
            compare("the same, from a host that compresses", *slow, "1.00")


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
    small = [*engine.glob("*.js"), engine / "python.zip", *(engine / "pyodide").iterdir()]
    plain = sum(map(gzipped, small))
    return plain, plain + gzipped(engine / "snapshot.gzip")


def page_bytes(page: Page, folder: Path, address: str, path: str) -> int:
    """All that a page of the site fetches, gzipped, but Python."""
    asked = {address + path}
    page.on("request", lambda request: asked.add(request.url))
    page.goto(address + path, wait_until="networkidle")
    page.wait_for_timeout(500)
    paths = {unquote(urlsplit(url.removeprefix(address)).path) for url in asked}
    files = {folder / each for each in paths if not each.startswith(PYTHON)}
    return sum(gzipped(file / "index.html" if file.is_dir() else file) for file in files)


def gzipped(file: Path) -> int:
    """The bytes that go over the line; files that are packed already stay as they are."""
    return file.stat().st_size if file.suffix in (".gzip", ".zip") else len(packed(file))


def report(rounds: int) -> None:
    with tempfile.TemporaryDirectory() as made:
        folder = with_bare_page(Path(made, "site"))
        times(rounds, folder)
        sizes(folder)
        with served(folder) as here:
            taken = in_turn(
                3, lambda: memory(here + LESSON, ANSWERED), lambda: memory(here + BARE, ADDED)
            )
            compare("memory of the tab, with an answer in it (MB)", *taken, "1.15")


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else ROUNDS)
