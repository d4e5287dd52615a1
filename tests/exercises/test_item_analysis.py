"""What the marks say of a problem, against NumPy and SciPy."""

import numpy as np
import pytest
import scipy
from hypothesis import given, settings
from hypothesis import strategies as st

from exercises.item_analysis import Item


@settings(max_examples=60, deadline=None)
@given(st.integers(4, 40), st.integers(2, 8), st.integers(0, 2**32 - 1), st.booleans())
def test_item_statistics_agree_with_numpy_and_scipy(students, problems, seed, parts_of_marks):
    marks = np.random.default_rng(seed).integers(0, 5, (students, problems)).astype(float)
    if parts_of_marks:
        marks /= 4
    total = marks.sum(axis=1)
    for column in range(problems):
        item = Item()
        for row in range(students):
            item.add(float(marks[row, column]), 4, float(total[row]))
        rest = total - marks[:, column]
        assert item.difficulty == pytest.approx(marks[:, column].mean() / 4)
        if marks[:, column].std() < 1e-9 or rest.std() < 1e-9:
            assert item.discrimination is None
            continue
        wanted = scipy.stats.pearsonr(marks[:, column], rest)
        assert item.discrimination == pytest.approx(
            np.corrcoef(marks[:, column], rest)[0, 1], abs=1e-7
        )
        if abs(wanted.statistic) < 0.999999:
            interval = wanted.confidence_interval(0.95)
            assert item.interval == pytest.approx((interval.low, interval.high), abs=1e-6)


@given(st.lists(st.integers(0, 4), min_size=4, max_size=30), st.integers(0, 4))
def test_where_marks_do_not_vary_nothing_is_said(rest, same):
    item = Item()
    for other in rest:
        item.add(same, 4, same + other)
    assert item.discrimination is None
    assert item.says.startswith("Nothing")


def test_a_small_class_is_told_what_cannot_be_said():
    item = Item()
    for earned, total in ((0, 1), (1, 3), (2, 6)):
        item.add(earned, 2, total)
    assert item.interval is None
    assert item.says == "Nothing: 3 students are too few."
    item.add(0, 2, 4)
    assert "may be chance" in item.says
