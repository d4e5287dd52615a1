"""Blends of flours. Outside checks: numpy's weighted mean and linear solver, and sums by hand beside each."""

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, units
from calc.diagnosis import diagnose
from calc.quantities import RANKINGS, REGISTRY

BREAD = composition.find("bread-flour")
CAKE = composition.find("cake-flour")
STRONG = composition.find("high-gluten-flour")
PLAIN = composition.find("all-purpose-flour")
MILK = composition.find("whole-milk")
BUTTER = composition.find("butter")

grams = st.integers(50, 5000)


def working(asked: str, **given_: object):
    return REGISTRY[asked].working({name.replace("_", " "): v for name, v in given_.items()})


def answer(asked: str, **given_: object) -> float:
    made = working(asked, **given_)
    return made.values()[made.answer.key]


@given(grams, grams)
def test_the_protein_of_a_blend_is_the_weighted_mean(one, two):
    got = answer(
        "protein of two flours",
        flour=one, flour_kind=BREAD, second_flour=two, second_kind=CAKE,
    )  # fmt: skip
    assert got == pytest.approx(numpy.average([0.12, 0.082], weights=[one, two]))


@given(grams, st.integers(105, 150))
def test_the_strong_flour_is_what_a_solver_finds(total, wanted):
    """Two equations: the weights add up to the flour, the proteins to the wanted protein."""
    wanted /= 1000
    strong, _ = numpy.linalg.solve([[1, 1], [0.153, 0.103]], [total, total * wanted])
    got = answer(
        "strong flour for a wanted protein",
        flour=total, flour_kind=STRONG, second_kind=PLAIN, wanted_protein=wanted,
    )  # fmt: skip
    assert got == pytest.approx(strong)


@pytest.mark.parametrize("wanted", [0.08, 0.103, 0.153, 0.17])
def test_no_blend_has_more_or_less_protein_than_its_flours(wanted):
    with pytest.raises(ValueError, match=r"between 10.3 % \(all-purpose flour\) and 15.3 %"):
        working(
            "strong flour for a wanted protein",
            flour=1000, flour_kind=STRONG, second_kind=PLAIN, wanted_protein=wanted,
        )  # fmt: skip


def test_water_by_hand():
    """600 g at 62 % and 400 g at 57 %: 372 g + 228 g = 600 g of water for 1000 g of flour."""
    got = answer(
        "water for two flours",
        flour=600, absorption=0.62, second_flour=400, second_absorption=0.57,
    )  # fmt: skip
    assert got == pytest.approx(0.6)


def test_fat_and_sugar_by_hand():
    """300 g of milk bring 9.9 g of fat, 60 g of butter 49.5 g; with 40 g of sugar 99.4 g on 500 g of flour."""
    given_ = {
        "flour": 500, "liquid": MILK, "liquid_weight": 300, "fat": BUTTER, "fat_weight": 60,
        "sugar_weight": 40,
    }  # fmt: skip
    content = working("fat and sugar of a dough", **given_).givens
    milk, butter = (content[f"{of} fat content"].value for of in ("liquid", "fat"))
    assert answer("fat and sugar of a dough", **given_) == pytest.approx(
        (300 * milk + 60 * butter + 40) / 500
    )
    assert answer("fat and sugar of a dough", **given_) == pytest.approx(0.199, abs=0.002)


def test_the_plain_average_is_named():
    """1500 g at 12 % and 300 g at 8.2 %: 11.4 %, not 10.1 %."""
    made = working(
        "protein of two flours", flour=1500, flour_kind=BREAD, second_flour=300, second_kind=CAKE
    )
    found = diagnose(made, "content", units.read("10.1 %", "share"), {}).findings
    assert "plain-average" in {each.mistake.key for each in found}


def test_flours_by_protein_as_the_usda_rows_have_them():
    """USDA SR NDB 20645, 20083, 20581, 20084: 15.33, 11.98, 10.33, 8.2 g in 100 g."""
    score = RANKINGS["protein content"].score
    assert [round(100 * score(one), 2) for one in (STRONG, BREAD, PLAIN, CAKE)] == [
        15.33, 11.98, 10.33, 8.2,
    ]  # fmt: skip
