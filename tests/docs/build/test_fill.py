"""The pass over one page: what is filled, kept together, refused with its place."""

from pathlib import Path

import pytest

from docs.build.error import BuildError
from docs.build.fill import fill, keep_units
from docs.build.tree import read
from tests.docs.build.bodies import body


def test_code_keeps_its_plain_gaps():
    page = read('<p title="5 g">Take 5 g. <b>5 g</b> <code>5 g</code>, 5 g<!-- 5 g --> of 5 %</p>')
    keep_units(page)
    assert body(page) == (
        '<p title="5 g">Take 5\u00a0g. <b>5\u00a0g</b> <code>5 g</code>, 5\u00a0g<!-- 5 g --> of 5\u00a0%</p>'
    )


@pytest.mark.parametrize(
    ("markup", "says"),
    [
        ("<p style='color: red'>x</p>", "inline style"),
        ("<style>p { color: red }</style>", "inline style"),
        ("<p onclick='x()'>x</p>", "inline script"),
    ],
)
def test_an_author_is_told_what_the_policy_would_refuse(markup, says):
    page = read(f"<html><head></head><body>{markup}</body></html>")
    with pytest.raises(BuildError, match=rf"lesson\.html: .*{says}"):
        fill(page, Path("lesson.html"))


def test_a_lesson_with_a_slip_is_refused_with_its_place():
    page = read('<p><worked-example ask="new liqid"></worked-example></p>')
    with pytest.raises(BuildError, match=r"lesson\.html: <worked-example> “ask” must be one of"):
        fill(page, Path("lesson.html"))
