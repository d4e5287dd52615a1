"""A page as Beautiful Soup's tree, and what our own functions made as a piece of one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from xml.etree.ElementTree import Element

from bs4 import BeautifulSoup, Tag
from bs4.element import PageElement


def read(html: str) -> BeautifulSoup:
    """The tree of a page."""
    return BeautifulSoup(html, "html.parser")


def grown(elements: Iterable[Element]) -> BeautifulSoup:
    """The tree of what our own functions made: it need not be written and read first."""
    soup = read("")
    for each in elements:
        _grow(soup, soup, each)
    return soup


def tags(under: Tag) -> Iterator[Tag]:
    """Every tag under one, in order, as the tree is now."""
    waiting: list[PageElement] = under.contents[::-1]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Tag):
            yield one
            waiting += one.contents[::-1]


def _grow(soup: BeautifulSoup, parent: Tag, one: Element) -> None:
    # As a reader of HTML gives names.
    tag = soup.new_tag(one.tag.lower(), attrs={key.lower(): each for key, each in one.items()})
    parent.append(tag)
    if one.text:
        tag.append(one.text)
    for child in one:
        _grow(soup, tag, child)
    if one.tail:
        parent.append(one.tail)
