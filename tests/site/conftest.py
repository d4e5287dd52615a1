"""The built site, a server for it, and a real browser."""

import os
import re
import threading
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import pytest
from filelock import FileLock
from playwright.sync_api import expect, sync_playwright

from docs.__main__ import Handler
from docs.build.modules import element_modules
from docs.build.serve import bound
from docs.build.site import build_site
from exercises.publish.pdf import browser
from tests.browsers import windowless

# How long to wait, in milliseconds, for what must come. On a busy machine the browser's first start of
# Python may take long; where all is well no test waits so long.
PATIENCE = 90_000
expect.set_options(timeout=PATIENCE)

# A part whose script has not come yet hears nothing, and the browser's own “load” does not wait for it.
SLEEPING = ", ".join(f"{name}:not(:defined)" for name in element_modules())
AWAKE = f"() => !document.querySelector('{SLEEPING}')"
# The theme's script is fetched after the page is painted: what it does for keyboards and tables comes with it.
THEMED = "() => !document.querySelector('script[data-theme]') || 'document$' in window"


def made_once(tmp_path_factory, name, make):
    """A folder that one worker makes and all read, so no test may change it. `make` writes it where it is told."""
    if "PYTEST_XDIST_WORKER" not in os.environ:
        return make(tmp_path_factory.mktemp(name))
    made = tmp_path_factory.getbasetemp().parent / name
    with FileLock(f"{made}.lock"):
        if not made.exists():
            # What was left half done is not the folder.
            make(made.with_name(f"{name}-in-work")).rename(made)
    return made


@pytest.fixture(scope="session")
def site(tmp_path_factory, pytestconfig):
    """The folder of the built site."""
    given = pytestconfig.getoption("--site")
    return Path(given) if given else made_once(tmp_path_factory, "site", build_site)


class KeptHandler(Handler):
    """Lets a visitor's browser keep the files, as hosts do: to ask for each again takes a tenth of a page's opening."""

    def send_header(self, keyword, value):
        super().send_header(keyword, "max-age=3600" if keyword == "Cache-Control" else value)


@pytest.fixture(scope="session")
def address(site):
    """Where the site is served."""
    with bound(partial(KeptHandler, directory=str(site)), port=0) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()


@pytest.fixture(scope="session")
def playwright():
    with sync_playwright() as running:
        yield running


# Of WebAssembly that runs often the browser makes quicker code, at a cost that a Python of a few seconds never earns
# back: half a second of the processor at each start. Ours has to run ten times as often first, as the shared one's does.
TIERS = "--js-flags=--wasm-tiering-budget=130000000"
# A visitor's pages, one after the other, are in one process: to start another for each takes longer.
ONE_PROCESS = "--renderer-process-limit=1"


@contextmanager
def launched(playwright, program):
    # Root has no sandbox.
    running = playwright.chromium.launch(
        executable_path=program, args=["--no-sandbox", "--disable-gpu", TIERS, ONE_PROCESS]
    )
    yield running
    running.close()


@pytest.fixture(scope="session")
def whole_chromium(playwright):
    """Debian's Chromium, with tabs, private windows and all."""
    with launched(playwright, browser()) as running:
        yield running


@pytest.fixture(scope="session")
def chromium(playwright):
    """The same without its window: a page opens in a third of the time."""
    with launched(playwright, windowless()) as running:
        yield running


# What a shared worker logs and asks for reaches no page.
UNSHARED = "delete self.SharedWorker"
DESK = {"width": 1280, "height": 900}
# What a test leaves on the device, and the next one must not find.
KEPT = "cookies,local_storage,indexeddb,cache_storage,service_workers"


@contextmanager
def visitor(chromium, shared=False, **options):
    """A fresh visitor, with a store of their own; unless `shared`, each page's Python is in a worker of its own."""
    with chromium.new_context(**options) as fresh:
        fresh.set_default_timeout(PATIENCE)
        if not shared:
            fresh.add_init_script(UNSHARED)
        yield fresh


@pytest.fixture
def newcomer(chromium):
    """A fresh visitor at a desk. A test that names this one has its `context` and `page` from them."""
    with visitor(chromium, viewport=DESK) as fresh:
        yield fresh


@pytest.fixture(scope="session")
def regular(chromium, address):
    """The visitor whom the tests share, one after the other, and what empties the visitor's store.

    Python is in a worker that the visitor's pages share, so it starts once and not in each test.
    """
    with visitor(chromium, shared=True, viewport=DESK) as kept:
        for changed, name in LASTING:
            setattr(changed(kept), name, _refused)
        device = kept.new_cdp_session(kept.new_page())
        origin = {"origin": address.rstrip("/"), "storageTypes": KEPT}
        yield kept, lambda: device.send("Storage.clearDataForOrigin", origin)


# What would stay with the visitor after its test.
LASTING = [
    *((lambda kept: kept, name) for name in ("add_init_script", "route", "set_offline")),
    (lambda kept: kept.clock, "install"),
]


def _refused(*_, **__):
    raise AssertionError(
        "This would stay for the tests that follow: ask the page, or be a `newcomer`."
    )


@pytest.fixture
def context(request):
    """A visitor at a desk, whose store is empty: the tests' own one, or where a test asks for it a newcomer."""
    if "newcomer" in request.fixturenames:
        yield request.getfixturevalue("newcomer")
        return
    kept, empty = request.getfixturevalue("regular")
    empty()
    yield kept
    for opened in kept.pages[1:]:
        opened.close()
    kept.clear_permissions()


@pytest.fixture
def without_scripts(chromium):
    """A page of a visitor whose browser runs no scripts."""
    with visitor(chromium, java_script_enabled=False) as fresh:
        yield fresh.new_page()


@pytest.fixture
def page(context, address):
    """A page that fails the test on any console error or request to another origin."""
    opened = context.new_page()
    troubles = []
    watch(opened, address, troubles)
    yield opened
    assert troubles == []


def watch(page, address, troubles):
    """Note what must never happen in a page."""
    page.on("pageerror", lambda error: troubles.append(f"error: {error}"))
    page.on(
        "console",
        lambda message: message.type in ("error", "warning") and troubles.append(message.text),
    )
    page.on(
        "request",
        lambda request: (
            request.url.startswith((address, "data:", "blob:"))
            or troubles.append(f"another origin: {request.url}")
        ),
    )


def open_page(page, address):
    """Go to a page, and wait until its parts and the theme hear what is typed and clicked."""
    page.goto(address)
    page.wait_for_function(AWAKE)
    page.wait_for_function(THEMED)
    return page


def at_problem(page, problem_id):
    """A problem of a set, in view: a tick leads to it."""
    page.locator(f'[data-tick="{problem_id}"]').click()
    form = page.locator(f'problem-set form[data-problem="{problem_id}"]')
    expect(form).to_be_visible()
    return form


def open_ready(page, address):
    """Go to a page, and wait until Python runs in it."""
    open_page(page, address)
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    return page


def settled(page, query):
    """Wait until what was typed last is in the address, and Python has answered to it."""
    expect(page).to_have_url(re.compile(re.escape(query)))
    expect(page.locator("[aria-busy]")).to_have_count(0)


def tells_bad_input(part, field, cases):
    """Type what cannot be, case by case in one page: the label of a field, what is typed, and what it is told.

    What was typed stays, and so does the answer; with a good value again the field is well.
    """
    answer = part.locator(".dw-answer").first
    kept = answer.inner_text()
    for label, typed, says in cases:
        box = field(part.page, label).first
        good = box.input_value()
        box.fill(typed)
        expect(box).to_have_attribute("aria-invalid", "true")
        expect(part.locator(".dw-complaint", has_text=says)).to_be_visible()
        assert box.input_value() == typed
        assert answer.inner_text() == kept
        box.fill(good)
        expect(box).not_to_have_attribute("aria-invalid", "true")
