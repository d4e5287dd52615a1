"""The tags of a page of the site: for what must be known of every page, a tree of each takes too long."""

from functools import cache
from html.parser import HTMLParser
from pathlib import Path


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self.scripts: list[tuple[dict[str, str], str]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, {name: value or "" for name, value in attrs}))
        if tag == "script":
            self.scripts.append((self.found[-1][1], ""))

    def handle_data(self, data: str) -> None:
        if self.cdata_elem == "script":
            attributes, text = self.scripts.pop()
            self.scripts.append((attributes, text + data))


@cache
def _read(file: Path) -> _Tags:
    reader = _Tags()
    reader.feed(file.read_text("utf-8"))
    return reader


def tags_of(file: Path) -> list[tuple[str, dict[str, str]]]:
    """The name and the attributes of each tag, in order."""
    return _read(file).found


def scripts_of(file: Path) -> list[tuple[dict[str, str], str]]:
    """The attributes and the text of each script."""
    return _read(file).scripts


@cache
def ids_of(file: Path) -> set[str]:
    """The places of a page that a link can lead to."""
    return {attributes["id"] for _, attributes in tags_of(file) if "id" in attributes}
