"""The diagnosis names what was done, and does not blame for slips (tests/bench/diagnosis.py)."""

import re

import pytest

from calc import units
from calc.diagnosis import diagnose
from calc.mistakes import BY_KEY, CATALOGUE
from calc.quantities import REGISTRY
from tests.bench.diagnosis import SAYS, added_up, measured
from tests.bench.wrong_methods import THIRD

DRAWS = 2


@pytest.fixture(scope="module")
def tallies():
    return measured(DRAWS)


def test_names_wrong_methods_listed_apart_from_the_catalogue(tallies):
    found = added_up(tallies[0])["all"]
    assert found.made > 2000
    assert found.share(found.named) >= 0.88
    assert found.share(found.other) <= 0.02


def test_names_wrong_methods_of_a_later_list():
    """A list written from what students do before the catalogue was widened once more."""
    methods, _ = measured(DRAWS, THIRD)
    found = added_up(methods)["all"]
    assert found.made > 700
    assert found.share(found.named) >= 0.82
    assert found.share(found.other) <= 0.02


def test_a_slip_of_the_keys_is_seldom_blamed_on_a_method(tallies):
    found = added_up(tallies[1])["all"]
    assert found.made > 500
    assert found.share(found.named) <= 0.02


def test_families_that_a_lesson_is_about_are_named(tallies):
    families = added_up(tallies[0], 0)
    for family in ("gram for gram", "ratio upside down", "decimal point", "on the whole dough"):
        found = families[family]
        assert found.share(found.named) >= 0.85, family


def test_what_the_measurement_counts_as_named_is_in_the_catalogue():
    assert {key for keys in SAYS.values() for key in keys.split()} <= set(BY_KEY)


def test_each_known_mistake_says_what_was_done_and_what_to_do():
    assert len({mistake.key for mistake in CATALOGUE}) == len(CATALOGUE)
    for mistake in CATALOGUE:
        assert re.match(r"You [a-z]", mistake.says)
        assert mistake.advice[0].isupper()
        assert mistake.advice.endswith(".")


@pytest.mark.parametrize(("name", "wrong"), [("flour", 51), ("room", 55)])
def test_what_is_added_inside_brackets_that_are_taken_away_is_told_as_taken_away(name, wrong):
    """By hand: 3 × 26 − (19 + 21 + 25) = 13. With 19 added it is 78 − 46 + 19 = 51; with 21, 55."""
    quantity = REGISTRY["friction factor"]
    temperatures = zip((slot.name for slot in quantity.slots), (26, 19, 21, 25), strict=False)
    found = diagnose(
        quantity.working(dict(temperatures)),
        "friction",
        units.read(f"{wrong} °C", "temperature difference"),
        {},
    )
    told = [one.name for one in found.findings]
    assert told == [f"added the {name} temperature where it is taken away"]
