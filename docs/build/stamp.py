"""One hash of all the code and data that pages are made of.

`docs.build` takes it before any of that is imported: what is edited later is not in this process.
"""

from __future__ import annotations

import hashlib
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGES = ROOT / "docs" / "pages"
SOURCES = ("calc", "exercises", "docs")
SUFFIXES = (".py", ".csv", ".yml")
# How a lesson's lines begin from which its teaching page is made: steps, questions, outcomes.
ASKED = (b"## ", b"<check-question", b"- ")
LIBRARIES = ("lxml", "PyYAML", "segno")


def stamp() -> str:
    """The hash of code, data, sets, libraries, and what other pages are made of: heads of pages, the lessons' questions and outcomes."""
    told = [version(name) for name in LIBRARIES]
    for folder in SOURCES:
        files = (file for file in (ROOT / folder).rglob("*") if file.suffix in SUFFIXES)
        told += [_line(file, file.read_bytes()) for file in sorted(files)]
    told += [_line(page, _head(page)) for page in sorted(PAGES.rglob("*.md"))]
    told += [_line(page, _asked(page)) for page in sorted((PAGES / "lessons").glob("*.md"))]
    return hashlib.sha256("\n".join(told).encode()).hexdigest()


def _line(file: Path, content: bytes) -> str:
    return f"{file.relative_to(ROOT).as_posix()} {hashlib.sha256(content).hexdigest()}"


def _asked(page: Path) -> bytes:
    lines = page.read_bytes().splitlines()
    return b"\n".join(line for line in lines if line.startswith(ASKED))


def _head(page: Path) -> bytes:
    text = page.read_bytes()
    return text.split(b"---\n", 2)[1] if text.startswith(b"---\n") else b""


AT_START = stamp()
