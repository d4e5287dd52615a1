"""Use the site's search as a reader does: type, and read the list."""

from urllib.parse import urlsplit


def open_search(page, address):
    """Go to the start page and into the search field."""
    page.goto(address)
    page.locator(".md-search__input").click()


def first_hits(page, query, count=3):
    """The addresses of the first pages in the list for a query, from the site's start."""
    field = page.locator(".md-search__input")
    asked = page.locator(".md-search-result__meta")
    field.fill("")
    field.press("Shift")
    page.wait_for_function("() => !document.querySelector('.md-search-result__item')")
    field.fill(query)
    field.press("Shift")
    page.wait_for_function(
        "() => document.querySelector('.md-search-result__item')"
        " || /^No/.test(document.querySelector('.md-search-result__meta').textContent.trim())"
    )
    assert asked.text_content()
    links = page.locator(".md-search-result__item > .md-search-result__link:first-child")
    return [
        urlsplit(link).path.lstrip("/")
        for link in links.evaluate_all("links => links.map(link => link.href)")[:count]
    ]
