"""The pictures at the heads of pages, in empty places and beside the doughs."""

from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from docs.build.illustrate import illustrate
from docs.build.site import PAGES
from docs.course.bakes import bakes
from docs.course.pictures.scenes import SCENES


def page(title="A title"):
    return BeautifulSoup(f"<article><h1>{title}</h1><p>Words.</p></article>", "html.parser")


@pytest.mark.parametrize("folder", ["lessons", "practice"])
def test_a_lesson_and_its_set_have_the_lessons_picture_before_the_title(folder):
    soup = page()
    illustrate(soup, PAGES / folder / "preferments.md")
    assert soup.h1.find_previous_sibling("span")["class"] == ["dw-picture", "dw-head"]
    assert soup.article.get_text() == "A titleWords."


@pytest.mark.parametrize("source", [None, PAGES / "swap.md", PAGES / "lessons" / "no-such.md"])
def test_other_pages_stay_as_they_are(source):
    soup = page()
    illustrate(soup, source and Path(source))
    assert soup.find("svg") is None


def test_an_empty_place_has_the_picture_that_it_names_before_its_words():
    soup = BeautifulSoup('<div data-picture="own-shelf"><p>Nothing yet.</p></div>', "html.parser")
    illustrate(soup, PAGES / "ingredients.md")
    assert [tag.name for tag in soup.div.find_all(recursive=False)] == ["span", "p"]
    assert soup.select("svg .dw-to-come")


def test_each_dough_has_its_bread_in_its_heading():
    soup = BeautifulSoup('<h2>Brioche</h2><bake-card dough="brioche"></bake-card>', "html.parser")
    illustrate(soup, PAGES / "bakes.md")
    assert soup.h2.contents[0]["class"] == ["dw-picture", "dw-small"]
    assert set(bakes()) <= set(SCENES)
