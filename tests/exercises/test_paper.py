"""Paper: worksheet and key, the code on the sheet, and answers typed in from it."""

import csv
import re
from dataclasses import replace

import pytest
from bs4 import BeautifulSoup
from pypdf import PdfReader

from exercises.cli import main
from exercises.codes import code_of, same_code, sheet_name, sheet_of
from exercises.draws import draw
from exercises.free_working import WORKING
from exercises.marking import right_answers, solution
from exercises.paper import NamesError, read_names
from exercises.problems import load
from exercises.publish.pdf import browser, print_pdf
from exercises.publish.worksheet import key, named, numbered, worksheet

SET = "first-swaps"
NAMES = ["Ada Invented", "Zoë Invented", "=SUM(A1) Invented"]


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """Printed sheets for three students, without a browser on the path."""
    monkeypatch.setenv("PATH", str(tmp_path))
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


def test_each_student_gets_their_own_numbers_and_room_for_every_step():
    problem_set = load(SET)
    page = BeautifulSoup(worksheet(problem_set, named(problem_set, NAMES)), "html.parser")
    sheets = page.find_all("section")
    assert len(sheets) == len(NAMES)
    for name, sheet in zip(NAMES, sheets, strict=True):
        assert f"Name: {name}" in words(sheet)
        assert code_of(problem_set, name) in words(sheet)
        problems = sheet.find_all(class_="problem")
        for problem, shown in zip(problem_set.problems, problems, strict=True):
            drawn = draw(problem_set, problem, name)
            assert " ".join(drawn.story.split()) in words(shown)
            rooms, ruled = (len(shown.find_all(class_=name)) for name in ("room", "line"))
            assert rooms == len(drawn.asked if drawn.is_free else drawn.parts)
            assert ruled == (len(drawn.parts) + 2 if drawn.is_free else 0)
            units = [blank.get_text() for blank in shown.find_all(class_="blank")]
            assert set(units) <= {"g", "%"}


def test_options_to_choose_and_to_order_are_marked_from_paper_too(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("PATH", str(tmp_path))
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


def test_the_worksheet_holds_no_answer_and_the_key_every_one():
    problem_set = load(SET)
    sheets = named(problem_set, NAMES)
    shown = BeautifulSoup(key(problem_set, sheets), "html.parser").get_text().replace("\u00a0", " ")
    handed_out = worksheet(problem_set, sheets).replace("\u00a0", " ")
    for name in NAMES:
        for problem in problem_set.problems:
            for line in solution(draw(problem_set, problem, name)):
                assert line in shown
                assert line not in handed_out


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_pages_stand_alone(paper):
    problem_set = load(SET)
    for text in (
        worksheet(problem_set, numbered(problem_set, 2), paper),
        key(problem_set, [], paper),
    ):
        assert f"size: {'A4' if paper == 'a4' else 'letter'}" in text
        assert "<script" not in text
        assert not re.search(r"https?://|url\(|@import", text)


def test_a_name_is_only_text():
    problem_set = load(SET)
    page = BeautifulSoup(
        worksheet(problem_set, named(problem_set, ["<img src=x onerror=alert(1)>"])), "html.parser"
    )
    assert page.find("img") is None


def test_codes_tell_sheets_apart_and_stay_the_same():
    """Drawn once, from version 1 (SHA-256, FIPS 180-4, in base32, RFC 4648), and must not change."""
    problem_set = replace(load(SET), version=1)
    codes = {code_of(problem_set, sheet_name(number)) for number in range(1, 1000)}
    assert len(codes) == 999
    assert code_of(problem_set, "Ada Brook") == code_of(problem_set, "  ada BROOK") == "HWNYSJ"
    assert sheet_of(problem_set, code_of(problem_set, "Sheet 7")) == "Sheet 7"
    assert sheet_of(problem_set, "AAAAAA") is None
    assert same_code(" hwn-ysj ") == "HWNYSJ"
    assert same_code("O0I1B8") == "OOIIBB"


def test_typed_in_answers_are_marked_the_same_way(folder, capsys):
    type_in(folder / "answers.csv", lambda head, row: right(head, row, row[1].removeprefix("'")))
    capsys.readouterr()
    assert main(["mark", str(folder / "answers.csv"), "--set", SET]) == 0
    printed = capsys.readouterr().out
    for name in NAMES:
        assert f"{name}: 19 of 19" in printed


def test_a_sheet_without_a_name_is_found_by_its_code(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("PATH", str(tmp_path))
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


def test_says_so_when_there_is_no_browser(folder, tmp_path, capsys):
    main(["print", SET, "--count", "1", "--out", str(tmp_path / "again")])
    assert "No Chromium was found" in capsys.readouterr().out
    assert not (folder / "worksheet.pdf").exists()


def test_makes_a_pdf_where_a_browser_is_at_hand(tmp_path):
    assert main(["print", SET, "--count", "2", "--out", str(tmp_path)]) == 0
    for name in ("worksheet.pdf", "key.pdf"):
        made = (tmp_path / name).read_bytes()
        assert made.startswith(b"%PDF-")
        # ISO 32000-1, 7.7.3.3: each page is an object of type Page. Two students, two pages at least.
        assert len(re.findall(rb"/Type\s*/Page\b", made)) >= 2


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Ada\n\nBen\n ADA ", "line 4: “ADA” stands in the list already"),
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


def test_on_paper_an_order_says_which_end_comes_first(capsys):
    problem_set = load("finding-the-water")
    asks = [one.ranking.asks for one in problem_set.problems if one.ranking]
    assert asks
    for made in (worksheet, key):
        text = BeautifulSoup(made(problem_set, numbered(problem_set, 1)), "html.parser").get_text()
        assert [text.count(ask) for ask in asks] == [1] * len(asks)
    assert main(["show", "exercises/sets/finding-the-water.yml"]) == 0
    shown = capsys.readouterr().out
    assert all(ask in shown for ask in asks)


def test_a_class_that_was_asked_one_level_loses_no_marks_of_the_others(
    tmp_path, monkeypatch, capsys
):
    monkeypatch.setenv("PATH", str(tmp_path))
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


def test_the_sheet_says_to_what_to_round_and_the_key_what_is_right():
    problem_set = load(SET)
    sheets = named(problem_set, NAMES)
    handed_out = words(BeautifulSoup(worksheet(problem_set, sheets), "html.parser"))
    assert "(to the gram):" in handed_out
    solved = BeautifulSoup(key(problem_set, sheets), "html.parser")
    for row, name in zip(solved.select(".finals tbody tr"), NAMES, strict=True):
        cells = [words(cell) for cell in row.find_all("td")]
        assert cells[:2] == [code_of(problem_set, name), name]
        for cell, problem in zip(cells[2:], problem_set.problems, strict=True):
            working = draw(problem_set, problem, name).working
            assert working.weighed(working.answer.key) in cell.replace("\u00a0", " ")
    assert "Right: " in words(solved)


@pytest.mark.skipif(not browser(), reason="no Chromium makes PDFs here")
def test_each_printed_page_bears_name_code_set_and_version(tmp_path):
    problem_set = load(SET)
    html, pdf = tmp_path / "sheets.html", tmp_path / "sheets.pdf"
    html.write_text(worksheet(problem_set, named(problem_set, NAMES[:1])), "utf-8")
    print_pdf(html, pdf)
    pages = [" ".join(page.extract_text().split()) for page in PdfReader(pdf).pages]
    assert len(pages) > 1
    for page in pages:
        for wanted in (NAMES[0], code_of(problem_set, NAMES[0]), f"version {problem_set.version}"):
            assert wanted in page
