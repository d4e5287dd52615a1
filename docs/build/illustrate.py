"""The pictures at the heads of pages, in empty places and beside the doughs: a lesson and its set have the lesson's."""

from __future__ import annotations

from pathlib import Path

from bs4 import BeautifulSoup, Tag

from docs.build.tree import grown, tags
from docs.course.kitchen_picture import picture
from docs.course.pictures.scenes import SCENES
from exercises.publish.html import element

FOLDERS = ("lessons", "practice", "teachers")
# What the page for an address that is nowhere says; MkDocs has only a number for it.
NOWHERE = "There is no page at this address"
WAYS_ON = (("", "Start"), ("swap/", "Swap a liquid"), ("lessons/", "All the lessons"), ("practice/", "Practice"))  # fmt: skip


def _title(soup: BeautifulSoup) -> Tag | None:
    article = soup.find("article")
    return article and article.find("h1")


def illustrate(soup: BeautifulSoup, source: Path | None) -> None:
    """Put a page's picture in front of its title. `source` is the Markdown that the page was made from."""
    title = _title(soup)
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


def show_ways_on(soup: BeautifulSoup, root: str) -> None:
    """Say on the page for an address that is nowhere where to go on; `root` leads to the site's start."""
    title = _title(soup)
    if title is None:
        return
    title.string = NOWHERE
    links = (element("li", element("a", says, href=root + to)) for to, says in WAYS_ON)
    say = element("p", "It may have moved, or a letter of it is missing. You can go on from here:")
    title.insert_after(grown([say, element("ul", *links)]))
    title.insert_before(grown([picture("nothing-here", "large")]))
