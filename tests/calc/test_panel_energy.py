"""Energy against the figures, and what is said beside a result."""

import pytest

from calc.label import read_panel, water_content
from calc.panel_doubts import doubts
from calc.panel_energy import fits, given_by, read_energy, suspects
from calc.units import ReadingError, Style
from tests.bench import packs as bench
from tests.pack_kinds import foods

YOGURT = {"fat": "3.5", "carbohydrate": "4.7", "protein": "3.3", "salt": "0.10", "fibre": "0"}


@pytest.mark.parametrize(
    ("text", "us", "value", "unit"),
    [
        ("250 kcal", False, 250, "kcal"), ("1046 kJ / 250 kcal", False, 1046, "kJ"), ("1046kJ/250kcal", False, 1046, "kJ"),
        ("1,046 kJ", False, 1046, "kJ"), ("1 046 kJ", False, 1046, "kJ"), ("Calories 150", True, 150, "kcal"),
        ("150", True, 150, "kcal"), ("150 Cal", True, 150, "kcal"), ("Energy: 250 kcal (1046 kJ)", False, 1046, "kJ"),
    ],
)  # fmt: skip
def test_reads_energy_as_packs_print_it(text, us, value, unit):
    energy = read_energy(text, us)
    assert (energy.figure.value, energy.unit) == (value, unit)


@pytest.mark.parametrize(
    ("text", "says"),
    [("250", "kJ or kcal"), ("lots", "such as"), ("250 g", "such as"), ("1" * 99, "such as")],
)
def test_says_what_to_write(text, says):
    with pytest.raises(ReadingError, match=says):
        read_energy(text, us=False)


def test_us_calories_are_rounded_to_5_and_10():
    """Outside check: 21 CFR 101.9(c)(1), read in public copies."""
    assert read_energy("45", us=True).figure.range.low == pytest.approx(42.5)
    assert read_energy("150", us=True).figure.range.high == pytest.approx(155)
    assert read_energy("0", us=True).figure.range.high == pytest.approx(5)


def test_energy_by_hand():
    """Outside check: Regulation (EU) 1169/2011, annex XIV: 3.5 × 37 + 4.7 × 17 + 3.3 × 17 = 265.5 kJ."""
    panel = read_panel("eu-g", "egg", **YOGURT)
    given = given_by(panel, "kJ")
    assert 265.5 in given
    # Rounding: 0.1 g of fat, carbohydrate and protein, 0.5 g of fibre.
    assert given.width == pytest.approx(0.1 * (37 + 17 + 17) + 0.5 * 8, abs=1e-6)
    assert fits(panel, read_energy("266 kJ / 63 kcal", us=False))


def test_alcohol_counts():
    """7 kcal in each gram: 100 ml of a drink of 5 % vol have 3.9 g, so 28 kcal, and 3 g of sugars 12."""
    panel = read_panel(
        "eu-ml", "alcohol", fat="0", carbohydrate="3.0", protein="0", salt="0", alcohol="5 %"
    )
    assert 40 in given_by(panel, "kcal")


@pytest.mark.parametrize(
    ("changed", "field", "instead"),
    [
        ({"fat": "35"}, "fat", 3.5),
        ({"fat": "0.35"}, "fat", 3.5),
        ({"carbohydrate": "47"}, "carbohydrate", 4.7),
    ],
)
def test_names_the_figure_with_a_lost_decimal_point(changed, field, instead):
    panel = read_panel("eu-g", "cultured", **{**YOGURT, **changed})
    found = suspects(panel, read_energy("266 kJ", us=False))
    assert found[0].field == field
    assert found[0].instead == pytest.approx(instead)


def test_names_exchanged_figures_and_the_wrong_unit():
    cream = {"fat": "2.1", "carbohydrate": "36", "protein": "2.8", "salt": "0.1", "fibre": "0"}
    found = suspects(read_panel("eu-g", "dairy", **cream), read_energy("1415 kJ", us=False))
    assert ("fat", "carbohydrate") in [(each.field, each.other) for each in found]
    wrong_unit = suspects(read_panel("eu-g", "cultured", **YOGURT), read_energy("63 kJ", us=False))
    assert [(each.field, each.other) for each in wrong_unit] == [("energy", "kcal")]


def test_saturates_typed_as_fat_are_asked_about():
    panel = read_panel("eu-g", "cultured", **{**YOGURT, "fat": "2.2"})
    said = doubts(panel, water_content(panel), read_energy("266 kJ", us=False))
    assert "saturates" in said[0].says
    assert said[0].serious


@pytest.mark.parametrize(("us", "caught"), [(False, 0.8), (True, 0.7)])
def test_no_true_panel_is_doubted_and_most_slips_are(us, caught):
    """Outside check: USDA foods, printed by a printer of its own, with the energy that the law computes."""
    found = bench.slips(foods()[::20], us)
    assert found.alarms == 0
    assert found.moved > 300
    assert found.caught / (found.moved - found.refused) > caught
    assert found.named_first / found.caught > 0.7


# What is said beside a result.


def titles(panel, energy=None) -> list[str]:
    return [doubt.title for doubt in doubts(panel, water_content(panel), energy)]


def test_each_doubt_is_said_of_the_result_it_concerns():
    plain = read_panel(
        "us", "dairy", serving="240 g", fat="8", carbohydrate="12", protein="8", sodium="105"
    )
    assert titles(plain) == []
    small = read_panel(
        "us", "dairy", serving="1 Tbsp (15 mL)", fat="5", carbohydrate="0", protein="0", sodium="5"
    )
    assert titles(small) == ["Small serving: ", "Density: "]
    whole = read_panel("eu-g", "any", fat="7 g", carbohydrate="4 g", protein="3 g", salt="0.1 g")
    assert titles(whole) == ["Fibre: ", "Whole grams: ", "Kind not known: ", "Acid: "]


def test_salt_in_the_wrong_unit_is_asked_about():
    """13 g in milk is 0.13 g: no milk of the USDA's has more than 0.3 g."""
    panel = read_panel("eu-g", "dairy", **{**YOGURT, "salt": "13"})
    said = doubts(panel, water_content(panel), None, Style(decimal=","))
    assert said[0].field == "salt"
    assert "13,0 g" in said[0].says
