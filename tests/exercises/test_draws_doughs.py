"""Every dough that a student is given can be baked: it lies in the ranges of doughs (`docs/course/bakes.yml`)."""

from itertools import product

import pytest

from docs.course.bakes import PARTS, bakes
from exercises.problems import load, set_keys

# The widest of the six doughs' ranges, each way, in per cent of the flour.
WIDEST = {
    part: (
        min(bake.ranges[part][0] for bake in bakes().values()),
        max(bake.ranges[part][1] for bake in bakes().values()),
    )
    for part in PARTS
}
# What a given of a whole formula is, by its name.
OF = {"hydration": "water", "salt": "salt", "yeast": "yeast", "sugar": "sugar", "butter": "fat"}
# Problems whose answer is the water of the liquids ÷ flour, with the doughs they are about.
MADE_OF = {
    "hydration": tuple(bakes()),
    "hydration with two liquids": ("brioche", "sweet-buns"),
    "hydration of an enriched dough": ("soft-rolls", "sweet-buns"),
    "overall hydration with a preferment": tuple(bakes()),
    "hydration with scalded milk": tuple(bakes()),
}
PROBLEMS = [(key, p) for key in set_keys() for p in load(key).problems if p.quantity]


def shares(problem, name):
    """The choices of a given that is a share of the flour; a pack's grams are none."""
    given = name in problem.givens and problem.quantity.slot(name).kind == "share"
    return problem.givens[name] if given else ()


def corners(problem):
    """The workings with every given at its least and at its greatest."""
    ends = [
        sorted(choices, key=lambda c: getattr(c.value, "water", c.value))
        for choices in problem.givens.values()
    ]
    for picked in product(*((each[0], each[-1]) for each in ends)):
        given = dict(zip(problem.givens, (choice.value for choice in picked), strict=True))
        yield problem.quantity.working(given)


def answers(problem):
    return [100 * w.values()[w.answer.key] for w in corners(problem)]


@pytest.mark.parametrize("key", set_keys())
def test_each_share_of_a_formula_is_one_of_a_dough(key):
    for problem in (p for own, p in PROBLEMS if own == key):
        for name, part in OF.items():
            low, high = WIDEST[part]
            for choice in shares(problem, name):
                assert low <= 100 * choice.value <= high, f"{problem.id}: {name} {choice.shown}"


@pytest.mark.parametrize(
    "problem", [p for _, p in PROBLEMS if p.quantity.name in MADE_OF], ids=lambda p: p.id
)
def test_a_hydration_that_is_asked_for_is_one_of_such_doughs(problem):
    of = [bakes()[key].ranges["water"] for key in MADE_OF[problem.quantity.name]]
    found = answers(problem)
    assert min(low for low, _ in of) <= min(found)
    assert max(found) <= max(high for _, high in of)


@pytest.mark.parametrize("problem_id", ["salt-share", "two-flours"])
def test_a_salt_percentage_that_is_asked_for_is_one_of_a_dough(problem_id):
    found = answers(load("bakers-percentage").problem(problem_id))
    assert WIDEST["salt"][0] + 0.2 <= min(found)
    assert max(found) <= WIDEST["salt"][1]


@pytest.mark.parametrize(
    "problem",
    [p for _, p in PROBLEMS if p.quantity.name == "converted formula"],
    ids=lambda p: p.id,
)
def test_a_whole_formula_has_its_yeast_and_its_sugar(problem):
    assert {"yeast", "sugar", "salt"} <= set(problem.givens)
    assert "yeast" in problem.story
    assert "sugar" in problem.story
