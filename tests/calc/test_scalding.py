"""Milk that is scalded: sums by hand, and the formula's own hydration."""

import pytest

from calc import formula
from calc.composition import find
from calc.formula import Formula, Item
from calc.quantities import REGISTRY
from calc.scalding import may_be_scalded


def test_what_boils_off_is_water():
    """By hand: 350 g of milk at 88 % holds 308 g of water; 30 g boil off; 278 ÷ 500 = 55.6 %."""
    working = REGISTRY["hydration with scalded milk"].working(
        {
            "flour": 500.0,
            "liquid": find("whole-milk"),
            "liquid weight": 350.0,
            "weight after": 320.0,
        }
    )
    assert working.values()["hydration"] == pytest.approx(0.556)
    made_up = Formula(
        (Item(find("bread-flour"), 500), Item(find("whole-milk"), 350), Item(find("water"), 0))
    )
    lost = 30 / 500
    assert formula.hydration(made_up).values()["hydration"] - lost == pytest.approx(
        0.556, abs=0.003
    )


@pytest.mark.parametrize(
    ("key", "scald"),
    [("whole-milk", True), ("skim-milk", True), ("sweet-whey", True), ("buttermilk", False),
     ("evaporated-milk", False), ("heavy-cream", False), ("oat-drink", False), ("water", False)],
)  # fmt: skip
def test_what_may_be_scalded(key, scald):
    assert may_be_scalded(find(key)) is scald
