"""Use the site's search as a reader does: type, and read the list."""

import re
from urllib.parse import urlsplit

from playwright.sync_api import expect


def open_search(page, address):
    """Go to the start page and into the search field."""
    page.goto(address)
    page.locator(".md-search__input").click()


def first_hits(page, query, count=3):
    """The addresses of the first pages in the list for a query, from the site's start."""
    field = page.locator(".md-search__input")
    told = page.locator(".md-search-result__meta")
    field.fill("")
    field.press("Shift")
    expect(told).to_have_text("Type to start searching")
    field.fill(query)
    field.press("Shift")
    # The list is filled in the same moment.
    expect(told).to_have_text(re.compile("matching"))
    links = page.locator(".md-search-result__item > .md-search-result__link:first-child")
    return [
        urlsplit(link).path.lstrip("/")
        for link in links.evaluate_all("links => links.map(link => link.href)")[:count]
    ]
