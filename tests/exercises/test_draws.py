"""Draws: a student's own numbers, items and options, the same each time."""

from dataclasses import replace

import pytest

from exercises import problems
from exercises.draws import draw
from exercises.marking import mark, right_answers
from exercises.problems import load, read_set
from tests.exercises.set_texts import POOL, drawn


@pytest.mark.parametrize("key", problems.set_keys())
@pytest.mark.parametrize("student", ["", "Ada Invented", "Zoë", "李"])
def test_every_set_draws_and_its_own_answers_are_right(key, student):
    problem_set = load(key)
    assert len(problem_set.problems) >= 6
    for problem in problem_set.problems:
        drawn = draw(problem_set, problem, student)
        answers = right_answers(drawn)
        assert mark(drawn, answers).all_right
        values = drawn.working.values().items()
        # Only a temperature may be nought: ice melts at 0 °C.
        assert all(v > 0 or drawn.working.part(k).kind == "temperature" for k, v in values)
        if problem.quantity and not problem.quantity.cells:
            asked = {step.key: answers[step.key] for step in drawn.asked}
            assert mark(drawn, asked).all_right
        assert "{" not in drawn.story


def test_the_same_name_gives_the_same_numbers_however_it_is_typed():
    problem_set = load("first-swaps")
    for problem in problem_set.problems:
        first, second = (draw(problem_set, problem, name) for name in ("Ada Doe", "  ada   DOE "))
        assert first.shown == second.shown
        typed = (
            draw(problem_set, problem, name).shown
            for name in ("Ana-Mae O’Brien", "ana‑mae o'brien")
        )
        assert len(set(map(str, typed))) == 1


def test_draws_are_the_same_on_every_machine():
    """SHA-256 (FIPS 180-4) picks them; these were drawn once, from version 1, and must not change."""
    problem_set = replace(load("first-swaps"), version=1)
    drawn = draw(problem_set, problem_set.problem("yogurt-loaf"), "Ada")
    assert drawn.shown["flour"] == "1600 g"
    assert drawn.shown["hydration"] == "67 %"


def test_different_names_get_different_numbers():
    problem_set = load("first-swaps")
    problem = problem_set.problem("yogurt-loaf")
    assert len({draw(problem_set, problem, f"student {n}").story for n in range(50)}) > 25


def test_options_are_shuffled_by_name_and_stay_put():
    orders = {
        tuple(o.text for o in drawn("why", f"student {n}").boxes[0].options) for n in range(30)
    }
    assert len(orders) == 6
    assert drawn("why", " ADA ").boxes == drawn("why").boxes


def test_a_draw_shows_some_of_a_pool_and_one_right_answer():
    pools = read_set(POOL, "pools.yml")
    problem = pools.problem("pick")
    assert problem.level == 2
    seen = set()
    for n in range(40):
        variant = draw(pools, problem, f"student {n}")
        options = variant.boxes[0].options
        assert len(options) == 3
        assert sum(option.right for option in options) == 1
        assert mark(variant, right_answers(variant)).all_right
        seen |= {option.text for option in options}
    assert seen == {"water", "apple juice", "buttermilk", "cream", "whole milk"}


def test_a_draw_orders_some_of_the_items():
    pools = read_set(POOL, "pools.yml")
    drawn = [draw(pools, pools.problem("order"), f"student {n}") for n in range(20)]
    assert len({frozenset(item.name for item in variant.items) for variant in drawn}) > 5
    for variant in drawn:
        assert len(variant.boxes) == len(variant.items) == 4
        assert mark(variant, right_answers(variant)).all_right
