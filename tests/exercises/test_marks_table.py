"""One line a student, in the order and by the keys of the teacher's list."""

import csv
import io

import pytest

from exercises.cli import main
from exercises.roster import read_roster
from exercises.school_scale import read_scale
from tests.exercises.invented_class import marked

LIST = "ID;Surname;First name;Class\n04;Invented;Di;K2\n03;Missing;Mia;K1\n02;Invented;Ben;K1\n01;Invented;Ada;K1\n"


def rows(path, delimiter=","):
    return list(csv.reader(io.StringIO(path.read_bytes().decode("utf-8-sig"), newline=""), delimiter=delimiter))  # fmt: skip


def test_the_marks_come_in_the_lists_order_and_by_its_keys(hand_ins, tmp_path):
    out = tmp_path / "marks.csv"
    marked(hand_ins, marks=out, roster=read_roster(LIST), scale=read_scale("A=90,B=75"))
    head, *lines = rows(out)
    assert head[:8] == ["ID", "Surname", "First name", "Class", "marks", "out of", "percent", "grade"]  # fmt: skip
    assert [line[:8] for line in lines] == [
        ["04", "Invented", "Di", "K2", "18", "19", "94.7", "A"],
        ["03", "Missing", "Mia", "K1", "", "", "", ""],
        ["02", "Invented", "Ben", "K1", "15", "19", "78.9", "B"],
        ["01", "Invented", "Ada", "K1", "15", "19", "78.9", "B"],
        ["", "Cy Invented", "", "", "15", "19", "78.9", "B"],
    ]
    assert len({len(line) for line in [head, *lines]}) == 1


def test_what_does_not_count_has_a_table_of_its_own(hand_ins, tmp_path):
    out, older = tmp_path / "marks.csv", tmp_path / "marks-older.csv"
    marked(hand_ins, marks=out)
    assert [line[0] for line in rows(out)] == ["student", "Ben Invented", "Cy Invented", "Di Invented", "ada INVENTED"]  # fmt: skip
    assert [line[:2] for line in rows(older)] == [["student", "marks"], ["Ada Invented", "19"]]
    (hand_ins / "0.json").unlink()
    marked(hand_ins, marks=out)
    assert not older.exists()


@pytest.mark.parametrize(("name", "decimal", "delimiter"), [("comma", ",", ";"), ("point", ".", ",")])  # fmt: skip
def test_a_spreadsheet_of_either_language_reads_numbers(name, decimal, delimiter, hand_ins, tmp_path):  # fmt: skip
    """Read by pandas as a spreadsheet of that language does: the marks are numbers."""
    import pandas

    out = tmp_path / "marks.csv"
    assert main(["mark", str(hand_ins), "--marks", str(out), "--decimal", name, "--scale", "A=90,B=75"]) == 0  # fmt: skip
    read = pandas.read_csv(out, sep=delimiter, decimal=decimal, encoding="utf-8-sig")
    assert read["percent"].tolist() == [78.9, 78.9, 94.7, 78.9]
    assert read["grade"].tolist() == ["B", "B", "A", "B"]


def test_one_who_handed_in_under_another_name_is_put_to_the_list(hand_ins, tmp_path, capsys):
    names, out = tmp_path / "names.txt", tmp_path / "marks.csv"
    names.write_text("Adah Invented\nBen Invented\nCy Invented\nDi Invented\n", "utf-8")
    options = ["--students", str(names), "--marks", str(out)]
    assert main(["mark", str(hand_ins), *options]) == 0
    said = capsys.readouterr().out
    assert 'ada INVENTED may be Adah Invented (a letter or two differ). If so: --same "ada INVENTED=Adah Invented"' in said  # fmt: skip
    assert main(["mark", str(hand_ins), *options, "--same", "ada invented=Adah Invented"]) == 0
    assert "Missing" not in capsys.readouterr().out
    assert rows(out)[1][:3] == ["Adah Invented", "15", "19"]
