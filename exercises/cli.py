"""The terminal commands: ``doughwater mark``, ``doughwater check`` and ``doughwater show``."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from exercises import problems
from exercises.handin import HandinError, read_handin
from exercises.marking import ProblemMark, Verdict, mark, solution
from exercises.problems import ProblemSet, draw, read_set
from exercises.setfile import SetError


class Trouble(Exception):
    """Something the person at the terminal can put right; printed without a traceback."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; the exit code is 0, or 1 when something must be put right."""
    options = _parser().parse_args(arguments)
    try:
        return options.run(options)
    except Trouble as trouble:
        print(trouble, file=sys.stderr)
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="doughwater", description="Problem sets on swapping the liquid in a dough."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    marking = commands.add_parser("mark", help="mark one student's hand-in file")
    marking.add_argument("file", type=Path, help="the file the exercise page saved")
    marking.add_argument("--set", type=Path, metavar="FILE", help="a set file of your own")
    marking.set_defaults(run=_mark)

    checking = commands.add_parser("check", help="check set files you wrote")
    checking.add_argument("files", type=Path, nargs="+", metavar="FILE")
    checking.set_defaults(run=_check)

    showing = commands.add_parser("show", help="print a set with one student's numbers")
    showing.add_argument("file", type=Path, help="a set file")
    showing.add_argument("--student", default="", metavar="NAME", help="whose numbers to draw")
    showing.add_argument("--key", action="store_true", help="print the worked solutions too")
    showing.set_defaults(run=_show)
    return parser


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8")
    except FileNotFoundError:
        raise Trouble(f"{path}: there is no such file. Check the name and the folder.") from None
    except IsADirectoryError:
        raise Trouble(f"{path}: this is a folder. Name a file in it.") from None
    except UnicodeDecodeError:
        raise Trouble(f"{path}: this is not UTF-8 text. Save it again as UTF-8.") from None
    except OSError as error:
        raise Trouble(f"{path}: it cannot be read ({error.strerror}).") from None


def _set(path: Path) -> ProblemSet:
    try:
        return read_set(_text(path), str(path))
    except SetError as error:
        count = len(error.complaints)
        raise Trouble(f"{error}\n{count} thing{'s' * (count != 1)} to put right.") from None


def _mark(options: argparse.Namespace) -> int:
    try:
        handin = read_handin(_text(options.file))
    except HandinError as error:
        raise Trouble(f"{options.file}: {error}") from None
    if options.set:
        problem_set = _set(options.set)
    elif handin.set_key in problems.set_keys():
        problem_set = problems.load(handin.set_key)
    else:
        raise Trouble(
            f"{options.file}: the set “{handin.set_key}” is not one of ours. "
            "Name its file: doughwater mark HAND-IN --set SET.yml"
        )
    if handin.version != problem_set.version:
        print(
            f"Note: made for version {handin.version} of the set; this is version "
            f"{problem_set.version}, and its numbers may differ."
        )
    print(f"{_one_line(handin.student) or '(no name)'}: {problem_set.title}\n")
    earned = out_of = 0
    for problem in problem_set.problems:
        result = mark(
            draw(problem_set, problem, handin.student), handin.answers.get(problem.id, {})
        )
        earned, out_of = earned + result.marks, out_of + result.out_of
        _print_marks(result, handin.answers.get(problem.id, {}))
    for unknown in handin.answers.keys() - {problem.id for problem in problem_set.problems}:
        print(f"Note: “{_one_line(unknown)}” is not a problem of this set; it was not marked.")
    print(f"Marks: {earned} of {out_of}")
    return 0


def _print_marks(result: ProblemMark, answers: dict[str, str]) -> None:
    print(f"{result.variant.problem.title}: {result.marks} of {result.out_of}")
    for one in result.steps:
        wrote = _one_line(answers.get(one.step.key, "").strip())
        print(f"  {one.step.label}: {wrote or '–'}  [{one.verdict.value}]")
        if one.says and one.verdict is not Verdict.RIGHT:
            print(f"    {one.says}")
    if not result.all_right:
        print("  Worked:")
        for line in solution(result.variant):
            print(f"    {line}")
    print()


def _one_line(text: str) -> str:
    """Text from a file, safe to print: no control characters, no endless line."""
    return "".join(c if c.isprintable() else " " for c in text[:200])


def _check(options: argparse.Namespace) -> int:
    for path in options.files:
        problem_set = _set(path)
        steps = sum(draw(problem_set, p, "").out_of for p in problem_set.problems)
        print(f"{path}: good. {len(problem_set.problems)} problems, {steps} marks.")
    return 0


def _show(options: argparse.Namespace) -> int:
    problem_set = _set(options.file)
    print(f"{problem_set.title} (version {problem_set.version})")
    for number, problem in enumerate(problem_set.problems, 1):
        drawn = draw(problem_set, problem, options.student)
        print(f"\n{number}. {problem.title}\n{drawn.story.strip()}")
        if options.key:
            for line in solution(drawn):
                print(f"   {line}")
    return 0
