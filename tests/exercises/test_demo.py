"""The demo class: what its students were given to do wrong is what the marking finds."""

import csv
import io
import json
import zipfile
from pathlib import Path

import pytest
import scipy

from exercises import demo as demo_module
from exercises import invented
from exercises.cli import main
from exercises.codes import code_of
from exercises.collect import Entry, collect, files_of
from exercises.demo import (
    CUT_SHORT,
    DEMO_SET,
    HAND_INS,
    MISSPELT,
    PAPER,
    TWICE,
    WRITTEN_AS,
    hand_in_and_mark,
    write_demo,
)
from exercises.invented import FIRM, STUDENTS, WAVERING, Way
from exercises.marking import Verdict
from exercises.problems import load

SET = load(DEMO_SET)
# Chance may put a count this far out of the middle once in a thousand.
ONCE_IN_A_THOUSAND = 0.001


@pytest.fixture(scope="module", autouse=True)
def few_draws():
    """The package for a school's system holds fewer draws: what they are is tested with the package."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(demo_module, "DRAWS", 2)
        yield


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("demo") / "class"


@pytest.fixture(scope="module")
def demo(folder):
    return write_demo(SET, folder)


def contents(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.mark.slow
def test_the_same_bytes_twice(demo, folder, tmp_path):
    write_demo(SET, tmp_path / "another place")
    assert contents(folder) == contents(tmp_path / "another place")


def test_the_class_is_what_was_said(demo):
    assert len(STUDENTS) == len({student.name for student in STUDENTS}) == 24
    assert {student.way for student in STUDENTS} == set(Way)
    assert {student.style.mass for student in STUDENTS} == {"g", "oz"}
    assert {student.style.decimal for student in STUDENTS} == {".", ","}
    # Nobody's hand-in is lost but the two that were made to be.
    assert demo.book.students == len(STUDENTS) - 2
    assert demo.book.handed_in_twice == 1
    assert [one.entry.student for one in demo.marks if not one.counts] == [TWICE]


def test_every_file_that_a_person_reads_says_that_it_is_invented(demo, folder):
    for name, content in contents(folder).items():
        if name.endswith(".zip"):
            with zipfile.ZipFile(io.BytesIO(content)) as package:
                content = b"".join(map(package.read, package.namelist()))
        assert "invented" in name or b"invented" in content, name


def test_what_cannot_be_marked_is_told_with_its_reason(demo, folder):
    told = {one.place: one.reason for one in demo.book.refusals}
    assert len(told) == 2
    cut, misspelt = (told[place] for place in sorted(told))
    assert "not complete JSON" in cut
    assert f"does not belong to “{WRITTEN_AS}”" in misspelt
    assert code_of(SET, MISSPELT) in misspelt
    assert any("kwame" in place for place in told)
    assert CUT_SHORT not in [one.entry.student for one in demo.marks]


def test_every_verdict_occurs(demo):
    """But those of a ranking: the set asks for none."""
    assert set(demo.verdicts()) == set(Verdict) - {Verdict.IN_ORDER, Verdict.OUT_OF_ORDER}


@pytest.mark.parametrize("rate", [FIRM, WAVERING])
def test_mistakes_are_made_at_the_stated_rate(demo, rate):
    """Against the binomial distribution (SciPy), two-sided, one in a thousand."""
    mine = [one for one in demo.works if one.misconception and one.student.rate == rate]
    chances, taken = sum(one.chances for one in mine), sum(one.taken for one in mine)
    assert chances >= 5
    low, high = scipy.stats.binom.interval(1 - ONCE_IN_A_THOUSAND, chances, rate)
    assert low <= taken <= high


@pytest.mark.parametrize("seed", ["doughwater demo 1", "another", "a third", "a fourth"])
def test_the_marking_finds_what_was_put_in_and_little_else(monkeypatch, tmp_path, seed):
    """`tests.bench.diagnosis` measures how many single mistakes are named; here some come two in a row,
    and figures changed round come beside them. Which is why the bound is below."""
    monkeypatch.setattr(invented, "SEED", seed)
    demo = hand_in_and_mark(SET, tmp_path)
    made, found = demo.put_in(), demo.found()
    assert len(made) > 40
    # Where two mistakes give one number the student is asked which it was: the right one is among them.
    asked = {
        (one.entry.student, problem.variant.problem.id, finding.mistake.key)
        for one in demo.counted
        for problem in one.problems
        for step in problem.steps
        for finding in step.findings
    }
    # A figure that is one key away from the right one is a slip, unless the mistake is a common one.
    assert len(made & (found | asked)) >= 0.88 * len(made)
    assert len(found - made) <= 0.1 * len(found)


def test_each_students_misconception_is_recovered(demo):
    """Whoever made their own mistake at least twice has it as the most frequent one in the gradebook."""
    marks = {one.entry.student: one for one in demo.counted}
    clear = [one for one in demo.works if one.taken >= 2]
    assert len(clear) >= 10
    for one in clear:
        most = marks[one.student.name].mistakes.most_common(1)[0]
        assert most[0] == one.misconception.key, one.student.name


def test_who_has_no_misconception_and_is_sure_is_blamed_for_nothing(demo):
    sure = [one for one in demo.works if one.student.skill is invented.SURE and not one.made]
    marks = {one.entry.student: one for one in demo.counted}
    assert len(sure) >= 3
    for one in sure:
        assert not marks[one.student.name].mistakes
        assert marks[one.student.name].marks >= 15


def test_the_report_reteaches_what_most_were_given(demo):
    given = [one.misconception.key for one in demo.works if one.taken]
    first = demo.book.reteach()[0].mistake.key
    assert given.count(first) == max(map(given.count, set(given)))


def test_the_hand_ins_are_read_as_any_others(demo, folder):
    read = list(collect(files_of([folder / HAND_INS]), SET))
    names = [one.student for one in read if isinstance(one, Entry)]
    assert set(names) == {student.name for student in STUDENTS} - {CUT_SHORT, MISSPELT}
    assert all(not one.notes for one in read if isinstance(one, Entry))


def test_the_spreadsheet_has_decimal_commas_and_last_answers_alone(demo, folder):
    text = (folder / HAND_INS / "tables" / "spreadsheet.csv").read_text("utf-8-sig")
    rows = list(csv.reader(io.StringIO(text), delimiter=";"))
    assert len(rows) == 1 + sum(student.way is Way.SPREADSHEET for student in STUDENTS)
    assert rows[0].count("yogurt-loaf/liquid") == 1
    assert "yogurt-loaf/water" not in rows[0]
    assert any("," in cell for row in rows[1:] for cell in row)


def test_the_readmes_commands_work_in_the_folder(demo, folder, monkeypatch, capsys):
    monkeypatch.chdir(folder)
    readme = (folder / "README.txt").read_text("utf-8")
    commands = [line.split()[1:] for line in readme.splitlines() if "doughwater mark" in line]
    made = [command for command in commands if command[0] == "mark"]
    assert len(made) >= 2
    for command in made:
        assert main(command) == 0
    assert (folder / "my-marks.csv").read_bytes() == (folder / "marks.csv").read_bytes()
    assert "22 marked" in capsys.readouterr().out


def test_the_readme_tells_put_in_beside_found(demo, folder):
    readme = (folder / "README.txt").read_text("utf-8")
    line = next(line for line in readme.splitlines() if line.startswith("  swapped gram for gram"))
    made = [one for one in demo.put_in() if one[-1] == "gram-for-gram"]
    found = [one for one in demo.found() if one[-1] == "gram-for-gram"]
    assert f"/ {len(made)} " in line
    assert f"/ {len(found)} " in line
    assert max(map(len, readme.splitlines())) <= 110


def test_the_paper_sheets_are_the_class(demo, folder):
    sheet = (folder / PAPER / "worksheet.html").read_text("utf-8")
    for student in STUDENTS:
        assert student.name in sheet
        assert code_of(SET, student.name) in sheet


@pytest.mark.slow
def test_any_set_will_do(tmp_path):
    """The second set has choices and orders, and percentages of one or two figures, which many mistakes give; and
    a job of many steps, in which a slip often ends in a number that says little."""
    demo = write_demo(load("what-rides-along"), tmp_path)
    assert demo.book.students == len(STUDENTS) - 2
    assert len(demo.put_in() & demo.found()) >= 0.7 * len(demo.put_in())


def test_the_command_writes_a_new_folder_and_spares_a_full_one(tmp_path, capsys):
    own = tmp_path / "own.yml"
    own.write_text(
        "title: Own\nversion: 1\nproblems:\n  - id: a\n    title: A\n    ask: new liquid\n"
        "    story: '{flour} {hydration} {liquid}, {water content of liquid}'\n"
        "    givens: {flour: {from: 400 g, to: 900 g, step: 50 g}, hydration: 65 %, liquid: buttermilk}\n",
        "utf-8",
    )
    assert main(["demo", "--out", str(tmp_path / "class"), "--set", str(own)]) == 0
    assert "README.txt" in capsys.readouterr().out
    first = json.loads(next((tmp_path / "class" / HAND_INS / "files").glob("aiko*")).read_text())
    assert first["set"] == "own"
    assert main(["demo", "--out", str(tmp_path / "class")]) == 1
    assert "Choose a new folder" in capsys.readouterr().err
