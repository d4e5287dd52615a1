"""The page for the board: a section a screen, answers covered, letters as large as there is room."""

import pytest
from bs4 import BeautifulSoup

from docs.build.boards import board
from docs.build.tree import read

KEY = "preferments"
ANSWERED = '<check-question problem="preferments/which-kind" label="{}"></check-question>'
STEP = '<section class="dw-step" aria-labelledby="{0}"><h2 id="{0}">{0}</h2>{1}</section>'


@pytest.fixture(scope="module")
def made():
    first = STEP.format("one", "<p>Short.</p>" + ANSWERED.format("Say"))
    second = STEP.format("two", f"<p>{'A long story of a dough. ' * 30}</p>".replace(". ", ", "))
    page = first.replace("<h2", "<p>After this you can.</p><h2", 1) + second
    return BeautifulSoup(board(KEY, read(page)), "html.parser")


def test_it_has_a_screen_for_each_and_a_name_for_it_to_choose(made):
    sections = made.select("section.screen")
    heads = [each.find(["h1", "h2"]).get_text() for each in sections]
    assert heads[0] == made.h1.get_text() == "Preferments and starters"
    assert heads[1] == "one"
    assert set(heads[2:-1]) == {"Say"}
    named = [each.get_text().partition(". ")[2] for each in made.select("footer option")]
    assert named == heads


def test_only_an_answer_is_covered_and_takes_the_place_of_the_choices(made):
    sections = made.select("section.screen")
    # Its story is long: it has a screen of its own before each question.
    asked = [each for each in sections if each.find("details")]
    assert {each.h2.get_text() for each in asked} == {"Say"}
    assert all(each.select(".until") and not each.details.has_attr("open") for each in asked)
    assert all(sections[sections.index(each) - 1].h2.get_text() == "Say" for each in asked)


def test_letters_are_as_large_as_there_is_room_and_a_picture_gives_way(made):
    short, long = made.select("section.screen")[1], made.select("section.screen")[-1]
    assert "largest" in short["class"]
    assert "medium" in long["class"]
    assert short.select(".picture svg")
    assert not long.select(".picture")


def test_it_stands_alone_with_a_policy_and_leads_back(made):
    assert made.find("meta", attrs={"http-equiv": "Content-Security-Policy"})
    assert made.select_one("footer a")["href"] == f"../teachers/lessons/{KEY}/"
