"""The picture balances where the heat balance says that the parts meet."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.temperature import Part, mixed
from docs.parts.shared.warm_and_cold import HIGHEST_STACK, balance_point, blocks, drawing

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
    drawn = drawing(weighed, mixed(weighed, friction))
    rects = [mark for mark in drawn.marks if mark.tag == "rect"]
    assert sum(float(mark.get("height")) for mark in rects) == pytest.approx(HIGHEST_STACK, abs=0.5)
    for mark in rects:
        assert 0 <= float(mark.get("x")) <= drawn.width - float(mark.get("width"))
        assert float(mark.get("y")) >= 30


def test_the_words_say_each_part_and_both_temperatures():
    weighed = [Part(FLOUR, 500, 20), Part(composition.find("water"), 325, 30)]
    says = drawing(weighed, mixed(weighed, 4.0)).says
    assert "bread flour at 20 °C" in says
    assert "water at 30 °C" in says
    assert f"balances at {mixed(weighed, 0.0):.0f} °C" in says
