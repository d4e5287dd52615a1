"""The picture has each dough where its score is, the tighter the taller, and says the order in words."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.feel import SCALES, Variant, order
from calc.formula import Formula, Item
from calc.substitution import swap
from docs.parts.shared.loose_and_tight import NAMES, drawing, loose_and_tight
from exercises.publish.html import write

PLAIN = Formula(
    (
        Item(composition.find("bread-flour"), 500),
        Item(composition.find("water"), 325),
        Item(composition.find("salt"), 10),
    )
)
LIQUIDS = ["kefir", "orange-juice", "oat-drink", "half-and-half", "plain-yogurt", "whole-milk", "buttermilk"]  # fmt: skip


def places(keys):
    doughs = [
        Variant(composition.find(key).name, swap(PLAIN, "water", composition.find(key)).after)
        for key in keys
    ]
    return order(doughs, SCALES[0])


def mounds(drawn):
    """Each mound's middle and height, from the top."""
    found = []
    for mark in drawn.marks:
        if mark.get("class") == "dw-flour":
            left, wide, high = (
                float(each) for each in re.match(r"M(\S+) \S+A(\S+) (\S+) ", mark.get("d")).groups()
            )
            found.append((left + wide, high, wide))
    return found


@given(st.lists(st.sampled_from(LIQUIDS), min_size=1, max_size=6, unique=True))
def test_the_tighter_is_further_right_and_taller(keys):
    placed = places(keys)
    plain = order([Variant("plain water", PLAIN)], SCALES[0])[0].score
    drawn = drawing(placed, plain)
    found = mounds(drawn)
    assert len(found) == len(keys)
    assert [x for x, _, _ in found] == sorted((x for x, _, _ in found), reverse=True)
    assert [high for _, high, _ in found] == sorted((high for _, high, _ in found), reverse=True)
    # One dough: the same area, whatever its shape (half an ellipse is in proportion to wide × high).
    assert [high * wide for _, high, wide in found] == pytest.approx(
        [found[0][1] * found[0][2]] * len(keys), rel=0.02
    )
    for x, high, wide in found:
        assert x - wide >= NAMES
        assert x + wide <= drawn.width
        assert high < 34
    told = [drawn.says.index(f" {place.variant.name}, ") for place in placed]
    assert told == sorted(told)


def test_a_small_difference_stays_small():
    far = mounds(drawing(places(["kefir", "half-and-half"]), None))
    near = mounds(drawing(places(["whole-milk", "oat-drink"]), None))
    assert far[0][0] - far[1][0] > 3 * (near[0][0] - near[1][0])


def test_a_dough_that_has_no_place_is_not_drawn():
    unknown = composition.own("a strange drink", 0.9)
    placed = order([Variant("a strange drink", swap(PLAIN, "water", unknown).after)], SCALES[0])
    assert placed[0].score is None
    assert loose_and_tight(placed, None) is None
    assert write(loose_and_tight(places(["kefir"]), None)).startswith("<figure")
