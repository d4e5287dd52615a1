"""Hints tell a little more each time, and never more than they should."""

import re

import pytest

from calc import units
from exercises.draws import draw
from exercises.hints import HINTS, hints, praise, size_check
from exercises.problems import load, set_keys

NUMBERS = [
    (key, problem.id) for key in set_keys() for problem in load(key).problems if problem.quantity
]


def draws(key, problem_id):
    for n in range(6):
        yield draw(load(key), load(key).problem(problem_id), f"Invented {n}")


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_a_question_comes_first_and_the_numbers_last(key, problem_id):
    for drawn in draws(key, problem_id):
        for step in drawn.working.steps:
            question, size, relation, numbers = hints(drawn, step)
            assert len(HINTS) == 4
            assert question.endswith(("tells you that?", "tell you that?"))
            assert not re.search(r"\d", question.rpartition(": ")[2])
            assert size[0].isupper()
            assert size.endswith(".")
            assert drawn.working.relation(step) in relation
            assert numbers.endswith(drawn.working.numbers(step))


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_the_size_check_is_true(key, problem_id):
    for drawn in draws(key, problem_id):
        working, values = drawn.working, drawn.working.values()
        for step in working.steps.values():
            told = re.match(
                r"It must come to (more|less) than (?:your figure for “(?P<step>.*?)”|(?P<amount>[−\d.]+ ?[^\s,(]*))",
                size_check(working, step.key),
            )
            if not told:
                assert size_check(working, step.key).startswith(
                    "Guess first, with rounded numbers: "
                )
                continue
            if told["step"]:
                labels = {one.label: one.key for one in working.steps.values()}
                bound = values[labels[told["step"]]]
            else:
                bound = units.read(told["amount"].replace("−", "-"), step.kind).value
            assert (values[step.key] > bound) == (told[1] == "more")


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_a_size_check_does_not_tell_what_an_earlier_step_comes_to(key, problem_id):
    for drawn in draws(key, problem_id):
        given = {drawn.working.stated(one) for one in drawn.working.givens}
        for step in drawn.working.steps:
            amounts = re.findall(
                r"than ([\d.]+ (?:g|kg|°C|ml|min|J))(?= )", size_check(drawn.working, step)
            )
            assert set(amounts) <= given


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_praise_says_what_was_done_well(key, problem_id):
    for drawn in draws(key, problem_id):
        assert re.fullmatch(r"Well done: [a-z][^.]*\.", praise(drawn))


def test_praise_comes_from_the_working():
    problem_set = load("first-swaps")
    told = {
        problem.id: praise(draw(problem_set, problem, "Ada Invented"))
        for problem in problem_set.problems
        if problem.quantity
    }
    assert told["yogurt-loaf"].startswith("Well done: you divided by the water content")
    assert told["milk-in-the-dough"].startswith("Well done: you compared with the flour")
    assert told["water-for-rolls"].startswith("Well done: you took the percentage of the flour")


def test_the_sum_of_the_percentages_is_praised_where_it_divides():
    problem_set = load("the-whole-job")
    drawn = draw(problem_set, problem_set.problem("flour-for-it"), "Ada Invented")
    assert (
        praise(drawn)
        == "Well done: you divided by the sum of the percentages, so the flour comes out."
    )
