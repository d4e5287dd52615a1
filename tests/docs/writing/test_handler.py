"""The writers' server, without a browser."""

import json
import threading
from functools import partial
from urllib.request import urlopen

import pytest

from docs.__main__ import Handler
from docs.build import serve
from docs.writing.handler import WritingHandler
from docs.writing.news import News


@pytest.fixture
def news():
    return News()


@pytest.fixture
def served(tmp_path, news):
    """The address of a site of one page, and its folder."""
    (tmp_path / "swap").mkdir()
    (tmp_path / "swap" / "index.html").write_text("<head><title>é</title></head><p>Swap", "utf-8")
    (tmp_path / "style.css").write_text("p {}", "utf-8")
    handler = type("Served", (WritingHandler, Handler), {"news": news})
    with serve.bound(partial(handler, directory=str(tmp_path)), port=0) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/", tmp_path
        server.shutdown()


def got(address):
    with urlopen(address, timeout=60) as answer:
        return answer.read().decode()


def test_a_page_hears_of_changes_after_it_was_read_and_a_file_is_as_it_is(served, news):
    address, folder = served
    news.tell(["swap/index.html"])
    script = '<script type="module" src="/-writing/open-page.js?since=1"></script>'
    assert got(f"{address}swap/?flour=500") == f"<head><title>é</title>{script}</head><p>Swap"
    assert got(f"{address}style.css") == "p {}"
    assert "EventSource" in got(f"{address}-writing/open-page.js?since=1")
    assert sorted(path.name for path in folder.iterdir()) == ["style.css", "swap"]


def test_the_news_come_as_they_are_told(served, news):
    address, _ = served
    with urlopen(f"{address}-writing/news?page=swap/&since=0", timeout=60) as lines:
        said = (json.loads(line[6:]) for line in lines if line.startswith(b"data: "))
        assert next(said) == {"isOther": False, "trouble": ""}
        assert news.open_pages() == ["swap/"]
        news.tell(["swap/index.html"])
        assert next(said)["isOther"]
        news.end("ingredients.csv, line 3")
        assert next(said) == {"isOther": False, "trouble": "ingredients.csv, line 3"}


def test_a_page_that_is_not_built_yet_is_waited_for_and_shown_later_if_something_is_wrong(
    served, news
):
    address, folder = served
    news.begin()

    def come():
        (folder / "late.css").write_text("late", "utf-8")
        news.tell(["late.css"])

    threading.Timer(0.05, come).start()
    assert got(f"{address}late.css") == "late"
    threading.Timer(0.05, news.end, ["wrong"]).start()
    assert "not built" in got(f"{address}lessons/")
