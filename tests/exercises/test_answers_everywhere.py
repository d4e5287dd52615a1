"""The same ways of writing a right answer, in the page, at the terminal, from a table and from paper."""

import json

import pytest

from docs.parts import problem_set as page
from exercises import handin, problems
from exercises.cli import main
from exercises.collect import Columns
from exercises.draws import draw
from exercises.marking import Verdict, mark
from exercises.paper import write_template
from exercises.publish.worksheet import named
from exercises.table import TableWriter
from tests.exercises.invented_class import entries
from tests.written import WAYS

# A set and a problem whose answer is of the kind.
PROBLEMS = {
    "mass": ("first-swaps", "yogurt-loaf"),
    "share": ("first-swaps", "gram-for-gram"),
    "time": ("safe-handling", "yogurt-dough-left"),
    "temperature": ("dough-temperature", "warm-the-water"),
    "number": ("scaling-and-rounding", "double-and-more"),
    "specific volume": ("side-by-side-bake", "light-or-heavy"),
}
CASES = [(kind, way) for kind, ways in WAYS.items() for way in ways]


def asked(kind):
    """The set, a student, the student's draw of its problem, and the last step."""
    key, id_ = PROBLEMS[kind]
    problem_set = problems.load(key)
    drawn = draw(problem_set, problem_set.problem(id_), "Ada Lee")
    return problem_set, "Ada Lee", drawn, drawn.working.answer


def written(kind, way):
    problem_set, student, drawn, step = asked(kind)
    number = drawn.working.weighed(step.key).partition(" ")[0]
    hours, minutes = divmod(round(drawn.working.values()[step.key]), 60)
    text = way.replace("{}", number).replace("{h}", str(hours)).replace("{m}", f"{minutes:02}")
    return problem_set, student, drawn, step, text


@pytest.mark.parametrize(("kind", "way"), CASES)
def test_marked_right(kind, way):
    _, _, drawn, step, text = written(kind, way)
    one = mark(drawn, {step.key: text}).steps[-1]
    assert one.verdict is Verdict.RIGHT, (text, one)


@pytest.mark.parametrize(("kind", "way"), CASES)
def test_marked_right_in_the_page_and_read_back_first(kind, way):
    problem_set, student, drawn, step, text = written(kind, way)
    work = json.dumps({drawn.problem.id: {step.key: text}})
    values = {"name": problem_set.key, "student": student, "problem": drawn.problem.id}
    values |= {"answers": work, "now": "1"}
    assert page.respond(values | {"action": "mark"})["verdicts"][step.key] == "right"
    read = page.respond(values | {"action": "read"})["read"]
    assert all(says.startswith("Read as ") for says in read.values()), read


@pytest.mark.parametrize("kind", WAYS)
def test_marked_right_at_the_terminal(kind, tmp_path, capsys):
    for way in WAYS[kind]:
        problem_set, student, drawn, step, text = written(kind, way)
        file = tmp_path / "one.json"
        answers = {drawn.problem.id: {step.key: text}}
        file.write_text(handin.write_handin(problem_set, student, answers), "utf-8")
        assert main(["mark", str(file)]) == 0
        assert f"{text}  [right]" in capsys.readouterr().out


@pytest.mark.parametrize("kind", WAYS)
def test_read_from_a_table_as_it_was_written(kind, tmp_path):
    """A spreadsheet may hold a formula's look-alike: it comes back as the text that was typed."""
    for way in WAYS[kind]:
        problem_set, student, drawn, step, text = written(kind, way)
        path = tmp_path / "answers.csv"
        with path.open("w", encoding="utf-8", newline="") as file:
            writer = TableWriter(file)
            writer.write("student", f"{drawn.problem.id}/{step.key}")
            writer.write(student, text)
        (entry,) = entries([path], problem_set, Columns())
        one = mark(drawn, entry.answers[drawn.problem.id]).steps[-1]
        assert one.verdict is Verdict.RIGHT, text


@pytest.mark.parametrize("kind", WAYS)
def test_read_from_the_table_for_paper(kind, tmp_path):
    for number, way in enumerate(WAYS[kind]):
        problem_set, student, drawn, step, text = written(kind, way)
        path = tmp_path / f"answers{number}.csv"
        write_template(problem_set, named(problem_set, [student]), path)
        head, row = path.read_text("utf-8-sig").splitlines()
        cells = row.split(",")
        cells[head.split(",").index(f"{drawn.problem.id}/{step.key}")] = text
        path.write_text("\n".join((head, ",".join(cells))), "utf-8")
        (entry,) = entries([path], problem_set)
        assert mark(drawn, entry.answers[drawn.problem.id]).steps[-1].verdict is Verdict.RIGHT


@pytest.mark.parametrize("written_", ["(b)", "b)", "b.", "B", " b ", "“b”"])
def test_a_choice_is_named_by_its_letter_however_it_is_written(written_):
    box = problems.load("the-whole-job").problem("the-plan").questions[0]
    assert box.chosen(written_) is box.options[1]


def test_a_choice_is_named_by_its_words_with_a_full_stop_or_letter():
    box = problems.load("the-whole-job").problem("the-plan").questions[0]
    words = box.options[2].text
    for text in (words, f"{words}.", f"c) {words}", f"c. {words.upper()}", f"(c) “{words}”"):
        assert box.chosen(text) is box.options[2], text
