"""The side-by-side bake: same water, balanced tasting, honest statistics."""

import contextlib
import math
from collections import Counter
from itertools import pairwise
from statistics import fmean

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from calc import composition, loaves
from calc.comparison import plan
from calc.formula import Formula, FormulaError, Item
from calc.loaves import BY_KEY, MEASURES, Loaf, cell, outcome, outcomes, read_cell, read_loaves
from calc.spread import Pooled, Summary, critical_t, difference, level_of_each, pooled
from calc.tasting import balanced_tasters, blind_codes, serving, serving_orders
from calc.units import ReadingError, Style

LIQUIDS = [one for one in composition.table().values() if one.is_liquid and one.water > 0.2]
DRY = [one for one in composition.table().values() if one.group in ("salt", "yeast", "sweetener")]
# As a scale or a ruler gives them: scipy warns of lost precision in numbers that are nearly identical.
numbers = st.integers(-10_000, 10_000).map(lambda tenths: tenths / 10)


def dough(grams=325.0, rest=()):
    flour, water = composition.find("bread-flour"), composition.find("water")
    return Formula((Item(flour, 500), Item(water, grams), *rest))


# The plan.


@given(
    st.lists(st.sampled_from(LIQUIDS), min_size=2, max_size=8, unique_by=lambda one: one.key),
    st.floats(50, 5000),
    st.lists(st.sampled_from(DRY), max_size=4, unique_by=lambda one: one.key),
)
def test_every_variant_has_the_same_water_and_the_same_rest(liquids, grams, dry):
    rest = tuple(Item(one, 10.0) for one in dry)
    base = dough(grams, rest)
    bake = plan(base, "water", liquids)
    assert [variant.liquid for variant in bake.variants] == liquids
    for variant in bake.variants:
        assert variant.dough.total("water") == pytest.approx(base.total("water"), abs=0.001)
        assert variant.hydration() == pytest.approx(grams / 500)
        kept = [item for item in variant.dough.items if item.ingredient != variant.liquid]
        assert kept == [base.items[0], *rest]


def test_the_usual_four_at_the_same_water():
    """Weights from USDA Standard Reference water contents (NDB 1077, 1230, 1116, 1056)."""
    keys = {"whole-milk": 88.32, "buttermilk": 90.13, "plain-yogurt": 87.90, "sour-cream": 74.46}
    bake = plan(dough(), "water", [composition.find(key) for key in keys])
    for variant in bake.variants:
        assert variant.swap.new.grams == pytest.approx(325 / keys[variant.key] * 100, rel=1e-3)


def test_the_weight_for_all_loaves_is_every_loafs_weight():
    bake = plan(dough(), "water", [composition.find("whole-milk"), composition.find("egg")], 3)
    totals = {item.ingredient.key: item.grams for item in bake.in_all()}
    assert totals["bread-flour"] == 3000
    assert sum(totals.values()) == pytest.approx(3 * sum(v.dough.dough for v in bake.variants))


@pytest.mark.parametrize("keys", [["egg"], ["egg", "egg"], [one.key for one in LIQUIDS[:9]]])
def test_too_few_too_many_or_twice_is_refused(keys):
    with pytest.raises(FormulaError, match=r"2 to 8|twice"):
        plan(dough(), "water", [composition.find(key) for key in keys])


def test_mixing_rounds_hold_each_variant_once_and_do_not_start_alike():
    bake = plan(dough(), "water", LIQUIDS[:5], replicates=3)
    rounds = bake.mixing_rounds()
    assert all(set(one) == set(bake.variants) for one in rounds)
    assert len({one[0].key for one in rounds}) == 3


# Codes and tasting.


def test_the_codes_of_a_word_never_change():
    """Worked out apart from the project: `printf 'our first bake\\nbuttermilk 1\\n0' | sha256sum`,
    read as a whole number, the rest of its division by 900, plus 100."""
    assert blind_codes("our first bake", ["buttermilk 1"]) == (234,)


@given(st.text(max_size=20), st.integers(1, 60))
def test_codes_have_three_digits_and_none_twice(word, count):
    names = [f"loaf {number}" for number in range(count)]
    codes = blind_codes(word, names)
    assert all(100 <= code <= 999 for code in codes)
    assert len(set(codes)) == count
    assert blind_codes(word, names) == codes
    assert blind_codes(word, [*names, "one more"])[:count] == codes


@pytest.mark.parametrize("names", [["a", "a"], [str(number) for number in range(901)]])
def test_codes_refuse_what_cannot_be_told_apart(names):
    with pytest.raises(ValueError, match=r"same name|more loaves"):
        blind_codes("word", names)


# The output of another program: R package crossdes, `williams(3)` and `williams(10)`, as its
# public manual prints it (samples counted from 1; it cites Williams 1949).
CROSSDES_3 = ["1 2 3", "2 3 1", "3 1 2", "3 2 1", "1 3 2", "2 1 3"]
CROSSDES_10 = [
    "1 2 10 3 9 4 8 5 7 6", "2 3 1 4 10 5 9 6 8 7", "3 4 2 5 1 6 10 7 9 8",
    "4 5 3 6 2 7 1 8 10 9", "5 6 4 7 3 8 2 9 1 10", "6 7 5 8 4 9 3 10 2 1",
]  # fmt: skip


@pytest.mark.parametrize(("samples", "printed"), [(3, CROSSDES_3), (10, CROSSDES_10)])
def test_the_orders_are_those_that_another_program_prints(samples, printed):
    theirs = [tuple(int(one) - 1 for one in row.split()) for row in printed]
    assert list(serving_orders(samples))[: len(theirs)] == theirs


@pytest.mark.parametrize("samples", range(2, 13))
def test_the_orders_are_balanced(samples):
    """The property that defines a Williams design: places and neighbours equally often."""
    orders = serving_orders(samples)
    assert balanced_tasters(samples) == len(orders) == samples * (1 + samples % 2)
    assert all(sorted(order) == list(range(samples)) for order in orders)
    places = Counter((place, one) for order in orders for place, one in enumerate(order))
    neighbours = Counter(pair for order in orders for pair in pairwise(order))
    assert set(places.values()) == {1 + samples % 2}
    assert set(neighbours.values()) == {1 + samples % 2}
    assert len(neighbours) == samples * (samples - 1)


@given(st.integers(2, 8), st.integers(1, 5), st.integers(1, 40))
def test_loaves_of_a_sample_take_turns(samples, replicates, tasters):
    served = Counter(
        one for taster in range(tasters) for one in serving(samples, replicates, taster)
    )
    for sample in range(samples):
        times = [served[sample, loaf] for loaf in range(replicates)]
        assert sum(times) == tasters
        assert max(times) - min(times) <= 1


# Statistics, against scipy.stats and numpy.


@given(st.floats(0.5, 0.9999), st.integers(1, 60))
def test_critical_t_is_scipys(level, freedom):
    assert critical_t(level, freedom) == pytest.approx(
        stats.t.ppf((1 + level) / 2, freedom), rel=1e-8
    )


@pytest.mark.parametrize(
    ("freedom", "printed"), [(1, 12.706), (4, 2.776), (10, 2.228), (30, 2.042)]
)
def test_critical_t_is_the_printed_tables(freedom, printed):
    """Student's table, two-sided 5 %, as every statistics handbook prints it (from memory)."""
    assert critical_t(0.95, freedom) == pytest.approx(printed, abs=0.0005)


@given(st.lists(numbers, min_size=2, max_size=6), st.lists(numbers, min_size=2, max_size=6))
def test_the_interval_of_a_difference_is_scipys(left, right):
    one, other = Summary(tuple(left)), Summary(tuple(right))
    common = pooled([one, other])
    if common.spread > 0.01 and min(one.squares, other.squares) > 0.01:
        theirs = stats.ttest_ind(left, right).confidence_interval(0.95)
        ours = difference(one, other, common)
        assert (ours.low, ours.high) == pytest.approx((theirs.low, theirs.high), rel=1e-6, abs=1e-6)


@given(st.lists(numbers, min_size=2, max_size=8))
def test_mean_and_spread_are_numpys(values):
    one = Summary(tuple(values))
    assert one.mean == pytest.approx(np.mean(values), abs=1e-9)
    assert one.spread == pytest.approx(np.std(values, ddof=1), abs=1e-9)


@given(st.lists(st.lists(numbers, min_size=2, max_size=5), min_size=2, max_size=6))
def test_the_common_spread_is_that_of_an_analysis_of_variance(groups):
    """F of scipy.stats.f_oneway = mean square between ÷ (pooled spread)²."""
    common = pooled([Summary(tuple(group)) for group in groups])
    values = [value for group in groups for value in group]
    mean = math.fsum(values) / len(values)
    between = math.fsum(len(g) * (math.fsum(g) / len(g) - mean) ** 2 for g in groups)
    if common.spread > 1e-3:
        theirs = stats.f_oneway(*groups).statistic
        ours = between / (len(groups) - 1) / common.spread**2
        assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-6)


def test_one_loaf_has_no_spread():
    assert Summary((104.0,)).spread is None
    assert pooled([Summary((104.0,)), Summary((98.0,))]) is None


@pytest.mark.parametrize(("level", "freedom"), [(0, 3), (1, 3), (0.95, 0)])
def test_an_impossible_level_is_refused(level, freedom):
    with pytest.raises(ValueError, match="level"):
        critical_t(level, freedom)


def test_all_pairs_together_share_the_risk():
    """Bonferroni: the risks of six intervals add up to that of one."""
    assert 6 * (1 - level_of_each(6)) == pytest.approx(0.05)


# What can be said.

HEIGHT = BY_KEY["height"]


@given(st.lists(st.floats(1, 50), min_size=2, max_size=8))
def test_one_loaf_each_never_says_which_is_more(heights):
    baked = [Loaf(f"v{n}", 1, {"height": height}) for n, height in enumerate(heights)]
    (found,) = outcomes(baked)
    assert found.common is None
    assert {pair.verdict for pair in found.pairs} == {"unknown"}


def test_equal_numbers_hide_the_spread():
    found = outcome(HEIGHT, {"a": Summary((10.0, 10.0)), "b": Summary((9.0, 9.0))})
    assert not found.spread_is_seen
    assert found.pairs[0].verdict == "unknown"


@pytest.mark.parametrize(
    ("groups", "verdicts"),
    [
        ([(10.0, 10.1), (5.0, 5.1)], ["larger"]),
        ([(10.0, 9.0), (9.6, 8.8)], ["not shown"]),
        ([(10.0, 10.4), (9.4, 9.2), (9.2, 9.6)], ["perhaps", "perhaps", "not shown"]),
    ],
)
def test_verdicts(groups, verdicts):
    named = {f"v{n}": Summary(group) for n, group in enumerate(groups)}
    assert [pair.verdict for pair in outcome(HEIGHT, named).pairs] == verdicts


def test_chance_alone_seldom_makes_a_winner():
    """400 bakes of four equal variants: "larger" in at most about 5 % of bakes (Bonferroni)."""
    rng = stats.norm(100, 3)
    draws = rng.rvs(size=(400, 4, 3), random_state=7)
    alarms = sum(
        any(
            pair.verdict == "larger"
            for pair in outcome(
                HEIGHT, {str(n): Summary(tuple(g)) for n, g in enumerate(bake)}
            ).pairs
        )
        for bake in draws
    )
    assert alarms <= 400 * 0.08


def test_bake_loss_and_specific_volume():
    """By hand: (900 − 790) ÷ 900 = 12.2 %; 2400 ml ÷ 790 g = 3.04 ml/g."""
    loaf = Loaf("milk", 1, {"before": 900, "after": 790, "volume": 2400})
    assert loaf.value("bake-loss") == pytest.approx(110 / 900)
    assert loaf.value("specific-volume") == pytest.approx(2400 / 790)
    assert loaves.bake_loss(900, 790).sentence("loss") == "110 g ÷ 900 g = 12.22 %"
    assert loaves.specific_volume(2400, 790).weighed("specific volume") == "3.04 ml/g"


def test_the_mean_of_three_heights_is_the_standard_librarys():
    heights = (11.2, 10.4, 12.1)
    assert loaves.mean_of_three(*heights).values()["mean"] == pytest.approx(fmean(heights))


# Reading.


@pytest.mark.parametrize(
    ("measure", "text", "style", "value"),
    [
        ("height", "104", Style(), 10.4),
        ("height", "10,4 cm", Style(), 10.4),
        ("proof", "1.5 h", Style(), 90),
        ("after", "28.5", Style(mass="oz"), 28.5 * 28.349523125),
        ("after", "808 g", Style(mass="oz"), 808),
        ("dough-temperature", "77", Style(temperature="°F"), 25),
        ("feel", "3", Style(), 3),
        ("taste", "7 6 8", Style(), 7),
        ("taste", "7,5; 6,5", Style(), 7),
    ],
)
def test_reads_a_cell(measure, text, style, value):
    assert read_cell(text, BY_KEY[measure], style) == pytest.approx(value)


@pytest.mark.parametrize(
    ("measure", "text"),
    [
        ("height", "tall"),
        ("height", "1040"),
        ("feel", "6"),
        ("feel", "0"),
        ("taste", "7 10"),
        ("taste", ";"),
        ("volume", "2 g"),
        ("proof", "-5"),
        ("after", "1e3"),
    ],
)
def test_a_bad_cell_is_told_by_loaf_and_box_and_the_rest_is_read(measure, text):
    name = cell("egg", 2, measure)
    other = cell("egg", 1, "height")
    read, messages = read_loaves({name: text, other: "104"}, [("egg", 1), ("egg", 2)])
    assert list(messages) == [name]
    assert read[0].values == {"height": pytest.approx(10.4)}
    assert read[1].values == {}


def test_a_loaf_does_not_gain_weight():
    texts = {cell("egg", 1, "before"): "800", cell("egg", 1, "after"): "801"}
    (read,), messages = read_loaves(texts, [("egg", 1)])
    assert "cannot weigh more" in messages[cell("egg", 1, "after")]
    assert read.values == {"before": 800}


@given(st.sampled_from(MEASURES), st.text(max_size=50))
def test_no_text_breaks_the_reader(measure, text):
    with contextlib.suppress(ReadingError):
        assert measure.low <= read_cell(text, measure) <= measure.high


def test_pooled_is_a_plain_record():
    assert pooled([Summary((1.0, 3.0)), Summary((5.0,))]) == Pooled(math.sqrt(2), 1)
