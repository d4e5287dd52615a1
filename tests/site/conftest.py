"""The built site, a server for it, and a real browser."""

import threading

import pytest
from playwright.sync_api import sync_playwright

from docs.__main__ import server
from docs.build import build_site
from exercises.publish.pdf import browser as find_browser


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """The folder of the built site."""
    return build_site(tmp_path_factory.mktemp("site"))


@pytest.fixture(scope="session")
def address(site):
    """Where the site is served."""
    with server(site, 0) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()


@pytest.fixture(scope="session")
def chromium():
    """Debian's Chromium; root has no sandbox."""
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(
            executable_path=find_browser(), args=["--no-sandbox", "--disable-gpu"]
        )
        yield running
        running.close()


@pytest.fixture
def context(chromium):
    """A fresh visitor at a desk; `new_page` watches for errors and foreign requests."""
    fresh = chromium.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
    yield fresh
    fresh.close()


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
