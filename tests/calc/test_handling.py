"""Time out of the cold."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from calc.handling import time_left

MINUTES = st.integers(1, 300)


def test_four_hours_less_three_spells():
    """The four hours are those of the US FDA Food Code 2022, 3-501.19 (read in states' adoptions)."""
    working = time_left(4 * 60, 20, 90, 25)
    assert working.sentence("left") == "240 min − 135 min = 105 min"


@given(MINUTES, MINUTES, MINUTES)
def test_used_and_left_make_the_limit(mixing, first_rise, shaping):
    values = time_left(1000, mixing, first_rise, shaping).values()
    assert values["used"] + values["left"] == 1000
    assert Fraction(values["used"]) == mixing + first_rise + shaping
