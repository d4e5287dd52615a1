"""Read a set file: YAML text to plain data that remembers where each value stood.

Only plain YAML is read: no tags that make objects, no anchors (a few lines of them can grow into
gigabytes), nothing nested deeper than `DEEPEST` (the reader would recurse, and slow down with the square
of the depth), no file above `LARGEST_SET`. Every complaint carries file, line and column.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

import yaml

from exercises import yaml_slips, yaml_write

LARGEST_SET = 200_000
# A set's own parts go six deep.
DEEPEST = 12
# Our own sets have a tenth as many; the more parts, the longer a file takes to read.
MOST_PARTS = 10_000
MOST_COMPLAINTS = 100

# The names and numbers that lead to a value: ("problems", 0, "title").
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Complaint:
    """What is wrong in a file, where, and what to do. Lines and columns count from 1.

    `path` leads to the value that it is about, where the file could be read so far.
    """

    file: str
    line: int
    column: int
    message: str
    path: Path = field(default=(), compare=False)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.message}"


class SetError(ValueError):
    """A set file that cannot be used; `complaints` lists what was found, in file order."""

    def __init__(self, complaints: Iterable[Complaint]) -> None:
        found = sorted(complaints, key=lambda c: (c.line, c.column))
        self.complaints = found[:MOST_COMPLAINTS]
        if len(found) > MOST_COMPLAINTS:
            more = "From here on there is more to put right. Begin with what is above."
            self.complaints[-1] = replace(self.complaints[-1], message=more)
        super().__init__("\n".join(map(str, self.complaints)))


@dataclass(frozen=True)
class Entry:
    """A value of the file and its place. `value` is text, a list or a dict of entries.

    `comma` is the complaint about a list of numbers in which a decimal comma parts one in two. An
    `absent` one stands for a part that is not there, and was complained of.
    """

    value: str | list[Entry] | dict[str, Entry]
    line: int
    column: int
    keys: dict[str, tuple[int, int]] = field(default_factory=dict, compare=False)
    comma: Complaint | None = field(default=None, compare=False)
    path: Path = field(default=(), compare=False)
    absent: bool = field(default=False, compare=False)

    @property
    def text(self) -> str:
        return self.value if isinstance(self.value, str) else ""

    @property
    def plain(self) -> str | list | dict:
        """The value as plain data, without places."""
        if isinstance(self.value, dict):
            return {name: one.plain for name, one in self.value.items()}
        return [one.plain for one in self.value] if isinstance(self.value, list) else self.value

    def part(self, *path: str | int) -> Entry | None:
        """The value at a path from here, if there is one."""
        found: Entry | None = self
        for step in path:
            inside = found.value
            if isinstance(inside, dict):
                found = inside.get(step)
            else:
                fits = isinstance(inside, list) and isinstance(step, int) and step < len(inside)
                found = inside[step] if fits else None
            if found is None:
                return None
        return found


def parse(text: str, file: str, known: Collection[str] = ()) -> Entry:
    """Parse YAML into entries; `known` are the names of parts, for better messages.

    Raises SetError for what is not plain, well-formed YAML.
    """
    complaints: list[Complaint] = []
    entry = _entry(composed(text, file, known), file, complaints, ())
    if complaints:
        raise SetError(complaints)
    return entry


def composed(text: str, file: str, known: Collection[str] = ()) -> yaml.Node:
    """YAML's own nodes, which know where in the text they begin and end. Raises SetError as `parse`."""
    larger = f"This file is larger than {LARGEST_SET} characters. Split the set."
    refused = larger if len(text) > LARGEST_SET else yaml_slips.document(text[:100])
    if refused:
        raise SetError([Complaint(file, 1, 1, refused)])
    try:
        root = _nodes(text)
    except _Refused as refusal:
        mark = refusal.mark
        raise SetError([Complaint(file, mark.line + 1, mark.column + 1, str(refusal))]) from None
    except yaml.MarkedYAMLError as error:
        row, column, says = yaml_slips.told(error, text, known)
        raise SetError([Complaint(file, row + 1, column + 1, says)]) from None
    # PyYAML lets an escape such as \\UFFFFFFFF fall through to `chr`.
    except (yaml.YAMLError, RecursionError, ValueError, OverflowError):
        says = "This is not a text file that YAML can read. Save it as UTF-8 text, with no deep nesting."
        raise SetError([Complaint(file, 1, 1, says)]) from None
    if root is None:
        raise SetError([Complaint(file, 1, 1, "The file is empty. Start with “title:”.")])
    return root


@lru_cache(maxsize=4)
def _nodes(text: str) -> yaml.Node | None:
    """Whoever changes, gives or checks a set looks at one text several times, and YAML reads slowly."""
    return yaml.compose(text, Loader=_PlainLoader)


class _Refused(Exception):
    """A part of YAML that is not read here, and where it begins."""

    def __init__(self, says: str, mark: yaml.Mark) -> None:
        super().__init__(says)
        self.mark = mark


class _PlainLoader(yaml.SafeLoader):
    """Raises _Refused at the first event that is not plain YAML, before more is built on it."""

    depth = number = 0

    def get_event(self) -> yaml.Event:
        event = super().get_event()
        self.depth += isinstance(event, yaml.CollectionStartEvent)
        self.depth -= isinstance(event, yaml.CollectionEndEvent)
        if refused := _refused(event, self.depth, self.number):
            raise _Refused(refused, event.start_mark)
        self.number += 1
        return event


def _refused(event: yaml.Event, depth: int, number: int) -> str:
    """What to do instead of a part of YAML that is not read here; empty for plain YAML."""
    if depth > DEEPEST:
        return "This is nested too deeply for a set."
    if number > MOST_PARTS:
        return "This file has too many parts for one set. Split the set."
    if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
        return "Anchors (& and *) are not read here. Write the value out, or put it in quotes."
    if getattr(event, "tag", None):
        return "Tags (!) are not read here. Leave the tag out, or put the text in quotes."
    return ""


def _decimal_comma(file: str, nodes: Iterable[yaml.Node]) -> Complaint | None:
    """YAML reads ``[62,50 %]`` as two entries; so the comma is between digits, with no space."""
    for one, two in pairwise(nodes):
        plain = all(isinstance(n, yaml.ScalarNode) and n.style is None for n in (one, two))
        if not plain or not (one.value[-1:].isdecimal() and two.value[:1].isdecimal()):
            continue
        end, start = one.end_mark, two.start_mark
        if (end.line, end.column + 1) == (start.line, start.column):
            whole, rest = one.value, two.value
            digits = re.match(r"\d+", rest)[0]
            says = (
                f"“{whole},{digits}” looks like a decimal comma. "
                f'Write "{whole},{rest}" in quotes, or {whole}.{rest}. '
                "Two numbers need a space after the comma."
            )
            return Complaint(file, one.start_mark.line + 1, one.start_mark.column + 1, says)
    return None


# A note in YAML is a # after a space. A teacher's note has a space after it too; “Rolls #2” is meant as text.
_CUT = re.compile(r"[ \t]+(?P<rest>#[^\s#].*)")


def _cut_short(file: str, node: yaml.ScalarNode) -> Complaint | None:
    """YAML takes what follows “ #” for a note, and would leave half of a title out without a word."""
    end = node.end_mark
    found = _CUT.match(end.buffer, end.pointer) if node.style is None else None
    if not found:
        return None
    rest = found["rest"].strip()
    whole = yaml_write.scalar(f"{node.value} {rest}".strip())
    says = (
        f"YAML leaves out “{rest}”: a # begins a note. If it belongs to the text, put the whole in quotes: "
        f"{whole}. If it is a note, write a space after the #."
    )
    column = end.column + 1 + found.start("rest") - end.pointer
    return Complaint(file, end.line + 1, column, says)


def _entry(node: yaml.Node, file: str, complaints: list[Complaint], path: Path) -> Entry:
    line, column = node.start_mark.line + 1, node.start_mark.column + 1
    if isinstance(node, yaml.SequenceNode):
        children = [
            _entry(child, file, complaints, (*path, number))
            for number, child in enumerate(node.value)
        ]
        comma = _decimal_comma(file, node.value)
        return Entry(children, line, column, comma=comma and replace(comma, path=path), path=path)
    if isinstance(node, yaml.MappingNode):
        found: dict[str, Entry] = {}
        keys: dict[str, tuple[int, int]] = {}
        comma = _decimal_comma(file, (each for pair in node.value for each in pair))
        if comma:
            complaints.append(replace(comma, path=path))
            return Entry({}, line, column, path=path)
        for key, value in node.value:
            name = str(key.value) if isinstance(key, yaml.ScalarNode) else ""
            place = key.start_mark.line + 1, key.start_mark.column + 1
            if name in found:
                complaints.append(
                    Complaint(file, *place, f"“{name}” appears twice here. Keep one.")
                )
            found[name] = _entry(value, file, complaints, (*path, name))
            keys[name] = place
        return Entry(found, line, column, keys, path=path)
    if cut := _cut_short(file, node):
        complaints.append(replace(cut, path=path))
    return Entry(node.value, line, column, path=path)


def near(word: str, known: Iterable[str]) -> list[str]:
    """The known word that this one is almost, if there is one."""
    return difflib.get_close_matches(word, list(known), n=1)


def nearest(word: str, known: Iterable[str]) -> str:
    """``Did you mean “…”?`` for a word that is almost one of the known ones, else the list."""
    known = list(known)
    found = near(word, known)
    return f"Did you mean “{found[0]}”?" if found else f"Known here: {', '.join(known)}."
