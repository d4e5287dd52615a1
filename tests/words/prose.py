"""The project's prose, as passages that remember their place: from pages, code and problem sets."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from exercises.setfile import Entry, parse

ROOT = Path(__file__).resolve().parents[2]

# Stands for what is no word: code, a number that the program fills in.
BLANK = "0"
BREAK = "\x00"
# A line for the search: the words that readers type, however they spell them.
AS_TYPED = "Other words for this:"


@dataclass(frozen=True)
class Passage:
    """A block of text. `kind` is "prose", "label" (a heading, a cell, a list of words) or "source".

    A line break in `text` is one in the file, so that a word's line can be found.
    """

    file: str
    line: int
    text: str
    kind: str = "prose"

    def line_of(self, position: int) -> int:
        """The line of the file in which a place of the text is."""
        return self.line + self.text.count("\n", 0, position)


def passages(file: Path) -> list[Passage]:
    """Everything a reader of the site may read from one file."""
    name = (
        file.resolve().relative_to(ROOT).as_posix()
        if file.resolve().is_relative_to(ROOT)
        else str(file)
    )
    return list(_passages(file.suffix, file.read_text("utf-8"), name))


@cache
def _passages(suffix: str, text: str, name: str) -> tuple[Passage, ...]:
    """The words of a text, read once for all that is asked of them."""
    return tuple(READERS[suffix](text, name))


# Markdown. Every change keeps the line breaks where they were.

_BLOCK_TAG = re.compile(
    r"</?(?:[a-z]+-[a-z-]+|p|div|section|details|summary|figure|figcaption|svg|text|title|desc|g|rect|"
    r"path|circle|line|polyline|polygon|ul|ol|li|dl|dt|dd|table|caption|thead|tbody|tr|td|th|h[1-6]|"
    r"button|form|input|label|hr|img|a(?= class=\"md-button))\b[^>]*>",
    re.S,
)
_STARTS = re.compile(
    r"\s*(?:(?P<label>#+\s)|(?P<note>(?:!!!|\?\?\?\+?)\s+[\w\s-]*)|[-*+]\s+|\d+[.)]\s+|:\s{1,3}|>\s?)"
)


def _markdown(text: str, file: str) -> Iterator[Passage]:
    text = _front_matter(text)
    for pattern, by in (
        (r"^( *)```.*?^\1```", ""),
        (r"<!--.*?-->", ""),
        (r"<(script|style|pre|code)\b.*?</\1>", BLANK),
        (r"<(\w+) lang=\"[^\"]+\">.*?</\1>", BLANK),
        (r"`[^`\n]+`", BLANK),
        (r"!\[([^\]]*)\]\([^)]*\)", rf"{BREAK}\1{BREAK}"),
        (r"\[([^\]]*)\]\([^)]*\)", r"\1"),
        (r"\s?\{\s*[:#.][^}]*\}", ""),
        (r"https?://\S+|\bdoi:? ?10\.\S+|\b10\.\d{4,}/\S+", BLANK),
    ):
        text = re.sub(pattern, lambda found, by=by: _keep_lines(found, by), text, flags=re.S | re.M)
    text = _BLOCK_TAG.sub(lambda found: _keep_lines(found, BREAK), text)
    text = re.sub(
        r"</?[a-zA-Z][^>]*>|\*+|(?<!\w)_+|_+(?!\w)|\\(?=\W)",
        lambda found: _keep_lines(found, ""),
        text,
    )
    in_sources = Path(file).name == "sources.md"
    for line, block, kind in _blocks(text):
        if kind == "heading":
            in_sources = block.strip() == "Sources" or Path(file).name == "sources.md"
            kind = "label"
        for offset, piece in _pieces(block):
            if re.search(r"[A-Za-z]", piece) and not piece.lstrip().startswith(AS_TYPED):
                yield Passage(
                    file,
                    line + block.count("\n", 0, offset),
                    piece,
                    "source" if in_sources else kind,
                )


def _keep_lines(found: re.Match[str], by: str) -> str:
    return found.expand(by) + "\n" * (found.group().count("\n") - found.expand(by).count("\n"))


def _front_matter(text: str) -> str:
    """Leave the title and the description, each as a paragraph of its own."""
    found = re.match(r"---\n(.*?\n)---\n", text, re.S)
    if not found:
        return text
    kept = []
    for line in found.group(1).splitlines():
        key, _, value = line.partition(": ")
        kept.append(f"{BREAK}{value}{BREAK}" if key in ("title", "description") else "")
    return "\n".join(["", *kept, "", ""]) + text[found.end() :]


def _blocks(text: str) -> Iterator[tuple[int, str, str]]:
    """First line, text and kind of each paragraph, item, heading and table row."""
    block: list[str] = []
    first, kind = 1, "prose"
    for number, line in enumerate([*text.split("\n"), ""], start=1):
        start = _STARTS.match(line)
        row = line.lstrip().startswith("|")
        if block and (not line.strip() or start or row or kind != "prose"):
            yield first, "\n".join(block), kind
            block = []
        if not line.strip():
            kind = "prose"
            continue
        if not block:
            first = number
            kind = "prose"
        if row:
            block, kind = [line.replace("|", BREAK)], "label"
        elif start:
            block = [line[start.end() :].strip('"') if start["note"] else line[start.end() :]]
            kind = "heading" if start["label"] else "label" if start["note"] else "prose"
        else:
            block.append(line)


def _pieces(block: str) -> Iterator[tuple[int, str]]:
    place = 0
    for piece in block.split(BREAK):
        yield place, piece
        place += len(piece) + 1


# Python: what the code prints is in its string literals.

_CODE = re.compile(
    r"dw-|md-|import |print\(|^\s*[\w.-]+\s*[=(\[{]|\w\(|[\[\]{}]|</|:\w+;|^[a-z]+(?: [a-z-]+)?:[a-z]|&\w+;|<[\w?]|https?:|-src|^\s*- id:|\\[bdws]|\w_\w|--\w|\w/\w+\.|^[\w ,]*,$"
)


def _python(text: str, file: str) -> Iterator[Passage]:
    waiting: list[ast.AST] = [ast.parse(text)]
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.JoinedStr):
            printed = "".join(
                part.value if isinstance(part, ast.Constant) else BLANK for part in node.values
            )
            yield from _printed(printed, file, node.lineno)
        elif isinstance(node, ast.Constant):
            if isinstance(node.value, str):
                yield from _printed(node.value, file, node.lineno)
        elif not _is_silent(node):
            waiting += ast.iter_child_nodes(node)


def _is_silent(node: ast.AST) -> bool:
    """Docstrings, names of classes and of attributes: nothing a reader reads."""
    match node:
        case ast.Expr(value=ast.Constant()):
            return True
        case ast.Assign(targets=targets):
            return any(isinstance(each, ast.Name) and each.id in _NOT_PROSE for each in targets)
        case ast.keyword(arg=name):
            return (name or "").rstrip("_") in _ATTRIBUTES
    return False


# Words that readers type to find something; invented names.
_NOT_PROSE = {"STUDENTS", "AS_HEADED"}
_ATTRIBUTES = {
    "class",
    "id",
    "for",
    "accept",
    "content",
    "media",
    "style",
    "d",
    "points",
    "headers",
}


# A journal, then a title in quotation marks.
_CITATION = re.compile(r", “[^”]+”$")
# A law's own words are not ours to make plain.
QUOTED = {"calc/allergens.py"}


def _printed(text: str, file: str, line: int) -> Iterator[Passage]:
    """The lines of a literal that a reader reads; short ones are names, odd ones are code."""
    for piece in text.splitlines():
        if len(re.findall(r"[A-Za-z’']+(?=\s|\W*$)", piece)) >= 3 and not _CODE.search(piece):
            cited = file in QUOTED or _CITATION.search(piece)
            kind = "source" if cited else "prose" if _ends(piece) else "label"
            yield Passage(file, line, piece, kind)


# JavaScript: string literals outside comments.

_SCRIPT_PARTS = re.compile(
    r"/\*.*?\*/|//[^\n]*|\"(?:[^\"\\\n]|\\.)*\"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`", re.S
)


def _script(text: str, file: str) -> Iterator[Passage]:
    for found in _SCRIPT_PARTS.finditer(text):
        if found.group()[0] in "\"'`":
            printed = re.sub(r"\$\{[^}]*\}", BLANK, found.group()[1:-1])
            yield from _printed(printed, file, 1 + text.count("\n", 0, found.start()))


# Problem sets: what a student reads is under these keys.

_READ = {
    "title",
    "about",
    "story",
    "label",
    "choices",
    "because",
    "note",
    "unit",
    "says",
    "text",
    "question",
}


def _problem_set(text: str, file: str) -> Iterator[Passage]:
    def walk(entry: Entry, key: str) -> Iterator[Passage]:
        if isinstance(entry.value, dict):
            for name, inner in entry.value.items():
                yield from walk(inner, name)
        elif isinstance(entry.value, list):
            for inner in entry.value:
                yield from walk(inner, key)
        elif key in _READ:
            told = re.sub(r"\{[^}]*\}", BLANK, entry.text).strip()
            yield Passage(
                file, entry.line, " ".join(told.split()), "prose" if _ends(told) else "label"
            )

    yield from walk(parse(text, file), "")


def _ends(text: str) -> bool:
    return bool(re.search(r"[.!?:][\"”’)]*\s*$", text))


READERS = {
    ".md": _markdown,
    ".py": _python,
    ".js": _script,
    ".yml": _problem_set,
}
