"""First letters, plurals and articles."""

import pytest

from calc.words import all_of, are, capital, counted, listed, plural, the


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("salt", "Salt"), ("pH of the dough", "PH of the dough"), ("Rye", "Rye"), ("", ""), ("1 g", "1 g")],
)  # fmt: skip
def test_the_first_letter_alone_is_changed(text, wanted):
    assert capital(text) == wanted


@pytest.mark.parametrize(
    ("number", "wanted"), [(0, "marks"), (1, "mark"), (0.5, "marks"), (2, "marks")]
)
def test_only_one_is_singular(number, wanted):
    assert plural(number, "mark") == wanted


def test_a_count_says_its_number():
    assert [counted(number, "day") for number in (0, 1, 2)] == ["0 days", "1 day", "2 days"]


def test_all_of_a_few_are_told_as_people_tell_them():
    told = [f"{all_of(number, 'pair')} {are(number)}" for number in (1, 2, 3)]
    assert told == ["the one pair is", "both pairs are", "all 3 pairs are"]


def test_a_list_reads_as_a_sentence_does():
    assert listed(["eggs"]) == "eggs"
    assert listed(["eggs", "milk"]) == "eggs and milk"
    assert listed(iter(["eggs", "milk", "nuts"])) == "eggs, milk and nuts"


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("whole milk", "the whole milk"),
        ("goat’s milk", "the goat’s milk"),
        ("Skyr", "the Skyr"),
        ("mysterious milk", "the mysterious milk"),
        ("My thick yogurt", "My thick yogurt"),
        ("our sour cream", "our sour cream"),
        ("Ana's kefir", "Ana's kefir"),
        ("Émile’s whey", "Émile’s whey"),
        ("The red cup", "The red cup"),
    ],
)
def test_what_is_somebodys_takes_no_article(name, wanted):
    assert the(name) == wanted
