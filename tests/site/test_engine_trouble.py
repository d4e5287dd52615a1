"""What can go wrong with Python and with the device: each ends in a page that works, with what was typed."""

import json
import re

import pytest
from playwright.sync_api import expect

from tests.site.conftest import PATIENCE, at_problem, open_ready

LIMITS = """(limits) => import(new URL('engine/engine.js', document.baseURI.replace(/(swap|practice).*/, '')))
  .then((module) => Object.assign(module.limits, limits))"""
# Of every kind that JSON has, of the right kind with wrong things in it, and what is no JSON.
JUNK = [
    "null",
    '"text"',
    "[[]]",
    "{",
    '{"answers": 7, "tries": "x", "hints": [0]}',
    '{"id": {}}',
    "9" * 4000,
]
SHELVES = [
    "student", "set/first-swaps/", "set-text", "set-in-hand", "study/log", "study/problem", "study/new/a",
    "ingredients", "side-by-side/", "standing/", "set-at/first-swaps", "set-shows-all",
]  # fmt: skip
KEEPERS = [
    "practice/study/",
    "ingredients/",
    "desk/write/",
    "side-by-side/",
    "swap/",
    # Last, to mark an answer there.
    "practice/first-swaps/",
]
DENIED = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('denied'); }})"
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }"


@pytest.fixture
def loose(context):
    """A page that may log what the browser itself says of a blocked file; errors still fail the test."""
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    assert errors == []


@pytest.fixture
def swap(page, address):
    page.goto(address + "swap/?flour=1234+g")
    answered(page, "1234")
    return page


def flour(page):
    return page.locator("liquid-swap:defined").get_by_label("Flour", exact=True)


def answered(page, text):
    expect(page.locator("liquid-swap .dw-sheet")).to_contain_text(text)


def status(page):
    return page.locator("liquid-swap > .dw-status")


def limit(page, **milliseconds):
    page.evaluate(LIMITS, milliseconds)


class Cell:
    """The Python cell under the swap's result."""

    def __init__(self, page):
        self.cell = page.locator("liquid-swap python-cell")
        if not self.cell.is_visible():
            page.get_by_text("In Python: the exact call").click()
        self.code = self.cell.get_by_label("Python code")
        self.status = self.cell.locator(".dw-status")
        self.stop = self.cell.get_by_role("button", name="Stop")

    def start(self, code):
        self.code.fill(code)
        self.cell.get_by_role("button", name="Run").click()

    def ends(self, says):
        expect(self.status).to_contain_text(says)
        expect(self.stop).to_be_hidden()

    def works(self):
        """It runs code, and the part around it computes."""
        self.start("print(6 * 7)")
        self.ends("Python has run it.")
        expect(self.cell.locator(".dw-printed")).to_have_text("42\n")


@pytest.mark.usefixtures("newcomer")
def test_a_worker_that_dies_is_replaced_and_the_answer_comes(swap):
    # The theme's search has a worker too.
    worker = next(each for each in swap.workers if each.url.endswith("engine/worker.js"))
    worker.evaluate("self.close()")
    flour(swap).fill("777 g")
    answered(swap, "777")
    assert flour(swap).input_value() == "777 g"


def test_an_endless_loop_is_stopped_by_hand_and_the_parts_go_on(swap):
    # Not by the clock.
    limit(swap, answer=10 * PATIENCE)
    cell = Cell(swap)
    cell.start("print('before')\nwhile True: pass")
    expect(cell.stop).to_be_visible()
    flour(swap).fill("777 g")
    answered(swap, "777")
    # The answer brought another cell: what runs is stopped there.
    cell = Cell(swap)
    cell.stop.click()
    cell.ends("Stopped.")
    cell.works()
    cell.start("while True: pass")
    cell.stop.click()
    cell.ends("Stopped.")
    assert cell.code.input_value() == "while True: pass"
    cell.works()


DIES = "import js\njs.self.close()\nwhile True: pass"


def test_an_endless_loop_and_a_worker_that_dies_in_the_middle_of_a_run_are_told(swap):
    cell = Cell(swap)
    cell.works()
    for code in ("while True: pass", DIES):
        limit(swap, answer=500)
        cell.start(code)
        cell.ends("did not end, so it was stopped. What you typed is still here.")
        assert cell.code.input_value() == code
        limit(swap, answer=20_000)
        cell.works()


ENDED = re.compile(r"Python has run it|Python reports an error|What you typed is still here")


# What may come from a reader's own code: errors, what Python cannot bear, ends of Python itself. Those that change
# Python for the code after them are last.
BREAKING = [
    "def deep(n): return deep(n + 1)\ndeep(0)",
    "import json\njson.loads('[' * 10**6)",
    "nested = []\nfor _ in range(10**6): nested = [nested]\nprint(nested)",
    "exec('(' * 100_000 + ')' * 100_000)",
    "import re\nre.compile('(' * 10**5 + ')' * 10**5)",
    "import sys\nsys.exit(3)",
    "held = bytearray(10**10)",
    "import js, pyodide_js\npyodide_js._api.fatal_error(js.Error.new('the end'))",
    "import sys\nsys.setrecursionlimit(10**9)\ndef deep(n): return deep(n + 1)\ndeep(0)",
    "import sys\nsys.setrecursionlimit(10**9)\nclass Deep:\n    def __repr__(self): return repr(self)\nrepr(Deep())",
    "held = []\nwhile True: held.append(bytearray(10**8))",
    "import calc.units\ncalc.units.read = calc.units.write = None\nimport docs.parts\ndocs.parts.PARTS.clear()",
]


def test_code_that_breaks_python_is_told_and_all_goes_on(loose, address):
    # Pyodide logs its own end, so this page is not watched for messages.
    loose.goto(address + "swap/?flour=1234+g")
    answered(loose, "1234")
    for place, code in enumerate(BREAKING):
        cell = Cell(loose)
        cell.start(code)
        cell.ends(ENDED)
        assert cell.code.input_value() == code
        flour(loose).fill(f"{700 + place} g")
        answered(loose, f"{700 + place}")
        # Whoever took our own functions away, or broke them, is told at the next run; the one after it works.
        Cell(loose).start("print('once more')")
        Cell(loose).ends(ENDED)
        Cell(loose).works()


SILENT = "onmessage = () => {};"
SILENT_HEADERS = {"Content-Type": "text/javascript", "Cache-Control": "no-store"}


def test_a_worker_that_never_answers_is_given_up_and_the_next_one_works(page, newcomer, address):
    newcomer.route("**/worker.js", lambda route: route.fulfill(body=SILENT, headers=SILENT_HEADERS))
    page.goto(address + "swap/")
    limit(page, start=700)
    kept = page.locator("liquid-swap .dw-answer").first.inner_text()
    flour(page).fill("777 g")
    expect(status(page)).to_contain_text("What you typed is still here.")
    assert flour(page).input_value() == "777 g"
    assert page.locator("liquid-swap .dw-answer").first.inner_text() == kept
    newcomer.unroute("**/worker.js")
    limit(page, start=120_000)
    flour(page).fill("778 g")
    answered(page, "778")
    # Whatever kept the first one, the next one does without the snapshot.
    expect(page.locator("html")).to_have_attribute("data-engine-start", "plain")


def test_an_engine_that_is_not_there_is_told(loose, newcomer, address):
    newcomer.route("**/engine/pyodide/**", lambda route: route.fulfill(status=404))
    loose.goto(address + "swap/?flour=777+g")
    expect(status(loose)).to_contain_text("could not start")
    expect(flour(loose)).to_have_value("777 g")


@pytest.mark.parametrize("missing", ["WebAssembly", "Worker"])
def test_a_browser_without_what_python_needs_says_so(page, address, missing):
    page.add_init_script(f"delete window.{missing}")
    page.goto(address + "swap/?flour=777+g")
    expect(status(page)).to_contain_text("This browser is too old to compute here")
    expect(flour(page)).to_have_value("777 g")
    assert "Weigh" in page.locator("liquid-swap .dw-answer").first.inner_text()


NOTE = """(property) => getComputedStyle(document.querySelector('liquid-swap .dw-beside > form'), '::before')[property]"""


def test_a_browser_without_modules_says_so(loose, address):
    loose.route("**/page/joined.js", lambda route: route.abort())
    loose.goto(address + "swap/")
    assert "do not run in this browser" in loose.evaluate(NOTE, "content")
    loose.wait_for_function(f"() => ({NOTE})('visibility') === 'visible'")
    assert "Weigh" in loose.locator("liquid-swap .dw-answer").first.inner_text()


@pytest.mark.parametrize("junk", JUNK)
def test_junk_in_the_store_stops_nothing(page, address, junk):
    kept = {f"doughwater/{shelf}": junk for shelf in SHELVES}
    page.add_init_script(
        f"for (const [key, text] of Object.entries({json.dumps(kept)})) localStorage.setItem(key, text)"
    )
    for name in KEEPERS:
        open_ready(page, address + name)
    marked(page)


def marked(page):
    form = at_problem(page, "water-for-rolls")
    form.locator("input").fill("1 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 1")
    assert form.locator("input").input_value() == "1 g"


@pytest.mark.parametrize("broken", [DENIED, FULL])
def test_a_store_that_takes_nothing_stops_nothing(context, address, broken):
    # The theme itself complains of a denied store, so this page is not watched for errors.
    page = context.new_page()
    page.add_init_script(broken)
    for name in KEEPERS:
        open_ready(page, address + name)
    marked(page)


LATE = """(key) => {
  // This tab has not yet heard of what the other one wrote.
  const older = localStorage.getItem(key);
  const {getItem} = Storage.prototype;
  Storage.prototype.getItem = function (asked) { return asked === key ? older : getItem.call(this, asked); };
}"""


def test_two_tabs_that_write_in_the_same_instant_lose_nothing(page, context, address):
    other = context.new_page()
    for tab, problem in ((page, "water-for-rolls"), (other, "salt-check")):
        open_ready(tab, address + "practice/first-swaps/")
        tab.evaluate(LATE, "doughwater/study/log")
        form = at_problem(tab, problem)
        form.locator("input").first.fill("1 g")
        form.get_by_role("button", name="Mark my answer").click()
        expect(form.locator(".dw-feedback")).to_contain_text("0 of")
    page.goto(address + "practice/study/")
    expect(page.locator("study-plan [data-counted]")).to_contain_text("2")
    log = json.loads(page.evaluate("localStorage.getItem('doughwater/study/log')"))
    assert sorted(each["problem"] for each in log) == [
        "first-swaps/salt-check",
        "first-swaps/water-for-rolls",
    ]
