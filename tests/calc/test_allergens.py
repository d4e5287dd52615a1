"""The laws' lists of allergens, and the words for them."""

import pytest

from calc import allergens, composition
from calc.allergens import ALLERGENS, EU, US


def test_the_laws_lists_are_whole():
    """US: the FDA's page "What is a major food allergen?", nine names in its order but for the
    fish. EU: Regulation 1169/2011 annex II, fourteen entries, read in French and Polish copies."""
    assert set(US) == {
        "Milk", "Egg", "Fish", "Crustacean shellfish", "Tree nuts", "Wheat", "Peanuts", "Soybeans",
        "Sesame",
    }  # fmt: skip
    assert len(EU) == len(set(EU)) == 14
    starts = (
        "Cereals containing gluten", "Crustaceans", "Eggs", "Fish", "Peanuts", "Soybeans", "Milk",
        "Nuts", "Celery", "Mustard", "Sesame seeds", "Sulphur dioxide", "Lupin", "Molluscs",
    )  # fmt: skip
    assert all(entry.startswith(start) for entry, start in zip(EU, starts, strict=True))


def test_every_entry_of_both_laws_has_a_word():
    assert {each.us for each in ALLERGENS.values()} - {""} == set(US)
    assert {each.eu for each in ALLERGENS.values()} - {""} == set(EU)


@pytest.mark.parametrize("ingredient", composition.table().values(), ids=lambda x: x.key)
def test_every_word_of_the_table_is_known(ingredient):
    assert set(ingredient.allergens) <= set(ALLERGENS)


@pytest.mark.parametrize(
    ("word", "us", "eu"),
    [
        ("milk", "Milk", "Milk and products thereof (including lactose)"),
        ("soy", "Soybeans", "Soybeans and products thereof"),
        ("gluten", "", EU[0]),
        ("sulphites", "", EU[11]),
        ("coconut", "", ""),
    ],
)
def test_names_each_as_its_law_does(word, us, eu):
    """Coconut: FDA guidance of January 2025 (Edition 5), as public accounts of it report."""
    assert (ALLERGENS[word].us, ALLERGENS[word].eu) == (us, eu)
    assert allergens.ALLERGENS["coconut"].note
