"""A lesson's screens: all from its page, one question at a time, answers apart from what is asked."""

import re

import pytest

from docs.build.elements import fill_elements
from docs.build.steps import into_steps
from docs.build.tree import read
from docs.course.on_the_board import VESSELS, screens

KEY = "divide-by-the-water-content"
PAGE = """<article class="md-content__inner"><h1>Title</h1><p>After this you can swap.</p>
<h2 id="before-you-start">Before you start</h2><p>Three questions. Then a guess.</p>
<check-question problem="bakers-percentage/weigh-it" label="From lesson 1"></check-question>
<h2 id="half">Half and half</h2><p>Rolls take 220 g. How much goes in?</p><p>It is thick.</p>
<worked-example ask="new liquid" flour="220 g" hydration="63 %" liquid="half-and-half"></worked-example>
<check-question blank="2" problem="divide-by-the-water-content/morning-rolls" draw="a"></check-question>
<h2 id="same">Same water</h2><p>Look.</p>
<lesson-figure draw="what-comes-in" flour="500 g" hydration="60 %"
 liquids="water; whole-milk; sour-cream; apple-juice; cottage-cheese"></lesson-figure>
<check-question problem="side-by-side-bake/odd-one"></check-question>
<h2 id="try-it">Try it</h2><p>Open the tool.</p>
<div class="admonition warning"><p class="admonition-title">Care</p><ul><li>Milk. It spoils. Cold.</li></ul></div>
</article>"""


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    page = read(PAGE)
    fill_elements(page, tmp_path_factory.mktemp("page"))
    into_steps(page, KEY)
    return list(screens(KEY, page))


def test_the_screens_follow_the_lesson(shown):
    assert [each.step for each in shown] == [
        "Divide by the water content",
        "Before you start",
        "From lesson 1",
        "Half and half",
        "Half and half",
        "Same water",
        "Same water",
        "Same water",
        "Same water",
        "Care",
    ]
    assert [each.words[0] for each in shown[:2]] == ["After this you can swap.", "Three questions."]
    assert shown[-1].words == ("Milk. It spoils.",)
    assert all(each.picture is not None for each in shown)


def test_an_example_shows_what_asks_for_it_and_covers_its_sums(shown):
    example = shown[3]
    assert example.words[0] == "Rolls take 220 g. How much goes in?"
    assert "hydration 63\u00a0%" in example.until[0]
    assert example.answer[-1].startswith("Weight of half and half: 138.6 g ÷ 0.81")


def test_a_sum_with_a_blank_shows_the_rest_and_covers_only_that(shown):
    question = shown[4]
    _, first = question.words
    assert "g × 0." in first
    assert re.fullmatch(r"Weight of [^:]+: \?", *question.until)
    assert len(question.answer) == 1
    assert "÷" in question.answer[0]


def test_a_problem_of_two_questions_is_two_screens_of_one_story(shown):
    first, second = shown[7:9]
    assert first.words[0] == second.words[0]
    assert first.words[1] != second.words[1]
    assert all(one.until[0].startswith("a. ") and len(one.answer) == 1 for one in (first, second))


def test_many_vessels_are_several_pictures(shown):
    drawn = [each for each in shown if each.is_drawing]
    assert len(drawn) == 2
    named = [each.picture.get("aria-label") for each in drawn]
    assert "Sour cream" in named[0]
    assert "Cottage cheese" in named[1]
    assert VESSELS == 3
