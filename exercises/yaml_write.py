"""Plain data as the YAML that a teacher would write: sentences bare where they can be, long ones under |.

What is written here is read back as it was (`tests/exercises/test_yaml_write.py`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

# Text, a list or named parts; every number is the text that a teacher would type.
Data = str | list["Data"] | dict[str, "Data"]

WIDTH = 100
_INDENT = 2
# What YAML takes as a line's end, or not at all, has to be escaped within double quotes.
_ODD = re.compile(
    "[^\\x20-\\x7e\\u00a0-\\u2027\\u202a-\\ud7ff\\ue000-\\ufefe\\uff00-\\ufffd\\U00010000-\\U0010ffff]"
)
_NOT_BARE = re.compile(r": |:$| #|[\n\t]| $")


@dataclass(frozen=True)
class Written:
    """A value as text: what follows its name on the same line, and the lines under it."""

    head: str
    body: tuple[str, ...] = ()


def scalar(text: str, flow: bool = False, quotes: str = "") -> str:
    """A text on one line; `quotes` are those that its place had before."""
    if quotes == "'" and not _ODD.search(text):
        return "'" + text.replace("'", "''") + "'"
    if quotes == '"' or not _may_be_bare(text, flow):
        return '"' + _ODD.sub(_escaped, re.sub(r'[\\"]', r"\\\g<0>", text)) + '"'
    return text


def _may_be_bare(text: str, flow: bool) -> bool:
    if not text[:1].isalnum() or _NOT_BARE.search(text) or _ODD.search(text):
        return False
    return not (flow and re.search(r"[,:?\[\]{}]", text))


def _escaped(sign: re.Match[str]) -> str:
    number = ord(sign[0])
    if sign[0] == "\n":
        return "\\n"
    if number < 0x100:
        return f"\\x{number:02x}"
    return f"\\u{number:04x}" if number < 0x10000 else f"\\U{number:08x}"


def inline(value: Data) -> str:
    """Any value on one line, as within brackets."""
    if isinstance(value, dict):
        parts = (f"{scalar(name, flow=True)}: {inline(one)}" for name, one in value.items())
        return "{" + ", ".join(parts) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(inline, value)) + "]"
    return scalar(value, flow=True)


def written(value: Data, column: int, quotes: str = "") -> Written:
    """A value after its name, which is in `column`; lines under it are deeper."""
    indent = column + _INDENT
    if isinstance(value, str):
        lines = _literal(value)
        if lines is None:
            return Written(scalar(value, quotes=quotes))
        return Written(
            "|" if value.endswith("\n") else "|-",
            tuple(" " * indent + line if line else "" for line in lines),
        )
    if _is_short(value, indent):
        return Written(inline(value))
    return Written("", tuple(block(value, indent)))


def block(value: Data, column: int) -> list[str]:
    """Named parts or a list on lines of their own, from `column` on."""
    indent = " " * column
    if isinstance(value, list):
        return [line for one in value for line in item(one, column)]
    lines = []
    for name, one in value.items():
        made = written(one, column)
        lines += [f"{indent}{scalar(name)}: {made.head}".rstrip(), *made.body]
    return lines


def item(value: Data, column: int) -> list[str]:
    """An item of a list, its hyphen in `column`."""
    indent = " " * column
    if isinstance(value, str) or _is_short(value, column + _INDENT):
        made = written(value, column)
        return [f"{indent}- {made.head}", *made.body]
    first, *more = block(value, column + _INDENT)
    return [f"{indent}- {first.lstrip()}", *more]


def _literal(text: str) -> list[str] | None:
    """The lines of a text that can stand as they are under |; None where it cannot."""
    lines = text.removesuffix("\n").split("\n")
    odd = any(_ODD.search(line.replace("\t", "")) for line in lines)
    if "\n" not in text or odd or text[:1].isspace() or not lines[-1].strip():
        return None
    return None if any(line.isspace() for line in lines) else lines


def _is_short(value: Data, column: int) -> bool:
    """Whether a list or named parts fit on one line: nothing deep, no text of several lines."""
    if not value:
        return True
    inside = value.values() if isinstance(value, dict) else value
    if any(isinstance(one, list | dict) or "\n" in one for one in inside):
        return False
    return column + len(inline(value)) <= WIDTH
