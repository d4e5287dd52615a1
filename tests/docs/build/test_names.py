"""The names of ingredients that the page searches are those of the table."""

import json
import re

from calc import composition
from calc.names import IDLE, IDLE_PHRASES
from docs.build.names import names_module


def test_each_other_name_is_told_and_nothing_else():
    told = json.loads(re.search(r"NAMES = (\{.*\});", names_module())[1])
    assert told["whole-milk"][0] == composition.find("whole-milk").also[0]
    assert "doodh" in told["whole-milk"]
    assert set(told) <= set(composition.table())


def test_what_says_only_how_it_comes_is_told_too():
    idle = json.loads(re.search(r"IDLE = (\[.*\]);", names_module())[1])
    assert idle[: len(IDLE_PHRASES)] == list(IDLE_PHRASES)
    assert set(idle[len(IDLE_PHRASES) :]) == IDLE
    # They go into a pattern of the page's as they are.
    assert all(re.fullmatch(r"[a-z ]+", each) for each in idle)


def test_the_module_is_small_enough_to_fetch_at_the_first_tap():
    assert len(names_module().encode()) < 40_000
