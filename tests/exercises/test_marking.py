"""Marking from the student's own working."""

import pytest

from calc import composition
from calc.quantities import REGISTRY
from exercises.draws import Choice, Problem, Variant, variant
from exercises.hints import hints
from exercises.marking import Verdict, mark, solution


def problem(ask: str, **values: float | str) -> Variant:
    """A variant with the given numbers in it; ingredients by name."""
    quantity = REGISTRY[ask]
    picked = {}
    for name, value in values.items():
        value = composition.read(value) if isinstance(value, str) else value
        picked[name.replace("_", " ")] = Choice(value, str(value))
    return variant(Problem("p", "P", "", quantity, {}), picked)


def loaf(water: str) -> Variant:
    """Common practice, no source: the dough that bakers often tell the division with."""
    return problem("new liquid", flour=140.0, hydration=0.68, liquid=f"the liquid, {water} water")


def verdicts(result) -> list[Verdict]:
    return [one.verdict for one in result.steps]


def mistakes(result) -> set[str]:
    return {finding.mistake.key for one in result.steps for finding in one.findings}


@pytest.mark.parametrize(
    ("water", "answer"),
    [("90 %", "105 g"), ("90 %", "106 g"), ("88 %", "108 g"), ("74 %", "128 g")],
)
def test_common_practice_answers_are_right(water, answer):
    """Common practice, no source: the usual answers for 140 g of flour at 68 %."""
    result = mark(loaf(water), {"liquid": answer})
    assert result.marks == result.out_of == 2


@pytest.mark.parametrize(
    "text",
    [
        "128 g",
        "128",
        "128,4 g",
        "128.6 g",
        "129",
        "0.128 kg",
        "0,129 kg",
        "4.5 oz",
        "4.54 oz",
        "4,5 oz",
        "0.28 lb",
    ],
)
def test_accepts_every_way_of_writing_it(text):
    assert mark(loaf("74 %"), {"liquid": text}).all_right


@pytest.mark.parametrize("text", ["68 %", "0.68", "68", "67.7 %", "0.677", "67,7 %"])
def test_accepts_a_percentage_in_every_way(text):
    one = problem("hydration", flour=520.0, liquid="a cream, 80 % water", liquid_weight=440.0)
    assert mark(one, {"hydration": text}).all_right, one.working.values()


def test_every_step_or_just_the_last():
    whole = mark(loaf("74 %"), {"water": "95 g", "liquid": "128 g"})
    assert verdicts(whole) == [Verdict.RIGHT, Verdict.RIGHT]
    last = mark(loaf("74 %"), {"liquid": "128 g"})
    assert verdicts(last) == [Verdict.NOT_NEEDED, Verdict.RIGHT]
    assert last.marks == whole.marks == 2


def test_follow_through_one_slip_costs_one_mark():
    result = mark(loaf("74 %"), {"water": "85 g", "liquid": "115 g"})
    assert verdicts(result) == [Verdict.WRONG, Verdict.FOLLOWS]
    assert (result.marks, result.out_of) == (1, 2)


def test_right_last_step_after_a_wrong_one_is_right():
    result = mark(loaf("74 %"), {"water": "85 g", "liquid": "129 g"})
    assert verdicts(result) == [Verdict.WRONG, Verdict.RIGHT]


def test_a_wrong_answer_alone_earns_nothing_and_its_slip_is_named_once():
    # 140 ÷ 0.68 = 205.9, then ÷ 0.74: only the first step went wrong, but no step is shown.
    result = mark(loaf("74 %"), {"liquid": "278 g"})
    assert verdicts(result) == [Verdict.BLANK, Verdict.WRONG]
    assert mistakes(result) == {"divided-by-percentage"}
    assert result.marks == 0


@pytest.mark.parametrize(
    ("answer", "mistake"),
    [
        ("70.4 g", "multiplied-by-water-content"),
        ("95 g", "gram-for-gram"),
        ("120 g", "added-missing-percentage"),
        ("366 g", "solids-for-water"),
        ("4.5 g", "ounces-for-grams"),
        ("12865 g", "percent-for-fraction"),
        ("1.29 g", "percent-for-fraction"),
        ("136 g", "rounded-too-early"),
    ],
)
def test_names_the_known_mistakes_of_a_swap(answer, mistake):
    result = mark(loaf("74 %"), {"water": "95.2 g", "liquid": answer})
    assert verdicts(result) == [Verdict.RIGHT, Verdict.WRONG]
    assert mistakes(result) == {mistake}
    assert result.marks == 1


def test_names_fat_taken_for_water():
    one = problem("new liquid", flour=500.0, hydration=0.65, liquid="sour-cream")
    result = mark(one, {"water": "325 g", "liquid": "1625 g"})
    assert mistakes(result) == {"fat-for-water"}


@pytest.mark.parametrize(
    ("answer", "mistake"),
    [
        ("31 %", "whole-dough"),
        ("84.6 %", "liquid-for-water"),
        ("148 %", "upside-down"),
        ("0.68 %", "percent-for-fraction"),
        ("6769 %", "percent-for-fraction"),
    ],
)
def test_names_the_known_mistakes_of_hydration(answer, mistake):
    one = problem(
        "hydration",
        flour=520.0,
        liquid="a cream, 80 % water",
        liquid_weight=440.0,
        other_ingredients=170.0,
    )
    assert mistakes(mark(one, {"hydration": answer})) == {mistake}


def test_a_mistake_is_sought_from_the_students_own_figure():
    # 85 is wrong, and 85 × 0.74 = 62.9 is a second, named mistake on it.
    result = mark(loaf("74 %"), {"water": "85 g", "liquid": "62.9 g"})
    assert verdicts(result) == [Verdict.WRONG, Verdict.WRONG]
    assert {f.mistake.key for f in result.steps[1].findings} == {"multiplied-by-water-content"}


@pytest.mark.parametrize(
    ("text", "says"),
    [("128 ml", "volume"), ("lots", "cannot read a number"), ("74 %", "does not fit here")],
)
def test_what_cannot_be_read_is_told_and_is_not_a_wrong_answer(text, says):
    result = mark(loaf("74 %"), {"water": "95 g", "liquid": text})
    assert verdicts(result) == [Verdict.RIGHT, Verdict.UNREAD]
    assert says in result.steps[1].says


def test_no_number_makes_the_marking_stumble():
    for answer in ("0", "-5 g", "0 %", "99999999 g", "0.0000001 g"):
        for ask in ("liquid", "water"):
            assert mark(loaf("74 %"), {ask: answer}).marks < 2
            assert mark(loaf("74 %"), {"water": answer, "liquid": answer}).marks == 0


def test_an_empty_answer_earns_nothing():
    result = mark(loaf("74 %"), {"water": " ", "nonsense": "128 g"})
    assert verdicts(result) == [Verdict.BLANK, Verdict.BLANK]
    assert not result.answered


def test_hints_tell_more_each_time_and_the_solution_tells_all():
    one = loaf("74 %")
    question, size, relation, numbers = hints(one, "liquid")
    assert question.endswith("?")
    assert size == (
        "It must come to more than your figure for “water needed”, because that is only a part of it."
    )
    assert "water needed ÷ water content of the liquid" in relation
    assert "divide" in relation
    assert numbers.endswith("95.2 g ÷ 0.74")
    assert solution(one)[-1].endswith("= 128.6 g")


def test_where_no_mistake_explains_a_number_its_size_is_told():
    """140 g of flour at 68 % need 95.2 g of water (common practice): 60 g of yogurt cannot bring it."""
    told = mark(loaf("74 %"), {"water": "95 g", "liquid": "61 g"}).steps[1]
    assert told.findings == []
    assert told.says == (
        "Look at the size first. It must be more than 95 g, because the water needed must be in it, and more."
    )


def test_where_the_size_is_possible_the_next_smaller_question_is_asked():
    told = mark(loaf("74 %"), {"liquid": "176 g"}).steps[1]
    assert told.findings == []
    assert told.says == "Not yet. First find the water needed, then go on from there."


def test_a_figure_of_nought_spoils_no_step_that_does_not_divide_by_it():
    """A later step may divide by it; what follows from the figures before is still seen to follow."""
    dough = problem(
        "overall hydration with a preferment",
        flour=700.0,
        liquid="water",
        liquid_weight=500.0,
        preferment_weight=240.0,
        preferment_hydration=1.0,
    )
    typed = {"flour": "120 g", "liquid": "180 g", "total flour": "0 g", "total water": "680 g"}
    marked = {one.step.key: one.verdict for one in mark(dough, typed).steps}
    assert marked["total water"] is Verdict.FOLLOWS  # 500 + 180
