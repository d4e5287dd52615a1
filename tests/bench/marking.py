"""How fast a class is marked, and in how much memory.

    python -m tests.bench.marking            10,000 and 100,000 answers
    python -m tests.bench.marking 1000000    as many as you say

For each size it writes a CSV of invented answers (six in ten right, the rest known mistakes, random
numbers and blanks), then prints in a fresh process each: answers marked a second with marks written
to a CSV, answers a second when `csv.reader` merely reads the same file, and peak memory of both. Last
comes a class as a teacher has it, 30 students with 12 problems each as hand-in files: marks, report and a
page for each student, beside merely reading the same files as JSON.
Seconds are the processor's, so that other work on the machine does not count.

At last 10,000 hand-ins as files are marked on one core and on all, with marks and report, and their bytes compared.
Those seconds are the clock's: the machine must have nothing else to do.
"""

from __future__ import annotations

import csv
import json
import random
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from calc import units
from calc.diagnosis import outcomes, rewritten
from exercises.classroom import Wanted, mark_files
from exercises.collect import answer_headings
from exercises.cores import all_cores
from exercises.draws import ProblemSet, Variant, draw
from exercises.handin import write_handin
from exercises.problems import load

SET = "first-swaps"
SIZES = (10_000, 100_000)
STUDENTS = 30
MANY = 10_000


def written(value: float, step) -> str:
    return units.write(value, step.kind, step=step.to)


@lru_cache(maxsize=20_000)
def right_and_mistaken(variant: Variant) -> tuple[dict[str, str], list[dict[str, str]]]:
    """The right answers to a variant, and the answers of students who make one known mistake."""
    working = variant.working
    right = {key: working.weighed(key) for key in working.steps}
    mistaken = []
    for key, step in working.steps.items():
        for one in rewritten(working, key):
            value = outcomes(working, key, {key: one.expression})[0]
            if value > step.to:
                mistaken.append(right | {key: written(value, step)})
    return right, mistaken


def invented(variant: Variant, chance: random.Random) -> dict[str, str]:
    """One student's answers."""
    right, mistaken = right_and_mistaken(variant)
    luck = chance.random()
    if luck < 0.6:
        return right
    if luck < 0.85 and mistaken:
        return chance.choice(mistaken)
    key = chance.choice(list(right))
    return right | {key: "" if luck > 0.95 else f"{chance.uniform(1, 2000):.0f}"}


def rows(problem_set: ProblemSet, students: int) -> Iterator[list[str]]:
    headings = answer_headings(problem_set)
    yield ["student", *headings]
    chance = random.Random(SET)
    for number in range(students):
        name = f"student {number}"
        row = [name]
        for problem in problem_set.problems:
            row += invented(draw(problem_set, problem, name), chance).values()
        yield row


def peak() -> float:
    """The most memory this process has had, in MB (Linux counts in kB)."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def read_only(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as file:
        for _ in csv.reader(file):
            pass


def mark(path: Path) -> None:
    wanted = Wanted((path,), load(SET), marks=path.with_name("marks.csv"))
    for _ in mark_files(wanted)[1]:
        pass


def hand_ins(folder: Path) -> None:
    """Thirty students' hand-ins, with twelve problems each."""
    problem_set = of_twelve()
    chance = random.Random(SET)
    for number in range(STUDENTS):
        write_invented(folder, problem_set, number, chance)


def write_invented(
    folder: Path, problem_set: ProblemSet, number: int, chance: random.Random
) -> None:
    name = f"student {number}"
    answers = {p.id: invented(draw(problem_set, p, name), chance) for p in problem_set.problems}
    (folder / f"{number}.json").write_text(write_handin(problem_set, name, answers), "utf-8")


def of_twelve() -> ProblemSet:
    """A set with twelve problems of our first one, some of them twice."""
    problem_set = load(SET)
    again = [
        replace(p, id=f"{p.id}-{n}") for n in range(12) for p in problem_set.problems if p.quantity
    ]
    return replace(problem_set, problems=tuple(again[:12]))


def mark_class_of_thirty(folder: Path) -> None:
    out = folder.parent
    wanted = Wanted(
        (folder,),
        of_twelve(),
        marks=out / "marks.csv",
        report=out / "report.html",
        feedback=out / "pages",
    )
    for _ in mark_files(wanted)[1]:
        pass


def read_class_of_thirty(folder: Path) -> None:
    for file in folder.iterdir():
        json.loads(file.read_text("utf-8"))


def measured(work: str, path: Path) -> tuple[float, float]:
    """Processor seconds and peak MB of one piece of work, in a process of its own."""
    command = [sys.executable, "-m", "tests.bench.marking", work, str(path)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    seconds, memory = map(float, done.stdout.split())
    return seconds, memory


def report(sizes: tuple[int, ...]) -> None:
    problem_set = load(SET)
    a_student = len(answer_headings(problem_set))
    print(f"{'answers':>10} {'marked/s':>10} {'read/s':>12} {'marking MB':>11} {'reading MB':>11}")
    for size in sizes:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder, "answers.csv")
            students = -(-size // a_student)
            with path.open("w", encoding="utf-8", newline="") as file:
                csv.writer(file).writerows(rows(problem_set, students))
            answers = students * a_student
            marking, reading = measured("mark", path), measured("read", path)
        print(
            f"{answers:10,} {answers / marking[0]:10,.0f} {answers / reading[0]:12,.0f} "
            f"{marking[1]:11.1f} {reading[1]:11.1f}",
            flush=True,
        )


def report_class() -> None:
    with tempfile.TemporaryDirectory() as folder:
        inside = Path(folder, "in")
        inside.mkdir()
        hand_ins(inside)
        marking, reading = measured("mark-class", inside), measured("read-class", inside)
    print(
        f"a class of {STUDENTS}: marked in {marking[0]:.2f} s, {marking[0] / reading[0]:,.0f} times as long as reading the files"
    )


def report_cores(students: int = MANY) -> None:
    problem_set, cores = load(SET), all_cores()
    with tempfile.TemporaryDirectory() as made:
        inside, chance = Path(made, "in"), random.Random(SET)
        inside.mkdir()
        for number in range(students):
            write_invented(inside, problem_set, number, chance)
        seconds, written = zip(
            *(marked_on(n, inside, problem_set) for n in (1, cores)), strict=True
        )
    alike = "the same bytes" if written[0] == written[1] else "OTHER BYTES"
    print(
        f"{students:,} hand-ins: on one core {seconds[0]:.1f} s, on {cores} {seconds[1]:.1f} s: "
        f"{seconds[0] / seconds[1]:.2f} times as fast, {alike} (goal: 1.8 on two)"
    )


def marked_on(cores: int, folder: Path, problem_set: ProblemSet) -> tuple[float, list[bytes]]:
    """Seconds of a marking in a process of its own, and what it wrote."""
    out = folder.parent / f"on-{cores}"
    out.mkdir()
    files = [out / "marks.csv", out / "report.html"]
    command = [sys.executable, "-c", "from exercises.cli import main; main()", "mark", str(folder)]
    asked = ["--cores", str(cores), "--marks", str(files[0]), "--report", str(files[1])]
    begun = time.monotonic()
    subprocess.run([*command, *asked], check=True, capture_output=True)
    return time.monotonic() - begun, [file.read_bytes() for file in files]


WORKS = {
    "mark": mark,
    "read": read_only,
    "mark-class": mark_class_of_thirty,
    "read-class": read_class_of_thirty,
}

if __name__ == "__main__":
    if sys.argv[1:2] and sys.argv[1] in WORKS:
        begun = time.process_time()
        WORKS[sys.argv[1]](Path(sys.argv[2]))
        print(time.process_time() - begun, peak())
    else:
        report(tuple(map(int, sys.argv[1:])) or SIZES)
        report_class()
        report_cores()
