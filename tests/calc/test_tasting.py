"""Codes on cups, and orders of serving that favour no sample."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.tasting import balanced_tasters, blind_codes, serving, serving_orders

# Every plan the page allows: liquids, loaves of each, tasters.
PLANS = [(samples, rounds) for samples in range(2, 9) for rounds in range(1, 6)]


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
# public manual prints it (samples counted from 1).
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
    """Each loaf is tasted as often as its sisters; a round's loaves are equally often in every place."""
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
