"""The picture balances where the heat balance says that the parts meet."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.temperature import Part, mixed, movable, plan
from docs.parts.shared.warm_and_cold import (
    HIGHEST_STACK,
    balance_point,
    blocks,
    drawing,
    planned,
)

FLOUR = composition.find("bread-flour")
SOME = ["water", "whole-milk", "sour-cream", "butter", "salt", "egg"]

parts = st.lists(
    st.builds(
        lambda key, grams, celsius: Part(composition.find(key), grams, celsius),
        st.sampled_from(SOME),
        st.integers(1, 900),
        st.integers(0, 45),
    ),
    min_size=1,
    max_size=6,
)


@given(parts, st.integers(1, 20), st.integers(0, 15))
def test_the_beam_balances_where_the_parts_meet(some, flour_at, friction):
    """`calc.temperature.mixed` finds the same temperature by equating heats, not by moments."""
    weighed = [Part(FLOUR, 500, flour_at), *some]
    assert balance_point(blocks(weighed)) == pytest.approx(mixed(weighed, 0.0), abs=0.01)
    drawn = drawing(blocks(weighed), mixed(weighed, friction))
    rects = [mark for mark in drawn.marks if mark.tag == "rect"]
    assert sum(float(mark.get("height")) for mark in rects) == pytest.approx(HIGHEST_STACK, abs=0.5)
    for mark in rects:
        assert 0 <= float(mark.get("x")) <= drawn.width - float(mark.get("width"))
        assert float(mark.get("y")) >= 30


def test_the_words_say_each_part_and_both_temperatures():
    weighed = [Part(FLOUR, 500, 20), Part(composition.find("water"), 325, 30)]
    says = drawing(blocks(weighed), mixed(weighed, 4.0)).says
    assert "bread flour at 20 °C" in says
    assert "water at 30 °C" in says
    assert f"balances at {mixed(weighed, 0.0):.0f} °C" in says


@given(
    st.sampled_from(["water", "whole-milk", "orange-juice"]),
    st.integers(300, 400),
    st.integers(24, 35),
    st.integers(18, 24),
    st.integers(-30, 0),
)
def test_the_beam_balances_with_ice_too(key, grams, warm, wanted, ice):
    """The ice was found by equating heats; as a block far out it must balance the same beam."""
    wet = movable(Part(composition.find(key), grams, warm), warm)
    made = plan([Part(FLOUR, 500, warm), wet], wanted, 2, ice)
    assert made.ice > 0
    found = planned(made, 2)
    assert balance_point(found) == pytest.approx(wanted - 2, abs=0.05)
    assert sum(one.is_ice for one in found) == 1
    drawn = drawing(found, made.reached)
    assert "ice like water at" in drawn.says or "frozen" in drawn.says
    assert "Melting takes" in drawn.caption
    for mark in drawn.marks:
        if mark.tag == "rect":
            assert 0 <= float(mark.get("x")) <= drawn.width - float(mark.get("width"))


def test_ice_counts_as_the_trade_counts_it():
    """Common practice: melting counts as 80 degrees of water (334 ÷ 4.18, from memory)."""
    wet = movable(Part(composition.find("water"), 325, 25), 25)
    found = planned(plan([Part(FLOUR, 500, 28), wet], 22, 4), 4)
    ice = next(one for one in found if one.is_ice)
    assert ice.celsius == pytest.approx(-80, abs=0.5)
