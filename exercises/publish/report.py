"""The class report: one page for the teacher, to read on a screen or on paper.

First a table, student by problem, whose names lead to each student's part; then what the class misunderstood; then the
students, each on a page of its own that can be handed back, for it tells nothing of anybody else. `feedback_page` makes
one student's page alone.

Students are written as they are marked; the page about the class, which can only be written last,
comes first. So each student's part waits on disk, and memory stays flat.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import TextIO
from xml.etree.ElementTree import Element

from calc import units
from calc.words import capital, counted
from exercises.gradebook import (
    MOST_GROUPED,
    Gradebook,
    Group,
    Made,
    StudentMark,
    comment,
    wrote,
)
from exercises.handin import name_for_file
from exercises.item_analysis import Item
from exercises.lessons import LESSONS
from exercises.marking import ProblemMark, StepMark, introduced, solution
from exercises.publish.html import Child, element, table, write
from exercises.publish.page import CLOSING, items, opening, page
from exercises.roster import Roster
from exercises.spool import Spool

# Below this many students the page says how coarse its figures are.
SMALL_CLASS = 20
MOST_NAMES = 40

STYLE = """
section.student { border-top: 2px solid var(--line); margin-top: 1.5rem; break-before: page; }
.class th, .class td { white-space: nowrap; } .class tbody th { white-space: normal; min-width: 8rem; }
.earns { color: var(--good); } .misses { color: var(--bad); }
.sign { display: inline-block; width: 1.2em; font-weight: 700; }
.answer { font-weight: 600; }
ul.steps { list-style: none; padding: 0; margin: 0 0 0.8rem; }
ul.steps li { margin: 0.25rem 0; padding-left: 1.2em; text-indent: -1.2em; }
section h3 { margin: 0.6rem 0 0.2rem; font-size: 1rem; break-after: avoid; }
.first { background: var(--wash); border-radius: 0.5rem; padding: 0.4rem 0.8rem; }
@media print {
  /* A student's part is handed back: in two columns it is one sheet, not one and three lines. */
  section.student { columns: 2; column-gap: 8mm; margin-top: 0; border-top: none; font-size: 9.5pt; line-height: 1.4; }
  section.student h2 { column-span: all; margin-top: 0; }
  section.student ol { padding-left: 1.4em; }
}
"""


# A student's name, and the pieces: part, row and place; of a hand-in that does not count one line alone.
Written = tuple[str, tuple[str, ...]]


class Report:
    """Writes a report. Add the students, then finish with the class. Use as a context manager."""

    def __init__(self, roster: Roster | None = None) -> None:
        self._roster = roster or Roster()

    def __enter__(self) -> Report:
        self._stack = ExitStack()
        spools = (self._stack.enter_context(Spool()) for _ in range(4))
        self._students, self._rows, self._places, self._older = spools
        # The number of each place on the list, and those of others; where names lead, as far as lists of names go.
        self._of: dict[int, int] = {}
        self._others: list[int] = []
        self._ids: dict[str, int] = {}
        return self

    def __exit__(self, *trouble: object) -> None:
        self._stack.close()

    def written(self, student: StudentMark, number: int) -> Written:
        """A student's pieces, to `keep`: plain data. `number` counts those before whose hand-ins count."""
        name = student.entry.student
        if not student.counts:
            return name, (write(element("li", _in_short(student))) + "\n",)
        row, part = _row(student, number), student_part(student, number)
        place = element("li", f"{printable(name)}: {_came_as(student)}")
        return name, tuple(write(piece) + "\n" for piece in (part, row, place))

    def keep(self, written: Written) -> None:
        name, (first, *more) = written
        if not more:
            self._older.add(first)
            return
        number = self._students.add(first)
        for spool, piece in zip((self._rows, self._places), more, strict=True):
            spool.add(piece)
        if number < MOST_GROUPED:
            self._ids[name] = number
        place = self._roster.place(name)
        if place is None:
            self._others.append(number)
        else:
            self._of[place] = number

    def finish(self, book: Gradebook, path: Path) -> None:
        """Write the page. Raises OSError as `open` does."""
        title = f"Marks: {book.problem_set.title}"
        order = [*(self._of[place] for place in sorted(self._of)), *self._others]
        with path.open("w", encoding="utf-8", errors="replace") as file:
            file.write(opening(title, STYLE))
            self._write(file, *_summary(book))
            if book.students:
                self._write(file, element("p", _key_to_table(book), class_="note"))
                self._write_table(file, book)
            self._write(file, *_class(book, self._ids))
            self._write_list(file, "Handed in earlier, not counted", self._older)
            self._write_list(file, "Where each hand-in came from", self._places, order)
            self._students.copy(file, order)
            file.write(CLOSING)

    def _write(self, file: TextIO, *parts: Element) -> None:
        for part in parts:
            file.write(write(part) + "\n")

    def _write_table(self, file: TextIO, book: Gradebook) -> None:
        """The table is longer than a tree should be: its rows go in as they are."""
        begin, _, end = write(_class_table(book)).rpartition(ROWS)
        file.write(begin)
        for place, name in enumerate(self._roster.names):
            if place in self._of:
                self._rows.copy(file, [self._of[place]])
            else:
                self._write(file, _row_of_missing(name, book))
        self._rows.copy(file, self._others)
        file.write(end + "\n")

    def _write_list(
        self, file: TextIO, heading: str, lines: Spool, order: Sequence[int] | None = None
    ) -> None:
        if len(lines):
            self._write(file, element("h2", heading))
            file.write("<ul>")
            lines.copy(file, order)
            file.write("</ul>\n")


def feedback_page(student: StudentMark, title: str) -> str:
    """One student's page alone, to give back: a whole HTML file. `title` is that of the set."""
    name = printable(student.entry.student)
    return page(f"{name}: {title}", [element("h1", title), student_part(student, 0)], STYLE)


class FeedbackPages:
    """Writes a page for each student into a folder, named for the student, once all are marked."""

    def __init__(self, title: str) -> None:
        self._title = title

    def __enter__(self) -> FeedbackPages:
        self._pages = Spool().__enter__()
        self._names: list[str] = []
        return self

    def __exit__(self, *trouble: object) -> None:
        self._pages.__exit__()

    def written(self, student: StudentMark, number: int) -> tuple[str, str] | None:
        """A student's name for the file, and the page; None for a hand-in that does not count."""
        if not student.counts:
            return None
        name = name_for_file(student.entry.student) or "student"
        return name, feedback_page(student, self._title)

    def keep(self, written: tuple[str, str] | None) -> None:
        if written:
            name, text = written
            self._names.append(name)
            self._pages.add(text)

    def finish(self, book: Gradebook, folder: Path) -> None:
        """Write the pages. Raises OSError as `open` does."""
        folder.mkdir(parents=True, exist_ok=True)
        for number, name in enumerate(_apart(self._names)):
            path = folder / f"{name}.html"
            with path.open("w", encoding="utf-8", errors="replace") as file:
                self._pages.copy(file, [number])


def _apart(names: Iterable[str]) -> Iterator[str]:
    """Each name, with a number where it is taken: “Ann”, “Ann-2”. Some disks know no capitals."""
    taken: Counter[str] = Counter()
    for name in names:
        free, key = name, name.casefold()
        while free.casefold() in taken:
            taken[key] += 1
            free = f"{name}-{taken[key]}"
        taken[free.casefold()] = 1
        yield free


def printable(text: str) -> str:
    """A student's text without signs that are no letters: controls, halves of letters."""
    return "".join(c if c.isprintable() else " " for c in text)


def share(value: float | None) -> str:
    return "–" if value is None else units.write(value, "share")


# The class.

# Where the rows go.
ROWS = "ROWS-OF-THE-CLASS"


def _summary(book: Gradebook) -> list[Element]:
    title = element("h1", book.problem_set.title)
    if not book.students:
        return [title, element("p", "No hand-in could be marked.")]
    average = book.marks / book.out_of if book.out_of else None
    return [
        title,
        element(
            "p",
            f"{counted(book.students, 'student')}, marked by version {book.problem_set.version} of "
            f"the set. The class earned {share(average)} of the marks.",
        ),
    ]


def _key_to_table(book: Gradebook) -> str:
    titles = (f"{n}. {p.title}" for n, p in enumerate(book.problem_set.problems, 1))
    return f"A name leads to the student’s work; a star says that marks were changed by hand. The problems: {'; '.join(titles)}."


def _class_table(book: Gradebook) -> Element:
    titles = [problem.title for problem in book.problem_set.problems]
    numbers = [str(n) for n in range(1, len(titles) + 1)]
    made = table("Marks, student by problem", ["student", "marks", "%", *numbers], [], "class")
    made.find(".//tbody").text = ROWS
    earned = [share(book.items[p.id].difficulty) for p in book.problem_set.problems]
    whole = share(book.marks / book.out_of if book.out_of else None)
    foot = ("The class earned", "", whole, *earned)
    cells = (element("th", foot[0], scope="row"), *(element("td", each) for each in foot[1:]))
    made.find(".//table").append(element("tfoot", element("tr", *cells)))
    return made


def _row(student: StudentMark, number: int) -> Element:
    name = element("a", printable(student.entry.student), href=f"#student-{number}")
    total = f"{student.marks} of {student.out_of}" + (" *" if student.is_changed else "")
    each = (f"{p.marks} of {p.out_of}" for p in student.problems)
    cells = (total, f"{student.percent:.0f}", *each)
    return element("tr", element("th", name, scope="row"), *(element("td", c) for c in cells))


def _row_of_missing(name: str, book: Gradebook) -> Element:
    blanks = (element("td", "–") for _ in range(2 + len(book.problem_set.problems)))
    return element("tr", element("th", printable(name), scope="row"), *blanks)


def _in_short(student: StudentMark) -> str:
    name = printable(student.entry.student)
    return f"{name}: {student.marks} of {student.out_of}, {_came_as(student)}"


def _class(book: Gradebook, ids: dict[str, int]) -> list[Element]:
    if not book.students:
        return [*_missing(book, ids), *_refusals(book)]
    return [
        *_missing(book, ids),
        *_look_first(book),
        *_caution(book),
        *_reteach(book, ids),
        *_groups(book, ids),
        *_problems(book),
        *_choices(book),
        *_remarks(book),
        *_refusals(book),
    ]


def _missing(book: Gradebook, ids: dict[str, int]) -> list[Element]:
    """Who is on the list of names and not among the marks, and the other way round."""
    both = (
        ("Missing", book.missing, ""),
        ("Not on the list of names", book.unlisted, " Is the name written as on the list?"),
    )
    near = [printable(one.says) for one in book.near[:MOST_NAMES]]
    return [
        *(
            element(
                "p", element("strong", f"{what}: "), *_names(names, len(names), ids), f".{more}"
            )
            for what, names, more in both
            if names
        ),
        *(
            [element("p", element("strong", "Nearly alike: "), "; ".join(near) + ".")]
            if near
            else []
        ),
    ]


def _look_first(book: Gradebook) -> list[Element]:
    """Hand-ins whose marks a teacher should not trust before a look."""
    if not book.doubtful:
        return []
    lines = [
        element("span", element("strong", printable(student)), f": {printable(doubt)}")
        for student, doubt in book.doubtful[:MOST_NAMES]
    ]
    more = len(book.doubtful) - len(lines)
    return [
        element(
            "div",
            element("strong", "Look at these hand-ins first."),
            items("ul", lines),
            *(
                [element("p", f"And {more} more: the table of marks has a note for each.")]
                if more
                else []
            ),
            class_="first",
        )
    ]


def _caution(book: Gradebook) -> list[Element]:
    said = []
    if book.students < SMALL_CLASS:
        said.append(
            f"With {counted(book.students, 'student')}, one student moves the class's figures by up "
            f"to {share(1 / book.students)}. Read them as a hint, not as a measurement."
        )
    if book.handed_in_twice:
        said.append(
            "Not counted, because the student handed in again later: "
            f"{counted(book.handed_in_twice, 'hand-in')}."
        )
    return [element("p", text, class_="note") for text in said]


def _reteach(book: Gradebook, ids: dict[str, int]) -> list[Element]:
    ranked = book.reteach()
    heading = element("h2", "What to reteach first")
    if not ranked:
        return [heading, element("p", "No known mistake was found for certain.")]
    first = ranked[0]
    return [
        heading,
        element(
            "p",
            element("strong", f"{capital(first.mistake.name)}. "),
            f"{counted(first.students, 'student')}, {counted(first.problems, 'problem')}. "
            f"Lesson: {LESSONS[first.mistake.lesson]}. {first.mistake.says}",
            class_="first keep",
        ),
        table(
            "Known mistakes, most students first; then the one made in most problems",
            ["mistake", "students", "problems", "who", "lesson"],
            [_made(one, ids) for one in ranked],
        ),
        element(
            "p",
            "Only mistakes that explain a number alone are counted. Where two would give the same "
            "number, both are told to the student, and neither is counted here.",
            class_="note",
        ),
    ]


def _made(one: Made, ids: dict[str, int]) -> list[Child]:
    who = element("span", *_names(one.names, one.students, ids))
    return [
        one.mistake.name,
        str(one.students),
        str(one.problems),
        who,
        LESSONS[one.mistake.lesson],
    ]


def _names(names: Sequence[str], number: int, ids: dict[str, int]) -> list[Child]:
    """Some names, each leading to its student's part where there is one."""
    said: list[Child] = []
    for n, name in enumerate(names[:MOST_NAMES]):
        to = ids.get(name)
        said += [", "] if n else []
        said.append(
            printable(name) if to is None else element("a", printable(name), href=f"#student-{to}")
        )
    more = number - min(number, MOST_NAMES)
    return [*said, f" and {more} more"] if more else said


def _groups(book: Gradebook, ids: dict[str, int]) -> list[Element]:
    heading = element("h2", "Groups for the next lesson")
    groups = book.groups()
    if not groups:
        return [heading, element("p", "This class is too large to suggest groups.")]
    return [
        heading,
        element(
            "p",
            "Each student is in one group: the mistake most students share makes the first group, "
            "and so on with the rest.",
            class_="note",
        ),
        items("ol", (_group(group, ids) for group in groups)),
    ]


def _group(group: Group, ids: dict[str, int]) -> Element:
    if group.mistake is None:
        does = "No mistake could be named. Look at their marks: they help others, or ask for help."
    else:
        does = f"{capital(group.mistake.name)}. Reteach: {LESSONS[group.mistake.lesson]}."
    return element(
        "span", element("strong", does), " ", *_names(group.names, len(group.names), ids)
    )


def _problems(book: Gradebook) -> list[Element]:
    return [
        element("h2", "Problem by problem"),
        table(
            "Marks earned: the share that the class earned. Discrimination: from −1 to 1",
            ["problem", "marks earned", "discrimination", "95 % interval", "what it says"],
            [
                [problem.title, *_item(book.items[problem.id])]
                for problem in book.problem_set.problems
            ],
        ),
        element(
            "p",
            "Discrimination is the corrected item-total correlation: how the marks on a problem go "
            "with the marks on all the other problems (Pearson’s r; Educational and "
            "Psychological Measurement 13, 1953, 87–93). Its interval is Fisher’s.",
            class_="note",
        ),
    ]


def _item(item: Item) -> list[Child]:
    r, interval = item.discrimination, item.interval
    return [
        share(item.difficulty),
        "–" if r is None else _signed(r),
        "–" if interval is None else f"{_signed(interval[0])} to {_signed(interval[1])}",
        item.says,
    ]


def _signed(number: float) -> str:
    return f"{number:.2f}".replace("-", "−")


def _choices(book: Gradebook) -> list[Element]:
    """How often each option of each choice question was chosen."""
    rows: list[list[Child]] = [
        [
            f"{problem.title}: {box.label}",
            option.text,
            "yes" if option.right else "no",
            str(option.students),
        ]
        for problem in book.problem_set.problems
        for box in problem.questions
        for option in book.chosen(problem.id, box)
    ]
    if not rows:
        return []
    heads = ["question", "answer", "right", "students"]
    return [element("h2", "What was chosen"), table("Students who chose each answer", heads, rows)]


def _remarks(book: Gradebook) -> list[Element]:
    """How files were read, and what of them was not used."""
    said = [*book.roster.remarks, *(f"{one.place}: {one.says}" for one in book.remarks)]
    if not said:
        return []
    return [element("h2", "How the files were read"), items("ul", map(printable, said))]


def _refusals(book: Gradebook) -> list[Element]:
    if not book.refused:
        return []
    lines = [
        element("span", element("strong", printable(one.place)), f": {printable(one.reason)}")
        for one in book.refusals
    ]
    more = book.refused - len(book.refusals)
    return [
        element("h2", "Not marked"),
        items("ul", lines),
        *([element("p", f"And {more} more.")] if more else []),
    ]


# One student.


def student_part(student: StudentMark, number: int) -> Element:
    """A student's part. It goes back to the student: nothing in it is about files, or anybody else."""
    return element(
        "section",
        element(
            "h2",
            f"{printable(student.entry.student)}: {student.marks} of {counted(student.out_of, 'mark')}",
        ),
        *(part for problem in student.problems for part in feedback(student, problem, "h3")),
        class_="student",
        id=f"student-{number}",
    )


def _came_as(student: StudentMark) -> str:
    place, when = printable(student.entry.place), student.entry.when
    return f"{place}, saved {when}" if when else place


def feedback(student: StudentMark, problem: ProblemMark, heading: str = "h4") -> list[Element]:
    """A problem as a student gets it back: marks, verdicts and words, and the right way where it went wrong."""
    title = problem.variant.problem.title
    return [
        element(heading, f"{title}: {problem.marks} of {problem.out_of}"),
        *([element("p", problem.by_hand.says)] if problem.by_hand else []),
        *([element("p", problem.says)] if problem.says else []),
        element(
            "ul", *(_step(student, problem, step) for step in problem.steps), class_="steps keep"
        ),
        *_right_way(problem),
    ]


def _right_way(problem: ProblemMark) -> list[Element]:
    """What would have been right, where something was not."""
    if problem.all_right:
        return []
    return [element("p", "Worked:", class_="note"), items("ol", solution(problem.variant))]


def _step(student: StudentMark, problem: ProblemMark, step: StepMark) -> Element:
    answer = printable(wrote(problem, step, student.entry))
    hints = f" Hints: −{step.hint_cost:g}." if step.hint_cost else ""
    return element(
        "li",
        element("span", step.verdict.sign, class_="sign", aria_hidden="true"),
        f"{introduced(step.step.label)} ",
        element("span", answer or "–", class_="answer"),
        f" ({step.verdict.value}). {printable(comment(step))}{hints}",
        class_="earns" if step.marks(problem.variant.problem.marks_per_step) else "misses",
    )
