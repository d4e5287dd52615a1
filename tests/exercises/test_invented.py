"""The invented students make the mistakes that they are said to make, as often as is said."""

import pytest

from calc.mistakes import BY_KEY
from exercises import invented
from exercises.demo import DEMO_SET
from exercises.invented import FIRM, STUDENTS, WAVERING, misconceptions, work
from exercises.problems import load

SET = load(DEMO_SET)


@pytest.mark.slow
def test_the_rates_hold_over_many_classes(monkeypatch):
    """Over 30 seeds the share is near the stated one: five standard errors of a binomial share."""
    for rate in (FIRM, WAVERING):
        chances = taken = 0
        for seed in range(30):
            monkeypatch.setattr(invented, "SEED", f"seed {seed}")
            for student in STUDENTS:
                if student.has is not None and student.rate == rate:
                    done = work(SET, student)
                    chances, taken = chances + done.chances, taken + done.taken
        assert abs(taken / chances - rate) < 5 * (rate * (1 - rate) / chances) ** 0.5


def test_the_misconceptions_suit_the_set():
    found = misconceptions(SET)
    assert [one.key for one in found[:2]] == ["multiplied-by-water-content", "gram-for-gram"]
    assert all(BY_KEY[one.key] is one for one in found)
