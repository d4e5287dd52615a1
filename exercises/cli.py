"""The terminal commands: ``doughwater mark``, ``check``, ``show``, ``print``, ``export``,
``link``, ``demo``."""

from __future__ import annotations

import argparse
import difflib
import json
import os
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path

from calc import composition
from calc.data_file import DataFileError
from calc.words import counted
from exercises import problems, set_link
from exercises.changes import Changes, ChangesError, read_changes
from exercises.classroom import Wanted
from exercises.codes import MOST_SHEETS
from exercises.collect import (
    Columns,
    Refusal,
    doubts,
    files_of,
    holds_many,
    other_set,
    read_file,
    sets_of_tables,
)
from exercises.cores import all_cores, mark_on, sets_on
from exercises.demo import DEMO_SET, README, REPORT, write_demo
from exercises.draws import ProblemSet, draw
from exercises.gradebook import Gradebook
from exercises.letters import decode
from exercises.marking import ProblemMark, Verdict, introduced, mark, solution
from exercises.marks_table import older_path
from exercises.near_names import Near
from exercises.paper import print_set
from exercises.plain_signs import never_stop_at_a_sign
from exercises.problems import read_set
from exercises.progress import Progress
from exercises.publish import qr, scorm
from exercises.publish.qti import can_write, package
from exercises.publish.qti_versions import USUAL, VERSIONS
from exercises.publish.worksheet import PAPERS, named, numbered
from exercises.review import MOST_DRAWS, describe, review
from exercises.roster import NamesError, Roster, names_alone, open_roster
from exercises.schema import schema
from exercises.school_scale import Scale, ScaleError, read_scale
from exercises.set_text import decoded
from exercises.setfile import SetError
from exercises.term import mark_term, named_for

# Larger than any file of ours, and small enough for any memory.
LARGEST_FILE = 4_000_000
DECIMALS = {"point": ".", "comma": ","}
# In place of a set's name: all lessons.
COURSE = "course"
# The kinds of package: the page itself, or questions.
KINDS = (*(each.value for each in scorm.Edition), *VERSIONS)
# So many draws of each problem a QTI package has, where none are asked for.
DRAWS = 10
# What each command says of its set.
A_SET = "a set of ours by name, or a set file"
SETS = Path(problems.__file__).parent / "sets"


# What argparse calls its commands.
Commands = argparse._SubParsersAction


class Trouble(Exception):
    """Something the person at the terminal can put right; printed without a traceback."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; the exit code is 0, or 1 when something must be put right."""
    never_stop_at_a_sign()
    options = _parser().parse_args(arguments)
    try:
        # Before all else: a slip in the table of ingredients is nothing that a set or a class can mend.
        composition.table()
        code = options.run(options)
        sys.stdout.flush()
        return code
    except (Trouble, DataFileError) as trouble:
        print(trouble, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped. What is written at the end of the work is not written.", file=sys.stderr)
        return 130
    except BrokenPipeError:
        # Whoever read the output has enough (“| head”); what Python flushes at the end goes nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="doughwater", description="Problem sets on swapping the liquid in a dough."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for add in (
        _add_mark,
        _add_check,
        _add_schema,
        _add_show,
        _add_print,
        _add_export,
        _add_link,
        _add_demo,
    ):
        add(commands)
    return parser


def _add_mark(commands: Commands) -> None:
    command = commands.add_parser(
        "mark",
        help="mark one student's hand-in, or a whole class",
        description="Mark one hand-in (a JSON file or pasted text) and print every step; or mark a "
        "class from a folder of hand-ins, several files, or a CSV with one student a row.",
        epilog="Examples: doughwater mark ada.json; "
        "doughwater mark hand-ins/ --marks marks.csv --report report.html; "
        "doughwater mark answers.csv --set first-swaps --report report.html",
    )
    command.add_argument(
        "paths", type=Path, nargs="+", metavar="PATH", help="a hand-in, a folder, or a .csv"
    )
    command.add_argument("--set", metavar="SET", help=A_SET)
    _add_level(command, "mark")
    command.add_argument(
        "--only", metavar="PROBLEM,PROBLEM", help="mark only these problems, by their ids"
    )
    _add_class(command.add_argument_group("a class"))
    command.set_defaults(run=_mark)


def _add_class(classes: argparse._ArgumentGroup) -> None:
    """What only a class needs."""
    classes.add_argument("--marks", type=Path, metavar="FILE", help="write the marks as a CSV")
    classes.add_argument(
        "--term",
        action="store_true",
        help="mark every set that there are hand-ins for; the marks are then a table over all of them",
    )
    classes.add_argument("--report", type=Path, metavar="FILE", help="write a report page (HTML)")
    classes.add_argument(
        "--students",
        type=Path,
        metavar="FILE",
        help="the class list, names alone or a table with numbers, e-mails and groups: says who is "
        "missing, and the marks come in its order",
    )
    classes.add_argument(
        "--same",
        nargs="+",
        default=(),
        metavar="NAME=LISTED",
        help="a name that was handed in, and the name on the class list that it means",
    )
    classes.add_argument(
        "--changes",
        type=Path,
        metavar="FILE",
        help="marks changed by hand: a CSV with the columns student, problem, step, marks, reason",
    )
    classes.add_argument(
        "--scale", metavar="GRADES", help="your school's grades by per cent, as A=90,B=80,C=70"
    )
    classes.add_argument(
        "--decimal",
        choices=tuple(DECIMALS),
        help="how the marks are written: with a comma, cells are parted by semicolons "
        "(default: as in the first table of answers)",
    )
    classes.add_argument(
        "--feedback", type=Path, metavar="FOLDER", help="write a page for each student to take back"
    )
    classes.add_argument(
        "--cores",
        type=int,
        default=all_cores(),
        metavar="N",
        help="mark many hand-ins on N of the processor's cores (default: all); the marks are the same",
    )
    classes.add_argument(
        "--student-column",
        nargs="+",
        default=(),
        metavar="HEADING",
        help="the CSV's column with the student's name, or the columns that make it together",
    )
    classes.add_argument(
        "--answer-columns",
        nargs="+",
        default=(),
        metavar="HEADING=PROBLEM/STEP",
        help="the CSV's columns with answers, where they are not headed PROBLEM/STEP themselves",
    )


def _add_check(commands: Commands) -> None:
    command = commands.add_parser("check", help="check set files you wrote")
    command.add_argument("sets", nargs="+", metavar="SET", help=A_SET)
    command.set_defaults(run=_check)


def _add_schema(commands: Commands) -> None:
    command = commands.add_parser("schema", help="print the JSON Schema of set files")
    command.set_defaults(run=_schema)


def _add_show(commands: Commands) -> None:
    command = commands.add_parser("show", help="print a set with one student's numbers")
    command.add_argument("set", metavar="SET", help=A_SET)
    command.add_argument("--student", default="", metavar="NAME", help="whose numbers to draw")
    command.add_argument("--key", action="store_true", help="print the worked solutions too")
    command.set_defaults(run=_show)


def _add_print(commands: Commands) -> None:
    command = commands.add_parser(
        "print",
        help="print a set on paper: worksheet, key, and a table for the answers",
        description="Write worksheet.html, key.html (and PDFs where a Chromium is at hand) and "
        "answers.csv into a folder. Type the answers from paper into answers.csv and mark it: "
        "doughwater mark answers.csv --set SET",
    )
    command.add_argument("set", metavar="SET", help=A_SET)
    whom = command.add_mutually_exclusive_group(required=True)
    whom.add_argument("--students", type=Path, metavar="FILE", help="a text file, one name a line")
    whom.add_argument(
        "--count", type=int, metavar="N", help="so many sheets with a line for a name"
    )
    command.add_argument("--out", type=Path, required=True, metavar="FOLDER", help="where to write")
    command.add_argument("--paper", choices=tuple(PAPERS), default="a4", help="default: a4")
    _add_level(command, "print")
    command.set_defaults(run=_print)


def _add_export(commands: Commands) -> None:
    command = commands.add_parser(
        "export",
        help="write a set as a package for a school's system",
        description="Write a zip that a school's system can import: a SCORM package holds the page itself with its "
        "marking, a QTI package holds questions, one item a draw.",
    )
    command.add_argument(
        "set", metavar="SET", help=f"{A_SET}; or “{COURSE}”: each lesson with its set (SCORM)"
    )
    command.add_argument("--out", type=Path, required=True, metavar="FILE", help="a .zip file")
    command.add_argument(
        "--as",
        dest="kind",
        choices=KINDS,
        default=USUAL.key,
        help=f"which kind of package (default: {USUAL.key})",
    )
    playing = command.add_argument_group("SCORM")
    playing.add_argument(
        "--lesson",
        action="store_true",
        help="the set as the last step of its lesson (default: the set alone)",
    )
    playing.add_argument(
        "--pass",
        type=int,
        dest="pass_mark",
        metavar="PERCENT",
        help="the mark to pass (default: none)",
    )
    playing.add_argument(
        "--site",
        type=Path,
        default=Path(".site"),
        metavar="FOLDER",
        help="the built site, whose page the package holds (default: .site)",
    )
    asking = command.add_argument_group("QTI")
    draws = asking.add_mutually_exclusive_group()
    draws.add_argument(
        "--draws", type=int, metavar="N", help=f"draws of each problem (default: {DRAWS})"
    )
    draws.add_argument("--students", type=Path, metavar="FILE", help="a text file, one name a line")
    asking.add_argument("--answer-only", action="store_true", help="ask for the last step alone")
    _add_level(command, "write")
    command.set_defaults(run=_export)


def _add_link(commands: Commands) -> None:
    command = commands.add_parser(
        "link",
        help="print the link that gives a set to students",
        description="Print a link that holds a whole set, without its notes. A set of ours has a page of "
        "its own, whose address is printed. With --qr, write the link as a QR code too.",
    )
    command.add_argument("set", metavar="SET", help=A_SET)
    command.add_argument(
        "--site",
        default="",
        metavar="ADDRESS",
        help="where your site is, such as https://school.example/doughwater/; "
        "without it, what follows that address is printed",
    )
    command.add_argument("--qr", type=Path, metavar="FILE", help="an .svg file; needs --site")
    command.set_defaults(run=_link)


def _add_demo(commands: Commands) -> None:
    command = commands.add_parser(
        "demo",
        help="write an invented class's hand-ins, and all that a teacher makes from them",
        description="Write a folder with an invented class: hand-ins of every kind with stated "
        "mistakes, worksheets and key, marks, report and QTI package. Its README.txt says what each "
        "file is, what was put in, and what the marking found.",
    )
    command.add_argument(
        "--out", type=Path, required=True, metavar="FOLDER", help="a new folder to write"
    )
    command.add_argument(
        "--set",
        default=DEMO_SET,
        metavar="SET",
        help=f"{A_SET} (default: {DEMO_SET})",
    )
    command.add_argument("--paper", choices=tuple(PAPERS), default="a4", help="default: a4")
    command.set_defaults(run=_demo)


def _add_level(command: argparse.ArgumentParser, verb: str) -> None:
    command.add_argument(
        "--level", type=int, choices=problems.LEVELS, help=f"{verb} the problems of this level only"
    )


def _text(path: Path) -> str:
    """The text of a set file, in any usual encoding. Raises SetError for what is no text."""
    return decoded(_raw(path), str(path))[0]


def _raw(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
        if len(raw) > LARGEST_FILE:
            raise Trouble(f"{path}: this file is far too large. Is it the right one?")
        return raw
    except FileNotFoundError:
        raise Trouble(f"{path}: there is no such file. Check the name and the folder.") from None
    except IsADirectoryError:
        raise Trouble(f"{path}: this is a folder. Name a file in it.") from None
    except OSError as error:
        raise Trouble(f"{path}: it cannot be read ({error.strerror}).") from None


def _set(path: Path, most_draws: int = problems.A_FEW) -> ProblemSet:
    try:
        text, encoding = decoded(_raw(path), str(path))
        found = read_set(text, str(path), most_draws)
    except SetError as error:
        count = len(error.complaints)
        raise Trouble(f"{error}\n{counted(count, 'thing')} to put right.") from None
    if not encoding.startswith("UTF"):
        print(f"Note: {path} was read as {encoding}: look at its accents.", file=sys.stderr)
    return found


def _mark(options: argparse.Namespace) -> int:
    for path in options.paths:
        if not path.exists():
            raise Trouble(f"{path}: there is no such file. Check the name and the folder.")
    one = options.paths[0]
    class_wanted = (
        options.marks or options.report or options.students or options.feedback or options.term
    )
    if len(options.paths) > 1 or holds_many(one) or class_wanted:
        return _mark_class(options)
    return _mark_one(one, options)


def _chosen_set(name: str, most_draws: int = problems.A_FEW) -> ProblemSet:
    """A set of ours by its name, or a set file."""
    ours = problems.set_keys()
    if name in ours:
        return _set(SETS / f"{name}.yml", most_draws)
    if not Path(name).exists():
        near = difflib.get_close_matches(Path(name).stem, ours, n=2, cutoff=0.5)
        meant = f"Did you mean {' or '.join(near)}?" if near else f"Ours are: {', '.join(ours)}."
        raise Trouble(f"{name}: there is no such file, and no set of ours of that name. {meant}")
    return _set(Path(name), most_draws)


def _asked(options: argparse.Namespace, problem_set: ProblemSet) -> ProblemSet:
    """The whole set, or the part of it that a class was asked."""
    asked = problem_set
    if options.level is not None:
        asked = problem_set.of_level(options.level)
        if not asked.problems:
            raise Trouble(f"“{problem_set.title}” has no problem of level {options.level}.")
    if not getattr(options, "only", None):
        return asked
    try:
        return asked.only(filter(None, map(str.strip, options.only.split(","))))
    except KeyError as error:
        has = ", ".join(problem.id for problem in asked.problems)
        raise Trouble(f"--only: “{asked.title}” has no problem “{error.args[0]}”. It has: {has}.") from None  # fmt: skip


def _mark_class(options: argparse.Namespace) -> int:
    keys = _sets_handed_in(options) if options.term or not options.set else Counter()
    name = options.set or next((key for key, _ in keys.most_common(1)), None)
    if name is None:
        raise Trouble(
            "Which set is this? No hand-in tells it, and no table’s headings. Name the set: --set SET. "
            f"Ours are: {', '.join(problems.set_keys())}."
        )
    if not options.set and name not in problems.set_keys():
        raise Trouble(
            f"The hand-ins are for the set “{_one_line(name)}”, which is not one of ours. "
            "Name its file: --set SET.yml"
        )
    wanted = Wanted(
        tuple(options.paths),
        _asked(options, _chosen_set(name)),
        Columns(tuple(options.student_column), _pairs(options, "answer_columns", "PROBLEM/STEP")),
        _roster(options.students) if options.students else Roster(),
        _pairs(options, "same", "LISTED"),
        _changes(options.changes) if options.changes else Changes(),
        _scale(options.scale) if options.scale else None,
        DECIMALS.get(options.decimal, ""),
        options.marks,
        options.report,
        feedback=options.feedback,
    )
    if options.term:
        return _mark_term(options, wanted, keys)
    others = {key: n for key, n in keys.items() if key != name and key in problems.set_keys()}
    if others:
        told = ", ".join(f"{key} ({n})" for key, n in sorted(others.items()))
        print(f"Note: there are hand-ins for other sets too: {told}. To mark all at once: --term")
    with _marking() as progress:
        book, students = mark_on(options.cores, wanted, progress.to)
        for student in students:
            if not (options.marks or options.feedback):
                again = "" if student.counts else "  (not counted: handed in again)"
                who = _one_line(student.entry.student)
                print(f"{who}: {student.marks} of {student.out_of}{again}")
    _print_class(book, wanted)
    return 0 if book.students else 1


def _sets_handed_in(options: argparse.Namespace) -> Counter[str]:
    """The sets that the hand-ins name, or else that the headings of the tables are of, each with how many."""
    ours = map(problems.load, problems.set_keys())
    named = sets_on(options.cores, files_of(options.paths))
    return named if named and not options.term else named + sets_of_tables(options.paths, ours)


def _mark_term(options: argparse.Namespace, wanted: Wanted, keys: Counter[str]) -> int:
    """Mark every set of ours that there are hand-ins for, and the one that is named."""
    ours = [key for key in problems.set_keys() if key in {*keys} - {wanted.problem_set.key}]
    parts = [wanted.problem_set, *(_asked(options, problems.load(key)) for key in ours)]
    sets = {each.key: each for each in sorted(parts, key=lambda each: each.key)}
    with _marking() as progress:
        marker = partial(mark_on, options.cores)
        term = mark_term(wanted, list(sets.values()), progress.to, marker=marker)
    for key, book in term.books.items():
        paths = {name: named_for(getattr(wanted, name), key) for name in ("marks", "report")}
        _print_class(book, replace(wanted, problem_set=sets[key], feedback=None, **paths))
    print()
    if wanted.marks:
        print(f"Marks over the term: {wanted.marks}")
    else:
        for student in term.students():
            each = (f"{key} {one.marks} of {one.out_of}" for key, one in term.earned(student).items())  # fmt: skip
            print(f"{_one_line(student)}: {', '.join(each) or 'nothing'}")
    return 0 if any(book.students for book in term.books.values()) else 1


def _names(path: Path) -> list[str]:
    with _told_of(path):
        return names_alone(open_roster(path))


def _roster(path: Path) -> Roster:
    with _told_of(path):
        return open_roster(path)


def _changes(path: Path) -> Changes:
    with _told_of(path):
        return read_changes(decode(_raw(path)))


@contextmanager
def _marking() -> Iterator[Progress]:
    """The bar of a marking, and what can go wrong with it in words."""
    try:
        with Progress("Marking") as progress:
            yield progress
    except BrokenPipeError:
        raise
    except OSError as error:
        raise Trouble(f"{error.filename}: it cannot be written ({error.strerror}).") from None
    except BrokenExecutor:
        raise Trouble(
            "This computer ended a process that was marking: perhaps its memory ran out. "
            "Try again on one core, which needs less: --cores 1"
        ) from None


@contextmanager
def _told_of(path: Path) -> Iterator[None]:
    """What is wrong with a file, told with its name."""
    try:
        yield
    except (NamesError, ChangesError) as error:
        raise Trouble(f"{path}: {error}") from None
    except OSError as error:
        raise Trouble(f"{path}: it cannot be read ({error.strerror}).") from None


def _scale(text: str) -> Scale:
    try:
        return read_scale(text)
    except ScaleError as error:
        raise Trouble(f"--scale: {error}") from None


def _pairs(options: argparse.Namespace, option: str, means: str) -> dict[str, str]:
    """The pairs of an option, ``NAME=MEANS`` each."""
    found = {}
    for pair in getattr(options, option):
        heading, equals, target = pair.rpartition("=")
        if not equals:
            first = "HEADING" if option == "answer_columns" else "NAME"
            raise Trouble(f"--{option.replace('_', '-')} {pair}: write {first}={means}.")
        found[heading] = target
    return found


def _print_class(book: Gradebook, wanted: Wanted) -> None:
    share = f" The class earned {book.marks / book.out_of:.0%} of the marks." if book.out_of else ""
    print(f"\n{wanted.problem_set.title}: {book.students} marked.{share}")
    if book.handed_in_twice:
        print(f"{book.handed_in_twice} not counted: the student handed in again later.")
    for made in book.reteach()[:1]:
        print(f"Reteach first: {made.mistake.name} (students: {made.students}).")
    for what, names in (("Missing", book.missing), ("Not on the list", book.unlisted)):
        if names:
            print(f"{what}: {', '.join(map(_one_line, names))}")
    for near in book.near:
        print(f"Nearly alike: {_one_line(near.says)}. If so: --same {_quoted(near)}")
    if book.doubtful:
        print(f"Look at these first: {', '.join(_one_line(name) for name, _ in book.doubtful)}")
    for said in (*book.roster.remarks, *(f"{one.place}: {one.says}" for one in book.remarks)):
        print(f"Note: {_one_line(said, 600)}")
    for unused in wanted.changes.unused:
        print(f"Change not used: {_one_line(unused)}", file=sys.stderr)
    for one in book.refusals:
        print(f"Not marked: {_one_line(one.place)}: {_one_line(one.reason)}", file=sys.stderr)
    if book.refused > len(book.refusals):
        print(f"Not marked: {book.refused - len(book.refusals)} more.", file=sys.stderr)
    older = wanted.marks and book.handed_in_twice and older_path(wanted.marks)
    for what, path in (
        ("Marks", wanted.marks),
        ("Hand-ins not counted", older),
        ("Report", wanted.report),
        ("A page for each student", wanted.feedback),
    ):
        if path:
            print(f"{what}: {path}")


def _quoted(near: Near) -> str:
    """The pair as a shell reads it, where the names allow."""
    return f'"{_one_line(near.name)}={_one_line(near.other)}"'


def _mark_one(path: Path, options: argparse.Namespace) -> int:
    handin = read_file(path)
    if isinstance(handin, Refusal):
        raise Trouble(f"{path}: {handin.reason}")
    if options.set:
        problem_set = _chosen_set(options.set)
        other = other_set(handin, problem_set)
        if other:
            raise Trouble(f"{path}: {_one_line(other)} Name that set, or leave out --set.")
    elif handin.set_key in problems.set_keys():
        problem_set = _chosen_set(handin.set_key)
    else:
        raise Trouble(
            f"{path}: the set “{_one_line(handin.set_key)}” is not one of ours. "
            "Name its file: doughwater mark HAND-IN --set SET.yml"
        )
    problem_set = _asked(options, problem_set)
    for doubt in doubts(handin, problem_set):
        print(f"Note: {_one_line(doubt)}")
    print(f"{_one_line(handin.student) or '(no name)'}: {problem_set.title}\n")
    earned = out_of = 0
    for problem in problem_set.problems:
        drawn = draw(problem_set, problem, handin.student)
        result = mark(drawn, handin.answers.get(problem.id, {}), hints=handin.hints.get(problem.id))
        earned, out_of = earned + result.marks, out_of + result.out_of
        _print_marks(result)
    print(f"Marks: {earned} of {out_of}")
    return 0


def _print_marks(result: ProblemMark) -> None:
    print(f"{result.variant.problem.title}: {result.marks} of {result.out_of}")
    if result.says:
        print(f"  {result.says}")
    for one in result.steps:
        wrote = _one_line(one.wrote)
        print(f"  {introduced(one.step.label)} {wrote or '–'}  [{one.verdict.value}]")
        if one.note:
            print(f"    {one.note}")
        if one.says and one.verdict is not Verdict.RIGHT:
            print(f"    {one.says}")
    if not result.all_right:
        print("  Worked:")
        for line in _numbered(solution(result.variant)):
            print(f"    {line}")
    print()


def _numbered(lines: list[str]) -> list[str]:
    return [f"{number}. {line}" for number, line in enumerate(lines, 1)]


def _one_line(text: str, longest: int = 200) -> str:
    """Text from a file, safe to print: no control characters, no endless line."""
    return "".join(c if c.isprintable() else " " for c in text[:longest])


def _check(options: argparse.Namespace) -> int:
    bad = [name for name in options.sets if not _is_good(name)]
    return 1 if bad else 0


def _is_good(name: str) -> bool:
    """Check one set and say what was found, so that the next one is checked too."""
    try:
        problem_set = _chosen_set(name, MOST_DRAWS)
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return False
    marks = sum(draw(problem_set, problem, "").out_of for problem in problem_set.problems)
    print(
        f"{name}: good. {counted(len(problem_set.problems), 'problem')}, {counted(marks, 'mark')}."
    )
    for problem in problem_set.problems:
        if problem.quantity:
            print(f"  {problem.id}: {describe(review(problem))}")
    return True


def _schema(options: argparse.Namespace) -> int:
    print(json.dumps(schema(), ensure_ascii=False, indent=2))
    return 0


def _link(options: argparse.Namespace) -> int:
    problem_set = _chosen_set(options.set)
    if options.qr and not options.site:
        raise Trouble("A code needs a whole address: say where your site is, with --site ADDRESS.")
    if options.set in problems.set_keys():
        link = set_link.page_of_ours(options.site, problem_set.key)
    else:
        try:
            text = set_link.to_give(_text(Path(options.set)), options.set)
        except SetError as error:
            raise Trouble(str(error)) from None
        link = set_link.link(options.site, text)
    print(link if options.site else link.removeprefix("/"))
    if options.qr:
        _write_code(link, options.qr)
    return 0


def _write_code(link: str, path: Path) -> None:
    try:
        path.write_text(qr.file(qr.code(link)), "utf-8")
    except qr.TooLong:
        raise Trouble(
            f"The link has {len(link):,} letters: too many for a code that a phone reads from a distance. "
            "Give out the link or the set's file."
        ) from None
    except OSError as error:
        raise Trouble(f"{path}: it cannot be written ({error.strerror}).") from None
    print(f"Code: {path}", file=sys.stderr)


def _show(options: argparse.Namespace) -> int:
    problem_set = _chosen_set(options.set)
    print(f"{problem_set.title} (version {problem_set.version})")
    for number, problem in enumerate(problem_set.problems, 1):
        drawn = draw(problem_set, problem, options.student)
        print(f"\n{number}. {problem.title}\n{drawn.story.strip()}")
        if problem.ranking:
            print(f"   {problem.ranking.asks}")
        for box in drawn.boxes:
            print(f"   {box.label}")
            for letter, option in box.lettered():
                print(f"     {letter}. {option.text}")
        if options.key:
            for line in _numbered(solution(drawn)):
                print(f"   {line}")
    return 0


def _print(options: argparse.Namespace) -> int:
    problem_set = _asked(options, _chosen_set(options.set))
    if options.students:
        sheets = named(problem_set, _names(options.students))
    elif 1 <= options.count <= MOST_SHEETS:
        sheets = numbered(problem_set, options.count)
    else:
        raise Trouble(f"--count {options.count}: choose a number from 1 to {MOST_SHEETS}.")
    try:
        for line in print_set(problem_set, sheets, options.out, options.paper):
            print(line)
    except FileExistsError as error:
        raise Trouble(
            f"{error.filename}: this is there already, and answers may be typed into it. "
            "Choose another folder, or move it away."
        ) from None
    except OSError as error:
        raise Trouble(f"{error.filename}: it cannot be written ({error.strerror}).") from None
    return 0


def _export(options: argparse.Namespace) -> int:
    if options.out.suffix.lower() != ".zip":
        raise Trouble(f"--out {options.out}: choose a name that ends in .zip.")
    write = _as_questions if options.kind in VERSIONS else _as_pages
    try:
        made = write(options)
        options.out.write_bytes(made)
    except ValueError as error:
        raise Trouble(str(error)) from None
    except OSError as error:
        raise Trouble(f"{options.out}: it cannot be written ({error.strerror}).") from None
    print(f"{options.out}: written. Import it into your school's system.")
    return 0


def _as_questions(options: argparse.Namespace) -> bytes:
    """A QTI package. Raises ValueError."""
    if options.lesson or options.set == COURSE:
        raise Trouble("Lessons go into a SCORM package: add --as scorm12 or --as scorm2004.")
    if options.pass_mark is not None:
        raise Trouble("--pass is for SCORM: a school's system has a pass mark of its own for QTI.")
    problem_set = _asked(options, _chosen_set(options.set))
    draws = DRAWS if options.draws is None else options.draws
    students = _names(options.students) if options.students else draws
    for problem in problem_set.problems:
        if not can_write(problem):
            print(
                f"Left out: “{problem.title}”. It has more places to rank than a package can mark."
            )
    return package(problem_set, students, options.answer_only, version=VERSIONS[options.kind])


def _as_pages(options: argparse.Namespace) -> bytes:
    """A SCORM package. Raises ValueError."""
    if options.students or options.answer_only or options.draws is not None:
        raise Trouble(
            "--draws, --students and --answer-only are for QTI. In SCORM each student has numbers "
            "of their own: leave them out."
        )
    return scorm.package(
        _items(options), options.site, scorm.Edition(options.kind), options.pass_mark
    )


def _items(options: argparse.Namespace) -> list[scorm.Item]:
    """What a SCORM package holds. Raises ValueError."""
    if options.set == COURSE:
        if options.level is not None:
            raise Trouble("--level is for one set. The course has each set whole.")
        return scorm.course()
    problem_set = _asked(options, _chosen_set(options.set))
    ours = options.set in problems.set_keys()
    text = "" if ours else set_link.to_give(_text(Path(options.set)), options.set)
    packed = set_link.pack(text) if text else ""
    lesson = scorm.lesson_of(problem_set) if options.lesson else ""
    return [scorm.Item(problem_set, packed, options.level, lesson)]


def _demo(options: argparse.Namespace) -> int:
    problem_set = _chosen_set(options.set)
    try:
        demo = write_demo(problem_set, options.out, options.paper, options.set)
    except FileExistsError:
        raise Trouble(
            f"{options.out}: there is something in it already. Choose a new folder."
        ) from None
    except OSError as error:
        raise Trouble(
            f"{error.filename or options.out}: it cannot be written ({error.strerror})."
        ) from None
    print(f"An invented class worked through “{problem_set.title}”: {demo.book.students} marked.")
    print(f"Read this first: {options.out / README}")
    print(f"Then open: {options.out / REPORT}")
    return 0
