"""Preferments and starters, counted into the whole dough."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import composition, formula
from calc.formula import Formula, FormulaError, Item
from calc.preferment import (
    KINDS,
    build,
    caution,
    final_dough,
    hydrations,
    liquid_left,
    overall,
    overall_hydration,
    parts_working,
    percentage_of_all_flour,
    preferment,
    preferment_parts,
    preferment_weight,
    prefermented_flour,
    total_flour,
)
from calc.substitution import swap

BREAD, WATER, MILK, YEAST, SALT = (
    composition.find(key) for key in ("bread-flour", "water", "whole-milk", "instant-yeast", "salt")
)
LIQUIDS = [e for e in composition.table().values() if e.is_liquid and e.water > 0.4]
weights = st.floats(10, 5000)


def hydration(dough: Formula) -> float:
    return formula.hydration(dough).values()["hydration"]


def grams(dough: Formula, key: str) -> float:
    return sum(item.grams for item in dough.items if item.ingredient.key == key)


def test_a_poolish_is_equal_weights_of_flour_and_water():
    """Common practice, no source: equal weights of flour and water are 100 % hydration."""
    poolish = preferment(200, 1.0, BREAD, WATER)
    assert (grams(poolish, "bread-flour"), grams(poolish, "water")) == (100, 100)
    assert next(kind for kind in KINDS if kind.key == "poolish").low == 1.0


def test_a_stiff_starter():
    """Common practice, no source: a starter of 50 % hydration is two parts flour to one of water."""
    starter = preferment(150, 0.5, BREAD, WATER)
    assert (grams(starter, "bread-flour"), grams(starter, "water")) == (100, 50)


def test_the_poolish_counts_in_the_whole_dough():
    """Common practice, no source: 200 g of poolish in 400 g of flour and 250 g of water is 70 %."""
    final = Formula((Item(BREAD, 400), Item(WATER, 250), Item(SALT, 10)))
    found = hydrations(final, preferment(200, 1.0, BREAD, WATER))
    assert found == pytest.approx({"final": 0.625, "preferment 1": 1.0, "overall": 0.7})
    assert overall_hydration(400, WATER, 250, 200, 1.0).values()["hydration"] == pytest.approx(0.7)
    assert liquid_left(500, 0.7, 200, 1.0, WATER).values()["water left"] == pytest.approx(250)


def test_a_milk_poolish_holds_the_same_water():
    """Common practice, no source: the milk is weighed up, water ÷ water content."""
    poolish = preferment(200, 1.0, BREAD, WATER, Item(YEAST, 0.1))
    milky = swap(poolish, "water", MILK).after
    assert grams(milky, "whole-milk") == pytest.approx(100 / MILK.water)
    assert hydration(milky) == pytest.approx(1.0)
    final = Formula((Item(BREAD, 400), Item(WATER, 250)))
    assert hydrations(final, milky)["overall"] == pytest.approx(0.7)
    assert "spoils" in caution(milky)
    assert caution(poolish) == ""


@settings(deadline=None)
@given(weights, st.floats(0.4, 1.5), st.sampled_from(LIQUIDS))
def test_a_preferment_has_its_weight_and_its_hydration(weight, wetness, liquid):
    made = preferment(weight, wetness, BREAD, liquid)
    assert made.dough == pytest.approx(weight)
    assert hydration(made) == pytest.approx(wetness)
    values = parts_working(weight, wetness, liquid).values()
    assert values.get("water", values["liquid"]) / values["flour"] == pytest.approx(wetness)


@settings(deadline=None)
@given(weights, weights, st.sampled_from(LIQUIDS), st.floats(10, 800), st.floats(0.4, 1.5))
def test_taken_out_and_added_in_it_is_the_same_dough(flour, water, liquid, weight, wetness):
    final = Formula((Item(BREAD, flour), Item(liquid, water), Item(WATER, 1), Item(SALT, 5)))
    poolish = preferment(weight, wetness, BREAD, WATER)
    whole = overall(final, poolish)
    back = final_dough(whole, poolish)
    for item in final.items:
        assert grams(back, item.ingredient.key) == pytest.approx(
            grams(final, item.ingredient.key), abs=1e-6
        )
    assert overall(back, poolish).dough == pytest.approx(whole.dough)


@settings(deadline=None)
@given(
    weights, st.floats(0.5, 1.2), st.floats(10, 300), st.floats(0.4, 1.5), st.sampled_from(LIQUIDS)
)
def test_the_liquid_left_makes_the_hydration_that_was_asked_for(
    flour, wanted, weight, wetness, liquid
):
    working = liquid_left(flour, wanted, weight, wetness, liquid)
    values = working.values()
    left = values[working.answer.key]
    if left <= 0 or values["flour"] >= flour:
        return
    back = overall_hydration(flour - values["flour"], liquid, left, weight, wetness)
    assert back.values()["hydration"] == pytest.approx(wanted)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: preferment(0, 1, BREAD, WATER), "weight and a hydration"),
        (lambda: preferment(100, 1, BREAD, composition.find("lard")), "holds no water"),
        (
            lambda: final_dough(
                Formula((Item(BREAD, 500), Item(WATER, 40))), preferment(100, 1, BREAD, WATER)
            ),
            "takes 50.0 g of water",
        ),
    ],
)
def test_says_what_is_wrong(make, says):
    with pytest.raises(FormulaError, match=says):
        make()


def test_a_preferment_in_the_whole_dough_by_hand():
    """By hand: 320 g at 60 % is 200 g of flour and 120 g of water, for 1.6 × 200 = 320."""
    parts = preferment_parts(320, 0.6, WATER).values()
    assert (parts["flour"], parts["liquid"]) == pytest.approx((200, 120))
    assert total_flour(300, 320, 0.6).values()["total flour"] == pytest.approx(500)
    assert prefermented_flour(300, 320, 0.6).values()["prefermented"] == pytest.approx(0.4)
    salt = percentage_of_all_flour(300, 320, 0.6, 0.02, SALT)
    assert salt.values()["ingredient"] == pytest.approx(10)
    assert preferment_weight(500, 0.4, 0.6).values()["preferment"] == pytest.approx(320)


@given(total=weights, share=st.floats(0.02, 0.95), wet=st.floats(0.4, 1.5))
def test_the_preferment_for_a_share_holds_that_share(total, share, wet):
    """The two questions are each other's inverse."""
    weight = preferment_weight(total, share, wet).values()["preferment"]
    back = prefermented_flour(total * (1 - share), weight, wet)
    assert back.values()["prefermented"] == pytest.approx(share)
    assert back.values()["total flour"] == pytest.approx(total)


def whole_dough(liquid: float = 325) -> Formula:
    return Formula((Item(BREAD, 500), Item(WATER, liquid), Item(SALT, 10), Item(YEAST, 5)))


def test_a_whole_dough_taken_apart():
    """By hand, as bakers do it (common practice): a quarter of 500 g flour as poolish is 125 + 125 g."""
    made = build(whole_dough(), "water", WATER, 250, 1.0)
    assert [grams(made.ahead, key) for key in ("bread-flour", "water", "salt")] == [125, 125, 0]
    assert [grams(made.final, key) for key in ("bread-flour", "water", "salt")] == [375, 200, 10]


def test_salted_old_dough_takes_its_salt_out_of_the_final_dough():
    """By hand: 336 g of old dough at 66 % and 2 % salt is 200 g flour, 132 g water and 4 g salt."""
    made = build(whole_dough(), "water", WATER, 336, 0.66, 0.02)
    found = [round(grams(made.ahead, key), 6) for key in ("bread-flour", "water", "salt")]
    assert found == [200, 132, 4]
    assert grams(made.final, "salt") == pytest.approx(6)
    assert grams(made.whole, "salt") == pytest.approx(10)


@settings(deadline=None)
@given(
    st.floats(0.05, 0.4), st.floats(0.5, 1.25), st.sampled_from([0.0, 0.02]), st.sampled_from(LIQUIDS)
)  # fmt: skip
def test_the_parts_make_the_dough_again(share, wet, salt, liquid):
    """Its flour, salt and water stay; the final liquid is what a problem would ask for."""
    weight = 500 * share * (1 + wet + salt)
    made = build(whole_dough(), "water", liquid, weight, wet, salt)
    assert made.whole.flour == pytest.approx(500)
    assert hydration(made.whole) == pytest.approx(0.65)
    assert hydration(made.ahead) == pytest.approx(wet)
    assert hydrations(made.final, made.ahead)["overall"] == pytest.approx(0.65)
    if not salt and liquid.key != "water":
        asked = liquid_left(500, 0.65, weight, wet, liquid)
        assert grams(made.final, liquid.key) == pytest.approx(asked.values()[asked.answer.key])


@pytest.mark.parametrize(("weight", "wet"), [(2000, 1.0), (900, 1.25)])
def test_a_preferment_that_is_too_large_is_refused(weight, wet):
    with pytest.raises(FormulaError, match="preferment takes"):
        build(whole_dough(), "water", WATER, weight, wet)
