"""The nearest weights that are not negative, against SciPy."""

from fractions import Fraction

import numpy
import pytest
import scipy
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.least_squares import nearest

shares = st.integers(0, 100).map(lambda n: n / 100)


@st.composite
def problems(draw):
    size = draw(st.integers(1, 5))
    line = st.lists(shares, min_size=size, max_size=size)
    rows = draw(st.lists(line, max_size=4))
    hard = draw(line.filter(any))
    wanted = [draw(st.integers(-50, 300)) / 100 for _ in rows]
    return rows, wanted, hard, draw(st.integers(1, 300)) / 100


@settings(deadline=None)
@given(problems())
def test_the_nearest_weights_are_scipys(problem):
    """Outside check: scipy.optimize.nnls, with the hard equation as a row of great weight."""
    rows, wanted, hard, hard_wanted = problem
    exact = lambda values: [Fraction(str(v)) for v in values]  # noqa: E731
    ones = [Fraction(1)] * len(hard)
    found = nearest(
        [exact(row) for row in rows], exact(wanted), exact(hard), Fraction(str(hard_wanted)),
        ones, ones,
    )  # fmt: skip
    ours = numpy.array([float(x) for x in found])
    assert (ours >= 0).all()
    assert sum(h * x for h, x in zip(exact(hard), found, strict=True)) == Fraction(str(hard_wanted))
    great = 1e6
    matrix = numpy.array([*rows, [great * h for h in hard]])
    theirs, _ = scipy.optimize.nnls(
        matrix, numpy.array([*wanted, great * hard_wanted]), maxiter=1000
    )
    if rows:
        table, aim = numpy.array(rows), numpy.array(wanted)
        error = lambda x: float(numpy.sum((table @ x - aim) ** 2))  # noqa: E731
        assert error(ours) == pytest.approx(error(theirs), abs=1e-5, rel=1e-4)
        assert table @ ours == pytest.approx(table @ theirs, abs=5e-3)
