"""Worksheet and key: a student's own numbers, room for every step, and no answer on the wrong one."""

import math
import re

import pytest
from bs4 import BeautifulSoup

from calc import units
from exercises.cli import main
from exercises.codes import code_of
from exercises.directions import what_to_write
from exercises.draws import draw
from exercises.marking import mark, solution
from exercises.problems import load
from exercises.publish.worksheet import accepted, key, named, numbered, worksheet

SET = "first-swaps"
NAMES = ["Ada Invented", "Zoë Invented", "=SUM(A1) Invented"]


def words(element) -> str:
    return " ".join(element.get_text(" ").split())


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
            rooms, ruled, letters = (
                len(shown.find_all(class_=name)) for name in ("room", "line", "letter")
            )
            assert rooms == len(drawn.asked if drawn.is_free else drawn.working.steps)
            assert letters == len(drawn.boxes)
            assert ruled == (len(drawn.parts) + 2 if drawn.is_free else 0)
            units = [blank.get_text() for blank in shown.find_all(class_="blank")]
            assert set(units) <= {"g", "%"}


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


def test_the_final_answers_are_no_wider_than_the_paper():
    """Of twenty columns a printer left out the last: all problems are there, ten at most in a table."""
    problem_set = load("what-rides-along")
    solved = BeautifulSoup(key(problem_set, named(problem_set, NAMES)), "html.parser")
    heads = [[words(th) for th in table.select("th")[2:]] for table in solved.select(".finals")]
    assert all(len(one) <= 10 for one in heads)
    numbers = [number for one in heads for number in one]
    assert numbers == [str(n + 1) for n in range(len(problem_set.problems))]
    assert all(len(table.select("tbody tr")) == len(NAMES) for table in solved.select(".finals"))


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
            for key_, step in working.steps.items():
                # The ends of what the key calls right are marked right, written as the sheet asks.
                ends = accepted(draw(problem_set, problem, name), step)
                to = draw(problem_set, problem, name).rounding(step)
                inner = (math.ceil(ends.low / to) * to, math.floor(ends.high / to) * to)
                for end in inner:
                    wrote = units.write(end, step.kind, step=to)
                    marks = mark(draw(problem_set, problem, name), {key_: wrote})
                    found = next(one for one in marks.steps if one.step.key == key_)
                    assert found.verdict.earns, (problem.id, key_, wrote)


def test_a_sheet_tells_what_to_write_for_each_kind_of_problem():
    """Where every cell is asked, leaving cells out costs marks: the sheet says so, as the page does."""
    problem_set = load("the-whole-job")
    sheet = BeautifulSoup(worksheet(problem_set, numbered(problem_set, 1)), "html.parser")
    for problem, shown in zip(problem_set.problems, sheet.find_all(class_="problem"), strict=True):
        wanted = what_to_write(draw(problem_set, problem, "Sheet 1"))
        assert (wanted in words(sheet.find(class_="note"))) != (wanted in words(shown))


def test_the_key_of_an_order_has_the_letters_of_that_sheet():
    problem_set = load("divide-by-the-water-content")
    sheets = numbered(problem_set, 3)
    solved = BeautifulSoup(key(problem_set, sheets), "html.parser").select("section")
    handed_out = BeautifulSoup(worksheet(problem_set, sheets), "html.parser").select("section")
    orders = [n for n, one in enumerate(problem_set.problems) if one.ranking]
    assert orders
    for section, sheet in zip(solved, handed_out, strict=True):
        for n in orders:
            options = [words(one) for one in sheet.select(".problem")[n].select(".options li")]
            for line in map(words, section.select(".problem")[n].select("li")):
                letter, name, _ = line.split(": ", 2)
                assert options["abcdefgh".index(letter)] == name
