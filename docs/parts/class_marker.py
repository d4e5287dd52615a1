"""Mark a class from the desk: what came, who is missing, the marks, and the files that a teacher keeps."""

from __future__ import annotations

import json
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import capital, counted
from docs.parts.shared import marked_class
from docs.parts.shared.desk_files import given, made, tell
from docs.parts.shared.desk_set import set_of
from docs.parts.shared.fields import FieldErrors, check_box, choice_field
from exercises import demo, problems
from exercises.classroom import Wanted, look, mark_files
from exercises.collect import files_of
from exercises.draws import ProblemSet
from exercises.publish import report
from exercises.publish.html import element, write
from exercises.roster import NamesError, Roster, read_roster

card = True
# Where the page puts what a teacher chose.
HAND_INS, LISTS = "hand-ins", "class-list"
MARKS, REPORT = "marks.csv", "report.html"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """What came, the class list, what to mark; then the result."""
    return [
        element(
            "form",
            _what_came(),
            _class_list(),
            _what_to_mark(),
            _buttons(),
            class_="dw-form",
            novalidate=True,
        ),
        element("div", class_="dw-output", data_output=True),
        element("p", class_="dw-status", role="status"),
        element("dialog", class_="dw-dialog dw-work", aria_labelledby="work-title"),
    ]


def _what_came() -> Element:
    return element(
        "fieldset",
        element("legend", "1. What came from the class"),
        element(
            "div",
            element(
                "p",
                "Drop files here: hand-ins, a folder of them, the zip from your school’s system, or a table of answers.",
            ),
            element("div", class_="dw-buttons", data_pickers=True),
            class_="dw-drop",
            data_drop="hand-ins",
        ),
        _text_box("pasted", "Or paste texts of hand-ins, one after the other", 3, ""),
        element("div", data_came=True, aria_live="polite"),
    )  # fmt: skip


def _class_list() -> Element:
    return element(
        "fieldset",
        element("legend", "2. Your class list, if you have one"),
        _text_box(
            "list",
            "Names, one a line, or the table as your system gives it",
            3,
            "With a list you see who is missing, and the marks come in its order.",
        ),
        element("div", class_="dw-buttons", data_list_pickers=True),
        check_box("mark", "keep", "Keep this class’s names and marks on this device", False),
    )


def _text_box(name: str, label: str, rows: int, note: str) -> Element:
    return element(
        "div",
        element("label", label, for_=f"mark-{name}"),
        element(
            "textarea",
            id=f"mark-{name}",
            name=name,
            rows=rows,
            autocomplete="off",
            spellcheck="false",
            aria_describedby=f"mark-{name}-note" if note else None,
        ),
        element("p", note, id=f"mark-{name}-note", class_="dw-note") if note else None,
        element("span", class_="dw-complaint", data_for=name),
        class_="dw-field",
    )


def _what_to_mark() -> Element:
    levels = [
        ("", "the whole set", ""),
        *((str(n), f"level {n}", "") for n in problems.LEVELS),
        ("only", "only the problems ticked below", ""),
    ]
    return element(
        "fieldset",
        element("legend", "3. What to mark"),
        element(
            "div",
            choice_field("mark", "level", "Problems", "", levels),
            class_="dw-row",
        ),
        element("div", data_problems=True, hidden=True),
    )


def _buttons() -> Element:
    return element(
        "div",
        element("button", "Mark the class", type="submit", class_="dw-button"),
        class_="dw-buttons",
    )


def respond(fields: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``problems``, ``look``, ``mark`` or ``demo``."""
    actions = {"problems": _problems, "look": _look, "mark": _mark, "demo": _demo}
    return actions[fields["action"]](fields)


def _problems(fields: Mapping[str, str]) -> dict[str, object]:
    """A box to tick for each problem of the set."""
    boxes = [
        element(
            "label",
            element("input", type="checkbox", name="only", value=each.id),
            f" {each.title}",
            class_="dw-box",
        )
        for each in set_of(fields).problems
    ]
    return {"elements": boxes}


def _wanted(fields: Mapping[str, str]) -> Wanted:
    folder = given(fields)
    return Wanted(
        tuple(files_of([folder / HAND_INS])),
        _asked(fields),
        roster=_listed(fields),
        marks=made(fields) / MARKS,
        report=made(fields) / REPORT,
        within=folder / HAND_INS,
    )


def _asked(fields: Mapping[str, str]) -> ProblemSet:
    problem_set, level = set_of(fields), fields.get("level", "")
    if level in {str(each) for each in problems.LEVELS}:
        return problem_set.of_level(int(level))
    if level == "only":
        return _ticked(problem_set, fields)
    return problem_set


def _ticked(problem_set: ProblemSet, fields: Mapping[str, str]) -> ProblemSet:
    """The problems that are ticked. Raises FieldErrors where none is."""
    ticked = [each for each in json.loads(fields.get("only", "[]")) if problem_set.problem(each)]
    if not ticked:
        raise FieldErrors({"level": "Tick the problems that you asked."})
    return problem_set.only(ticked)


def _listed(fields: Mapping[str, str]) -> Roster:
    text = fields.get("list", "")
    if not text.strip():
        return Roster()
    try:
        return read_roster(text)
    except NamesError as error:
        raise FieldErrors({"list": capital(str(error))}) from None


def _look(fields: Mapping[str, str]) -> dict[str, object]:
    """What came, before anything is marked."""
    wanted = _wanted(fields)
    came = look(wanted, tell)
    said = [("Class list", remark) for remark in came.roster.remarks]
    return {
        "elements": [
            *marked_class.listed("Came", came.students),
            *marked_class.listed("Came twice; the one saved last counts", came.twice),
            *marked_class.listed("Missing", came.missing),
            *marked_class.listed("Not on the class list", came.unlisted),
            *marked_class.told("Nearly alike", [(near.name, f"may be {near.other} ({near.why})") for near in came.near]),
            *marked_class.told("How the files were read", [*said, *((one.place, one.says) for one in came.remarks)]),
            *marked_class.not_read(came.refusals, came.refused),
        ],
        "says": f"{counted(came.number, 'student')} in {counted(len(wanted.files), 'file')}.",
    }  # fmt: skip


def _mark(fields: Mapping[str, str]) -> dict[str, object]:
    wanted = _wanted(fields)
    shown = marked_class.MarkedClass()
    book, marks = mark_files(wanted, tell)
    for student in marks:
        shown.add(student)
    earned = report.share(book.marks / book.out_of) if book.out_of else "–"
    return {
        "elements": [*marked_class.look_first(book), *shown.table(book)],
        "says": f"{wanted.problem_set.title}: {counted(book.students, 'student')} marked. The class earned {earned}.",
        "made": [path.name for path in files_of([made(fields)])],
        "students": shown.names,
        "problems": [each.title for each in wanted.problem_set.problems],
        "work": [[write(*each) for each in row] for row in shown.work],
    }


def _demo(fields: Mapping[str, str]) -> dict[str, object]:
    """The invented class's hand-ins and names, to try the marking on."""
    folder = made(fields)
    names = demo.write_hand_ins(problems.load(demo.DEMO_SET), folder)
    return {"made": [path.relative_to(folder).as_posix() for path in files_of([folder])], "set": demo.DEMO_SET, "names": "\n".join(names)}  # fmt: skip
