"""The texts of a page, in order, without those of some tags."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from docs.build.tree import Tag


def texts(tag: Tag, is_away: Callable[[Tag], bool]) -> Iterator[str]:
    """The texts within a tag, without those in a tag under it that `is_away`."""
    if tag.text:
        yield tag.text
    for child in tag:
        # A comment's tag is no name.
        if isinstance(child.tag, str) and not is_away(child):
            yield from texts(child, is_away)
        if child.tail:
            yield child.tail
