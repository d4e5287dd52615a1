"""The next page is loaded before its link is followed, and does nothing until it is seen."""

import threading

import pytest

from docs.__main__ import server
from exercises.publish.pdf import browser
from tests.site.in_firefox import visited
from tests.site.test_going_on import YOGURT


@pytest.fixture(scope="module")
def seen(site):
    """What Chromium saw where the service worker answers."""
    with server(site, 0, offline=True) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield visited("ahead.mjs", f"http://127.0.0.1:{running.server_port}/", YOGURT, browser())
        running.shutdown()


def test_a_page_that_is_loaded_ahead_keeps_nothing_until_it_is_seen(seen):
    assert seen["isOfWorker"]
    assert seen["writtenAhead"] == []
    assert seen["keptSeen"] == ["doughwater/lesson/part-swaps-blends-eggs"]
    assert seen["offline"]["isLoadedAhead"]


def test_it_shows_what_the_reader_did_meanwhile(seen):
    assert seen["pointed"] == {"isLoadedAhead": True, "colours": "slate", "hasOwn": True}


def test_by_keyboard_and_without_a_network_it_comes_as_soon(seen):
    assert seen["focused"] == {"isLoadedAhead": True, "colours": "slate", "hasOwn": True}


def test_nothing_fails_on_the_way(seen):
    assert seen["troubles"] == []
