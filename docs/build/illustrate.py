"""The pictures at the heads of pages, in empty places and beside the doughs: a lesson and its set have the lesson's."""

from __future__ import annotations

from pathlib import Path

from bs4 import BeautifulSoup

from docs.build.tree import grown, tags
from docs.course.kitchen_picture import picture
from docs.course.pictures.scenes import SCENES

FOLDERS = ("lessons", "practice", "teachers")


def illustrate(soup: BeautifulSoup, source: Path | None) -> None:
    """Put a page's picture in front of its title. `source` is the Markdown that the page was made from."""
    article = soup.find("article")
    title = article and article.find("h1")
    if title and source and source.parent.name in FOLDERS and source.stem in SCENES:
        title.insert_before(grown([picture(source.stem, "head")]))
    for tag in tags(soup):
        if tag.name == "bake-card" and "dough" in tag.attrs:
            tag.find_previous("h2").insert(0, grown([picture(tag["dough"], "small")]))
    draw_places(soup)


def draw_places(soup: BeautifulSoup) -> None:
    """Draw what each empty place of a page names."""
    for tag in tags(soup):
        if name := tag.attrs.get("data-picture"):
            tag.insert(0, grown([picture(name, "small")]))
