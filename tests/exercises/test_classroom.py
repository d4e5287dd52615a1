"""Marking a class from files to files: what comes in is marked, and nothing stops the run."""

import json
import tracemalloc
from dataclasses import replace
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from exercises import sources
from exercises.classroom import Wanted, mark_files
from exercises.cli import main
from exercises.handin import write_handin
from tests.exercises.invented_class import SET, csv_of, gram_for_gram, marked, right
from tests.hostile import json_values


def test_marks_a_folder_and_goes_on_past_broken_files(hand_ins):
    book, students = marked(hand_ins)
    assert [(s.entry.student, s.marks, s.counts) for s in students] == [
        ("Ada Invented", 19, False),
        ("Ben Invented", 15, True),
        ("Cy Invented", 15, True),
        ("Di Invented", 18, True),
        ("ada INVENTED", 15, True),
    ]
    assert {Path(one.place).name: one.reason.split(":")[0] for one in book.refusals} == {
        "broken.json": "line 1, column 12",
        "photo.jpg": sources.PICTURE,
    }
    assert (book.students, book.handed_in_twice, book.marks) == (4, 1, 63)


def test_marks_are_those_of_the_single_hand_in(hand_ins, capsys):
    _, students = marked(hand_ins)
    for student in students:
        main(["mark", student.entry.place])
        assert f"Marks: {student.marks} of {student.out_of}" in capsys.readouterr().out


def test_a_row_without_answers_counts_for_nobody(hand_ins, capsys):
    """A blank sheet's row must not take the place of a hand-in, nor pull the class down."""
    before, _ = marked(hand_ins)
    empty = csv_of([("Ada Invented", {}), ("Eve Absent", {"salt-check": {"weight": "  "}})])
    (hand_ins / "answers.csv").write_text(empty, "utf-8")
    (hand_ins / "zz.json").write_text(write_handin(SET, "Fay Guest", right("Fay Guest")), "utf-8")
    names = hand_ins.parent / "names.txt"
    names.write_text("ada invented\nBen Invented\nCy Invented\nDi Invented\nEve Absent\n", "utf-8")
    report = hand_ins.parent / "report.html"
    assert main(["mark", str(hand_ins), "--students", str(names), "--report", str(report)]) == 0
    printed = capsys.readouterr()
    assert f"{before.students + 1} marked" in printed.out
    assert "Missing: Eve Absent\nNot on the list: Fay Guest\n" in printed.out
    assert "row 3: “Eve Absent” has no answers: absent?" in printed.err
    text = BeautifulSoup(report.read_text("utf-8"), "html.parser").get_text()
    assert "Missing: Eve Absent." in text
    assert "Not on the list of names: Fay Guest." in text


def test_a_list_of_names_that_cannot_be_read_is_told(hand_ins, tmp_path, capsys):
    (tmp_path / "names.txt").write_text("\n", "utf-8")
    assert main(["mark", str(hand_ins), "--students", str(tmp_path / "names.txt")]) == 1
    assert "names.txt: there is no name in it" in capsys.readouterr().err


def test_what_other_levels_ask_is_no_doubt(hand_ins, capsys):
    level = SET.problems[0].level
    others = [problem for problem in SET.problems if problem.level != level]
    assert others
    assert main(["mark", str(hand_ins / "1.json"), "--level", str(level)]) == 0
    assert "not a problem of this set" not in capsys.readouterr().out


def test_says_when_a_file_cannot_be_written(hand_ins, tmp_path, capsys):
    assert main(["mark", str(hand_ins), "--marks", str(tmp_path / "no" / "marks.csv")]) == 1
    assert "cannot be written" in capsys.readouterr().err


def test_marks_and_report_in_the_folder_are_not_read_the_next_time(hand_ins):
    out = {"marks": hand_ins / "marks.csv", "report": hand_ins / "report.html"}
    marked(hand_ins, **out)
    book, students = marked(hand_ins, **out)
    assert (len(students), book.refused) == (5, 2)


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


def test_the_headings_of_a_table_say_which_set_it_is(tmp_path, capsys):
    path = tmp_path / "answers.csv"
    path.write_text(csv_of([("Ben", gram_for_gram("Ben"))]), "utf-8")
    assert main(["mark", str(path)]) == 0
    assert "Ben: 15 of 19" in capsys.readouterr().out


@pytest.mark.slow
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
