"""The desk prints what the terminal prints."""

import pytest

from docs.parts.set_printer import respond
from docs.parts.shared.fields import FieldErrors
from exercises.cli import main
from exercises.problems import load
from exercises.publish.html import write
from exercises.publish.worksheet import key, numbered, worksheet

SET = "first-swaps"
NAMES = "Ada Invented\nZoë Invented\n"


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_files_are_the_terminals_byte_for_byte(paper, tmp_path, monkeypatch):
    monkeypatch.setattr("exercises.paper.print_pdf", lambda html, pdf: None)
    (tmp_path / "out").mkdir()
    names = tmp_path / "names.txt"
    names.write_text(NAMES, "utf-8")
    terminal = tmp_path / "terminal"
    main(["print", SET, "--students", str(names), "--paper", paper, "--out", str(terminal)])
    fields = {"action": "files", "set": SET, "names": NAMES, "paper": paper}
    for name in respond({**fields, "folder": str(tmp_path)})["made"]:
        made = (tmp_path / "out" / name).read_bytes()
        assert made == (terminal / name.removeprefix(f"{SET}-")).read_bytes()


def test_what_is_shown_is_what_the_files_hold():
    sheets = numbered(load(SET), 3)
    for action, whole in (("worksheets", worksheet), ("key", key)):
        answer = respond({"action": action, "set": SET, "count": "3"})
        shown = "\n".join(write(each) for each in answer["elements"])
        assert shown in whole(load(SET), sheets)
        assert answer["style"] in whole(load(SET), sheets)


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"names": "Ada\nada"}, "names"),
        ({"count": "0"}, "count"),
        ({"count": "many"}, "count"),
        ({"count": "9999999999"}, "count"),
        ({"count": "00000399999999"}, "count"),
        ({"count": "3", "set": "safe-handling", "level": "4"}, None),
    ],
)
def test_what_cannot_be_printed_is_told_beside_its_field(fields, field):
    asked = {"action": "worksheets", "set": SET} | fields
    if field is None:
        assert respond(asked)["elements"]
        return
    with pytest.raises(FieldErrors) as refused:
        respond(asked)
    assert list(refused.value.messages) == [field]


def test_a_teachers_own_set_is_printed_from_its_text():
    from docs.parts.set_writer import STARTER

    answer = respond({"action": "worksheets", "text": STARTER, "file": "mine.yml", "count": "1"})
    assert "A loaf for the morning" in write(*answer["elements"])
