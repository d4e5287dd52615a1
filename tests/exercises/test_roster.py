"""The class list, however a school gives it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises.roster import NamesError, Roster, read_names, read_roster
from tests.hostile import TABLES, any_text


@pytest.mark.parametrize(
    ("text", "names", "headings"),
    [
        ("Ada Sample\nBen Example\n", ("Ada Sample", "Ben Example"), ("student",)),
        ("1. Ada Sample\n2) Ben Example", ("Ada Sample", "Ben Example"), ("student",)),
        ("Student\nAda Sample", ("Ada Sample",), ("Student",)),
        ("Surname;First name\nSample;Ada\nO'Example;Seán", ("Ada Sample", "Seán O'Example"), ("Surname", "First name")),
        ("Sample, Ada\nExample, Ben", ("Ada Sample", "Ben Example"), ("student",)),
        ("Surname, First name\nSample, Ada", ("Ada Sample",), ("Surname", "First name")),
        ("ID,Name,First name,Notes\n007,Sample,Ada,late", ("Ada Sample",), ("ID", "Name", "First name")),
        ("Full name\tE-Mail address\tClass\nAda Sample\tada@school.invalid\tK1", ("Ada Sample",), ("Full name", "E-Mail address", "Class")),
        ("Nr;Nachname;Vorname\n1;Müller;Jörg", ("Jörg Müller",), ("Nr", "Nachname", "Vorname")),
        ("Ada;Sample;1001;a@x.invalid\nBen;Example;1002;b@x.invalid", ("Ada Sample", "Ben Example"), ("first name", "surname", "number", "e-mail")),
        ("\ufeffAda Sample;K1\nBen Example;K1\nCy Loaf;K2\nDi Crumb;K2", ("Ada Sample", "Ben Example", "Cy Loaf", "Di Crumb"), ("name", "group")),
        ("SofÃ­a Sample\nBjÃ¶rn Example", ("Sofía Sample", "Björn Example"), ("student",)),
        ('Name,Number\n"Sample, Ada",7', ("Ada Sample",), ("Name", "Number")),
    ],
)  # fmt: skip
def test_names_are_found_however_the_list_is_written(text, names, headings):
    roster = read_roster(text)
    assert (roster.names, roster.headings) == (names, headings)


def test_a_list_says_how_it_was_read_and_what_was_not():
    roster = read_roster("ID,Name,First name,Notes\n007,Sample,Ada,late")
    assert roster.people[0].cells == ("007", "Sample", "Ada")
    assert roster.people[0].number == "007"
    assert "surname from “Name”, first name from “First name”" in roster.remarks[0]
    assert roster.remarks[1] == "Not used: “Notes”."


def test_a_student_is_known_by_name_number_or_e_mail():
    roster = read_roster("Name;Number;E-mail;Group\nAda Sample;7;Ada@x.invalid;K1\nBen;8;;K2")
    assert [roster.place(key) for key in ("ADA  sample", "7", "ada@X.invalid", "Ben", "Zed", "")] == [0, 0, 0, 1, None, None]  # fmt: skip
    assert roster.groups == ("K1", "K2")
    assert roster.unlisted("Zed") == ("Zed", "", "", "")


def test_two_of_one_name_are_told():
    with pytest.raises(NamesError, match="line 2: “ada” is in the list already"):
        read_roster("Ada\nada")
    roster = read_roster("Name;Number\nAda;1\nBen;2\nada;3")
    assert "“ada” is on the list twice, in lines 2 and 4" in roster.remarks[-1]
    with pytest.raises(NamesError, match="already"):
        read_names("Name;Number\nAda;1\nada;3")


@pytest.mark.parametrize("text", ["", "Name\n", "Number;E-mail\n1;a@x\n2;b@x", "x" * 400, "Name\n" + "a\n" * 3])  # fmt: skip
def test_what_holds_no_names_is_told(text):
    with pytest.raises(NamesError):
        read_roster(text)


@given(st.text() | st.sampled_from(TABLES) | st.lists(st.lists(any_text, max_size=4), max_size=5).map(lambda rows: "\n".join(map(";".join, rows))))  # fmt: skip
def test_any_list_is_read_or_refused(text):
    try:
        roster = read_roster(text)
    except NamesError:
        return
    assert isinstance(roster, Roster)
    assert all(person.name and len(person.cells) == len(roster.headings) for person in roster.people)  # fmt: skip
