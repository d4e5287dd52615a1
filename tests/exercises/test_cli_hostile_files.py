"""Untrusted files at the terminal: refused with a message, in bounded work.

Bounded is shown by what is counted (parts of YAML that are read, letters of a row, bytes that are
read), never by a clock.
"""

import csv
import json
import os

import pytest
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from exercises import cli, handin, setfile
from exercises.cli import main
from exercises.handin import FORMAT
from exercises.problems import load
from tests.hostile import EVERY, FORMULAS, PATHS, json_values

HANDIN = {"format": FORMAT, "set": "first-swaps", "version": 1, "student": "Ama", "answers": {}}


@pytest.mark.slow
@given(st.fixed_dictionaries({}, optional=dict.fromkeys([*HANDIN, "given", "hints"], json_values)))
def test_any_changed_handin_is_marked_or_is_refused(tmp_path_factory, changes):
    file = tmp_path_factory.mktemp("one") / "one.json"
    file.write_text(json.dumps(HANDIN | changes), "utf-8")
    report, marks = file.with_suffix(".html"), file.with_suffix(".csv")
    assert main(["mark", str(file)]) in (0, 1)
    assert main(["mark", str(file), "--set", "first-swaps", "--report", str(report), "--marks", str(marks)]) in (0, 1)  # fmt: skip
    assert_only_text(report.read_text("utf-8"))
    assert_no_formula(marks)


def assert_only_text(html):
    """A page that stands alone holds no script, no handler, and nothing to load."""
    soup = BeautifulSoup(html, "html.parser")
    assert not soup.find_all(["script", "img", "svg", "iframe", "object", "embed", "base", "form", "input", "link", "template"])  # fmt: skip
    assert len(soup.find_all("meta")) == 3
    for tag in soup.find_all(True):
        assert not [name for name in tag.attrs if name.lower().startswith("on") or name == "style"]
        assert not tag.get("href") or tag["href"].startswith("#")


def assert_no_formula(path):
    """CWE-1236: also where a spreadsheet parts cells at semicolons or tabs."""
    content = path.read_text("utf-8-sig")
    for delimiter in ",;\t":
        for row in csv.reader(content.splitlines(True), delimiter=delimiter):
            for cell in row:
                assert not cell.startswith(tuple("=+@\t\r\n＝＋－＠")), (delimiter, cell)
                assert not cell.startswith("-") or cell[1:].replace(".", "").isdigit(), cell


@pytest.mark.parametrize(
    "digits", ["9" * 900_000, "1," * 400_000, "." * 900_000, "1e" + "9" * 800_000]
)
def test_an_endless_answer_is_not_a_number(digits, tmp_path, capsys):
    file = tmp_path / "one.json"
    file.write_text(
        json.dumps(HANDIN | {"answers": {load("first-swaps").problems[0].id: {"liquid": digits}}})
    )
    assert main(["mark", str(file)]) == 0
    assert len(capsys.readouterr().out) < 20_000


@pytest.mark.parametrize(
    "raw",
    [
        "9" * 10_000_000, "[" * 900_000, '"' + '\\"' * 450_000, '"\\' * 450_000, '{"a":' * 150_000,
        json.dumps(HANDIN).replace('"version": 1', '"version": ' + "9" * 100_000), "DW1<<" * 180_000,
        "DW1<<" + "&aaaaaaaa" * 90_000 + ">>DW1", "",
    ],
)  # fmt: skip
def test_a_file_that_floods_is_refused(raw, tmp_path, capsys):
    file = tmp_path / "flood.json"
    file.write_text(raw)
    assert main(["mark", str(file)]) == 1
    assert 10 < len(capsys.readouterr().err) < 500


@pytest.mark.parametrize("name", FORMULAS)
def test_no_table_of_ours_runs_a_formula(name, tmp_path):
    hand_in = tmp_path / "one.json"
    hand_in.write_text(json.dumps(HANDIN | {"student": name}))
    marks = tmp_path / "marks.csv"
    main(["mark", str(hand_in), "--set", "first-swaps", "--marks", str(marks)])
    assert_no_formula(marks)
    shown = " ".join(name.split())
    if shown and shown.isprintable():
        names = tmp_path / "names.txt"
        names.write_text(shown)
        from exercises.codes import code_of
        from exercises.paper import write_template
        from exercises.publish.worksheet import Sheet

        first = load("first-swaps")
        write_template(
            first, [Sheet(shown, shown, code_of(first, shown))], tmp_path / "answers.csv"
        )
        assert_no_formula(tmp_path / "answers.csv")


@pytest.mark.parametrize("name", EVERY)
def test_a_name_is_text_in_report_and_worksheet(name, tmp_path):
    answers = {load("first-swaps").problems[0].id: {"liquid": name, name: name}, name: {name: name}}
    hand_in = tmp_path / "one.json"
    hand_in.write_text(json.dumps(HANDIN | {"student": name, "answers": answers}))
    report = tmp_path / "report.html"
    before = set(os.listdir(tmp_path))
    main(["mark", str(hand_in), "--set", "first-swaps", "--report", str(report)])
    assert_only_text(report.read_text("utf-8"))
    assert set(os.listdir(tmp_path)) == before | {"report.html"}


@pytest.mark.parametrize("name", PATHS)
def test_what_a_file_says_names_no_output(name, tmp_path, monkeypatch, capsys):
    """Set, student and problem names of a hand-in never become the name of a file."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "one.json").write_text(json.dumps(HANDIN | {"set": name, "student": name}))
    assert main(["mark", "one.json"]) == 1
    assert main(["mark", "one.json", "--set", "first-swaps"]) == 1
    (tmp_path / "one.json").write_text(json.dumps(HANDIN | {"student": name}))
    assert main(["mark", "one.json"]) == 0
    assert os.listdir(tmp_path) == ["one.json"]
    assert "Traceback" not in capsys.readouterr().err


def test_links_in_a_folder_of_handins_lead_nowhere(tmp_path, capsys):
    """CWE-59. A hand-in, a table and a folder outside, a device, and a link to itself."""
    outside, folder = tmp_path / "outside", tmp_path / "hand-ins"
    outside.mkdir()
    folder.mkdir()
    (outside / "secret.json").write_text(json.dumps(HANDIN | {"student": "Outside"}))
    (outside / "secret.csv").write_text("student,code\nOutside,\n")
    (folder / "ama.json").write_text(json.dumps(HANDIN))
    for name, target in {
        "a.json": outside / "secret.json", "b.csv": outside / "secret.csv", "c": outside,
        "d.json": "/dev/zero", "e.json": folder / "e.json", "f.json": "../outside/secret.json",
    }.items():  # fmt: skip
        (folder / name).symlink_to(target)
    report = tmp_path / "report.html"
    assert main(["mark", str(folder), "--set", "first-swaps", "--report", str(report)]) == 0
    printed = capsys.readouterr()
    assert "Ama: 0 of" in printed.out
    assert "Outside" not in printed.out + report.read_text()
    assert printed.err.count("link to another place") == 5


def test_an_endless_file_is_read_only_so_far(monkeypatch, tmp_path, capsys):
    for command in (["check"], ["show"], ["mark"]):
        assert main([*command, "/dev/zero"]) == 1
    assert "far too large" in capsys.readouterr().err
    assert 4 * max(handin.LARGEST_HANDIN, setfile.LARGEST_SET) <= cli.LARGEST_FILE
