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
from pandas import DataFrame
from scipy import stats
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.power import TTestIndPower

from calc import composition, loaves
from calc.comparison import plan, sight
from calc.formula import Formula, FormulaError, Item
from calc.loaves import (
    BY_KEY,
    MEASURES,
    SCORES,
    Loaf,
    Score,
    cell,
    outcomes,
    read_cell,
    read_loaves,
    read_scores,
    score_cell,
    score_outcome,
)
from calc.spread import (
    Pooled,
    Summary,
    chance_of_difference,
    critical_t,
    difference,
    holm,
    least_seen,
    level_of_each,
    needed_gap,
    pooled,
    power,
    without_rows,
)
from calc.tasting import (
    balanced_tasters,
    blind_codes,
    mixing_orders,
    oven_places,
    serving,
    serving_orders,
)
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


# Every plan the page allows: liquids, loaves of each, tasters.
PLANS = [(samples, rounds) for samples in range(2, 9) for rounds in range(1, 6)]


@pytest.mark.parametrize(("samples", "rounds"), PLANS)
def test_no_liquid_is_mixed_earlier_or_later_than_another(samples, rounds):
    orders = mixing_orders(samples, rounds)
    assert len(orders) == rounds
    assert all(sorted(order) == list(range(samples)) for order in orders)
    places = [sum(order.index(one) for order in orders) for one in range(samples)]
    if rounds > 1:
        assert max(places) - min(places) <= 1


@pytest.mark.parametrize(("samples", "rounds"), PLANS)
def test_no_liquid_keeps_a_place_in_the_oven(samples, rounds):
    places = oven_places(samples, rounds)
    assert all(sorted(one) == list(range(samples)) for one in places)
    for sample in range(samples):
        times = Counter(one[sample] for one in places)
        assert len(times) == min(samples, rounds)
        assert max(times.values()) - min(times.values()) <= 1


def test_a_plan_tells_order_oven_and_control():
    bake = plan(dough(), "water", LIQUIDS[:5], replicates=3)
    rounds = bake.mixing_rounds()
    assert all(set(one) == set(bake.variants) for one in rounds)
    assert len({one[0].key for one in rounds}) == 3
    assert {bake.oven_place(variant, 2) for variant in bake.variants} == {1, 2, 3, 4, 5}
    assert bake.control == any(one.key == "water" for one in LIQUIDS[:5])
    assert plan(dough(), "water", [composition.find(k) for k in ("water", "egg")]).control


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


@pytest.mark.parametrize(("samples", "rounds"), PLANS)
@pytest.mark.parametrize("tasters", [1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 16, 24, 31, 40])
def test_loaf_and_place_are_not_tied_for_any_number_of_tasters(samples, rounds, tasters):
    """Each loaf is tasted as often as its sisters; a round's loaves stand equally often in every place."""
    served = [serving(samples, rounds, taster) for taster in range(tasters)]
    times = Counter(one for row in served for one in row)
    places = Counter((loaf, place) for row in served for place, (_, loaf) in enumerate(row))
    for loaf in range(rounds):
        assert len({places[loaf, place] for place in range(samples)}) == 1
    for sample in range(samples):
        turns = [times[sample, loaf] for loaf in range(rounds)]
        assert sum(turns) == tasters
        assert max(turns) - min(turns) <= 1
    each = Counter((one, place) for row in served for place, one in enumerate(row))
    blocks = -(-tasters // balanced_tasters(samples, rounds))
    assert max(each.values()) <= blocks * (1 + samples % 2)


@pytest.mark.parametrize(("samples", "rounds"), PLANS)
def test_with_the_right_number_of_tasters_each_loaf_has_every_place_equally_often(samples, rounds):
    tasters = balanced_tasters(samples, rounds)
    each = Counter(
        (one, place)
        for taster in range(tasters)
        for place, one in enumerate(serving(samples, rounds, taster))
    )
    assert len(each) == samples * rounds * samples
    assert set(each.values()) == {1 + samples % 2}


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


@given(st.lists(numbers, min_size=2, max_size=6), st.lists(numbers, min_size=2, max_size=6))
def test_the_chance_of_a_difference_is_scipys(left, right):
    one, other = Summary(tuple(left)), Summary(tuple(right))
    common = pooled([one, other])
    if common.spread > 0.01 and min(one.squares, other.squares) > 0.01:
        theirs = stats.ttest_ind(left, right).pvalue
        assert chance_of_difference(one, other, common) == pytest.approx(theirs, abs=1e-9)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=30))
def test_holm_is_statsmodels(chances):
    theirs = multipletests(chances, method="holm")[1]
    assert holm(chances) == pytest.approx(list(theirs), abs=1e-12)


tables = st.integers(2, 5).flatmap(
    lambda wide: st.lists(st.lists(numbers, min_size=wide, max_size=wide), min_size=2, max_size=8)
)


@given(tables)
def test_taking_tasters_out_is_the_two_way_analysis_of_statsmodels(rows):
    columns, common = without_rows(rows)
    data = DataFrame(
        {
            "score": [score for row in rows for score in row],
            "taster": [f"t{n}" for n, row in enumerate(rows) for _ in row],
            "liquid": [f"l{n}" for row in rows for n, _ in enumerate(row)],
        }
    )
    if common.spread > 1e-3:
        theirs = anova_lm(ols("score ~ C(taster) + C(liquid)", data).fit()).loc["Residual"]
        assert common.freedom == theirs["df"]
        assert common.spread**2 == pytest.approx(theirs["mean_sq"], rel=1e-6)
    for column, scores in zip(columns, zip(*rows, strict=True), strict=True):
        assert column.mean == pytest.approx(fmean(scores), abs=1e-6)


@pytest.mark.parametrize("loaves", [2, 3, 4, 5, 10])
@pytest.mark.parametrize("gap", [0.0, 0.5, 1.0, 2.0, 3.0, 4.0])
def test_the_power_of_two_means_is_statsmodels(loaves, gap):
    theirs = TTestIndPower().power(gap, loaves, 0.05)
    assert power(gap, loaves, 2 * (loaves - 1)) == pytest.approx(theirs, abs=2e-6)


@pytest.mark.parametrize(("freedom", "level", "gap"), [(1, 0.9, 2.0), (8, 0.99, 3.0), (32, 0.998, 2.5)])  # fmt: skip
def test_the_power_is_that_of_scipys_noncentral_t(freedom, level, gap):
    bar, middle = stats.t.ppf((1 + level) / 2, freedom), gap * math.sqrt(2.0)
    theirs = stats.nct.sf(bar, freedom, middle) + stats.nct.cdf(-bar, freedom, middle)
    assert power(gap, 4, freedom, level) == pytest.approx(theirs, abs=2e-6)


@pytest.mark.parametrize("loaves", [2, 3, 4, 5])
def test_the_least_difference_a_plan_sees_is_statsmodels(loaves):
    theirs = TTestIndPower().solve_power(nobs1=loaves, alpha=0.05, power=0.8)
    assert least_seen(loaves, 2 * (loaves - 1)) == pytest.approx(theirs, rel=1e-3)


@pytest.mark.parametrize(("loaves", "spreads"), [(2, 4.30), (3, 2.27), (4, 1.73), (5, 1.46)])
def test_how_far_two_means_must_lie_apart(loaves, spreads):
    """Student's table, two-sided 5 % (t of 2, 4, 6 and 8 degrees of freedom), times √(2 ÷ loaves)."""
    assert sight(2, loaves).alone == pytest.approx(spreads, abs=0.005)
    assert needed_gap(loaves, 2 * loaves - 2) == sight(2, loaves).together
    assert sight(3, loaves).together > sight(3, loaves).alone


def test_one_loaf_of_each_sees_nothing():
    assert sight(4, 1) is None


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


@given(st.lists(st.floats(1, 50), min_size=2, max_size=8))
def test_one_loaf_each_never_says_which_is_more(heights):
    single = [Loaf(f"v{n}", 1, {"height": height}) for n, height in enumerate(heights)]
    (found,) = outcomes(single)
    assert found.common is None
    assert {pair.verdict for pair in found.pairs} == {"unknown"}


def test_equal_numbers_hide_the_spread():
    (found,) = outcomes(baked({"a": (10.0, 10.0), "b": (9.0, 9.0)}))
    assert not found.spread_is_seen
    assert found.pairs[0].verdict == "unknown"


def baked(heights: dict[str, tuple], measure="height") -> list[Loaf]:
    return [
        Loaf(key, number, {measure: each})
        for key, group in heights.items()
        for number, each in enumerate(group, 1)
    ]


@pytest.mark.parametrize(
    ("groups", "verdicts"),
    [
        ([(10.0, 10.1), (5.0, 5.1)], ["larger"]),
        ([(10.0, 9.0), (9.6, 8.8)], ["not shown"]),
        ([(10.0, 10.4), (9.4, 9.2), (9.2, 9.6)], ["perhaps", "perhaps", "not shown"]),
    ],
)
def test_verdicts(groups, verdicts):
    named = {f"v{n}": group for n, group in enumerate(groups)}
    (found,) = outcomes(baked(named), question="height")
    assert [pair.verdict for pair in found.pairs] == verdicts


def test_only_the_question_claims_and_the_others_hint():
    far = {"a": (10.0, 10.1), "b": (5.0, 5.1)}
    both = [
        Loaf(loaf.variant, loaf.number, {**loaf.values, "proof": 60 * loaf.values["height"]})
        for loaf in baked(far)
    ]
    verdicts = {
        question: {one.measure.key: one.pairs[0].verdict for one in outcomes(both, (), question)}
        for question in ("height", "proof", "")
    }
    assert verdicts["height"] == {"height": "larger", "proof": "perhaps"}
    assert verdicts["proof"] == {"height": "perhaps", "proof": "larger"}
    assert verdicts[""] == {"height": "larger", "proof": "larger"}


def test_what_one_person_judged_claims_nothing():
    (found,) = outcomes(baked({"a": (1, 1.1), "b": (5, 4.9)}, "feel"))
    assert found.pairs[0].verdict == "perhaps"


def simulated(rng, variants, loaves, measures):
    """A bake whose liquids are all alike: every number is drawn from one normal distribution."""
    values = rng.normal(10, 0.3, (variants, loaves, len(measures)))
    return [
        Loaf(f"v{v}", n + 1, dict(zip(measures, values[v, n], strict=True)))
        for v in range(variants)
        for n in range(loaves)
    ]


SEVERAL = ("dough-temperature", "proof", "height", "volume", "before")


@pytest.mark.parametrize(("variants", "loaves"), [(4, 2), (2, 3)])
@pytest.mark.parametrize("question", ["height", ""])
def test_bakes_of_equal_liquids_seldom_claim_anything(variants, loaves, question):
    """The stated risk, 5 % of bakes, over five independent measures; 3 standard errors of 600 bakes."""
    rng = np.random.default_rng(7)
    alarms = sum(
        any(
            pair.verdict == "larger"
            for one in outcomes(simulated(rng, variants, loaves, SEVERAL), (), question)
            for pair in one.pairs
        )
        for _ in range(600)
    )
    assert alarms <= 600 * (0.05 + 3 * math.sqrt(0.05 * 0.95 / 600))


def test_intervals_hold_the_true_difference_in_95_of_100_bakes():
    rng, held, bakes = np.random.default_rng(3), 0, 1500
    for _ in range(bakes):
        drawn = {"a": tuple(rng.normal(12, 0.5, 3)), "b": tuple(rng.normal(11, 0.5, 3))}
        (found,) = outcomes(baked(drawn))
        held += 1.0 in found.pairs[0].alone
    assert held / bakes == pytest.approx(0.95, abs=3 * math.sqrt(0.95 * 0.05 / bakes))


@pytest.mark.parametrize(("variants", "loaves"), [(2, 3), (4, 2)])
def test_a_plan_sees_what_it_says_in_four_bakes_of_five(variants, loaves):
    """A true difference of `seen` spreads, between the first liquid and the others.

    Holm's rule claims all that Bonferroni's does, so it finds at least as much as the plan says.
    """
    rng, found, bakes = np.random.default_rng(5), 0, 500
    gap = sight(variants, loaves).seen
    for _ in range(bakes):
        drawn = {f"v{v}": tuple(rng.normal(gap * (v == 0), 1, loaves)) for v in range(variants)}
        (one,) = outcomes(baked(drawn), (), "height")
        found += one.pairs[0].claimed
    least = 0.8 - 3 * math.sqrt(0.8 * 0.2 / bakes)
    assert least <= found / bakes <= (1.0 if variants > 2 else 0.8 + 3 * 0.018)


# Tasters.

SOFT = SCORES[1]


def tasted(rng, gap, tasters, liquids=2, leniency=1.5, noise=1.0):
    own = rng.normal(0, leniency, tasters)
    return [
        Score(t + 1, f"v{v}", 1, {"softness": own[t] + gap * (v == 0) + rng.normal(0, noise)})
        for t in range(tasters)
        for v in range(liquids)
    ]


def share_found(gap, tasters, liquids, bakes=500):
    rng = np.random.default_rng(11)
    return (
        sum(
            outcomes([], tasted(rng, gap, tasters, liquids), "softness")[0].pairs[0].claimed
            for _ in range(bakes)
        )
        / bakes
    )


def test_tasters_own_leniency_does_not_hide_a_difference():
    """Tasters whose own levels spread by 1.5, and 1 of noise: a true gap of 2 is found nearly always.

    Outside check of the power: statsmodels, for differences within tasters (√2 of noise).
    """
    from statsmodels.stats.power import TTestPower

    theirs = TTestPower().power(2 / math.sqrt(2), 8, 0.05)
    assert share_found(2.0, 8, 2) == pytest.approx(theirs, abs=0.05)
    assert share_found(0.0, 8, 2) <= 0.05 + 3 * 0.01


def test_a_lenient_taster_changes_nothing():
    rng = np.random.default_rng(1)
    plain = tasted(rng, 1.0, 6, 3)
    lenient = [
        Score(s.taster, s.variant, s.loaf, {"softness": s.values["softness"] + 3 * (s.taster == 2)})
        for s in plain
    ]
    one, other = score_outcome(SOFT, plain), score_outcome(SOFT, lenient)
    for here, there in zip(one.pairs, other.pairs, strict=True):
        assert here.gap == pytest.approx(there.gap)
        assert here.chance == pytest.approx(there.chance)


def test_two_liquids_are_the_paired_t_test_of_scipy():
    rng = np.random.default_rng(2)
    scores = tasted(rng, 1.0, 7)
    left, right = (
        [s.values["softness"] for s in scores if s.variant == key] for key in ("v0", "v1")
    )
    found = score_outcome(SOFT, scores)
    assert found.tasters == 7
    assert found.pairs[0].chance == pytest.approx(stats.ttest_rel(left, right).pvalue, abs=1e-9)


def test_a_taster_who_did_not_score_every_liquid_is_left_out():
    scores = tasted(np.random.default_rng(4), 1.0, 5, 3)
    short = [s for s in scores if (s.taster, s.variant) != (2, "v1")]
    assert score_outcome(SOFT, short).tasters == 4
    assert score_outcome(SOFT, [s for s in scores if s.taster == 9]) is None
    assert score_outcome(SOFT, [s for s in scores if s.variant == "v0" or s.taster < 0])


def test_tasters_who_all_agree_show_no_spread():
    scores = [Score(t, v, 1, {"softness": t + 2.1 * (v == "a")}) for t in range(1, 6) for v in "ab"]
    assert score_outcome(SOFT, scores).pairs[0].verdict == "unknown"


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
        ("taste", "7,5", Style(), 7.5),
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


@pytest.mark.parametrize("text", ["10", "7 6 8", "good"])
def test_a_bad_score_is_told(text):
    served = plan(dough(), "water", LIQUIDS[:2], 2, tasters=1).served()
    name = score_cell(LIQUIDS[0].key, 1, "taste")
    read, messages = read_scores({name: text}, served)
    assert list(messages) == [name]
    assert not any(one.values for one in read)


def test_scores_are_read_by_taster_and_loaf():
    served = plan(dough(), "water", LIQUIDS[:2], 2, tasters=3).served()
    keys = [one.key for one in LIQUIDS[:2]]
    texts = {score_cell(keys[0], 2, "taste"): "7", score_cell(keys[1], 2, "taste"): "12"}
    read, messages = read_scores(texts, served)
    assert len(read) == 6
    assert list(messages) == [score_cell(keys[1], 2, "taste")]
    (given_,) = [one for one in read if one.values]
    assert (given_.taster, given_.variant, given_.values) == (2, keys[0], {"taste": 7})
    assert (given_.variant, given_.loaf) in served[1]


@given(st.sampled_from([*MEASURES, *SCORES]), st.text(max_size=50))
def test_no_text_breaks_the_reader(measure, text):
    with contextlib.suppress(ReadingError):
        assert measure.low <= read_cell(text, measure) <= measure.high


def test_pooled_is_a_plain_record():
    assert pooled([Summary((1.0, 3.0)), Summary((5.0,))]) == Pooled(math.sqrt(2), 1)
