"""A pack's panel read backwards, against packs printed forwards from the USDA's figures."""

import csv
import itertools
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, units
from calc.composition import Ingredient
from calc.interval import Interval
from calc.label import (
    ALCOHOL_DENSITY,
    ANY,
    BASES,
    EU_GRAM,
    EU_SALT,
    US_FAT,
    US_GRAM,
    US_SODIUM,
    PanelError,
    groups,
    other_minerals,
    print_eu,
    print_us,
    read_alcohol,
    read_figure,
    read_panel,
    water_content,
    water_from_pack,
    water_from_us_pack,
)
from calc.mistakes import diagnose

REFERENCE = Path(__file__).parents[1] / "reference" / "usda_sr_baking_ingredients.csv"
SERVINGS = (30, 100, 240)
SMALL = ("zero", "less", "plain")
IN_TABLE = {
    row.source.removeprefix("usda-sr:"): row
    for row in composition.table().values()
    if row.source.startswith("usda-sr:")
}


# The reference rows, as foods with a group.


def group_of(number: int, name: str) -> str:
    """The table's group for a USDA row, from its food group (the number's thousands) and name."""
    if str(number) in IN_TABLE:
        return IN_TABLE[str(number)].group

    def has(*words: str) -> bool:
        return any(word in name for word in words)

    if has("ALCOHOLIC"):
        return "alcohol"
    if has(",DRY", "DRIED", "DEHYD", "DRY FORM") and not has("PREP", "PRUNES", "UNCRMD"):
        return "dry"
    thousands = number // 1000
    if thousands in (1, 42, 43):
        if has("EGG"):
            return "egg"
        return "cultured" if has("SOUR", "YOGURT", "BTTRMLK", "CHEESE") else "dairy"
    if thousands == 9:
        if has("JUC", "JUICE"):
            return "juice"
        if has("APPLESAUCE"):
            return "puree"
        return "other" if has("DATES", "RAISINS", "PRUNES") else "fruit"
    if thousands == 11:
        return "juice" if has("JUC", "JUICE") else "puree"
    if thousands == 16:
        return "puree" if has("CHICKPEAS", "HUMMUS") else "plant"
    if thousands == 18:
        return "yeast" if has("YEAST") else "leavening"
    return {2: "acid", 4: "fat", 12: "plant", 19: "sweetener", 20: "flour"}[thousands]


def reference() -> list[tuple[Ingredient, float | None]]:
    """Every reference row as an ingredient, and its alcohol by volume.

    Alcohol is what is missing to 100 g in the rows of drinks, as the file's README says. Sugars are
    left out: the README warns of rows with more sugars than carbohydrate.
    """
    found = []
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            number = int(row["ndb_number"])
            shares = {
                name: float(row[f"{name}_g"]) / 100
                for name in ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
            }
            salt = float(row["sodium_mg"]) * 2.5 / 100_000
            group = group_of(number, row["description"])
            known = IN_TABLE.get(str(number))
            density = (known and known.density) or 1.0
            alcohol = None
            if group == "alcohol":
                solids = sum(share for name, share in shares.items() if name != "fibre")
                alcohol = max(0.0, 1 - solids) * density / ALCOHOL_DENSITY
            food = Ingredient(
                str(number), row["description"], group, water_range=Interval(0, 1), salt=salt,
                density=density, **shares,
            )  # fmt: skip
            found.append((food, alcohol))
    return found


FOODS = reference()


def packs():
    """Every reference row on every pack: US with three servings, EU; small figures in each style."""
    for (food, alcohol), small in itertools.product(FOODS, SMALL):
        for serving in SERVINGS:
            yield food, "us", print_us(food, serving, small, alcohol)
        yield food, "eu-g", print_eu(food, small, alcohol)
        yield food, "eu-ml", print_eu(food, small, alcohol, by_volume=True)


def test_bounds_hold_the_true_water_of_the_usdas_foods():
    """Outside check: USDA Standard Reference water (by NDB number), each row printed as a pack.

    The other minerals' ranges come from the table, which shares rows with the reference; so the
    rows that are not in the table must pass on their own.
    """
    held = {"all": [], "not in the table": []}
    for food, basis, printed in packs():
        try:
            bounds = water_content(read_panel(basis, food.group, **printed)).bounds
            good = food.water in bounds.widened(1e-9)
        except PanelError:
            good = False
        held["all"].append(good)
        if food.key not in IN_TABLE:
            held["not in the table"].append(good)
    shares = {name: sum(found) / len(found) for name, found in held.items()}
    print(shares, {name: len(found) for name, found in held.items()})
    assert len(FOODS) == 280
    assert min(shares.values()) >= 0.95, shares


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
    ash = [
        row.ash - row.salt
        for row in composition.table().values()
        if row.group == food.group and None not in (row.ash, row.salt)
    ]
    return 1 - high / (grams - half) - max(ash), 1 - low / (grams + half) - min(ash)


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
            if any(prints_as(rule.printed(n * step, small), number, less) for small in SMALL)
        ]
        FOUND[key] = (min(fits), max(fits) + step)
    return FOUND[key]


def prints_as(figure: float | None, number: float, less: bool) -> bool:
    return figure is None if less else figure is not None and abs(figure - number) < 1e-9


def test_bounds_are_no_wider_than_rounding_and_minerals_force():
    """Against the pre-image of every printed figure, found by printing a grid of amounts."""
    checked = 0
    for (food, alcohol), small in itertools.product(FOODS[::4], SMALL):
        if alcohol:
            continue
        for basis, printed in (
            ("us", print_us(food, 240, small)),
            ("us", print_us(food, 30, small)),
            ("eu-g", print_eu(food, small)),
        ):
            try:
                panel = read_panel(basis, food.group, **printed)
            except PanelError:
                continue
            bounds = water_content(panel).working.bounds()["water"]
            low, high = forced(food, basis, printed)
            # Five figures, each known to one step of the grid.
            slack = 5 * 0.0026 / (29 if basis == "us" and "30 g" in printed["serving"] else 99)
            assert bounds.low >= low - slack, (food.name, printed)
            assert bounds.high <= high + slack, (food.name, printed)
            checked += 1
    assert checked > 500


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
    assert width == pytest.approx(sum(parts) / 100 + other_minerals("dairy").range.width)
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
    found = rule.printed(grams, small)
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
    figure = rule.printed(grams, small)
    meant = rule.meant_by_less(rule.less) if figure is None else rule.meant(figure, 0.05)
    assert grams in meant


@given(
    st.floats(0, 40), st.floats(0, 25), st.floats(0, 30), st.floats(0, 3),
    st.sampled_from(groups()), st.sampled_from(SMALL), st.sampled_from(["us", "eu-g"]),
)  # fmt: skip
def test_bounds_hold_the_value_and_the_food_it_was_printed_from(
    fat, protein, carbohydrate, salt, group, small, basis
):
    """Any food of a group whose minerals are the usual ones."""
    if group in ("salt", "leavening"):
        return
    minerals = other_minerals(group).value
    water = 1 - (fat + protein + carbohydrate + salt) / 100 - minerals
    if water < 0:
        return
    food = Ingredient(
        "made-up", "a made-up food", group, water, Interval(0, 1), protein=protein / 100, fat=fat / 100,
        carbohydrate=carbohydrate / 100, fibre=0.0, ash=salt / 100 + minerals, salt=salt / 100,
    )  # fmt: skip
    printed = print_us(food, 100, small) if basis == "us" else print_eu(food, small)
    found = water_content(read_panel(basis, group, **printed))
    assert found.value in found.bounds
    assert water in found.bounds.widened(1e-9)


# Whole panels.


def test_a_drinks_alcohol_is_not_water():
    """Outside check: USDA 14003, beer: 91.96 g of water; 3.87 g of alcohol (missing to 100 g)."""
    beer = composition.find("beer")
    printed = print_eu(beer, alcohol=0.05)
    found = water_content(read_panel("eu-g", "alcohol", **printed))
    assert 0.9196 in found.bounds
    # The panel prints 0.46 g of protein as 0.
    assert found.value == pytest.approx(0.9196 + 0.0046, abs=0.001)
    dry = water_content(read_panel("eu-g", "alcohol", **{**printed, "alcohol": ""}))
    assert dry.value - found.value == pytest.approx(0.05 * 0.789 / beer.density, abs=1e-6)


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


def test_an_unknown_kind_of_food_is_no_narrower_than_any_known_liquid():
    found = other_minerals(ANY).range
    for group in ("dairy", "puree", "juice", "egg"):
        known = other_minerals(group).range
        assert found.low <= known.low
        assert found.high >= known.high


GOOD = {"fat": "3.5", "carbohydrate": "4.7", "protein": "3.3", "salt": "0.1"}


@pytest.mark.parametrize(
    ("changed", "field", "says"),
    [
        ({"carbohydrate": "60", "fat": "50"}, "carbohydrate", "at least 112"),
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
    findings = diagnose(working, "water", units.read("71 %", "share"), {})
    assert {each.mistake.key for group in findings for each in group} == {"hundred-for-serving"}
