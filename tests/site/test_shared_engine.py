"""Python starts once a visit: the pages share a worker, and one that is lost is replaced.

Debian's whole Chromium shares workers as readers' browsers do.
"""

import re

import pytest
from playwright.sync_api import expect

from docs.build.join import JOINED
from tests.site.conftest import open_page, visitor, watch
from tests.site.shared_worker import RUN

LIMIT = "async (answer) => { (await import('/engine/engine.js')).limits.answer = answer; }"
REMEMBER = "import builtins\nbuiltins.seen = getattr(builtins, 'seen', 0) + 1\nprint(builtins.seen)"


@pytest.fixture
def visit(whole_chromium):
    with visitor(whole_chromium, shared=True, viewport={"width": 1280, "height": 900}) as context:
        yield context


@pytest.fixture
def page(visit, address):
    opened, troubles = visit.new_page(), []
    watch(opened, address, troubles)
    yield opened
    assert troubles == []


def swap(page, address, grams):
    """Open the swap with a flour weight, and wait for Python's answer."""
    open_page(page, f"{address}swap/?flour={grams}+g")
    expect(page.locator("liquid-swap .dw-sheet")).to_contain_text(str(grams))


def typed(page, grams):
    page.locator("liquid-swap").get_by_label("Flour", exact=True).fill(f"{grams} g")
    expect(page.locator("liquid-swap .dw-sheet")).to_contain_text(str(grams))


def test_the_next_page_and_the_next_tab_have_the_same_python(page, visit, address):
    swap(page, address, 777)
    assert page.evaluate(RUN, REMEMBER) == "1\n"
    open_page(page, address + "liquids/")
    swap(page, address, 778)
    assert page.evaluate(RUN, REMEMBER) == "2\n"
    other = visit.new_page()
    swap(other, address, 779)
    assert other.evaluate(RUN, REMEMBER) == "3\n"
    assert not [each for each in page.workers if each.url.endswith("engine/worker.js")]


# What the page asks goes past this name.
PRACTISED = """
import builtins, docs.parts
if not hasattr(builtins, 'practised'):
    builtins.practised = []
    docs.parts.respond = lambda request: builtins.practised.append(request)
print(len(builtins.practised))"""


def test_python_that_was_asked_practises_while_nobody_asks(page, address):
    open_page(page, address + "swap/")
    page.wait_for_selector("html[data-engine=ready]", state="attached")
    assert page.evaluate(RUN, PRACTISED) == "0\n"
    for pause in (500, 1_000, 2_000, 4_000, 8_000):
        page.wait_for_timeout(pause)
        if int(page.evaluate(RUN, PRACTISED)):
            break
    else:
        pytest.fail("It did not practise.")


def test_who_comes_into_a_field_lets_python_practise(page, address):
    open_page(page, address + "swap/")
    page.wait_for_selector("html[data-engine=ready]", state="attached")
    page.evaluate("""() => {
        const {postMessage} = MessagePort.prototype;
        window.sent = [];
        MessagePort.prototype.postMessage = function (...all) { sent.push(all[0]); postMessage.apply(this, all); };
    }""")
    page.locator("liquid-swap [name=flour]").focus()
    assert page.evaluate("sent") == [{"soon": True}]
    page.locator("liquid-swap [name=liquid]").focus()
    assert len(page.evaluate("sent")) == 1


def test_a_shared_worker_that_ends_is_replaced(page, address):
    swap(page, address, 777)
    page.evaluate(RUN, "import js\njs.self.close()")
    typed(page, 778)


def test_one_that_hangs_is_given_up_and_nothing_typed_is_lost(page, address):
    swap(page, address, 777)
    page.evaluate(RUN, "while True: pass")
    page.evaluate(LIMIT, 1_500)
    typed(page, 778)
    # The next page of the tab does not ask the one that hangs again.
    swap(page, address, 779)


def test_a_page_of_another_version_meets_no_older_python(visit, site, address):
    page = visit.new_page()
    swap(page, address, 777)
    kind = {"Content-Type": "text/javascript"}
    joined = (site / JOINED).read_text("utf-8")
    other = re.sub(r"(?<=^const VERSION = ')\w", "~", joined, flags=re.MULTILINE)
    assert other != joined
    visit.route(f"**/{JOINED}", lambda route: route.fulfill(body=other, headers=kind))
    # Here no shared worker is of that version, so the page has one of its own.
    with page.expect_worker(lambda each: each.url.endswith("engine/worker.js")):
        swap(page, address, 778)
    visit.unroute(f"**/{JOINED}")
