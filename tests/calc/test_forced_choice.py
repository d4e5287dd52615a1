"""Triangle and paired tests, against printed tables and scipy.stats."""

from collections import Counter

import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from calc.forced_choice import PAIRED, TESTS, TRIANGLE, at_least, chance, needed, power, sheet

# FAO, document V7180E, appendix A: “Triangle Test for Difference: Critical Number (Minimum) of
# Correct Answers”, the column for 5 %, as its public page prints it.
FAO_TRIANGLE = {
    3: 3, 4: 4, 5: 4, 6: 5, 7: 5, 8: 6, 9: 6, 10: 7, 11: 7, 12: 8, 13: 8, 14: 9, 15: 9, 16: 9,
    17: 10, 18: 10, 19: 11, 20: 11, 21: 12, 22: 12, 23: 12, 24: 13, 25: 13, 26: 14, 27: 14, 28: 15,
    29: 15, 30: 15, 36: 18, 42: 20, 48: 22, 54: 25, 60: 27, 72: 32, 84: 36, 96: 41,
}  # fmt: skip
# The 1 % column of the same page, for some of its rows.
FAO_STRICT = {5: 5, 8: 7, 10: 8, 12: 9, 20: 13, 30: 17}


@pytest.mark.parametrize(("tasters", "right"), FAO_TRIANGLE.items())
def test_the_triangle_table_is_that_of_the_fao(tasters, right):
    assert needed(tasters, TRIANGLE) == right


@pytest.mark.parametrize(("tasters", "right"), FAO_STRICT.items())
def test_the_strict_triangle_table_is_that_of_the_fao(tasters, right):
    assert needed(tasters, TRIANGLE, 0.01) == right


def test_the_paired_examples_of_the_standard():
    """ISO 5495:2005/Amd 1:2016 calls 32 of 44 (two-sided) a difference at 5 %."""
    assert chance(32, 44, PAIRED) <= 0.05
    assert needed(44, PAIRED) <= 32


@given(st.integers(1, 60).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_chances_are_scipys(counts):
    chosen, tasters = counts
    theirs = scipy.stats.binomtest(chosen, tasters, 1 / 3, alternative="greater").pvalue
    assert chance(chosen, tasters, TRIANGLE) == pytest.approx(theirs, abs=1e-12)
    both = scipy.stats.binomtest(chosen, tasters, 1 / 2).pvalue
    assert chance(chosen, tasters, PAIRED) == pytest.approx(both, abs=1e-12)


@given(st.integers(1, 60), st.floats(0, 1))
def test_power_is_scipys(tasters, able):
    for test in TESTS:
        bar = needed(tasters, test)
        share = able + (1 - able) * test.guess
        theirs = 0.0 if bar is None else scipy.stats.binom.sf(bar - 1, tasters, share)
        assert power(able, tasters, test) == pytest.approx(theirs, abs=1e-9)


@given(st.integers(1, 80))
def test_guessing_tasters_seldom_show_a_difference(tasters):
    for test in TESTS:
        bar = needed(tasters, test)
        if bar is not None:
            assert test.sides * at_least(bar, tasters, test.guess) <= 0.05
            assert chance(bar - 1, tasters, test) > 0.05


@pytest.mark.parametrize("test", TESTS, ids=lambda test: test.key)
def test_orders_are_used_equally_often_and_no_code_stands_twice_on_a_sheet(test):
    sheets = [sheet("a word", test, taster) for taster in range(2 * len(test.orders))]
    assert set(Counter("".join(letter for letter, _ in one) for one in sheets).values()) == {2}
    places = Counter((place, letter) for one in sheets for place, (letter, _) in enumerate(one))
    assert len(set(places.values())) == 1
    assert all(len({code for _, code in one}) == len(one) for one in sheets)


@pytest.mark.parametrize(("chosen", "tasters"), [(5, 4), (-1, 4), (0, 0)])
def test_more_cannot_choose_than_taste(chosen, tasters):
    with pytest.raises(ValueError, match="More cannot choose"):
        chance(chosen, tasters, TRIANGLE)
