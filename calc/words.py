"""Small changes to English words: a first letter, a plural, an article."""

from __future__ import annotations

import re
from collections.abc import Iterable

# What already says whose it is: “my thick yogurt”, “Ana’s kefir”, “the red cup”; “goat’s milk” is a kind.
_TOLD = re.compile(
    r"(?:(?:my|our|your|his|her|its|their|the|an?)|(?-i:[^\W\d_a-z]\w*(?:[’']s|s[’'])))\s", re.I
)


def capital(text: str) -> str:
    """The text with its first letter upper, the others as they are: "pH" is "PH", "" is ""."""
    return text[:1].upper() + text[1:]


def plural(number: float, word: str) -> str:
    """A word as it follows a plain number, for words whose plural adds an s: 1 "mark", 0 or 2 "marks"."""
    return word if number == 1 else f"{word}s"


def counted(number: int, word: str) -> str:
    """A number and its word: "1 mark", "2 marks"."""
    return f"{number} {plural(number, word)}"


def all_of(number: int, word: str) -> str:
    """All that there are: "the one problem", "both problems", "all 5 problems"."""
    return {1: f"the one {word}", 2: f"both {word}s"}.get(number, f"all {counted(number, word)}")


def are(number: int) -> str:
    """The verb after so many: "is" after 1, else "are"."""
    return "is" if number == 1 else "are"


def listed(words: Iterable[str]) -> str:
    """Words as a sentence lists them: "eggs", "eggs and milk", "eggs, milk and nuts"."""
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last


def the(name: str) -> str:
    """A thing's name within a sentence: "the milk", but "My thick yogurt" and "Ana's kefir"."""
    return name if _TOLD.match(name) else f"the {name}"
