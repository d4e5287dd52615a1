"""The progress bar: on a terminal only, and to the end."""

import io

from exercises.progress import Progress
from tests.exercises.invented_class import marked


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_progress_bar_shows_on_a_terminal_only():
    screen, file = Terminal(), io.StringIO()
    for stream in (screen, file):
        with Progress("Marking", 200, stream) as progress:
            progress.to(50)
    assert " 25%" in screen.getvalue()
    assert screen.getvalue().endswith("\r\x1b[K")
    assert file.getvalue() == ""


def test_progress_reaches_the_whole(hand_ins, tmp_path, monkeypatch):
    shown = []
    monkeypatch.setattr(Progress, "to", lambda self, done: shown.append(done / self._whole))
    marked(hand_ins)
    assert shown == sorted(shown)
    assert shown[-1] == 1.0
