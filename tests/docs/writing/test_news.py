"""What a page that is open hears of a build."""

import threading

import pytest

from docs.writing.news import News, is_other


@pytest.mark.parametrize(
    ("page", "changed", "other"),
    [
        ("swap/", ["swap/index.html"], True),
        ("swap/", ["balance/index.html", "search/search_index.json", "sw.js"], False),
        ("swap/", ["assets/style.css"], True),
        ("swap/", ["engine/python.zip"], True),
        ("swap/", ["offline/version.js", "doughwater.zip", "404.html"], False),
        ("", ["index.html"], True),
        ("", ["swap/index.html"], False),
        ("demo/report.html", ["demo/report.html"], True),
    ],
)
def test_a_page_is_read_again_for_what_it_shows_and_no_other(page, changed, other):
    assert is_other(page, changed) is other


def test_a_page_that_was_not_looked_at_for_a_while_hears_of_all_that_it_missed():
    news = News()
    news.begin()
    news.tell(["swap/index.html"])
    news.tell(["balance/index.html"])
    news.end()
    heard = news.wait(0, "swap/", 0)
    assert heard.is_other
    assert not news.wait(heard.number, "swap/", 0).is_other


def test_trouble_is_told_at_once_and_once_and_is_over_when_it_is_mended():
    news = News()
    news.begin()
    threading.Timer(0.05, news.end, ["set.yml:3:1: no"]).start()
    told = news.wait(0, "swap/", 60)
    assert (told.is_other, told.trouble) == (False, "set.yml:3:1: no")
    news.end("set.yml:3:1: no")
    assert news.number == told.number
    news.begin()
    assert news.wait(told.number, "swap/", 60).trouble == ""


def test_a_file_is_waited_for_only_while_it_may_come():
    news, there = News(), threading.Event()
    news.await_file(there.is_set, 60)
    news.begin()
    threading.Timer(0.05, lambda: (there.set(), news.tell(["engine/built.js"]))).start()
    news.await_file(there.is_set, 60)
    assert there.is_set()
    threading.Timer(0.05, news.end).start()
    news.await_file(lambda: False, 60)


def test_only_pages_that_are_open_are_made_first():
    news = News()
    with news.opened("swap/"), news.opened("swap/"):
        with news.opened("lessons/"):
            assert sorted(news.open_pages()) == ["lessons/", "swap/"]
        assert news.open_pages() == ["swap/"]
    assert news.open_pages() == []
