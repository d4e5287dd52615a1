"""A set that a teacher gave: opened from a link, a pasted text or a file, and then like any of ours."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.parts import problem_set
from docs.parts.shared import set_way
from docs.parts.shared.desk_set import LONGEST_FILE_NAME
from docs.parts.shared.fields import FieldErrors, quiet_button
from exercises import problems, set_link
from exercises.draws import ProblemSet
from exercises.publish.html import element
from exercises.set_link import LinkError
from exercises.setfile import SetError

# A student can put none of these right, but tell the teacher.
MOST_TOLD = 3


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The ways to open a set; where the set is shown; and what was opened before."""
    return [
        element(
            "details",
            element("summary", "Open a set"),
            element(
                "form",
                element(
                    "div",
                    element("label", "Paste the link, or the text of the set", for_="given-text"),
                    element(
                        "textarea",
                        id="given-text",
                        name="text",
                        rows=4,
                        autocomplete="off",
                        autocapitalize="off",
                        spellcheck="false",
                    ),
                    element("span", class_="dw-complaint", data_for="text"),
                    class_="dw-field",
                ),
                element(
                    "div",
                    element("button", "Open it", type="submit", class_="dw-button"),
                    quiet_button("Choose a file", "choose"),
                    class_="dw-buttons",
                ),
                element("p", "A file can be dropped here too.", class_="dw-note"),
                class_="dw-form dw-drop",
                novalidate=True,
            ),
            open=True,
            class_="dw-open-set",
        ),
        element("div", data_opened=True),
        element("p", class_="dw-status", role="status"),
        element("div", set_way.finish_picture(), data_output=True),
    ]


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page: ``text`` is a link or a set's text, ``file`` the name of the file it was in."""
    packed = _packed(values.get("text", ""), values.get("file", "")[:LONGEST_FILE_NAME])
    given = _read(packed)
    return {
        "elements": _shown(given, packed, values.get("file", "")),
        "key": given.key,
        "content": given.content,
        "title": given.title,
        "packed": packed,
        "says": f"“{given.title}” is open.",
    }


def _packed(text: str, file: str) -> str:
    """The letters of a set, from whatever a student brought. Raises FieldErrors."""
    try:
        if set_link.is_link(text):
            return set_link.pack(set_link.unpack(text))
        if "problems:" not in text:
            raise LinkError(set_link.NO_LINK)
        return set_link.pack(set_link.to_give(text, file))
    except LinkError as error:
        raise FieldErrors({"text": str(error)}) from None
    except SetError as error:
        raise FieldErrors({"text": _for_the_teacher(error)}) from None


def _read(packed: str) -> ProblemSet:
    try:
        return set_link.read_packed(packed)
    except SetError as error:
        raise FieldErrors({"text": _for_the_teacher(error)}) from None


def _for_the_teacher(error: SetError) -> str:
    slips = [f"line {one.line}: {one.message}" for one in error.complaints[:MOST_TOLD]]
    return "This set has slips, which only its teacher can put right. Tell your teacher: " + " ".join(slips)  # fmt: skip


def _shown(given: ProblemSet, packed: str, file: str) -> list[Element]:
    came = "came from a file" if file else "came by a link"
    whose = (
        "It is the same as ours of this name."
        if problems.is_ours(given)
        else "Its problems are your teacher's own."
    )
    return [
        element("h2", given.title),
        element("p", f"This set {came}, from outside this site. {whose}", class_="dw-note"),
        element(
            "problem-set",
            *problem_set.body(given),
            name=given.key,
            content=given.content,
            packed=packed,
        ),
    ]
