"""The map to public standards: each says what was opened, and names lessons that are there."""

import pytest
from bs4 import BeautifulSoup

from docs.course import curriculum_map
from docs.course.curriculum_map import build, standards
from exercises.lessons import LESSONS
from exercises.publish.html import write


def test_each_standard_says_whose_it_is_of_when_and_what_was_opened():
    for each in standards():
        assert each.title
        assert each.body
        assert each.year
        assert each.opened
        codes = [(one.code, one.asks) for one in each.outcomes]
        assert len(codes) == len(set(codes)) >= 2


def test_every_lesson_is_asked_for_by_some_standard():
    asked = {key for each in standards() for one in each.outcomes for key in one.lessons}
    assert asked == set(LESSONS)


def test_a_row_links_its_lessons_in_the_order_of_the_course():
    soup = BeautifulSoup(write(*build({})), "html.parser")
    assert len(soup.find_all("h3")) == len(standards())
    row = next(each for each in soup.select("tbody tr") if "A-7" in each.get_text())
    links = [link["data-site"] for link in row.select("a")]
    assert links == [
        f"lessons/{key}/"
        for key in ("divide-by-the-water-content", "what-rides-along", "safe-handling")
    ]
    assert "gluten-free" in row.get_text()


@pytest.mark.parametrize(
    ("slip", "says"),
    [
        ({"lessons": ["kneading"]}, r"“B-9” names lessons that are none: kneading\."),
        ({"lessons": [], "and apart": None}, r"“B-9” has “and apart”\. Put quotes"),
    ],
)
def test_a_slip_in_the_list_is_told(slip, says):
    with pytest.raises(ValueError, match=says):
        curriculum_map._outcome({"code": "B-9", "asks": "x", **slip})
