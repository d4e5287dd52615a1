"""A set's own ingredients: read, told of slips, and the same wherever the set goes."""

import json

import jsonschema
import pytest
import yaml

from calc import composition
from calc.own_ingredient import from_record
from exercises import set_link
from exercises.draws import draw
from exercises.marking import mark
from exercises.problems import read_set
from exercises.publish.html import write
from exercises.publish.worksheet import named, worksheet_body
from exercises.schema import schema
from exercises.set_ingredients import FIELDS, KEYS, as_parts
from exercises.setfile import SetError
from exercises.yaml_write import block

MINE = """\
name: our-kefir
title: Our kefir
version: 1
ingredients:
  - name: school kefir
    water: 88 g
    lowest water: 87 g
    highest water: 89 %
    fat: "1,5 g"
    density: 1.03 g/ml
    allergens: [milk]
    keep cold: yes
  - name: mill flour
    kind: flour
    water: 13 g
    allergens: [wheat, gluten]
    keep cold: no
problems:
  - id: loaf
    title: A loaf
    ask: new liquid
    story: "{flour} of flour at {hydration}, with {liquid}: {water content of liquid} water, {fat content of liquid} fat."
    givens:
      flour: 500 g
      hydration: 66 %
      liquid: School  Kefir
  - id: wettest
    title: The wettest first
    ask: order
    by: water content
    story: Put these in order by their water.
    items: [water, school kefir, mill flour]
"""


def test_problems_name_them_and_are_marked_with_their_figures():
    mine = read_set(MINE, "mine.yml")
    assert [each.name for each in mine.ingredients] == ["school kefir", "mill flour"]
    drawn = draw(mine, mine.problem("loaf"), "Ada")
    # 500 g × 0.66 ÷ 0.88 = 375 g
    working = drawn.working
    assert working.values()[working.answer.key] == pytest.approx(375)
    assert "88 % water, 1.5 % fat" in drawn.story.replace("\u00a0", " ")
    answers = {working.answer.key: "375 g"}
    assert mark(drawn, answers).marks == drawn.out_of


SLIPS = [
    ("water: 88 g", "water: 188 g", 6, 12, "from 0 to 100 g"),
    ("water: 88 g", "water: much", 6, 12, "“water”: I cannot read a number"),
    ("    water: 88 g\n", "", 5, 5, "lacks “water”"),
    ("lowest water: 87 g", "lowest water: 88.5 g", 7, 19, "between the lowest and the highest"),
    ("highest water", "higest water", 8, 5, "Did you mean “highest water”?"),
    ("1.03 g/ml", "3 g/ml", 10, 14, "between 0.05 and 2 g"),
    ("[milk]", "[mlik]", 11, 17, "Did you mean “milk”?"),
    ("[milk]", "none", 11, 16, "usually holds milk"),
    ("    allergens: [milk]\n", "", 5, 5, "lacks “allergens”"),
    ("keep cold: yes", "keep cold: perhaps", 12, 16, "yes for what spoils"),
    ("kind: flour", "kind: powder", 14, 11, "The kind must be one of"),
    ("name: mill flour", "name: school kefir", 13, 5, "Two ingredients are called"),
    ("name: mill flour", "name: bread flour", 13, 11, "has bread flour already"),
    ("name: school kefir", "name: oat milk", 5, 11, "The table has oat drink"),
    ("name: school kefir", "name: Soya Milk", 5, 11, "The table has soy drink"),
]  # fmt: skip


@pytest.mark.parametrize(("good", "bad", "line", "column", "says"), SLIPS)
def test_a_slip_is_told_once_where_it_is(good, bad, line, column, says):
    assert good in MINE
    text = MINE.replace(good, bad, 1)
    # What the problems name is named as it is called now.
    if bad.startswith("name: ") and "mill" not in good:
        for word in ("School  Kefir", "school kefir"):
            text = text.replace(word, bad.removeprefix("name: "))
    if "mill" in good:
        text = text.replace("mill flour]", "egg]")
    with pytest.raises(SetError) as caught:
        read_set(text, "mine.yml")
    first, *more = str(caught.value).splitlines()
    assert first.startswith(f"mine.yml:{line}:{column}: "), first
    assert says in first
    assert not more


def test_a_pack_that_was_read_may_name_no_allergens():
    """Such as a yogurt of coconut: the teacher says so, and it is not silent."""
    mine = read_set(MINE.replace("[milk]", "none on its pack"), "mine.yml")
    assert mine.ingredients[0].allergens_known
    assert not mine.ingredients[0].allergens
    unknown = read_set(MINE.replace("[milk]", "not known"), "mine.yml")
    assert not unknown.ingredients[0].allergens_known


def test_a_set_means_the_same_whatever_the_reader_keeps():
    reader = from_record({"name": "School kefir", "kind": "liquid", "water": 50})
    with composition.known([reader]):
        found = read_set(MINE, "mine.yml")
        assert found.ingredients[0].water == pytest.approx(0.88)
        with pytest.raises(SetError, match="no ingredient called"):
            read_set(MINE.replace("name: school kefir", "name: other kefir"), "mine.yml")
    assert found.content == read_set(MINE, "mine.yml").content


def test_other_figures_are_another_set():
    assert read_set(MINE, "m").content != read_set(MINE.replace("88 g", "87.5 g"), "m").content


def test_the_link_and_the_worksheet_carry_them():
    mine = read_set(MINE, "mine.yml")
    given = set_link.read_packed(set_link.pack(set_link.to_give(MINE, "mine.yml")))
    assert given.ingredients == mine.ingredients
    assert given.content == mine.content
    sheet = write(*worksheet_body(given, named(given, ["Ada"])))
    assert "school kefir" in sheet
    assert "Check them against the packs" in sheet
    assert "Ingredients of this set" not in write(*worksheet_body(read_set(OTHER, "o"), []))


OTHER = MINE[: MINE.index("ingredients")] + MINE[MINE.index("problems") :].replace(
    "school kefir, mill flour", "egg, butter"
).replace("School  Kefir", "buttermilk")


def test_written_as_a_teacher_would_they_are_read_as_they_were():
    for each in read_set(MINE, "mine.yml").ingredients:
        lines = block({"ingredients": [as_parts(each)]}, 0)
        head, tail = MINE.split("ingredients:\n")[0], OTHER[OTHER.index("problems") :]
        again = read_set(head + "\n".join(lines) + "\n" + tail, "again.yml")
        assert again.ingredients == (each,)


def test_the_schema_knows_them():
    """Outside check: JSON Schema 2020-12, by the reference library jsonschema."""
    validator = jsonschema.Draft202012Validator(schema())
    validator.validate(yaml.safe_load(MINE))
    assert not validator.is_valid(yaml.safe_load(MINE.replace("[milk]", "[mlik]")))
    parts = schema()["properties"]["ingredients"]["items"]["properties"]
    assert set(parts) == set(KEYS) == set(FIELDS)
    json.dumps(parts)
