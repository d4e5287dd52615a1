"""Paper: worksheet and key, the code on the sheet, and answers typed in from it."""

import csv
import re

import pytest
from bs4 import BeautifulSoup

from exercises.cli import main
from exercises.codes import code_of, sheet_name
from exercises.draws import draw
from exercises.free_working import WORKING
from exercises.marking import right_answers
from exercises.problems import load
from exercises.roster import NamesError, read_names

SET = "first-swaps"
NAMES = ["Ada Invented", "Zoë Invented", "=SUM(A1) Invented"]


@pytest.fixture
def folder(tmp_path):
    """Printed sheets for three students."""
    names = tmp_path / "names.txt"
    names.write_text("\n\n".join(NAMES), "utf-8")
    assert main(["print", SET, "--students", str(names), "--out", str(tmp_path / "out")]) == 0
    return tmp_path / "out"


def words(element) -> str:
    return " ".join(element.get_text(" ").split())


def type_in(path, answers):
    """Type answers into the table: a function of a row gives its name and its answers."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        head, *rows = csv.reader(file)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(head)
        for row in rows:
            writer.writerow(answers(head, row))


def right(head, row, drawn_for):
    """The row with every answer right for a name's numbers."""
    problem_set = load(SET)
    filled = list(row)
    for place, heading in enumerate(head[2:], 2):
        problem, step = heading.split("/")
        drawn = draw(problem_set, problem_set.problem(problem), drawn_for)
        filled[place] = "" if step == WORKING else drawn.working.weighed(step)
    return filled


def test_options_to_choose_and_to_order_are_marked_from_paper_too(tmp_path, capsys):
    assert main(["print", "what-rides-along", "--count", "1", "--out", str(tmp_path)]) == 0
    problem_set = load("what-rides-along")
    sheet = BeautifulSoup((tmp_path / "worksheet.html").read_text("utf-8"), "html.parser")
    for problem, shown in zip(problem_set.problems, sheet.find_all(class_="problem"), strict=True):
        drawn = draw(problem_set, problem, "Sheet 1")
        lists = [[words(li) for li in ol.find_all("li")] for ol in shown.find_all("ol")]
        boxes = drawn.boxes[:1] if problem.ranking else drawn.boxes
        assert lists == [[option.text for option in box.options] for box in boxes]

    def all_right(head, row):
        filled = list(row)
        for place, heading in enumerate(head[2:], 2):
            problem, key = heading.split("/")
            drawn = draw(problem_set, problem_set.problem(problem), "Sheet 1")
            filled[place] = right_answers(drawn).get(key, "")
        return filled

    type_in(tmp_path / "answers.csv", all_right)
    assert main(["mark", str(tmp_path / "answers.csv"), "--set", "what-rides-along"]) == 0
    out_of = sum(draw(problem_set, each, "Sheet 1").out_of for each in problem_set.problems)
    assert f"Sheet 1: {out_of} of {out_of}" in capsys.readouterr().out


def test_typed_in_answers_are_marked_the_same_way(folder, capsys):
    type_in(folder / "answers.csv", lambda head, row: right(head, row, row[1].removeprefix("'")))
    capsys.readouterr()
    assert main(["mark", str(folder / "answers.csv"), "--set", SET]) == 0
    printed = capsys.readouterr().out
    for name in NAMES:
        assert f"{name}: 19 of 19" in printed


def test_a_sheet_without_a_name_is_found_by_its_code(tmp_path, capsys):
    assert main(["print", SET, "--count", "2", "--out", str(tmp_path)]) == 0

    def named_by_hand(head, row):
        number = next(n for n in (1, 2) if code_of(load(SET), sheet_name(n)) == row[0])
        filled = right(head, row, sheet_name(number))
        return [row[0].lower(), ["Ben Invented", ""][number - 1], *filled[2:]]

    type_in(tmp_path / "answers.csv", named_by_hand)
    capsys.readouterr()
    assert main(["mark", str(tmp_path / "answers.csv"), "--set", SET]) == 0
    printed = capsys.readouterr().out
    assert "Ben Invented: 19 of 19" in printed
    assert "Sheet 2: 19 of 19" in printed


@pytest.mark.parametrize(
    ("code", "name", "says"),
    [
        ("ZZZZZZ", "Ada Invented", "does not belong to “Ada Invented”"),
        ("ZZZZZZ", "", "printed with a name"),
        ("", "", "neither a name nor a code"),
    ],
)
def test_a_slip_in_code_or_name_is_told(code, name, says, folder, capsys):
    type_in(folder / "answers.csv", lambda head, row: [code, name, *["1 g"] * len(row[2:])])
    assert main(["mark", str(folder / "answers.csv"), "--set", SET]) == 1
    told = capsys.readouterr().err
    assert says in told
    assert "answers.csv, row 2" in told


def test_never_writes_over_a_table_that_may_be_typed_into(folder, capsys):
    (folder / "answers.csv").write_text("mine", "utf-8")
    before = (folder / "worksheet.html").read_text("utf-8")
    assert main(["print", SET, "--count", "3", "--out", str(folder)]) == 1
    assert "there already" in capsys.readouterr().err
    assert (folder / "answers.csv").read_text("utf-8") == "mine"
    assert (folder / "worksheet.html").read_text("utf-8") == before


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Ada\n\nBen\n ADA ", "line 4: “ADA” is in the list already"),
        ("\n \n", "no name"),
        ("a" * 201, "line 1"),
        ("Ada\x1b[31m", "line 1"),
        ("\n".join(map(str, range(1000))), "more than 999"),
    ],
)
def test_names_that_cannot_be_printed_are_told(text, says):
    with pytest.raises(NamesError, match=re.escape(says)):
        read_names(text)


@pytest.mark.parametrize("count", ["0", "-1", "1000"])
def test_an_absurd_count_is_told(count, tmp_path, capsys):
    assert main(["print", SET, "--count", count, "--out", str(tmp_path)]) == 1
    assert "from 1 to 999" in capsys.readouterr().err


def test_a_class_that_was_asked_one_level_loses_no_marks_of_the_others(tmp_path, capsys):
    out = tmp_path / "out"
    assert main(["print", SET, "--level", "1", "--count", "1", "--out", str(out)]) == 0
    problem_set = load(SET)
    asked = [problem for problem in problem_set.problems if problem.level == 1]
    sheet = BeautifulSoup((out / "worksheet.html").read_text("utf-8"), "html.parser")
    assert len(sheet.find_all(class_="problem")) == len(asked) < len(problem_set.problems)
    assert all("level 1, " in words(h2) for h2 in sheet.find_all("h2"))
    type_in(out / "answers.csv", lambda head, row: right(head, row, "Sheet 1"))
    answers = str(out / "answers.csv")
    assert main(["mark", answers, "--set", SET, "--level", "1"]) == 0
    out_of = sum(draw(problem_set, problem, "Sheet 1").out_of for problem in asked)
    assert f"Sheet 1: {out_of} of {out_of}" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main(["print", SET, "--level", "4", "--count", "1", "--out", str(out)])


def test_a_level_without_problems_is_told(tmp_path, capsys):
    mine = tmp_path / "mine.yml"
    mine.write_text(
        "title: t\nversion: 1\nproblems:\n  - {id: a, title: a, story: a, ask: order, "
        "by: water content, items: [water, egg, sour-cream]}\n",
        "utf-8",
    )
    assert main(["export", str(mine), "--level", "2", "--out", str(tmp_path / "x.zip")]) == 1
    assert "“t” has no problem of level 2" in capsys.readouterr().err
