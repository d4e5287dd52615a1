"""Marking a class: every kind of file in; marks, report and what was misunderstood out."""

import csv
import io
import json
import re
import tracemalloc
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from bs4 import BeautifulSoup
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from scipy.stats import pearsonr

from exercises.classroom import Wanted, mark_files
from exercises.cli import main
from exercises.collect import Entry, answer_headings, files_of
from exercises.gradebook import Gradebook, StudentMark
from exercises.handin import new_handin, pack, write_handin
from exercises.item_analysis import Item
from exercises.problems import draw, load
from exercises.progress import Progress
from exercises.table import harmless, open_table, unharmed

KEY = "first-swaps"
SET = load(KEY)


def right(student: str) -> dict[str, dict[str, str]]:
    """Every step right."""
    return {
        problem.id: {
            key: drawn.working.weighed(key)
            for drawn in [draw(SET, problem, student)]
            for key in drawn.working.steps
        }
        for problem in SET.problems
    }


def gram_for_gram(student: str) -> dict[str, dict[str, str]]:
    """All right, but the new liquid goes in gram for gram where one loaf is asked for."""
    answers = right(student)
    for problem in ("yogurt-loaf", "from-milk-to-cream"):
        working = draw(SET, SET.problem(problem), student).working
        answers[problem] = {working.answer.key: working.weighed("water")}
    return answers


def whole_dough(student: str) -> dict[str, dict[str, str]]:
    """All right, but hydration counted on the whole dough."""
    answers = right(student)
    values = draw(SET, SET.problem("milk-in-the-dough"), student).working.values()
    whole = values["flour"] + values["liquid weight"] + values["other ingredients"]
    answers["milk-in-the-dough"]["hydration"] = f"{values['water'] / whole * 100:.1f} %"
    return answers


def csv_of(rows: list[tuple[str, dict]], delimiter: str = ",", decimal: str = ".") -> str:
    """A table with a row a student, as another system would export it."""
    written = io.StringIO()
    writer = csv.writer(written, delimiter=delimiter)
    headings = answer_headings(SET)
    writer.writerow(["Student", *headings])
    for student, answers in rows:
        cells = [answers.get(p, {}).get(s, "") for p, s in headings.values()]
        writer.writerow([student, *(cell.replace(".", decimal) for cell in cells)])
    return written.getvalue()


@pytest.fixture
def folder(tmp_path):
    """Five hand-ins, one of them twice, and two files that are none."""
    made = tmp_path / "hand-ins"
    (made / "late").mkdir(parents=True)
    for number, (name, answers) in enumerate(
        {
            "Ada Invented": right,
            "Ben Invented": gram_for_gram,
            "Cy Invented": gram_for_gram,
            "Di Invented": whole_dough,
        }.items()
    ):
        (made / f"{number}.json").write_text(write_handin(SET, name, answers(name)), "utf-8")
    late = pack(new_handin(SET, "ada  INVENTED", gram_for_gram("Ada Invented")))
    (made / "late" / "pasted.txt").write_text("Dear teacher,\n" + late, "utf-8")
    (made / "broken.json").write_text('{"format": "doughw', "utf-8")
    (made / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    (made / ".hidden").write_text("no matter", "utf-8")
    return made


def marked(*paths: Path, **more) -> tuple[Gradebook, list[StudentMark]]:
    book, students = mark_files(Wanted(paths, SET, **more))
    return book, list(students)


# Statistics, against NumPy and SciPy.


@settings(max_examples=60, deadline=None)
@given(st.integers(4, 40), st.integers(2, 8), st.integers(0, 2**32 - 1), st.booleans())
def test_item_statistics_agree_with_numpy_and_scipy(students, problems, seed, parts_of_marks):
    marks = np.random.default_rng(seed).integers(0, 5, (students, problems)).astype(float)
    if parts_of_marks:
        marks /= 4
    total = marks.sum(axis=1)
    for column in range(problems):
        item = Item()
        for row in range(students):
            item.add(float(marks[row, column]), 4, float(total[row]))
        rest = total - marks[:, column]
        assert item.difficulty == pytest.approx(marks[:, column].mean() / 4)
        if marks[:, column].std() < 1e-9 or rest.std() < 1e-9:
            assert item.discrimination is None
            continue
        wanted = pearsonr(marks[:, column], rest)
        assert item.discrimination == pytest.approx(
            np.corrcoef(marks[:, column], rest)[0, 1], abs=1e-7
        )
        if abs(wanted.statistic) < 0.999999:
            interval = wanted.confidence_interval(0.95)
            assert item.interval == pytest.approx((interval.low, interval.high), abs=1e-6)


@given(st.lists(st.integers(0, 4), min_size=4, max_size=30), st.integers(0, 4))
def test_where_marks_do_not_vary_nothing_is_said(rest, same):
    item = Item()
    for other in rest:
        item.add(same, 4, same + other)
    assert item.discrimination is None
    assert item.says.startswith("Nothing")


def test_a_small_class_is_told_what_cannot_be_said():
    item = Item()
    for earned, total in ((0, 1), (1, 3), (2, 6)):
        item.add(earned, 2, total)
    assert item.interval is None
    assert item.says == "Nothing: 3 students are too few."
    item.add(0, 2, 4)
    assert "may be chance" in item.says


# A folder.


def test_marks_a_folder_and_goes_on_past_broken_files(folder):
    book, students = marked(folder)
    assert [(s.entry.student, s.marks, s.counts) for s in students] == [
        ("Ada Invented", 19, False),
        ("Ben Invented", 15, True),
        ("Cy Invented", 15, True),
        ("Di Invented", 18, True),
        ("ada INVENTED", 15, True),
    ]
    assert {Path(one.place).name: one.reason.split(":")[0] for one in book.refusals} == {
        "broken.json": "line 1, column 12",
        "photo.jpg": "This is not a hand-in",
    }
    assert (book.students, book.handed_in_twice, book.marks) == (4, 1, 63)


def test_of_two_hand_ins_the_last_by_name_counts_and_both_say_so(folder):
    _, students = marked(folder)
    first, last = students[0], students[-1]
    assert f"the last, {folder / 'late' / 'pasted.txt'}, counts" in first.notes[0]
    assert last.notes == ("Handed in 2 times: this one counts.",)


def test_marks_are_those_of_the_single_hand_in(folder, capsys):
    _, students = marked(folder)
    for student in students:
        main(["mark", student.entry.place])
        assert f"Marks: {student.marks} of {student.out_of}" in capsys.readouterr().out


def test_names_the_mistakes_the_groups_and_what_comes_first(folder):
    book, _ = marked(folder)
    ranked = book.reteach()
    assert [(m.mistake.key, m.students, m.problems) for m in ranked] == [
        ("gram-for-gram", 3, 6),
        ("whole-dough", 1, 1),
    ]
    assert ranked[0].names == ["Ben Invented", "Cy Invented", "ada INVENTED"]
    assert [(g.mistake.key, g.names) for g in book.groups()] == [
        ("gram-for-gram", ("Ben Invented", "Cy Invented", "ada INVENTED")),
        ("whole-dough", ("Di Invented",)),
    ]


def test_another_sets_hand_ins_are_listed(folder):
    data = json.loads((folder / "0.json").read_text("utf-8"))
    (folder / "0.json").write_text(json.dumps(data | {"set": "another"}), "utf-8")
    book, students = marked(folder)
    assert len(students) == 4
    assert "for the set “another”" in book.refusals[0].reason


@given(st.lists(st.tuples(st.booleans(), st.booleans(), st.booleans()), min_size=1, max_size=12))
def test_each_student_is_in_exactly_one_group(made):
    book = Gradebook(SET)
    keys = ("gram-for-gram", "whole-dough", "upside-down")
    for number, which in enumerate(made):
        mark = StudentMark(Entry("", f"student {number}", "", {}), ())
        mark.__dict__["mistakes"] = {k: 1 for k, has in zip(keys, which, strict=True) if has}
        book.add(mark)
    names = [name for group in book.groups() for name in group.names]
    assert sorted(names) == sorted(f"student {number}" for number in range(len(made)))
    sizes = [len(group.names) for group in book.groups() if group.mistake]
    assert sizes == sorted(sizes, reverse=True)


# Tables.


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize(
    ("delimiter", "decimal"), [(",", "."), (";", ","), ("\t", ","), ("|", "."), (",", ",")]
)
def test_reads_a_table_however_it_is_written(encoding, delimiter, decimal, tmp_path):
    path = tmp_path / "answers.csv"
    rows = [("Zoë Invented", right("Zoë Invented")), ("Ben", gram_for_gram("Ben"))]
    rows[0][1]["salt-check"] = {"weight": draw_salt("Zoë Invented")}
    path.write_bytes(csv_of(rows, delimiter, decimal).encode(encoding))
    table = open_table(path)
    assert (table.delimiter, table.decimal) == (delimiter, decimal)
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [("Zoë Invented", 19), ("Ben", 15)]
    assert book.refusals == []


def draw_salt(student: str) -> str:
    """An answer with a decimal in it."""
    working = draw(SET, SET.problem("salt-check"), student).working
    return f"{working.values()['weight']:.1f} g"


def test_columns_can_have_any_heading(tmp_path, capsys):
    path = tmp_path / "export.csv"
    answers = right("Ada Invented")
    path.write_text(
        "Number,First name,Surname,Response 1,Response 2\n"
        f"1,Ada,Invented,{answers['yogurt-loaf']['liquid']},{answers['salt-check']['weight']}\n",
        "utf-8",
    )
    options = ["--student-column", "First name", "surname"]
    options += ["--answer-columns", "Response 1=yogurt-loaf", "response 2=salt-check/weight"]
    assert main(["mark", str(path), "--set", KEY, *options]) == 0
    assert "Ada Invented: 3 of 19" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ([], "No column is headed “student”"),
        (["--student-column", "Who"], "There is no column “Who”. The columns are: “Pupil”, “x”"),
        (["--student-column", "Pupil"], "No column holds answers"),
        (["--student-column", "Pupil", "--answer-columns", "x=salad"], "has no answer “salad”"),
        (["--answer-columns", "x"], "write HEADING=PROBLEM/STEP"),
    ],
)
def test_says_what_is_missing_in_a_table(options, says, tmp_path, capsys):
    path = tmp_path / "export.csv"
    path.write_text("Pupil,x\nAda,1 g\n", "utf-8")
    assert main(["mark", str(path), "--set", KEY, *options]) == 1
    assert says in capsys.readouterr().err


def test_finds_pasted_hand_ins_in_any_column(tmp_path, capsys):
    path = tmp_path / "export.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["Student", "When", "Online text"])
        for name in ("Ada Invented", "Ben Invented"):
            writer.writerow([name, "now", pack(new_handin(SET, name, right(name)))])
        writer.writerow(["Cy", "now", pack(new_handin(SET, "Cy", {}))[:90]])
    assert main(["mark", str(path), "--set", KEY]) == 0
    printed = capsys.readouterr()
    assert "Ada Invented: 19 of 19\nBen Invented: 19 of 19\n" in printed.out
    assert "row 4: A pasted hand-in runs from" in printed.err


def test_a_broken_row_is_listed_and_the_rest_go_on(tmp_path):
    path = tmp_path / "answers.csv"
    good = csv_of([("Ada", right("Ada")), ("Ben", right("Ben"))]).encode().split(b"\r\n")
    long = b'"' + b"x" * 200_000 + b'"'
    bad = [b"Zo\xeb,1 g", long + b",1 g", b",1 g", b"a" * 500 + b",1 g", b"", b"Short"]
    path.write_bytes(b"\r\n".join([*good[:2], *bad, *good[2:]]))
    book, students = marked(path)
    assert [(s.entry.student, s.marks) for s in students] == [
        ("Ada", 19),
        ("Ben", 19),
    ]
    told = {re.search(r"row \d+", one.place)[0]: one.reason for one in book.refusals}
    assert "not UTF-8" in told["row 3"]
    assert "far too long" in told["row 4"]
    assert "neither a name nor a code" in told["row 5"]
    assert "too long for one student" in told["row 6"]
    assert told["row 8"] == "“Short” has no answers: absent? Not counted."


def test_a_row_without_answers_counts_for_nobody(folder, capsys):
    """A blank sheet's row must not take the place of a hand-in, nor pull the class down."""
    before, _ = marked(folder)
    empty = csv_of([("Ada Invented", {}), ("Eve Absent", {"salt-check": {"weight": "  "}})])
    (folder / "answers.csv").write_text(empty, "utf-8")
    (folder / "zz.json").write_text(write_handin(SET, "Fay Guest", right("Fay Guest")), "utf-8")
    names = folder.parent / "names.txt"
    names.write_text("ada invented\nBen Invented\nCy Invented\nDi Invented\nEve Absent\n", "utf-8")
    report = folder.parent / "report.html"
    assert main(["mark", str(folder), "--students", str(names), "--report", str(report)]) == 0
    printed = capsys.readouterr()
    assert f"{before.students + 1} marked" in printed.out
    assert "Missing: Eve Absent\nNot on the list: Fay Guest\n" in printed.out
    assert "row 3: “Eve Absent” has no answers: absent?" in printed.err
    text = BeautifulSoup(report.read_text("utf-8"), "html.parser").get_text()
    assert "Missing: Eve Absent." in text
    assert "Not on the list of names: Fay Guest." in text


def test_a_list_of_names_that_cannot_be_read_is_told(folder, tmp_path, capsys):
    (tmp_path / "names.txt").write_text("\n", "utf-8")
    assert main(["mark", str(folder), "--students", str(tmp_path / "names.txt")]) == 1
    assert "names.txt: there is no name in it" in capsys.readouterr().err


# What is written.


def test_the_csv_of_marks_follows_rfc_4180_and_runs_nothing(tmp_path):
    """RFC 4180, section 2: lines end with CRLF, every line has as many fields as the first."""
    names = ["=1+1", "+1", "-1", "@x", "\t=1", 'Quote " and, comma', "Ada"]
    path, out = tmp_path / "answers.csv", tmp_path / "marks.csv"
    path.write_text(csv_of([(name, right(name)) for name in names]), "utf-8")
    marked(path, marks=out)
    text = out.read_bytes().decode("utf-8-sig")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len({len(row) for row in rows}) == 1
    assert len(rows) == len(names) + 1
    assert not any(cell.startswith(tuple("=+-@\t\r＝＋－＠")) for row in rows for cell in row)
    assert rows[6][0] == 'Quote " and, comma'


def test_the_report_begins_with_the_hand_ins_not_to_be_trusted_yet(folder, tmp_path, capsys):
    older = write_handin(replace(SET, version=SET.version + 7), "Di Invented", right("Di Invented"))
    (folder / "3.json").write_text(older, "utf-8")
    assert main(["mark", str(folder), "--report", str(tmp_path / "report.html")]) == 0
    assert "Look at these first: Di Invented\n" in capsys.readouterr().out
    page = BeautifulSoup((tmp_path / "report.html").read_text("utf-8"), "html.parser")
    box = page.select_one("div.first")
    assert [line.strong.get_text() for line in box.find_all("li")] == ["Di Invented"]
    assert f"Made for version {SET.version + 7} of the set" in box.get_text()
    assert box in page.h2.find_all_previous("div")


def test_the_report_tells_the_teacher_and_not_the_student(tmp_path):
    path, out = tmp_path / "answers.csv", tmp_path / "report.html"
    path.write_text(csv_of([("Ada Invented", {"salt-check": {"weight": "777 g"}})]), "utf-8")
    marked(path, report=out)
    text = BeautifulSoup(out.read_text("utf-8"), "html.parser").get_text(" ")
    assert "No one mistake explains this number." in text
    assert "Open a hint" not in text


def test_what_other_levels_ask_is_no_doubt(folder, capsys):
    level = SET.problems[0].level
    others = [problem for problem in SET.problems if problem.level != level]
    assert others
    assert main(["mark", str(folder / "1.json"), "--level", str(level)]) == 0
    assert "not a problem of this set" not in capsys.readouterr().out


@given(st.text())
def test_harmless_text_comes_back(text):
    assume(not text.startswith("'"))
    assert unharmed(harmless(text)) == text
    assert not harmless(text).startswith(tuple("=+-@\t\r\n"))


def test_the_report_tells_the_teacher_what_to_do(folder, tmp_path):
    marked(folder, report=tmp_path / "report.html")
    page = BeautifulSoup((tmp_path / "report.html").read_text("utf-8"), "html.parser")
    text = " ".join(page.get_text(" ").split())
    by = f"4 students, marked by version {SET.version} of the set"
    assert f"{by}. The class earned 83 % of the marks." in text
    assert "With 4 students, one student moves the class's figures by up to 25 %" in text
    assert (
        "Swapped gram for gram. 3 students, 6 problems. Lesson: Divide by the water content."
        in text
    )
    assert "broken.json : line 1, column 12" in text
    assert len(page.find_all("section", class_="student")) == 5
    ben = next(s for s in page.find_all("section") if "Ben Invented" in s.h3.get_text())
    assert "You swapped gram for gram." in ben.get_text()


def test_the_report_stands_alone_and_a_name_is_only_text(tmp_path):
    evil = "</style><script>alert(1)</script><img src=x onerror=alert(1)>"
    path, out = tmp_path / "answers.csv", tmp_path / "report.html"
    path.write_text(csv_of([(evil, {"salt-check": {"weight": evil}})]), "utf-8")
    marked(path, report=out)
    text = out.read_text("utf-8")
    page = BeautifulSoup(text, "html.parser")
    assert page.find(["script", "img", "link", "iframe"]) is None
    assert not re.search(r"https?://|url\(|@import", text)
    assert page.find("meta", attrs={"http-equiv": "Content-Security-Policy"})["content"].startswith(
        "default-src 'none'"
    )
    assert evil in page.get_text()


def test_says_when_a_file_cannot_be_written(folder, tmp_path, capsys):
    assert main(["mark", str(folder), "--marks", str(tmp_path / "no" / "marks.csv")]) == 1
    assert "cannot be written" in capsys.readouterr().err


def test_marks_and_report_in_the_folder_are_not_read_the_next_time(folder):
    out = {"marks": folder / "marks.csv", "report": folder / "report.html"}
    marked(folder, **out)
    book, students = marked(folder, **out)
    assert (len(students), book.refused) == (5, 2)


def test_an_earlier_table_of_marks_is_no_table_of_answers(folder, capsys):
    """Its columns are headed like answers, and its rows bear the same names."""
    earlier = folder / "marks.csv"
    before, _ = marked(folder, marks=earlier)
    assert main(["mark", str(folder), "--marks", str(folder / "marks-tuesday.csv")]) == 0
    printed = capsys.readouterr()
    assert f"{earlier}: This is a table of marks from an earlier run." in printed.err
    assert f"{before.marks / before.out_of:.0%} of the marks" in printed.out
    earlier.write_text(earlier.read_text("utf-8-sig").replace(",", ";"), "utf-8")
    again, _ = marked(folder, marks=folder / "marks-tuesday.csv")
    assert (again.students, again.marks) == (before.students, before.marks)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [(["nowhere"], "no such file"), (["table.csv"], "Which set is this?"), ([], "Which set")],
)
def test_says_what_to_do_when_it_cannot_begin(arguments, says, tmp_path, capsys):
    (tmp_path / "table.csv").write_text("student\nAda\n", "utf-8")
    (tmp_path / "empty").mkdir()
    paths = [str(tmp_path / name) for name in arguments or ["empty"]]
    assert main(["mark", *paths]) == 1
    assert says in capsys.readouterr().err


# Long work.


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_progress_bar_shows_on_a_terminal_only():
    screen, file = Terminal(), io.StringIO()
    for stream in (screen, file):
        with Progress("Marking", 200, stream) as progress:
            progress.to(50)
    assert " 25%" in screen.getvalue()
    assert screen.getvalue().endswith("\r\x1b[K")
    assert file.getvalue() == ""


def test_progress_reaches_the_whole(folder, tmp_path, monkeypatch):
    shown = []
    monkeypatch.setattr(Progress, "to", lambda self, done: shown.append(done / self._whole))
    marked(folder)
    assert shown == sorted(shown)
    assert shown[-1] == 1.0


def test_memory_does_not_grow_with_the_class(tmp_path):
    """Ten times the students take little more: names of one class, and the caches, which are bounded."""
    one_problem = replace(SET, problems=(SET.problem("salt-check"),))
    peaks = []
    for students in (300, 300, 3_000):
        path = tmp_path / f"{students}.csv"
        rows = "".join(f"student {n},31 g\n" for n in range(students))
        path.write_text(f"Student,salt-check/weight\n{rows}", "utf-8")
        tracemalloc.start()
        book, marks = mark_files(
            Wanted((path,), one_problem, marks=tmp_path / "m.csv", report=tmp_path / "r")
        )
        assert sum(1 for _ in marks) == students
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
        del book, marks
    assert peaks[2] < peaks[1] + 2_000_000


# Nothing stops the run.


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.binary(max_size=300),
    st.sampled_from(["x.csv", "x.tsv", "x.json", "x.txt", "x"]),
    st.sampled_from(
        [b"", b"student,salt-check/weight\n", b"code;student;salt-check\n", b"\xff\xfe", b'{"']
    ),
)
def test_no_hostile_file_stops_the_run(tmp_path, content, name, start):
    (tmp_path / name).write_bytes(start + content)
    (tmp_path / "good.json").write_text(write_handin(SET, "Ada", {}), "utf-8")
    book, students = marked(tmp_path, marks=tmp_path / "m.csv", report=tmp_path / "r.html")
    assert "Ada" in [student.entry.student for student in students]
    assert book.students
    (tmp_path / name).unlink()


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(st.characters(), max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=8,
)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.dictionaries(
        st.sampled_from(["set", "version", "student", "answers", "given", "hints", "marks"]),
        json_values,
    ),
    st.dictionaries(
        st.sampled_from([problem.id for problem in SET.problems]),
        st.dictionaries(st.sampled_from(["water", "liquid", "weight", "x"]), st.text(max_size=9)),
    ),
)
def test_no_hostile_hand_in_stops_the_run(tmp_path, over, answers):
    data = json.loads(write_handin(SET, "Ben", answers)) | over
    (tmp_path / "a.json").write_text(json.dumps(data), "utf-8")
    (tmp_path / "b.json").write_text(write_handin(SET, "Ada", {}), "utf-8")
    book, students = marked(tmp_path, marks=tmp_path / "m.csv", report=tmp_path / "r.html")
    assert "Ada" in [student.entry.student for student in students]
    assert book.students + book.handed_in_twice + book.refused == 2


# Which of two hand-ins counts.


def handed_in(folder: Path, name: str, answers: dict, saved: int = 0) -> None:
    (folder / name).write_text(write_handin(SET, "Ada", answers, saved=saved), "utf-8")


def test_of_two_hand_ins_the_one_saved_last_counts(tmp_path):
    """Whatever the files are called; and the report says when each was saved."""
    handed_in(tmp_path, "a.json", right("Ada"), saved=1_790_000_000)
    handed_in(tmp_path, "b.json", {}, saved=1_780_000_000)
    handed_in(tmp_path, "c.json", {})
    report = tmp_path.parent / f"{tmp_path.name}.html"
    book, students = marked(tmp_path, report=report)
    assert [student.counts for student in students] == [True, False, False]
    assert book.marks == 19
    assert students[1].notes[-1].endswith("a.json, counts.")
    text = BeautifulSoup(report.read_text("utf-8"), "html.parser").get_text()
    assert f"a.json, saved {students[0].entry.when}" in text
    assert students[0].entry.when.startswith("2026-09-2")


@pytest.mark.parametrize("second", ["ada (1).json", "ada(1).json", "ada (10).json"])
def test_without_times_a_copy_counts_after_the_first(second, tmp_path):
    """A space sorts before a point: in plain order the older file would win."""
    handed_in(tmp_path, "ada.json", {})
    handed_in(tmp_path, second, right("Ada"))
    if second == "ada (10).json":
        handed_in(tmp_path, "ada (9).json", {})
    book, _ = marked(tmp_path)
    assert book.marks == 19


def test_a_file_saved_again_comes_after_the_first(tmp_path):
    """As browsers name them; of two hand-ins of a student the last in this order counts."""
    names = ["Ada.json", "Ada (1).json", "Ada (2).json", "Ada (10).json", "Bo.json"]
    for name in reversed(names):
        (tmp_path / name).touch()
    assert [path.name for path in files_of([tmp_path])] == names


@pytest.mark.parametrize(("delimiter", "decimal"), [(";", ","), (",", ".")])
def test_marks_are_written_as_the_classs_own_table(delimiter, decimal, tmp_path):
    """A spreadsheet set to decimal commas parts cells at semicolons."""
    path, out = tmp_path / "answers.csv", tmp_path / "marks.csv"
    path.write_text(csv_of([("Ada", right("Ada"))], delimiter, decimal), "utf-8")
    costly = replace(
        SET, problems=tuple(replace(p, hint_costs=(0.5, 0, 0, 0)) for p in SET.problems)
    )
    problem = SET.problems[0]
    step = draw(SET, problem, "Ben").parts[-1].key
    hinted = write_handin(SET, "Ben", right("Ben"), {problem.id: {step: 1}})
    (tmp_path / "z.json").write_text(hinted, "utf-8")
    list(mark_files(Wanted((path, tmp_path / "z.json"), costly, marks=out))[1])
    row = delimiter.join(["Ben", f"18{decimal}5", "19", ""])
    assert f"\n{row}" in out.read_text("utf-8-sig")
    assert open_table(out).delimiter == delimiter


def test_no_cell_starts_a_formula_at_a_comma_or_a_semicolon():
    for text in ("a,=1+1", "a;=1+1", "a|=1", "a\t@x"):
        assert not re.search(r"[,;|\t][=@]", harmless(text))
        assert unharmed(harmless(text)) == text
