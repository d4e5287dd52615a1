"""A set's draws, looked at before a class has them."""

import pytest

from exercises import problems
from exercises.problems import load, read_set
from exercises.review import review
from exercises.setfile import SetError
from tests.exercises.set_texts import GOOD


@pytest.mark.slow
@pytest.mark.parametrize("key", problems.set_keys())
def test_no_set_of_ours_has_an_absurd_draw(key):
    for problem in load(key).problems:
        if problem.quantity:
            seen = review(problem)
            assert seen.absurd == ()
            assert not seen.all_alike, problem.id


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        ("flour: {from: 50 g, to: 60 g, step: 10 g}\n      hydration: [40 %, 120 %]", "answer is"),
        ("flour: {from: 400 g, to: 600 g, step: 0.001 g}", "cannot go from"),
    ],
)
def test_refuses_absurd_draws(bad, says):
    text = GOOD.replace("flour: {from: 400 g, to: 600 g, step: 50 g}", bad)
    text = text.replace("      hydration: [62 %, 65 %]\n", "") if "hydration" in bad else text
    text = (
        text.replace("ask: new liquid", "ask: hydration after gram for gram")
        if "hydration" in bad
        else text
    )
    with pytest.raises(SetError, match=says):
        read_set(text, "mine.yml")
