"""A page as Beautiful Soup's tree, read and written in a fifth of the time that its own reader takes.

The tree is the same, and so is its text: only less is asked on the way. What is read
here was written by MkDocs, by the theme or by us, so a tag is a tag; a browser's rules for broken HTML are not needed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from html import unescape
from xml.etree.ElementTree import Element

from bs4 import BeautifulSoup, Tag
from bs4.builder import HTMLTreeBuilder
from bs4.element import Comment, Doctype, NavigableString, PageElement

_TOKEN = re.compile(
    r"<!--(?P<comment>.*?)-->|<!doctype\s+(?P<doctype>[^>]*)>|</(?P<end>[a-z][^\s>]*)\s*>"
    r"""|<(?P<start>[a-z][^\s/>]*)(?P<attrs>(?:[^<>"']|"[^"]*"|'[^']*')*)>""",
    re.IGNORECASE | re.DOTALL,
)
_ATTRIBUTE = re.compile(
    r"""([^\s"'<>/=]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s"'<>`]+)))?""", re.DOTALL
)
_SPECIAL = re.compile("[&<>]")
_BUILDER = HTMLTreeBuilder()
# Of those whose value is a list of words, the ones that pages of ours have.
_LISTED = ("class", "rel")
_VOID = _BUILDER.empty_element_tags
_AS_IT_IS = _BUILDER.preserve_whitespace_tags
_STRINGS = _BUILDER.string_containers
RAW = ("script", "style")
ASCII_SPACES = " \n\t\f\r"


def read(html: str) -> BeautifulSoup:
    """The tree of a page."""
    growing = _Growing()
    place = 0
    while found := _TOKEN.search(html, place):
        if found.start() > place:
            growing.text(unescape(html[place : found.start()]))
        place = found.end()
        if name := found["start"]:
            name = name.lower()
            growing.start(name, _attributes(found["attrs"]))
            if name in RAW:
                end = html.find(f"</{name}", place)
                growing.text(html[place:end])
                place = end
        elif name := found["end"]:
            growing.end(name.lower())
        elif found["comment"] is not None:
            growing.add(Comment(found["comment"]))
        else:
            growing.add(Doctype(found["doctype"]))
    growing.text(unescape(html[place:]))
    return growing.soup


def grown(elements: Iterable[Element]) -> BeautifulSoup:
    """The tree of what our own functions made: as reading its text, but it need not be written first."""
    growing = _Growing()
    for each in elements:
        _grow(growing, each)
    return growing.soup


def written(soup: Tag) -> str:
    """The HTML of a tree, as `str` gives it."""
    pieces: list[str] = []
    _write(soup.contents, pieces)
    return "".join(pieces)


def tags(under: Tag) -> Iterator[Tag]:
    """Every tag under one, in order, as the tree is now."""
    waiting: list[PageElement] = under.contents[::-1]
    while waiting:
        one = waiting.pop()
        if isinstance(one, Tag):
            yield one
            waiting += one.contents[::-1]


class _Growing:
    """A tree that grows at its end."""

    def __init__(self) -> None:
        self.soup = BeautifulSoup("", "html.parser")
        self._last: PageElement = self.soup
        self._open: list[Tag] = [self.soup]
        self._kinds: dict[str, dict] = {}
        self._verbatim = 0

    def add(self, one: PageElement) -> None:
        """A text or a tag, after all that is there."""
        parent, last = self._open[-1], self._last
        beside = parent.contents[-1] if parent.contents else None
        one.parent, one.previous_element, one.previous_sibling = parent, last, beside
        last.next_element = self._last = one
        if beside is not None:
            beside.next_sibling = one
        parent.contents.append(one)

    def start(self, name: str, attributes: Mapping[str, str]) -> None:
        tag = Tag.__new__(Tag)
        tag.__dict__.update(self._kind(name))
        tag.attrs = tag.attrs.__class__(attributes)
        for listed in _LISTED:
            if listed in attributes:
                tag.attrs[listed] = attributes[listed].split()
        tag.contents = []
        self.add(tag)
        if name not in _VOID:
            self._open.append(tag)
            self._verbatim += name in _AS_IT_IS

    def _kind(self, name: str) -> dict:
        """What all tags of a name have alike: most of the time that a tag takes is spent on asking that."""
        if name not in self._kinds:
            self._kinds[name] = self.soup.new_tag(name).__dict__
        return self._kinds[name]

    def text(self, text: str) -> None:
        if not text:
            return
        if not self._verbatim and not text.strip(ASCII_SPACES):
            text = "\n" if "\n" in text else " "
        self.add(_STRINGS.get(self._open[-1].name, NavigableString)(text))

    def end(self, name: str) -> None:
        """Close a tag and all that is open in it; an end without a beginning is passed over."""
        for place in range(len(self._open) - 1, 0, -1):
            if self._open[place].name == name:
                self._verbatim -= sum(tag.name in _AS_IT_IS for tag in self._open[place:])
                del self._open[place:]
                return


@lru_cache(maxsize=10_000)
def _attributes(text: str) -> dict[str, str]:
    """The attributes in a tag. A theme writes the same ones again and again."""
    found = _ATTRIBUTE.findall(text)
    return {name.lower(): unescape("".join(values)) for name, *values in found}


def _grow(growing: _Growing, one: Element) -> None:
    name = one.tag.lower()
    growing.start(name, {key.lower(): value for key, value in one.items()})
    growing.text(one.text or "")
    for child in one:
        _grow(growing, child)
    growing.end(name)
    growing.text(one.tail or "")


def _write(contents: list[PageElement], pieces: list[str]) -> None:
    for one in contents:
        if isinstance(one, Tag):
            pieces.append(f"<{one.name}{_written_attributes(one.attrs)}")
            if one.name in _VOID:
                pieces.append("/>")
                continue
            pieces.append(">")
            _write(one.contents, pieces)
            pieces.append(f"</{one.name}>")
        elif type(one) is NavigableString:
            pieces.append(_escaped(one))
        else:
            pieces.append(one.output_ready("minimal"))


def _escaped(text: str) -> str:
    if _SPECIAL.search(text):
        text = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return text


def _written_attributes(attributes: dict[str, str | list[str]]) -> str:
    return "".join(f" {name}={_quoted(attributes[name])}" for name in sorted(attributes))


def _quoted(value: str | list[str]) -> str:
    text = _escaped(" ".join(value) if isinstance(value, list) else value)
    if '"' not in text:
        return f'"{text}"'
    return f"'{text}'" if "'" not in text else '"' + text.replace('"', "&quot;") + '"'
