"""Cups, spoons and eggs against what the USDA and the EU's law say they weigh."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import household, units
from calc.composition import find, table
from calc.household import is_measure, read
from calc.interval import Interval
from calc.units import ReadingError, Style

SR24 = Path(__file__).parents[1] / "reference" / "usda_sr24_foods.csv"
CUP = 236.588


def usda_densities() -> dict[str, float]:
    """What 1 ml weighs by the household weights of the USDA table, by NDB number."""
    with SR24.open(encoding="utf-8") as file:
        rows = csv.DictReader(file)
        return {r["ndb_number"]: float(r["density_g_ml"]) for r in rows if r["density_g_ml"]}


# A cup of these weighs whole grams in the USDA table, and not what their solids ask for.
ODD = {"heavy-cream", "carrot-juice", "sweet-wine"}


def test_a_cup_of_a_liquid_weighs_what_the_usdas_cup_does():
    """Outside check: USDA Standard Reference 24, household weights, each poured row by NDB number."""
    checked, densities = 0, usda_densities()
    for row in table().values():
        density = densities.get(row.source.removeprefix("usda-sr:"))
        if density is None or row.density is None or row.bulk or row.key in ODD:
            continue
        found = read("1 US cup", row)
        # The USDA's weights are whole or half grams: a third of a per cent of a fluid ounce's.
        assert CUP * density in found.bounds.widened(CUP * 0.002), row.key
        if row.density_source.startswith("usda-sr"):
            assert row.density == pytest.approx(density, abs=0.00501), row.key
        checked += 1
    assert checked >= 30


@pytest.mark.parametrize(
    ("name", "grams"),
    [
        ("bread flour", 123), ("bread flour", 117), ("all-purpose flour", 126), ("cake flour", 111),
        ("cake flour", 99), ("light rye flour", 101), ("dark rye flour", 128), ("barley flour", 102),
        ("brown sugar", 211), ("corn starch", 125), ("powdered sugar", 113), ("powdered sugar", 95),
        ("sugar", 196), ("margarine", 225), ("shortening", 187), ("active dry yeast", 142),
    ],
)  # fmt: skip
def test_a_cup_holds_what_the_usda_weighed(name, grams):
    """Outside check: USDA Home Economics Research Report 41, read in a public copy of some figures."""
    assert grams in read("1 US cup", find(name)).bounds.widened(1.5)


@pytest.mark.parametrize(
    ("text", "key", "grams"),
    [
        ("1 small egg", "egg", 38), ("1 medium egg", "egg", 44), ("1 large egg", "egg", 50),
        ("1 extra large egg", "egg", 56), ("1 jumbo egg", "egg", 63), ("1 egg", "egg", 50),
        ("1 yolk", "egg-yolk", 17), ("1 egg white", "egg-white", 33), ("1 quail egg", "quail-egg", 9),
        ("1 duck egg", "duck-egg", 70), ("1 goose egg", "goose-egg", 144),
    ],
)  # fmt: skip
def test_an_egg_weighs_what_the_usda_says(text, key, grams):
    """Outside check: household weights of the USDA table for eggs, from memory."""
    found = read(text, find(key))
    assert found.grams == pytest.approx(grams, abs=0.7)
    assert grams in found.bounds


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [("1 S egg", 0, 53), ("1 M egg", 53, 63), ("1 L egg", 63, 73), ("1 XL egg", 73, 90),
     ("1 EU large egg", 63, 73), ("1 UK medium egg", 53, 63)],
)  # fmt: skip
def test_an_egg_of_a_class_weighs_what_the_law_says(text, low, high):
    """Outside check: Regulation (EC) 589/2008, article 4; shell and skin are a tenth or so of it."""
    found = read(text, find("egg"))
    assert 0.85 * low <= found.bounds.low <= found.grams <= found.bounds.high <= 0.91 * high


def test_the_page_says_what_it_took():
    assert read("250 ml", find("buttermilk")).says() == (
        "250 ml: 258 g, at 1.03 g/ml; from 255 to 260 g."
    )
    said = read("1 cup of buttermilk", find("buttermilk")).says(Style(decimal=","))
    assert said.startswith("1 cup of buttermilk: 244 g, a US cup of 236,6 ml at 1,03 g/ml")
    assert "a metric cup holds 250 ml" in said
    assert "write such as “2 L eggs”" in read("2 eggs", find("egg")).says()


@pytest.mark.parametrize(
    ("text", "key", "grams"),
    [
        ("2.5 dl", "water", 250), ("2,5 dl", "water", 250), ("½ l", "water", 500), ("25cl", "water", 250),
        ("250 cm³", "water", 250), ("1 metric cup", "water", 250), ("half a metric cup", "water", 125),
        ("a quarter metric cup", "water", 62.5), ("1 1/2 metric cups", "water", 375),
        ("one and a half metric cups", "water", 375), ("three quarters of a metric cup", "water", 187.5),
        ("2 metric tbsp", "water", 30), ("1 Australian tablespoon", "water", 20), ("3 tsp.", "water", 15),
        ("8 US fl. oz.", "water", 236.6), ("1 UK pint", "water", 568.3), ("1 U.S. pint", "water", 473.2),
        ("2 sticks of butter", "butter", 226.8), ("a dozen M eggs", "egg", 612.5),
        ("2 dozen M eggs", "egg", 1225), ("half a dozen M eggs", "egg", 306.2), ("two M eggs", "egg", 102.1),
        ("2 eggs (M)", "egg", 102.1), ("100 ml semi-skimmed milk", "milk-2", 103),
    ],
)  # fmt: skip
def test_reads_what_cooks_write(text, key, grams):
    assert is_measure(text)
    found = read(text, find(key))
    assert found.grams == pytest.approx(grams, abs=0.06)
    assert found.grams in found.bounds


@pytest.mark.parametrize(
    ("text", "key", "says"),
    [
        ("2 eggs", "whole-milk", "Eggs are not whole milk"),
        ("3 yolks", "egg", "Choose egg yolk in the list"),
        ("1 cup milk", "buttermilk", "“milk” is whole milk"),
        ("1 cup gravel", "buttermilk", "This is the field for buttermilk"),
        ("1 heaped tbsp", "sugar", "fill the spoon level"),
        ("1 pint", "whole-milk", "larger in the UK than in the US"),
        ("1 cup", "plum", "We do not know what 1 ml of plum weighs"),
        ("1,500 ml", "water", "can be 1500 or 1.500"),
        ("-2 eggs", "egg", "Leave the minus sign out"),
        ("2 sticks", "sugar", "Only butter comes in sticks"),
        ("2 duck eggs", "egg", "Choose duck egg in the list"),
        ("2 egg powder", "egg", "I cannot read “powder”"),
    ],
)
def test_what_cannot_be_taken_is_told(text, key, says):
    with pytest.raises(ReadingError, match=says.replace("(", r"\(")):
        read(text, find(key))


@pytest.mark.parametrize(
    "text",
    ["120 g", "65 %", "4 oz", "1 lb 2 oz", "500", "", "egg", "l", "120 g egg", "0.5 kg", "12.5%"],
)
def test_a_weight_is_no_measure(text):
    assert not is_measure(text)


POURED = [row for row in table().values() if row.density or row.bulk]


@given(
    st.sampled_from(POURED),
    st.integers(1, 40),
    st.sampled_from(["cup", "tbsp", "ml", "fl oz", "dl"]),
)
def test_bounds_hold_the_weight_and_grow_with_the_number(row, number, measure):
    one, many = (read(f"{count} {measure}", row) for count in (1, number))
    for each in (one, many):
        assert each.bounds.low <= each.grams <= each.bounds.high
    assert many.grams == pytest.approx(number * one.grams, rel=0.03, abs=0.06 * number)
    assert many.bounds.high == pytest.approx(number * one.bounds.high, rel=0.03, abs=0.06 * number)


@given(st.text(max_size=120) | st.text("0123456789 ./,½-egcupmlsydoznthf&LXM", max_size=40))
def test_any_text_is_read_or_told(text):
    for row in (find("egg"), find("buttermilk")):
        if is_measure(text):
            try:
                assert isinstance(read(text, row).bounds, Interval)
            except ReadingError:
                continue


def test_every_word_for_a_measure_is_refused_by_the_plain_reading_or_read_there():
    """A form without a named ingredient says to weigh, as before."""
    for text in ("1 cup", "2 eggs", "250 ml", "2 tbsp"):
        with pytest.raises(ReadingError):
            units.read(text, "mass")
    assert household.LONGEST >= units.LONGEST_TEXT
