"""Questions whose answers are chosen, ordered or filled into a table; and what hints cost."""

import pytest

from exercises.marking import Verdict, introduced, mark, right_answers, same_answers, solution
from exercises.problems import draw, read_set
from exercises.setfile import SetError

SET = """\
title: Every kind
version: 1
problems:
  - id: why
    title: Which is drier?
    ask: choice
    story: Two doughs, the same flour. One takes 300 g of milk, the other 300 g of water.
    questions:
      - ask: Which dough is drier?
        options:
          - {text: the milk dough, right: yes, because: Milk is not all water.}
          - {text: the water dough, because: Water is all water.}
          - {text: they are the same}
      - ask: Why?
        options:
          - {text: milk weighs more}
          - {text: part of the milk is not water, right: yes}
  - id: order
    title: The wettest first
    ask: order
    by: water content
    story: Put them in order, the one with most water first.
    items: [sour-cream, water, whole-milk, heavy-cream]
  - id: table
    title: The whole formula
    ask: converted formula
    story: "{flour} of flour, {hydration}, {liquid}, salt {salt}, butter {butter}."
    hint cost: [0, 0.5, 1]
    givens:
      flour: 500 g
      hydration: 65 %
      liquid: "a drink, 80 % water"
      salt: 2 %
      butter: 10 %
"""
EVERY = read_set(SET, "every.yml")


def drawn(problem_id, student="Ada"):
    return draw(EVERY, EVERY.problem(problem_id), student)


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


def test_options_are_shuffled_by_name_and_stay_put():
    orders = {
        tuple(o.text for o in drawn("why", f"student {n}").boxes[0].options) for n in range(30)
    }
    assert len(orders) == 6
    assert drawn("why", " ADA ").boxes == drawn("why").boxes


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
    text = SET.replace(
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
    assert mark(variant, cells).marks == 5
    slip = cells | {"liquid": "325 g", "dough": "885 g"}
    result = mark(variant, slip)
    assert result.marks == 4
    assert {s.step.key: s.verdict for s in result.steps}["dough"] is Verdict.FOLLOWS
    # Every cell is asked for: a right last cell does not fill the others.
    assert mark(variant, {"dough": cells["dough"]}).marks == 1


def test_hints_cost_what_the_set_says():
    variant = drawn("table")
    cells = {step.key: variant.working.weighed(step.key) for step in variant.working.steps.values()}
    for opened, marks in ((0, 5), (1, 5), (2, 5), (3, 4.5), (4, 4)):
        assert mark(variant, cells, hints={"liquid": opened}).marks == marks


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        ("right: yes, because: Milk", "because: Milk", "exactly one option"),
        ("{text: they are the same}", "{text: the water dough}", "say the same"),
        ("right: yes, because: Milk", "right: maybe, because: Milk", "yes or no"),
        ("by: water content", "by: water contents", "Did you mean “water content”?"),
        (
            "[sour-cream, water, whole-milk, heavy-cream]",
            "[sour-cream]",
            "a list of 3 to 8; this has 1",
        ),
        ("[0, 0.5, 1]", "[0, 1]", "each of the four hints"),
        ("    by: water content\n", "", "lacks “by”"),
    ],
)
def test_says_what_is_wrong_with_a_question(good, bad, says):
    assert good in SET
    with pytest.raises(SetError, match=says):
        read_set(SET.replace(good, bad, 1), "every.yml")


POOL = """\
title: Pools
version: 1
problems:
  - id: pick
    title: Which bread?
    ask: choice
    level: 2
    story: A guest is allergic to milk.
    questions:
      - ask: Which liquid is safe for this guest?
        show: 3
        options:
          - {text: water, right: yes}
          - {text: apple juice, right: yes}
          - {text: buttermilk}
          - {text: cream}
          - {text: whole milk}
  - id: order
    title: The wettest first
    ask: order
    by: water content
    story: Put them in order.
    items: [water, whole-milk, sour-cream, heavy-cream, egg, butter]
    show: 4
"""


def test_a_draw_shows_some_of_a_pool_and_one_right_answer():
    pools = read_set(POOL, "pools.yml")
    problem = pools.problem("pick")
    assert problem.level == 2
    seen = set()
    for n in range(40):
        variant = draw(pools, problem, f"student {n}")
        options = variant.boxes[0].options
        assert len(options) == 3
        assert sum(option.right for option in options) == 1
        assert mark(variant, right_answers(variant)).all_right
        seen |= {option.text for option in options}
    assert seen == {"water", "apple juice", "buttermilk", "cream", "whole milk"}


def test_a_draw_orders_some_of_the_items():
    pools = read_set(POOL, "pools.yml")
    drawn = [draw(pools, pools.problem("order"), f"student {n}") for n in range(20)]
    assert len({frozenset(item.name for item in variant.items) for variant in drawn}) > 5
    for variant in drawn:
        assert len(variant.boxes) == len(variant.items) == 4
        assert mark(variant, right_answers(variant)).all_right


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("show: 3", "show: 9", "“show” must be a whole number from 2 to 5"),
        ("{text: buttermilk}", "{text: buttermilk, right: yes}", ""),
        ("show: 3", "show: 5", "To show 5, give one right option or more, and 4 wrong ones"),
        ("level: 2", "level: 4", "“level” must be a whole number from 1 to 3"),
    ],
)
def test_a_pool_that_cannot_be_shown_is_refused(old, new, says):
    text = POOL.replace(old, new)
    if not says:
        assert read_set(text, "pools.yml")
        return
    with pytest.raises(SetError, match=says):
        read_set(text, "pools.yml")


def told(order, problem_id="order"):
    """What a ranking's marking says of all items, and each step's verdict and words."""
    variant = drawn(problem_id)
    answers = {box.key: text for box, text in zip(variant.boxes, order, strict=True)}
    result = mark(variant, answers)
    return result.says, [(one.verdict, one.says) for one in result.steps]


def test_a_ranking_speaks_of_order_and_never_of_a_right_place():
    """Water, whole milk and sour cream stand in order, and none of them in its place."""
    said, steps = told(["heavy cream", "water", "whole milk", "sour cream"])
    assert said == "These stand in the right order: water, whole milk, sour cream."
    assert steps[0] == (Verdict.OUT_OF_ORDER, "Heavy cream belongs after sour cream.")
    assert steps[1:] == [(Verdict.IN_ORDER, "")] * 3
    said, steps = told(["whole milk", "sour cream", "heavy cream", "water"])
    assert steps[3] == (Verdict.OUT_OF_ORDER, "Water belongs before whole milk.")
    assert told(RIGHT)[0] == "All of them stand in the right order."
    said, steps = told(RIGHT[::-1])
    assert said == "No two of these stand in the right order yet."
    assert steps == [(Verdict.OUT_OF_ORDER, "")] * 4


def test_an_item_chosen_again_or_alone_and_an_empty_place_earn_nothing_and_are_told():
    said, steps = told(["whole milk", "whole milk", "sour cream", "heavy cream"])
    assert said == "These stand in the right order: sour cream, heavy cream."
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
    text = SET.replace("text: the milk dough,", "text: The milk dough.,")
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
