"""The picture is drawn to scale: what is level holds the same water, and the words say what is drawn."""

import re

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.formula import Formula, Item
from calc.substitution import swap
from calc.units import Style
from docs.parts.shared.water_line import HEIGHT, THINNEST, drawing, is_level, vessel, water_line
from exercises.publish.html import write

FLOUR = Item(composition.find("bread-flour"), 500)
LIQUIDS = [key for key, row in composition.table().items() if row.is_liquid and row.water > 0.3]


def dough(key, grams):
    return Formula((FLOUR, Item(composition.find(key), grams)))


def layers(drawn, part):
    """The heights of the layers of a part, vessel by vessel."""
    rects = [mark for mark in drawn.marks if mark.get("class") == f"dw-{part}"]
    return [float(mark.get("height")) for mark in rects]


@given(st.sampled_from(LIQUIDS), st.sampled_from(LIQUIDS), st.integers(50, 900))
def test_a_swap_leaves_the_water_at_one_height(old, new, grams):
    before = dough(old, grams)
    done = swap(before, old, composition.find(new))
    drawn = drawing([vessel("Before", before), vessel("After", done.after)])
    low, high = layers(drawn, "water")
    assert low == pytest.approx(high, abs=0.11)
    assert is_level([vessel("Before", before), vessel("After", done.after)])
    assert "one line" in drawn.caption


@given(st.sampled_from(LIQUIDS), st.integers(20, 900), st.integers(20, 900))
def test_heights_are_weights_to_one_scale(key, one, other):
    drawn = drawing([vessel("A", dough(key, one)), vessel("B", dough(key, other))])
    row, scale = composition.find(key), HEIGHT / max(one, other)
    for height, grams in zip(layers(drawn, "water"), (one, other), strict=True):
        assert height == pytest.approx(grams * row.water * scale, abs=0.06)
    layers_of = [
        vessel(name, dough(key, grams)).layers() for name, grams in (("A", one), ("B", other))
    ]
    high = [grams * scale for each in layers_of for grams in each.values()]
    rects = [float(mark.get("height")) for mark in drawn.marks if mark.tag == "rect"]
    assert rects == pytest.approx([each for each in high if each >= THINNEST], abs=0.06)


def test_doughs_with_other_waters_have_no_common_line():
    drawn = drawing(
        [vessel("By weight", dough("sour-cream", 300)), vessel("By water", dough("water", 300))]
    )
    assert not [mark for mark in drawn.marks if "dw-dashes" in mark.get("class", "")]
    assert "different heights" in drawn.caption


def test_the_words_say_the_weights_in_the_readers_way():
    text = write(water_line({"After": dough("sour-cream", 430.4)}, Style(decimal=",", mass="oz")))
    assert re.search(r"After: 15,\d oz of liquid with 11,\d oz of water", text)
    page = BeautifulSoup(write(water_line({"<script>": dough("water", 10)})), "html.parser")
    assert page.find("script") is None


def test_a_dough_without_liquid_has_no_vessel():
    assert write(water_line({"Dry": Formula((FLOUR,))})) == "<span></span>"


@pytest.mark.parametrize("count", range(1, 9))
def test_no_vessel_leaves_the_picture(count):
    drawn = drawing([vessel(f"Number {n}", dough("water", 100 + n)) for n in range(count)])
    for mark in drawn.marks:
        if mark.tag == "rect":
            assert 0 <= float(mark.get("x")) <= drawn.width - float(mark.get("width"))
            assert float(mark.get("y")) + float(mark.get("height")) <= drawn.height
        if mark.tag == "text":
            assert float(mark.get("y")) <= drawn.height
