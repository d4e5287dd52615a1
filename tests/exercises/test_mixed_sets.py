"""A lesson's set brings older lessons back, and its titles do not tell what to do."""

import re

import pytest

from docs.course.bakes import bakes
from exercises.lessons import LESSONS
from exercises.problems import load, set_keys

ORDER = list(LESSONS)
# Every lesson but the first has older ones to bring back.
MIXED = ORDER[1:]
# Words that give a step away before anyone has read the story.
GIVEN_AWAY = re.compile(
    r"\b(divid|multipl|subtract|percentage of|water content|times)", re.IGNORECASE
)
CHAINED = [
    (key, problem)
    for key in set_keys()
    for problem in load(key).problems
    if problem.quantity and problem.quantity.name == "recipe for a smaller bowl"
]


@pytest.mark.parametrize("key", MIXED)
def test_a_third_of_a_set_is_from_older_lessons(key):
    problem_set = load(key)
    older = [problem for problem in problem_set.problems if problem.lesson]
    assert all(ORDER.index(each.lesson) < ORDER.index(key) for each in older)
    assert 1 / 3 <= len(older) / len(problem_set.problems) <= 0.4


@pytest.mark.parametrize("key", set_keys())
def test_no_title_tells_the_operation(key):
    problem_set = load(key)
    titles = [problem_set.title, *(problem.title for problem in problem_set.problems)]
    assert not [title for title in titles if GIVEN_AWAY.search(title)]


@pytest.mark.parametrize(("key", "problem"), CHAINED, ids=lambda each: getattr(each, "id", each))
def test_a_written_recipe_is_a_dough_with_too_much_and_too_little_in_it(key, problem):
    """Its own water lies in the range of such doughs; it names no water content, and no gram of an ounce."""
    assert "water content" not in problem.story
    assert "28" not in problem.story
    assert "look up" in problem.story
    ranges = [bake.ranges["water"] for bake in bakes().values()]
    flour = [choice.value for choice in problem.givens["flour ounces"]]
    ounces = [choice.value for choice in problem.givens["liquid ounces"]]
    water = [choice.value.water for choice in problem.givens["liquid"]]
    least, most = min(ounces) * min(water) / max(flour), max(ounces) * max(water) / min(flour)
    if "eggs" not in problem.story:
        assert min(low for low, _ in ranges) <= 100 * least
    assert 100 * most <= max(high for _, high in ranges)
