"""An ingredient of the reader's own: every field is hostile until checked."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, household
from calc.allergens import ALLERGENS
from calc.composition import UnknownIngredient
from calc.own_ingredient import KINDS, LONGEST_NAME, RecordError, from_record, kind_of, to_record
from calc.units import ReadingError
from tests.hostile import any_text, json_values

GOOD = {"name": "My thick yogurt", "kind": "liquid", "water": 81.5}

FIELDS = (
    "name", "kind", "water", "water_low", "water_high", "fat", "protein", "carbohydrate", "sugars",
    "salt", "alcohol", "ph_low", "ph_high", "allergens", "perishable", "key",
    "density", "density_low", "density_high",
)  # fmt: skip


def refused(record: object) -> RecordError | None:
    """The refusal of a record; any other error fails the test."""
    try:
        from_record(record)
    except RecordError as error:
        return error
    return None


@given(json_values)
def test_anything_is_an_ingredient_or_a_told_refusal(record):
    refusal = refused(record)
    assert refusal is None or (str(refusal) and refusal.field in FIELDS)


@given(st.dictionaries(st.sampled_from(FIELDS), json_values))
def test_any_field_may_lie(lies):
    refusal = refused({**GOOD, **lies})
    if refusal:
        assert refusal.field in FIELDS
        return
    made = from_record({**GOOD, **lies})
    assert 0 < made.water <= 1 or kind_of(made) != "liquid"
    assert made.water in made.water_range
    assert len(made.name) <= LONGEST_NAME
    assert made.name.isprintable()
    assert made.key.startswith("own-")
    assert made.key.replace("-", "").isalnum()
    assert all(word in ALLERGENS for word in made.allergens)
    assert isinstance(made.perishable, bool)
    for part in (made.fat, made.protein, made.carbohydrate, made.sugars, made.salt, made.alcohol):
        assert part is None or (0 <= part <= 1 and math.isfinite(part))


def amounts(most: float = 12.0):
    return st.none() | st.floats(0, most).map(lambda value: round(value, 2))


@given(
    st.fixed_dictionaries(
        {
            "name": st.text("abc déœ中ö'<>&\"", min_size=1, max_size=30).filter(
                lambda text: any(letter.isalnum() for letter in text)
            ),
            "kind": st.sampled_from(list(KINDS)),
            "water": st.floats(1, 40).map(lambda value: round(value, 2)),
            "fat": amounts(), "protein": amounts(), "salt": amounts(), "alcohol": amounts(),
            "sugars": amounts(5), "carbohydrate": st.none() | st.floats(5, 12),
            "ph_low": st.none() | st.floats(2, 5), "ph_high": st.none() | st.floats(5, 9),
            "allergens": st.lists(st.sampled_from(list(ALLERGENS)), unique=True),
            "perishable": st.booleans(),
        }
    )
)  # fmt: skip
def test_a_record_there_and_back_is_the_same(record):
    made = from_record(record)
    again = from_record(json.loads(json.dumps(to_record(made))))
    assert again.key == made.key
    assert again.allergens == made.allergens
    for part in ("water", "fat", "protein", "carbohydrate", "sugars", "salt", "alcohol"):
        one, two = getattr(made, part), getattr(again, part)
        assert two is None if one is None else two == pytest.approx(one, abs=1e-8)
    assert again.ph == made.ph
    assert kind_of(again) == record["kind"]


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"name": ""}, "name", "Give it a name"),
        ({"name": "  "}, "name", "Give it a name"),
        ({"name": 7}, "name", "Give it a name"),
        ({"name": "x" * 61}, "name", "at most 60"),
        ({"name": "a\u0000b"}, "name", "plain text"),
        ({"name": "a\ud800"}, "name", "plain text"),
        ({"name": "turn \u202e it"}, "name", "plain text"),
        ({"name": "!!!"}, "name", "a letter or a number"),
        ({"name": "Buttermilk"}, "name", "has Buttermilk already"),
        ({"kind": "poison"}, "kind", "must be one of"),
        ({"kind": ["liquid"]}, "kind", "must be one of"),
        ({"water": None}, "water", "Give its water"),
        ({"water": 0}, "water", "Give its water"),
        ({"water": "81"}, "water", "must be a number"),
        ({"water": True}, "water", "must be a number"),
        ({"water": float("nan")}, "water", "must be a number"),
        ({"water": float("inf")}, "water", "must be a number"),
        ({"water": -1}, "water", "from 0 to 100"),
        ({"water": 10**400}, "water", "from 0 to 100"),
        ({"water_low": 85}, "water_low", "between the lowest and the highest"),
        ({"water_low": 0}, "water_low", "above 0 g in 100 g"),
        ({"water_high": 80}, "water_low", "between the lowest and the highest"),
        ({"fat": 30}, "water", "one is too high"),
        ({"carbohydrate": 5, "sugars": 6}, "sugars", "a part of the carbohydrate"),
        ({"sugars": 25}, "water", "one is too high"),
        ({"density": 3}, "density", "from 0 to 2 g/ml"),
        ({"density": 0}, "density", "at least 0.05 g"),
        ({"density": 1, "density_low": 1.1}, "density_low", "between the lightest"),
        ({"density_low": 1.2, "density_high": 1.1}, "density_low", "between the lightest"),
        ({"ph_low": 15}, "ph_low", "pH low must be a number from 0 to 14"),
        ({"ph_low": 6, "ph_high": 4}, "ph_low", "not be above"),
        ({"allergens": ["arsenic"]}, "allergens", "must be words of"),
        ({"allergens": "milk"}, "allergens", "must be words of"),
        ({"allergens": [["milk"]]}, "allergens", "must be words of"),
        ({"perishable": "no"}, "perishable", "true or false"),
    ],
)
def test_says_what_is_wrong_and_where(change, field, says):
    with pytest.raises(ValueError, match=says) as caught:
        from_record({**GOOD, **change})
    assert caught.value.field == field


def test_it_is_known_for_one_request_only():
    mine = from_record(GOOD)
    with composition.known([mine]):
        assert composition.find(mine.key) is mine
        assert composition.find("my thick  YOGURT") is mine
        assert composition.read("buttermilk").key == "buttermilk"
    with pytest.raises(UnknownIngredient):
        composition.find(mine.key)


def test_it_never_takes_the_place_of_a_row_of_the_table():
    """Even with a key that pretends to be the table's."""
    mine = from_record({**GOOD, "key": "water"})
    with composition.known([mine]):
        assert composition.find("water").water == 1


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_counts_as_what_it_is(kind):
    made = from_record({**GOOD, "kind": kind})
    assert kind_of(made) == kind
    assert made.is_flour == (kind == "flour")


def test_a_record_states_a_range_only_where_there_is_one():
    """Else a changed water would no longer lie in the old one's range."""
    assert "water_low" not in to_record(from_record(GOOD))
    assert to_record(from_record({**GOOD, "water_low": 80}))["water_low"] == 80


DENSE = (
    # what is stated, and what 1 ml then weighs: as reckoned, lightest, heaviest
    ({"density": 1.04}, 1.04, 1.03, 1.05),
    ({"density": 0.55, "density_low": 0.5, "density_high": 0.62}, 0.55, 0.5, 0.62),
    ({"density": 0.55, "density_high": 0.62}, 0.55, 0.55, 0.62),
    ({"density_low": 0.5, "density_high": 0.6}, 0.55, 0.5, 0.6),
)


@pytest.mark.parametrize(("stated", "grams", "lightest", "heaviest"), DENSE)
def test_a_cup_of_it_is_read_through_its_density(stated, grams, lightest, heaviest):
    """100 ml and cups, as a friend who opens its link also reads them."""
    made = from_record(to_record(from_record({**GOOD, "name": "My kefir", **stated})))
    with composition.known([made]):
        found = household.read("100 ml", made)
        assert found.grams == pytest.approx(100 * grams)
        assert found.bounds.low == pytest.approx(100 * lightest)
        assert found.bounds.high == pytest.approx(100 * heaviest)
        assert household.read("1 US cup of my kefir", made).grams == pytest.approx(
            236.588 * grams, abs=0.05
        )


def test_without_a_density_a_cup_of_it_is_not_guessed():
    with pytest.raises(ReadingError, match="Weigh it"):
        household.read("100 ml", from_record(GOOD))


@given(st.fixed_dictionaries({"name": any_text, "water": json_values}, optional={"kind": json_values, "fat": json_values, "allergens": json_values, "ph_low": json_values, "perishable": json_values}))  # fmt: skip
def test_any_ingredient_is_within_100_g_or_is_refused(record):
    try:
        made = from_record(record)
    except RecordError:
        return
    assert 0 <= made.water <= 1
    assert made.name.isprintable()
