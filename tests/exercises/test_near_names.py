"""Whose name is nearly another's: what typing changes is found, and other people are left apart."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises.near_names import (  # fmt: skip
    MOST_PAIRS,
    ONE_MORE,
    OTHER_ORDER,
    SAME_LETTERS,
    SLIP,
    among,
    distance,
    pairs,
)


@pytest.mark.parametrize(
    ("name", "other", "why"),
    [
        ("Ana María", "Ana Maria", SAME_LETTERS),
        ("Sean OBrien", "Sean O'Brien", SAME_LETTERS),
        ("Søren Łuk", "Soren Luk", SAME_LETTERS),
        ("Jean-Luc Ba", "Jean Luc Ba", SAME_LETTERS),
        ("O’Brien Sean", "Sean O'Brien", OTHER_ORDER),
        ("Sample, Ada", "Ada Sample", OTHER_ORDER),
        ("Ada Samples", "Ada Sample", SLIP),
        ("Ada Smaple", "Ada Sample", SLIP),
        ("Jon Smyth", "John Smith", SLIP),
        ("Müller Jörg", "Joerg Mueller", SLIP),
        ("Maria Loaf", "Maria del Carmen Loaf", ONE_MORE),
    ],
)
def test_a_name_that_may_mean_another_is_found(name, other, why):
    near = pairs([name], ["Zed Nobody", other])
    assert [(one.other, one.why) for one in near] == [(other, why)]


@pytest.mark.parametrize(
    ("name", "other"),
    [("Ana", "Ann"), ("Li Wu", "Lu Wi"), ("Ada Sample", "Ben Sample"), ("Ada", "Ada Sample"), ("Ada Sample", "Ada Sample")],
)  # fmt: skip
def test_other_people_are_left_apart(name, other):
    assert pairs([name], [other]) == []


def test_two_who_handed_in_can_be_nearly_alike():
    assert [near.says for near in among(["Ana Maria", "Ben", "Ana María"])] == [
        f"Ana María may be Ana Maria ({SAME_LETTERS})"
    ]


def test_many_names_take_bounded_work(monkeypatch):
    """Slips are looked for letter by letter among a class only; the rest is a look into a table."""
    counted = []
    monkeypatch.setattr("exercises.near_names.distance", lambda a, b: counted.append(1) or 99)
    names = [f"Name Number{n:06}" for n in range(20_000)]
    assert pairs(names, [name.upper() + "x" for name in names]) == []
    assert len(counted) <= 2 * MOST_PAIRS
    assert len(pairs(names, [f"Námé {name[5:]}" for name in names])) == 20_000


@given(st.text("ab", max_size=6), st.text("ab", max_size=6))
def test_the_distance_is_one_between_neighbours(one, two):
    """From its definition: symmetric, nothing between equals, one step a change, never more than the longer."""
    assert distance(one, two) == distance(two, one)
    assert (distance(one, two) == 0) == (one == two)
    assert abs(len(one) - len(two)) <= distance(one, two) <= max(len(one), len(two))
    assert distance(one, one + "c") == 1
    assert distance("c" + one + "d", "d" + one + "c") <= 2
    assert distance(one + "cd", one + "dc") == 1
