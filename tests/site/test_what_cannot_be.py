"""Every tool says that a liquid cannot make bread, in place of a weight, or before it."""

import pytest

from docs.parts import (
    acidity_and_feel,
    balance_formula,
    dough_temperature,
    liquid_swap,
    scale_formula,
    side_by_side,
)
from docs.parts.shared.fields import FieldErrors
from exercises.publish.html import write

WITH = {"with": "salt 2 %; instant-yeast 1 %"}


def fields(part, **said: str) -> dict[str, str]:
    made = part.PART.fields(WITH) if hasattr(part, "PART") else part.fields_of(WITH)
    return made | said


TOOLS = [
    (liquid_swap, "becomes"), (balance_formula, "becomes"), (scale_formula, "was"),
    (dough_temperature, "was"), (acidity_and_feel, "liquid1"), (side_by_side, "liquid2"),
]  # fmt: skip


def respond(part, values):
    return (part.PART if hasattr(part, "PART") else part).respond(values)


@pytest.mark.parametrize(("part", "field"), TOOLS, ids=lambda x: getattr(x, "__name__", x))
@pytest.mark.parametrize("liquid", ["spirit", "white-vinegar", "lemon-juice"])
def test_no_weight_at_the_field_that_chose_it(part, field, liquid):
    with pytest.raises(FieldErrors) as stopped:
        respond(part, fields(part, **{field: liquid}))
    said = stopped.value.messages
    assert list(said) == [field]
    assert said[field].startswith("This cannot make bread.")


@pytest.mark.parametrize("part", [liquid_swap, balance_formula])
@pytest.mark.parametrize("liquid", ["condensed-milk", "red-wine"])
def test_what_only_all_the_water_of_a_dough_makes_too_much(part, liquid):
    with pytest.raises(FieldErrors):
        respond(part, fields(part, becomes=liquid))


@pytest.mark.parametrize(("part", "field"), TOOLS, ids=lambda x: getattr(x, "__name__", x))
def test_a_warning_stands_before_the_first_number(part, field):
    answer = respond(part, fields(part, **{field: "cottage-cheese"}))
    html = write(*answer["elements"])
    warned = html.lower().find("most of this dough’s water is held in curd".replace("’", "'"))
    assert warned >= 0
    if 'class="dw-answer"' in html:
        assert warned < html.index('class="dw-answer"')


def test_the_swap_says_how_much_works_and_that_much_does():
    values = fields(liquid_swap, becomes="spirit")
    with pytest.raises(FieldErrors) as stopped:
        respond(liquid_swap, values)
    said = stopped.value.messages["becomes"]
    most = said.split("Up to ")[1].split(" % of the liquid")[0]
    assert respond(liquid_swap, values | {"part": f"{most} %"})["says"].startswith("Weigh")


def test_a_row_of_the_formula_is_named_where_it_is_the_cause():
    values = fields(liquid_swap, becomes="whole-milk", with3="sugar", amount3="60 %")
    with pytest.raises(FieldErrors) as stopped:
        respond(liquid_swap, values)
    assert list(stopped.value.messages) == ["with3"]
