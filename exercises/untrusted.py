"""Untrusted JSON: size and depth are limited before parsing, the shape is validated before use.

Deep nesting ends Python in the page for good, and catching RecursionError does not help there, so
the depth is counted first.
"""

from __future__ import annotations

import json
import re

LONGEST = 1_000_000
DEEPEST = 12

# Whole strings, or brackets outside them. Nothing is tried twice, so the time grows with the length
# only: a string without an end runs to the end of the text.
_STRING_OR_BRACKET = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+"?|[\[\]{}]', re.DOTALL)


class TooDeep(ValueError):
    """The JSON is nested deeper than anything of ours."""


def read_json(text: str, longest: int = LONGEST) -> object:
    """Parse JSON. Raises ValueError: TooDeep, too long, or json.JSONDecodeError with its place."""
    if len(text) > longest:
        raise ValueError(f"this is longer than {longest} characters")
    if _depth(text) > DEEPEST:
        raise TooDeep("this is nested too deeply")
    return json.loads(text)


def _depth(text: str) -> int:
    """How deep the brackets are nested, those in strings left out."""
    deepest = depth = 0
    for match in _STRING_OR_BRACKET.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(match[0], 0)
        deepest = max(deepest, depth)
    return deepest


def well_formed(text: str) -> str:
    """A text with U+FFFD for each half of a surrogate pair: JSON can carry one, no file and no address can."""
    if text.isascii():
        return text
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


def answers(text: str) -> dict[str, dict[str, str]]:
    """Answers by problem and step from a page's store; what has another shape is left out."""
    return _tables(text, str)


def counts(text: str) -> dict[str, dict[str, int]]:
    """Counts by problem and step from a page's store; what has another shape is left out."""
    return _tables(text, int)


def strings(text: str) -> dict[str, str]:
    """Texts by name from a page's store; what has another shape is left out."""
    return _of(_object(text), str)


def numbers(text: str) -> dict[str, int]:
    """Whole numbers by name from a page's store; what has another shape is left out."""
    return _of(_object(text), int)


def texts(text: str) -> list[str]:
    """A list of texts from a page; what has another shape is left out."""
    return [well_formed(one) for one in _list(text) if isinstance(one, str)]


def rows(text: str) -> list[dict]:
    """A list of objects from a page; what has another shape is left out."""
    return [one for one in _list(text) if isinstance(one, dict)]


def _list(text: str) -> list:
    try:
        found = read_json(text or "[]")
    except ValueError:
        return []
    return found if isinstance(found, list) else []


def _tables(text: str, kind: type) -> dict:
    return {
        name: _of(table, kind) for name, table in _object(text).items() if isinstance(table, dict)
    }


def _object(text: str) -> dict:
    try:
        found = read_json(text or "{}")
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}


def _of(found: dict, kind: type) -> dict:
    """The entries of that kind, their texts made well."""
    return {
        well_formed(name): well_formed(value) if kind is str else value
        for name, value in found.items()
        if type(value) is kind
    }
