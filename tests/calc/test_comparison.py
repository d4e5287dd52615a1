"""The side-by-side bake: same water, balanced tasting, honest statistics."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.comparison import plan
from calc.formula import Formula, FormulaError, Item
from calc.tasting import mixing_orders, oven_places

LIQUIDS = [one for one in composition.table().values() if one.is_liquid and one.water > 0.2]
DRY = [one for one in composition.table().values() if one.group in ("salt", "yeast", "sweetener")]


def dough(grams=325.0, rest=()):
    flour, water = composition.find("bread-flour"), composition.find("water")
    return Formula((Item(flour, 500), Item(water, grams), *rest))


# The plan.


@given(
    st.lists(st.sampled_from(LIQUIDS), min_size=2, max_size=8, unique_by=lambda one: one.key),
    st.floats(50, 5000),
    st.lists(st.sampled_from(DRY), max_size=4, unique_by=lambda one: one.key),
)
def test_every_variant_has_the_same_water_and_the_same_rest(liquids, grams, dry):
    rest = tuple(Item(one, 10.0) for one in dry)
    base = dough(grams, rest)
    bake = plan(base, "water", liquids)
    assert [variant.liquid for variant in bake.variants] == liquids
    for variant in bake.variants:
        assert variant.dough.total("water") == pytest.approx(base.total("water"), abs=0.001)
        assert variant.hydration() == pytest.approx(grams / 500)
        kept = [item for item in variant.dough.items if item.ingredient != variant.liquid]
        assert kept == [base.items[0], *rest]


def test_the_usual_four_at_the_same_water():
    """Weights from USDA Standard Reference water contents (NDB 1077, 1230, 1116, 1056)."""
    keys = {"whole-milk": 88.32, "buttermilk": 90.13, "plain-yogurt": 87.90, "sour-cream": 74.46}
    bake = plan(dough(), "water", [composition.find(key) for key in keys])
    for variant in bake.variants:
        assert variant.swap.new.grams == pytest.approx(325 / keys[variant.key] * 100, rel=1e-3)


def test_the_weight_for_all_loaves_is_every_loafs_weight():
    bake = plan(dough(), "water", [composition.find("whole-milk"), composition.find("egg")], 3)
    totals = {item.ingredient.key: item.grams for item in bake.in_all()}
    assert totals["bread-flour"] == 3000
    assert sum(totals.values()) == pytest.approx(3 * sum(v.dough.dough for v in bake.variants))


@pytest.mark.parametrize("keys", [["egg"], ["egg", "egg"], [one.key for one in LIQUIDS[:9]]])
def test_too_few_too_many_or_twice_is_refused(keys):
    with pytest.raises(FormulaError, match=r"2 to 8|twice"):
        plan(dough(), "water", [composition.find(key) for key in keys])


# Every plan the page allows: liquids, loaves of each, tasters.
PLANS = [(samples, rounds) for samples in range(2, 9) for rounds in range(1, 6)]


@pytest.mark.parametrize(("samples", "rounds"), PLANS)
def test_no_liquid_is_mixed_earlier_or_later_than_another(samples, rounds):
    orders = mixing_orders(samples, rounds)
    assert len(orders) == rounds
    assert all(sorted(order) == list(range(samples)) for order in orders)
    places = [sum(order.index(one) for order in orders) for one in range(samples)]
    if rounds > 1:
        assert max(places) - min(places) <= 1


@pytest.mark.parametrize(("samples", "rounds"), PLANS)
def test_no_liquid_keeps_a_place_in_the_oven(samples, rounds):
    places = oven_places(samples, rounds)
    assert all(sorted(one) == list(range(samples)) for one in places)
    for sample in range(samples):
        times = Counter(one[sample] for one in places)
        assert len(times) == min(samples, rounds)
        assert max(times.values()) - min(times.values()) <= 1


def test_a_plan_tells_order_oven_and_control():
    bake = plan(dough(), "water", LIQUIDS[:5], replicates=3)
    rounds = bake.mixing_rounds()
    assert all(set(one) == set(bake.variants) for one in rounds)
    assert len({one[0].key for one in rounds}) == 3
    assert {bake.oven_place(variant, 2) for variant in bake.variants} == {1, 2, 3, 4, 5}
    assert bake.control == any(one.key == "water" for one in LIQUIDS[:5])
    assert plan(dough(), "water", [composition.find(k) for k in ("water", "egg")]).control
