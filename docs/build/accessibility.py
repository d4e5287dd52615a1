"""Repairs the theme's HTML for screen readers and keyboards: accessible names and correct roles."""

from __future__ import annotations

from bs4 import BeautifulSoup

# The theme names each colour scheme's radio button by the other scheme, as its icon's hint is.
SCHEMES = {"default": "Light page", "slate": "Dark page"}


def repair(soup: BeautifulSoup) -> None:
    """Change a page of the theme in place."""
    for search in soup.select(".md-search[role=dialog]"):
        # The search box is open in the header, so it is no dialog. The box inside has its own role.
        del search["role"]
    for button in soup.select("input.md-option[data-md-color-scheme]"):
        button["aria-label"] = SCHEMES[str(button["data-md-color-scheme"])]
    for link in soup.select("link[rel~=next], link[rel~=prev]"):
        # They serve the theme's shortcuts of one letter, which page/by-keyboard.js holds back; Firefox
        # fetches the next page for them unasked.
        link.decompose()
    for label in soup.select('label[tabindex=""]'):
        del label["tabindex"]
