"""Questions whose answers are chosen, ordered or filled into a table; and what hints cost."""

import pytest

from exercises.draws import draw
from exercises.marking import Verdict, introduced, mark, same_answers, solution
from exercises.problems import read_set
from tests.exercises.set_texts import EVERY_KIND, drawn


def letters(variant, wanted):
    return {
        box.key: letter
        for box, text in zip(variant.boxes, wanted, strict=True)
        for letter, option in box.lettered()
        if option.text == text
    }


def test_a_choice_is_marked_by_letter_or_words_and_says_why():
    variant = drawn("why")
    right = letters(variant, ["the milk dough", "part of the milk is not water"])
    assert mark(variant, right).marks == 2
    assert mark(variant, {"question 1": "The Milk dough"}).marks == 1
    wrong = mark(variant, letters(variant, ["the water dough", "milk weighs more"]))
    assert wrong.marks == 0
    assert wrong.steps[0].says == "Water is all water."
    unread = mark(variant, {"question 1": "z"}).steps[0]
    assert (unread.verdict, unread.says) == (Verdict.UNREAD, "Choose one of a, b, c.")


RIGHT = ["water", "whole milk", "sour cream", "heavy cream"]


@pytest.mark.parametrize(
    ("order", "marks"),
    [
        (RIGHT, 4),
        (["whole milk", "water", "sour cream", "heavy cream"], 3),
        (["heavy cream", "water", "whole milk", "sour cream"], 3),
        (RIGHT[::-1], 0),
        (["water", "water", "sour cream", "heavy cream"], 2),
        (["water"] * 4, 0),
    ],
)
def test_moving_one_item_of_an_order_costs_one_mark(order, marks):
    variant = drawn("order")
    assert mark(variant, letters(variant, order)).marks == marks


def test_the_solution_of_an_order_gives_the_figures_that_decide_it():
    assert solution(drawn("order")) == [
        "water: 100.0 % water",
        "whole milk: 88.3 % water",
        "sour cream: 74.5 % water",
        "heavy cream: 57.7 % water",
    ]


def test_equal_items_of_an_order_may_stand_either_way():
    text = EVERY_KIND.replace(
        "[sour-cream, water, whole-milk, heavy-cream]", "[water, skim-milk, milk-1, butter]"
    )
    problem_set = read_set(text.replace("by: water content", "by: fat content"), "x.yml")
    variant = draw(problem_set, problem_set.problem("order"), "Ada")
    for pair in (["skim milk", "water"], ["water", "skim milk"]):
        assert mark(variant, letters(variant, ["butter", "1 % milk", *pair])).marks == 4
    assert solution(variant)[-1].endswith("(counts as equal to skim milk)")


def test_a_table_is_followed_through_cell_by_cell():
    variant = drawn("table")
    cells = {step.key: variant.working.weighed(step.key) for step in variant.working.steps.values()}
    assert mark(variant, cells).marks == 7
    slip = cells | {"liquid": "325 g", "dough": "915 g"}
    result = mark(variant, slip)
    assert result.marks == 6
    assert {s.step.key: s.verdict for s in result.steps}["dough"] is Verdict.FOLLOWS
    # Every cell is asked for: a right last cell does not fill the others.
    assert mark(variant, {"dough": cells["dough"]}).marks == 1


def test_hints_cost_what_the_set_says():
    variant = drawn("table")
    cells = {step.key: variant.working.weighed(step.key) for step in variant.working.steps.values()}
    for opened, marks in ((0, 7), (1, 7), (2, 7), (3, 6.5), (4, 6)):
        assert mark(variant, cells, hints={"liquid": opened}).marks == marks


def told(order, problem_id="order"):
    """What a ranking's marking says of all items, and each step's verdict and words."""
    variant = drawn(problem_id)
    answers = {box.key: text for box, text in zip(variant.boxes, order, strict=True)}
    result = mark(variant, answers)
    return result.says, [(one.verdict, one.says) for one in result.steps]


def test_a_ranking_speaks_of_order_and_never_of_a_right_place():
    """Water, whole milk and sour cream are in order, and none of them in its place."""
    said, steps = told(["heavy cream", "water", "whole milk", "sour cream"])
    assert said == "These are in the right order: water, whole milk, sour cream."
    assert steps[0] == (Verdict.OUT_OF_ORDER, "Heavy cream belongs after sour cream.")
    assert steps[1:] == [(Verdict.IN_ORDER, "")] * 3
    said, steps = told(["whole milk", "sour cream", "heavy cream", "water"])
    assert steps[3] == (Verdict.OUT_OF_ORDER, "Water belongs before whole milk.")
    assert told(RIGHT)[0] == "All of them are in the right order."
    said, steps = told(RIGHT[::-1])
    assert said == "No two of these are in the right order yet."
    assert steps == [(Verdict.OUT_OF_ORDER, "")] * 4


def test_an_item_chosen_again_or_alone_and_an_empty_place_earn_nothing_and_are_told():
    said, steps = told(["whole milk", "whole milk", "sour cream", "heavy cream"])
    assert said == "These are in the right order: sour cream, heavy cream."
    twice = (Verdict.UNREAD, "Whole milk is chosen 2 times. Give it one place.")
    assert steps == [twice, twice, (Verdict.IN_ORDER, ""), (Verdict.IN_ORDER, "")]
    said, steps = told(["", "water", "", ""])
    assert said == ""
    assert [verdict for verdict, _ in steps] == [
        Verdict.BLANK,
        Verdict.UNREAD,
        Verdict.BLANK,
        Verdict.BLANK,
    ]
    assert steps[1][1].startswith("One alone has no order.")


def test_a_solution_ends_each_sentence_once():
    text = EVERY_KIND.replace("text: the milk dough,", "text: The milk dough.,")
    problem_set = read_set(text, "every.yml")
    first = solution(draw(problem_set, problem_set.problem("why"), "Ada"))[0]
    assert first.startswith("Which dough is drier? ")
    assert first.endswith(": The milk dough. Milk is not all water.")
    assert introduced("Which dough is drier?") == "Which dough is drier?"
    assert introduced("liquid") == "liquid:"


def test_answers_that_read_the_same_are_the_same():
    table, order = drawn("table"), drawn("order")
    assert same_answers(table, {"liquid": "355"}, {"liquid": " 355 g", "water": ""})
    assert same_answers(table, {"liquid": "0.355 kg"}, {"liquid": "355,0 g"})
    assert not same_answers(table, {"liquid": "355"}, {"liquid": "356"})
    assert not same_answers(table, {"liquid": "355"}, {"liquid": "355", "water": "1 g"})
    assert not same_answers(table, {"liquid": "lots"}, {"liquid": "more"})
    letter = letters(order, RIGHT)["place 1"]
    assert same_answers(order, {"place 1": letter}, {"place 1": "Water"})
    assert not same_answers(order, {"place 1": letter}, {"place 1": "whole milk"})
