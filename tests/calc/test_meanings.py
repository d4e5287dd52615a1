"""Hydration in each meaning, as problems ask for it.

Outside check: the water of the USDA Standard Reference rows (tests/reference), and sums by hand.
"""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, formula, meanings, units
from calc.diagnosis import diagnose
from calc.formula import MEANINGS, Formula, Item
from calc.quantities import REGISTRY

REFERENCE = Path(__file__).parent.parent / "reference" / "usda_sr_baking_ingredients.csv"
ASKED = {
    "water": "hydration of an enriched dough",
    "liquid": "hydration by weight of the liquids",
    "poured": "hydration by water and milk alone",
    "all-water": "hydration with all added water",
    "flour-moisture": "hydration with the flour's moisture",
}
KINDS = {
    "flour_kind": composition.find("bread-flour"),
    "liquid": composition.find("whole-milk"),
    "second_liquid": composition.find("egg"),
    "fat": composition.find("butter"),
}
BUNS = KINDS | {"flour": 500, "liquid_weight": 200, "second_weight": 100, "fat_weight": 75}


def usda_water() -> dict[int, float]:
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        return {int(row["ndb_number"]): float(row["water_g"]) / 100 for row in csv.DictReader(file)}


def test_the_bun_dough_by_the_usdas_rows():
    """NDB 20083 bread flour, 1077 milk, 1123 egg; butter: at most 16 % water by EU Regulation
    1272/2009, annex IV; sums by hand."""
    water = usda_water()
    liquids = 200 * water[1077] + 100 * water[1123]
    butter, moisture = 75 * 0.16, 500 * water[20083]
    expected = {
        "water": liquids / 500,
        "liquid": 300 / 500,
        "poured": 200 / 500,
        "all-water": (liquids + butter) / 500,
        "flour-moisture": (liquids + butter + moisture) / 500,
    }
    values = meanings.in_each_meaning(**BUNS).values()
    assert {key: values[key] for key in expected} == pytest.approx(expected)


def working(meaning: str, **given: object):
    return REGISTRY[ASKED[meaning]].working({n.replace("_", " "): v for n, v in given.items()})


def found(meaning: str, key: str, number: str) -> set[str]:
    made = working(meaning, **BUNS)
    reading = units.read(number, made.steps[key].kind)
    return {each.mistake.key for each in diagnose(made, key, reading, {}).findings}


def test_as_a_student_reads_the_table():
    """Water to the whole per cent: milk 88, egg 76, butter 16, bread flour 13 (13.36)."""
    hydrations = {m: working(m, **BUNS).values()["hydration"] for m in ASKED}
    assert hydrations == pytest.approx(
        {
            "water": (176 + 76) / 500,
            "liquid": 300 / 500,
            "poured": 200 / 500,
            "all-water": (176 + 76 + 12) / 500,
            "flour-moisture": (176 + 76 + 12 + 65) / 500,
        }
    )


def test_names_what_a_meaning_does_not_count():
    """By hand: 252 g in milk and egg, 12 g in the butter, 65 g in the flour; 300 g of liquids."""
    # 264 g is also the egg counted at the milk's 88 %: of two that give the very same figure, one is told.
    assert found("water", "total", "264 g") <= {"counted-too-much", "other-liquid"}
    assert found("water", "total", "264 g")
    assert found("all-water", "total", "329 g") == {"counted-too-much"}
    assert found("liquid", "total", "375 g") == {"counted-too-much"}
    assert found("liquid", "total", "252 g") == {"counted-only-water"}
    # The butter's 16 % given to nothing, or all of its 12 g left out: of two, the likelier is among those told.
    assert "left-one-out" in found("all-water", "total", "252 g")


weights = st.floats(20, 5000)
liquids = st.sampled_from([i for i in composition.table().values() if i.is_liquid and i.fat])


@given(weights, weights, weights, weights, liquids, liquids)
def test_one_working_says_what_each_alone_says(flour, one, two, butter, liquid, second):
    """And both agree with the formula's own hydration, which the swap shows."""
    if liquid == second:
        return
    given = KINDS | {
        "flour": flour, "liquid": liquid, "liquid_weight": one, "second_liquid": second,
        "second_weight": two, "fat_weight": butter,
    }  # fmt: skip
    dough = Formula(
        (
            Item(KINDS["flour_kind"], flour),
            Item(liquid, one),
            Item(second, two),
            Item(KINDS["fat"], butter),
        )
    )
    each = meanings.in_each_meaning(**given).values()
    for meaning in MEANINGS:
        expected = formula.hydration(dough, meaning.key).values()["hydration"]
        assert each[meaning.key] == pytest.approx(expected)
        alone = REGISTRY[ASKED[meaning.key]].build(**given)
        assert alone.values()["hydration"] == pytest.approx(expected)


def test_a_flour_must_be_a_flour():
    slot = REGISTRY["hydration in each meaning"].slot("flour kind")
    assert "is not a flour" in slot.refusal(composition.find("egg"))
    assert slot.refusal(composition.find("rye-flour")) == ""
