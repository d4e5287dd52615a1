"""What students write, and what it is read as."""

import pytest

from calc import units
from calc.answers import LONGEST_ANSWER, read_answer
from calc.units import ReadingError
from tests.hostile import EVERY
from tests.written import ACCEPTED, REFUSED


@pytest.mark.parametrize(("text", "kind", "near", "value"), ACCEPTED)
def test_reads_what_people_write(text, kind, near, value):
    assert read_answer(text, kind, near).reading.value == pytest.approx(value, rel=1e-5)
