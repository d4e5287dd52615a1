"""A student who knows nothing gains nothing by a rule: the longest option, the shortest, the first, the middle one."""

from collections import defaultdict

import pytest

from exercises.draws import draw
from exercises.problems import load, set_keys

DRAWS = 20
# A length that differs by less is not seen as longer or shorter.
SEEN = 0.15


def tallest(sizes):
    """The share of a guess that each place gets, where the largest is taken and ties are broken by chance."""
    top = [place for place, size in enumerate(sizes) if size >= (1 - SEEN) * max(sizes)]
    return {place: 1 / len(top) for place in top}


RULES = {
    "longest": lambda lengths: tallest(lengths),
    "shortest": lambda lengths: tallest([1 / length for length in lengths]),
    "first": lambda lengths: {0: 1.0},
    "middle": lambda lengths: {len(lengths) // 2: 1.0},
    "last": lambda lengths: {len(lengths) - 1: 1.0},
}


def scores():
    """By question, how often each rule finds the right option, and how often chance does."""
    for key in set_keys():
        problem_set = load(key)
        for problem in (one for one in problem_set.problems if one.questions):
            found = defaultdict(lambda: defaultdict(float))
            for number in range(DRAWS):
                for box in draw(problem_set, problem, f"student {number}").boxes:
                    lengths = [len(option.text) for option in box.options]
                    right = next(n for n, option in enumerate(box.options) if option.right)
                    found[box.key]["chance"] += 1 / len(lengths) / DRAWS
                    for name, rule in RULES.items():
                        found[box.key][name] += rule(lengths).get(right, 0.0) / DRAWS
            for box, score in found.items():
                yield f"{key}/{problem.id} {box}", score


@pytest.fixture(scope="module")
def scored():
    return dict(scores())


@pytest.mark.parametrize("rule", RULES)
def test_no_rule_of_looks_beats_chance(scored, rule):
    mean = {name: sum(one[name] for one in scored.values()) / len(scored) for name in (rule, "chance")}  # fmt: skip
    assert mean[rule] <= mean["chance"] + 0.04


def test_the_right_option_is_not_always_the_one_that_looks_longest(scored):
    assert [name for name, one in scored.items() if one["longest"] > one["chance"] + 0.4] == []
