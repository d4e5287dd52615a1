"""The names that people type, and the row of the table that each means.

The list was written from what bakers in the UK, the US, Canada, India and Australia call things:
common practice, no source.
"""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition
from calc.composition import UnknownIngredient, find, ranked, table
from calc.names import bare, best, fits, plain

with (Path(__file__).parent / "typed_names.tsv").open(encoding="utf-8") as file:
    TYPED = list(csv.reader(file, delimiter="\t"))
ROWS = list(table().values())


def test_the_list_is_long_and_each_name_is_in_it_once():
    assert len({name for name, _ in TYPED}) == len(TYPED) >= 200


@pytest.mark.parametrize(("typed", "key"), TYPED)
def test_a_typed_name_finds_its_row_and_finds_it_first(typed, key):
    assert find(typed).key == key
    assert ranked(typed)[0].key == key


# Foods that the table does not have, and what they are free of.
FREE_OF = {
    "hemp milk": {"milk", "oats", "soy", "tree-nut"},
    "pea milk": {"milk", "oats", "soy", "tree-nut"},
    "flax milk": {"milk", "oats", "soy", "tree-nut"},
    "potato milk": {"milk", "oats", "soy", "tree-nut"},
    "tiger nut milk": {"milk", "oats", "soy", "almond"},
    "plant milk": {"milk"},
    "plant-based milk": {"milk"},
    "dairy free milk": {"milk"},
    "plant butter": {"milk"},
    "vegan yoghurt": {"milk"},
    "oat cream": {"milk", "soy", "tree-nut"},
    "soy cream": {"milk", "oats", "tree-nut"},
    "oat yogurt": {"milk", "soy"},
    "coconut yogurt": {"milk", "soy"},
    "vegan butter": {"milk", "tree-nut", "peanut"},
    "pumpkin seed butter": {"milk", "tree-nut", "peanut", "sesame"},
    "dairy-free cream": {"milk"},
    "vegan cream cheese": {"milk"},
    "gluten free flour": {"wheat", "gluten"},
    "gluten-free bread flour": {"wheat", "gluten"},
    "coconut flour": {"wheat", "gluten"},
    "banana flour": {"wheat", "gluten"},
    "quinoa flour": {"wheat", "gluten"},
    "tamari": {"wheat", "gluten"},
    "gluten free beer": {"gluten", "barley"},
    "egg replacer": {"egg"},
    "vegan egg": {"egg"},
    "goat butter": {"tree-nut", "peanut"},
    "rice cream": {"milk"},
    "rice syrup": {"barley"},
}


@pytest.mark.parametrize("typed", FREE_OF)
def test_what_holds_an_allergen_is_not_offered_for_what_is_free_of_it(typed):
    with pytest.raises(UnknownIngredient) as error:
        find(typed)
    offered = [each for name in error.value.near for each in ROWS if each.name == name]
    assert not {word for each in offered for word in each.allergens} & FREE_OF[typed]


def test_what_a_thing_is_comes_last_unless_a_mark_says_otherwise():
    """Milk chocolate is no chocolate milk; a “milk rice” is no rice drink."""
    for typed in ("milk rice", "water coconut", "cheese cream"):
        with pytest.raises(UnknownIngredient):
            find(typed)
    for typed, key in (("sugar, brown", "brown-sugar"), ("sugar brown", "brown-sugar"), ("puree of pumpkin", "pumpkin-puree"), ("water (coconut)", "coconut-water")):  # fmt: skip
        assert find(typed).key == key


def test_two_rows_of_one_name_are_both_offered_with_their_allergens():
    for typed, says in (
        ("vegetable oil", "rapeseed oil or soybean oil (holds soy)"),
        ("corn flour", "corn starch or cornmeal"),
    ):
        with pytest.raises(UnknownIngredient) as error:
            find(typed)
        assert says in str(error.value)


def test_a_fat_in_a_name_must_be_the_rows():
    assert find("heavy cream (36 %)").key == "heavy-cream"
    assert find("whole milk, 3.6%").key == "whole-milk"
    for other in ("heavy cream (12 %)", "milk 0.1 %", "quark (40 %)", "white wine 12 %"):
        with pytest.raises(UnknownIngredient):
            find(other)


@pytest.mark.parametrize(
    ("slip", "key"),
    [
        ("butermilk", "buttermilk"), ("yougurt", "plain-yogurt"), ("strawbery", "strawberries"),
        ("mozarella", "mozzarella"), ("parmesean", "parmesan"), ("margerine", "margarine"),
        ("pumkin puree", "pumpkin-puree"), ("buterscotch", None), ("condenced milk", "condensed-milk"),
        ("evaported milk", "evaporated-milk"), ("zuchini", "courgette"), ("brocoli", None),
        ("vanila extract", "vanilla-extract"), ("cinnamon", None), ("self raisng flour", "self-rising-flour"),
    ],
)  # fmt: skip
def test_a_slip_of_the_key_is_offered_what_was_meant(slip, key):
    with pytest.raises(UnknownIngredient) as error:
        find(slip)
    assert (error.value.near[:1] or (None,))[0] == (key and table()[key].name)


@given(st.sampled_from(ROWS), st.sampled_from([str.upper, str.title, str.casefold]), st.data())
def test_every_name_of_a_row_means_it_in_any_letters(row, letters, data):
    name = data.draw(st.sampled_from([row.key, row.name, *row.also]))
    sharing = [each for each in ROWS if name in (*each.also, each.name, each.key)]
    if len(sharing) == 1:
        assert find(f"  {letters(name)} ") is row
        return
    with pytest.raises(UnknownIngredient) as error:
        find(name)
    assert row.name in error.value.near


@pytest.mark.parametrize(
    ("key", "shown"),
    [
        ("strained-yogurt", "strained yogurt (whole milk) – greek yogurt"), ("oat-drink", "oat drink – oat milk"),
        ("courgette", "grated courgette – zucchini"), ("whole-milk", "whole milk"), ("egg", "whole egg"),
        ("corn-starch", "corn starch"),
    ],
)  # fmt: skip
def test_a_list_shows_the_name_that_people_look_for(key, shown):
    assert table()[key].in_lists == shown


@given(st.text(max_size=200))
def test_any_text_is_made_plain_and_stays_so(text):
    name = plain(text)
    assert plain(name) == name
    assert bare(name) == bare(bare(name))
    assert 0 <= best(name, ("whole milk", "plain yogurt")) <= 1
    assert all(0 <= fits(name, plain(row.name)) <= 1 for row in ROWS[:3])
    composition.ranked(text)


@given(st.sampled_from(ROWS), st.text("bcdfgjkqvwxz", min_size=4, max_size=9))
def test_no_row_is_offered_that_leaves_a_word_unanswered(row, word):
    """A made-up word that begins no word of a row, beside a name of the row."""
    known = {one for name in (row.name, *row.also) for one in plain(name).split()}
    if any(one.startswith(plain(word)) or fits(plain(word), one) for one in known):
        return
    assert row not in ranked(f"{word} {row.name}")
