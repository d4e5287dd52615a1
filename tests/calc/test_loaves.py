"""What loaves and tasters let one say, and how their results are read."""

import contextlib
import math
from statistics import fmean

import numpy as np
import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, loaves
from calc.comparison import plan, sight
from calc.formula import Formula, Item
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
from calc.spread import Pooled, Summary, pooled
from calc.units import ReadingError, Style

LIQUIDS = [one for one in composition.table().values() if one.is_liquid and one.water > 0.2]


def dough(grams=325.0, rest=()):
    flour, water = composition.find("bread-flour"), composition.find("water")
    return Formula((Item(flour, 500), Item(water, grams), *rest))


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
    assert found.pairs[0].chance == pytest.approx(
        scipy.stats.ttest_rel(left, right).pvalue, abs=1e-9
    )


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
