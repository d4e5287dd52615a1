"""The pictures at the heads of pages, in empty places and beside the doughs."""

from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from docs.build.illustrate import illustrate
from docs.build.site import PAGES
from docs.build.tree import read, written
from docs.course.bakes import bakes
from docs.course.pictures.scenes import SCENES

PAGE = "<article><h1>{}</h1><p>Words.</p></article>"


def illustrated(markup, source):
    page = read(markup)
    illustrate(page, source)
    return BeautifulSoup(written(page), "html.parser")


@pytest.mark.parametrize("folder", ["lessons", "practice"])
def test_a_lesson_and_its_set_have_the_lessons_picture_before_the_title(folder):
    soup = illustrated(PAGE.format("A title"), PAGES / folder / "preferments.md")
    assert soup.h1.find_previous_sibling("span")["class"] == ["dw-picture", "dw-head"]
    assert soup.article.get_text() == "A titleWords."


@pytest.mark.parametrize("source", [None, PAGES / "swap.md", PAGES / "lessons" / "no-such.md"])
def test_other_pages_stay_as_they_are(source):
    assert illustrated(PAGE.format("A title"), source and Path(source)).find("svg") is None


def test_an_empty_place_has_the_picture_that_it_names_before_its_words():
    markup = '<div data-picture="own-shelf">Empty. <p>Nothing yet.</p></div>'
    soup = illustrated(markup, PAGES / "ingredients.md")
    assert [tag.name for tag in soup.div.find_all(recursive=False)] == ["span", "p"]
    assert soup.div.contents[1] == "Empty. "
    assert soup.select("svg .dw-to-come")


def test_each_dough_has_its_bread_in_its_heading():
    markup = '<h2>Rolls</h2><h2>Brioche</h2><p><bake-card dough="brioche"></bake-card></p>'
    _, heading = illustrated(markup, PAGES / "bakes.md").find_all("h2")
    assert heading.contents[0]["class"] == ["dw-picture", "dw-small"]
    assert set(bakes()) <= set(SCENES)
