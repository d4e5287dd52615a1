"""The site in Firefox; the answers to type come from `exercises` as the terminal draws them."""

import pytest

from exercises.draws import draw
from exercises.problems import load
from tests.site.in_firefox import visited

STUDENT, PROBLEM, STEP = "Ada Invented", "yogurt-loaf", "liquid"


@pytest.fixture(scope="module")
def seen(address):
    """What Firefox saw on its visit."""
    problem_set = load("first-swaps")
    working = draw(problem_set, problem_set.problem(PROBLEM), STUDENT).working
    right = f"{working.values()[STEP]:.1f} g"
    typed = {
        "student": STUDENT,
        "problem": PROBLEM,
        "step": STEP,
        "wrong": "3 g",
        "right": right.replace(".", ","),
    }
    return visited("visit.mjs", address, typed)


def test_python_is_restored_from_the_snapshot_and_reads_a_decimal_comma(seen):
    assert seen["start"] == "snapshot"
    assert "Weigh" in seen["said"]


def test_python_goes_on_with_the_visit_and_the_way_back_leads_to_the_page_as_it_was_left(seen):
    assert seen["counts"] == [1, 2]
    assert seen["isAsLeft"]


def test_a_second_flour_keeps_the_focus_and_the_answer_is_in_sight(seen):
    assert seen["typing"] == "amount4"
    assert seen["outOfSight"] == []


def test_at_the_desk_a_class_is_marked_and_a_set_is_written(seen):
    assert "22 students marked" in seen["marked"]
    assert seen["kept"] == ["doughwater/set/rolls.yml"]


def test_a_problem_is_marked_wrong_and_then_right(seen):
    assert seen["wrong"].startswith("0 of 2 marks")
    assert seen["right"].startswith("2 of 2 marks")


def test_nothing_fails_on_the_way(seen):
    assert seen["troubles"] == []
