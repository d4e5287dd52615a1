"""Single figures of a panel, read as packs print them."""

import pytest

from calc.panel_figures import (
    EU_GRAM,
    EU_SALT,
    LONGEST_TEXT,
    US_GRAM,
    US_SODIUM,
    read_alcohol,
    read_amount,
    read_density,
    read_figure,
    read_salt,
    read_sodium,
)
from calc.units import ReadingError


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("11 g 4 %", 11), ("11 g 4%", 11), ("3.5 g (5 %)", 3.5), ("11g 4% DV", 11), ("3,5 g*", 3.5),
        ("Total Carb 11 g", 11), ("Carbohydrate: 11 g", 11), ("~3.5 g", 3.5), ("about 3.5 g", 3.5),
        ("3.5 gm", 3.5), ("3.5 gr", 3.5), ("3.5 grams", 3.5), ("3500 mg", 3.5), ("3½ g", 3.5), ("3 1/2 g", 3.5),
        (".5 g", 0.5), ("3.5 g of which sugars 2.2 g", 3.5), ("3.5 g / 8.4 g", 3.5), ("３.５ g", 3.5),
    ],
)  # fmt: skip
def test_reads_what_stands_beside_a_figure(text, grams):
    assert read_figure(text, US_GRAM, "g", "carbohydrate").value == pytest.approx(grams)


@pytest.mark.parametrize("text", ["trace", "Traces", "nil", "none", "None", "—", "-", "tr."])
def test_none_and_a_trace_are_what_a_pack_may_print_as_0(text):
    figure = read_figure(text, EU_GRAM)
    assert (figure.range.low, figure.range.high) == (0, 0.5)


@pytest.mark.parametrize(
    "text", ["<0.5 g", "≤0.5 g", "< 0,5", "less than 0.5g", "under 0.5 g", "max 0.5 g"]
)
def test_less_than_a_limit(text):
    figure = read_figure(text, EU_GRAM)
    assert (figure.range.low, figure.range.high) == (0, 0.5)
    assert figure.value == 0.25


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("130 kJ", "energy"), ("31 kcal", "energy"), ("5%", "grams beside it"), ("3 ml", "volume"),
        ("of which sugars 4.7 g", "names the sugars"), ("saturates 2.2 g", "names the saturated"),
        ("1 packet (2.5 g)", "packet (2.5 g)"), ("some", "such as 3.5 g"), ("-1 g", "below 0"),
        ("12 µg", "millionth"), ("x" * 500, "too long"), ("1,284 g", "1284"),
    ],
)  # fmt: skip
def test_says_what_to_write_and_keeps_the_decimal_point(text, says):
    with pytest.raises(ReadingError) as refused:
        read_figure(text, US_GRAM, "g", "carbohydrate")
    assert says in str(refused.value)


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("110 mg", 0.11), ("110mg (5% DV)", 0.11), ("Sodium 110mg 5%", 0.11), ("1,100 mg", 1.1), ("1.100 mg", 1.1),
        ("1 100 mg", 1.1), ("110", 0.11), ("0.4 g", 0.4), ("0 mg", 0), ("less than 5mg", 0.0025), ("0.25 g salt", 0.1),
    ],
)  # fmt: skip
def test_reads_sodium(text, grams):
    assert read_sodium(text).value == pytest.approx(grams)


def test_sodium_in_fractions_of_a_milligram_is_asked_about():
    with pytest.raises(ReadingError, match="whole milligrams"):
        read_sodium("0.110")


def test_sodium_in_the_salts_field_is_turned_into_salt_and_said():
    """Outside check: EU Regulation 1169/2011, annex I: salt = sodium × 2.5."""
    for text in ("40 mg sodium", "Sodium 40 mg", "0.04 g sodium"):
        figure = read_salt(text)
        assert figure.value == pytest.approx(0.1)
        assert "× 2.5" in figure.remark
    assert read_salt("0.1 g").remark == ""
    with pytest.raises(ReadingError, match="40 mg sodium"):
        read_salt("40 mg")


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("80 proof", 0.4), ("40%", 0.4), ("12 % alc/vol", 0.12), ("Alc 5% by vol", 0.05), ("5 % vol", 0.05),
        ("alc. 5.0% vol.", 0.05), ("ABV 5%", 0.05), ("<0.5 %", 0.0025), ("none", 0), ("alcohol-free", 0), ("5% ABV", 0.05),
        ("ALC. 12.5% BY VOL. (25 PROOF)", 0.125), ("alcohol 12,5 % vol", 0.125),
    ],
)  # fmt: skip
def test_reads_alcohol(text, share):
    assert read_alcohol(text).value == pytest.approx(share)


@pytest.mark.parametrize(
    ("text", "density"),
    [
        ("1.03", 1.03), ("1,03 g/ml", 1.03), ("1030 g/l", 1.03), ("103 g per 100 ml", 1.03), ("103 g/100ml", 1.03),
        ("1.03 g/cc", 1.03), ("1.03 g/cm3", 1.03), ("1.03 g/cm³", 1.03), ("1.03 kg/l", 1.03),
    ],
)  # fmt: skip
def test_reads_a_density(text, density):
    assert read_density(text).value == pytest.approx(density)


@pytest.mark.parametrize(
    ("text", "amount", "by_volume"),
    [
        ("240 g", 240, False), ("240", 240, False), ("1 cup (240 g)", 240, False), ("2/3 cup (170g)", 170, False),
        ("1 Tbsp (15 mL)", 15, True), ("1 oz (28 g)", 28, False), ("1 container (150g)", 150, False), ("1 egg (50 g)", 50, False),
        ("8 fl oz (240 mL)", 240, True), ("240mL (8 fl oz)", 240, True), ("1 bottle (12 fl oz/355 mL)", 355, True),
        ("0.24 kg", 240, False), ("2 oz", 56.699, False), ("250 ml", 250, True), ("Serving size 1 cup (240g)", 240, False),
        ("8 fl oz", 240, True), ("1 cup", 240, True), ("½ cup", 120, True), ("2 Tbsp", 30, True),
    ],
)  # fmt: skip
def test_reads_a_serving_as_packs_print_it(text, amount, by_volume):
    """Outside check: 21 CFR 101.9(b)(5)(viii), a cup is 240 ml, a tablespoon 15, a fluid ounce 30."""
    figure, volume = read_amount(text)
    assert (figure.value, volume) == (pytest.approx(amount, rel=1e-3), by_volume)


@pytest.mark.parametrize(
    "text",
    [
        "one cup",
        "0 g",
        "(0 g)",
        "-5 g",
        "a lot",
        "g" * 90,
        "1/100 tsp",
        "0 cups",
        "5 gramſ",
        "1 teaſpoon",
        "1 lİtre",
    ],
)
def test_an_amount_that_says_no_weight_is_refused(text):
    with pytest.raises(ReadingError):
        read_amount(text)


@pytest.mark.parametrize("read", [read_sodium, read_salt, read_alcohol, read_density, read_amount])
@pytest.mark.parametrize(
    "text", ["1" * 79, "1," * 39, "( " * 39, "% " * 40, "a1" * 39, " " * 70 + "1"]
)
def test_reads_or_refuses_whatever_is_typed(read, text):
    assert len(text) <= LONGEST_TEXT
    try:
        outcome = read(text)
    except ReadingError as refused:
        outcome = str(refused)
    assert outcome


def test_salt_is_rounded_by_its_own_rule():
    assert read_salt("1.2 g").range.high == pytest.approx(1.25)
    assert read_figure("1.2 g", EU_SALT).range.low == pytest.approx(1.15)
    assert read_figure("140 mg", US_SODIUM, "mg").range.high == pytest.approx(0.145)
