"""Dry a sample: weights to water content."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.drying import DryingError, drying_working, is_constant, water_by_drying


def water(*weights: float, **more: float) -> float:
    return drying_working(*weights, **more).values()["water"]


def test_the_definition_of_moisture_on_the_fresh_weight():
    """Outside check: moisture % = 100 × (M1 − M2) ÷ (M1 − M0), dish M0, wet M1, dry M2: the wet-basis
    formula of the oven methods, as in ISO 712 and AOAC 925.10 (formula from memory)."""
    assert water(25.0, 24.3, 20.0) == pytest.approx(0.14)
    assert water(5.0, 4.3) == pytest.approx(0.14)


def test_whole_milk_dries_to_its_solids():
    """Outside check: USDA 1077, whole milk: 88.32 g of water in 100 g, so 11.68 g stay."""
    assert water(150.0, 61.68, 50.0) == pytest.approx(0.8832)


weights = st.tuples(st.floats(0, 500), st.floats(1, 500), st.floats(0, 1)).map(
    lambda three: (three[0], three[0] + three[1], three[0] + three[1] * three[2])
)


@given(weights, st.sampled_from([0.01, 0.1, 1.0]), st.tuples(*[st.floats(-0.499, 0.499)] * 3))
def test_bounds_hold_every_water_that_the_scale_may_have_hidden(weighed, scale, hidden):
    dish, before, after = (round(weight / scale) * scale for weight in weighed)
    if not before > dish or after < dish or after > before or before - dish < 3 * scale:
        return
    working = drying_working(before, after, dish, scale)
    bounds = working.bounds()["water"]
    assert working.values()["water"] in bounds
    true_dish = dish + hidden[0] * scale if dish else 0.0
    true_before = before + hidden[1] * scale
    true_after = after + hidden[2] * scale if after else 0.0
    true = (true_before - true_after) / (true_before - true_dish)
    assert true in bounds.widened(1e-9)


def test_the_bounds_are_reached_at_the_scales_ends():
    """By hand: 20 g of sample, 2 g left, a scale of 1 g: each weight half a gram off."""
    bounds = drying_working(20, 2, scale=1).bounds()["water"]
    assert (bounds.low, bounds.high) == pytest.approx((1 - 2.5 / 19.5, 1 - 1.5 / 20.5))


@given(weights, st.floats(0.5, 3))
def test_the_dish_and_the_size_of_the_sample_do_not_matter(weighed, times):
    dish, before, after = weighed
    if not before > dish or not dish <= after <= before:
        return
    expected = (before - after) / (before - dish)
    assert water(before + 7, after + 7, dish + 7) == pytest.approx(expected, abs=1e-9)
    assert water(before * times, after * times, dish * times) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("before", "after", "dish", "field"),
    [(50, 60, 0, "after"), (50, 30, 40, "after"), (40, 30, 50, "before"), (0, 0, 0, "before")],
)
def test_weights_that_contradict_each_other_are_refused(before, after, dish, field):
    with pytest.raises(DryingError) as refused:
        drying_working(before, after, dish)
    assert refused.value.field == field


@pytest.mark.parametrize(("before", "dish", "scale"), [(1, 0, 2), (2, 0.5, 2), (51, 50, 1)])
def test_a_sample_that_the_scale_may_show_for_nothing_is_refused(before, dish, scale):
    with pytest.raises(DryingError) as refused:
        drying_working(before, dish, dish, scale)
    assert refused.value.field == "before"
    assert 1 in drying_working(before + scale, dish, dish, scale).bounds()["water"]


def test_two_weighings_within_a_step_are_constant():
    assert is_constant(52.2, 52.3, 0.1)
    assert not is_constant(52.1, 52.3, 0.1)


def test_the_quantity_for_problem_sets_says_each_step():
    working = water_by_drying(70.4, 52.3, 50.2)
    lines = [working.sentence(key) for key in working.steps]
    assert lines == [
        "70.4 g − 50.2 g = 20.2 g",
        "52.3 g − 50.2 g = 2.1 g",
        "2.1 g ÷ 20.2 g = 10.4 %",
        "1 − 0.104 = 89.6 %",
    ]
