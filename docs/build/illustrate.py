"""The pictures at the heads of pages, in empty places and beside the doughs: a lesson and its set have the lesson's."""

from __future__ import annotations

from pathlib import Path

from docs.build.tree import Tag, grown, put_first
from docs.course.kitchen_picture import picture
from docs.course.pictures.scenes import SCENES

FOLDERS = ("lessons", "practice", "teachers")


def illustrate(page: Tag, source: Path | None) -> None:
    """Put a page's picture in front of its title. `source` is the Markdown that the page was made from."""
    title = page.find(".//article//h1")
    is_drawn = source is not None and source.parent.name in FOLDERS and source.stem in SCENES
    if title is not None and is_drawn:
        title.addprevious(grown(picture(source.stem, "head")))
    for card in page.iterfind(".//bake-card[@dough]"):
        (heading,) = card.xpath("preceding::h2[1]")
        put_first(heading, grown(picture(card.get("dough"), "small")))
    draw_places(page)


def draw_places(page: Tag) -> None:
    """Draw what each empty place of a page names."""
    for place in page.iterfind(".//*[@data-picture]"):
        put_first(place, grown(picture(place.get("data-picture"), "small")))
