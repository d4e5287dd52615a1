"""Read a set file: YAML text to plain data that remembers where each value stood.

Only plain YAML is read: no tags that make objects, no anchors (a few lines of them can grow into
gigabytes), nothing nested deeper than `DEEPEST` (the reader would recurse, and slow down with the square
of the depth), no file above `LARGEST_SET`. Every complaint carries file, line and column.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

import yaml

LARGEST_SET = 200_000
# A set's own parts go six deep.
DEEPEST = 12
# Our own sets have a tenth; the time to read a file grows with them.
MOST_PARTS = 10_000
MOST_COMPLAINTS = 100


@dataclass(frozen=True)
class Complaint:
    """What is wrong in a file, where, and what to do. Lines and columns count from 1."""

    file: str
    line: int
    column: int
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.message}"


class SetError(ValueError):
    """A set file that cannot be used; `complaints` lists what was found, in file order."""

    def __init__(self, complaints: Iterable[Complaint]) -> None:
        found = sorted(complaints, key=lambda c: (c.line, c.column))
        self.complaints = found[:MOST_COMPLAINTS]
        if len(found) > MOST_COMPLAINTS:
            more = "From here on there is more to put right. Begin with what stands above."
            self.complaints[-1] = replace(self.complaints[-1], message=more)
        super().__init__("\n".join(map(str, self.complaints)))


@dataclass(frozen=True)
class Entry:
    """A value of the file and its place. `value` is text, a list or a dict of entries."""

    value: str | list[Entry] | dict[str, Entry]
    line: int
    column: int
    keys: dict[str, tuple[int, int]] = field(default_factory=dict, compare=False)

    @property
    def text(self) -> str:
        return self.value if isinstance(self.value, str) else ""


def parse(text: str, file: str) -> Entry:
    """Parse YAML into entries. Raises SetError for what is not plain, well-formed YAML."""
    if len(text) > LARGEST_SET:
        raise SetError(
            [
                Complaint(
                    file, 1, 1, f"This file is larger than {LARGEST_SET} characters. Split the set."
                )
            ]
        )
    try:
        depth = 0
        for number, event in enumerate(yaml.parse(text, Loader=yaml.SafeLoader)):
            depth += isinstance(event, yaml.CollectionStartEvent)
            depth -= isinstance(event, yaml.CollectionEndEvent)
            refused = _refused(event, depth, number)
            if refused:
                mark = event.start_mark
                raise SetError([Complaint(file, mark.line + 1, mark.column + 1, refused)])
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.MarkedYAMLError as error:
        raise SetError([_from_yaml(error, file)]) from None
    # PyYAML lets an escape such as \\UFFFFFFFF fall through to `chr`.
    except (yaml.YAMLError, RecursionError, ValueError, OverflowError) as error:
        if isinstance(error, SetError):
            raise
        raise SetError(
            [
                Complaint(
                    file,
                    1,
                    1,
                    "This is not a text file that YAML can read. Save it as UTF-8 text, with no deep nesting.",
                )
            ]
        ) from None
    if root is None:
        raise SetError([Complaint(file, 1, 1, "The file is empty. Start with “title:”.")])
    complaints: list[Complaint] = []
    entry = _entry(root, file, complaints)
    if complaints:
        raise SetError(complaints)
    return entry


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


def _from_yaml(error: yaml.MarkedYAMLError, file: str) -> Complaint:
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    message = f"YAML cannot read this: {error.problem or error.context}."
    if "mapping values are not allowed" in message:
        message += " A colon inside a sentence needs quotes around the sentence."
    elif "\\t" in message or "cannot start any token" in message:
        message += " Indent with spaces, and put text that starts with a sign in quotes."
    else:
        message += " Look at the indent and the quotes on this line and the one above."
    return Complaint(file, line, column, message)


def _entry(node: yaml.Node, file: str, complaints: list[Complaint]) -> Entry:
    line, column = node.start_mark.line + 1, node.start_mark.column + 1
    if isinstance(node, yaml.SequenceNode):
        return Entry([_entry(child, file, complaints) for child in node.value], line, column)
    if isinstance(node, yaml.MappingNode):
        found: dict[str, Entry] = {}
        keys: dict[str, tuple[int, int]] = {}
        for key, value in node.value:
            name = str(key.value) if isinstance(key, yaml.ScalarNode) else ""
            place = key.start_mark.line + 1, key.start_mark.column + 1
            if name in found:
                complaints.append(Complaint(file, *place, f"“{name}” stands twice here. Keep one."))
            found[name], keys[name] = _entry(value, file, complaints), place
        return Entry(found, line, column, keys)
    return Entry(node.value, line, column)


def near(word: str, known: Iterable[str]) -> list[str]:
    """The known word that this one is almost, if there is one."""
    return difflib.get_close_matches(word, list(known), n=1)


def nearest(word: str, known: Iterable[str]) -> str:
    """``Did you mean “…”?`` for a word that is almost one of the known ones, else the list."""
    known = list(known)
    found = near(word, known)
    return f"Did you mean “{found[0]}”?" if found else f"Known here: {', '.join(known)}."
