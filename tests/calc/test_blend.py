"""Blends of liquids, swaps for them, and the most that fits."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import composition, formula
from calc.blend import blend, blend_water, blend_working, most_that_fits, swap_for_blend
from calc.formula import Formula, FormulaError, Item
from calc.quantities import REGISTRY
from calc.substitution import swap

TABLE = list(composition.table().values())
LIQUIDS = [each for each in TABLE if each.is_liquid and each.water > 0.2]
grams = st.floats(1, 2000)
mixtures = st.lists(st.builds(Item, st.sampled_from(LIQUIDS), grams), min_size=1, max_size=4)


def dough(**weights: float) -> Formula:
    return Formula(
        tuple(Item(composition.find(key.replace("_", "-")), g) for key, g in weights.items())
    )


@settings(deadline=None)
@given(mixtures)
def test_a_blend_holds_what_its_parts_hold(parts):
    made, whole = blend(parts), sum(part.grams for part in parts)
    for share in ("water", "fat", "sugars", "salt", "protein"):
        known = [getattr(part.ingredient, share) for part in parts]
        if None in known:
            assert getattr(made, share) is None
        else:
            held = sum(p.grams * k for p, k in zip(parts, known, strict=True))
            assert getattr(made, share) * whole == pytest.approx(held)
    assert set(made.allergens) == {a for part in parts for a in part.ingredient.allergens}
    assert made.perishable == any(part.ingredient.perishable for part in parts)


@settings(deadline=None)
@given(mixtures, st.data())
def test_the_range_of_a_blend_holds_every_product(parts, data):
    """Any products from the ranges of the parts, mixed, give a water content within the range."""
    made, whole = blend(parts), sum(part.grams for part in parts)
    picked: dict[str, float] = {}
    for part in parts:
        ends = part.ingredient.water_range
        if part.ingredient.water < 1:
            picked.setdefault(part.ingredient.key, data.draw(st.floats(ends.low, ends.high)))
    water = sum(p.grams * picked.get(p.ingredient.key, 1.0) for p in parts) / whole
    assert made.water_range.low - 1e-12 <= water <= made.water_range.high + 1e-12
    assert made.water in made.water_range


def test_the_ph_of_a_blend_is_a_range_and_never_an_average():
    """Common practice, no source: acid and neutral liquids mix to something between, not to the mean."""
    milk, cream = composition.find("whole-milk"), composition.find("sour-cream")
    made = blend([Item(milk, 10), Item(cream, 300)])
    assert (made.ph.low, made.ph.high) == (
        min(milk.ph.low, cream.ph.low),
        max(milk.ph.high, cream.ph.high),
    )
    assert "not the average" in made.note
    assert blend([Item(milk, 1), Item(composition.own("mine", 0.7), 1)]).ph is None


@settings(deadline=None)
@given(mixtures, st.floats(0.05, 1))
def test_a_swap_for_a_blend_keeps_the_water_and_the_ratio(parts, part):
    before = dough(bread_flour=500, water=325, salt=10)
    done = swap_for_blend(before, "water", parts, part)
    assert done.after.total("water") == pytest.approx(before.total("water"), abs=0.001)
    assert "blend" not in [item.ingredient.key for item in done.after.items]
    brought = {i.ingredient.key: i.grams for i in done.after.items if i.ingredient.key != "water"}
    first, last = parts[0], parts[-1]
    if (
        len(parts) == 2
        and "water" not in {p.ingredient.key for p in parts}
        and first.ingredient != last.ingredient
    ):
        ratio = brought[first.ingredient.key] / brought[last.ingredient.key]
        assert ratio == pytest.approx(first.grams / last.grams)


def test_hydration_does_not_change_by_a_blend():
    before = dough(bread_flour=500, water=325, salt=10)
    parts = [Item(composition.find("egg"), 100), Item(composition.find("whole-milk"), 200)]
    after = swap_for_blend(before, "water", parts).after
    both = [formula.hydration(f).values()["hydration"] for f in (before, after)]
    assert both[0] == pytest.approx(both[1]) == pytest.approx(0.65)


def test_the_working_of_a_blend():
    """Common practice, no source: half water and half of a liquid of 74 % water hold 87 %."""
    thick, tap = composition.own("thick", 0.74), composition.find("water")
    working = blend_water(thick, 200, tap, 200)
    assert working.values()["content"] == pytest.approx(0.87)
    assert working.sentence("content") == "348 g ÷ 400 g = 87 %"
    assert blend_working([Item(tap, 100)]).values()["content"] == 1


@settings(deadline=None)
@given(
    st.sampled_from([e for e in LIQUIDS if e.fat]),
    st.sampled_from(["water", "whole-milk", "heavy-cream"]),
    st.floats(0.02, 0.6),
    st.floats(0, 100),
)
def test_the_most_that_fits_is_just_under_the_limit(new, old, limit, butter):
    before = dough(bread_flour=500, salt=10, butter=butter, **{old.replace("-", "_"): 325})
    try:
        most = most_that_fits(before, old, new, limit)
    except FormulaError:
        least = swap(before, old, new).after.total("fat")
        assert min(least, before.total("fat")) > 500 * limit
        return
    after = most.swap.after if most.swap else before
    assert after.total("fat") <= 500 * limit + 1e-6
    if not most.is_all:
        assert after.total("fat") == pytest.approx(500 * limit)


def test_as_much_sour_cream_as_fits_under_12_per_cent_fat():
    """Worked by hand from the table: 60 g of fat allowed, less the flour's and the butter's own."""
    before, cream = dough(bread_flour=500, water=325, butter=20), composition.find("sour-cream")
    flour, butter = composition.find("bread-flour"), composition.find("butter")
    most = most_that_fits(before, "water", cream, 0.12)
    weight = (60 - 500 * flour.fat - 20 * butter.fat) / cream.fat
    assert most.swap.new.grams == pytest.approx(weight)
    assert most.working.values()["part"] == pytest.approx(most.part)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda d, e: blend([]), "nothing to blend"),
        (lambda d, e: most_that_fits(d, "whole-milk", e("sour-cream"), 0.12), "no such liquid"),
        (lambda d, e: most_that_fits(d, "water", composition.own("mine", 0.7), 0.1), "know the fat of mine"),
        (lambda d, e: most_that_fits(d, "water", e("sour-cream"), 0.01), "before anything is swapped"),
        (lambda d, e: most_that_fits(dough(rye_flour=500, whole_milk=325, lard=99), "whole-milk", e("water"), 0.1), "even when all"),
    ],
)  # fmt: skip
def test_says_what_is_wrong(make, says):
    with pytest.raises(FormulaError, match=says):
        make(dough(bread_flour=500, water=325, butter=20), composition.find)


def test_a_problem_without_more_fat_is_refused():
    ask = REGISTRY["most that fits under a fat limit"]
    milk = composition.find("whole-milk")
    with pytest.raises(ValueError, match="hardly more fat"):
        ask.working(
            {
                "flour": 500,
                "liquid weight": 325,
                "liquid": milk,
                "new liquid": milk,
                "fat limit": 0.1,
            }
        )
