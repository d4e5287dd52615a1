"""Marks changed by hand are in every output, with their reason."""

import contextlib
import csv

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from exercises.changes import Change, Changes, ChangesError, read_changes, write_changes
from exercises.cli import main
from tests.exercises.invented_class import marked
from tests.hostile import TABLES, any_text

FILE = """student;problem;step;marks;reason
Di Invented;milk-in-the-dough;hydration;1;Her way counts the whole dough, as I asked.
ben invented;yogurt-loaf;;0,5;Half a mark for the method.
Nobody;yogurt-loaf;;1;Not there.
Di Invented;yogurt-loaf;;99;Too many.
"""


def test_a_line_without_end_is_told():
    with pytest.raises(ChangesError, match="closing quote"):
        read_changes("a" * 200_000)


def test_a_change_is_kept_in_every_output(hand_ins, tmp_path, capsys):
    changes, marks, report = (tmp_path / name for name in ("changes.csv", "marks.csv", "r.html"))
    changes.write_text(FILE, "utf-8")
    before, _ = marked(hand_ins)
    options = ["--changes", str(changes), "--marks", str(marks), "--report", str(report)]
    assert main(["mark", str(hand_ins), *options]) == 0
    printed = capsys.readouterr()
    assert printed.err.count("Change not used: ") == 2
    rows = {row["student"]: row for row in csv.DictReader(marks.open(encoding="utf-8-sig"))}
    assert rows["Di Invented"]["marks"] == "19"
    assert "Her way counts the whole dough" in rows["Di Invented"]["notes"]
    assert rows["Ben Invented"]["yogurt-loaf"] == "0.5"
    text = BeautifulSoup(report.read_text("utf-8"), "html.parser").get_text(" ")
    assert "Marks changed by hand to 0.5: Half a mark for the method." in text
    book, students = marked(hand_ins, changes=read_changes(FILE))
    di = next(one for one in students if one.entry.student == "Di Invented")
    assert di.is_changed
    assert "whole-dough" in before.made
    assert "whole-dough" not in book.made


def test_an_older_hand_in_is_not_changed(hand_ins):
    changes = Changes.of([{"student": "Ada Invented", "problem": "yogurt-loaf", "marks": 0, "reason": "x"}])  # fmt: skip
    _, students = marked(hand_ins, changes=changes)
    assert [(s.counts, s.is_changed) for s in students if s.entry.student.casefold() == "ada invented"] == [(False, False), (True, True)]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("student,problem,marks\n", "no column “reason”"),
        ("student,problem,step,marks,reason\nAda,x,,many,y", "line 2: “many” are no marks"),
        ("student,problem,step,marks,reason\nAda,x,,-1,y", "no marks"),
        ("student,problem,step,marks,reason\nAda,x,,nan,y", "no marks"),
        ("student,problem,step,marks,reason\nAda,x,,1,", "needs a reason"),
        ("student,problem,step,marks,reason\n,x,,1,y", "needs a student and a problem"),
    ],
)
def test_says_what_is_wrong_with_a_file_of_changes(text, says):
    with pytest.raises(ChangesError, match=says):
        read_changes(text)


def test_a_file_that_is_none_is_told_at_the_terminal(hand_ins, tmp_path, capsys):
    (tmp_path / "c.csv").write_text("x\n", "utf-8")
    assert main(["mark", str(hand_ins), "--changes", str(tmp_path / "c.csv")]) == 1
    assert "c.csv: line 1: there is no column “student”" in capsys.readouterr().err


@given(st.lists(st.builds(Change, *[st.text(st.characters(categories=["L"]), min_size=1, max_size=9)] * 3, st.integers(0, 9), st.sampled_from(["a b", "=1+1", 'x "y"']))))  # fmt: skip
def test_what_is_written_comes_back(changes):
    assert list(read_changes(write_changes(Changes(changes)))) == list(Changes(changes))


@given(st.text() | st.sampled_from(TABLES) | st.lists(any_text).map(lambda cells: "student,problem,marks,reason\n" + ",".join(cells)))  # fmt: skip
def test_any_text_is_read_or_refused(text):
    with contextlib.suppress(ChangesError):
        assert isinstance(read_changes(text), Changes)
