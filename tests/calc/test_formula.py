"""A formula: what is none, and its hydration in each meaning."""

import pytest

from calc import composition, formula
from calc.formula import MEANINGS, Formula, FormulaError, Item
from calc.substitution import swap, swap_working


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda b, w: Formula((Item(w, 100),)), "no flour"),
        (lambda b, w: Item(b, -1), "cannot weigh less than 0 g"),
        (lambda b, w: swap_working(Item(w, 100), w, 0), "part to swap"),
        (lambda b, w: swap_working(Item(w, 100), w, 1.2), "part to swap"),
        (lambda b, w: swap_working(Item(w, 100), composition.find("lard")), "holds no water"),
        (lambda b, w: swap(Formula((Item(b, 100),)), "water", w), "no such liquid"),
    ],
)
def test_says_what_is_wrong_with_a_formula(make, says):
    with pytest.raises(FormulaError, match=says):
        make(composition.find("bread-flour"), composition.find("water"))


def test_each_meaning_of_hydration_counts_what_it_says():
    parts = {"bread-flour": 500, "whole-milk": 200, "egg": 100, "butter": 75, "salt": 9}
    dough = Formula(tuple(Item(composition.find(key), weight) for key, weight in parts.items()))
    milk, egg, butter, flour, salt = (
        composition.find(key).water
        for key in ("whole-milk", "egg", "butter", "bread-flour", "salt")
    )
    wanted = {
        "liquid": 300 / 500,
        "poured": 200 / 500,
        "water": (200 * milk + 100 * egg) / 500,
        "all-water": (200 * milk + 100 * egg + 75 * butter + 9 * salt) / 500,
        "flour-moisture": (200 * milk + 100 * egg + 75 * butter + 9 * salt + 500 * flour) / 500,
    }
    assert {m.key for m in MEANINGS} == set(wanted)
    for meaning, share in wanted.items():
        assert formula.hydration(dough, meaning).values()["hydration"] == pytest.approx(share)
