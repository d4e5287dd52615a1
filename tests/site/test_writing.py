"""The page that a writer has open beside the editor."""

import threading
from functools import partial

from playwright.sync_api import expect

from docs.__main__ import Handler
from docs.build import serve
from docs.writing.handler import WritingHandler
from docs.writing.news import News
from tests.site.conftest import open_page, watch


def test_the_open_page_follows_each_build_and_keeps_what_was_typed(newcomer, site):
    news, troubles = News(), []
    handler = type("Served", (WritingHandler, Handler), {"news": news})
    with serve.bound(partial(handler, directory=str(site)), port=0) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        address = f"http://127.0.0.1:{server.server_port}/"
        page = newcomer.new_page()
        watch(page, address, troubles)
        open_page(page, f"{address}swap/")
        box = page.locator("liquid-swap [name=flour]")
        box.fill("777 g")
        page.evaluate("globalThis.isOld = true")
        news.tell(["balance/index.html", "search/search_index.json"])
        news.end("sets/x.yml:3:1: “idd” is no part of a problem.")
        alert = page.locator("pre[role=alert]")
        expect(alert).to_contain_text("sets/x.yml:3:1: “idd” is no part of a problem.")
        assert page.evaluate("globalThis.isOld")
        news.begin()
        expect(alert).to_have_count(0)
        news.tell(["swap/index.html"])
        page.wait_for_function("() => !globalThis.isOld")
        expect(box).to_have_value("777 g")
        expect(box).to_be_focused()
        server.shutdown()
    assert troubles == []


def test_nothing_of_it_is_in_the_site(site):
    assert not list(site.rglob("*open-page*"))
    assert "-writing" not in (site / "swap" / "index.html").read_text("utf-8")
