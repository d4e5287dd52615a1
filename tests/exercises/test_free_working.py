"""Lines of working, as on paper: found, marked and followed through, whatever their order."""

import random
import re
from dataclasses import replace

import pytest
from bs4 import BeautifulSoup

from calc import composition, units
from calc.expression import evaluate, words
from calc.interval import Interval
from calc.quantities import REGISTRY
from docs.parts import problem_set as page
from exercises.classroom import Wanted, mark_files
from exercises.cli import main
from exercises.draws import Choice, Problem, draw, variant
from exercises.free_working import LONGEST_WORKING, MOST_LINES, WORKING, lines, match
from exercises.handin import new_handin, pack, read_handin, write_handin
from exercises.marking import Verdict, mark, right_answers, same_answers
from exercises.paper import write_template
from exercises.problems import load, set_keys
from exercises.publish.html import write
from exercises.publish.worksheet import named, worksheet
from tests.exercises.invented_class import entries
from tests.hostile import EVERY

SEVERAL = [
    (key, problem.id)
    for key in set_keys()
    for problem in load(key).problems
    if draw(load(key), problem, "").takes_lines
]
FREE = ("first-swaps", "fat-comes-along")


def drawn_of(key, problem_id, student="Ada Invented"):
    return draw(load(key), load(key).problem(problem_id), student)


def on_paper(drawn, slip="", way=lambda value: value * 0.87, turned=False):
    """A line for each step, from the student's own figures; the step `slip` comes out wrong.

    With `turned` it multiplies where the working divides, and the other way round.
    """
    own = {given.key: given.value for given in drawn.working.givens.values()}
    made = {}

    def shown(name):
        share = drawn.working.part(name).kind == "share"
        return units.write_fraction(own[name]) if share else units.trimmed(round(own[name], 6))

    for key, step in drawn.working.steps.items():
        value = evaluate(step.expression, own.__getitem__, float)
        line = words(step.expression, shown, units.trimmed)
        if key == slip and turned:
            line = line.translate(str.maketrans("×÷", "÷×"))
            value = eval(line.translate(str.maketrans("×÷−", "*/-")))
        elif key == slip:
            value = way(value)
        unit = units.PLAIN.unit(step.kind)
        factor = unit.factor if unit else 1.0
        to = min(step.to, drawn.working.enough(key)) / factor
        result = units.digits(value / factor, to)
        own[key] = float(result.replace("−", "-")) * factor
        told = (
            unit.symbol
            if unit and step.kind not in ("temperature", "temperature difference")
            else ""
        )
        made[key] = f"{line} = {result} {told}".strip()
    return made


def plain(text):
    return re.sub(r"\s", "", text.replace("−", "-"))


def mixed(sheet, seed):
    found = list(sheet.values())
    random.Random(seed).shuffle(found)
    return "\n".join(found)


@pytest.mark.parametrize(("key", "problem_id"), SEVERAL)
def test_the_model_solution_earns_every_mark_in_any_order(key, problem_id):
    for n in range(3):
        drawn = drawn_of(key, problem_id, f"Invented {n}")
        sheet = {step: drawn.working.sentence(step) for step in drawn.working.steps}
        result = mark(drawn, {WORKING: mixed(sheet, n)})
        assert result.marks == result.out_of, sheet
        assert {one.verdict for one in result.steps} == {Verdict.RIGHT}
        assert result.says == ""


@pytest.mark.slow
@pytest.mark.parametrize(("key", "problem_id"), SEVERAL)
@pytest.mark.parametrize("turned", [False, True])
def test_each_line_is_put_to_its_step_though_one_is_wrong(key, problem_id, turned):
    for n in range(2):
        drawn = drawn_of(key, problem_id, f"Invented {n}")
        for slip in drawn.working.steps:
            sheet = on_paper(drawn, slip, turned=turned)
            text = mixed(sheet, n) if n else "\n".join(sheet.values())
            found = match(drawn, text)
            assert {k: plain(t) for k, t in found.answers.items()} == {
                k: plain(t) for k, t in sheet.items()
            }
            assert found.stray == ()


@pytest.mark.parametrize(("key", "problem_id"), SEVERAL)
def test_lines_are_marked_as_the_same_figures_in_boxes(key, problem_id):
    drawn = drawn_of(key, problem_id)
    for slip in drawn.working.steps:
        sheet = on_paper(drawn, slip)
        free = mark(drawn, {WORKING: "\n".join(sheet.values())})
        boxes = mark(drawn, sheet)
        assert [one.verdict for one in free.steps] == [one.verdict for one in boxes.steps]
        assert free.marks == boxes.marks


def loaf():
    """500 g at 60 %, a cream of 75 % water and 20 % fat: 300 g, 400 g, 80 g, 16 % (by hand)."""
    cream = replace(composition.find("sour-cream"), name="a cream", water=0.75, fat=0.20)
    cream = replace(cream, water_range=Interval(0.75, 0.75))
    given = {"flour": 500.0, "hydration": 0.6, "liquid": cream}
    problem = Problem("p", "P", "", REGISTRY["fat brought"], level=3)
    return variant(problem, {name: Choice(value, str(value)) for name, value in given.items()})


def verdicts_of(text):
    return {one.step.key: one.verdict.name for one in mark(loaf(), {WORKING: text}).steps}


@pytest.mark.parametrize(
    "text",
    [
        "500 × 0.6 = 300\n300 ÷ 0.75 = 400\n400 × 0.2 = 80\n80 ÷ 500 = 16 %",
        "water = 500 g x 60% = 300 g; 300/.75=400; 400*20% = 80 g; fat: 80/500 = 0.16",
        "500 × 0.6 = 300 ÷ 0.75 = 400 × 0.2 = 80 ÷ 500 = 16 %",
        "First the water: 300 g.\nSo 400 g of cream\nfat 80 g\n16 %",
        "500 × 0,6 = 300\n300 : 0,75 = 400\n400 × 0,2 = 80\n80 : 500 × 100 = 16 %",
        "500 g of flour\n60 %\n500 × 0.6 = 300\n300 ÷ 0.75 = 400\n400 × 0.2 = 80\n80 ÷ 500 = 16 %\nAnswer: 16 %",
    ],
)
def test_reads_lines_as_students_write_them(text):
    assert set(verdicts_of(text).values()) == {"RIGHT"}


def test_a_way_of_ones_own_to_the_answer_earns_what_was_left_out():
    found = verdicts_of("500 × 0.6 ÷ 0.75 × 0.2 ÷ 500 = 16 %")
    assert found["fat percentage"] == "RIGHT"
    assert set(found.values()) == {"RIGHT", "NOT_NEEDED"}


def test_one_slip_costs_one_line():
    """By hand: × 0.75 gives 225; 225 × 0.2 = 45; ÷ 500 = 9 %."""
    drawn = loaf()
    result = mark(
        drawn, {WORKING: "500 × 0.6 = 300\n300 × 0.75 = 225\n225 × 0.2 = 45\n45 ÷ 500 = 9 %"}
    )
    assert [one.verdict.name for one in result.steps] == ["RIGHT", "WRONG", "FOLLOWS", "FOLLOWS"]
    assert result.steps[1].findings[0].mistake.key == "multiplied-by-water-content"
    assert result.steps[1].wrote == "300 × 0.75 = 225"


def test_a_sum_that_does_not_come_out_is_told():
    result = mark(loaf(), {WORKING: "500 × 0.6 = 350"})
    assert result.steps[0].verdict is Verdict.WRONG
    assert "Your sum gives 300, not 350" in result.steps[0].note
    read = page.read_back(loaf(), {WORKING: "water\n500 × 0.6 = 350"})
    assert read[WORKING].startswith("Line 2: Your sum gives 300, not 350.")


def test_a_line_that_leads_nowhere_is_told_kindly():
    says = mark(loaf(), {WORKING: "500 × 0.6 = 300\n17 × 23 = 391\n300 ÷ 0.75 = 400"}).says
    assert (
        says
        == "“17 × 23 = 391” leads to nothing that this problem needs. What did you want to know by it?"
    )


def test_a_box_counts_before_a_line():
    answers = {WORKING: "500 × 0.6 = 300", "water": "350 g"}
    assert mark(loaf(), answers).steps[0].wrote == "350 g"


def test_other_lines_are_another_try_and_the_same_are_not():
    one, other = {WORKING: "500 × 0.6 = 300"}, {WORKING: "500 × 0.6 = 300\n"}
    assert same_answers(loaf(), one, other)
    assert not same_answers(loaf(), one, {WORKING: "500 × 0.6 = 301"})


# Nothing that anybody writes takes long, or breaks.


@pytest.mark.parametrize(
    "text", [*EVERY, "=" * 5000, "1=" * 2500, "480 × 0.68 = 326\n" * 500, "(" * 3000]
)
def test_any_text_is_marked(text):
    result = mark(loaf(), {WORKING: text})
    assert result.marks <= result.out_of
    assert len(lines(text)) <= MOST_LINES
    assert sum(map(len, lines(text))) <= LONGEST_WORKING


# Where lines come from.


def sheet_of(student="Ada Invented"):
    drawn = drawn_of(*FREE, student)
    return drawn, "\n".join(on_paper(drawn, "liquid").values())


def test_the_page_takes_lines_and_names_no_step_that_is_not_shown():
    drawn, text = sheet_of()
    values = {
        "name": FREE[0],
        "student": "Ada Invented",
        "problem": FREE[1],
        "now": "1",
        "action": "mark",
    }
    first = text.splitlines()[0]
    answer = page.respond(values | {"answers": f'{{"{FREE[1]}": {{"working": "{first}"}}}}'})
    said = "".join("".join(part.itertext()) for part in answer["elements"])
    steps = [step.label for step in drawn.working.steps.values()]
    assert f"{steps[0]}: right" in said
    assert not any(label in said for label in steps[1:])
    assert "3 steps of the plan are not shown yet." in said


def test_the_boxes_of_a_free_problem_name_only_the_answer():
    html = write(*page.problem_list(load(FREE[0]), page.Work()))
    form = re.search(r'data-problem="fat-comes-along".*?</form>', html, re.DOTALL)[0]
    assert "<textarea" in form
    assert 'name="fat percentage"' in form
    assert 'name="liquid"' not in form


def test_a_hand_in_holds_the_lines_and_is_marked_by_them(tmp_path, capsys):
    _, text = sheet_of()
    answers = {FREE[1]: {WORKING: text}}
    path = tmp_path / "ada.json"
    path.write_text(write_handin(load(FREE[0]), "Ada Invented", answers), "utf-8")
    assert main(["mark", str(path)]) == 0
    printed = capsys.readouterr().out
    assert "The fat that comes along: 3 of 4" in printed
    assert text.splitlines()[1] in printed
    packed = pack(new_handin(load(FREE[0]), "Ada Invented", answers))
    assert read_handin(packed).answers == answers


def test_the_class_report_shows_the_lines(tmp_path):
    _, text = sheet_of()
    path = tmp_path / "ada.json"
    path.write_text(
        write_handin(load(FREE[0]), "Ada Invented", {FREE[1]: {WORKING: text}}), "utf-8"
    )
    out = tmp_path / "report.html"
    list(mark_files(Wanted((path,), load(FREE[0]), report=out))[1])
    html = out.read_text("utf-8")
    shown = BeautifulSoup(html, "html.parser").get_text(" ")
    assert all(plain(line) in plain(shown) for line in text.splitlines())


def test_a_sheet_has_lines_to_write_on_and_its_table_a_cell_for_them(tmp_path):
    problem_set = load(FREE[0])
    sheets = named(problem_set, ["Ada Invented"])
    html = worksheet(problem_set, sheets)
    assert "Your working, one line a step" in html
    drawn, text = sheet_of()
    assert drawn.working.steps["liquid"].label not in html
    path = tmp_path / "answers.csv"
    write_template(problem_set, sheets, path)
    head, row = path.read_text("utf-8-sig").splitlines()
    columns, cells = head.split(","), row.split(",")
    cells[columns.index(f"{FREE[1]}/{WORKING}")] = text.replace("\n", "; ")
    path.write_text("\n".join((head, ",".join(cells))), "utf-8")
    (entry,) = entries([path], problem_set)
    assert mark(drawn, entry.answers[FREE[1]]).marks == 3


def test_steps_in_columns_of_their_own_are_read_as_before(tmp_path):
    problem_set = load(FREE[0])
    drawn = drawn_of(*FREE)
    answers = right_answers(drawn)
    path = tmp_path / "answers.csv"
    head = ",".join(["student", *(f"{FREE[1]}/{key}" for key in answers)])
    path.write_text(f"{head}\nAda Invented,{','.join(answers.values())}\n", "utf-8")
    (entry,) = entries([path], problem_set)
    assert mark(drawn, entry.answers[FREE[1]]).all_right
