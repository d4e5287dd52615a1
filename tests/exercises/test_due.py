"""When a set is due. Times are checked against the standard library's datetime (ISO 8601)."""

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises import due
from exercises.collect import doubts
from exercises.handin import new_handin
from exercises.problems import read_set
from exercises.setfile import SetError
from tests.exercises.set_texts import EVERY_KIND as SET

DUE = "2030-03-06 18:00 +01:00"


@given(st.datetimes(datetime(1971, 1, 2), datetime(9998, 1, 1)), st.integers(-14 * 4, 14 * 4))
def test_a_time_means_one_moment(moment, quarters):
    moment = moment.replace(second=0, microsecond=0)
    offset = f"{'-' if quarters < 0 else '+'}{abs(quarters) // 4:02}:{abs(quarters) % 4 * 15:02}"
    read = due.read(f"{moment:%Y-%m-%d %H:%M} {offset}")
    utc = moment - timedelta(minutes=15 * quarters)
    assert read.at == (utc - datetime(1970, 1, 1)).total_seconds()


def test_it_is_said_on_the_clock_it_was_written_for():
    assert due.read(DUE).words == "Wednesday, 6 March 2030, 18:00 (UTC+01:00)"
    assert due.read("2030-03-06 17:00 UTC").at == due.read(DUE).at


@pytest.mark.parametrize(
    "wrong",
    ["", "Monday", "2030-03-06", "2030-03-06 18:00", "06/03/2030 18:00 UTC", "2030-02-30 18:00 UTC",
     "2030-03-06 25:00 UTC", "9999-99-99 99:99 +99:99", "2030-03-06 18:00 CET"],
)  # fmt: skip
def test_what_is_no_moment_is_told_with_what_to_write(wrong):
    with pytest.raises(ValueError, match="2030-03-06 18:00"):
        due.read(wrong)
    with pytest.raises(SetError, match="due"):
        read_set(SET.replace("version: 1", f'version: 1\ndue: "{wrong}"'), "monday.yml")


def test_a_late_hand_in_is_told_as_by_the_students_own_clock():
    timed = read_set(SET.replace("version: 1", f"version: 1\ndue: {DUE}"), "monday.yml")

    def told(saved: int) -> list[str]:
        return list(doubts(new_handin(timed, "Ada Invented", {}, saved=saved), timed))

    at = due.read(DUE).at
    assert told(0) == told(at) == []
    [late] = told(at + 90_000 + 60)
    assert "1 d 1 h after it was due" in late
    assert "nobody has checked" in late
    assert "less than a minute" in told(at + 1)[0]


def test_a_new_due_time_makes_no_other_set():
    timed = read_set(SET.replace("version: 1", f"version: 1\ndue: {DUE}"), "monday.yml")
    plain = read_set(SET, "monday.yml")
    assert timed.content == plain.content
    assert not list(doubts(new_handin(plain, "Ada Invented", {}), timed))
