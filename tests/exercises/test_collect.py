"""Hand-ins, folders and tables to one entry a student; of two hand-ins, which one counts."""

import csv
import json
import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from exercises import collect
from exercises.cli import main
from exercises.collect import files_of
from exercises.handin import new_handin, pack, write_handin
from exercises.problems import load
from exercises.roster import Roster
from tests.exercises.invented_class import KEY, SET, csv_of, marked, right
from tests.hostile import EVERY


def test_of_two_hand_ins_the_last_by_name_counts_and_both_say_so(hand_ins):
    _, students = marked(hand_ins)
    first, last = students[0], students[-1]
    assert f"the last, {hand_ins / 'late' / 'pasted.txt'}, counts" in first.notes[0]
    assert last.notes == ("Handed in 2 times: this one counts.",)


def test_another_sets_hand_ins_are_listed(hand_ins):
    data = json.loads((hand_ins / "0.json").read_text("utf-8"))
    (hand_ins / "0.json").write_text(json.dumps(data | {"set": "another"}), "utf-8")
    book, students = marked(hand_ins)
    assert len(students) == 4
    assert "for the set “another”" in book.refusals[0].reason


def test_columns_can_have_any_heading(tmp_path, capsys):
    path = tmp_path / "export.csv"
    answers = right("Ada Invented")
    path.write_text(
        "Number,First name,Surname,Response 1,Response 2\n"
        f"1,Ada,Invented,{answers['yogurt-loaf']['liquid']},{answers['salt-check']['weight']}\n",
        "utf-8",
    )
    options = ["--student-column", "First name", "surname"]
    options += ["--answer-columns", "Response 1=yogurt-loaf", "response 2=salt-check/weight"]
    assert main(["mark", str(path), "--set", KEY, *options]) == 0
    assert "Ada Invented: 3 of 19" in capsys.readouterr().out


def test_a_name_in_two_columns_is_read_by_their_headings(tmp_path, capsys):
    path = tmp_path / "export.csv"
    answers = right("Ada Invented")
    path.write_text(
        f"Nachname;Vorname;E-Mail;yogurt-loaf\nInvented;Ada;a@school.example;{answers['yogurt-loaf']['liquid']}\n",
        "utf-8",
    )
    assert main(["mark", str(path), "--set", KEY]) == 0
    assert "Ada Invented: 2 of 19" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ([], "No column is headed “student”"),
        (["--student-column", "Who"], "There is no column “Who”. The columns are: “Cook”, “x”"),
        (["--student-column", "Cook"], "No column holds answers"),
        (["--student-column", "Cook", "--answer-columns", "x=salad"], "has no answer “salad”"),
        (["--answer-columns", "x"], "write HEADING=PROBLEM/STEP"),
    ],
)
def test_says_what_is_missing_in_a_table(options, says, tmp_path, capsys):
    path = tmp_path / "export.csv"
    path.write_text("Cook,x\nAda,1 g\n", "utf-8")
    assert main(["mark", str(path), "--set", KEY, *options]) == 1
    assert says in capsys.readouterr().err


def test_finds_pasted_hand_ins_in_any_column(tmp_path, capsys):
    path = tmp_path / "export.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["Student", "When", "Online text"])
        for name in ("Ada Invented", "Ben Invented"):
            writer.writerow([name, "now", pack(new_handin(SET, name, right(name)))])
        writer.writerow(["Cy", "now", pack(new_handin(SET, "Cy", {}))[:90]])
    assert main(["mark", str(path), "--set", KEY]) == 0
    printed = capsys.readouterr()
    assert "Ada Invented: 19 of 19\nBen Invented: 19 of 19\n" in printed.out
    assert "row 4: A pasted hand-in runs from" in printed.err


def test_a_broken_row_is_listed_and_the_rest_go_on(tmp_path):
    path = tmp_path / "answers.csv"
    good = csv_of([("Ada", right("Adá")), ("Ben", right("Ben"))]).encode().split(b"\r\n")
    long = b'"' + b"x" * 200_000 + b'"'
    # Most of the table is UTF-8, and this row is not.
    good[1] = good[1].replace(b"Ada", "Adá".encode())
    bad = [b"Zo\xeb,1 g", long + b",1 g", b",1 g", b"a" * 500 + b",1 g", b"", b"Short"]
    path.write_bytes(b"\r\n".join([*good[:2], *bad, *good[2:]]))
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [
        ("Adá", 19),
        ("Ben", 19),
    ]
    told = {re.search(r"row \d+", one.place)[0]: one.reason for one in book.refusals}
    assert "not UTF-8" in told["row 3"]
    assert "far too long" in told["row 4"]
    assert "neither a name nor a code" in told["row 5"]
    assert "too long for one student" in told["row 6"]
    assert told["row 8"] == "“Short” has no answers: absent? Not counted."


def test_an_earlier_table_of_marks_is_no_table_of_answers(hand_ins, capsys):
    """Its columns are headed like answers, and its rows bear the same names."""
    earlier = hand_ins / "marks.csv"
    before, _ = marked(hand_ins, marks=earlier)
    assert main(["mark", str(hand_ins), "--marks", str(hand_ins / "marks-tuesday.csv")]) == 0
    printed = capsys.readouterr()
    assert f"{earlier}: This is a table of marks from an earlier run." in printed.err
    assert f"{before.marks / before.out_of:.0%} of the marks" in printed.out
    earlier.write_text(earlier.read_text("utf-8-sig").replace(",", ";"), "utf-8")
    again, _ = marked(hand_ins, marks=hand_ins / "marks-tuesday.csv")
    assert (again.students, again.marks) == (before.students, before.marks)


def handed_in(folder: Path, name: str, answers: dict, saved: int = 0) -> None:
    (folder / name).write_text(write_handin(SET, "Ada", answers, saved=saved), "utf-8")


def test_of_two_hand_ins_the_one_saved_last_counts(tmp_path):
    """Whatever the files are called; and the report says when each was saved."""
    handed_in(tmp_path, "a.json", right("Ada"), saved=1_790_000_000)
    handed_in(tmp_path, "b.json", {}, saved=1_780_000_000)
    handed_in(tmp_path, "c.json", {})
    report = tmp_path.parent / f"{tmp_path.name}.html"
    book, students = marked(tmp_path, report=report)
    assert [student.counts for student in students] == [True, False, False]
    assert book.marks == 19
    assert students[1].notes[-1].endswith("a.json, counts.")
    text = BeautifulSoup(report.read_text("utf-8"), "html.parser").get_text()
    assert f"a.json, saved {students[0].entry.when}" in text
    assert students[0].entry.when.startswith("2026-09-2")


@pytest.mark.parametrize("second", ["ada (1).json", "ada(1).json", "ada (10).json"])
def test_without_times_a_copy_counts_after_the_first(second, tmp_path):
    """A space sorts before a point: in plain order the older file would win."""
    handed_in(tmp_path, "ada.json", {})
    handed_in(tmp_path, second, right("Ada"))
    if second == "ada (10).json":
        handed_in(tmp_path, "ada (9).json", {})
    book, _ = marked(tmp_path)
    assert book.marks == 19


def test_a_file_saved_again_comes_after_the_first(tmp_path):
    """As browsers name them; of two hand-ins of a student the last in this order counts."""
    names = ["Ada.json", "Ada (1).json", "Ada (2).json", "Ada (10).json", "Bo.json"]
    for name in reversed(names):
        (tmp_path / name).touch()
    assert [path.name for path in files_of([tmp_path])] == names


@given(st.text(max_size=200) | st.sampled_from(EVERY))
def test_any_table_is_read_or_refused(tmp_path_factory, content):
    file = tmp_path_factory.mktemp("table") / "a.csv"
    file.write_bytes(content.encode("utf-8", "surrogatepass"))
    for found in collect.collect([file], load("first-swaps")):
        assert isinstance(found, collect.Found)


def test_a_column_that_was_not_used_is_told_with_what_it_may_mean(tmp_path, capsys):
    path = tmp_path / "export.csv"
    path.write_text(
        "student;yogurt-loaf/liquids;Salt-Check;Yogurt-Loaf / Water;remarks\nAda;1 g;31 g;2 g;x\n",
        "utf-8",
    )
    main(["mark", str(path), "--set", KEY])
    said = capsys.readouterr().out
    assert "Not used: “yogurt-loaf/liquids”, “remarks”. By “yogurt-loaf/liquids”, did you mean “yogurt-loaf/liquid”?" in said  # fmt: skip


def test_columns_of_problems_that_are_not_asked_are_no_slip(tmp_path, capsys):
    path = tmp_path / "export.csv"
    path.write_text(csv_of([("Ada", right("Ada"))]), "utf-8")
    assert main(["mark", str(path), "--set", KEY, "--only", "salt-check, yogurt-loaf"]) == 0
    said = capsys.readouterr().out
    assert "Ada: 3 of 3" in said
    assert "Not used" not in said
    assert main(["mark", str(path), "--set", KEY, "--only", "salad"]) == 1
    assert "has no problem “salad”. It has: water-for-rolls" in capsys.readouterr().err


def test_a_row_in_which_hardly_anything_is_right_is_doubted(tmp_path):
    """A misspelt name draws other numbers; the list knows whose they may be."""
    path = tmp_path / "typed.csv"
    path.write_text(csv_of([("Ada Samples", right("Ada Sample")), ("Ben", right("Ben"))]), "utf-8")
    book, _ = marked(path, roster=Roster.of(["Ada Sample", "Ben"]))
    assert [name for name, _ in book.doubtful] == ["Ada Samples"]
    assert "They depend on the name" in book.doubtful[0][1]
    assert "With the numbers of “Ada Sample” 19 are." in book.doubtful[0][1]
    book, students = marked(path, roster=Roster.of(["Ada Sample", "Ben"]), same={"ada samples": "Ada Sample"})  # fmt: skip
    assert [student.marks for student in students] == [19, 19]
    assert (book.missing, book.unlisted, book.doubtful) == ([], [], [])
    # Who worked under the name as it is in the table loses nothing either.
    path.write_text(csv_of([("Ada Samples", right("Ada Samples"))]), "utf-8")
    _, (student,) = marked(path, roster=Roster.of(["Ada Sample"]), same={"ada samples": "Ada Sample"})  # fmt: skip
    assert (student.entry.student, student.marks) == ("Ada Sample", 19)
