"""The terminal commands, as a teacher runs them."""

import json
import subprocess
import sys

import pytest

from calc import composition, data_file
from exercises import cli
from exercises.cli import main
from exercises.draws import draw
from exercises.handin import HandinError, new_handin, pack, read_handin, write_handin
from exercises.problems import load

PASTED = pack(new_handin(load("first-swaps"), "Ada Invented", {}))


@pytest.fixture
def handin(tmp_path):
    """A hand-in with every answer right but one."""
    problem_set = load("first-swaps")
    answers = {}
    for problem in problem_set.problems:
        working = draw(problem_set, problem, "Ada Invented").working
        answers[problem.id] = {working.answer.key: working.weighed(working.answer.key)}
    loaf = draw(problem_set, problem_set.problem("yogurt-loaf"), "Ada Invented").working
    answers["yogurt-loaf"] = {"liquid": f"{loaf.values()['water']:.0f} g"}
    path = tmp_path / "ada.json"
    path.write_text(write_handin(problem_set, "Ada Invented", answers), "utf-8")
    return path


def test_marks_a_handin(handin, capsys):
    assert main(["mark", str(handin)]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("Ada Invented: First swaps")
    assert "You swapped gram for gram" in printed
    assert "A loaf for the whole class: 0 of 2" in printed
    assert "Marks: 17 of 19" in printed


def test_marks_are_recomputed_never_read(handin, capsys):
    data = json.loads(handin.read_text("utf-8"))
    data["marks"] = 1000
    data["given"] = {}
    handin.write_text(json.dumps(data), "utf-8")
    main(["mark", str(handin)])
    assert "Marks: 17 of 19" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "This is not a hand-in: it is neither"),
        ("<!doctype html><title>Marks</title>", "This is not a hand-in: it is neither"),
        ("Ada Invented\nBen Invented\n", "This is not a hand-in: it is neither"),
        ("Dear teacher,\nhere is my work.\nAda", "This is not a hand-in: it is neither"),
        (PASTED.partition("\n")[2].partition("\n")[2], "a part of this one is lost"),
        ("\n".join(PASTED.splitlines()[2:4]), "a part of this one is lost"),
        (PASTED.splitlines()[0], "a part of this one is lost"),
        ('{"format": "doughwater hand-in 1", "set"', "line 1, column 41"),
        ("{}", "not a hand-in file"),
        ('{"format": "doughwater hand-in 1"}', "needs “set”"),
        ('{"a":' * 100_000, "nested too deeply"),
    ],
)
def test_says_what_is_wrong_with_a_handin(text, says, tmp_path, capsys):
    path = tmp_path / "broken.json"
    path.write_text(text, "utf-8")
    assert main(["mark", str(path)]) == 1
    printed = capsys.readouterr().err
    assert says in printed
    assert "broken.json" in printed
    with pytest.raises(HandinError):
        read_handin(text)


def test_names_a_set_it_does_not_have(handin, capsys):
    handin.write_text(
        handin.read_text("utf-8").replace('"first-swaps"', '"../../etc/passwd"'), "utf-8"
    )
    assert main(["mark", str(handin)]) == 1
    assert "not one of ours" in capsys.readouterr().err


def test_prints_no_control_characters(handin, capsys):
    handin.write_text(handin.read_text("utf-8").replace("Ada Invented", "Ada\\u001b[31m"), "utf-8")
    main(["mark", str(handin)])
    assert "\x1b" not in capsys.readouterr().out


def test_checks_a_set_and_names_file_line_and_column(tmp_path, capsys):
    path = tmp_path / "mine.yml"
    path.write_text("title: x\nversion: 1\nproblems:\n  - id: a\n    titel: b\n", "utf-8")
    assert main(["check", str(path)]) == 1
    assert f"{path}:5:5: A problem has no part “titel”" in capsys.readouterr().err


def test_shows_a_set_with_its_key(capsys):
    assert main(["show", "exercises/sets/first-swaps.yml", "--student", "Ada", "--key"]) == 0
    printed = capsys.readouterr().out
    assert "1. Water for rolls" in printed
    assert "÷" in printed


@pytest.mark.parametrize("name", ["missing.yml", "."])
def test_says_when_a_file_is_not_there(name, tmp_path, capsys):
    assert main(["check", str(tmp_path / name)]) == 1
    assert str(tmp_path) in capsys.readouterr().err


def test_output_that_nobody_reads_on_is_no_error():
    """“doughwater schema | head -1”: the pipe closes while there is more to print."""
    code = "import sys; from exercises.cli import main; sys.exit(main(['schema']))"
    command = [sys.executable, "-c", code]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as run:
        run.stdout.close()
        assert run.stderr.read() == b""
        assert run.wait() == 0


def test_a_slip_in_the_table_of_ingredients_is_told_before_anything_runs(monkeypatch, capsys):
    row = next(iter(data_file.read_rows("ingredients.csv").values()))
    monkeypatch.setattr(composition, "read_rows", lambda name: {2: row | {"perishable": "ja"}})
    monkeypatch.setattr(composition, "sources", lambda: ("definition", "memory"))
    # Read anew, and kept nowhere: other tests hold rows of the table that is kept.
    monkeypatch.setattr(composition, "table", composition.table.__wrapped__)
    assert main(["check", "exercises/sets/first-swaps.yml"]) == 1
    said = (
        "calc/data/ingredients.csv, line 2, column perishable: “ja” is not known. Write yes or no."
    )
    assert capsys.readouterr().err == said + "\n"


def test_a_hand_in_for_another_set_is_not_marked_as_this_one(handin, capsys):
    handin.write_text(handin.read_text("utf-8").replace('"first-swaps"', '"friday"'), "utf-8")
    assert main(["mark", str(handin), "--set", "first-swaps"]) == 1
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "This is for the set “friday”, not “first-swaps”. Name that set" in printed.err


def test_a_photo_is_told_to_be_no_hand_in(tmp_path, capsys):
    (tmp_path / "photo.jpg").write_bytes(b"\xff\xd8\xff\xe0")
    assert main(["mark", str(tmp_path / "photo.jpg")]) == 1
    assert "photo.jpg: This is a picture, and marking reads no pictures." in capsys.readouterr().err


@pytest.mark.parametrize("command", [["check"], ["show"], ["print", "--count", "1", "--out", "x"]])
def test_a_misspelt_set_is_offered_the_nearest(command, capsys):
    assert main([*command, "frist-swaps"]) == 1
    assert "frist-swaps: there is no such file" in (said := capsys.readouterr().err)
    assert "Did you mean first-swaps" in said


@pytest.mark.parametrize("command", ["check", "show"])
def test_a_set_of_ours_is_known_by_its_name(command, capsys):
    assert main([command, "first-swaps"]) == 0
    assert "problems" in capsys.readouterr().out or command == "show"


def test_a_broken_set_of_ours_is_told(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(cli, "SETS", tmp_path)
    (tmp_path / "first-swaps.yml").write_text("titel: x\n", "utf-8")
    assert main(["show", "first-swaps"]) == 1
    assert "first-swaps.yml:1:1:" in capsys.readouterr().err


def test_a_class_that_nobody_reads_on_is_no_error(handin):
    """“doughwater mark … | head -2”."""
    code = f"import sys; from exercises.cli import main; sys.exit(main(['mark', {str(handin.parent)!r}] + [{str(handin)!r}] * 2_000))"
    with subprocess.Popen(
        [sys.executable, "-c", code], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        run.stdout.close()
        assert run.stderr.read() == b""
        assert run.wait() == 0


@pytest.mark.parametrize(("encoding", "note"), [("utf-16", ""), ("utf-8-sig", ""), ("cp1252", "read as Windows-1252")])  # fmt: skip
def test_checks_a_set_in_any_usual_encoding(encoding, note, tmp_path, capsys):
    path = tmp_path / "own.yml"
    text = (
        "title: Müllers Übung\nversion: 1\nproblems:\n  - {id: a, title: é, story: ü, ask: order, "
        "by: water content, items: [water, egg, sour-cream]}\n"
    )
    path.write_bytes(text.encode(encoding))
    assert main(["check", str(path)]) == 0
    assert note in capsys.readouterr().err
    assert main(["show", str(path)]) == 0
    assert "Müllers Übung" in capsys.readouterr().out


def test_a_picture_is_no_set(tmp_path, capsys):
    path = tmp_path / "own.yml"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0")
    assert main(["check", str(path)]) == 1
    assert "plain text" in capsys.readouterr().err


def test_checks_every_file_though_the_first_is_bad(tmp_path, capsys):
    bad, good = tmp_path / "bad.yml", tmp_path / "good.yml"
    bad.write_text("title: x\n", "utf-8")
    good.write_text(
        "title: t\nversion: 1\nproblems:\n  - {id: a, title: a, story: a, ask: order, "
        "by: water content, items: [water, egg, sour-cream]}\n",
        "utf-8",
    )
    assert main(["check", str(bad), str(good)]) == 1
    printed = capsys.readouterr()
    assert "good.yml: good." in printed.out
    assert "bad.yml:1:1" in printed.err
