"""The composition table against the sources it names."""

import csv
import math
from functools import cache
from pathlib import Path

import pytest

from calc import composition
from calc.composition import UnknownIngredient, table

FILES = Path(__file__).parent.parent / "reference"
PARTS = {
    "water": "water_g", "protein": "protein_g", "fat": "fat_g",
    "carbohydrate": "carbohydrate_g", "fibre": "fibre_g", "ash": "ash_g",
}  # fmt: skip


@cache
def usda() -> dict[str, dict[str, str]]:
    """Rows of the USDA table by NDB number: of the release this project began with, then of another."""
    found = {}
    for name in ("usda_sr24_foods.csv", "usda_sr_baking_ingredients.csv"):
        with (FILES / name).open(encoding="utf-8") as file:
            found |= {row["ndb_number"]: row for row in csv.DictReader(file)}
    return found


CITED = [
    (each, each.source.removeprefix("usda-sr:"))
    for each in table().values()
    if each.source.startswith("usda-sr:")
]


@pytest.mark.parametrize(("ingredient", "ndb"), CITED, ids=lambda x: getattr(x, "key", x))
def test_agrees_with_usda_standard_reference(ingredient, ndb):
    """Outside check: USDA National Nutrient Database for Standard Reference, by NDB number."""
    row = usda()[ndb]
    for ours, theirs in PARTS.items():
        assert getattr(ingredient, ours) * 100 == pytest.approx(float(row[theirs]), abs=1e-9), ours
    # Salt itself is weighed as salt: the law's factor would make 97 g of 100.
    salt = row["ash_g"] if ingredient.group == "salt" else float(row["sodium_mg"]) * 2.5 / 1000
    assert ingredient.salt * 100 == pytest.approx(float(salt))


@cache
def ifct() -> dict[str, dict[str, str]]:
    with (FILES / "ifct_2017.csv").open(encoding="utf-8") as file:
        return {row["code"]: row for row in csv.DictReader(file)}


def water_of(code: str) -> float:
    """The water of a USDA or an IFCT row, grams in 100 g."""
    return float(usda()[code]["water_g"] if code.isdigit() else ifct()[code]["water_g"])


FROM_IFCT = [each for each in table().values() if each.source.startswith("ifct-2017:")]


@pytest.mark.parametrize("ingredient", FROM_IFCT, ids=lambda x: x.key)
def test_agrees_with_the_indian_food_composition_tables(ingredient):
    """Outside check: IFCT 2017, by code. Its fat is a hair above 100 g in two oils."""
    row = ifct()[ingredient.source.removeprefix("ifct-2017:")]
    assert ingredient.water * 100 == pytest.approx(float(row["water_g"]))
    assert ingredient.protein * 100 == pytest.approx(float(row["protein_g"]))
    assert ingredient.fat * 100 == pytest.approx(min(100, float(row["fat_g"])))
    carbohydrate = float(row["available_carbohydrate_g"]) + float(row["fibre_g"])
    assert ingredient.carbohydrate * 100 == pytest.approx(carbohydrate)
    assert ingredient.ash * 100 == pytest.approx(float(row["ash_g"]))
    # The project keeps whole milligrams of sodium.
    assert ingredient.salt * 100 == pytest.approx(
        float(row["sodium_mg"]) * 0.0025, abs=0.5001 * 0.0025
    )


# The ranges of water.

SPREADS = {"like-tenth": 1 / 10, "like-third": 1 / 3}
BY_RULE = [e for e in table().values() if e.water_range_source.partition(":")[0] in SPREADS]


@pytest.mark.parametrize("ingredient", BY_RULE, ids=lambda x: x.key)
def test_a_range_by_the_rule_holds_its_like_rows_and_the_stated_spread(ingredient):
    rule, _, rows = ingredient.water_range_source.partition(":")
    water = ingredient.water
    more = 1 + SPREADS[rule]
    ends = [water / (water + (1 - water) * more), water / (water + (1 - water) / more)]
    like = [water_of(row) / 100 for row in rows.split()]
    low, high = (
        math.floor(ends[0] * 1000 + 1e-9) / 1000,
        math.ceil(ends[1] * 1000 - 1e-9) / 1000,
    )
    assert ingredient.water_range.low == pytest.approx(min([low, *like]))
    assert ingredient.water_range.high == pytest.approx(max([high, *like]))


# What is not judged here: the rule for flour and butter is theirs.
@pytest.mark.parametrize("ingredient", table().values(), ids=lambda x: x.key)
def test_products_can_be_drier_and_wetter_than_the_value(ingredient):
    if not 0.001 < ingredient.water < 0.999 or ingredient.group in ("flour", "fat"):
        assert ingredient.water_range.low <= ingredient.water <= ingredient.water_range.high
        return
    assert ingredient.water_range.low < ingredient.water < ingredient.water_range.high


# The milk of cows as they are milked, 4.5 % fat: not the whole milk of a shop.
OF_ANOTHER_KIND = {"L002"}


def test_a_second_laboratorys_foods_lie_in_the_ranges():
    """Outside check: IFCT 2017. Of the rows that no range cites, all but one lie in it."""
    outside = []
    for code, row in ifct().items():
        held = table()[row["like"]].water_range
        if not held.low <= float(row["water_g"]) / 100 <= held.high:
            outside.append(code)
    assert set(outside) == OF_ANOTHER_KIND


def test_finds_by_key_and_by_name_and_offers_the_nearest():
    assert composition.find("whole-milk") is composition.find(" Whole  Milk ")
    with pytest.raises(UnknownIngredient, match="buttermilk"):
        composition.find("butermilk")


def test_reads_a_liquid_with_its_own_water():
    liquid = composition.read("thick yogurt, 74 % water")
    assert (liquid.name, liquid.water) == ("thick yogurt", 0.74)
    for impossible in ("mine, 0 % water", "mine, 101 % water"):
        with pytest.raises(ValueError, match="above 0 % and at most 100 %"):
            composition.read(impossible)


@pytest.mark.parametrize(
    ("name", "usual"),
    [
        ("tub yogurt", ("milk",)),
        ("a friend's Crème Fraîche", ("milk",)),
        ("sour cream (light)", ("milk",)),
        ("silken tofu", ("soy",)),
        ("goose egg", ("egg",)),
        ("drink", ()),
        ("orange juice", ()),
        ("", ()),
    ],
)
def test_the_last_word_of_a_name_says_what_such_a_food_usually_holds(name, usual):
    """Common knowledge of the kitchen, no source; `()` where kinds of that name differ."""
    assert composition.usual_allergens(name) == usual
