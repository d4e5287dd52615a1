"""The doughs to bake, beside public formulas of such doughs (each is named in ``bakes.yml``)."""

import pytest

from docs.course.bakes import PARTS, bakes, beyond, published

# Egg dishes are safe at 71 °C (160 °F) inside: US Department of Agriculture, from memory.
EGG_IS_SAFE = 71


@pytest.mark.parametrize("bake", bakes().values(), ids=lambda bake: bake.key)
def test_each_part_lies_in_the_range_of_such_doughs(bake):
    for part, found in bake.parts().items():
        low, high = bake.ranges[part]
        assert low <= found <= high, f"{bake.key}: {part} is {found:.1f} %"


@pytest.mark.parametrize("key", bakes())
@pytest.mark.parametrize("part", PARTS)
def test_a_range_reaches_no_further_than_public_formulas_allow(key, part):
    low, high = bakes()[key].ranges[part]
    stated = [each[part] for each in published() if each["dough"] == key and part in each]
    assert stated
    assert high <= max(stated) + beyond()[part]
    if part != "yeast":
        assert low >= max(0, min(stated) - beyond()[part])


@pytest.mark.parametrize("bake", bakes().values(), ids=lambda bake: bake.key)
def test_the_pieces_use_up_the_dough_and_little_stays(bake):
    used = bake.pieces * bake.piece_weight
    assert 0.95 * bake.formula.dough <= used <= bake.formula.dough


@pytest.mark.parametrize("bake", bakes().values(), ids=lambda bake: bake.key)
def test_a_bake_ends_in_the_oven_and_is_safe_inside(bake):
    assert bake.stages[-1].name.startswith("Bake")
    assert all(stage.minutes > 0 and stage.look for stage in bake.stages)
    assert bake.inside > EGG_IS_SAFE
    assert bake.inside < bake.oven


def test_a_pieces_cost_is_the_sum_of_what_is_in_it():
    # By hand: 0.42 × 1.10 + 0.18 × 1.40 + 0.011 × 0.60 + 0.006 × 14 = 0.8046, for two loaves.
    assert bakes()["rye-blend"].cost == pytest.approx(0.4023)
