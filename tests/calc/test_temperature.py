"""Dough temperature: heat capacities against tables, the heat balance, ice, and the short rules."""

from dataclasses import replace

import pint
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calc import composition
from calc.formula import FormulaError
from calc.interval import Interval
from calc.temperature import (
    BOWL,
    COMPONENTS,
    HEAT_OF_MELTING,
    MELTING_IN_DEGREES,
    Part,
    balance,
    dough_temperature,
    friction_factor,
    heat_capacity,
    heat_capacity_range,
    ice_needed,
    ice_working,
    is_mixed_into_flour,
    liquid_temperature,
    mixed,
    movable,
    plan,
    preferment_part,
    pull,
    warmest,
    water_temperature,
)
from calc.units import Style

find = composition.find
TABLE = list(composition.table().values())
LIQUIDS = [each for each in TABLE if each.is_liquid]

kitchen = st.floats(0, 35)
DEGREES = pint.UnitRegistry().Quantity
grams = st.floats(1, 5000)


@pytest.mark.parametrize(
    ("component", "capacity"),
    [
        ("protein", 2.03185284), ("fat", 2.01174568), ("carbohydrate", 1.58567404),
        ("fibre", 1.88065164), ("ash", 1.12891932), ("ice", 2.183838),
    ],
)  # fmt: skip
def test_components_are_those_of_a_reference_library(component, capacity):
    """Outside check: CoolProp 8.0.0, incompressible FoodProtein, FoodFat … at 20 °C."""
    a, b, c = COMPONENTS[component]
    assert a + b * 20 + c * 400 == pytest.approx(capacity, rel=1e-7)


@pytest.mark.parametrize(("celsius", "capacity"), [(0.01, 4.2194), (20, 4.1841), (50, 4.1813)])
def test_water_is_near_the_standard(celsius, capacity):
    """Outside check: IAPWS-95 as CoolProp 8.0.0 gives it. The equations of 1986 lie within 1.1 %."""
    assert heat_capacity(find("water"), celsius) == pytest.approx(capacity, rel=0.011)


@pytest.mark.parametrize(
    ("key", "low", "high", "off"),
    [
        # A transport-process textbook's appendix A.4-1, heat capacities of foods, kJ/(kg K).
        ("whole-milk", 3.85, 3.85, 0.02), ("skim-milk", 3.98, 4.02, 0.02), ("butter", 2.30, 2.30, 0.05),
        ("banana", 3.66, 3.66, 0.04), ("olive-oil", 2.01, 2.01, 0.01), ("water", 4.185, 4.185, 0.005),
        # Tables print less for dry foods than their components add up to: see `heat_capacity`.
        ("bread-flour", 1.80, 1.88, 0.08),
        # NZIFST Unit Operations in Food Processing, appendix 7 (from ASHRAE data).
        ("whole-milk", 3.9, 3.9, 0.01), ("water", 4.19, 4.19, 0.005), ("beer", 4.19, 4.19, 0.05),
    ],
)  # fmt: skip
def test_heat_capacities_agree_with_published_tables(key, low, high, off):
    ours = heat_capacity(find(key), 20)
    assert low * (1 - off) <= ours <= high * (1 + off)


def test_unknown_solids_widen_the_range_and_known_ones_do_not():
    assert heat_capacity_range(find("whole-milk"), 20) is None
    own = composition.own("thick yogurt", 0.74)
    spread = heat_capacity_range(own, 20)
    assert heat_capacity(own, 20) in spread
    assert 0.05 < spread.width < 0.26 * 0.5
    assert heat_capacity(BOWL, 20) == 0.5


def heat_content(ingredient, celsius):
    """Heat above 0 °C in J/g, by small steps of the heat capacity: an integral, not our mean."""
    steps = 100
    width = celsius / steps
    return sum(heat_capacity(ingredient, (n + 0.5) * width) * width for n in range(steps))


def mix_by_bisection(parts, ice=0.0, ice_celsius=0.0):
    """The temperature at which all heat is accounted for, found without any of our formulas.

    `ice` grams of the first part, which is water then, go in as ice.
    """
    frozen_at = COMPONENTS["ice"][0] + COMPONENTS["ice"][1] * ice_celsius / 2
    below, above = -5.0, 140.0

    weights = [part.grams - (0 if number else ice) for number, part in enumerate(parts)]
    before = [heat_content(part.ingredient, part.celsius) for part in parts]

    def gained(celsius):
        now = [heat_content(part.ingredient, celsius) for part in parts]
        melted = ice * (now[0] + HEAT_OF_MELTING - frozen_at * ice_celsius)
        return melted + sum(
            weight * (end - start) for weight, end, start in zip(weights, now, before, strict=True)
        )

    for _ in range(30):
        middle = (below + above) / 2
        below, above = (middle, above) if gained(middle) < 0 else (below, middle)
    return (below + above) / 2


@st.composite
def doughs(draw):
    """A liquid and up to five other things, each at its own temperature."""
    liquid = draw(st.sampled_from(LIQUIDS))
    others = draw(st.lists(st.sampled_from(TABLE), min_size=1, max_size=5))
    return [
        Part(liquid, draw(st.floats(50, 5000)), draw(kitchen)),
        *(Part(each, draw(grams), draw(kitchen)) for each in others),
    ]


@settings(deadline=None)
@given(doughs(), st.floats(18, 32), st.floats(0, 12))
def test_the_mix_ends_at_the_wanted_temperature(parts, wanted, friction):
    working = balance(parts, 0, wanted, friction)
    needed = working.values()["temperature"]
    assume(0 <= needed <= 100)
    after = [Part(parts[0].ingredient, parts[0].grams, needed), *parts[1:]]
    assert mixed(after, friction) == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("liquid", ["water", "buttermilk", "sour-cream", "egg", "beer"])
@pytest.mark.parametrize("wanted", [20, 27])
def test_an_integral_of_the_heat_agrees(liquid, wanted):
    """Outside check: heat contents summed in small steps and a bisection, in place of means."""
    parts = [
        Part(find(liquid), 330, 5), Part(find("bread-flour"), 500, 14), Part(find("butter"), 60, 18),
        Part(find("salt"), 9, 21), Part(BOWL, 900, 21),
    ]  # fmt: skip
    needed = balance(parts, 0, wanted, 6).values()["temperature"]
    after = [Part(find(liquid), 330, needed), *parts[1:]]
    assert mix_by_bisection(after) + 6 == pytest.approx(wanted, abs=0.01)
    assert mixed(after, 6) == pytest.approx(wanted, abs=0.01)


@settings(deadline=None)
@given(doughs(), st.floats(18, 32), st.floats(0, 12), st.sampled_from([0.1, 1.0]))
def test_bounds_hold_the_temperature(parts, wanted, friction, thermometer):
    working = balance(parts, 0, wanted, friction, thermometer)
    assert working.values()["temperature"] in working.bounds()["temperature"]


def test_a_textbook_problem_of_wetted_flour():
    """Outside check: an engineering thermodynamics textbook's problem: 2 kg of flour (1.76 kJ/(kg K)) and
    1 kg of water (4.18), all to end at 15 °C, 15 kJ of heat of wetting for each kg of dough. The
    water alone takes up 45 kJ, so it starts 45 ÷ 4.18 colder, at 4.2 °C. Ours is near, for our
    heat capacities are ours: the heat of wetting is given as the rise it makes."""
    parts = [Part(find("water"), 1000, 15), Part(find("bread-flour"), 2000, 15)]
    capacities = [heat_capacity(part.ingredient, 15) * part.grams for part in parts]
    rise = 45_000 / sum(capacities)
    needed = balance(parts, 0, 15, rise).values()["temperature"]
    assert needed == pytest.approx(15 - 45 / 4.18, abs=0.1)


# Ice.


@pytest.mark.parametrize("ice", [0.0, -18.0])
@pytest.mark.parametrize("friction", [8, 14])
def test_with_ice_the_mix_ends_at_the_wanted_temperature(ice, friction):
    """Outside check: the same bisection, with 334 J for each gram that melts."""
    parts = [
        Part(find("water"), 650, 18), Part(find("bread-flour"), 1000, 26), Part(find("salt"), 20, 26),
    ]  # fmt: skip
    grams = ice_working(parts, 0, 24, friction, ice).values()["ice"]
    assert 0 < grams < 650
    assert mix_by_bisection(parts, grams, ice) + friction == pytest.approx(24, abs=0.01)


def test_frozen_milk_takes_away_less_than_ice():
    """Outside check: NZIFST appendix 7: latent heat 335 J/g for water, 289 J/g for milk."""
    parts = {
        key: [Part(find(key), 650, 4), Part(find("bread-flour"), 1000, 26)]
        for key in ("water", "whole-milk")
    }
    each = {
        key: ice_working(p, 0, 24, 14).values()["each"] - heat_capacity(find(key), 0, 4) * 4
        for key, p in parts.items()
    }
    assert each["water"] == pytest.approx(335, rel=0.005)
    assert each["whole-milk"] == pytest.approx(289, rel=0.03)


def test_ice_needed_agrees_with_the_heat_balance_of_water_alone():
    """The short rule and the balance must tell the same for a bucket of water."""
    short = ice_needed(10_000, 20, 8).values()["ice"]
    full = ice_working([Part(find("water"), 10_000, 20)], 0, 8, 0).values()["ice"]
    assert short == pytest.approx(1200)
    assert full == pytest.approx(short, rel=0.005)


@settings(deadline=None)
@given(st.integers(40, 100), st.integers(33, 90), st.integers(50, 5000))
def test_ice_rule_in_fahrenheit(tap, wanted, water):
    """Outside check: the trade's rule in °F, water × (tap − wanted) ÷ (tap + 112), from memory;
    112 is 144 (Btu/lb to melt ice) − 32. Degrees by pint."""
    assume(tap > wanted)
    celsius = [DEGREES(degrees, "degF").to("degC").magnitude for degrees in (tap, wanted)]
    ours = ice_needed(water, *celsius).values()["ice"]
    assert ours == pytest.approx(water * (tap - wanted) / (tap + 112), rel=1e-9)


def test_melting_in_degrees_is_the_tables_figure():
    """Outside check: NZIFST appendix 7: 335 kJ/kg ÷ 4.19 kJ/(kg K)."""
    assert pytest.approx(335 / 4.19, abs=0.1) == MELTING_IN_DEGREES


# The short rules.


@pytest.mark.parametrize(
    ("shop", "flour", "water"),
    [(85, 67, 82), (72, 62, 100)],
)
def test_a_handbooks_worked_examples(shop, flour, water):
    """Outside check: A Treatise on Baking (early twentieth century, read in a public copy), the
    temperature of the bread dough: with these, all in °F, the mean is 78. It takes off friction
    only for fast mixers, so there is none here."""
    to_celsius = lambda degrees: (degrees - 32) / 1.8  # noqa: E731
    working = water_temperature(to_celsius(78), to_celsius(flour), to_celsius(shop), 0)
    assert working.values()["water"] == pytest.approx(to_celsius(water))
    assert working.sentence("water", Style(temperature="°F")).endswith(f"= {water} °F")


@settings(deadline=None)
@given(st.floats(65, 90), kitchen, kitchen, st.floats(0, 25), st.none() | kitchen)
def test_the_factor_and_the_water_undo_each_other(dough, flour, room, friction, preferment):
    celsius = (dough - 32) / 1.8
    water = water_temperature(celsius, flour, room, friction, preferment).values()["water"]
    back = friction_factor(celsius, flour, room, water, preferment).values()["friction"]
    assert back == pytest.approx(friction, abs=1e-9)


def test_the_short_rule_is_the_balance_of_three_equal_parts():
    """With flour, room and water equally heavy, the dough rises by a third of the friction factor."""
    equal = [Part(find("water"), 100, celsius) for celsius in (25, 20, 21)]
    assert mixed(equal, 12 / 3) == pytest.approx(26, abs=0.01)
    assert water_temperature(26, 20, 21, 12).values()["water"] == pytest.approx(25)


# What to do.


def kitchen_dough(liquid, grams, celsius, free):
    part = Part(find(liquid), grams, celsius)
    return [
        movable(part, celsius) if free else part,
        movable(Part(find("bread-flour"), 500, 18), 5),
        Part(find("salt"), 10, 18),
    ]


def test_plain_water_needs_no_other_help():
    made = plan(kitchen_dough("water", 325, 10, True), 25, 4)
    assert made.enough
    assert made.changed == (0,)
    assert mixed(made.parts, 4) == pytest.approx(25, abs=0.01)


def test_a_cold_thick_liquid_makes_the_flour_help():
    made = plan(kitchen_dough("sour-cream", 200, 5, False), 22, 4)
    assert made.enough
    assert made.changed == (1,)
    assert 18 < made.parts[1].celsius <= warmest(find("bread-flour")).celsius
    assert made.parts[0].celsius == 5
    assert mixed(made.parts, 4) == pytest.approx(22, abs=0.01)


def test_too_much_cold_is_told_with_what_can_be_reached():
    made = plan(kitchen_dough("sour-cream", 500, 4, False), 28, 2)
    assert not made.enough
    assert made.reached < 28
    assert made.reached == pytest.approx(mixed(made.parts, 2))


def test_water_that_would_be_below_freezing_becomes_ice():
    made = plan(kitchen_dough("water", 300, 15, True), 20, 14)
    assert made.enough
    assert made.iced == 0
    assert 0 < made.ice <= 300


@settings(deadline=None)
@given(doughs(), st.floats(15, 40), st.floats(0, 20), st.floats(0, 15))
def test_no_plan_warms_above_what_is_safe_or_asks_for_liquid_below_0(
    parts, wanted, friction, coldest
):
    free = [movable(each, coldest if each.is_liquid else 5) for each in parts]
    made = plan(free, wanted, friction)
    for before, after in zip(free, made.parts, strict=True):
        assert after.celsius in Interval(
            min(0, coldest), max(warmest(after.ingredient).celsius, coldest)
        )
        assert after.celsius in before.may or after.celsius == before.celsius
    if made.enough and made.iced is None:
        assert mixed(made.parts, friction) == pytest.approx(wanted, abs=0.01)
    if not made.enough:
        assert mixed(made.parts, friction) == pytest.approx(made.reached)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Part(find("water"), 300, -3), "colder than 0 °C is ice"),
        (lambda: Part(find("bread-flour"), 300, 400), "cannot go in at"),
        (lambda: balance([Part(find("water"), 0, 10)], 0, 24, 4), "Give the water a weight"),
        (lambda: mixed([], 4), "nothing to mix"),
        (lambda: plan([Part(find("water"), 300, 10)], 24, 4), "Nothing may be warmed"),
        (lambda: ice_working([Part(find("water"), 9, 9)], 0, 24, 4, 3), "Ice is at 0 °C"),
        (lambda: ice_working([Part(find("bread-flour"), 9, 9)], 0, 24, 4), "not a liquid"),
    ],
)
def test_says_what_is_wrong(make, says):
    with pytest.raises(FormulaError, match=says):
        make()


@pytest.mark.parametrize(("first", "second", "mix"), [(80, 20, 50), (60, 0, 30), (10, 10, 10)])
def test_equal_weights_of_water_meet_in_the_middle(first, second, mix):
    """Richmann's law of mixtures, by hand: equal weights and heat capacities give the mean."""
    made = dough_temperature(100, first, 4.2, 100, second, 4.2, 0).values()
    assert made["dough"] == pytest.approx(mix)


@given(
    flour=grams, cold=kitchen, weight=grams, liquid=kitchen, rise=st.floats(0, 12),
    capacity=st.floats(1.5, 4.3),
)  # fmt: skip
def test_the_two_questions_on_heat_are_each_others_inverse(
    flour, cold, weight, liquid, rise, capacity
):
    dough = dough_temperature(flour, cold, 2.0, weight, liquid, capacity, rise).values()["dough"]
    back = liquid_temperature(flour, cold, 2.0, weight, capacity, dough, rise)
    assert back.values()["temperature"] == pytest.approx(liquid, abs=1e-6)


@given(cold=st.floats(0, 35), liquid=st.floats(0, 35))
def test_told_heat_capacities_give_what_the_whole_balance_gives(cold, liquid):
    """`mixed` lets the heat capacities change a little with temperature; told ones stay."""
    cream, bread = find("sour-cream"), find("bread-flour")
    told = [round(heat_capacity(each, 15), 2) for each in (bread, cream)]
    made = dough_temperature(500, cold, told[0], 430, liquid, told[1], 3).values()
    whole = mixed([Part(bread, 500, cold), Part(cream, 430, liquid)], 3)
    assert made["dough"] == pytest.approx(whole, abs=0.2)


def test_two_degrees_of_water_for_one_of_dough():
    """The trade's rule of thumb; the review of this course reckoned 1.7 without and 2.1 with a 1 kg
    steel bowl, for 500 g flour at 2.0 and 325 g water at 4.18 J/(g·K)."""
    flour, water = Part(find("bread-flour"), 500, 20), Part(find("water"), 325, 20)
    assert pull([flour, water], 1) == pytest.approx(
        (500 * 2.0 + 325 * 4.18) / (325 * 4.18), abs=0.01
    )
    assert pull([flour, water, Part(BOWL, 1000, 20)], 1) == pytest.approx(2.1, abs=0.05)


@given(st.floats(200, 900), st.floats(5, 40), st.floats(-8, 8))
def test_the_pull_is_what_the_balance_does(liquid, warm, change):
    parts = [Part(find("bread-flour"), 500, 20), Part(find("water"), liquid, warm)]
    moved = replace(parts[1], celsius=max(0.0, warm + change))
    by = moved.celsius - warm
    assert mixed([parts[0], moved], 0) - mixed(parts, 0) == pytest.approx(
        by / pull(parts, 1), abs=0.02
    )


def test_a_preferment_is_its_flour_and_its_water():
    one = preferment_part(find("bread-flour"), 300, 1.0, 24)
    two = [Part(find("bread-flour"), 150, 24), Part(find("water"), 150, 24)]
    rest = Part(find("water"), 200, 10)
    assert mixed([one, rest], 0) == pytest.approx(mixed([*two, rest], 0), abs=0.01)


def test_how_warm_by_how_the_yeast_goes_in():
    """Packs: 100 to 115 °F to dissolve dry yeast, 120 to 130 °F mixed into flour, death at 140 °F
    (60 °C), as public pages repeat them."""
    water = find("water")
    dissolved, in_flour = warmest(water).celsius, warmest(water, in_flour=True).celsius
    assert (100 - 32) / 1.8 <= dissolved <= (115 - 32) / 1.8
    assert (120 - 32) / 1.8 <= in_flour <= (130 - 32) / 1.8 < 60
    assert warmest(find("egg"), in_flour=True).celsius < dissolved
    assert is_mixed_into_flour([find("instant-yeast")])
    assert not is_mixed_into_flour([find("instant-yeast"), find("fresh-yeast")])
    assert not is_mixed_into_flour([find("salt")])


def test_yogurt_may_be_as_warm_as_it_is_made():
    """Yogurt is incubated at 40 to 45 °C (dairy practice, from memory)."""
    assert 40 <= warmest(find("plain-yogurt")).celsius <= 45
