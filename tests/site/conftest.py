"""The built site, a server for it, and a real browser."""

import os
import re
import threading
from contextlib import contextmanager

import pytest
from filelock import FileLock
from playwright.sync_api import expect, sync_playwright

from docs.__main__ import server
from docs.build.site import build_site
from exercises.publish.pdf import browser
from tests.browsers import windowless

# How long to wait, in milliseconds, for what must come. On a busy machine the browser's first start of
# Python may take long; where all is well no test waits so long.
PATIENCE = 90_000
expect.set_options(timeout=PATIENCE)

# A part whose script has not come yet hears nothing, and the browser's own “load” does not wait for it.
AWAKE = """() => ![...document.querySelectorAll(':not(:defined)')].some(({localName}) =>
  document.querySelector(`link[rel=modulepreload][href$='/${localName}.js']`))"""


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """The folder of the built site: one for all workers, so no test may change it."""
    shared = tmp_path_factory.getbasetemp().parent if "PYTEST_XDIST_WORKER" in os.environ else None
    if shared is None:
        return build_site(tmp_path_factory.mktemp("site"))
    built = shared / "site"
    with FileLock(shared / "site.lock"):
        if not built.exists():
            # What a build left half done is not the site.
            build_site(shared / "site-in-work").rename(built)
    return built


@pytest.fixture(scope="session")
def address(site):
    """Where the site is served."""
    with server(site, 0) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()


@pytest.fixture(scope="session")
def playwright():
    with sync_playwright() as running:
        yield running


@contextmanager
def launched(playwright, program):
    # Root has no sandbox.
    running = playwright.chromium.launch(
        executable_path=program, args=["--no-sandbox", "--disable-gpu"]
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


# What a shared worker logs and asks for reaches no page, so most tests have Python in a worker of the
# page's own, as in a browser that shares none. `test_shared_engine` tries the other.
UNSHARED = "delete self.SharedWorker"


@contextmanager
def visitor(chromium, shared=False, **options):
    """A fresh visitor, with a store of their own."""
    with chromium.new_context(**options) as fresh:
        fresh.set_default_timeout(PATIENCE)
        if not shared:
            fresh.add_init_script(UNSHARED)
        yield fresh


@pytest.fixture
def context(chromium):
    """A fresh visitor at a desk."""
    with visitor(chromium, viewport={"width": 1280, "height": 900}) as fresh:
        yield fresh


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
    """Go to a page, and wait until its parts hear what is typed and clicked."""
    page.goto(address)
    page.wait_for_function(AWAKE)
    return page


def open_ready(page, address):
    """Go to a page, and wait until Python runs in it."""
    open_page(page, address)
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    return page


def settled(page, query):
    """Wait until what was typed last is in the address, and Python has answered to it."""
    expect(page).to_have_url(re.compile(re.escape(query)))
    expect(page.locator("[aria-busy]")).to_have_count(0)
