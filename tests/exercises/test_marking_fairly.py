"""Marks that a good teacher would sign: rounding loses nothing, nothing is earned by a wrong number alone.

What counts as fair here is common practice in a classroom, no source.
"""

import math
import random

import pytest

from calc import units
from calc.expression import evaluate
from calc.quantities import REGISTRY
from calc.working import whole
from exercises.draws import Choice, Problem, draw, variant
from exercises.marking import Verdict, mark, right_answers
from exercises.problems import load, read_set, set_keys
from tests.exercises.test_marking import problem as asked
from tests.exercises.test_marking import verdicts

DRAWS = 8
# How a student rounds in the middle of a working, by what is rounded; in calc's unit.
HABITS = {
    "one decimal": dict.fromkeys(units.KINDS, 0.1) | {"share": 0.001, "time": 1.0},
    "two decimals": dict.fromkeys(units.KINDS, 0.01) | {"share": 0.0001, "time": 1.0},
    "whole grams, whole per cent": dict.fromkeys(units.KINDS, 1.0)
    | {"share": 0.01, "length": 0.1, "number": 0.1, "specific volume": 0.1, "density": 0.01},
    "three figures": {},
}
NUMBERS = [
    (key, problem.id) for key in set_keys() for problem in load(key).problems if problem.quantity
]


def draws(key, problem_id):
    problem_set = load(key)
    for n in range(DRAWS):
        yield draw(problem_set, problem_set.problem(problem_id), f"Invented {n}")


def rounded(value, step):
    return math.floor(value / step + 0.5 + 1e-9) * step


def written(drawn, habit):
    """What a student writes who goes on from rounded figures, and rounds as the boxes tell."""
    found = {given.key: given.value for given in drawn.working.givens.values()}
    answers = {}
    for key, step in drawn.working.steps.items():
        value = evaluate(step.expression, found.__getitem__, float)
        three = 10.0 ** (math.floor(math.log10(abs(value))) - 2) if value else step.to
        to = HABITS[habit].get(step.kind, three)
        if step in drawn.asked:
            to = step.to
        elif drawn.told(step):
            to = min(to, whole(step, drawn.working.values()[key]))
        found[key] = rounded(value, to)
        answers[key] = units.write(found[key], step.kind, step=to)
    return answers


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
@pytest.mark.parametrize("habit", HABITS)
def test_ordinary_rounding_loses_nothing(habit, key, problem_id):
    for drawn in draws(key, problem_id):
        answers = written(drawn, habit)
        result = mark(drawn, answers)
        lost = [one.step.key for one in result.steps if not one.verdict.earns]
        assert not lost, (answers, drawn.working.values())
        assert Verdict.FOLLOWS not in verdicts(result)


@pytest.mark.slow
@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_a_wrong_answer_alone_has_no_tick_and_earns_nothing(key, problem_id):
    chance = random.Random(problem_id)
    for drawn in draws(key, problem_id):
        last = drawn.working.answer
        right = drawn.working.values()[last.key]
        for factor in (0.1, 0.5, 0.81, 1.23, 2, 10, chance.uniform(0.1, 3)):
            text = units.write(right * factor, last.kind, step=last.to)
            result = mark(drawn, {last.key: text})
            if result.steps[-1].verdict is Verdict.RIGHT:
                # Close enough to be the right one.
                assert abs(factor - 1) < 0.1 or abs(right * (factor - 1)) < 3 * last.to
                continue
            assert result.marks == 0
            assert {one.verdict for one in result.steps[:-1]} <= {Verdict.BLANK}


@pytest.mark.parametrize(("key", "problem_id"), NUMBERS)
def test_what_the_story_asks_for_is_enough(key, problem_id):
    for drawn in draws(key, problem_id):
        answers = right_answers(drawn)
        shown = mark(drawn, {step.key: answers[step.key] for step in drawn.asked})
        assert shown.marks == shown.out_of


def test_a_story_that_asks_for_five_numbers_has_five_answers():
    problem_set = load("what-hydration-means")
    drawn = draw(problem_set, problem_set.problem("in-all-meanings"), "Ada Invented")
    assert [step.key for step in drawn.asked] == [
        "water",
        "liquid",
        "poured",
        "all-water",
        "flour-moisture",
    ]


# Every correct route from a student's own figures.


def loaf():
    return asked(
        "weights from percentages",
        flour=2000.0, flour_kind="bread-flour", second_kind="whole-wheat-flour", second_share=0.25,
        hydration=0.68, salt=0.02, yeast=0.01,
    )  # fmt: skip


def table(drawn, **wrong):
    return right_answers(drawn) | wrong


def test_the_dough_may_be_the_sum_of_the_students_own_table():
    """By hand: 500 + 1600 + 1360 + 40 + 20 = 3520, where the first flour should be 1500."""
    drawn = loaf()
    answers = table(drawn, **{"first flour": "1600 g", "dough": "3520 g"})
    marks = {one.step.key: one.verdict for one in mark(drawn, answers).steps}
    assert marks["first flour"] is Verdict.WRONG
    assert marks["dough"] is Verdict.FOLLOWS
    by_the_formula = mark(drawn, answers | {"dough": "3420 g"}).steps[-1]
    assert by_the_formula.verdict is Verdict.RIGHT
    assert mark(drawn, answers | {"dough": "3470 g"}).steps[-1].verdict is Verdict.WRONG


def test_the_water_may_be_the_students_own_flour_times_the_hydration():
    """By hand: 300 × 0.6 = 180; the working takes the flour from the whole."""
    drawn = asked(
        "flour and liquid in a preferment",
        preferment_weight=400.0,
        preferment_hydration=0.6,
        liquid="water",
    )
    result = mark(drawn, {"flour": "300 g", "liquid": "180 g"})
    assert verdicts(result) == [Verdict.WRONG, Verdict.FOLLOWS]
    assert verdicts(mark(drawn, {"flour": "300 g", "liquid": "100 g"}))[1] is Verdict.FOLLOWS
    assert verdicts(mark(drawn, {"flour": "300 g", "liquid": "120 g"}))[1] is Verdict.WRONG


# What cannot be.


@pytest.mark.parametrize(("text", "says"), [("-60 g", "cannot be less than nothing")])
def test_a_weight_below_nothing_is_never_right(text, says):
    """By hand: 40 g of salt in all less 100 g is −60 g; a student with 100 g in the cheese may write it."""
    drawn = asked("salt left to add", flour=2000.0, hydration=0.65, liquid="cottage-cheese",
                  salt=0.02)  # fmt: skip
    result = mark(drawn, {"salt": "100 g", "salt in all": "40 g", "salt to add": text})
    last = result.steps[-1]
    assert last.verdict is Verdict.WRONG
    assert says in last.says


def test_a_part_above_the_whole_is_never_right():
    drawn = asked("bake loss", before=800.0, after=700.0)
    result = mark(drawn, {"lost": "1000 g", "loss": "125 %"})
    assert verdicts(result) == [Verdict.WRONG, Verdict.WRONG]
    assert "cannot be more than the whole" in result.steps[-1].says


# The author's choice.

SET = """\
title: One
version: 1
unshown steps: {way}
problems:
  - id: one
    title: One
    ask: new liquid
    story: "{{flour}} {{hydration}} {{liquid}} {{water content of liquid}}"
    givens: {{flour: 500 g, hydration: 60 %, liquid: buttermilk}}
"""


@pytest.mark.parametrize(("way", "marks"), [("with the right answer", 2), ("never", 1)])
def test_the_author_says_whether_steps_must_be_shown(way, marks):
    problem_set = read_set(SET.format(way=way), "one.yml")
    drawn = draw(problem_set, problem_set.problems[0], "Ada Invented")
    last = drawn.working.answer.key
    assert mark(drawn, {last: right_answers(drawn)[last]}).marks == marks


def test_the_pack_is_judged_to_its_own_figures():
    """By hand: 3.6 + 4.1 + 4.6 + 0.1 = 12.4 g and 0.6 % minerals: 87.0 %; without them 87.6 %."""
    drawn = variant(
        Problem("p", "P", "", REGISTRY["water from a pack"]),
        {
            name: Choice(value, str(value))
            for name, value in {
                "fat": 3.6, "protein": 4.1, "carbohydrate": 4.6, "salt": 0.1, "other minerals": 0.006,
            }.items()
        },
    )  # fmt: skip
    assert mark(drawn, {"water": "87.0 %"}).all_right
    assert mark(drawn, {"water": "87.6 %"}).steps[-1].verdict is Verdict.WRONG


def test_a_right_figure_that_is_too_coarse_is_told_so_and_blamed_on_nothing():
    # A share to the whole per cent, where the story asks for a tenth.
    two_flours = next(one for one in load("bakers-percentage").problems if one.id == "two-flours")
    for number in range(20):
        drawn = draw(load("bakers-percentage"), two_flours, f"student {number}")
        right = drawn.working.values()["percentage"]
        if abs(right * 100 - round(right * 100)) < 0.06:
            continue
        one = mark(drawn, {"percentage": f"{right * 100:.0f} %"}).steps[-1]
        assert (one.verdict, one.findings) == (Verdict.WRONG, [])
        assert "As far as it goes, that is right. Give it to 0.1 %" in one.says


def test_nought_is_followed_through_in_a_sum_and_in_nothing_else():
    drawn = loaf()
    everything = dict.fromkeys(drawn.working.steps, "0")
    assert not any(one.verdict.earns for one in mark(drawn, everything).steps)
