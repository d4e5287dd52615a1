"""The pictures at the heads of pages: a lesson and its set have the lesson's."""

from __future__ import annotations

from pathlib import Path

from bs4 import BeautifulSoup

from docs.course.kitchen_picture import picture
from docs.course.pictures.scenes import SCENES
from exercises.publish.html import write

FOLDERS = ("lessons", "practice")


def illustrate(soup: BeautifulSoup, source: Path | None) -> None:
    """Put a page's picture in front of its title. `source` is the Markdown that the page was made from."""
    title = soup.select_one("article h1")
    if title and source and source.parent.name in FOLDERS and source.stem in SCENES:
        drawn = BeautifulSoup(write(picture(source.stem, "head")), "html.parser")
        title.insert_before(drawn)
