"""A marked class on the screen: what a teacher should know first, and a table that opens into the work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from xml.etree.ElementTree import Element

from calc.words import counted
from exercises.collect import Refusal
from exercises.gradebook import Gradebook, StudentMark
from exercises.marking import ProblemMark
from exercises.publish.html import Child, element
from exercises.publish.page import items
from exercises.publish.report import feedback, printable, share

# A table of more students than this is no table to read; the files hold them all.
MOST_SHOWN = 300
MOST_NAMED = 40

# How the marks of a problem look in the table: a class for the colour, a sign, and words for it.
ALL = ("dw-all", "✓", "all right")
SOME = ("dw-some", "±", "partly right")
NONE = ("dw-none", "✗", "nothing earned")
BLANK = ("dw-blank", "·", "not answered")


class MarkedClass:
    """Collects what the screen shows of a class while it is marked, and no more than a reader can use."""

    def __init__(self, decimal: str = ".") -> None:
        self._decimal = decimal
        self._rows: list[Element] = []
        self.names: list[str] = []
        self.work: list[list[list[Element]]] = []

    def add(self, student: StudentMark) -> None:
        """Show a student; one whose later hand-in counts is in the files only."""
        if not student.counts or len(self.names) == MOST_SHOWN:
            return
        row = len(self.names)
        name = printable(student.entry.student)
        cells = (
            self._cell(row, column, name, problem)
            for column, problem in enumerate(student.problems)
        )
        total = f"{self._number(student.marks)} / {student.out_of}"
        opener = element("button", name, type="button", class_="dw-open", data_student=row)
        self.names.append(name)
        self.work.append([feedback(student, problem) for problem in student.problems])
        self._rows.append(
            element("tr", element("th", opener, scope="row"), element("td", total), *cells)
        )

    def _cell(self, row: int, column: int, name: str, problem: ProblemMark) -> Element:
        class_, sign, words = look(problem)
        marks = f"{self._number(problem.marks)} / {problem.out_of}"
        opener = element(
            "button",
            element("span", sign, class_="dw-cell-sign", aria_hidden="true"),
            f" {marks}",
            element(
                "span", f", {words}: {name}, {problem.variant.problem.title}", class_="dw-hidden"
            ),
            type="button",
            class_=f"dw-open {class_}",
            data_student=row,
            data_problem=column,
        )
        return element("td", opener)

    def _number(self, marks: float) -> str:
        return f"{marks:g}".replace(".", self._decimal)

    def table(self, book: Gradebook) -> list[Element]:
        """The table, student by problem, with what the class earned of each problem at its end."""
        if not self.names:
            return []
        titles = [problem.title for problem in book.problem_set.problems]
        head = element("tr", *(element("th", text, scope="col") for text in ("Student", "Marks", *titles)))  # fmt: skip
        earned = [
            share(book.items[problem.id].difficulty) if problem.id in book.items else "–"
            for problem in book.problem_set.problems
        ]
        whole = share(book.marks / book.out_of) if book.out_of else "–"
        foot = element("tr", element("th", "The class earned", scope="row"), *(element("td", each) for each in (whole, *earned)))  # fmt: skip
        grid = element(
            "table",
            element("caption", "Open a cell to see the work; open a name for all of it"),
            element("thead", head),
            element("tbody", *self._rows),
            element("tfoot", foot),
            class_="dw-grid",
        )
        more = book.students - len(self.names)
        return [
            element(
                "div",
                grid,
                class_="dw-table dw-class-table",
                role="group",
                aria_label="Marks, student by problem",
                tabindex="0",
            ),
            *(
                [element("p", f"And {counted(more, 'student')} more: the files hold all.")]
                if more > 0
                else []
            ),
        ]


def look(problem: ProblemMark) -> tuple[str, str, str]:
    """How the marks of a problem look: `ALL`, `SOME`, `NONE` or `BLANK`."""
    if problem.marks >= problem.out_of:
        return ALL
    if problem.marks:
        return SOME
    return NONE if problem.answered else BLANK


def look_first(book: Gradebook) -> list[Element]:
    """Hand-ins to look at before trusting their marks."""
    return told("Look at these first", book.doubtful)


def listed(heading: str, names: Sequence[str]) -> list[Element]:
    """A heading with names; nothing where there are none."""
    if not names:
        return []
    shown = ", ".join(map(printable, names[:MOST_NAMED]))
    more = len(names) - MOST_NAMED
    rest = f" and {more} more" if more > 0 else ""
    return [element("p", element("strong", f"{heading} ({len(names)}): "), f"{shown}{rest}.")]


def not_read(refusals: Sequence[Refusal], number: int) -> list[Element]:
    """What could not be marked, each with why and what to do."""
    return told("Cannot be marked", [(one.place, one.reason) for one in refusals], number)


def told(heading: str, lines: Sequence[tuple[str, str]], number: int = 0) -> list[Element]:
    """A heading with lines, each with what it is about; nothing where there are none."""
    if not lines:
        return []
    number = number or len(lines)
    shown: Iterable[Child] = (
        element("span", element("strong", printable(what)), f": {printable(says)}")
        for what, says in lines[:MOST_NAMED]
    )
    more = number - min(len(lines), MOST_NAMED)
    return [
        element("h3", f"{heading} ({number})"),
        items("ul", shown),
        *([element("p", f"And {more} more: the report lists them.")] if more else []),
    ]
