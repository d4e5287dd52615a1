"""What the desk keeps goes into one file and comes back; a set renamed keeps its numbers."""

import json

import pytest

from docs.parts.desk_shelf import respond
from docs.parts.set_writer import STARTER
from docs.parts.shared.desk_file import FILE, LARGEST_DESK, MOST_SETS, DeskFileError, Kept, read
from docs.parts.shared.fields import FieldErrors
from exercises.draws import draw
from exercises.problems import read_set


@pytest.fixture
def desk(tmp_path):
    for name in ("in", "out"):
        (tmp_path / name).mkdir()
    return tmp_path


def test_everything_goes_into_one_file_and_comes_back(desk):
    sets, settings = {"monday.yml": STARTER}, {"class/list": '"Ada"'}
    asked = {"action": "write", "sets": json.dumps(sets), "settings": json.dumps(settings)}
    respond({**asked, "folder": str(desk)})
    (desk / "out" / FILE).rename(desk / "in" / FILE)
    back = respond({"action": "read", "folder": str(desk)})
    assert (back["sets"], back["settings"]) == (sets, settings)


@pytest.mark.parametrize(
    "raw",
    [b"", b"\xff\xfe", b"[]", b'{"format": "other"}', b'{"format":' + b"[" * 100_000, b" " * (LARGEST_DESK + 2), STARTER.encode()],
    ids=["empty", "no text", "no object", "another", "deep", "large", "a set"],
)  # fmt: skip
def test_a_file_that_is_none_is_refused(raw, desk):
    (desk / "in" / "any.json").write_bytes(raw)
    with pytest.raises(FieldErrors, match=r"file of a desk|cannot be read"):
        respond({"action": "read", "folder": str(desk)})


def test_what_has_another_shape_is_left_out():
    sets = {
        "good.yml": "title: x",
        "": "x",
        "a": 1,
        "b": None,
        "n" * 101: "x",
        "long": "x" * 200_001,
    }
    assert read(json.dumps({"format": "doughwater desk 1", "sets": sets, "settings": [1]})) == Kept(
        {"good.yml": "title: x"}
    )
    many = {f"{n}.yml": "x" for n in range(MOST_SETS + 5)}
    assert len(read(json.dumps({"format": "doughwater desk 1", "sets": many})).sets) == MOST_SETS
    with pytest.raises(DeskFileError):
        read('{"format": "doughwater desk 1", "sets": {"a.yml": ')


@pytest.mark.parametrize("before", ["", "\ufeff", "---\n", "# a note\n"])
def test_a_set_renamed_keeps_every_students_numbers(before):
    file, text = "Monday's set.yml", before + STARTER
    renamed = respond({"action": "rename", "file": file, "text": text, "to": "week 12/a"})
    assert renamed["file"] == "week 12 a.yml"
    assert _numbers(renamed) == _numbers({"file": file, "text": text})
    again = respond({"action": "rename", **_set(renamed), "to": "another.yml"})
    assert again["text"] == renamed["text"]


def test_a_duplicate_has_other_numbers_and_a_free_name():
    taken = json.dumps({"monday.yml": "", "monday-2.yml": ""})
    first = {"file": "monday.yml", "text": STARTER}
    copy = respond({"action": "duplicate", **first, "taken": taken})
    assert copy["file"] == "monday-3.yml"
    assert _numbers(copy) != _numbers(first)


def _set(answer):
    return {"file": answer["file"], "text": answer["text"]}


def _numbers(answer):
    problem_set = read_set(answer["text"], answer["file"])
    students = [f"Student {n}" for n in range(5)]
    return [draw(problem_set, problem_set.problems[0], each).shown for each in students]


def test_a_file_needs_a_name():
    with pytest.raises(FieldErrors):
        respond({"action": "rename", "file": "a.yml", "text": STARTER, "to": " / "})
