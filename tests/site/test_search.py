"""The theme's own search, in a real browser, asked as bakers ask.

The questions and the pages that should answer them are in `bakers_queries.tsv`. The search was
tuned on them, so they guard what works; they do not measure how it does on new questions.
"""

import json
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from playwright.sync_api import expect

from docs.build.search import INDEX
from tests.site.searching import first_hits, hits_of, open_search
from tests.site.test_pages import PAGES

QUERIES = [
    line.split("\t")
    for line in (Path(__file__).parent / "bakers_queries.tsv").read_text("utf-8").splitlines()
    if line and not line.startswith("#")
]


# What is asked, and the fields that the tool opens with.
SWAPS = {
    "kefir instead of milk": {"becomes": "kefir", "was": "whole-milk"},
    "1 cup buttermilk": {"becomes": "buttermilk", "was": "water", "part": "1 cup"},
    "½ cup yoghurts": {"becomes": "plain-yogurt", "was": "water", "part": "½ cup"},
    "replace water with buttermilk": {"becomes": "buttermilk", "was": "water"},
    "swap milk for crème fraîche": {"becomes": "creme-fraiche", "was": "whole-milk"},
    "300 g kefir instead of 120 g milk": {
        "becomes": "kefir", "was": "whole-milk", "have": "300 g", "liquid": "120 g",
    },
    "2 eggs instead of milk": {"becomes": "egg", "was": "whole-milk", "part": "2 eggs"},
    "recipe calls for water but I have milk": {"becomes": "whole-milk", "was": "water"},
    "how much water in milk": {},
    "1 cup flour": {},
    "buttermilk": {},
}  # fmt: skip


def test_every_lesson_and_tool_is_asked_for():
    lessons = {page for page in PAGES if page.startswith("lessons/") and page != "lessons/"}
    assert len(QUERIES) >= 60
    assert lessons <= {page for _, page in QUERIES}
    assert {page for _, page in QUERIES} <= set(PAGES)


def test_bakers_words_find_the_page_among_the_first_three(page, address):
    open_search(page, address)
    found = hits_of(page, [query for query, _ in QUERIES])
    missed = [
        f"“{query}” should find {wanted}; found {', '.join(hits) or 'nothing'}"
        for (query, wanted), hits in zip(QUERIES, found, strict=True)
        if wanted not in hits
    ]
    assert not missed, "\n" + "\n".join(missed)


def test_a_swap_that_is_asked_for_opens_the_tool_filled_in(page, address):
    """The arrow and return keys lead there too."""
    open_search(page, address)
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    hit = page.locator(".dw-swap-hit a")
    for query, fields in SWAPS.items():
        first_hits(page, query)
        asked = parse_qs(urlsplit(hit.get_attribute("href")).query) if hit.count() else {}
        assert {name: text[0] for name, text in asked.items()} == fields, query
    assert first_hits(page, "kefir instead of milk")[0] == "swap/"
    page.keyboard.press("ArrowDown")
    expect(hit).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text(
        "of kefir (whole milk) in place of the whole milk"
    )


def test_words_of_a_worked_example_are_found(page, address, site):
    """MkDocs never saw them: the build's last pass fills the parts."""
    docs = json.loads((site / INDEX).read_text("utf-8"))["docs"]
    texts = {doc["location"]: doc["text"].replace("\u00a0", " ") for doc in docs}
    section = "lessons/divide-by-the-water-content/#half-and-half"
    assert "220 g × 0.63 = 138.6 g" in texts[section]
    assert "Python" not in texts[section]
    open_search(page, address)
    assert "lessons/divide-by-the-water-content/" in first_hits(page, "138.6")


def test_a_slip_of_the_keyboard_is_forgiven(page, address):
    open_search(page, address)
    assert first_hits(page, "buttermlik") == []
    offer = page.get_by_role("link", name="Search for words spelt alike")
    offer.click()
    found = page.locator(".md-search-result__item").first
    expect(found).to_contain_text("buttermilk", ignore_case=True)
    expect(offer).to_be_hidden()
    assert first_hits(page, "xqz") == []
    expect(offer).to_be_hidden()


def test_where_nothing_is_found_what_is_near_is_offered(page, address):
    """By the keys that lead through the list, too; the table is asked for the same word."""
    open_search(page, address)
    assert first_hits(page, "zaatar") == []
    near = page.locator(".dw-no-hits li a")
    expect(page.locator(".dw-no-hits svg")).to_be_visible()
    assert urlsplit(near.nth(1).get_attribute("href")).query == "find=zaatar"
    for link in near.all():
        assert page.request.get(link.get_attribute("href")).ok
    page.keyboard.press("ArrowDown")
    expect(page.locator(".dw-no-hits a").first).to_be_focused()
    assert first_hits(page, "kefir")
    expect(page.locator(".dw-no-hits")).to_be_hidden()


def test_search_needs_no_network_once_the_page_is_there(page, newcomer, address):
    # Nothing else may want the network later: not the service worker, and not Python.
    page.add_init_script("delete Navigator.prototype.serviceWorker")
    open_search(page, address)
    assert first_hits(page, "poolish")
    expect(page.locator("html")).to_have_attribute("data-engine", "ready")
    # The page still fetches small scripts of its own, at its leisure.
    page.wait_for_load_state("networkidle")
    newcomer.set_offline(True)
    assert "lessons/dough-temperature/" in first_hits(page, "ice water")
    newcomer.set_offline(False)


def test_the_index_is_the_same_at_every_build(site):
    """Nothing in it depends on time or order: it is sorted by page, and holds each place once."""
    docs = json.loads((site / INDEX).read_text("utf-8"))["docs"]
    places = [doc["location"] for doc in docs]
    assert len(places) == len(set(places))
    assert {place.split("#")[0] for place in places} <= set(PAGES)


def test_words_that_are_pasted_are_searched_for(page, address):
    open_search(page, address)
    page.keyboard.insert_text("buttermilk")
    expect(page.locator(".md-search-result__item").first).to_contain_text(
        "buttermilk", ignore_case=True
    )
