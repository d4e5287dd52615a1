"""Mark a class from the desk: what came, who is missing, the marks, and the files that a teacher keeps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree.ElementTree import Element

from calc.words import capital, counted
from docs.parts.shared import marked_class
from docs.parts.shared.desk_files import given, made, pack, tell
from docs.parts.shared.desk_set import set_of
from docs.parts.shared.fields import FieldErrors, check_box, choice_field, quiet_button, text_field
from exercises import demo, problems, untrusted
from exercises.changes import (
    LONGEST_REASON,
    Changes,
    ChangesError,
    read_changes,
    write_changes,
)
from exercises.classroom import Came, Wanted, look, mark_files
from exercises.collect import Columns, answer_headings, files_of, sets_of, sets_of_tables
from exercises.draws import ProblemSet
from exercises.letters import decode
from exercises.name_columns import means
from exercises.problems import read_set
from exercises.publish import page, report
from exercises.publish.html import element
from exercises.roster import NamesError, Roster, open_roster, read_roster
from exercises.school_scale import ScaleError, read_scale
from exercises.setfile import SetError
from exercises.term import mark_term

card = True
# Where the page puts what a teacher chose.
HAND_INS = "hand-ins"
MARKS, REPORT, CHANGES, PAGES = "marks.csv", "report.html", "changes.csv", "pages"
DECIMALS = (".", ",")
TERM = "term"
# What a column may hold besides an answer.
STUDENT = "student"
MOST_ELSEWHERE = 20
# Of the invented class, as an example.
A_FEW = 4


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
        element("div", *_example(), class_="dw-output", data_output=True),
        element("div", data_pages=True),
        element("p", class_="dw-status", role="status"),
        _work_dialog(),
    ]


def _example() -> list[Element]:
    """What comes of it, shown on some of the invented class."""
    with TemporaryDirectory() as folder:
        demo.write_some_hand_ins(problems.load(demo.DEMO_SET), Path(folder), A_FEW)
        wanted = Wanted((Path(folder),), problems.load(demo.DEMO_SET))
        book, marks = mark_files(wanted)
        shown = marked_class.MarkedClass(Roster(), ".")
        for student in marks:
            shown.add(student)
    says = f"What you get: {counted(book.students, 'student')} of an invented class of {len(demo.STUDENTS)}, marked"
    return shown.table(book, says, opens=False)


def _work_dialog() -> Element:
    """A student's work, and marks to change by hand."""
    return element(
        "dialog",
        element(
            "div",
            element("h2", id="work-title"),
            element("button", "Close", type="button", class_="dw-button dw-quiet", data_close=True),
            class_="dw-work-head",
        ),
        element("div", class_="dw-work-body", data_work=True, tabindex="0", role="group", aria_labelledby="work-title"),
        element(
            "form",
            element(
                "div",
                element("label", "Marks ", element("span", data_most=True), for_="work-marks"),
                element("input", id="work-marks", name="marks", type="text", inputmode="decimal", autocomplete="off"),
                class_="dw-field",
            ),
            element(
                "div",
                element("label", "Why", for_="work-reason"),
                element("input", id="work-reason", name="reason", type="text", maxlength=LONGEST_REASON, autocomplete="off"),
                class_="dw-field",
            ),
            element(
                "div",
                element("button", "Change the marks", type="submit", class_="dw-button dw-quiet"),
                class_="dw-buttons",
            ),
            element("p", class_="dw-complaint", data_wrong=True, role="alert"),
            class_="dw-change",
            novalidate=True,
        ),
        class_="dw-dialog dw-work",
        aria_labelledby="work-title",
    )  # fmt: skip


def _what_came() -> Element:
    return element(
        "fieldset",
        element("legend", "1. What came from the class"),
        element(
            "div",
            element(
                "div",
                element(
                    "p",
                    "Drop files here: hand-ins, a folder of them, the zip from your school’s system, or a table of answers. "
                    f"Bring {CHANGES} along, and the marks that you changed are as you left them.",
                ),
                class_="dw-empty-place",
                data_picture="print",
            ),
            element(
                "div",
                quiet_button("Choose files", "files"),
                quiet_button("Choose a folder", "folder"),
                quiet_button("Try it with the invented class", "demo"),
                class_="dw-buttons",
                data_pickers=True,
            ),
            class_="dw-drop",
            data_drop="hand-ins",
        ),
        _text_box("pasted", "Or paste texts of hand-ins, one after the other", 3, ""),
        element("span", class_="dw-complaint", data_for="changes"),
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
            "With a list you see who is missing, and the marks come in its order, with its columns.",
        ),
        element("div", quiet_button("Choose a file with the list", "list"), class_="dw-buttons"),
        check_box("mark", "keep", "Keep this class’s names and changed marks on this device", False),
    )  # fmt: skip


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
        ("only", "only those I tick", ""),
        (TERM, "every set that they are for", ""),
    ]
    numbers = [("", "as the class writes them", ""), (".", "1.5, commas between cells", ""), (",", "1,5, semicolons between cells", "")]  # fmt: skip
    return element(
        "fieldset",
        element("legend", "3. What to mark, and how"),
        element(
            "div",
            choice_field("mark", "level", "Problems", "", levels),
            choice_field("mark", "decimal", f"Numbers in {MARKS}", "", numbers),
            text_field("mark", "scale", "Your school’s grades, if you want them", "", "Each grade with its least per cent: A=90, B=80, C=70"),
            class_="dw-row",
        ),
        element("div", data_problems=True, hidden=True),
        element("span", class_="dw-complaint", data_for="only"),
    )  # fmt: skip


def _buttons() -> Element:
    return element(
        "div",
        element("button", "Mark the class", type="submit", class_="dw-button"),
        class_="dw-buttons",
    )


def respond(fields: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``problems``, ``changes``, ``look``, ``mark``, ``pages``, ``print``, ``list`` or ``demo``.

    Beside the files, a question bears the class ``list``, what to mark (``level``, ``only``), ``decimal`` and ``scale``
    of the marks, and as JSON what ``columns`` hold, which names are the ``same``, and the ``changes`` made by hand.
    """
    actions = {"problems": _problems, "changes": _changes, "look": _look, "mark": _mark, "pages": _pages, "print": _print, "list": _list, "demo": _demo}  # fmt: skip
    return actions[fields["action"]](fields)


def _problems(fields: Mapping[str, str]) -> dict[str, object]:
    """A box to tick for each problem of the set."""
    boxes = [
        element(
            "label",
            element("input", type="checkbox", name="only", value=each.id, checked=True),
            f" {each.title}",
            class_="dw-box",
        )
        for each in set_of(fields).problems
    ]
    return {"elements": boxes}


def _wanted(fields: Mapping[str, str]) -> Wanted:
    """What the reader asks for, without any file to write. Raises FieldErrors."""
    folder = given(fields) / HAND_INS
    with _beside("list", NamesError):
        roster = _roster(fields)
    with _beside("scale", ScaleError):
        scale = read_scale(fields["scale"]) if fields.get("scale", "").strip() else None
    with _beside("changes", ChangesError):
        changes = Changes.of(untrusted.rows(fields.get("changes", "")))
    return Wanted(
        (folder,),
        _asked(fields),
        roster=roster,
        columns=_told_columns(fields),
        same=untrusted.strings(fields.get("same", "")),
        changes=changes,
        scale=scale,
        decimal=fields["decimal"] if fields.get("decimal") in DECIMALS else "",
        within=folder,
    )


def _told_columns(fields: Mapping[str, str]) -> Columns:
    """What the reader said that columns hold: a name, or an answer that the set asks for."""
    said = untrusted.strings(fields.get("columns", ""))
    known = answer_headings(_asked(fields))
    answers = {heading: holds for heading, holds in said.items() if holds in known}
    return Columns(
        tuple(one for one, holds in said.items() if holds == STUDENT), answers, of_some=True
    )


@contextmanager
def _beside(field: str, kind: type[ValueError]) -> Iterator[None]:
    """What is wrong with a field, told beside it."""
    try:
        yield
    except kind as error:
        raise FieldErrors({field: capital(str(error))}) from None


def _asked(fields: Mapping[str, str]) -> ProblemSet:
    problem_set, level = set_of(fields), fields.get("level", "")
    if level == "only":
        ticked = set(untrusted.texts(fields.get("only", "")))
        known = [each.id for each in problem_set.problems if each.id in ticked]
        if not known:
            raise FieldErrors({"only": "Tick the problems that you asked."})
        return problem_set.only(known)
    if level in {str(each) for each in problems.LEVELS}:
        part = problem_set.of_level(int(level))
        if not part.problems:
            raise FieldErrors({"level": f"“{problem_set.title}” has no problem of level {level}."})
        return part
    return problem_set


def _roster(fields: Mapping[str, str]) -> Roster:
    text = fields.get("list", "")
    return read_roster(text) if text.strip() else Roster()


def _look(fields: Mapping[str, str]) -> dict[str, object]:
    """What came, before anything is marked."""
    wanted = _wanted(fields)
    came = look(wanted, tell)
    return {
        "elements": [
            *marked_class.what_came(came, wanted.same, list(_elsewhere(came, fields)), _columns(came, wanted)),
            *marked_class.told("Marks that you changed by hand", [("", one.told) for one in wanted.changes]),
        ],
        "says": f"{counted(came.number, 'student')} in {counted(len(wanted.files), 'file')}.",
    }  # fmt: skip


def _columns(came: Came, wanted: Wanted) -> list[Element]:
    """A list for each column of a table that nothing is read from, to say what it holds."""
    said = {**dict.fromkeys(wanted.columns.student, STUDENT), **wanted.columns.answers}
    unread = (one for remark in came.remarks for one in remark.unused if not means(one))
    unused = dict.fromkeys((*said, *unread))
    holds = [("", "nothing that is marked", ""), (STUDENT, "the student’s name", "")]
    holds += [
        (heading, f"{wanted.problem_set.problem(problem).title}: {step}", "")
        for heading, (problem, step) in answer_headings(wanted.problem_set).items()
    ]
    return marked_class.to_say(
        "Columns that were not used",
        [
            choice_field("column", str(n), f"“{heading}” holds", said.get(heading, ""), holds)
            for n, heading in enumerate(unused)
        ],
        list(unused),
    )


def _elsewhere(came: Came, fields: Mapping[str, str]) -> Iterator[marked_class.Elsewhere]:
    """The hand-ins for other sets, the most first, each with how to take its set in hand."""
    ours = problems.set_keys()
    own = {} if set(came.elsewhere) <= set(ours) else _own_sets(fields)
    for key, number in came.elsewhere.most_common(MOST_ELSEWHERE):
        title, taken = key, {}
        if key in ours:
            title, taken = problems.load(key).title, {"set": key}
        elif key in own:
            title, taken = own[key][1].title, {"file": own[key][0]}
        # Over the term it is marked with the others.
        if not taken or fields.get("level") != TERM:
            yield marked_class.Elsewhere(number, title, taken)


def _mark(fields: Mapping[str, str]) -> dict[str, object]:
    out = made(fields)
    wanted = replace(_wanted(fields), marks=out / MARKS, report=out / REPORT)
    if fields.get("level") == TERM:
        return _mark_term(wanted, fields)
    shown = marked_class.MarkedClass(wanted.roster, wanted.writing.decimal)
    book, marks = mark_files(wanted, tell)
    for student in marks:
        shown.add(student)
    if list(wanted.changes):
        (out / CHANGES).write_text(write_changes(wanted.changes), "utf-8-sig", newline="")
    earned = report.share(book.marks / book.out_of) if book.out_of else "–"
    return {
        "elements": [*marked_class.look_first(book, wanted.changes), *shown.table(book)],
        "says": f"{wanted.problem_set.title}: {counted(book.students, 'student')} marked. The class earned {earned}.",
        "made": sorted(path.name for path in out.iterdir()),
        **shown.work(wanted.problem_set),
    }


def _mark_term(wanted: Wanted, fields: Mapping[str, str]) -> dict[str, object]:
    """Every set that there are hand-ins for, and a table over the term."""
    own = {key: each for key, (_, each) in _own_sets(fields).items()}
    known = own | {wanted.problem_set.key: wanted.problem_set}
    ours = {key: problems.load(key) for key in problems.set_keys()}
    all_sets = ours | known
    keys = sets_of(wanted.files) + sets_of_tables(wanted.files, all_sets.values())
    sets = [each for key, each in sorted(all_sets.items()) if key in keys]
    shown = marked_class.MarkedTerm()
    term = mark_term(wanted, sets or [wanted.problem_set], tell, shown.add)
    return {
        "elements": shown.table(term),
        "says": f"{counted(len(term.books), 'set')} marked. To change a mark, mark its set alone.",
        "made": sorted(path.name for path in made(fields).iterdir()),
        **shown.work(term),
    }


def _own_sets(fields: Mapping[str, str]) -> dict[str, tuple[str, ProblemSet]]:
    """The teacher's own sets on the device that can be read, by key, each with its file's name."""
    found = {}
    for file, text in untrusted.strings(fields.get("own_sets", "")).items():
        with suppress(SetError):
            problem_set = read_set(text, file)
            found[problem_set.key] = (file, problem_set)
    return found


def _changes(fields: Mapping[str, str]) -> dict[str, object]:
    """The changed marks in a file that an earlier marking wrote."""
    path = next(path for path in given(fields).rglob("*") if path.is_file())
    with _beside("changes", ChangesError):
        changes = read_changes(decode(path.read_bytes()))
    return {"changes": [one.as_row for one in changes]}


def _pages(fields: Mapping[str, str]) -> dict[str, object]:
    """A page for each student, as files and all in one zip."""
    out = made(fields)
    wanted = replace(_wanted(fields), feedback=out / PAGES)
    _, marks = mark_files(wanted, tell)
    names = [student.entry.student for student in marks if student.counts]
    files = files_of([out / PAGES])
    pack(files, out, out / f"{PAGES}.zip")
    return {"made": [f"{PAGES}.zip"], "says": f"{counted(len(names), 'page')} to hand back."}


def _print(fields: Mapping[str, str]) -> dict[str, object]:
    """Every student's work, each on a page of its own, to print and hand back; or that of one ``student``."""
    wanted, only = _wanted(fields), fields.get("student", "")
    _, marks = mark_files(wanted, tell)
    pages = [
        report.student_part(student, number)
        for number, student in enumerate(marks)
        if student.counts and only in ("", student.entry.student)
    ]
    return {"elements": pages, "style": page.STYLE + report.STYLE, "says": f"{counted(len(pages), 'student')} to print."}  # fmt: skip


def _list(fields: Mapping[str, str]) -> dict[str, object]:
    """A class list in a file, text or workbook, as a table to read and change in its box."""
    path = next(path for path in given(fields).rglob("*") if path.is_file())
    with _beside("list", NamesError):
        roster = open_roster(path)
    rows = [person.cells for person in roster.people]
    if len(roster.headings) > 1:
        rows.insert(0, roster.headings)
    return {"list": "\n".join("\t".join(cells) for cells in rows)}


def _demo(fields: Mapping[str, str]) -> dict[str, object]:
    """The invented class's hand-ins and names, to try the marking on."""
    folder = made(fields)
    names = demo.write_hand_ins(problems.load(demo.DEMO_SET), folder)
    return {"made": [path.relative_to(folder).as_posix() for path in files_of([folder])], "set": demo.DEMO_SET, "names": "\n".join(names)}  # fmt: skip
