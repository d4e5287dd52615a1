"""A pack's panel read backwards, against packs printed forwards from the USDA's figures."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, pack_kinds, units
from calc.composition import Ingredient
from calc.diagnosis import diagnose
from calc.interval import Interval
from calc.label import (
    BASES,
    PanelError,
    read_panel,
    water_content,
    water_from_pack,
    water_from_us_pack,
)
from calc.panel_figures import (
    EU_GRAM,
    EU_SALT,
    US_FAT,
    US_GRAM,
    US_SODIUM,
    read_alcohol,
    read_figure,
)
from tests.bench import packs as bench
from tests.pack_kinds import KINDS, filled, foods
from tests.printed_panels import print_eu, print_us, rounded

SMALL = ("zero", "less", "plain")
FOODS = [food for food in foods() if food.kind in pack_kinds.kinds() and food.adds_up]


def ingredient(food) -> Ingredient:
    """A USDA row as the table would have it."""
    names = ("water", "protein", "fat", "carbohydrate", "ash", "salt")
    return Ingredient(
        str(food.number), food.name, food.kind, water_range=Interval(0, 1), fibre=(food.fibre or 0) / 100,
        **{name: getattr(food, name) / 100 for name in names},
    )  # fmt: skip


# What the kinds hold.


def test_the_kinds_are_what_the_usdas_rows_say():
    """Outside check: USDA National Nutrient Database for Standard Reference, release 24."""
    text = KINDS.read_text(encoding="utf-8")
    assert filled(text, foods()) == text, "run: python -m tests.pack_kinds"


@given(st.sampled_from([*pack_kinds.kinds().values()]), st.floats(0, 0.9))
def test_more_protein_than_a_kind_was_made_from_narrows_no_minerals(kind, protein):
    """A juice with yogurt in it, a tofu in a drink's place: the band stops at the ends that were found."""
    found = kind.minerals(Interval.exactly(protein))
    assert found.value in found.range
    assert found.range.width >= min(kind.besides.range.width, kind.minerals_range.width) - 1e-12
    assert kind.minerals_range.low <= found.range.low <= found.range.high
    assert found.range.high <= kind.minerals_range.high


@pytest.mark.slow
def test_bounds_hold_the_true_water_of_foods_that_no_kind_was_made_from():
    """Outside check: USDA Standard Reference water, each row printed by a printer of its own.

    The kinds are made without the foods that are read; a fifth of all, so that it takes seconds.
    """
    tallies = bench.measure(itertools.islice(bench.unseen_folds(5, foods()), 1))
    for (which, name), tally in tallies.items():
        # What no more than a few packs say is chance.
        if len(tally.widths) >= 40:
            least = 0.95 if which == "panel" else 0.90
            assert tally.held / len(tally.widths) >= least, (name, tally.line(name))
    assert sum(tally.refused for tally in tallies.values()) <= 4


def forced(food: Ingredient, basis: str, printed: dict[str, str]) -> tuple[float, float]:
    """The lowest and highest water that rounding and minerals allow, by trying every amount.

    For each figure, all amounts on a fine grid that a pack may print that way, found by printing
    them; then the extreme sums. Shares no code with the reading.
    """
    rules, grams = BASES[basis].rules, 100.0
    if basis == "us":
        grams = float(printed["serving"].split()[0])
    counted = ["fat", "protein", "carbohydrate"] + (["fibre"] if basis != "us" else [])
    low = high = 0.0
    for name in counted:
        ends = preimage(rules[name], printed[name], "g")
        low, high = low + ends[0], high + ends[1]
    salt = BASES[basis].salt
    ends = preimage(rules[salt], printed[salt], "mg" if salt == "sodium" else "g")
    factor = 2.5 if salt == "sodium" else 1.0
    low, high = low + factor * ends[0], high + factor * ends[1]
    half = 0.5 if basis == "us" else 0.0
    protein = preimage(rules["protein"], printed["protein"], "g")
    share = Interval(protein[0] / (grams + half), protein[1] / (grams - half))
    kind = pack_kinds.find(food.group)
    ash, acid = kind.minerals(share).range, kind.acid.range
    if basis == "us" and not kind.acid_everywhere:
        acid = Interval(0, 0)
    return 1 - high / (grams - half) - ash.high - acid.high, 1 - low / (
        grams + half
    ) - ash.low - acid.low


FOUND: dict[tuple, tuple[float, float]] = {}


def preimage(rule, text: str, unit: str) -> tuple[float, float]:
    """The smallest and largest amount that may be printed as `text`, on a grid."""
    less = text.startswith("less than")
    number = float(text.removeprefix("less than ").split()[0]) * (0.001 if unit == "mg" else 1)
    key = (id(rule), text)
    if key not in FOUND:
        fine = rule in (US_SODIUM, EU_SALT)
        step, reach = (0.00025, 0.06) if fine else (0.0025, 1.0)
        first, last = round((number - reach) / step), round((number + reach) / step)
        fits = [
            n * step
            for n in range(max(0, first), last + 1)
            if any(prints_as(rounded(rule, n * step, small), number, less) for small in SMALL)
        ]
        FOUND[key] = (min(fits), max(fits) + step)
    return FOUND[key]


def prints_as(figure: float | None, number: float, less: bool) -> bool:
    return figure is None if less else figure is not None and abs(figure - number) < 1e-9


def test_bounds_are_no_wider_than_rounding_and_minerals_force():
    """Against the pre-image of every printed figure, found by printing a grid of amounts."""
    checked = 0
    for row, small in itertools.product(FOODS[::40], SMALL):
        food = ingredient(row)
        for basis, printed in (
            ("us", print_us(food, 240, small)),
            ("us", print_us(food, 30, small)),
            ("eu-g", print_eu(food, small)),
        ):
            try:
                panel = read_panel(basis, row.kind, **printed)
            except PanelError:
                continue
            if panel.whole_grams:
                continue
            bounds = water_content(panel).working.bounds()["water"]
            low, high = forced(food, basis, printed)
            # Five figures, each known to one step of the grid.
            slack = 5 * 0.0026 / (29 if basis == "us" and "30 g" in printed["serving"] else 99)
            assert bounds.low >= low - slack, (food.name, printed)
            assert bounds.high <= high + slack, (food.name, printed)
            checked += 1
    assert checked > 400


def test_the_width_is_the_sum_of_the_parts():
    """Per 100 g, every figure adds its own width, and the minerals theirs."""
    panel = read_panel(
        "eu-g", "dairy", fat="3.5", carbohydrate="4.7", protein="3.3", salt="0.10", fibre="0"
    )
    width = water_content(panel).bounds.width
    parts = [
        panel.figures[name].range.width
        for name in ("fat", "carbohydrate", "protein", "salt", "fibre")
    ]
    minerals = panel.kind.minerals(panel.share("protein")).range
    assert width == pytest.approx(sum(parts) / 100 + minerals.width + panel.kind.acid.range.width)
    assert parts == pytest.approx([0.1, 0.1, 0.1, 0.01, 0.5])


# The rules of rounding.


@pytest.mark.parametrize(
    ("rule", "grams", "small", "printed"),
    [
        # 21 CFR 101.9(c)(2): nearest 0.5 g below 5 g, nearest gram above; below 0.5 g zero.
        (US_FAT, 0.49, "plain", 0), (US_FAT, 0.5, "zero", 0.5), (US_FAT, 2.74, "zero", 2.5),
        (US_FAT, 4.8, "zero", 5), (US_FAT, 5.4, "zero", 5), (US_FAT, 7.5, "zero", 8),
        # (c)(4): zero below 5 mg, nearest 5 mg from 5 to 140 mg, nearest 10 mg above.
        (US_SODIUM, 0.0049, "zero", 0), (US_SODIUM, 0.0071, "zero", 0.005),
        (US_SODIUM, 0.138, "zero", 0.140), (US_SODIUM, 0.144, "zero", 0.140),
        (US_SODIUM, 0.146, "zero", 0.150),
        # (c)(6) and (7): nearest gram; below 1 g “less than 1 gram” may stand, below 0.5 g zero.
        (US_GRAM, 0.4, "zero", 0), (US_GRAM, 0.4, "less", None), (US_GRAM, 0.7, "less", None),
        (US_GRAM, 0.7, "zero", 1), (US_GRAM, 11.5, "zero", 12),
        # EU guidance of December 2012: 1 g from 10 g on, 0.1 g below, up to 0.5 g “0” or “<0.5 g”;
        # salt 0.1 g from 1 g on, 0.01 g below, up to 0.0125 g “0” or “<0.01 g”.
        (EU_GRAM, 0.5 - 1e-9, "zero", 0), (EU_GRAM, 0.4, "less", None), (EU_GRAM, 0.56, "zero", 0.6),
        (EU_GRAM, 9.94, "zero", 9.9), (EU_GRAM, 12.6, "zero", 13),
        (EU_SALT, 0.0124, "zero", 0), (EU_SALT, 0.0124, "less", None), (EU_SALT, 0.126, "zero", 0.13),
        (EU_SALT, 1.34, "zero", 1.3),
    ],
)  # fmt: skip
def test_rounds_as_the_rules_say(rule, grams, small, printed):
    """Outside check: the rules' text (US from public copies; EU steps from memory)."""
    found = rounded(rule, grams, small)
    assert found is None if printed is None else found == pytest.approx(printed)


@pytest.mark.parametrize(
    ("text", "rule", "unit", "low", "high"),
    [
        ("0 g", US_FAT, "g", 0, 0.5), ("0.5 g", US_FAT, "g", 0.5, 0.75), ("5g", US_FAT, "g", 4.75, 5.5),
        ("8", US_FAT, "g", 7.5, 8.5), ("1 g", US_GRAM, "g", 0.5, 1.5), ("less than 1 g", US_GRAM, "g", 0, 1),
        ("Contains less than 1 gram", US_GRAM, "g", 0, 1), ("140 mg", US_SODIUM, "mg", 0.1375, 0.145),
        ("140", US_SODIUM, "mg", 0.1375, 0.145), ("0.4 g", US_SODIUM, "mg", 0.395, 0.405),
        ("10 g", EU_GRAM, "g", 9.95, 10.5), ("3,5 g", EU_GRAM, "g", 3.45, 3.55), ("<0.5", EU_GRAM, "g", 0, 0.5),
        ("< 0,5 g", EU_GRAM, "g", 0, 0.5), ("12.3", EU_GRAM, "g", 12.25, 12.35), ("<0.01 g", EU_SALT, "g", 0, 0.0125),
        ("1.2 g", EU_SALT, "g", 1.15, 1.25),
    ],
)  # fmt: skip
def test_reads_a_figure_as_its_interval(text, rule, unit, low, high):
    figure = read_figure(text, rule, unit)
    assert (figure.range.low, figure.range.high) == pytest.approx((low, high))
    assert figure.value in figure.range


@given(
    st.sampled_from([US_FAT, US_GRAM, US_SODIUM, EU_GRAM, EU_SALT]),
    st.floats(0, 100),
    st.sampled_from(SMALL),
)
def test_an_amount_lies_in_the_interval_of_what_is_printed(rule, grams, small):
    figure = rounded(rule, grams, small)
    meant = rule.meant_by_less(rule.less) if figure is None else rule.meant(figure, 0.05)
    assert grams in meant


@given(
    st.floats(0, 40), st.floats(0, 25), st.floats(0, 30), st.floats(0, 3),
    st.sampled_from([*pack_kinds.kinds()]), st.sampled_from(SMALL), st.sampled_from(["us", "eu-g"]),
)  # fmt: skip
def test_bounds_hold_the_value_and_the_food_it_was_printed_from(
    fat, protein, carbohydrate, salt, kind, small, basis
):
    """Any food of a kind whose minerals and acid are the usual ones."""
    usual = pack_kinds.find(kind)
    minerals = usual.minerals(Interval.exactly(protein / 100)).value
    acid = usual.acid.value
    water = 1 - (fat + protein + carbohydrate + salt) / 100 - minerals - acid
    if water < 0:
        return
    food = Ingredient(
        "made-up", "a made-up food", kind, water, Interval(0, 1), protein=protein / 100, fat=fat / 100,
        carbohydrate=carbohydrate / 100, fibre=0.0, ash=salt / 100 + minerals, salt=salt / 100,
    )  # fmt: skip
    printed = print_us(food, 100, small) if basis == "us" else print_eu(food, small)
    found = water_content(read_panel(basis, kind, **printed))
    assert found.value in found.bounds.widened(1e-9)
    assert water in found.bounds.widened(1e-9)


# Whole panels.


def test_a_drinks_alcohol_is_not_water():
    """Outside check: USDA 14003, beer: 91.96 g of water; 3.87 g of alcohol (missing to 100 g)."""
    beer = composition.find("beer")
    printed = print_eu(beer, alcohol=0.05)
    found = water_content(read_panel("eu-g", "alcohol", **printed))
    assert 0.9196 in found.bounds
    # The panel prints 0.46 g of protein as 0.
    assert found.value == pytest.approx(0.9196 + 0.0046, abs=0.002)
    dry = water_content(read_panel("eu-g", "alcohol", **{**printed, "alcohol": ""}))
    assert dry.value - found.value == pytest.approx(0.05 * 0.789 / beer.density, abs=1e-6)
    estimated = water_content(read_panel("eu-g", "alcohol", **{**printed, "density": ""}))
    assert estimated.value == pytest.approx(found.value, abs=0.002)


def test_millilitres_become_grams_first():
    """Outside check: USDA 1077, whole milk, 88.32 g of water in 100 g."""
    milk = composition.find("whole-milk")
    by_volume = water_content(read_panel("eu-ml", "dairy", **print_eu(milk, by_volume=True)))
    cup = print_us(milk, 240 * milk.density) | {"serving": "240 ml", "density": "1.03 g/ml"}
    per_cup = water_content(read_panel("us", "dairy", **cup))
    for found in (by_volume, per_cup):
        assert 0.8832 in found.bounds
        assert found.value == pytest.approx(0.8832, abs=0.005)


def test_fibre_that_is_not_printed_widens_the_bounds():
    pumpkin = composition.find("pumpkin-puree")
    printed = print_eu(pumpkin)
    with_fibre = water_content(read_panel("eu-g", "puree", **printed))
    without = water_content(read_panel("eu-g", "puree", **{**printed, "fibre": ""}))
    assert without.bounds.width > with_fibre.bounds.width
    assert pumpkin.water in without.bounds


def test_fibre_may_be_none_where_the_pack_leaves_it_out():
    """EU Regulation 1169/2011, article 30, does not ask for fibre: a grape's pack may be silent."""
    for kind in pack_kinds.kinds().values():
        assert kind.fibre.range.low == 0


def test_acid_makes_the_bounds_wider_downwards_on_eu_panels_only():
    """Outside check: Indian Food Composition Tables 2017, lemon juice: 91.59 g of water, 4.07 g acid.

    Measured carbohydrate is 2.59 g of sugars; fat 0.75, protein 0.41, ash 0.28.
    """
    printed = {
        "fat": "0.8 g",
        "carbohydrate": "2.6 g",
        "protein": "0 g",
        "salt": "0 g",
        "fibre": "0 g",
    }
    found = water_content(read_panel("eu-g", "sour-juice", **printed))
    assert 0.9159 in found.bounds
    us = {
        "serving": "240 g",
        "fat": "1.5 g",
        "carbohydrate": "6 g",
        "protein": "1 g",
        "sodium": "0 mg",
    }
    assert "acid" not in water_content(read_panel("us", "sour-juice", **us)).working.givens


def test_vinegars_acid_is_on_no_panel():
    """Outside check: USDA 2053, distilled vinegar: 94.78 g of water, 0.04 g carbohydrate."""
    printed = {"fat": "0", "carbohydrate": "0", "protein": "0", "salt": "0.01"}
    assert 0.9478 in water_content(read_panel("eu-g", "acid", **printed)).bounds


@pytest.mark.parametrize(
    ("kind", "serving", "figures", "known"),
    [
        # USDA 1077, whole milk: a fluid ounce weighs 30.5 g, so 1.031 g/ml.
        ("dairy", "240 ml", "8 12 8 105", 1.031),
        # USDA 9206, orange juice: a fluid ounce weighs 31 g, so 1.048 g/ml.
        ("juice", "240 ml", "0 26 2 0", 1.048),
        # USDA 1095, sweetened condensed milk: a fluid ounce weighs 38.2 g, so 1.292 g/ml.
        ("dairy", "30 ml", "3.5 21 3 50", 1.292),
    ],
)
def test_the_density_is_estimated_from_the_panels_own_solids(kind, serving, figures, known):
    """Outside check: the USDA's weight of a fluid ounce."""
    names = ("fat", "carbohydrate", "protein", "sodium")
    panel = read_panel(
        "us", kind, serving=serving, **dict(zip(names, figures.split(), strict=True))
    )
    assert panel.density.text == ""
    assert known in panel.density.range


def test_foods_with_air_in_them_need_a_density():
    with pytest.raises(PanelError, match="Write the density"):
        read_panel("eu-ml", "dessert", fat="6", carbohydrate="12", protein="2", salt="0.1")


def test_a_pack_in_whole_grams_is_read_as_one():
    """7 g on such a pack may be anything from 6.5 to 7.5 g."""
    whole = read_panel("eu-g", "dairy", fat="7 g", carbohydrate="4 g", protein="3 g", salt="0.1 g")
    assert whole.whole_grams
    assert whole.figures["fat"].range.width == pytest.approx(1.0)
    usual = read_panel(
        "eu-g", "dairy", fat="7.0 g", carbohydrate="4 g", protein="3 g", salt="0.1 g"
    )
    assert usual.figures["fat"].range.width == pytest.approx(0.1)


GOOD = {"fat": "3.5", "carbohydrate": "4.7", "protein": "3.3", "salt": "0.1"}


@pytest.mark.parametrize(
    ("changed", "field", "says"),
    [
        ({"carbohydrate": "60", "fat": "50"}, "carbohydrate", "at least 11"),
        ({"salt": "97"}, "salt", "Look at the salt first"),
        ({"sugars": "5.2"}, "sugars", "cannot be more than the carbohydrate"),
        ({"fat": ""}, "fat", "Write the fat"),
        ({"salt": "-1"}, "salt", "below 0"),
        ({"protein": "3 ml"}, "protein", "volume"),
        ({"alcohol": "5 %", "density": "7"}, "density", "between 0.5 and 2"),
        ({"alcohol": "a lot"}, "alcohol", "such as 5 % vol"),
        ({"alcohol": "140"}, "alcohol", "more than 100 %"),
    ],
)
def test_an_impossible_panel_is_refused_with_the_reason(changed, field, says):
    with pytest.raises(PanelError) as refused:
        read_panel("eu-g", "dairy", **{**GOOD, **changed})
    assert says in refused.value.messages[field]


@pytest.mark.parametrize("basis", ["eu-g", "eu-ml"])
@pytest.mark.parametrize("field", [*GOOD, "fibre"])
@pytest.mark.parametrize("text", ["999999999", "<" + "9" * 30, "400"])
@pytest.mark.parametrize("alcohol", ["", "5 %"])
def test_a_figure_of_any_size_is_read_or_refused(basis, field, text, alcohol):
    """A density is estimated from the figures: from these it would be below nothing."""
    try:
        panel = read_panel(basis, "alcohol", **{**GOOD, field: text, "alcohol": alcohol})
    except PanelError as refused:
        said = refused.messages
    else:
        bounds = water_content(panel).bounds
        said = 0 <= bounds.low <= bounds.high <= 1
    assert said


def test_a_us_panel_with_more_in_it_than_the_serving_is_refused():
    us = {
        "serving": "30 g",
        "fat": "20 g",
        "carbohydrate": "12 g",
        "protein": "1 g",
        "sodium": "5 mg",
    }
    with pytest.raises(PanelError, match="at least 10"):
        read_panel("us", "cultured", **us)
    with pytest.raises(PanelError, match="one serving"):
        read_panel("us", "cultured", **{**us, "serving": ""})
    with pytest.raises(PanelError, match="together cannot be more"):
        read_panel("us", "cultured", **{**us, "serving": "100 g", "sugars": "9 g", "fibre": "6 g"})


@pytest.mark.parametrize("text", ["5 %", "5 % vol", "5", "alc. 5 % vol", "5 ABV"])
def test_reads_alcohol_as_a_drink_prints_it(text):
    assert read_alcohol(text).value == 0.05


def test_the_quantity_for_problem_sets_is_the_same_calculation():
    working = water_from_pack(3.5, 3.3, 4.7, salt=0.1, other_minerals=0.006)
    assert working.values()["water"] == pytest.approx(0.878)
    assert working.sentence("water") == "1 − 0.116 − 0.006 = 87.8 %"


def test_the_us_quantity_agrees_with_the_usdas_water():
    """Outside check: USDA 1116, plain yogurt, 240 g of it: the figures as the table has them."""
    yogurt = composition.find("plain-yogurt")
    grams = {name: 240 * getattr(yogurt, name) for name in ("fat", "protein", "carbohydrate")}
    sodium = 240 * yogurt.salt / composition.SALT_PER_SODIUM
    other = yogurt.ash - yogurt.salt
    working = water_from_us_pack(240, **grams, sodium=sodium, other_minerals=other)
    assert working.values()["water"] == pytest.approx(yogurt.water, abs=1e-9)


def test_names_figures_for_a_serving_taken_for_100_g():
    """By hand: 8 + 9 + 12 + 0.3 = 29.3 g; of 150 g that is 0.195, of 100 g 0.293."""
    working = water_from_us_pack(150, 8, 9, 12, 0.12)
    assert working.values()["water"] == pytest.approx(1 - 29.3 / 150)
    found = diagnose(working, "water", units.read("70.7 %", "share"), {})
    assert {each.mistake.key for each in found.findings} == {"hundred-for-serving"}
