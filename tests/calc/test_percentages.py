"""Baker's percentages. Outside check: exact arithmetic by hand, written beside each."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, units
from calc.diagnosis import diagnose
from calc.quantities import REGISTRY

SALT = composition.find("salt")
WHEAT = composition.find("bread-flour")
RYE = composition.find("rye-flour")


def working(asked: str, **given: object):
    return REGISTRY[asked].working({name.replace("_", " "): v for name, v in given.items()})


def answer(asked: str, **given: object) -> float:
    made = working(asked, **given)
    return made.values()[made.answer.key]


def found(asked: str, key: str, number: str, **given: object) -> set[str]:
    made = working(asked, **given)
    reading = units.read(number, made.steps[key].kind)
    return {each.mistake.key for each in diagnose(made, key, reading, {}).findings}


def test_salt_by_hand():
    """9 g of salt and 500 g of flour: 9 ÷ 500 = 1.8 %."""
    given = {"flour": 500, "ingredient": SALT, "weight": 9, "other_ingredients": 341}
    assert answer("baker's percentage", **given) == pytest.approx(0.018)
    assert working("baker's percentage", **given).weighed("percentage") == "1.8 %"


def test_the_whole_dough_is_named():
    """9 g in 850 g of dough is 1.06 %."""
    given = {"flour": 500, "ingredient": SALT, "weight": 9, "other_ingredients": 341}
    assert found("baker's percentage", "percentage", "1.1 %", **given) == {"whole-dough"}


def test_both_flours_count():
    """10 g of salt, 350 g and 150 g of flour: 10 ÷ 500 = 2 %; on the first flour alone 2.9 %."""
    given = {
        "flour": 350, "flour_kind": WHEAT, "second_flour": 150, "second_kind": RYE,
        "ingredient": SALT, "weight": 10,
    }  # fmt: skip
    asked = "percentage on total flour"
    assert answer(asked, **given) == pytest.approx(0.02)
    assert found(asked, "percentage", "2.9 %", **given) == {"left-one-out"}
    # 10 ÷ 510 on the whole of what is named.
    assert found(asked, "percentage", "1.96 %", **given) == {"whole-dough"}


def test_back_to_the_flour():
    """18 g of salt is 2 %: the flour is 18 ÷ 0.02 = 900 g. Multiplied: 0.36 g."""
    given = {"weight": 18, "ingredient": SALT, "percentage": 0.02}
    assert answer("flour from a percentage", **given) == pytest.approx(900)
    milk = {"weight": 420, "ingredient": composition.find("whole-milk"), "percentage": 0.7}
    assert answer("flour from a percentage", **milk) == pytest.approx(600)
    assert found("flour from a percentage", "flour", "294 g", **milk) == {
        "multiplied-by-percentage"
    }


def test_a_whole_weigh_up_by_hand():
    """1000 g of flour, a fifth of it rye: 200 + 800; 680 g of water, 20 g of salt, 10 g of yeast."""
    made = working(
        "weights from percentages",
        flour=1000, flour_kind=WHEAT, second_share=0.2, second_kind=RYE,
        hydration=0.68, salt=0.02, yeast=0.01,
    )  # fmt: skip
    values = {key: round(made.values()[key], 6) for key in made.steps}
    assert values == {
        "second flour": 200, "first flour": 800, "water": 680, "salt": 20, "yeast": 10,
        "dough": 1710,
    }  # fmt: skip


@given(st.floats(100, 20_000), st.floats(0.006, 1.4))
def test_there_and_back(flour, share):
    """The three ways round one equation agree: percentage × flour = weight."""
    weight = flour * share
    if weight < 0.5:
        return
    given = {"ingredient": SALT, "weight": weight}
    assert answer("baker's percentage", flour=flour, **given) == pytest.approx(share)
    assert answer("flour from a percentage", percentage=share, **given) == pytest.approx(flour)
