"""Sugar and salt that ride along, eggs and purees beside a liquid, and blends for water.

Outside checks: the USDA rows in tests/reference (NDB numbers beside each), with hand arithmetic on
them; and the formula's own sums, which another module computes.
"""

import csv
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import composition, formula, units
from calc.balance import amount
from calc.diagnosis import diagnose
from calc.formula import Formula, Item
from calc.quantities import RANKINGS, REGISTRY
from calc.registry import BENCH_SHARES, for_bench

REFERENCE = Path(__file__).parent.parent / "reference" / "usda_sr_baking_ingredients.csv"
FLOUR = composition.find("bread-flour")
LIQUIDS = [
    each
    for each in composition.table().values()
    if each.is_liquid and each.water > 0.4 and each.sugars is not None and each.salt is not None
]
liquids = st.sampled_from(LIQUIDS)
flours = st.floats(200, 5000)
wets = st.floats(0.5, 0.9)


def usda(ndb: str) -> dict[str, str]:
    """A row of the reference file, by its NDB number."""
    with REFERENCE.open(encoding="utf-8") as rows:
        return next(row for row in csv.DictReader(rows) if row["ndb_number"] == ndb)


def answer(asked: str, **given: object) -> float:
    working = REGISTRY[asked].working({key.replace("_", " "): v for key, v in given.items()})
    return working.values()[working.answer.key]


def test_the_sugar_of_apple_juice():
    """USDA 9016, rounded as on a bench table: 88 % water, 9.6 % sugars."""
    row = usda("9016")
    assert round(float(row["water_g"])) == 88
    assert round(float(row["sugars_g"]), 1) == 9.6
    juice = composition.find("apple-juice")
    brought = answer("sugar brought", flour=500, hydration=0.65, liquid=juice)
    assert brought == pytest.approx(325 / 0.88 * 0.096 / 500)
    left = answer("sugar left to add", flour=500, hydration=0.65, liquid=juice, sugar=0.12)
    assert left == pytest.approx(60 - 325 / 0.88 * 0.096)


def test_the_salt_of_cottage_cheese():
    """USDA 1012: 79.79 % water, 364 mg sodium; salt = sodium × 2.5 (EU 1169/2011, annex I)."""
    row = usda("1012")
    salt = float(row["sodium_mg"]) * 2.5 / 1000
    assert round(salt, 1) == 0.9
    assert round(float(row["water_g"])) == 80
    cheese = composition.find("cottage-cheese")
    brought = answer("salt brought", flour=500, hydration=0.60, liquid=cheese)
    assert brought == pytest.approx(300 / 0.80 * 0.009 / 500)
    left = answer("salt left to add", flour=500, hydration=0.60, liquid=cheese, salt=0.02)
    assert left == pytest.approx(10 - 300 / 0.80 * 0.009)


@settings(deadline=None)
@given(flours, wets, liquids, st.sampled_from(["sugars", "salt"]))
def test_what_is_brought_and_what_is_added_make_what_is_wanted(flour, wet, liquid, part):
    """Checked by the sums of a formula (calc.balance.amount), which add up each ingredient."""
    liquid = for_bench(liquid)
    name = {"sugars": "sugar", "salt": "salt"}[part]
    wanted = 0.05
    quantity = REGISTRY[f"{name} left to add"]
    working = quantity.build(flour, wet, liquid, wanted)
    values = working.values()
    dough = Formula((Item(FLOUR, flour), Item(liquid, values["liquid"])))
    in_liquid = amount(dough, part) - flour * getattr(FLOUR, part)
    assert values[f"{name} to add"] + in_liquid == pytest.approx(flour * wanted)
    assert formula.hydration(dough).values()["hydration"] == pytest.approx(wet)


@settings(deadline=None)
@given(flours, wets, liquids, st.floats(10, 60), liquids)
def test_a_liquid_beside_another_makes_the_hydration(flour, wet, first, weight, liquid):
    """Checked by the hydration of the finished formula (calc.formula)."""
    liquid, first = for_bench(liquid), for_bench(first)
    grams = answer(
        "liquid beside another",
        flour=flour, hydration=wet, first_liquid=first, first_weight=weight, liquid=liquid,
    )  # fmt: skip
    dough = Formula((Item(FLOUR, flour), Item(first, weight), Item(liquid, grams)))
    assert formula.hydration(dough).values()["hydration"] == pytest.approx(wet)
    again = answer(
        "hydration with two liquids",
        flour=flour, liquid=first, liquid_weight=weight, second_liquid=liquid, second_weight=grams,
    )  # fmt: skip
    assert again == pytest.approx(wet)


def test_milk_beside_eggs_by_hand():
    """USDA 1123 (egg, 76 % water) and 1077 (whole milk, 88 %), rounded to the whole per cent."""
    egg, milk = composition.find("egg"), composition.find("whole-milk")
    assert [round(float(usda(ndb)["water_g"])) for ndb in ("1123", "1077")] == [76, 88]
    grams = answer(
        "liquid beside another",
        flour=500, hydration=0.62, first_liquid=egg, first_weight=100, liquid=milk,
    )  # fmt: skip
    assert grams == pytest.approx((310 - 76) / 0.88)


@settings(deadline=None)
@given(flours, wets, liquids, st.floats(0.05, 0.95), liquids)
def test_a_blend_brings_the_water_in_the_stated_parts(flour, wet, one, part, other):
    """Checked by the hydration of the finished formula (calc.formula)."""
    one, other = for_bench(one), for_bench(other)
    working = REGISTRY["blend in place of water"].build(flour, wet, one, part, other)
    values = working.values()
    dough = Formula((Item(FLOUR, flour), Item(one, values["first"]), Item(other, values["second"])))
    assert formula.hydration(dough).values()["hydration"] == pytest.approx(wet)
    assert values["first"] / (values["first"] + values["second"]) == pytest.approx(part)


def found(asked: str, key: str, number: str, **given: object) -> set[str]:
    working = REGISTRY[asked].working({name.replace("_", " "): v for name, v in given.items()})
    reading = units.read(number, working.steps[key].kind)
    return {each.mistake.key for each in diagnose(working, key, reading, {}).findings}


def test_names_a_plain_average():
    """300 g at 90 % and 100 g at 74 %: all water ÷ all weight is 86 %; the middle would be 82 %."""
    given = {
        "liquid": composition.own("thin", 0.90), "liquid_weight": 300,
        "second_liquid": composition.own("thick", 0.74), "second_weight": 100,
    }  # fmt: skip
    assert answer("blend water", **given) == pytest.approx((270 + 74) / 400)
    assert found("blend water", "content", "82 %", **given) == {"plain-average"}


def test_names_fat_that_was_multiplied():
    """Fat ÷ butter's content is right, fat × content is not, and no slip of one key away from it.

    Of half the milk the wrong figure is 30 g: too coarse to tell one mistake from another.
    """
    names = {"liquid": "whole-milk", "new_liquid": "half-and-half", "fat": "butter"}
    given = {slot: composition.find(key) for slot, key in names.items()}
    working = REGISTRY["butter to take out"].working(
        {"liquid weight": 800.0, **{slot.replace("_", " "): v for slot, v in given.items()}}
    )
    fat = working.values()["more fat"]
    content = for_bench(given["fat"]).fat
    assert working.values()["out"] == pytest.approx(fat / content)
    wrong = units.write(fat * content, "mass")
    asked = found("butter to take out", "out", wrong, liquid_weight=800.0, **given)
    assert "multiplied-by-fat-content" in asked


def test_a_student_reads_the_numbers_that_the_working_uses():
    for liquid in LIQUIDS:
        for each in BENCH_SHARES:
            share = getattr(for_bench(liquid), each.part)
            assert share is None or share == round(share, each.decimals)


def test_orders_by_sugar_and_salt():
    """USDA: apple juice (9016) has 9.6 g of sugars, whole milk (1077) 5.1 g or less."""
    juice, milk = composition.find("apple-juice"), composition.find("whole-milk")
    assert RANKINGS["sugar content"].score(juice) > RANKINGS["sugar content"].score(milk)
    assert RANKINGS["salt content"].score(composition.find("cottage-cheese")) > 0.008
    for name in ("sugar content", "salt content"):
        with pytest.raises(ValueError, match="does not know"):
            RANKINGS[name].score(composition.own("drink", 0.9))
