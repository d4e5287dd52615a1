"""The invented class's pages in the site: what a teacher gets, to look at before trying it."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from xml.etree.ElementTree import Element

from docs.build.kept import Kept
from docs.build.tree import grown, put_first, read, written
from exercises.demo import DEMO_SET, REPORT, Demo, Grid, account, as_demo, hand_in_and_mark
from exercises.invented import STUDENTS
from exercises.problems import load
from exercises.publish.html import element, table
from exercises.publish.page import page
from exercises.publish.worksheet import key, named, worksheet

FOLDER = "demo"
# The sheets of so many students show what a class's look like.
SHEETS = 2
STYLE = ".way-back { margin: 0; } @media print { .way-back { display: none; } }"


# What it is kept under: nothing but code and data makes it.
MADE_OF = ("demo",)


def write_demo_pages(site: Path, kept: Kept, made: Callable[[], dict[str, str]]) -> None:
    """Write report, worksheet, key and the account of both into the site. They stand alone.

    `made` gives what `demo_pages` does, where no earlier build kept it.
    """
    folder = site / FOLDER
    folder.mkdir(exist_ok=True)
    for name, text in kept.get(MADE_OF, made).items():
        (folder / f"{name}.html").write_text(text, "utf-8")


def demo_pages() -> dict[str, str]:
    """The HTML of each page, by its name."""
    with tempfile.TemporaryDirectory() as made:
        demo = hand_in_and_mark(load(DEMO_SET), Path(made))
        report = Path(made, REPORT).read_text("utf-8")
    shown = as_demo(load(DEMO_SET))
    sheets = named(shown, [student.name for student in STUDENTS[:SHEETS]])
    made = {
        "report": report,
        "worksheet": worksheet(shown, sheets),
        "key": key(shown, sheets),
        "put-in-and-found": page("Demo class: put in and found", _account(demo)),
    }
    return {name: _with_way_back(text) for name, text in made.items()}


def _account(demo: Demo) -> Iterator[Element]:
    yield element("h1", "What was put in, and what was found")
    for heading, under in account(demo):
        yield element("h2", heading)
        for one in under:
            yield element("p", one) if isinstance(one, str) else _grid(one)


def _grid(grid: Grid) -> Element:
    return table("", list(grid.heads), [list(row) for row in grid.rows])


def _with_way_back(text: str) -> str:
    """A page that stands alone, with a line that leads back to the site."""
    made = read(text)
    words = "This class is invented. Back to the demo class"
    link = element("a", words, href="../teachers/demo-class/")
    put_first(made.body, grown(element("header", link, class_="way-back")))
    made.find("head/style").text += STYLE
    return written(made)
