"""A set in a school's system: the page of a package asks for the set that it holds.

The system keeps the student's work and the marks; school-set.js talks to it.
"""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.parts import problem_set
from docs.parts.shared import set_way
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The page of a package before its script runs: what the set is ``about``, and where it comes."""
    return [
        element("p", "The set is being opened. This takes a few seconds the first time.", class_="dw-status", role="status"),
        element(
            "form",
            element("button", "Send my work again", type="submit", class_="dw-button dw-quiet"),
            hidden=True,
        ),
        element("div", element("p", attributes.get("about", "")), set_way.finish_picture(), data_set=True),
    ]  # fmt: skip


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """The set of ``name`` or ``packed``, with the ``student`` that the school's system names.

    ``id`` is what the system knows the student by: it keeps two of one name apart on one device.
    """
    given = problem_set.set_of(values)
    student = values.get("student", "")[: problem_set.LONGEST_NAME]
    place = f"school/{given.key}@{given.content}/{values.get('id', '')}"
    shown = problem_set.body(given)
    if student:
        _put_name(shown, student)
    shown_set = element(
        "problem-set",
        *shown,
        name=given.key,
        packed=values.get("packed") or None,
        level=values.get("level") or None,
        place=place,
        data_told=True,
    )
    problems = {each.id: each.title for each in given.problems}
    return {"elements": [shown_set], "place": place, "problems": problems}


def _put_name(shown: list[Element], student: str) -> None:
    """The name is the system's: it picks the numbers, and no student changes it."""
    for each in [one for root in shown for one in root.iter()]:
        if each.get("name") == "student":
            each.set("value", student)
            each.set("readonly", "")
        elif each.get("id", "").endswith("-student-note"):
            each.text = (
                "This name comes from your school’s system. It picks your numbers: "
                "the same name gives the same numbers again."
            )
