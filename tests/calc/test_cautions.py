"""The cautions that come before a result."""

import pytest

from calc import composition
from calc.cautions import COLD, HOT, HOURS, allergens_of, cautions, on_the_bench
from calc.composition import find
from calc.formula import Formula, Item
from calc.own_ingredient import from_record

FLOUR = Item(find("bread-flour"), 500)


def dough(*keys: str) -> Formula:
    return Formula((FLOUR, *(Item(find(key), 100) for key in keys)))


def kinds(before: Formula, after: Formula) -> list[str]:
    return [each.key for each in cautions(before, after)]


def text(before: Formula, after: Formula, key: str) -> str:
    return next(each.text for each in cautions(before, after) if each.key == key)


def test_a_new_allergen_comes_first_with_the_laws_names():
    found = cautions(dough("water"), dough("almond-drink"))
    assert found[0].key == "allergen"
    assert "almond" in found[0].text
    assert "US law names: Tree nuts." in found[0].text
    assert "EU and UK law names: Nuts, namely: almonds" in found[0].text


def test_an_allergen_that_was_there_is_not_new():
    assert "allergen" not in kinds(dough("whole-milk"), dough("buttermilk"))
    assert "allergen" in kinds(dough("whole-milk"), dough("soy-drink"))


def test_nothing_weighed_brings_nothing():
    after = Formula((FLOUR, Item(find("water"), 100), Item(find("whole-milk"), 0)))
    assert kinds(dough("water"), after) == ["raw"]


def test_cold_follows_the_food_code():
    """Outside check: Food Code 3-501.16 (5 °C/41 °F, 57 °C/135 °F) and 3-501.19 (4 hours, "cooked and
    served"), as in Delaware's, Minnesota's and Wisconsin's adoptions."""
    assert (COLD, HOT, HOURS) == (5, 57, 4)
    said = text(dough("water"), dough("egg"), "perishable")
    for part in (
        "5 °C (41 °F)",
        "57 °C (135 °F)",
        "baked and served within 4 hours",
        "Your local food code decides",
    ):
        assert part in said
    assert "perishable" in kinds(dough("butter"), dough("butter", "sour-cream"))
    assert "perishable" not in kinds(dough("sour-cream"), dough("water"))


@pytest.mark.parametrize(
    ("key", "kind", "says"),
    [
        ("beer", "alcohol", "may stay after baking"),
        ("red-wine", "alcohol", "may stay after baking"),
        ("spirit", "vapour", "can catch fire"),
        ("honey", "infant", "under one year"),
        ("egg", "raw", "raw egg"),
        ("water", "raw", "raw flour"),
    ],
)
def test_each_kind_of_caution(key, kind, says):
    assert says in text(dough("whole-milk"), dough(key), kind)


def test_no_honey_no_infants_no_alcohol_no_alcohol():
    found = kinds(dough("water"), dough("whole-milk"))
    assert found == ["allergen", "perishable", "raw"]


def test_an_unknown_liquid_sends_to_its_pack():
    after = Formula((FLOUR, Item(composition.own("your liquid", 0.8), 100)))
    assert "Its pack says so" in text(dough("water"), after, "unknown")


def test_what_a_dough_cannot_bear_comes_before_the_allergens():
    found = kinds(dough("water"), dough("sweet-wine"))
    assert found[:2] == ["vapour", "allergen"]


def test_each_of_several_doughs_is_judged_by_itself():
    """Together they would hold little alcohol for their flour."""
    several = cautions(dough("water"), dough("spirit"), *[dough("whole-milk")] * 20)
    assert several[0].key == "vapour"
    assert [each.key for each in several].count("raw") == 1


def test_an_own_ingredient_without_a_word_on_allergens_is_unknown():
    silent, plain = (
        from_record({"name": "my drink", "water": 90, "no_allergens": said})
        for said in (None, True)
    )
    found = [kinds(dough("water"), Formula((FLOUR, Item(each, 100)))) for each in (silent, plain)]
    assert found == [["unknown", "raw"], ["raw"]]


def test_bowls_side_by_side_call_for_all_that_any_of_them_holds():
    """The first is no starting point: whole milk in it can spoil as well as buttermilk in the second."""
    said = on_the_bench(dough("whole-milk"), dough("buttermilk"))
    assert [each.key for each in said] == ["perishable", "raw"]
    assert all(name in said[0].text for name in ("whole milk", "buttermilk"))


def test_what_a_food_of_that_name_usually_holds_is_said_beside_the_unknown():
    after = Formula((FLOUR, Item(composition.own("Grandmother's tub yogurt", 0.8), 100)))
    assert "usually milk" in text(dough("water"), after, "unknown")
    assert "usually milk" in allergens_of(after)
    assert "usually" not in allergens_of(
        Formula((FLOUR, Item(composition.own("my own drink", 0.9), 100)))
    )
