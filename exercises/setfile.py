"""Read a set file: YAML text to plain data that remembers where each value stood.

Only plain YAML is read: no tags that make objects, no anchors (a few lines of them can grow into
gigabytes), nothing nested deeper than `DEEPEST` (the reader would recurse, and slow down with the square
of the depth), no file above `LARGEST_SET`. Every complaint carries file, line and column.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from itertools import pairwise

import yaml

LARGEST_SET = 200_000
# A set's own parts go six deep.
DEEPEST = 12
# Our own sets have a tenth of so many parts; the time to read a file grows with them.
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
            more = "From here on there is more to put right. Begin with what is above."
            self.complaints[-1] = replace(self.complaints[-1], message=more)
        super().__init__("\n".join(map(str, self.complaints)))


@dataclass(frozen=True)
class Entry:
    """A value of the file and its place. `value` is text, a list or a dict of entries.

    `comma` is the complaint about a list of numbers in which a decimal comma parts one in two.
    """

    value: str | list[Entry] | dict[str, Entry]
    line: int
    column: int
    keys: dict[str, tuple[int, int]] = field(default_factory=dict, compare=False)
    comma: Complaint | None = field(default=None, compare=False)

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
        raise SetError([_from_yaml(error, text, file)]) from None
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


_ALIGN = "This line is not under the one above: give both the same indent."
# A named part, and what follows its colon; a list's hyphen may stand before it.
_PART = re.compile(r"\s*(?:- +)?[A-Za-z][\w ]{0,40}:(?P<rest>.*)")


def _from_yaml(error: yaml.MarkedYAMLError, text: str, file: str) -> Complaint:
    """What YAML cannot read, told as what a teacher can mend."""
    mark = error.problem_mark or error.context_mark
    row, column = (mark.line, mark.column) if mark else (0, 0)
    problem = error.problem or error.context or ""
    lines = text.splitlines()
    line = lines[row] if row < len(lines) else ""
    # The reader often notices a slip only on the line after it.
    above = next((n for n in range(min(row, len(lines)) - 1, -1, -1) if lines[n].strip()), row)
    for number in (above, row):
        place = _missing_space(lines[number] if number < len(lines) else "")
        if place:
            says = f"A space is missing after the {place[0]}."
            return Complaint(file, number + 1, place[1], says)
    part = _PART.match(line)
    if "\\t" in problem:
        says = "There is a tab here. Use spaces."
    elif part and part["rest"].lstrip().startswith("{") and "<scalar>" in problem:
        says = "This text starts with a brace. Put it in quotes, or on lines of its own after |."
    elif "mapping values are not allowed" in problem:
        begins = re.fullmatch(r"\s*(?:- +)?[A-Za-z]\w*(?: \w+){0,2}", line[:column])
        says = _ALIGN if begins else "A colon inside a sentence needs quotes around the sentence."
        column = len(line) - len(line.lstrip()) if begins else column
    elif part and problem.startswith("expected <block end>"):
        says = _ALIGN
    elif "end of stream" in problem and error.context_mark:
        row, column = error.context_mark.line, error.context_mark.column
        says = "These quotes are opened and never closed."
    elif "cannot start any token" in problem:
        says = f"Text cannot start with {line[column : column + 1]} here. Put it in quotes."
    elif "expected ',' or" in problem and error.context_mark and error.context_mark.line < row:
        row, column = error.context_mark.line, error.context_mark.column
        says = f"This bracket is opened and never closed. Add {problem[17:18]} at its end."
    else:
        says = f"YAML cannot read this: {problem}. Look at the indent and the quotes on this line and the one above."
    return Complaint(file, row + 1, column + 1, says)


def _missing_space(line: str) -> tuple[str, int] | None:
    """The sign after which a line lacks a space, and the column for the space."""
    hyphen = re.match(r"\s*-(?=[a-z][\w ]*:)", line)
    if hyphen:
        return "hyphen", hyphen.end() + 1
    part = _PART.match(line)
    if part and re.match(r"[^\s:/]", part["rest"]):
        return "colon", part.start("rest") + 1
    return None


def _decimal_comma(file: str, nodes: Iterable[yaml.Node]) -> Complaint | None:
    """YAML reads ``[62,50 %]`` as two entries; so the comma is between digits, with no space."""
    for one, two in pairwise(nodes):
        plain = all(isinstance(n, yaml.ScalarNode) and n.style is None for n in (one, two))
        if not plain or not (one.value[-1:].isdigit() and two.value[:1].isdigit()):
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


def _entry(node: yaml.Node, file: str, complaints: list[Complaint]) -> Entry:
    line, column = node.start_mark.line + 1, node.start_mark.column + 1
    if isinstance(node, yaml.SequenceNode):
        children = [_entry(child, file, complaints) for child in node.value]
        return Entry(children, line, column, comma=_decimal_comma(file, node.value))
    if isinstance(node, yaml.MappingNode):
        found: dict[str, Entry] = {}
        keys: dict[str, tuple[int, int]] = {}
        comma = _decimal_comma(file, (each for pair in node.value for each in pair))
        if comma:
            complaints.append(comma)
            return Entry({}, line, column)
        for key, value in node.value:
            name = str(key.value) if isinstance(key, yaml.ScalarNode) else ""
            place = key.start_mark.line + 1, key.start_mark.column + 1
            if name in found:
                complaints.append(
                    Complaint(file, *place, f"“{name}” appears twice here. Keep one.")
                )
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
