"""Columns that hold a student's name, by how schools head them."""

import pytest

from exercises.name_columns import headings_of_name


@pytest.mark.parametrize(
    ("headings", "name"),
    [
        (["No.", "Surname", "First name", "Response 1"], ["First name", "Surname"]),
        (["Nachname", "Vorname", "E-Mail"], ["Vorname", "Nachname"]),
        (["Prénom", "Nom de famille"], ["Prénom", "Nom de famille"]),
        (["Learner", "Group"], ["Learner"]),
        (["Name", "First name"], ["First name", "Name"]),
        (["Response 1", "Response 2"], []),
        ([], []),
    ],
)
def test_the_first_name_comes_first(headings, name):
    assert headings_of_name(headings) == name
