"""Statistics of a bake, against SciPy, NumPy and statsmodels.

Each worker reads this file, and one runs it: what takes a second to import is imported where it is used.
"""

import gc
import math
from statistics import fmean

import numpy as np
import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from calc.comparison import sight
from calc.spread import (
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

# As a scale or a ruler gives them: scipy warns of lost precision in numbers that are nearly identical.
numbers = st.integers(-10_000, 10_000).map(lambda tenths: tenths / 10)


@given(st.floats(0.5, 0.9999), st.integers(1, 60))
def test_critical_t_is_scipys(level, freedom):
    assert critical_t(level, freedom) == pytest.approx(
        scipy.stats.t.ppf((1 + level) / 2, freedom), rel=1e-8
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
        theirs = scipy.stats.ttest_ind(left, right).confidence_interval(0.95)
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
        theirs = scipy.stats.f_oneway(*groups).statistic
        ours = between / (len(groups) - 1) / common.spread**2
        assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-6)


@given(st.lists(numbers, min_size=2, max_size=6), st.lists(numbers, min_size=2, max_size=6))
def test_the_chance_of_a_difference_is_scipys(left, right):
    one, other = Summary(tuple(left)), Summary(tuple(right))
    common = pooled([one, other])
    if common.spread > 0.01 and min(one.squares, other.squares) > 0.01:
        theirs = scipy.stats.ttest_ind(left, right).pvalue
        assert chance_of_difference(one, other, common) == pytest.approx(theirs, abs=1e-9)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=30))
def test_holm_is_statsmodels(chances):
    from statsmodels.stats.multitest import multipletests

    # Theirs searches for garbage each time: not through all that a run has made.
    gc.freeze()
    theirs = multipletests(chances, method="holm")[1]
    assert holm(chances) == pytest.approx(list(theirs), abs=1e-12)


tables = st.integers(2, 5).flatmap(
    lambda wide: st.lists(st.lists(numbers, min_size=wide, max_size=wide), min_size=2, max_size=8)
)


@given(tables)
def test_taking_tasters_out_is_the_two_way_analysis_of_statsmodels(rows):
    from pandas import DataFrame
    from statsmodels.formula.api import ols
    from statsmodels.stats.anova import anova_lm

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
    from statsmodels.stats.power import TTestIndPower

    theirs = TTestIndPower().power(gap, loaves, 0.05)
    assert power(gap, loaves, 2 * (loaves - 1)) == pytest.approx(theirs, abs=2e-6)


@pytest.mark.parametrize(("freedom", "level", "gap"), [(1, 0.9, 2.0), (8, 0.99, 3.0), (32, 0.998, 2.5)])  # fmt: skip
def test_the_power_is_that_of_scipys_noncentral_t(freedom, level, gap):
    bar, middle = scipy.stats.t.ppf((1 + level) / 2, freedom), gap * math.sqrt(2.0)
    theirs = scipy.stats.nct.sf(bar, freedom, middle) + scipy.stats.nct.cdf(-bar, freedom, middle)
    assert power(gap, 4, freedom, level) == pytest.approx(theirs, abs=2e-6)


@pytest.mark.parametrize("loaves", [2, 3, 4, 5])
def test_the_least_difference_a_plan_sees_is_statsmodels(loaves):
    from statsmodels.stats.power import TTestIndPower

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
