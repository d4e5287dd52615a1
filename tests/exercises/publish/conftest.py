"""One draw of each problem that an item can be written of."""

import pytest

from exercises.draws import draw
from exercises.problems import load, set_keys
from exercises.publish.qti_items import can_write

PROBLEMS = [(s, p) for s in map(load, set_keys()) for p in s.problems if can_write(p)]


# What an item says of wrong answers takes long to find out: of one problem all is tried before the next, in one process.
@pytest.fixture(scope="session", params=PROBLEMS, ids=lambda both: both[1].id)
def variant(request):
    return draw(*request.param, "draw 1")
