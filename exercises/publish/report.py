"""The class report: one page for the teacher, to read on a screen or on paper.

Students are written as they are marked; the page about the class, which can only be written last,
comes first. So each student's part waits in a file, and memory stays flat.
"""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path
from xml.etree.ElementTree import Element

from calc import units
from calc.words import capital, counted
from exercises.gradebook import Gradebook, Group, Made, StudentMark, comment, wrote
from exercises.item_analysis import Item
from exercises.lessons import LESSONS
from exercises.marking import ProblemMark, StepMark, introduced, solution
from exercises.publish.html import Child, element, table, write
from exercises.publish.page import CLOSING, items, opening

# Below this many students the page says how coarse its figures are.
SMALL_CLASS = 20
MOST_NAMES = 40

STYLE = """
section.student { border-top: 2px solid var(--line); margin-top: 1.5rem; }
.earns { color: var(--good); } .misses { color: var(--bad); }
.sign { display: inline-block; width: 1.2em; font-weight: 700; }
.answer { font-weight: 600; }
ul.steps { list-style: none; padding: 0; margin: 0 0 0.8rem; }
ul.steps li { margin: 0.25rem 0; padding-left: 1.2em; text-indent: -1.2em; }
h4 { margin: 0.6rem 0 0.2rem; break-after: avoid; }
.first { background: var(--wash); border-left: 4px solid var(--water); padding: 0.4rem 0.8rem; }
"""


class Report:
    """Writes a report. Add the students, then finish with the class."""

    def __enter__(self) -> Report:
        self._students = tempfile.TemporaryFile("w+", encoding="utf-8", errors="replace")
        return self

    def __exit__(self, *trouble: object) -> None:
        self._students.close()

    def add(self, student: StudentMark) -> None:
        self._students.write(write(_student(student)) + "\n")

    def finish(self, book: Gradebook, path: Path) -> None:
        """Write the page. Raises OSError as `open` does."""
        title = f"Marks: {book.problem_set.title}"
        with path.open("w", encoding="utf-8", errors="replace") as file:
            file.write(opening(title, STYLE))
            for part in (*_class(book), element("h2", "Student by student")):
                file.write(write(part) + "\n")
            self._students.seek(0)
            shutil.copyfileobj(self._students, file)
            file.write(CLOSING)


def printable(text: str) -> str:
    """A student's text without signs that are no letters: controls, halves of letters."""
    return "".join(c if c.isprintable() else " " for c in text)


def share(value: float | None) -> str:
    return "–" if value is None else units.write(value, "share")


# The class.


def _class(book: Gradebook) -> list[Element]:
    title = element("h1", book.problem_set.title)
    if not book.students:
        none = element("p", "No hand-in could be marked.")
        return [title, none, *_missing(book), *_refusals(book)]
    average = book.marks / book.out_of if book.out_of else None
    return [
        title,
        element(
            "p",
            f"{counted(book.students, 'student')}, marked by version {book.problem_set.version} of "
            f"the set. The class earned {share(average)} of the marks.",
        ),
        *_missing(book),
        *_look_first(book),
        *_caution(book),
        *_reteach(book),
        *_groups(book),
        *_problems(book),
        *_refusals(book),
    ]


def _missing(book: Gradebook) -> list[Element]:
    """Who is on the list of names and not among the marks, and the other way round."""
    both = (
        ("Missing", book.missing, ""),
        ("Not on the list of names", book.unlisted, " Is the name written as on the list?"),
    )
    return [
        element("p", element("strong", f"{what}: "), f"{_names(names, len(names))}.{more}")
        for what, names, more in both
        if names
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
            *([element("p", f"And {more} more: each note is with the student.")] if more else []),
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
            "Shown below but not counted, because the student handed in again later: "
            f"{counted(book.handed_in_twice, 'hand-in')}."
        )
    return [element("p", text, class_="note") for text in said]


def _reteach(book: Gradebook) -> list[Element]:
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
            [_made(one) for one in ranked],
        ),
        element(
            "p",
            "Only mistakes that explain a number alone are counted. Where two would give the same "
            "number, both are told to the student, and neither is counted here.",
            class_="note",
        ),
    ]


def _made(one: Made) -> list[Child]:
    who = _names(one.names, one.students)
    return [
        one.mistake.name,
        str(one.students),
        str(one.problems),
        who,
        LESSONS[one.mistake.lesson],
    ]


def _names(names: list[str] | tuple[str, ...], number: int) -> str:
    shown = ", ".join(map(printable, names[:MOST_NAMES]))
    more = number - min(number, MOST_NAMES)
    return f"{shown} and {more} more" if more else shown


def _groups(book: Gradebook) -> list[Element]:
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
        items("ol", map(_group, groups)),
    ]


def _group(group: Group) -> Element:
    if group.mistake is None:
        does = "No mistake could be named. Look at their marks: they help others, or ask for help."
    else:
        does = f"{capital(group.mistake.name)}. Reteach: {LESSONS[group.mistake.lesson]}."
    return element("span", element("strong", does), f" {_names(group.names, len(group.names))}")


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
            "with the marks on all the other problems (Pearson’s r; Guilford 1953, Educational and "
            "Psychological Measurement 13, 87–93). Its interval is Fisher’s.",
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


def _student(student: StudentMark) -> Element:
    return element(
        "section",
        element(
            "h3", f"{printable(student.entry.student)}: {student.marks} of {student.out_of} marks"
        ),
        element("p", _came_as(student), class_="note"),
        *(element("p", element("strong", printable(note))) for note in student.notes),
        *(part for problem in student.problems for part in feedback(student, problem)),
        class_="student",
    )


def _came_as(student: StudentMark) -> str:
    place, when = printable(student.entry.place), student.entry.when
    return f"{place}, saved {when}" if when else place


def feedback(student: StudentMark, problem: ProblemMark) -> list[Element]:
    """A problem as a student gets it back: marks, verdicts and words, and the right way where it went wrong."""
    title = problem.variant.problem.title
    return [
        element("h4", f"{title}: {problem.marks} of {problem.out_of}"),
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
        class_="earns" if step.verdict.earns else "misses",
    )
