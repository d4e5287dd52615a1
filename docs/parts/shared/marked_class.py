"""A class on the screen: what came from it, and its marks as a table that opens into the work."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc.words import all_of, counted
from exercises.changes import Changes
from exercises.classroom import Came
from exercises.draws import ProblemSet, plain_name
from exercises.gradebook import Gradebook, StudentMark
from exercises.marking import ProblemMark
from exercises.near_names import OTHER_ORDER, SAME_LETTERS, Near
from exercises.publish.html import Child, element, table, write
from exercises.publish.page import items
from exercises.publish.report import feedback, printable, share
from exercises.roster import Roster
from exercises.term import Earned, Term

# A table of more students than this is no table to read; the files hold them all.
MOST_SHOWN = 300
MOST_NAMED = 40
# Of hand-ins that a table over the term opens into: each weighs about 20 kB.
MOST_OPENED = 1_000

# How the marks of a problem look in the table: a class for the colour, a sign, and words for it.
ALL = ("dw-all", "✓", "all right")
SOME = ("dw-some", "±", "partly right")
NONE = ("dw-none", "✗", "nothing earned")
BLANK = ("dw-blank", "·", "not answered")
BY_HAND = "✎"
OPEN = "Open a cell to see the work; open a name for all of it"


# Before marking.


@dataclass(frozen=True)
class Elsewhere:
    """Hand-ins for another set than the one in hand: how many, the set's title, and how the page takes it in hand.

    Nothing is `taken` where the set is neither ours nor on the device; the title is then its key.
    """

    number: int
    title: str
    taken: Mapping[str, str]


def what_came(
    came: Came,
    same: Mapping[str, str],
    elsewhere: Sequence[Elsewhere] = (),
    columns: Sequence[Element] = (),
) -> list[Element]:
    """Who came, who twice, who is missing, whose name is nearly another's, and what cannot be read or used."""
    return [
        *listed("Handed in", came.students, came.number),
        *listed("Handed in more than once; the one saved last counts", came.twice),
        *listed("Missing", came.missing),
        *listed("Not on the class list", came.unlisted),
        *_for_others(elsewhere),
        *_near(came.near, same),
        *told("How the class list was read", [("", says) for says in came.roster.remarks]),
        *told("How the files were read", [(one.place, one.says) for one in came.remarks]),
        *columns,
        *told("Cannot be marked", [(one.place, one.reason) for one in came.refusals], came.refused),
    ]


def to_say(heading: str, fields: Sequence[Element], about: Sequence[str]) -> list[Element]:
    """Fields in which a teacher says what something is, each with what it is about; nothing where there are none."""
    for field, what in zip(fields, about, strict=True):
        for control in field.iter("select"):
            control.set("data-column", what)
    return [element("h2", heading), element("div", *fields, class_="dw-row")] if fields else []


def _for_others(elsewhere: Sequence[Elsewhere]) -> list[Element]:
    """Hand-ins for other sets, with buttons that go over to one, or that mark each set by itself."""
    if not elsewhere:
        return []
    lines = (element("span", f"{_counted_for(one)} ", _press("Mark that set instead", one.title, **one.taken) if one.taken else None) for one in elsewhere)  # fmt: skip
    each = _press("Mark every set, each by itself", "", level="term")
    return [
        element("h2", "Hand-ins for other sets"),
        items("ul", lines),
        *([element("p", each)] if any(one.taken for one in elsewhere) else []),
    ]


def _counted_for(one: Elsewhere) -> str:
    said = f"{counted(one.number, 'hand-in')} for “{printable(one.title)}”"
    unknown = ", a set that is neither ours nor kept on this device. Open its file above, at “The set in hand”."
    return f"{said}{'.' if one.taken else unknown}"


def _press(says: str, about: str, **told: str) -> Element:
    """A button that tells the page what is wanted."""
    label = f"{says}: {printable(about)}" if about else None
    data = {f"data_{name}": text for name, text in told.items()}
    return element("button", says, type="button", class_="dw-open", aria_label=label, **data)


def _near(near: Sequence[Near], same: Mapping[str, str]) -> list[Element]:
    """Names that may mean one student, with a button that says so; and what the teacher has said."""
    # One name for two students is for the teacher to part.
    sure = {one.name: one.other for one in near if one.why in (SAME_LETTERS, OTHER_ORDER)}
    sure = sure if len(set(sure.values())) == len(sure) > 1 else {}
    every = (
        _press(
            f"They are the same in {all_of(len(sure), 'pair')} that differ only in accents or order",
            "",
            names=json.dumps(sure),
        )
        if sure
        else None
    )
    lines = [
        *([every] if every is not None else []),
        *(_pair(f"{one.says}.", "They are the same", one.name, one.other) for one in near[:MOST_NAMED]),
        *(_pair(f"{name} is {other}.", "No, they are two", name, "") for name, other in same.items()),
    ]  # fmt: skip
    return [element("h2", "Names"), items("ul", lines)] if lines else []


def _pair(says: str, press: str, name: str, other: str) -> Element:
    return element("span", f"{printable(says)} ", _press(press, name, name=name, other=other))


def listed(heading: str, names: Sequence[str], number: int = 0) -> list[Element]:
    """A heading with names; nothing where there are none."""
    if not names:
        return []
    number = number or len(names)
    between = "; " if any("," in name for name in names) else ", "
    shown = between.join(map(printable, names[:MOST_NAMED]))
    rest = f" and {number - MOST_NAMED} more" if number > MOST_NAMED else ""
    return [element("p", element("strong", f"{heading} ({number}): "), f"{shown}{rest}.")]


def told(heading: str, lines: Sequence[tuple[str, str]], number: int = 0) -> list[Element]:
    """A heading with lines, each with what it is about; nothing where there are none."""
    if not lines:
        return []
    shown: Iterable[Child] = (
        element("span", element("strong", f"{printable(what)}: ") if what else None, printable(says))
        for what, says in lines[:MOST_NAMED]
    )  # fmt: skip
    more = (number or len(lines)) - min(len(lines), MOST_NAMED)
    return [
        element("h2", heading),
        items("ul", shown),
        *([element("p", f"And {more} more: the report lists them.")] if more else []),
    ]


# After marking.


def look_first(book: Gradebook, changes: Changes) -> list[Element]:
    """What to look at before trusting the marks."""
    return [
        *told("Look at these first", book.doubtful),
        *told("Changes by hand that fit nothing", [("", says) for says in changes.unused]),
    ]


class MarkedClass:
    """Collects what the screen shows of a class while it is marked, and no more than a reader can use."""

    def __init__(self, roster: Roster, decimal: str) -> None:
        self._roster = roster
        self._decimal = decimal
        self._students: list[StudentMark] = []

    def add(self, student: StudentMark) -> None:
        """Show a student; one whose later hand-in counts is in the files only."""
        if student.counts and len(self._students) < MOST_SHOWN:
            self._students.append(student)

    def _ordered(self) -> list[StudentMark]:
        """In the order of the class list; those who are not on it at the end."""
        last = len(self._roster.people)
        places = {id(one): self._roster.place(one.entry.student) for one in self._students}
        return sorted(self._students, key=lambda one: last if places[id(one)] is None else places[id(one)])  # fmt: skip

    def work(self, problem_set: ProblemSet) -> dict[str, object]:
        """What the table opens into: of each student each problem's work, and its marks to change by hand."""
        shown = self._ordered()
        return {
            "students": [printable(one.entry.student) for one in shown],
            "problems": [{"id": each.id, "title": each.title} for each in problem_set.problems],
            "work": [[_work(one, problem) for problem in one.problems] for one in shown],
        }

    def table(self, book: Gradebook, caption: str = OPEN, opens: bool = True) -> list[Element]:
        """The table, student by problem, with what the class earned of each problem at its end.

        Without scripts, no cell `opens`.
        """
        if not self._students:
            return []
        problems = book.problem_set.problems
        heads = ("Student", "Marks", *(problem.title for problem in problems))
        grid = element(
            "table",
            element("caption", caption),
            element("thead", element("tr", *(element("th", text, scope="col") for text in heads))),
            element("tbody", *self._rows(len(problems), "button" if opens else "span")),
            element("tfoot", _earned(book)),
            class_="dw-grid",
        )
        more = book.students - len(self._students)
        return [
            element(
                "div",
                grid,
                class_="dw-table dw-class-table",
                role="group",
                aria_label="Marks, student by problem",
                tabindex="0",
            ),
            *([element("p", f"And {counted(more, 'student')} more: the files hold all.")] if more > 0 else []),
        ]  # fmt: skip

    def _rows(self, problems: int, opener: str) -> Iterator[Element]:
        """A line for everybody on the list, blank for those missing; then the others."""
        ordered = self._ordered()
        places = [self._roster.place(one.entry.student) for one in ordered]
        listed = self._roster.names if len(self._roster.names) <= MOST_SHOWN else ()
        row_of = {place: row for row, place in enumerate(places) if place is not None and listed}
        for place, name in enumerate(listed):
            if place in row_of:
                yield self._row(row_of[place], ordered[row_of[place]], opener)
            else:
                yield _missing(name, problems)
        for row, one in enumerate(ordered):
            if places[row] not in row_of:
                yield self._row(row, one, opener)

    def _row(self, row: int, student: StudentMark, opener: str) -> Element:
        name = printable(student.entry.student)
        head = _opener(opener, "", name, student=row)
        total = f"{self._number(student.marks)} / {student.out_of}"
        cells = (self._cell(row, n, name, one, opener) for n, one in enumerate(student.problems))
        return element("tr", element("th", head, scope="row"), element("td", total), *cells)

    def _cell(self, row: int, column: int, name: str, problem: ProblemMark, opener: str) -> Element:
        class_, sign, words = seen_as(problem)
        by_hand = _is_by_hand(problem)
        marks = (
            f" {self._number(problem.marks)} / {problem.out_of}{f' {BY_HAND}' if by_hand else ''}"
        )
        told = f", {words}{', changed by hand' if by_hand else ''}: {name}, {problem.variant.problem.title}"  # fmt: skip
        cell = _opener(
            opener,
            class_,
            element("span", sign, class_="dw-cell-sign", aria_hidden="true"),
            marks,
            element("span", told, class_="dw-hidden"),
            student=row,
            problem=column,
        )
        return element("td", cell)

    def _number(self, marks: float) -> str:
        return f"{marks:g}".replace(".", self._decimal)


def _opener(tag: str, class_: str, *shown: Child, **place: int) -> Element:
    """A button that opens the work of a place; or, where nothing opens, what it looks like."""
    opens = {"type": "button", **{f"data_{name}": number for name, number in place.items()}}
    return element(tag, *shown, class_=f"dw-open {class_}".strip(), **(opens if tag == "button" else {}))  # fmt: skip


class MarkedTerm:
    """Collects the work of several sets while they are marked, so that a table over the term opens into it."""

    def __init__(self) -> None:
        # By the plain name and the set's key.
        self._work: dict[tuple[str, str], dict[str, object]] = {}

    def add(self, problem_set: ProblemSet, student: StudentMark) -> None:
        key = plain_name(student.entry.student), problem_set.key
        if key in self._work or len(self._work) < MOST_OPENED:
            self._work[key] = _work_of_set(problem_set, student)

    def work(self, term: Term) -> dict[str, object]:
        """What the table opens into: of each student each set's work. A mark is changed where one set is marked."""
        return {
            "students": [printable(name) for name in term.students()[:MOST_SHOWN]],
            "problems": [{"id": "", "title": each.title} for each in term.sets],
            "work": [
                [self._work.get((plain_name(name), each.key), _NO_WORK) for each in term.sets]
                for name in term.students()[:MOST_SHOWN]
            ],
        }

    def table(self, term: Term) -> list[Element]:
        """A table over the term, student by set, and what to know of each set's hand-ins."""
        rows = [self._row(n, name, term) for n, name in enumerate(term.students()[:MOST_SHOWN])]
        heads = ["Student", "Marks", *(each.title for each in term.sets)]
        says = f"Marks over the term; a set that was not handed in counts neither way. {OPEN}"
        refusals = [(one.place, one.reason) for book in term.books.values() for one in book.refusals]  # fmt: skip
        return [table(says, heads, rows, "dw-class-table"), *told("Not marked", refusals)]

    def _row(self, row: int, name: str, term: Term) -> list[Child]:
        earned = term.earned(name)
        if not earned:
            return [printable(name), "missing", *("–" for _ in term.sets)]
        marks, out_of = (sum(of) for of in zip(*((one.marks, one.out_of) for one in earned.values()), strict=True))  # fmt: skip
        opens = any((plain_name(name), each.key) in self._work for each in term.sets)
        head = _opener("button", "", printable(name), student=row) if opens else printable(name)
        cells = (
            self._cell(row, n, name, each, earned.get(each.key)) for n, each in enumerate(term.sets)
        )
        return [head, f"{marks:g} / {out_of}", *cells]

    def _cell(self, row: int, column: int, name: str, problem_set: ProblemSet, one: Earned | None) -> Child:  # fmt: skip
        if one is None:
            return "–"
        shown = f"{one.marks:g} / {one.out_of}"
        if (plain_name(name), problem_set.key) not in self._work:
            return shown
        told = element("span", f": {printable(name)}, {problem_set.title}", class_="dw-hidden")
        return _opener("button", "", shown, told, student=row, problem=column)


_NO_WORK: dict[str, object] = {"html": "", "marks": 0, "out_of": 0, "reason": ""}


def _work_of_set(problem_set: ProblemSet, student: StudentMark) -> dict[str, object]:
    parts = (part for problem in student.problems for part in feedback(student, problem, "h4"))
    shown = write(element("h3", problem_set.title), *parts)
    return {"html": shown, "marks": student.marks, "out_of": student.out_of, "reason": ""}


def _work(student: StudentMark, problem: ProblemMark) -> dict[str, object]:
    """A problem's work as HTML, with what a change by hand needs to know."""
    by_hand = problem.by_hand
    return {
        "html": write(*feedback(student, problem, "h3")),
        "marks": problem.marks,
        "out_of": problem.out_of,
        "reason": by_hand.reason if by_hand else "",
    }


def _missing(name: str, problems: int) -> Element:
    blanks = (element("td", "–") for _ in range(problems))
    return element("tr", element("th", printable(name), scope="row"), element("td", "missing"), *blanks)  # fmt: skip


def _earned(book: Gradebook) -> Element:
    whole = book.marks / book.out_of if book.out_of else None
    items = (book.items.get(problem.id) for problem in book.problem_set.problems)
    shares = (whole, *(item.difficulty if item else None for item in items))
    return element("tr", element("th", "The class earned", scope="row"), *(element("td", share(each)) for each in shares))  # fmt: skip


def _is_by_hand(problem: ProblemMark) -> bool:
    return bool(problem.by_hand or any(step.by_hand for step in problem.steps))


def seen_as(problem: ProblemMark) -> tuple[str, str, str]:
    """How the marks of a problem look: `ALL`, `SOME`, `NONE` or `BLANK`."""
    if problem.marks >= problem.out_of:
        return ALL
    if problem.marks:
        return SOME
    return NONE if problem.answered else BLANK
