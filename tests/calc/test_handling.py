"""Time out of the cold."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from calc.handling import time_left

MINUTES = st.integers(1, 300)


def test_four_hours_less_three_spells_and_the_bake():
    """US FDA Food Code 2022, 3-501.19(B)(3): "cooked and served … within 4 hours from the point in
    time when the food is removed from temperature control" (Minnesota 4626.0408, Wisconsin ATCP 75).
    So the oven is inside the four hours."""
    working = time_left(4 * 60, 20, 90, 25, 35)
    assert working.sentence("left") == "240 min − 170 min = 70 min"


@given(MINUTES, MINUTES, MINUTES, MINUTES)
def test_used_and_left_make_the_limit(mixing, first_rise, shaping, baking):
    values = time_left(1300, mixing, first_rise, shaping, baking).values()
    assert values["used"] + values["left"] == 1300
    assert Fraction(values["used"]) == mixing + first_rise + shaping + baking
