"""Whole jobs: by hand, and against other calculations of the project."""

import pytest

from calc.composition import find
from calc.formula import FormulaError, Item
from calc.orders import OUNCE, liquid_for_an_order, recipe_for_a_bowl
from calc.registry import for_bench
from calc.scaling import flour_for_dough
from calc.substitution import swap_working

MILK, CREAM = for_bench(find("whole-milk")), for_bench(find("light-cream"))


def test_an_ounce_is_what_the_handbook_says():
    """Outside check: NIST Handbook 44, appendix C: 28.349523125 g exactly."""
    assert pytest.approx(28.349523125, abs=0.005) == OUNCE


def test_a_recipe_in_ounces_by_hand():
    """By hand: 48 × 0.88 ÷ 0.74 = 57.08 oz; 130.08 oz × 28.35 = 3687.8 g; 2000 ÷ 3687.8 = 0.5423."""
    found = recipe_for_a_bowl(64, MILK, 48, 9, 2000, CREAM).values()
    assert found["new"] == pytest.approx(48 * 0.88 / 0.74, rel=1e-9)
    assert found["dough"] == pytest.approx(3687.8, abs=0.1)
    assert found["flour grams"] == pytest.approx(984.0, abs=0.1)
    assert found["liquid grams"] == pytest.approx(877.6, abs=0.1)


def test_what_goes_on_the_scale_fits_the_bowl_and_keeps_the_water():
    found = recipe_for_a_bowl(66, MILK, 47, 8, 2500, CREAM).values()
    others = 8 * OUNCE * found["factor"]
    assert found["flour grams"] + found["liquid grams"] + others == pytest.approx(2500)
    kept = found["liquid grams"] * CREAM.water / found["flour grams"]
    assert kept == pytest.approx(47 * MILK.water / 66)
    swapped = swap_working(Item(MILK, 47 * OUNCE), CREAM).values()["new"]
    assert found["new"] * OUNCE == pytest.approx(swapped)


def test_water_is_swapped_in_one_step():
    found = recipe_for_a_bowl(64, find("water"), 40, 2, 2000, MILK).values()
    assert found["new"] == pytest.approx(40 / 0.88)


def test_a_bowl_that_is_large_enough_is_refused():
    with pytest.raises(FormulaError, match="smaller bowl"):
        recipe_for_a_bowl(10, MILK, 7, 1, 5000, CREAM)


def test_an_order_by_hand():
    """By hand: 48 × 60 = 2880 g; 0.58 ÷ 0.88 = 65.9 %; ÷ 1.8259 = 1577 g of flour, 1040 g of milk."""
    found = liquid_for_an_order(48, 60, 0.58, 0.167, MILK).values()
    assert found["share"] == pytest.approx(0.6591, abs=1e-4)
    assert found["flour"] == pytest.approx(1577.2, abs=0.5)
    assert found["weighed"] == pytest.approx(1039.5, abs=0.5)


def test_an_order_with_water_is_the_flour_for_a_dough():
    found = liquid_for_an_order(100, 50, 0.6, 0.1, find("water")).values()
    plain = flour_for_dough(5000, 0.6, 0.1)
    assert found["flour"] == pytest.approx(plain.values()["flour"])
