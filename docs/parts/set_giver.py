"""Give a set out: its link, a code for the board, the file, and a package for a school's system."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.units import read_whole
from calc.words import counted
from docs.parts.shared.desk_files import given, made, tell
from docs.parts.shared.desk_set import (
    asked_level,
    asked_part,
    level_field,
    names_field,
    names_in,
    set_of,
)
from docs.parts.shared.fields import FieldErrors, check_box, choice_field, text_field
from exercises import due, set_link
from exercises.draws import ProblemSet
from exercises.publish import qr, scorm
from exercises.publish.html import element
from exercises.publish.qti import MOST_DRAWS, can_write, package
from exercises.publish.qti_versions import USUAL, VERSIONS
from exercises.set_edit import put, remove
from exercises.setfile import SetError

card = True
# What some e-mail programs still take as the end of a link.
LONG_LINK = 2_000
DRAWS = "10"
KINDS = [
    (scorm.Edition.SCORM_12.value, "SCORM 1.2: this page, with its own marking", ""),
    (scorm.Edition.SCORM_2004.value, "SCORM 2004, 4th edition: the same", ""),
    *(
        (one.key, f"{one.name}: questions for the system’s own tests", "")
        for one in VERSIONS.values()
    ),
]
# What a SCORM package holds.
HOLDS = [
    ("set", "The set alone", ""),
    ("lesson", "Its lesson, with the set as the last step", ""),
    ("course", "The whole course: each of our lessons with its set", ""),
]


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A due time; where the link and the code come; and the form of the package."""
    return [
        element(
            "form",
            element(
                "div",
                element("label", "Due, on your clock (optional)", for_="give-due"),
                element("input", id="give-due", name="due", type="datetime-local", aria_describedby="give-due-note"),
                element(
                    "p",
                    "Students see it. Marking tells you who saved later, by the clock of the student’s own device: nobody has checked that clock, so take it as a hint.",
                    id="give-due-note",
                    class_="dw-note",
                ),
                element("span", class_="dw-complaint", data_for="due"),
                class_="dw-field",
            ),
            class_="dw-form",
            data_due=True,
            novalidate=True,
            hidden=True,
        ),
        element("div", _before(), data_output=True),
        element("h2", "A package for the school’s system", id="package"),
        element(
            "form",
            element(
                "div",
                choice_field("give", "as", "Kind of package", KINDS[0][0], KINDS),
                level_field("give"),
                class_="dw-row",
            ),
            element("div", choice_field("give", "hold", "It holds", HOLDS[0][0], HOLDS), data_for_scorm=True),
            element("div", text_field("give", "pass", "Mark to pass, in per cent (optional)", "", "Without one, the set is complete when each problem was marked."), data_for_scorm=True),
            element(
                "div",
                text_field("give", "draws", "Draws of each problem", DRAWS, f"A draw is a problem with its own numbers: 1 to {MOST_DRAWS}."),
                names_field("give", "Or a test for each of these names, one a line"),
                check_box("give", "answer_only", "Ask for the last step alone", False),
                data_for_qti=True,
            ),
            element(
                "div",
                element("button", "Save the package", type="submit", class_="dw-button"),
                class_="dw-buttons",
            ),
            class_="dw-form",
            data_package=True,
            novalidate=True,
        ),
        element("p", class_="dw-status", role="status"),
    ]  # fmt: skip


def _before() -> Element:
    words = (
        "The link to the set in hand comes here, with a code for the board and what to tell your students. "
        "The link to one of our sets is the address of its page. A link to your own set holds the whole set."
    )
    return element("div", element("p", words), class_="dw-empty-place", data_picture="given")


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``link``, ``due`` or ``package``; ``site`` the site's own address."""
    actions = {"link": _link, "due": _due, "package": _package}
    try:
        return actions[values["action"]](values)
    except SetError as error:
        first = error.complaints[0]
        return {
            "elements": [
                element(
                    "p",
                    f"This set cannot be given out yet: {counted(len(error.complaints), 'thing')} to put right. "
                    f"Line {first.line}: {first.message} ",
                    element("a", "Open it for writing", data_site="write-a-set/"),
                )
            ],
            "says": "This set has to be put right first.",
        }


def _link(values: Mapping[str, str]) -> dict[str, object]:
    problem_set, site = set_of(values), values.get("site", "")
    if values.get("set"):
        link, text = set_link.page_of_ours(site, problem_set.key), ""
    else:
        text = set_link.to_give(values.get("text", ""), values.get("file", ""))
        link = set_link.link(site, text)
    try:
        code = qr.code(link)
    except qr.TooLong:
        code = None
    return {
        "elements": [
            *_shown_link(link, bool(text)),
            *_shown_code(code, link),
            *_instructions(problem_set, link),
        ],
        "file": text,
        "filename": f"{problem_set.key}.yml",
        "svg": qr.file(code) if code else "",
        "svgname": f"{problem_set.key}-code.svg",
        "due": problem_set.due.at if problem_set.due else 0,
        "lesson": problem_set.lesson,
        "says": f"{problem_set.title}: a link of {len(link):,} letters.",
    }


def _button(words: str, action: str, quiet: bool = True, **more: object) -> Element:
    class_ = "dw-button dw-quiet" if quiet else "dw-button"
    return element("button", words, type="button", class_=class_, data_action=action, **more)


def _shown_link(link: str, own: bool) -> list[Element]:
    long = (
        f" Some e-mail programs cut links of more than {LONG_LINK:,} letters. A student whose link was cut is "
        "told so; that student needs the file."
        if len(link) > LONG_LINK
        else ""
    )
    whole = " It holds the whole set, without your notes." if own else ""
    return [
        element("h2", "The link"),
        element(
            "div",
            element("label", "The link to this set", for_="give-link"),
            element("textarea", link, id="give-link", readonly=True, rows=3, spellcheck="false", class_="dw-link", aria_describedby="give-link-note"),
            element("p", f"{len(link):,} letters.{whole}{long}", id="give-link-note", class_="dw-note"),
            class_="dw-field",
        ),
        element(
            "div",
            _button("Copy the link", "copy-link", quiet=False),
            _button("Share it", "share", hidden=True),
            _button("Save the set as a file", "save") if own else None,
            element("a", "See it as a student does", href=link, target="_blank", rel="noopener", class_="dw-button dw-quiet"),
            class_="dw-buttons",
        ),
    ]  # fmt: skip


def _shown_code(code: object, link: str) -> list[Element]:
    if code is None:
        return [
            element("h2", "A code for the board"),
            element(
                "p",
                f"This link, of {len(link):,} letters, is too long for a code that a phone can read from a seat in "
                "class. Give out the link or the file, or split the set.",
            ),
        ]
    dense = (
        " It is a dense one: show it as large as the board is, or print it for each table."
        if int(code.version) > qr.DENSE_VERSION
        else ""
    )
    return [
        element("h2", "A code for the board"),
        element("figure", qr.picture(code), class_="dw-qr"),
        element("p", f"A phone’s camera opens the set from this code.{dense}", class_="dw-note"),
        element(
            "div",
            _button("Show it large", "large"),
            _button("Print it", "print"),
            _button("Save it as a picture (SVG)", "save-code"),
            class_="dw-buttons",
        ),
    ]


def _instructions(problem_set: ProblemSet, link: str) -> list[Element]:
    return [
        element("h2", "What to tell your students"),
        element(
            "div",
            element("label", "A message to send with it", for_="give-words"),
            element("textarea", words_for_students(problem_set, link), id="give-words", rows=12),
            class_="dw-field",
        ),
        element("div", _button("Copy the message", "copy-words"), class_="dw-buttons"),
    ]


def words_for_students(problem_set: ProblemSet, link: str) -> str:
    """What a class needs to know, to send along with the link."""
    until = f" by {problem_set.due.words}" if problem_set.due else ""
    return "\n".join(
        [
            f"{problem_set.title}: {counted(len(problem_set.problems), 'problem')}",
            "",
            "1. Open the link below on a phone or a computer. You need no account.",
            "2. Write your full name at the top. It picks your own numbers.",
            "3. Work through the problems and write your steps. You can mark your work and try again.",
            "4. Your answers stay on your device. Go on later with the same device, browser and name.",
            f"5. When you are done, press “Save hand-in file” and send me the file{until}. "
            "If you cannot send a file, press “Copy as text” and paste the text into your message.",
            "",
            link,
        ]
    )


def _due(values: Mapping[str, str]) -> dict[str, object]:
    """The set's text with another due time, or with none; in it each note stays."""
    text, wanted = values.get("text", ""), values.get("due", "")
    if not wanted:
        return {"text": remove(text, ("due",)) if set_of(values).due else text}
    try:
        due.read(wanted)
    except ValueError as error:
        raise FieldErrors({"due": str(error)}) from None
    return {"text": put(text, ("due",), wanted)}


def _package(values: Mapping[str, str]) -> dict[str, object]:
    kind = values.get("as", "")
    if kind in {each.value for each in scorm.Edition}:
        return _page_package(values, scorm.Edition(kind))
    problem_set = asked_part(values)
    version = VERSIONS.get(values.get("as", ""), USUAL)
    name, students = f"{problem_set.key}-{version.key}.zip", names_in(values) or _draws(values)
    try:
        made_zip = package(
            problem_set,
            students,
            bool(values.get("answer_only")),
            lambda done, whole: tell(done, whole, "Writing"),
            version,
        )
    except ValueError as error:
        raise FieldErrors({"draws": str(error)}) from None
    (made(values) / name).write_bytes(made_zip)
    left = [each.title for each in problem_set.problems if not can_write(each)]
    without = f" Left out, as QTI cannot hold it: {', '.join(left)}." if left else ""
    return {"made": [name], "says": f"{name} is saved: {len(made_zip):,} bytes.{without}"}


def _page_package(values: Mapping[str, str], edition: scorm.Edition) -> dict[str, object]:
    """A SCORM package, of the site's files that came with the question."""
    hold, pass_mark = values.get("hold", ""), _pass_mark(values)
    items = scorm.course() if hold == "course" else [_item(values, hold == "lesson")]
    made_zip = scorm.package(items, given(values), edition, pass_mark)
    held = {"course": "course", "lesson": f"{items[0].lesson}-lesson"}
    name = f"{held.get(hold, items[0].problem_set.key)}-{edition.value}.zip"
    (made(values) / name).write_bytes(made_zip)
    return {"made": [name], "says": f"{name} is saved: {len(made_zip):,} bytes."}


def _item(values: Mapping[str, str], with_lesson: bool) -> scorm.Item:
    """The set in hand, alone or with its lesson. Raises FieldErrors."""
    problem_set = asked_part(values)
    text = "" if values.get("set") else set_link.to_give(values.get("text", ""), values.get("file", ""))  # fmt: skip
    try:
        lesson = scorm.lesson_of(problem_set) if with_lesson else ""
    except ValueError as error:
        raise FieldErrors({"hold": str(error)}) from None
    return scorm.Item(problem_set, set_link.pack(text) if text else "", asked_level(values), lesson)


def _pass_mark(values: Mapping[str, str]) -> int | None:
    """The mark to pass, in per cent; None where none is wanted. Raises FieldErrors."""
    text = values.get("pass", "").strip().removesuffix("%").strip()
    if not text:
        return None
    mark = read_whole(text)
    if mark not in scorm.PASS_MARKS:
        raise FieldErrors({"pass": "Write a whole number from 1 to 100, or nothing."})
    return mark


def _draws(values: Mapping[str, str]) -> int:
    """How many draws are wanted. Raises FieldErrors."""
    draws = read_whole(values.get("draws", "").strip())
    if draws is None:
        raise FieldErrors({"draws": f"Write a whole number from 1 to {MOST_DRAWS}, or names."})
    return draws
