"""Interval arithmetic, checked against mpmath's and for what it promises."""

import math

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.expression import Name, evaluate
from calc.interval import Graded, Interval, tighten

numbers = st.floats(-1e6, 1e6, allow_nan=False).filter(lambda x: x == 0 or abs(x) > 1e-6)
intervals = st.tuples(numbers, numbers).map(lambda ends: Interval(min(ends), max(ends)))
OPERATIONS = {
    "+": lambda a, b: a + b,
    "−": lambda a, b: a - b,
    "×": lambda a, b: a * b,
    "÷": lambda a, b: a / b,
}


@pytest.mark.parametrize("symbol", OPERATIONS)
@given(a=intervals, b=intervals)
def test_agrees_with_mpmath_interval_arithmetic(symbol, a, b):
    """Outside check: the reference library mpmath (its interval context `iv`)."""
    operation = OPERATIONS[symbol]
    if symbol == "÷" and 0 in b:
        with pytest.raises(ZeroDivisionError):
            operation(a, b)
        return
    ours = operation(a, b)
    theirs = operation(mpmath.iv.mpf([a.low, a.high]), mpmath.iv.mpf([b.low, b.high]))
    for mine, other in ((ours.low, theirs.a), (ours.high, theirs.b)):
        assert mine == pytest.approx(float(mpmath.mpf(other)), rel=1e-12, abs=1e-9)


@given(a=intervals, b=intervals, x=st.floats(0, 1), y=st.floats(0, 1))
def test_holds_every_result_of_values_inside(a, b, x, y):
    one = min(a.high, max(a.low, a.low + x * (a.high - a.low)))
    two = min(b.high, max(b.low, b.low + y * (b.high - b.low)))
    for operation in (OPERATIONS["+"], OPERATIONS["−"], OPERATIONS["×"]):
        assert operation(one, two) in operation(a, b)


def test_slopes_keep_a_repeated_given_from_widening_the_result():
    x, y = Name("x"), Name("y")
    share = x / (x + y)
    box = {"x": Interval(95, 105), "y": Interval(190, 210)}
    graded = evaluate(
        share,
        {key: Graded.given(key, ends) for key, ends in box.items()}.__getitem__,
        Graded.exactly,
    )
    tight = tighten(graded, box, lambda ends: evaluate(share, ends.__getitem__, Interval.exactly))
    assert math.isclose(tight.low, 95 / (95 + 210), rel_tol=0.02)
    assert tight.width < graded.value.width
    assert 100 / 300 in tight


def test_refuses_an_interval_that_runs_backwards():
    with pytest.raises(ValueError, match="from low to high"):
        Interval(2, 1)
