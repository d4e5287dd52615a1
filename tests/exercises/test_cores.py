"""Marking on several cores: the same bytes as on one, and its errors told as there."""

import json
import os
import pickle
import random
import shutil
import zipfile

import pytest

from exercises import cores
from exercises.changes import read_changes
from exercises.classroom import Wanted, mark_files
from exercises.cli import main
from exercises.collect import files_of, sets_of
from exercises.cores import Job, Piece, in_pieces, mark_on, sets_on
from exercises.demo import DEMO_SET, HAND_INS, write_hand_ins
from exercises.gradebook import Names
from exercises.handin import write_handin
from exercises.problems import load
from exercises.roster import Roster
from tests.exercises.invented_class import KEY, SET, csv_of, gram_for_gram, right, whole_dough


@pytest.fixture(autouse=True)
def _few_files(monkeypatch):
    """A class of some ten is many, and goes in several pieces."""
    monkeypatch.setattr(cores, "WORTH_IT", 1)
    monkeypatch.setattr(cores, "TOGETHER", 3)


@pytest.fixture
def mixed(tmp_path):
    """All that may come: hand-ins, one who handed in again, a table and a zip between them, what is no hand-in."""
    folder = tmp_path / "came"
    folder.mkdir()
    chance = random.Random("a class")
    for number in range(14):
        name = f"Student {number % 12}"
        work = chance.choice((right, gram_for_gram, whole_dough))(name)
        (folder / f"{number:02}.json").write_text(write_handin(SET, name, work), "utf-8")
    (folder / "03b.csv").write_text(
        csv_of([("In the table", right("In the table")), ("Student 4", {})]), "utf-8"
    )
    (folder / "05b.txt").write_text("no hand-in", "utf-8")
    (folder / "06b.json").write_text(json.dumps({"set": KEY}), "utf-8")
    with zipfile.ZipFile(folder / "07b.zip", "w") as packed:
        packed.writestr("zipped.json", write_handin(SET, "Zipped", right("Zipped")))
    return folder


def made(folder, marker, where):
    """All that a marking gives: the files' bytes, what is told of each student, the class's sums."""
    roster = Roster.of(["Student 9", "Nobody", "Student 2", "Zipped"])
    changes = read_changes(
        "student,problem,step,marks,reason\nStudent 3,water-for-rolls,,0.5,neat\n"
    )
    out = folder.parent / where
    wanted = Wanted(
        (folder,),
        SET,
        roster=roster,
        changes=changes,
        marks=out / "marks.csv",
        report=out / "report.html",
        feedback=out / "pages",
        within=folder.parent,
    )
    out.mkdir()
    told = []
    book, students = marker(wanted, lambda done, whole, words: told.append(done / whole))
    earned = [(s.entry.student, s.marks, s.out_of, s.counts, s.entry.notes) for s in students]
    assert told == sorted(told)
    files = {p.relative_to(out): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}
    return files, earned, book


def test_two_cores_write_the_same_bytes_as_one(mixed):
    files, earned, book = made(mixed, mark_files, "one")
    for number in (2, 3):
        again = made(mixed, lambda *asked, n=number: mark_on(n, *asked), f"on-{number}")
        assert again[0] == files
        assert again[1] == earned
        assert again[2] == book
    assert len(files) > 12
    assert book.refused == 3
    assert book.handed_in_twice == 2


def test_the_sets_that_hand_ins_are_for_are_counted_alike_on_two_cores(mixed):
    files = files_of([mixed])
    assert sets_on(2, files) == sets_on(1, files) == sets_of(files)
    assert sets_on(2, files)[SET.key] > 1


def test_the_demo_class_is_marked_alike_on_any_number_of_cores(tmp_path, capsys):
    write_hand_ins(load(DEMO_SET), tmp_path)
    said = {}
    for number in ("1", "2"):
        shutil.rmtree(tmp_path / "out", ignore_errors=True)
        (tmp_path / "out").mkdir()
        files = ["--marks", "out/marks.csv", "--report", "out/report.html"]
        asked = ["mark", str(tmp_path / HAND_INS), "--cores", number]
        assert main([*asked, *(str(tmp_path / f) if "/" in f else f for f in files)]) == 0
        said[number] = capsys.readouterr().out, (tmp_path / "out" / "report.html").read_bytes()
    assert said["1"] == said["2"]


def test_a_callback_that_raises_stops_all_processes_and_nothing_is_written(mixed, tmp_path):
    def stop(done, whole, words):
        if done > whole / 2:
            raise InterruptedError

    wanted = Wanted((mixed,), SET, marks=tmp_path / "marks.csv")
    with pytest.raises(InterruptedError):
        list(mark_on(2, wanted, stop)[1])
    assert not wanted.marks.exists()


def test_a_file_that_cannot_be_written_is_told_as_on_one_core(mixed, tmp_path):
    told = []
    for marker in (mark_files, lambda wanted: mark_on(2, wanted)):
        with pytest.raises(OSError, match=r"missing.marks\.csv") as error:
            list(marker(Wanted((mixed,), SET, marks=tmp_path / "missing" / "marks.csv"))[1])
        told.append(str(error.value))
    assert told[0] == told[1]


def test_a_process_that_the_computer_ends_is_told(mixed, monkeypatch, capsys):
    monkeypatch.setattr(Job, "see", lambda job, piece: os._exit(1))
    assert main(["mark", str(mixed), "--set", KEY, "--cores", "2"]) == 1
    assert "perhaps its memory ran out" in capsys.readouterr().err


def test_another_process_can_be_told_what_is_wanted(mixed, tmp_path):
    """Where processes share no memory it goes as bytes, and they mark alike."""
    wanted = Wanted((mixed,), SET, roster=Roster.of(["Nobody"]), marks=tmp_path / "marks.csv")
    job, piece = Job(wanted, str(tmp_path / "names")), next(in_pieces(wanted.files))
    with Names(job.store) as names:
        for number, one in enumerate(job.see(piece)):
            names.see(number, one)
        names.know()
    marked = list(job.mark(piece))
    assert len(marked) == 3
    assert list(pickle.loads(pickle.dumps(Job(wanted, job.store))).mark(piece)) == marked


def test_files_keep_their_order_and_what_may_hold_a_class_is_alone(mixed):
    files = Wanted((mixed,), SET).files
    pieces = list(in_pieces(files))
    assert [file for piece in pieces for file in piece.files] == files
    assert [p.files[0].name for p in pieces if not p.is_small] == ["03b.csv", "07b.zip"]
    assert all(len(piece.files) <= 3 for piece in pieces)
    assert pieces[0] == Piece(tuple(files[:3]), True)
