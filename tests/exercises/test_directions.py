"""What a problem asks a student to write: a marked step is never told to be left out."""

import pytest

from exercises.directions import what_to_write
from exercises.draws import draw
from exercises.marking import mark, right_answers
from exercises.problems import load, set_keys


@pytest.mark.parametrize("key", set_keys())
def test_what_may_be_left_out_costs_nothing(key):
    problem_set = load(key)
    for problem in problem_set.problems:
        drawn = draw(problem_set, problem, "Ada Invented")
        answers = right_answers(drawn)
        wanted = {step.key for step in drawn.asked} or answers.keys()
        only = {key: text for key, text in answers.items() if key in wanted}
        if "or only the" in what_to_write(drawn) or len(answers) == 1:
            assert mark(drawn, only).marks == drawn.out_of


def test_every_cell_and_every_step_is_asked_where_it_earns():
    problem_set = load("the-whole-job")
    told = {each.id: what_to_write(draw(problem_set, each, "")) for each in problem_set.problems}
    cells = [each.id for each in problem_set.problems if each.quantity and each.quantity.cells]
    assert cells
    assert all("every cell" in told[each] for each in cells)
