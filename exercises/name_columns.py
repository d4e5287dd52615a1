"""Which columns hold a student's name, number, e-mail and group, by how schools head them."""

from __future__ import annotations

from collections.abc import Sequence

from exercises.near_names import folded

NAME, FIRST, SURNAME, NUMBER, EMAIL, GROUP = (
    "name",
    "first name",
    "surname",
    "number",
    "e-mail",
    "group",
)
# How schools head such columns, folded and without spaces, in some of the languages that a school's system speaks.
AS_HEADED = {
    NAME: "name names student students studentname nameofstudent fullname wholename pupil pupilname learner learnername participant displayname",
    FIRST: "firstname first givenname givennames given forename forenames preferredname vorname prenom nombre nombres nomepropio voornaam fornavn",
    SURNAME: "surname surnames lastname last familyname family nachname familienname nomdefamille apellido apellidos cognome sobrenome achternaam etternavn efternavn",
    NUMBER: "number studentnumber studentno studentnr studentid id idnumber no nr num rollnumber rollno registrationnumber candidatenumber learnernumber sisid matriculationnumber matrikelnummer matricule numero matricola",
    EMAIL: "email emails mail emailaddress mailaddress studentemail schoolemail correo correoelectronico courriel",
    GROUP: "group groups groupname class classname form bench team section stream cohort kitchen gruppe klasse groupe classe grupo gruppo",
}  # fmt: skip
_MEANS = {word: what for what, words in AS_HEADED.items() for word in words.split()}

# A column's number, and what it holds.
NameColumns = dict[int, str]


def means(heading: str) -> str:
    """What a heading says of its column; empty where it is none of these."""
    return _MEANS.get(folded(heading).replace(" ", ""), "")


def of_headings(cells: Sequence[str]) -> NameColumns:
    """What headings say of their columns; nothing where this is no line of headings."""
    columns: NameColumns = {}
    for n, cell in enumerate(cells):
        what = means(cell)
        if what and what not in columns.values():
            columns[n] = what
    named = {NAME, FIRST, SURNAME} & set(columns.values()) or len(columns) == len(cells) > 1
    return _without_spare_parts(columns) if named else {}


def _without_spare_parts(columns: NameColumns) -> NameColumns:
    """A whole name and its parts: the parts make the name, for “name” may be either.

    One part alone goes with a column headed “name”: that is the other part.
    """
    kinds = {what: n for n, what in columns.items()}
    if NAME not in kinds:
        return columns
    if FIRST in kinds and SURNAME in kinds:
        return {n: what for n, what in columns.items() if what != NAME}
    if FIRST in kinds:
        return columns | {kinds[NAME]: SURNAME}
    if SURNAME in kinds:
        return columns | {kinds[NAME]: FIRST}
    return columns


def headings_of_name(headings: Sequence[str]) -> list[str]:
    """The headings of the columns that make the name together, first name first; none where no heading says so."""
    at = {what: n for n, what in of_headings(headings).items()}
    return [headings[at[what]] for what in (NAME, FIRST, SURNAME) if what in at]
