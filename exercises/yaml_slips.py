"""What YAML cannot read, told as what a teacher did and can mend.

A parser says what it expected; a teacher wants to know which sign is wrong. Each rule here looks at
the line that the parser stopped at, and at the one above: it often notices a slip a line late.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator
from dataclasses import dataclass

import yaml

# Where (counted from 0), and what to do.
Told = tuple[int, int, str]

_ALIGN = "This line is not under the one above: give both the same indent."
_COLON = "A colon inside a sentence needs quotes around the sentence."
# A named part, and what follows its colon; a list's hyphen may come before it.
_PART = re.compile(r"\s*(?:- +)?[A-Za-z][\w ]{0,40}:(?P<rest>.*)")
# A space of another kind in the indent, or right after a part's colon or a list's hyphen.
_ODD_SPACE = re.compile(r" *(?:- *)?(?:[A-Za-z][\w ]{0,40}:)?[^\S \t]")
_ODD_COLON = re.compile(r"\s*(?:- +)?[A-Za-z][\w ]{0,40}[：∶﹕ː]")
_DASH = re.compile(r"\s*(?P<dash>[–—−‐‑•·*])\s*\w")
_QUOTED = re.compile(r"(?:[:,\[{]|-\s)\s*(?P<text>'[^']*'|\"(?:[^\"\\]|\\.)*\")(?=\s*[^\s,\]}:#])")


@dataclass(frozen=True)
class _Slip:
    """What the parser said, and the lines of the text that it may be about."""

    problem: str
    mark: yaml.Mark | None
    began: yaml.Mark | None
    lines: list[str]
    known: Collection[str]

    @property
    def row(self) -> int:
        return self.mark.line if self.mark else 0

    @property
    def column(self) -> int:
        return self.mark.column if self.mark else 0

    @property
    def above(self) -> int:
        """The line above that is not empty; the line itself where there is none."""
        rows = range(min(self.row, len(self.lines)) - 1, -1, -1)
        return next((n for n in rows if self.lines[n].strip()), self.row)

    def line(self, row: int) -> str:
        return self.lines[row] if row < len(self.lines) else ""

    def both(self) -> Iterator[tuple[int, str]]:
        """The line above and the line itself, with their numbers."""
        for row in dict.fromkeys((self.above, self.row)):
            yield row, self.line(row)


def told(error: yaml.MarkedYAMLError, text: str, known: Collection[str] = ()) -> Told:
    """The slip behind a parser's error. `known` are the names of parts that a set may have."""
    slip = _Slip(
        error.problem or error.context or "",
        error.problem_mark or error.context_mark,
        error.context_mark,
        text.splitlines(),
        known,
    )
    found = next(filter(None, (rule(slip) for rule in _RULES)), None)
    says = f"YAML cannot read this: {slip.problem}. Look at the indent and the quotes on this line and the one above."
    return found or (slip.row, slip.column, says)


def _odd_space(slip: _Slip) -> Told | None:
    """Text from a web page or a word processor has spaces that YAML does not take for spaces."""
    for row, line in slip.both():
        found = _ODD_SPACE.match(line)
        if found:
            odd = found.end() - 1
            name = unicodedata.name(line[odd], "unknown").lower()
            says = f"This looks like a space and is another sign ({name}). Type plain spaces."
            return row, odd, says
    return None


def _odd_colon(slip: _Slip) -> Told | None:
    for row, line in slip.both():
        found = _ODD_COLON.match(line)
        if found:
            says = "This looks like a colon and is another sign. Type a plain one, and a space."
            return row, found.end() - 1, says
    return None


def _missing_space(slip: _Slip) -> Told | None:
    for row, line in slip.both():
        hyphen = re.match(r"\s*-(?=[a-z][\w ]*:)", line)
        part = _PART.match(line)
        if hyphen:
            return row, hyphen.end(), "A space is missing after the hyphen."
        if part and re.match(r"[^\s:/]", part["rest"]):
            return row, part.start("rest"), "A space is missing after the colon."
    return None


def _dash(slip: _Slip) -> Told | None:
    for row, line in slip.both():
        found = _DASH.match(line)
        if found:
            says = f"A list's line starts with a hyphen (-), not with “{found['dash']}”."
            return row, found.start("dash"), says
    return None


def _quotes_end(slip: _Slip) -> Told | None:
    """An apostrophe ends single quotes; so do double quotes within double quotes."""
    for row, line in slip.both():
        found = _QUOTED.search(line)
        if not found:
            continue
        if found["text"][0] == "'":
            says = "The apostrophe ends the quotes. Put double quotes around the whole text."
        else:
            says = "The quotes end before the text does. Put single quotes around the whole text."
        return row, found.end() - 1, says
    return None


def _missing_colon(slip: _Slip) -> Told | None:
    """A line that starts with a part's name, and has no colon after it."""
    if "':'" not in slip.problem and "mapping values" not in slip.problem:
        return None
    for row, line in slip.both():
        bare = re.sub(r"^\s*(?:- +)?", "", line)
        names = [name for name in slip.known if bare == name or bare.startswith(f"{name} ")]
        if names:
            name = max(names, key=len)
            column = len(line) - len(bare) + len(name)
            return row, column, f"A colon is missing: “{name}: {bare[len(name) :].strip()[:40]}”."
    return None


def _tab(slip: _Slip) -> Told | None:
    if "\\t" in slip.problem:
        return slip.row, slip.column, "There is a tab here. Use spaces."
    return None


def _brace(slip: _Slip) -> Told | None:
    part = _PART.match(slip.line(slip.row))
    if part and part["rest"].lstrip().startswith("{") and "<scalar>" in slip.problem:
        says = "This text starts with a brace. Put it in quotes, or on lines of its own after |."
        return slip.row, slip.column, says
    return None


def _second_colon(slip: _Slip) -> Told | None:
    line = slip.line(slip.row)
    begins = re.fullmatch(r"\s*(?:- +)?[A-Za-z]\w*(?: \w+){0,2}", line[: slip.column])
    if "mapping values are not allowed" in slip.problem:
        column = len(line) - len(line.lstrip()) if begins else slip.column
        return slip.row, column, _ALIGN if begins else _COLON
    # Where a line begins with the name of a part, a bracket above was never closed.
    goes_on = not (begins and slip.began and slip.began.line < slip.row)
    if slip.problem.startswith("expected ',' or") and slip.problem.endswith("got ':'") and goes_on:
        before = line[: slip.column].rsplit(" ", 1)[-1]
        if before in slip.known:
            return slip.row, slip.column - len(before), f"A comma is missing before “{before}”."
        return slip.row, slip.column, _COLON
    return None


def _question_mark(slip: _Slip) -> Told | None:
    if slip.problem.startswith("expected ',' or") and slip.problem.endswith("got '?'"):
        says = "A question mark within braces or brackets needs quotes around the sentence."
        return slip.row, slip.column, says
    return None


def _indent(slip: _Slip) -> Told | None:
    if slip.problem.startswith("expected <block end>") and _PART.match(slip.line(slip.row)):
        return slip.row, slip.column, _ALIGN
    return None


def _open_quotes(slip: _Slip) -> Told | None:
    if "end of stream" in slip.problem and slip.began:
        return slip.began.line, slip.began.column, "These quotes are opened and never closed."
    return None


def _first_sign(slip: _Slip) -> Told | None:
    if "cannot start any token" in slip.problem:
        sign = slip.line(slip.row)[slip.column : slip.column + 1]
        return slip.row, slip.column, f"Text cannot start with {sign} here. Put it in quotes."
    return None


def _open_bracket(slip: _Slip) -> Told | None:
    if "expected ',' or" in slip.problem and slip.began and slip.began.line < slip.row:
        sign = slip.problem[len("expected ',' or '")]
        says = f"This bracket is opened and never closed. Add {sign} at its end."
        return slip.began.line, slip.began.column, says
    return None


def _fell_out(slip: _Slip) -> Told | None:
    """A line of a story that begins too far left."""
    for row, line in slip.both():
        if "':'" in slip.problem and line and not line[0].isspace() and ":" not in line:
            says = "This line is not part of what is above it. Indent it like the lines that it belongs to."
            return row, 0, says
    return None


# The first that knows what happened is told: the signs that cannot be seen come first.
_RULES = (
    _odd_space, _odd_colon, _missing_space, _tab, _dash, _quotes_end, _missing_colon, _brace, _second_colon,
    _question_mark, _indent, _open_quotes, _first_sign, _open_bracket, _fell_out,
)  # fmt: skip


# How a file begins that is no plain text, and what it is.
_DOCUMENTS = {
    "{\\rtf": "a word processor's file",
    "%PDF": "a PDF",
    "PK\x03\x04": "a word processor's or a spreadsheet's file, or a zip",
    "\xd0\xcf\x11\xe0": "an older word processor's or spreadsheet's file",
    "\x89PNG": "a picture",
    "\xff\xd8\xff": "a picture",
    "<!doctype": "a web page",
    "<html": "a web page",
    "<?xml": "a file of tags",
}


def document(start: str) -> str:
    """What to do with a file that begins like a document, not like a set; empty where it does not."""
    begins = start.lstrip("\ufeff \r\n").lower()
    kind = next((what for sign, what in _DOCUMENTS.items() if begins.startswith(sign.lower())), "")
    if not kind:
        return ""
    return f"This is {kind}, not plain text. Open it in its own program, copy the set, and paste it here, or save it as plain text (.txt)."
