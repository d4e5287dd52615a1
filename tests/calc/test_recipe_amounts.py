"""Amounts in a line, as cooks write them."""

import pytest

from calc import household, units
from calc.composition import find
from calc.recipe_amounts import amounts, tokens, weigh

OUNCE = 28.349523125


@pytest.mark.parametrize(
    ("text", "kind", "low", "high"),
    [
        ("500g", "mass", 500, 500), ("0,5 kg", "mass", 500, 500), ("2 lb 3 oz", "mass", 35 * OUNCE, 35 * OUNCE),
        ("12-oz", "mass", 12 * OUNCE, 12 * OUNCE), ("300–320 g", "mass", 300, 320), ("300 g to 320 g", "mass", 300, 320),
        ("10 dag", "mass", 100, 100), ("about 2 x 7 g", "mass", 14, 14), ("1 000 g", "mass", 1000, 1000),
        ("1½ cups", "volume", 1.5, 1.5), ("1-1/2 tsp", "volume", 1.5, 1.5), ("half a cup", "volume", 0.5, 0.5),
        ("2 T", "volume", 2, 2), ("1 to 2 tbsp", "volume", 1, 2), ("8 fl. oz.", "volume", 8, 8),
        ("a pinch", "vague", 1, 1), ("1 heaped tsp", "vague", 1, 1), ("two", "count", 2, 2), ("a dozen", "count", 12, 12),
        ("2 cans", "pack", 2, 2), ("65 %", "share", 0.65, 0.65), ("60-65 per cent", "share", 0.6, 0.65),
        ("at 35 °C", "other", 35, 35), ("20 minutes", "other", 20, 20), ("£1.80", "other", 0, 0),
    ],
)  # fmt: skip
def test_one_amount(text, kind, low, high):
    (found,) = amounts(tokens(text.replace("½", " 1/2").replace("–", "-")))
    assert (found.kind, found.low, found.high) == (kind, pytest.approx(low), pytest.approx(high))


@pytest.mark.parametrize(
    "text", ["type 550 flour", "00 flour", "half and half", "a", "cream of tartar", "L eggs"]
)
def test_a_name_is_no_amount(text):
    assert amounts(tokens(text)) == []


def test_a_mark_between_thousands_is_in_doubt():
    (found,) = amounts(tokens("1,300 g"))
    assert found.doubt == (1300, 1.3)
    assert amounts(tokens("1,300 kg"))[0].low == 1300


@pytest.mark.parametrize("word", units.MEASURES)
def test_a_recipe_and_a_field_know_the_same_measures(word):
    buttermilk = find("buttermilk")
    (amount,) = amounts(tokens(f"2 US {word} buttermilk"))
    read = household.read(f"2 US {word}", buttermilk)
    assert household.is_measure(f"2 US {word}")
    assert weigh(amount, buttermilk).grams == read.grams
