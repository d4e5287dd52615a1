"""One working, five readings."""

import re

import pytest
import uncertainties
from hypothesis import assume, given, reject
from hypothesis import strategies as st

from calc import composition
from calc.interval import Interval
from calc.quantities import REGISTRY
from calc.units import Style, read
from calc.working import Working

LIQUIDS = [each for each in composition.table().values() if each.is_liquid and each.water > 0.5]


def value_for(slot):
    """Anything a slot allows."""
    if slot.kind == "ingredient":
        return st.sampled_from(LIQUIDS)
    return st.floats(slot.low, min(slot.high, 5000 if slot.kind == "mass" else slot.high))


@st.composite
def workings(draw):
    quantity = draw(st.sampled_from(list(REGISTRY.values())))
    values = {slot.name: draw(value_for(slot)) for slot in quantity.slots}
    assume(not any(slot.refusal(values[slot.name]) for slot in quantity.slots if slot.needs))
    try:
        working = quantity.working(values)
    except ValueError:  # refused in words, as a problem set would be
        reject()
    assume(
        quantity.plausible_low <= working.values()[working.answer.key] <= quantity.plausible_high
    )
    return working


def swap() -> Working:
    """Common practice, no source: the dough that bakers often tell the division with."""
    working = Working("a swap")
    flour = working.given("flour", "flour", 140, "mass")
    hydration = working.given("hydration", "hydration", 0.68, "share")
    content = working.given("content", "water content", 0.74, "share", Interval(0.72, 0.76))
    water = working.step("water", "water", flour * hydration, "mass")
    working.step("liquid", "liquid", water / content, "mass", why="Divide.")
    return working


def test_value_bounds_and_words_come_from_the_same_expression():
    working = swap()
    assert working.values()["liquid"] == pytest.approx(140 * 0.68 / 0.74)
    bounds = working.bounds()["liquid"]
    assert (bounds.low, bounds.high) == pytest.approx((140 * 0.68 / 0.76, 140 * 0.68 / 0.72))
    assert working.relation("liquid") == "water ÷ water content"
    assert working.sentence("liquid") == "95.2 g ÷ 0.74 = 128.6 g"
    assert working.sentence("liquid", Style(",", "oz")) == "3,358 oz ÷ 0,74 = 4,54 oz"
    assert working.weighed("liquid") == "129 g"


@given(workings())
def test_bounds_hold_the_value(working):
    values, bounds = working.values(), working.bounds()
    for key in working.steps:
        assert values[key] in bounds[key]


# A unit after its number, such as “ kJ/(kg·K)”: what is in brackets there is no number.
UNIT = r"(?<=\d) [^\d\s+*/()-](?:[^\s+*()-]|\([^\d\s()]+\))*"


@given(workings())
def test_the_numbers_printed_give_the_result_printed(working):
    """Who computes from the printed line gets the printed result, within its last figure.

    A printed number has four figures, so a thousandth of the result may be lost on the way.
    """
    for step in working.steps.values():
        line = working.sentence(step.key).replace("÷", "/").replace("×", "*").replace("−", "-")
        left, right = line.rsplit(" = ", 1)
        computed = eval(re.sub(UNIT, "", left))
        printed = read(right.replace("-", "−"), step.kind)
        slack = max(0.001 * abs(printed.value), step.to / 10)
        assert computed == pytest.approx(printed.value, abs=slack + printed.half_unit), line


def test_bounds_agree_with_first_order_propagation_for_small_ranges():
    """Outside check: the reference library uncertainties; its ± is a slope times a small width."""
    working = Working("share")
    x = working.given("x", "x", 100.0, "mass", Interval(99.999, 100.001))
    y = working.given("y", "y", 200.0, "mass", Interval(199.999, 200.001))
    working.step("share", "share", x / (x + y), "share")
    one, two = uncertainties.ufloat(100, 0.001), uncertainties.ufloat(200, 0.001)
    share = one / (one + two)
    widest = sum(abs(share.derivatives[v]) * 0.001 for v in (one, two))
    assert working.bounds()["share"].width / 2 == pytest.approx(widest, rel=1e-4)


def test_refuses_grams_added_to_per_cent():
    working = Working("nonsense")
    flour = working.given("flour", "flour", 140, "mass")
    share = working.given("share", "share", 0.5, "share")
    with pytest.raises(ValueError, match="like can be added"):
        working.step("sum", "sum", flour + share, "mass")
    with pytest.raises(ValueError, match="is not one"):
        working.step("product", "product", flour * share, "share")
    with pytest.raises(ValueError, match="appears twice"):
        working.given("flour", "flour", 1, "mass")


def typed_in(sentence):
    """What a pocket calculator makes of a printed sum, as it prints the result."""
    sum_, _, result = sentence.partition(" = ")
    sum_ = sum_.replace(" g", "").replace("×", "*").replace("÷", "/").replace("−", "-")
    value = eval(sum_) * (100 if result.endswith(" %") else 1)
    number, _, unit = result.partition(" ")
    return f"{value + 1e-9:.{len(number.partition('.')[2])}f} {unit}"


@pytest.mark.parametrize("old", ["water", "whole-milk", "buttermilk"])
@pytest.mark.parametrize("new", ["sour-cream", "plain-yogurt", "egg", "heavy-cream"])
@pytest.mark.parametrize("flour", range(150, 600, 31))
def test_a_calculator_comes_to_what_is_printed(old, new, flour):
    old, new = composition.read(old), composition.read(new)
    for working in (
        REGISTRY["liquid for liquid"].working(
            {"liquid weight": float(flour), "liquid": old, "new liquid": new}
        ),
        REGISTRY["fat brought"].working({"flour": float(flour), "hydration": 0.63, "liquid": new}),
    ):
        for step in working.steps:
            sentence = working.sentence(step)
            assert typed_in(sentence) == sentence.partition(" = ")[2], sentence
