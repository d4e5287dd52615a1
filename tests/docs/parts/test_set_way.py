"""The way through a set: ticks, what comes next, what hints cost, and the finish."""

import json

import pytest

from docs.course import go_on
from docs.parts import study_plan
from docs.parts.problem_set import respond
from docs.parts.shared import set_way
from exercises.draws import draw
from exercises.lessons import LESSONS
from exercises.marking import right_answers
from exercises.problems import load, set_keys
from exercises.publish.html import write

STUDENT = "Ada Invented"


def right(key, *problems):
    """Right answers to some problems of a set, else to all."""
    problem_set = load(key)
    asked = [each for each in problem_set.problems if not problems or each.id in problems]
    return {each.id: right_answers(draw(problem_set, each, STUDENT)) for each in asked}


def asked(action, key, answers, marked, **more):
    work = {"answers": json.dumps(answers), "marked": json.dumps(marked)}
    return respond({"action": action, "name": key, "student": STUDENT, **work, **more})


@pytest.mark.parametrize("key", set_keys())
def test_a_set_that_is_all_right_ends_with_the_skills_it_trained(key):
    answers = right(key)
    answer = asked("draw", key, answers, answers)
    assert set(answer["states"].values()) == {"right"}
    assert "You can now" in answer["finish"]
    assert "Not all right yet" not in answer["finish"]
    standing = answer["standing"]
    assert standing["earned"] == standing["outOf"]
    assert standing["done"] == len(load(key).problems)


@pytest.mark.parametrize("key", set_keys())
def test_what_is_told_of_hints_is_what_the_set_does(key):
    costly = [each for each in load(key).problems if any(each.hint_costs)]
    said = set_way.hints_cost(load(key))
    assert ("take marks" in said) == bool(costly)
    for number, each in enumerate(load(key).problems, 1):
        numbers = said.replace(",", " ").split()
        assert (str(number) in numbers) == (each in costly)


def test_the_next_problem_is_the_next_one_not_tried_and_the_finish_comes_last():
    first, second, third, *others = [each.id for each in load("first-swaps").problems]
    answers = right("first-swaps", first, third)
    after_first = asked("mark", "first-swaps", answers, {}, problem=first)
    assert f'data-next="{second}"' in write(*after_first["elements"])
    assert after_first["finish"] == ""
    # Before the one that was left out comes what lies ahead.
    after_third = asked("mark", "first-swaps", answers, {first: answers[first]}, problem=third)
    assert f'data-next="{others[0]}"' in write(*after_third["elements"])
    assert after_third["states"][second] == "none"
    last = others[-1]
    every = right("first-swaps")
    marked = {key: value for key, value in every.items() if key != last}
    assert 'data-next="finish"' in write(
        *asked("mark", "first-swaps", every, marked, problem=last)["elements"]
    )


def test_ticks_tell_in_words_and_the_finish_leads_back_to_what_is_not_right():
    every = right("first-swaps")
    key = load("first-swaps").problems[-1].id
    every[key] = dict.fromkeys(every[key], "1 g")
    answer = asked("draw", "first-swaps", every, every)
    assert answer["ticks"][key].endswith(": not right yet")
    assert f'data-next="{key}"' in answer["finish"]
    assert "Begin with: " in answer["finish"]


def test_an_empty_answer_is_not_tried():
    key = load("first-swaps").problems[0].id
    assert asked("mark", "first-swaps", {}, {}, problem=key)["states"][key] == "none"


def test_a_student_sees_the_skills_tried_and_the_next_ones_before_the_rest():
    before, folded = study_plan.respond({"action": "plan", "now": "0"})["plan"].split("<details")
    assert before.count("<li>") == study_plan.NEXT
    assert folded.count("<li>") > study_plan.NEXT
    one = {
        "id": "a", "problem": "first-swaps/yogurt-loaf", "skill": "swap", "when": 5,
        "marks": 2, "out_of": 2, "mistakes": [],
    }  # fmt: skip
    plan = study_plan.respond({"action": "plan", "now": "9", "log": json.dumps([one])})["plan"]
    assert "1 of " in plan
    assert "1 level climbed." in plan
    assert plan.index("Swap one liquid for another", plan.index("Your progress")) < plan.index(
        "<details"
    )


def test_the_start_page_can_name_every_set_and_lesson():
    made = write(*go_on.build({}))
    assert "hidden" in made
    for key in (*set_keys(), *LESSONS):
        assert key in made
