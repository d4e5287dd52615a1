"""The texts of a page, in order: a search with selectors takes many times as long on a page of thousands of tags."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bs4 import Tag
from bs4.element import NavigableString, PageElement


def texts(tag: Tag, is_away: Callable[[Tag], bool]) -> Iterator[NavigableString]:
    """The texts within a tag, without those in a tag under it that `is_away`."""
    waiting: list[PageElement] = tag.contents[::-1]
    while waiting:
        one = waiting.pop()
        if isinstance(one, NavigableString):
            yield one
        elif isinstance(one, Tag) and not is_away(one):
            waiting += one.contents[::-1]
