"""The desk marks what the terminal marks, and says at once what came."""

import json
import shutil

import pytest

from docs.parts.class_marker import HAND_INS, respond
from docs.parts.shared.fields import FieldErrors
from exercises.cli import main
from exercises.demo import DEMO_SET
from exercises.publish.html import write


@pytest.fixture
def desk(tmp_path):
    """A desk with the invented class's hand-ins, as the page lays it out, and the class list."""
    folders = {name: tmp_path / name for name in ("made", "desk/in", "desk/out")}
    for folder in folders.values():
        folder.mkdir(parents=True)
    made = respond({"action": "demo", "folder": str(tmp_path / "desk")})
    shutil.move(tmp_path / "desk" / "out", tmp_path / "desk" / "in" / HAND_INS)
    (tmp_path / "desk" / "out").mkdir()
    return {"folder": str(tmp_path / "desk"), "set": DEMO_SET, "list": made["names"]}


def test_at_once_it_says_who_came_who_is_missing_and_what_cannot_be_read(desk):
    answer = respond({"action": "look", **desk})
    said = write(*answer["elements"])
    assert answer["says"].startswith("22 students")
    assert "Missing (2): </strong>Kwame Milkjug, Zoë Pastrybrush." in said
    assert "Came twice; the one saved last counts (1): </strong>Ji-woo Crumbtray" in said
    assert "kwame-milkjug.json</strong>: line" in said
    assert desk["folder"] not in said


def test_the_files_are_the_terminals_byte_for_byte(desk, tmp_path):
    answer = respond({"action": "mark", **desk})
    hand_ins, names = tmp_path / "desk" / "in" / HAND_INS, tmp_path / "names.txt"
    names.write_text(desk["list"], "utf-8")
    marks, report = tmp_path / "marks.csv", tmp_path / "report.html"
    main(["mark", str(hand_ins), "--set", DEMO_SET, "--students", str(names), "--marks", str(marks), "--report", str(report)])  # fmt: skip
    for file in (marks, report):
        assert file.name in answer["made"]
        there = file.read_text("utf-8").replace(f"{hand_ins}/", "")
        assert (tmp_path / "desk" / "out" / file.name).read_text("utf-8") == there


def test_each_cell_opens_into_the_work(desk):
    answer = respond({"action": "mark", **desk})
    assert len(answer["students"]) == 22 == len(answer["work"])
    assert all(len(row) == len(answer["problems"]) for row in answer["work"])
    row = answer["students"].index("Amina Breadpan")
    assert "not right yet" in "".join(answer["work"][row])
    json.dumps([answer["students"], answer["work"]])


def test_a_list_that_cannot_be_read_is_told_beside_it(desk):
    with pytest.raises(FieldErrors) as refused:
        respond({"action": "mark", **desk, "list": "Ada\nada"})
    assert list(refused.value.messages) == ["list"]
