"""The swap: the water stays."""

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.formula import Formula, FormulaError, Item
from calc.substitution import swap, swap_weight, swap_working, weight_working

TABLE = list(composition.table().values())
LIQUIDS = [each for each in TABLE if each.is_liquid and each.water > 0.2]
OTHERS = [each for each in TABLE if not each.is_liquid and not each.is_flour]
FLOURS = [each for each in TABLE if each.is_flour]
grams = st.floats(1, 10_000)


@st.composite
def formulas(draw):
    others = draw(st.lists(st.sampled_from(OTHERS), max_size=4, unique_by=lambda each: each.key))
    items = [Item(draw(st.sampled_from(FLOURS)), draw(grams))]
    items.append(Item(draw(st.sampled_from(LIQUIDS)), draw(grams)))
    return Formula(tuple(items + [Item(each, draw(grams)) for each in others]))


def water(dough: Formula) -> float:
    return dough.total("water")


@given(formulas(), st.sampled_from(LIQUIDS), st.floats(0.01, 1))
def test_the_dough_holds_the_same_water(dough, new, part):
    after = swap(dough, dough.items[1].ingredient.key, new, part).after
    assert water(after) == pytest.approx(water(dough), abs=0.001)


@given(formulas(), st.sampled_from(LIQUIDS))
def test_there_and_back_returns_the_formula(dough, new):
    old = dough.items[1].ingredient
    after = swap(dough, old.key, new).after
    back = swap(after, new.key, old).after
    assert [i.ingredient for i in back.items] == [i.ingredient for i in dough.items]
    assert [i.grams for i in back.items] == pytest.approx([i.grams for i in dough.items])


@given(formulas(), st.sampled_from(LIQUIDS), st.floats(0.01, 1), st.sampled_from([0.1, 1.0, 5.0]))
def test_bounds_hold_the_new_weight(dough, new, part, scale):
    working = swap(dough, dough.items[1].ingredient.key, new, part, scale).working
    assert working.values()["new"] in working.bounds()["new"]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.key)
def test_a_swap_for_any_row_has_bounds_or_is_refused(row):
    """Where products of a name may hold no water, no weight has an upper bound: that is told."""
    tap = composition.find("water")
    if not row.water_range.low:
        for refused in (
            lambda: swap_working(Item(tap, 100), row),
            lambda: weight_working(Item(row, 100), Item(tap, 1e-6)),
        ):
            with pytest.raises(
                FormulaError, match=r"holds? no water, so no weight of it .* Choose a liquid"
            ):
                refused()
        return
    for old, new in ((tap, row), (row, tap), (row, row)):
        by_part = swap_working(Item(old, 100), new)
        by_weight = weight_working(Item(old, 100), Item(new, by_part.values()["new"] / 2))
        for working in (by_part, by_weight):
            values, bounds = working.values(), working.bounds()
            assert all(values[step] in bounds[step] for step in working.steps)
            assert all(isfinite(bounds[step].high) for step in working.steps)


@pytest.mark.parametrize(
    ("content", "low", "high"), [(0.90, 105, 106), (0.88, 108, 108.5), (0.74, 128, 129)]
)
def test_common_practice_swap(content, low, high):
    """Common practice, no source: 95 g of water is 105 to 106, 108 and 128 g of these liquids."""
    bread = composition.find("bread-flour")
    dough = Formula((Item(bread, 140), Item(composition.find("water"), 140 * 0.68)))
    assert dough.items[1].grams == pytest.approx(95, abs=0.5)
    new = swap(dough, "water", composition.own("a liquid", content)).new.grams
    assert low <= new <= high


def test_a_part_keeps_the_rest_and_merges_with_what_is_there():
    bread, tap, milk = (composition.find(key) for key in ("bread-flour", "water", "whole-milk"))
    dough = Formula((Item(bread, 500), Item(tap, 200), Item(milk, 100)))
    after = swap(dough, "water", milk, 0.5).after
    assert [item.ingredient.key for item in after.items] == ["bread-flour", "water", "whole-milk"]
    assert after.items[1].grams == pytest.approx(100)
    assert after.items[2].grams == pytest.approx(100 + 100 / milk.water)


@given(formulas(), st.sampled_from(LIQUIDS), st.floats(0.01, 1), st.sampled_from([0.1, 1.0, 5.0]))
def test_a_weight_swaps_as_its_part_does(dough, new, part, scale):
    """So much of the new liquid as a part of the old one takes leaves the rest of the old one."""
    old = dough.items[1]
    by_part = swap(dough, old.ingredient.key, new, part)
    by_weight = swap_weight(dough, old.ingredient.key, by_part.new, scale)
    assert by_weight.kept == pytest.approx(by_part.kept, abs=old.grams * 1e-6)
    assert by_weight.working.values()["part"] == pytest.approx(part)
    assert by_weight.working.values()["kept"] in by_weight.working.bounds()["kept"]
    assert water(by_weight.after) == pytest.approx(water(dough), abs=0.001)
    assert (by_part.by_weight, by_weight.by_weight) == (False, True)


def test_two_eggs_in_place_of_some_milk():
    """Outside check, by hand: whole egg 75.84 % water (USDA SR 1123), milk 88.32 % (USDA SR 1077)."""
    milk, egg = composition.find("whole-milk"), composition.find("egg")
    dough = Formula((Item(composition.find("bread-flour"), 500), Item(milk, 340)))
    done = swap_weight(dough, milk.key, Item(egg, 100), scale=1.0)
    assert done.kept == pytest.approx(340 - 100 * 0.7584 / 0.8832, abs=0.05)
    assert done.working.sentence("part").startswith("75.84 g ÷ 300.29 g")
    assert done.working.bounds()["kept"].low < done.kept < done.working.bounds()["kept"].high


def test_more_than_fits_is_refused_with_what_fits():
    dough = Formula(
        (Item(composition.find("bread-flour"), 500), Item(composition.find("water"), 100))
    )
    with pytest.raises(
        FormulaError, match=r"500 g of .* brings more water than 100 g of water holds. At most 11"
    ):
        swap_weight(dough, "water", Item(composition.find("whole-milk"), 500))
    with pytest.raises(FormulaError, match="above 0 g"):
        swap_weight(dough, "water", Item(composition.find("whole-milk"), 0))
    with pytest.raises(FormulaError, match="holds no water"):
        swap_weight(dough, "water", Item(composition.find("lard"), 10))
