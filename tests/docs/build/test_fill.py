"""The pass over one page: what is filled, kept together, refused with its place."""

import pytest
from bs4 import BeautifulSoup

from docs.build.error import BuildError
from docs.build.fill import fill, keep_units


def test_code_keeps_its_plain_gaps():
    soup = BeautifulSoup('<p title="5 g">Take 5 g. <code>5 g</code></p>', "html.parser")
    keep_units(soup)
    assert str(soup) == '<p title="5 g">Take 5\u00a0g. <code>5 g</code></p>'


@pytest.mark.parametrize(
    ("markup", "says"),
    [
        ("<p style='color: red'>x</p>", "inline style"),
        ("<style>p { color: red }</style>", "inline style"),
        ("<p onclick='x()'>x</p>", "inline script"),
    ],
)
def test_an_author_is_told_what_the_policy_would_refuse(tmp_path, markup, says):
    page = tmp_path / "lesson.html"
    page.write_text(f"<html><head></head><body>{markup}</body></html>", "utf-8")
    with pytest.raises(BuildError, match=rf"lesson\.html: .*{says}"):
        fill(page)


def test_a_lesson_with_a_slip_is_refused_with_its_place(tmp_path):
    page = tmp_path / "lesson.html"
    page.write_text('<p><worked-example ask="new liqid"></worked-example></p>', "utf-8")
    with pytest.raises(BuildError, match=r"lesson\.html: <worked-example> “ask” must be one of"):
        fill(page)
