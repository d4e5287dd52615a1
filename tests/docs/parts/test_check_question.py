"""The lessons' own questions: each is a problem of a set, marked by the set's own marking."""

import json
import re

import pytest
from bs4 import BeautifulSoup

from docs.build.site import PAGES
from docs.parts import PARTS, respond
from exercises import problems
from exercises.draws import draw
from exercises.lessons import LESSONS
from exercises.publish.html import write

PART = PARTS["check-question"]
TWO_STEPS = {"problem": "divide-by-the-water-content/morning-rolls", "draw": "a test"}
CHOICE = {"problem": "checks/divide-by-the-water-content/soy-for-milk"}


def html(attributes):
    return BeautifulSoup(write(*PART.build(attributes)), "html.parser")


def plain(soup):
    """Its text as it is typed: the answer below is left out, and gaps break."""
    return soup.form.get_text().replace("\u00a0", " ")


def marked(attributes, answers, **more):
    fields = {"action": "mark", **attributes, "answers": json.dumps(answers), **more}
    return json.loads(respond(json.dumps({"part": "check-question", "fields": fields})))


def working():
    problem_set = problems.load("divide-by-the-water-content")
    return draw(problem_set, problem_set.problem("morning-rolls"), "a test").working


def test_a_faded_example_shows_the_other_steps_worked():
    whole, last, middle = (html(TWO_STEPS | {"blank": blank}) for blank in ("", "2", "1"))
    assert len(whole.select("input[type=text]")) == 2
    first, second = working().steps
    assert [box["name"] for box in last.select("input[type=text]")] == [second]
    assert [box["name"] for box in middle.select("input[type=text]")] == [first]
    assert working().sentence(first) in plain(last)
    assert working().sentence(second) in plain(middle)


def test_every_question_tells_its_answer_without_scripts():
    for attributes in (TWO_STEPS, CHOICE):
        assert html(attributes).select_one("details:not(.dw-hint) li").get_text(strip=True)


def test_right_and_wrong_are_told_for_the_blanks_alone():
    last = list(working().steps)[-1]
    attributes = TWO_STEPS | {"blank": "2"}
    right = marked(attributes, {last: working().weighed(last)})
    assert right["right"]
    assert right["verdicts"][last] == "right"
    wrong = marked(attributes, {last: "1 g"})
    assert not wrong["right"]
    assert "not right yet" in wrong["html"]
    assert wrong["html"].count("<li") == 1


def test_a_known_mistake_is_named_in_a_blank():
    first, last = working().steps
    multiplied = working().values()[first] * working().values()[first] / working().values()[last]
    told = marked(TWO_STEPS | {"blank": "2"}, {last: f"{multiplied:.1f} g"})
    assert "#multiplied-by-water-content" in told["html"]


def test_an_empty_answer_costs_no_try_and_three_show_the_working():
    assert marked(CHOICE, {})["tries"] == 0
    assert "Choose an answer first" in marked(CHOICE, {})["html"]
    last = list(working().steps)[-1]
    third = marked(
        TWO_STEPS | {"blank": "2"}, {last: "1 g"}, counts='{"tries": 2}', marked='{"x": "0"}'
    )
    assert third["tries"] == 3
    assert working().sentence(last) in BeautifulSoup(
        third["html"], "html.parser"
    ).get_text().replace("\u00a0", " ")


def test_a_shown_step_cannot_be_overwritten_from_the_page():
    first, last = working().steps
    told = marked(TWO_STEPS | {"blank": "2"}, {first: "1 g", last: working().weighed(last)})
    assert told["right"]


@pytest.mark.parametrize("counts", ["", "[]", "{", '{"tries": "x"}', "[" * 5000])
def test_what_the_store_holds_is_not_trusted(counts):
    assert marked(CHOICE, {}, counts=counts, marked=counts)["tries"] == 0


@pytest.mark.parametrize(
    ("attributes", "says"),
    [
        ({"problem": "divide-by-the-water-content/no-such"}, "no-such.*morning-rolls"),
        (TWO_STEPS | {"blank": "3"}, "from 1 to 2"),
        (TWO_STEPS | {"blank": "last"}, "by number"),
    ],
)
def test_an_author_is_told_what_is_wrong(attributes, says):
    with pytest.raises(ValueError, match=says):
        PART.build(attributes)


# The lessons' own sets.


def asked_in(key):
    return re.findall(
        r'<check-question problem="([^"]+)"', (PAGES / f"lessons/{key}.md").read_text("utf-8")
    )


@pytest.mark.parametrize("key", problems.check_keys())
def test_a_lessons_questions_are_sound_and_each_is_asked_once(key):
    read = problems.read_set(problems.text_of_ours(key), f"{key}.yml", most_draws=10_000)
    lesson = key.removeprefix(problems.CHECKS)
    assert lesson in LESSONS
    assert read.lesson == lesson
    own = [name for name in asked_in(lesson) if name.startswith(problems.CHECKS)]
    assert sorted(own) == sorted(f"{key}/{each.id}" for each in read.problems)


def test_no_list_of_sets_names_the_lessons_questions():
    assert not [key for key in problems.set_keys() if "/" in key]


def test_place_and_length_of_an_option_do_not_give_the_answer_away():
    """Guessing by length or place, over all the lessons' questions, is right hardly more often than by chance."""
    boxes = [
        draw(read, each, "").boxes[0]
        for read in map(problems.load, problems.check_keys())
        for each in read.problems
        if each.questions
    ]
    chance = sum(1 / len(box.options) for box in boxes)
    for guess in (
        lambda options: max(options, key=lambda one: len(one.text)),
        lambda options: min(options, key=lambda one: len(one.text)),
        lambda options: options[0],
        lambda options: options[len(options) // 2],
        lambda options: options[-1],
    ):
        hits = sum(guess(box.options).right for box in boxes)
        assert hits <= chance + 2 * (chance * 0.67) ** 0.5 + 0.5, (hits, chance)
