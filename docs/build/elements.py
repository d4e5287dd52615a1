"""The elements of ours in a page: each is known, gets only attributes that it reads, and is filled."""

from __future__ import annotations

import difflib
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from docs.build.error import BuildError
from docs.build.tree import Tag, classes, tags
from docs.build.tree import fill as fill_tag
from docs.course import BUILD_ONLY
from docs.parts import PARTS
from exercises.setfile import nearest

# Each element of ours, by its name in a page.
ELEMENTS = PARTS | BUILD_ONLY
# What HTML allows on every element, and Markdown's word for “read what is in here, too”.
GLOBAL = re.compile(r"id|class|hidden|lang|dir|title|markdown|(data|aria)-.+")
# What tools of others write without a hyphen is theirs; an element of ours that lost its hyphen is not.
_WITHOUT_HYPHENS = {name.replace("-", ""): name for name in ELEMENTS}


class Attributes(Mapping[str, str]):
    """An element's attributes, which remember the names that were asked for."""

    def __init__(self, given: Mapping[str, str]) -> None:
        self._given = given
        self.asked: set[str] = set()

    def __getitem__(self, name: str) -> str:
        self.asked.add(name)
        return self._given[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._given)

    def __len__(self) -> int:
        return len(self._given)

    def complain(self) -> None:
        """Raise ValueError at a name that nobody asked for: what it says would be lost."""
        for name in self._given:
            if name not in self.asked and not GLOBAL.fullmatch(name):
                raise ValueError(f"does not read “{name}”. {nearest(name, sorted(self.asked))}")


def fill_elements(page: Tag, file: Path, source: Path | None = None) -> None:
    """Fill every element of ours in a page.

    Raises BuildError for one that is not known or cannot be filled, at its line in `source`, the
    Markdown that the page was made from.
    """
    seen: Counter[str] = Counter()
    for tag in tags(page):
        seen[tag.tag] += 1
        if tag.tag in ELEMENTS:
            try:
                _fill(tag)
            except (ValueError, LookupError, OSError) as error:
                place = _place(file, source, tag.tag, seen[tag.tag])
                raise BuildError(f"{place}: <{tag.tag}> {error}") from error
        elif unknown := _unknown(tag.tag):
            raise BuildError(f"{_place(file, source, tag.tag, seen[tag.tag])}: {unknown}")


def _fill(tag: Tag) -> None:
    part = ELEMENTS[tag.tag]
    attributes = Attributes(dict(tag.attrib))
    made = list(part.build(attributes))
    attributes.complain()
    del tag[:]
    fill_tag(tag, made)
    card = ["dw-card"] if getattr(part, "card", False) else []
    tag.set("class", " ".join([*classes(tag), "dw-part", *card]))
    _unwrap(tag)


@cache
def _unknown(name: str) -> str | None:
    """What to say of an element that nobody fills: it would stay empty, and no one would know."""
    if "-" in name:
        return f"nothing is called <{name}>. {nearest(name, sorted(ELEMENTS))}"
    if meant := difflib.get_close_matches(name, _WITHOUT_HYPHENS, n=1, cutoff=0.85):
        return f"nothing is called <{name}>. Did you mean “{_WITHOUT_HYPHENS[meant[0]]}”?"
    return None


def _place(file: Path, source: Path | None, name: str, nth: int) -> str:
    """File and line of the nth element of a name."""
    if source is None or not source.is_file():
        return str(file)
    text = source.read_text("utf-8")
    starts = [found.start() for found in re.finditer(rf"<{re.escape(name)}\b", text)]
    line = f":{text.count(chr(10), 0, starts[nth - 1]) + 1}" if nth <= len(starts) else ""
    return f"{os.path.relpath(source)}{line}"


def _unwrap(part: Tag) -> None:
    """Markdown puts an element it does not know in a paragraph; a form cannot be in one."""
    parent = part.getparent()
    if parent is not None and parent.tag == "p":
        parent.drop_tag()
