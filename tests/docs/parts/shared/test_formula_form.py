"""A formula in a form: several flours, and what a percentage is of."""

import pytest

from calc import units
from calc.formula import Formula
from docs.parts import PARTS
from docs.parts.shared.fields import FieldErrors, FieldReader
from docs.parts.shared.formula_form import formula_fields, read_formula, row_names

TOOLS = ("liquid-swap", "balance-formula", "dough-temperature", "scale-formula", "preferment-form")


def read(**typed):
    values = formula_fields({}) | {name.replace("_", "-"): text for name, text in typed.items()}
    reader = FieldReader(values, units.Style())
    items, _ = read_formula(reader)
    reader.finish()
    names = row_names(values)
    return {
        name: (item.ingredient.key, round(item.grams, 6))
        for name, item in zip(names, items, strict=True)
    }


def complaints(**typed):
    with pytest.raises(FieldErrors) as raised:
        read(**typed)
    return raised.value.messages


def test_a_percentage_is_of_all_the_flour():
    # By hand: 400 + 100 = 500 g of flour, of which 2 % are 10 g and 65 % are 325 g.
    found = read(flour="400 g", with1="salt", amount1="2 %", with2="rye-flour", amount2="100 g")
    assert found == {
        "flour": ("bread-flour", 400), "amount2": ("rye-flour", 100),
        "liquid": ("water", 325), "amount1": ("salt", 10),
    }  # fmt: skip
    # Flours come first, wherever they are typed.
    assert list(found) == ["flour", "amount2", "liquid", "amount1"]


@pytest.mark.parametrize(
    ("flour", "rye", "spelt", "grams"),
    [
        ("400 g", "20 %", "", (400, 100, 0)),
        ("350 g", "20 %", "10 %", (350, 100, 50)),
        ("80 %", "100 g", "", (400, 100, 0)),
        ("14 oz", "2 oz", "", (396.893, 56.699, 0)),
        ("300 g", "25 %", "75 g", (300, 125, 75)),
    ],
)
def test_a_flour_in_percent_is_of_all_the_flour(flour, rye, spelt, grams):
    found = read(flour=flour, with1="rye-flour", amount1=rye, with2="spelt-flour", amount2=spelt)
    weighed = [found[name][1] for name in ("flour", "amount1", "amount2")]
    assert weighed == pytest.approx(grams, abs=0.001)
    assert found["liquid"][1] == pytest.approx(0.65 * sum(grams), abs=0.001)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"flour": "", "amount1": "100 g"}, "flour"),
        ({"flour": "80 %", "amount1": "20 %"}, "flour"),
        ({"flour": "400 g", "amount1": "100 %"}, "amount1"),
        ({"flour": "400 g", "amount1": "a little"}, "amount1"),
    ],
)
def test_flours_that_cannot_be_counted(typed, field):
    assert field in complaints(with1="rye-flour", **typed)


def test_each_tool_counts_all_the_flour():
    typed = {"flour": "400 g", "with1": "rye-flour", "amount1": "100 g"}
    for tool in TOOLS:
        part = PARTS[tool]
        cells = part.respond(part.fields({}) | typed)["cells"]
        assert cells["before dough"] == "825 g", tool
        if tool in ("liquid-swap", "balance-formula", "scale-formula"):
            assert (cells["share flour"], cells["share amount1"]) == ("80.0 %", "20.0 %")


def test_one_flour_twice_is_all_of_it():
    found = read(flour="400 g", with1="bread-flour", amount1="100 g")
    assert found["liquid"] == ("water", 325)


def test_what_a_preferment_is_made_of():
    part = PARTS["preferment-form"]
    typed = {"flour": "400 g", "with1": "rye-flour", "amount1": "100 g", "ahead": "120 g"}
    cells = part.respond(part.fields({}) | typed | {"pre-flour": "rye-flour"})["cells"]
    # By hand: a poolish is half flour, so 60 g of the rye, and 40 g are left.
    assert [cells[f"{kind} amount1"] for kind in ("ahead", "after")] == ["60 g", "40 g"]
    with pytest.raises(FieldErrors) as raised:
        part.respond(part.fields({}) | typed | {"pre-flour": "spelt-flour"})
    assert "There is no whole spelt flour in the formula" in raised.value.messages["pre-flour"]


def test_the_flour_of_a_formula_is_all_of_its_flours():
    values = formula_fields({"with": "rye-flour 20 %; salt 2 %"})
    formula = Formula(tuple(read_formula(FieldReader(values, units.Style()))[0]))
    assert formula.flour == 625
    assert [formula.bakers_percentage(item) for item in formula.items] == pytest.approx(
        [0.8, 0.2, 0.65, 0.02]
    )


def test_all_the_flour_is_warmed_together():
    part = PARTS["dough-temperature"]
    typed = {"with3": "rye-flour", "amount3": "100 g", "liquid-may": "fixed", "liquid-at": "5 °C"}
    says = part.respond(part.fields({}) | typed)["says"]
    assert says.count("Warm ") == 1
    assert "Warm all the flour" in says


@pytest.mark.parametrize("named", ["salt", "ghee", "olive-oil", "bread-flour"])
@pytest.mark.parametrize(
    ("part", "field"),
    [
        ("liquid-swap", "becomes"),
        ("balance-formula", "becomes"),
        ("one-swap", "becomes"),
        ("one-swap", "was"),
        ("preferment-form", "final"),
        ("acidity-and-feel", "liquid2"),
    ],
)
def test_what_takes_a_liquids_place_is_a_liquid(part, field, named):
    """An address may name anything; fat and salt may hold no water at all, so none can be divided by it."""
    tool = PARTS[part]
    with pytest.raises(FieldErrors) as raised:
        tool.result(tool.fields({}) | {field: named})
    assert "is no liquid" in raised.value.messages[field]
