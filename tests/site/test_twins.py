"""A reader's own ingredient with a row's figures gives the row's answer, in every tool."""

import re
from dataclasses import fields, replace

import pytest

from calc import composition
from calc.composition import Ingredient
from calc.own_ingredient import STATED_PARTS, from_record, kind_of, to_record
from docs.parts import PARTS
from docs.parts.shared.fields import FieldErrors
from docs.parts.shared.form_part import FormPart
from exercises.publish.html import write

FORMS = {name: part for name, part in PARTS.items() if isinstance(part, FormPart)}
# What a record of one's own holds; a twin's row is known by no more.
STATED = {"name", "group", "water", "water_range", *STATED_PARTS, "ph", "allergens", "perishable"}
NAME = "test liquid"


def pair(row):
    """A row as far as a record can say it: a reader's own, and the same figures in the row's group."""
    unknown = {
        each.name: each.default for each in fields(Ingredient) if each.name not in {*STATED, "key"}
    }
    named = replace(row, key="own-test-liquid", name=NAME, **unknown)
    as_own = from_record(to_record(named))
    return replace(as_own, group=row.group), as_own


# What differs by intent: nobody but its pack knows what else is in a liquid of one's own, figures do
# not tell an egg, a puree or a milk, and Python spells its figures out instead of looking them up.
BY_INTENT = re.compile(
    r'<p class="dw-caution" role="note"><strong>(?:Read the pack|Water held fast): .*?</p>'
    r"|<p>Many textbooks scald .*?</p>|<textarea.*?</textarea>"
    r"|<tr>(?:(?!<tr>).)*?water and milk alone.*?</tr>",
    re.DOTALL,
)


def answer(part, values, ingredient):
    with composition.known([ingredient]):
        try:
            said = part.respond(values)
        except FieldErrors as error:
            return error.messages
    return BY_INTENT.sub("", write(*said["elements"])), said["says"], said["remarks"]


def slots(part):
    """What to fill in to name an ingredient in each place that a form has for one."""
    given = part.fields({})
    for name, value in given.items():
        if value in composition.table() and not composition.find(value).is_flour:
            yield name, {}
    if "with1" in given:
        yield "with1", {"amount1": "40 %"}


# One row of each group that a reader has a word for, and those with alcohol apart: what is called “other” takes
# no part, such as that of the salt which balance may change.
ROWS = list(
    {
        (row.group, row.alcohol is not None): row
        for row in composition.table().values()
        if kind_of(row) != "other"
    }.values()
)
LIQUIDS = [row for row in ROWS if row.is_liquid and row.water > 0.3]
CASES = [
    (name, slot, more, row)
    for name, part in FORMS.items()
    for slot, more in slots(part)
    for row in (ROWS if slot == "with1" else LIQUIDS)
]


def test_there_are_tools_with_ingredients():
    assert {name for name, *_ in CASES} >= {
        "liquid-swap",
        "balance-formula",
        "dough-temperature",
        "scale-formula",
    }


@pytest.mark.parametrize(("name", "slot", "more", "row"), CASES)
def test_an_own_ingredient_with_a_rows_figures_gives_the_rows_answer(name, slot, more, row):
    part = FORMS[name]
    as_row, as_own = pair(row)
    assert (as_own.water, as_own.fat, as_own.salt) == (as_row.water, as_row.fat, as_row.salt)
    values = part.fields({}) | more | {slot: as_row.key}
    assert answer(part, values, as_own) == answer(part, values, as_row)
