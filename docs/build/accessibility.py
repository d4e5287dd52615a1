"""Repairs the theme's HTML for screen readers and keyboards: accessible names and correct roles."""

from __future__ import annotations

from bs4 import BeautifulSoup

# The theme names each colour scheme's radio button by the other scheme, as its icon's hint is.
SCHEMES = {"default": "Light page", "slate": "Dark page"}


def repair(soup: BeautifulSoup) -> None:
    """Change a page of the theme in place."""
    for search in soup.find_all("div"):
        # The search box is open in the header, so it is no dialog. The box inside has its own role.
        if search.get("role") == "dialog" and "md-search" in search.get("class", ()):
            del search["role"]
    for button in soup.find_all("input"):
        if "md-option" in button.get("class", ()) and "data-md-color-scheme" in button.attrs:
            button["aria-label"] = SCHEMES[str(button["data-md-color-scheme"])]
    for link in soup.find_all("link"):
        # They serve the theme's shortcuts of one letter, which page/by-keyboard.js holds back; Firefox
        # fetches the next page for them unasked.
        if not {"next", "prev"}.isdisjoint(link.get("rel", ())):
            link.decompose()
    for label in soup.find_all("label"):
        if label.get("tabindex") == "":
            del label["tabindex"]
