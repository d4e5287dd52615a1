"""Reading and writing quantities."""

import pint
import pytest

from calc import units
from calc.units import BY_SYMBOL, ReadingError, Style, read, write, write_exact
from calc.working import Working, margin


def test_ounce_and_pound_are_those_of_nist_sp_811():
    """Outside check: NIST Special Publication 811, appendix B.8: avoirdupois ounce and pound."""
    assert BY_SYMBOL["oz"].factor == pytest.approx(2.834952e-2 * 1000, rel=1e-6)
    assert BY_SYMBOL["lb"].factor == pytest.approx(4.5359237e-1 * 1000, rel=1e-9)


@pytest.mark.parametrize("symbol", ["g", "kg", "oz", "lb"])
def test_masses_agree_with_pint(symbol):
    """Outside check: the reference library pint."""
    ours = read(f"3.7 {symbol}", "mass").value
    assert ours == pytest.approx(
        pint.UnitRegistry().Quantity(3.7, symbol).to("g").magnitude, rel=1e-12
    )


@pytest.mark.parametrize("degrees", [-40, 32, 75, 212])
def test_temperatures_agree_with_pint(degrees):
    """Outside check: the reference library pint."""
    ours = read(f"{degrees} °F", "temperature").value
    theirs = pint.UnitRegistry(autoconvert_offset_to_baseunit=True).Quantity(degrees, "degF")
    assert ours == pytest.approx(theirs.to("degC").magnitude, abs=1e-9)
    assert write(ours, "temperature", Style(temperature="°F")) == f"{degrees} °F".replace("-", "−")
    assert read("9 °F", "temperature difference").value == pytest.approx(5)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("128 g", "mass", 128), ("128", "mass", 128), ("128,4 g", "mass", 128.4),
        ("0.128 kg", "mass", 128), ("0,128 kg", "mass", 128), ("1,284 kg", "mass", 1284),
        ("4.5 oz", "mass", 4.5 * 28.349523125), ("1 284 g", "mass", 1284), (".5 lb", "mass", 226.796185),
        ("128 grams", "mass", 128), ("128G", "mass", 128), ("-3 g", "mass", -3), ("−3 g", "mass", -3),
        ("74 %", "share", 0.74), ("74%", "share", 0.74), ("0.74", "share", 0.74), ("0,74", "share", 0.74),
        ("74", "share", 0.74), ("1.05", "share", 1.05), ("74 percent", "share", 0.74),
        ("74 per cent", "share", 0.74), ("74  Per  cent.", "share", 0.74), ("74pct", "share", 0.74),
        ("½ kg", "mass", 500), ("1/2 kg", "mass", 500), ("1½ kg", "mass", 1500), ("1 ½kg", "mass", 1500),
        ("17 5/8 oz", "mass", 17.625 * 28.349523125), ("1 284 1/2 g", "mass", 1284.5), ("−½ kg", "mass", -500),
        ("1 lb 2 oz", "mass", 18 * 28.349523125), ("1lb 2½oz", "mass", 18.5 * 28.349523125),
        ("2 lbs. 3.5 ounces", "mass", 35.5 * 28.349523125), ("-1 lb 2 oz", "mass", -18 * 28.349523125),
        ("1 kg 250 g", "mass", 1250), ("1kg250g", "mass", 1250), ("1 h 10 min", "time", 70), ("1½ h", "time", 90),
        ("1.000,5 g", "mass", 1000.5), ("1,000.5 g", "mass", 1000.5), ("3/4", "share", 0.75),
    ],
)  # fmt: skip
def test_reads_what_bakers_write(text, kind, value):
    assert read(text, kind).value == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "kind", "says"),
    [
        ("", "mass", "nothing here yet"),
        ("a cup", "mass", "cannot read a number"),
        ("128 ml", "mass", "measures volume"),
        ("128 bananas", "mass", "do not know the unit"),
        ("74 %", "mass", "“%” does not fit here"),
        ("128 g", "share", "“g” does not fit here"),
        ("1,284 g", "mass", "can be 1284 or 1.284"),
        ("9" * 10_000_000, "mass", "too long"),
        ("1e309", "mass", "do not know the unit"),
        ("nan", "mass", "cannot read a number"),
        ("12 fl oz", "mass", "“fl oz” measures volume.*weigh it"),
        ("12 fl. oz", "mass", "measures volume.*weigh it"),
        ("1/2 cup", "mass", "“cup” measures volume.*weigh it"),
        ("½ cup of milk", "mass", "“cup of milk” measures volume.*weigh it"),
        ("2 tablespoons", "mass", "measures volume"),
        ("2 eggs", "mass", "without their shells.*about 50 g"),
        ("2 large eggs", "mass", "without their shells"),
        ("1/0 kg", "mass", "below its line"),
        ("1/2/3 g", "mass", "cannot read a number in “1/2/3 g”"),
        ("1.2.3 g", "mass", "cannot read a number"),
        ("5-6 g", "mass", "cannot read a number"),
        ("1 lb 2 g", "mass", "two numbers"),
        ("1 kg 250", "mass", "two numbers"),
        ("1 kg 2 %", "mass", "does not fit here"),
        ("1 h 10 min", "mass", "does not fit here"),
        ("1 lb 1,284 oz", "mass", "can be 1284 or 1.284"),
        ("1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1/", "mass", "cannot read a number"),
        ("٣٤;DROP", "mass", "do not know the unit"),
    ],
)
def test_says_what_to_do_with_what_it_cannot_read(text, kind, says):
    with pytest.raises(ReadingError, match=says):
        read(text, kind)


def test_remembers_how_finely_a_number_was_written():
    assert read("128 g", "mass").half_unit == 0.5
    assert read("128.40 g", "mass").half_unit == pytest.approx(0.005)
    assert read("0.128 kg", "mass").half_unit == pytest.approx(0.5)
    assert read("74 %", "share").half_unit == pytest.approx(0.005)
    assert read("1.000,5 g", "mass").half_unit == pytest.approx(0.05)
    # A fraction is read as rounded to its parts, and 1 lb 2 oz as rounded to ounces.
    assert read("5/8 oz", "mass").half_unit == pytest.approx(28.349523125 / 16)
    assert read("1 lb 2 oz", "mass").half_unit == pytest.approx(28.349523125 / 2)
    assert read("1 lb 2 oz", "mass").unit.symbol == "oz"


def test_a_fraction_leaves_an_answer_no_more_room_than_the_scale():
    """A student who writes 1/2 kg for 480 g is wrong: a scale shows more than halves."""
    step = Working("sum")
    step.step("half", "half", step.given("all", "all", 1000.0, "mass") / 2, "mass", to=1.0)
    for text in ("1/2 kg", "½ kg", "0.5 kg", "500 g"):
        assert margin(step.steps["half"], read(text, "mass")) == 0.5
    ounces = margin(step.steps["half"], read("1 lb 1 5/8 oz", "mass"))
    assert ounces == pytest.approx(0.05 * 28.349523125)


@pytest.mark.parametrize("text", ["65 %", "65%", "65 percent", "65 per cent", "65 pct", "65%%"])
def test_knows_a_percentage_from_a_weight(text):
    assert units.is_percentage(text)
    assert not units.is_percentage(text.rstrip("% acenprt") + " g")


@pytest.mark.parametrize(
    ("value", "kind", "style", "text"),
    [
        (128.648, "mass", Style(), "129 g"),
        (2.34, "mass", Style(), "2.3 g"),
        (128.648, "mass", Style(",", "oz"), "4,5 oz"),
        (0.67857, "share", Style(), "68 %"),
        (-4.25, "mass", Style(), "−4.3 g"),
        (0.0, "mass", Style(), "0.0 g"),
    ],
)
def test_writes_at_the_scale_of_the_trade(value, kind, style, text):
    assert write(value, kind, style) == text


def test_what_is_written_can_be_read_again():
    for grams in (0.4, 9.96, 12, 128.65, 1284, 25_000):
        for style in (Style(), Style(",", "g"), Style(".", "oz"), Style(",", "oz")):
            text = write(grams, "mass", style)
            step = units.mass_step(grams, style)
            assert abs(read(text, "mass").value - grams) <= step / 2 * (1 + 1e-6)
    assert write_exact(0.9013, "share", Style(",")) == "90,13 %"


@pytest.mark.parametrize(
    ("text", "number"),
    [("0", 0), ("12", 12), ("007", 7), ("", None), ("-1", None), ("1.5", None), (" 1", None), ("²", None),
     ("٣", None), ("1_0", None), ("9" * 9, 999_999_999), ("9" * 5_000, None)],
)  # fmt: skip
def test_a_whole_number_is_read_in_plain_figures_alone(text, number):
    assert units.read_whole(text) == number


def test_both_degrees_are_told_to_the_degree():
    """US FDA Food Code 2022: 5 °C (41 °F), 57 °C (135 °F)."""
    assert [units.in_both_degrees(celsius) for celsius in (5, 57, 0.5)] == [
        "5 °C (41 °F)",
        "57 °C (135 °F)",
        "0.5 °C (33 °F)",
    ]
