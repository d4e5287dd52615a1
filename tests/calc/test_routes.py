"""Other correct routes to a step: they hold whatever the numbers are, and nothing else is one."""

import pytest

from calc.expression import evaluate, names, words
from calc.routes import routes
from calc.working import Working
from exercises.draws import draw
from exercises.problems import load, set_keys

NUMBERS = [
    (key, problem.id) for key in set_keys() for problem in load(key).problems if problem.quantity
]


def preferment():
    """Flour = whole ÷ (1 + h), water = whole − flour: so water = flour × h too (by hand)."""
    working = Working("preferment")
    whole = working.given("whole", "preferment", 400.0, "mass")
    wet = working.given("wet", "hydration", 0.6, "share")
    flour = working.step("flour", "flour", whole / (1 + wet), "mass")
    working.step("water", "water", whole - flour, "mass")
    return working


def told(working, key):
    return [words(one, lambda name: name, str) for one in routes(working, key)]


def test_the_water_of_a_preferment_is_its_flour_times_the_hydration():
    assert told(preferment(), "water") == ["wet × flour"]
    assert told(preferment(), "flour") == []


def test_a_dough_is_the_sum_of_its_table():
    problem_set = load("bakers-percentage")
    working = draw(problem_set, problem_set.problem("country-loaf"), "Ada Invented").working
    assert "second flour + first flour + water + salt + yeast" in told(working, "dough")


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_a_route_gives_the_step_in_every_draw(key, problem_id):
    """What is found with one student's numbers holds for the others'; no route starts from givens alone."""
    problem_set = load(key)
    problem = problem_set.problem(problem_id)
    first = draw(problem_set, problem, "Invented 0").working
    others = [draw(problem_set, problem, f"Invented {n}").working for n in range(1, 6)]
    alike = [one for one in others if list(one.steps) == list(first.steps)]
    for step in first.steps:
        for route in routes(first, step):
            assert set(names(route)) & first.steps.keys()
            assert step not in names(route)
            for working in alike:
                values = working.values()
                assert evaluate(route, values.__getitem__, float) == pytest.approx(values[step])


def test_a_number_that_agrees_by_chance_is_no_route():
    """600 − 300 and 300 are the same here, and nowhere else."""
    working = Working("chance")
    one = working.given("one", "one", 600.0, "mass")
    two = working.given("two", "two", 0.5, "share")
    working.step("half", "half", one * two, "mass")
    working.step("part", "part", one * two * two, "mass")
    assert "one − half" not in told(working, "part")
    assert "two × half" in told(working, "part")
