"""The teacher's kit names problems that are there, and its keys are the sets' own answers."""

import re
from collections import Counter

import pytest

from calc import acid
from calc.composition import find
from calc.registry import for_bench
from calc.temperature import heat_capacity
from docs.course import lesson_outcomes, paper_test, step_answers
from docs.course.benches import bench_of
from docs.course.heads import PAGES
from docs.course.kit import drawn, found, outcomes_of, questions_of, ticket_of, written_tests
from exercises.lessons import LESSONS
from exercises.marking import mark, right_answers, solution

ORDER = list(LESSONS)
FORMS = ("A", "B")


def text_of(elements):
    return " ".join(" ".join(" ".join(each.itertext()).split()) for each in elements)


@pytest.mark.parametrize("lesson", LESSONS)
def test_an_exit_ticket_is_short_and_brings_one_older_problem_back(lesson):
    ticket = ticket_of(lesson)
    sets = [name.split("/")[0] for name in ticket.problems]
    older = [key for key in sets if key != lesson]
    assert len(ticket.problems) == 3
    assert len(older) == (1 if ORDER.index(lesson) else 0)
    assert all(ORDER.index(key) < ORDER.index(lesson) for key in older)
    assert all(len(each.parts) <= 5 for each in ticket.drawn("A"))


@pytest.mark.parametrize("lesson", LESSONS)
def test_each_outcome_of_a_lesson_has_a_place_where_it_shows(lesson):
    """Building the table raises where the two lists do not agree, or a problem is not there."""
    said = text_of(lesson_outcomes.build({"lesson": lesson}))
    assert all(outcome in said for outcome in outcomes_of(lesson))
    assert all(names for names in bench_of(lesson).outcomes)


@pytest.mark.parametrize("lesson", LESSONS)
def test_every_question_of_a_lesson_is_answered_for_its_teacher(lesson):
    [shown] = step_answers.build({"lesson": lesson})
    questions = list(questions_of(lesson))
    assert questions[0][0] == "Before you start"
    assert len(shown.findall("ul/li")) == len(questions)
    assert all(text_of([each]) for each in shown.findall("ul/li"))


def test_an_answer_tells_only_what_the_lesson_leaves_blank():
    said = text_of(step_answers.build({"lesson": "divide-by-the-water-content"}))
    blank = next(
        given for _, given in questions_of("divide-by-the-water-content") if "blank" in given
    )
    first, last = solution(drawn(blank["problem"], blank["draw"]))
    assert last in said
    assert first not in said


def test_the_units_go_through_the_whole_course_in_order():
    lessons = [name.split("/")[0] for test in written_tests().values() for name in test.problems]
    assert [key for key in ORDER if key in lessons] == list(dict.fromkeys(lessons))


@pytest.mark.parametrize("key", written_tests())
def test_a_test_has_two_forms_and_a_key_that_earns_every_mark(key):
    shown = [text_of(paper_test.build({"of": key, "form": form})) for form in FORMS]
    assert shown[0] != shown[1]
    for form in FORMS:
        said = text_of(paper_test.build({"of": key, "form": form, "show": "key"}))
        for variant in written_tests()[key].drawn(form):
            assert all(line[1:] in said for line in solution(variant))
            right = mark(variant, right_answers(variant))
            assert all(step.verdict.earns for step in right.steps)


@pytest.mark.parametrize("key", written_tests())
def test_a_test_asks_for_numbers_and_for_reasons(key):
    asked = Counter(bool(found(name)[1].questions) for name in written_tests()[key].problems)
    assert asked[False] >= 3
    assert asked[True] >= 1


def test_what_nobody_knows_is_told_with_what_there_is():
    with pytest.raises(ValueError, match="There are unit-1"):
        paper_test.build({"of": "unit-9"})
    with pytest.raises(ValueError, match="no problem of preferments"):
        drawn("preferments/kneading", "A")


MILK, EGG = for_bench(find("whole-milk")).water, for_bench(find("egg")).water

FLOUR, WATER = (heat_capacity(find(key), 10, 30) for key in ("bread-flour", "water"))
LEMON, BUTTERMILK = (acid.of(find(key)).mmol for key in ("lemon-juice", "buttermilk"))


@pytest.mark.parametrize("lesson", LESSONS)
def test_each_question_for_a_class_has_its_answer_beside_it(lesson):
    page = (PAGES / "teachers" / "lessons" / f"{lesson}.md").read_text("utf-8")
    asked = page.partition("## Questions to ask\n")[2].partition("\n## ")[0].split("\n- ")[1:]
    assert len(asked) >= 3
    assert not [each for each in asked if not re.search(r"\*[^*]+[.]\*$", each.strip())]


@pytest.mark.parametrize(
    ("lesson", "words", "shown", "value", "margin"),
    [
        ("bakers-percentage", "1680 g", 1680, 1000 * 1.68, 0.5),
        ("bakers-percentage", "about 595 g", 595, 1000 / 1.68, 0.5),
        ("what-hydration-means", "about 53 %", 53, 100 * 300 * MILK / 500, 0.5),
        ("finding-the-water", "more than 3 %", 3, 100 * 0.5 / 15, 0.5),
        ("part-swaps-blends-eggs", "about 8.6 g of milk", 8.6, 10 * EGG / MILK, 0.05),
        ("what-rides-along", "about a sixth", 1 / 6, find("butter").water, 0.01),
        (
            "dough-temperature",
            "about 16 or 17 °C",
            16.5,
            (30 * FLOUR + 10 * WATER) / (FLOUR + WATER),
            0.5,
        ),
        ("acidity-and-feel", "about nine times", 9, LEMON / BUTTERMILK, 0.5),
        ("preferments", "One third is water at 50 %", 1 / 3, 0.5 / (1 + 0.5), 1e-9),
        ("scaling-and-rounding", "half a per cent of 500 g", 0.5, 100 * 2.5 / 500, 1e-9),
    ],
)
def test_a_number_in_an_answer_to_a_teachers_question_is_right(lesson, words, shown, value, margin):
    page = (PAGES / "teachers" / "lessons" / f"{lesson}.md").read_text("utf-8")
    assert words in page
    assert value == pytest.approx(shown, abs=margin)
