"""Turns of phrase that a native reader stumbles on are in no file: not in code, comments or messages either."""

import re
from functools import cache

import pytest

from tests.words.check import HERE, plain_words
from tests.words.prose import ROOT

IDIOMS = [plain for plain in plain_words() if plain.why == "not English"]
FILES = sorted(
    path
    for pattern in ("*.md", "calc/**/*.py", "exercises/**/*", "docs/**/*.py", "docs/**/*.js", "docs/**/*.css", "docs/pages/**/*", "tests/**/*.py")
    for path in ROOT.glob(pattern)
    if path.suffix in (".py", ".js", ".css", ".md", ".yml") and "node_modules" not in path.parts and path.parent != HERE
)  # fmt: skip


def running(text):
    """A text as it reads on, over the signs that begin a comment's next line."""
    return re.sub(r"\s*\n\s*(?:(?://|#:?|\*)\s)?\s*|\s+", " ", text)


@cache
def texts():
    """Each file as it reads on, put together once."""
    return {path: running(path.read_text("utf-8")) for path in FILES}


@pytest.mark.parametrize("idiom", IDIOMS, ids=lambda idiom: idiom.instead)
def test_no_file_has_it(idiom):
    found = [
        f"{path.relative_to(ROOT)}: {hit.group()}"
        for path, text in texts().items()
        for hit in idiom.pattern.finditer(text)
    ]
    assert found == []


def test_a_comment_reads_on_over_its_lines():
    assert running("// It is\n  // here.\n /* And\n  * here */") == "// It is here. /* And here */"


def test_there_are_idioms_and_files():
    assert len(IDIOMS) >= 3
    assert len(FILES) > 300
