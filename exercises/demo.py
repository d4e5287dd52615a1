"""``doughwater demo``: an invented class's hand-ins, and all a teacher makes from them.

It writes the hand-ins of `exercises.invented`, runs the existing commands' functions on them, and
sets what was put in beside what the marking found. The same set gives the same bytes.
"""

from __future__ import annotations

import csv
import json
import textwrap
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from calc.mistakes import BY_KEY
from exercises.cells import harmless
from exercises.classroom import Wanted, mark_files
from exercises.codes import code_of
from exercises.collect import CODE_HEADING, STUDENT_HEADINGS, answer_headings
from exercises.draws import ProblemSet, draw
from exercises.gradebook import Gradebook, StudentMark, certain_mistakes
from exercises.handin import new_handin, pack, write_handin
from exercises.invented import (
    FIRM,
    SCHOOL,
    SEED,
    SKILLS,
    STUDENTS,
    WAVERING,
    Student,
    Way,
    Work,
    again,
    asks_for_all,
    misconceptions,
    work,
)  # fmt: skip
from exercises.marking import Verdict
from exercises.paper import ANSWERS, write_template
from exercises.publish.qti import package
from exercises.publish.qti_versions import USUAL
from exercises.publish.worksheet import key, named, worksheet
from exercises.roster import Roster
from exercises.table import TableWriter

INVENTED = "invented"
HAND_INS = f"{INVENTED}-hand-ins"
PAPER = f"{INVENTED}-paper"
NAMES = f"{INVENTED}-names.txt"
README = "README.txt"
REPORT = "report.html"
DEMO_SET = "first-swaps"
DRAWS = 10

# The four things that go wrong in any class, each once.
TWICE = "Ji-woo Crumbtray"
CUT_SHORT = "Kwame Milkjug"
MISSPELT, WRITTEN_AS = "Zoë Pastrybrush", "Zoe Pastrybrush"


@dataclass(frozen=True)
class Demo:
    """What was put in (the hand-ins that can be read, the last of each student) and found."""

    problem_set: ProblemSet
    works: list[Work]
    book: Gradebook
    marks: list[StudentMark]

    @property
    def counted(self) -> list[StudentMark]:
        return [one for one in self.marks if one.counts]

    def put_in(self) -> set[tuple[str, str, str]]:
        """(student, problem, mistake) for each mistake that was made."""
        return {(one.student.name, *made) for one in self.works for made in one.made}

    def found(self) -> set[tuple[str, str, str]]:
        """(student, problem, mistake) for each mistake that the marking names for certain."""
        return {
            (one.entry.student, problem.variant.problem.id, mistake)
            for one in self.counted
            for problem in one.problems
            for mistake in certain_mistakes(problem)
        }

    def verdicts(self) -> Counter[Verdict]:
        """How often each verdict was given."""
        steps = (step for one in self.counted for problem in one.problems for step in problem.steps)
        return Counter(step.verdict for step in steps)

    def events(self) -> Counter[str]:
        """How often an answer was left blank, could not be read, or was miscopied."""
        return sum((one.events for one in self.works), Counter())


def write_demo(
    problem_set: ProblemSet,
    folder: Path,
    paper: str = "a4",
    name: str = "",
    tell: Callable[[str], None] = lambda doing: None,
) -> Demo:
    """Write the demo of a set into a new folder. `name` is how commands call the set; `tell` hears of each step.

    Raises FileExistsError where the folder holds anything, OSError where it cannot be written.
    """
    if folder.exists() and any(folder.iterdir()):
        raise FileExistsError(17, "this folder is not empty", str(folder))
    tell("The class hands in, and is marked")
    demo = hand_in_and_mark(problem_set, folder)
    tell("Worksheets and key")
    titled = as_demo(problem_set)
    sheets = named(titled, [student.name for student in STUDENTS])
    (folder / NAMES).write_text("\n".join(sheet.student for sheet in sheets) + "\n", "utf-8")
    (folder / PAPER).mkdir()
    (folder / PAPER / "worksheet.html").write_text(worksheet(titled, sheets, paper), "utf-8")
    (folder / PAPER / "key.html").write_text(key(titled, sheets, paper), "utf-8")
    write_template(titled, sheets, folder / PAPER / ANSWERS)
    writing = "The package for a school’s system"
    packed = package(titled, DRAWS, heard=lambda done, whole: tell(f"{writing}: {done} of {whole}"))
    (folder / _package(problem_set)).write_bytes(packed)
    (folder / README).write_text(readme(demo, name or problem_set.key), "utf-8")
    return demo


def write_hand_ins(problem_set: ProblemSet, folder: Path) -> list[str]:
    """Write only what the class hands in, to try the marking on, and give its class list."""
    for _ in _hand_in(as_demo(problem_set), folder / HAND_INS):
        pass
    return [student.name for student in STUDENTS]


def write_some_hand_ins(problem_set: ProblemSet, folder: Path, number: int) -> None:
    """Write only the files of the first students who hand in files, so many of them."""
    titled = as_demo(problem_set)
    for student in [each for each in STUDENTS if each.way is Way.FILE][:number]:
        _write_file(titled, work(titled, student), folder)


def hand_in_and_mark(problem_set: ProblemSet, folder: Path) -> Demo:
    """The class's hand-ins and what their marking gives: the part of the demo that the site shows."""
    titled = as_demo(problem_set)
    hand_ins = folder / HAND_INS
    works = list(_hand_in(titled, hand_ins))
    book, marks = mark_files(
        Wanted(
            (hand_ins,),
            titled,
            roster=Roster.of(student.name for student in STUDENTS),
            marks=folder / "marks.csv",
            report=folder / REPORT,
            within=folder,
        )
    )
    return Demo(problem_set, works, book, list(marks))


def as_demo(problem_set: ProblemSet) -> ProblemSet:
    """The same set, with the same numbers, whose title says that the class is invented."""
    return replace(problem_set, title=f"{problem_set.title} (demo: an {INVENTED} class)")


def _package(problem_set: ProblemSet) -> str:
    return f"{problem_set.key}.zip"


# The hand-ins.


def _hand_in(problem_set: ProblemSet, folder: Path) -> Iterator[Work]:
    """Write all hand-ins; give the work of those that can be read and that count."""
    ways = {way: [work(problem_set, s) for s in STUDENTS if s.way is way] for way in Way}
    for name in ("files", "pasted", "tables"):
        (folder / name).mkdir(parents=True)
    for done in ways[Way.FILE]:
        _write_file(problem_set, done, folder / "files")
    second = work(problem_set, again(next(s for s in STUDENTS if s.name == TWICE)))
    for done in (*ways[Way.PASTED], second):
        _write_pasted(problem_set, done, folder / "pasted")
    _write_spreadsheet(problem_set, ways[Way.SPREADSHEET], folder / "tables" / "spreadsheet.csv")
    _write_typed(problem_set, ways[Way.PAPER], folder / "tables" / "paper-answers.csv")
    for done in (*(done for way in Way for done in ways[way]), second):
        lost = done.student.name in (CUT_SHORT, MISSPELT)
        if not lost and (done.student.name != TWICE or done is second):
            yield done


def _file_name(student: Student, ending: str) -> str:
    return student.name.lower().replace(" ", "-") + ending


def _write_file(problem_set: ProblemSet, done: Work, folder: Path) -> None:
    saved = json.loads(write_handin(problem_set, done.student.name, done.answers))
    note = {"note": f"{INVENTED}: a student of {SCHOOL}"}
    text = json.dumps(note | saved, ensure_ascii=False, indent=2)
    if done.student.name == CUT_SHORT:
        text = text[: len(text) // 2]
    (folder / _file_name(done.student, ".json")).write_text(text, "utf-8")


def _write_pasted(problem_set: ProblemSet, done: Work, folder: Path) -> None:
    packed = pack(new_handin(problem_set, done.student.name, done.answers))
    text = f"Here is my work. (This is an {INVENTED} student of {SCHOOL}.)\n\n{packed}"
    (folder / _file_name(done.student, ".txt")).write_text(text, "utf-8")


def _write_spreadsheet(problem_set: ProblemSet, works: list[Work], path: Path) -> None:
    """A table as a spreadsheet with decimal commas saves it: semicolons between the cells."""
    headings = {
        heading: (problem, part)
        for heading, (problem, part) in answer_headings(problem_set).items()
        if _is_asked_alone(problem_set, problem, part)
    }
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file, delimiter=";")
        writer.writerow([STUDENT_HEADINGS[0], *headings, "note"])
        for done in works:
            cells = [done.answers.get(p, {}).get(s, "") for p, s in headings.values()]
            writer.writerow(map(harmless, [done.student.name, *cells, INVENTED]))


def _is_asked_alone(problem_set: ProblemSet, problem_id: str, part: str) -> bool:
    problem = problem_set.problem(problem_id)
    return asks_for_all(problem) or part == draw(problem_set, problem, "").parts[-1].key


def _write_typed(problem_set: ProblemSet, works: list[Work], path: Path) -> None:
    """The table that comes with the worksheets, filled in by a teacher who misspells a name."""
    headings = answer_headings(problem_set)
    with TableWriter.open(path) as file:
        writer = TableWriter(file)
        writer.write(CODE_HEADING, STUDENT_HEADINGS[0], *headings, "note")
        for done in works:
            name = done.student.name
            cells = [done.answers.get(p, {}).get(s, "") for p, s in headings.values()]
            writer.write(
                code_of(problem_set, name),
                WRITTEN_AS if name == MISSPELT else name,
                *cells,
                INVENTED,
            )


# What the folder's README says.


@dataclass(frozen=True)
class Grid:
    """A small table."""

    heads: tuple[str, ...]
    rows: list[tuple[str, ...]]


# A part of the account: a heading with what is under it, sentences and grids.
Section = tuple[str, list[str | Grid]]


def readme(demo: Demo, name: str) -> str:
    """The text that says what each file is, what was put in and what was found."""
    parts = [
        _wrapped(
            f"A DEMO CLASS. Everything here is {INVENTED}: {SCHOOL}, its class, its students and "
            f"their answers. The names are given names from many places with family names that "
            f"nobody has. A program made the answers to the set “{demo.problem_set.title}”, with "
            f"chance from a fixed seed (“{SEED}”). The same command makes the same files again."
        ),
        _heading("What each file is"),
        _list(_files(demo)),
        _heading("Try it yourself, in this folder"),
        _commands(demo, name),
    ]
    for heading, under in account(demo):
        parts.append(_heading(heading))
        parts += [_wrapped(one) if isinstance(one, str) else _table(one) for one in under]
    return "\n\n".join(parts) + "\n"


def account(demo: Demo) -> list[Section]:
    """What was put in, and beside it what the marking found."""
    return [
        (
            "What was put in",
            [
                "A mistake is made by changing the student's own step in the way a known mistake "
                "does, and computing with the student's own figures. Each student makes "
                "their own mistake in the stated share of the steps where it is possible (the chances).",
                _rates(demo),
                "Anyone can also slip: make another of the known mistakes, change two figures "
                "round, leave an answer out, write what is no answer, or choose wrongly. How often "
                "depends on the skill.",
                _skills(),
                _students(),
            ],
        ),
        (
            "Put in, and found by the marking",
            [
                _mistakes(demo),
                "Students and problems are counted over the hand-ins that can be read and that "
                "count. “Found” counts what the class report counts: mistakes that explain a "
                "number alone. Where two known mistakes give the same number, the student is told "
                "both, and none is counted. A mistake can also hide behind a second one. “Not put "
                "in” are numbers that come from something else, but that fit this mistake.",
                _others(demo),
                Grid(
                    ("Verdict", "times"),
                    [(verdict.value, str(demo.verdicts()[verdict])) for verdict in Verdict],
                ),
            ],
        ),
    ]


def _files(demo: Demo) -> list[tuple[str, str]]:
    ways = Counter(student.way for student in STUDENTS)
    return [
        (
            f"{HAND_INS}/files/",
            f"{ways[Way.FILE]} hand-in files, as the page saves them. One is cut short.",
        ),
        (
            f"{HAND_INS}/pasted/",
            f"{ways[Way.PASTED] + 1} texts, as “Copy as text” makes them. One student is here a "
            "second time.",
        ),
        (
            f"{HAND_INS}/tables/",
            f"spreadsheet.csv: {ways[Way.SPREADSHEET]} students, last answers only, decimal "
            f"commas. paper-answers.csv: {ways[Way.PAPER]} students' answers from paper, typed in "
            "by a teacher. One name is misspelt.",
        ),
        (NAMES, "The class list, one name a line, for worksheets."),
        (
            f"{PAPER}/",
            "worksheet.html: each student's sheet to print. key.html: all answers, for the "
            "teacher. answers.csv: the empty table into which answers from paper are typed. Made "
            "by “doughwater print”, which makes PDFs too where it finds a browser for that.",
        ),
        (
            "marks.csv",
            "The marks, one line a student, in the order of the class list. marks-older.csv has the "
            "hand-in that was handed in again. Made by “doughwater mark”.",
        ),
        (REPORT, "The class report. Made by “doughwater mark”. Open this first."),
        (
            _package(demo.problem_set),
            f"The set as a {USUAL.name} package, for a school's system that imports it. Made by "
            "“doughwater export”.",
        ),
    ]


def _commands(demo: Demo, name: str) -> str:
    quoted = f'"{name}"' if " " in name else name
    return "\n".join(
        (
            f"  doughwater mark {HAND_INS} --set {quoted} --marks my-marks.csv --report my-report.html",
            f"  doughwater mark {HAND_INS} --set {quoted} --students {NAMES} --marks my-marks.csv",
            f"  doughwater mark {HAND_INS}/files/{_file_name(STUDENTS[1], '.json')} --set {quoted}",
            f"  doughwater print {quoted} --students {NAMES} --out my-paper",
            f"  doughwater export {quoted} --out my-package.zip --draws {DRAWS}",
        )
    )


def _students() -> Grid:
    rows = [(s.name, s.way.value, s.skill.name, _writes(s)) for s in STUDENTS]
    return Grid(("Student", "hands in", "skill", "writes"), rows)


def _writes(student: Student) -> str:
    says = [
        "ounces" if student.style.mass == "oz" else "grams",
        "decimal comma" if student.style.decimal == "," else "",
        "misspelt" if student.name == MISSPELT else "",
        "file cut short" if student.name == CUT_SHORT else "",
        "handed in twice" if student.name == TWICE else "",
    ]
    return ", ".join(filter(None, says))


def _skills() -> Grid:
    rows = [
        (
            skill.name,
            *(
                _percent(share)
                for share in (
                    skill.slips,
                    skill.miscopies,
                    skill.blanks,
                    skill.unread,
                    skill.wrong_choice,
                )
            ),
        )
        for skill in SKILLS
    ]
    return Grid(
        ("Skill", "other mistake", "changed round", "left out", "no answer", "wrong choice"), rows
    )


def _percent(value: float) -> str:
    return f"{value:.0%}".replace("%", " %")


def _rates(demo: Demo) -> Grid:
    rows = [
        (
            one.student.name,
            one.misconception.name,
            _percent(one.student.rate),
            str(one.chances),
            str(one.taken),
        )
        for one in demo.works
        if one.misconception
    ]
    for rate in (FIRM, WAVERING):
        mine = [one for one in demo.works if one.misconception and one.student.rate == rate]
        chances, taken = sum(one.chances for one in mine), sum(one.taken for one in mine)
        rows.append(("all of these", "", _percent(rate), str(chances), str(taken)))
    return Grid(("Student", "own mistake", "stated", "chances", "made"), rows)


def _mistakes(demo: Demo) -> Grid:
    made, found = demo.put_in(), demo.found()
    own = [mistake.key for mistake in misconceptions(demo.problem_set)]
    others = sorted({key for *_, key in made | found} - set(own))
    rows = [
        (
            BY_KEY[key].name,
            _counted(made, key),
            _counted(found, key),
            str(len({one for one in found - made if one[-1] == key})),
        )
        for key in (*own, *others)
    ]
    rows.append(
        (
            "all",
            f"{len({s for s, *_ in made})} / {len(made)}",
            f"{len({s for s, *_ in found})} / {len(found)}",
            str(len(found - made)),
        )
    )
    return Grid(
        ("Mistake (students / problems)", "put in", "found", "not put in"),
        rows,
    )


def _counted(triples: set[tuple[str, str, str]], key: str) -> str:
    mine = [one for one in triples if one[-1] == key]
    return f"{len({student for student, *_ in mine})} / {len(mine)}"


def _others(demo: Demo) -> Grid:
    events, verdicts, book = demo.events(), demo.verdicts(), demo.book
    blank = verdicts[Verdict.BLANK] + verdicts[Verdict.NOT_NEEDED]
    hidden = _never_asked(demo)
    rows = [
        ("no answer", str(events["unread"]), str(verdicts[Verdict.UNREAD]), Verdict.UNREAD.value),
        (
            "left out",
            str(events["blank"] + hidden),
            str(blank),
            f"“{Verdict.BLANK.value}” or “{Verdict.NOT_NEEDED.value}”",
        ),
        ("handed in twice", "1", str(book.handed_in_twice), "the last counts"),
        (
            "file cut short",
            "1",
            str(_refused(book, "complete JSON")),
            "not marked, with the reason",
        ),
        ("name misspelt", "1", str(_refused(book, WRITTEN_AS)), "not marked, with the reason"),
    ]
    return Grid(("What else", "put in", "found", "found as"), rows)


def _never_asked(demo: Demo) -> int:
    """The steps that a table of last answers has no column for."""
    return sum(
        len(draw(demo.problem_set, problem, done.student.name).parts) - 1
        for done in demo.works
        if done.student.shows_the_last_only
        for problem in demo.problem_set.problems
        if not asks_for_all(problem)
    )


def _refused(book: Gradebook, reason: str) -> int:
    return sum(reason in one.reason for one in book.refusals)


# Plain text.

WIDTH = 96


def _wrapped(text: str, indent: str = "") -> str:
    return textwrap.fill(text, WIDTH, subsequent_indent=indent)


def _heading(text: str) -> str:
    return text.upper()


def _list(lines: Iterable[tuple[str, str]]) -> str:
    return "\n".join(_wrapped(f"  {name}  {says}", "      ") for name, says in lines)


def _table(grid: Grid) -> str:
    lines = (grid.heads, *grid.rows)
    widths = [max(len(line[n]) for line in lines) for n in range(len(grid.heads))]
    return "\n".join(
        "  " + "  ".join(cell.ljust(w) for cell, w in zip(line, widths, strict=True)).rstrip()
        for line in (grid.heads, ["-" * width for width in widths], *grid.rows)
    )
