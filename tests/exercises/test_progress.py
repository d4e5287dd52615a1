"""The progress bar: on a terminal only, and to the end."""

import io

import pytest

from exercises.classroom import Wanted, mark_files
from exercises.progress import Progress
from tests.exercises.invented_class import SET


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_progress_bar_shows_on_a_terminal_only():
    screen, file = Terminal(), io.StringIO()
    for stream in (screen, file):
        with Progress("Marking", stream) as progress:
            progress.to(50, 200)
    assert " 25%" in screen.getvalue()
    assert screen.getvalue().endswith("\r\x1b[K")
    assert file.getvalue() == ""


def test_progress_reaches_the_whole(hand_ins):
    shown = []
    _, students = mark_files(Wanted((hand_ins,), SET), lambda done, whole, words: shown.append(done / whole))  # fmt: skip
    assert list(students)
    assert shown == sorted(shown)
    assert shown[-1] == 1.0


def test_a_callback_that_raises_stops_the_work_and_nothing_is_written(hand_ins, tmp_path):
    def stop(done: int, whole: int, words: str) -> None:
        if done > whole / 2:
            raise InterruptedError

    out = Wanted((hand_ins,), SET, marks=tmp_path / "marks.csv", report=tmp_path / "report.html")
    with pytest.raises(InterruptedError):
        list(mark_files(out, stop)[1])
    assert not out.marks.exists()
    assert not out.report.exists()
