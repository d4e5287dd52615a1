"""Repairs the theme's HTML for screen readers and keyboards: accessible names and correct roles."""

from __future__ import annotations

from bs4 import BeautifulSoup, Tag

from docs.build.tree import tags

# The theme names each colour scheme's radio button by the other scheme, as its icon's hint is.
SCHEMES = {"default": "Light page", "slate": "Dark page"}


def repair(soup: BeautifulSoup) -> None:
    """Change a page of the theme in place."""
    for tag in list(tags(soup)):
        _REPAIRS.get(tag.name, _leave)(tag)


def _leave(tag: Tag) -> None:
    pass


def _search_box(tag: Tag) -> None:
    # It is open in the header, so it is no dialog. The box inside has its own role.
    if tag.get("role") == "dialog" and "md-search" in tag.get("class", ()):
        del tag["role"]


def _scheme_button(tag: Tag) -> None:
    if "md-option" in tag.get("class", ()) and "data-md-color-scheme" in tag.attrs:
        tag["aria-label"] = SCHEMES[str(tag["data-md-color-scheme"])]


def _neighbour(tag: Tag) -> None:
    # They serve the theme's shortcuts of one letter, which page/by-keyboard.js holds back; Firefox
    # fetches the next page for them unasked.
    if not {"next", "prev"}.isdisjoint(tag.get("rel", ())):
        tag.decompose()


_REPAIRS = {"div": _search_box, "input": _scheme_button, "link": _neighbour}
