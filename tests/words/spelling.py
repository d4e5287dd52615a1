"""Spelling, by a British dictionary and the project's own list of trade words.

The dictionary is `dictionary-en-gb` from npm, at the version and integrity locked in this folder;
`spylls` reads it. It is used by the tests alone.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from unicodedata import combining, normalize

from spylls.hunspell import Dictionary

from docs.engine.npm import installed

HERE = Path(__file__).resolve().parent
TRADE_WORDS = HERE / "trade_words.txt"
NAMES = HERE / "names.txt"


@cache
def dictionary() -> Dictionary:
    """The dictionary; npm installs it if need be."""
    return Dictionary.from_files(str(installed(HERE, "dictionary-en-gb") / "index"))


@cache
def listed(file: Path) -> frozenset[str]:
    """The words of one of the project's lists; what follows a # is a note."""
    lines = (line.split("#")[0].strip() for line in file.read_text("utf-8").splitlines())
    return frozenset(filter(None, lines))


@cache
def known(word: str) -> bool:
    """Whether the dictionary alone knows a word."""
    word = word.replace("’", "'")
    forms = {word, word.removesuffix("'s"), _without_accents(word)}
    return any(dictionary().lookup(form) for form in forms)


def _without_accents(word: str) -> str:
    """The dictionary writes "cafe"; "café" is right, too."""
    return "".join(sign for sign in normalize("NFD", word) if not combining(sign))


def entry(word: str) -> str | None:
    """The trade word that lets a word pass: itself or its singular."""
    plain = word.replace("’", "'").removesuffix("'s")
    for form in (plain, plain.lower(), plain.removesuffix("s"), plain.lower().removesuffix("s")):
        if form in listed(TRADE_WORDS):
            return form
    return None


@cache
def american(word: str) -> str | None:
    """The -ise spelling of a word in -ize, if there is one."""
    swapped = re.sub(r"(?<=\w{3})(i|y)z(?=e[sdr]?$|ing$|ations?$)", r"\1s", word)
    return swapped if swapped != word and known(swapped) else None


@cache
def suggestions(word: str) -> list[str]:
    """Up to three words that may have been meant."""
    found = []
    for suggestion in dictionary().suggest(word):
        found.append(suggestion)
        if len(found) == 3:
            break
    return found
