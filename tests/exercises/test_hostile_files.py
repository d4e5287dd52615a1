"""Files that anybody may have written, at the terminal: refused with a message, in bounded work.

Bounded is shown by what is counted (parts of YAML that are read, letters of a row, bytes that are
read), never by a clock.
"""

import csv
import json
import os

import pytest
import yaml
from bs4 import BeautifulSoup
from hypothesis import given
from hypothesis import strategies as st

from calc.own_ingredient import RecordError, from_record
from exercises import cli, collect, handin, problems, setfile, table, untrusted
from exercises.cli import main
from exercises.handin import FORMAT, HandinError, read_handin
from exercises.problems import load, read_set
from exercises.setfile import SetError
from tests.hostile import EVERY, FORMULAS, PATHS, SCRIPTS

HANDIN = {"format": FORMAT, "set": "first-swaps", "version": 1, "student": "Ama", "answers": {}}
SET = """title: {0}
version: 1
problems:
  - id: one
    title: {0}
    story: {0}
    ask: choice
    questions:
      - ask: {0}
        options: [{{text: {0}, right: yes, because: {0}}}, {{text: other}}]
"""
text = st.text(st.characters(codec=None), max_size=60) | st.sampled_from(EVERY)
json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | text,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(text, inner, max_size=3),
    max_leaves=12,
)


# Set files.

BOMBS = {
    "aliases": "a: &a [x,x,x,x]\nb: &b [*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b]\n",
    "merge keys": "a: &a {x: 1}\nb: {<<: *a}",
    "an object": "!!python/object/apply:os.system ['true']",
    "a binary": "title: !!binary R0lGODlhDAAMAIQAAP",
    "open lists": "[" * 190_000,
    "open maps": "{a: " * 40_000,
    "dashes": "- " * 90_000,
    "questions": "? " * 90_000,
    "stairs": "".join(" " * n + "a:\n" for n in range(600)),
    "many keys": "\n".join(f"k{n}: 1" for n in range(17_000)),
    "many problems": "title: a\nversion: 1\nproblems:\n" + "- id: a\n" * 20_000,
    "many documents": "---\na: 1\n" * 20_000,
    "a huge number": "title: a\nversion: " + "9" * 150_000 + "\nproblems: []",
    "a huge title": "title: " + "9" * 150_000 + "\nversion: 1\nproblems: [a]",
    "10 MB": "9" * 10_000_000,
    "no letter": 'title: "\\UFFFFFFFF"',
    "half a letter": 'title: "\\ud800"',
    "nothing": "",
    "a null byte": "title: \0",
    "unknown quotes": "'" * 190_001,
}


@pytest.mark.parametrize("bomb", BOMBS.values(), ids=BOMBS)
def test_a_bomb_of_yaml_is_refused_with_its_place(bomb, monkeypatch):
    read = 0
    plain = yaml.parse

    def counted(*arguments, **more):
        nonlocal read
        for event in plain(*arguments, **more):
            read += 1
            yield event

    monkeypatch.setattr(setfile.yaml, "parse", counted)
    with pytest.raises(SetError) as refused:
        read_set(bomb, "bomb.yml")
    assert read <= setfile.MOST_PARTS + 2
    assert len(refused.value.complaints) <= setfile.MOST_COMPLAINTS
    assert all(each.file == "bomb.yml" and each.line >= 1 for each in refused.value.complaints)
    assert len(str(refused.value)) < 30_000


def test_a_set_of_too_many_problems_is_refused():
    with pytest.raises(SetError, match=f"at most {problems.MOST_PROBLEMS} problems"):
        read_set("title: a\nversion: 1\nproblems:" + "\n- id: a" * 200, "a.yml")


@given(st.text(max_size=300) | st.binary(max_size=300).map(lambda raw: raw.decode("latin-1")))
def test_any_text_is_a_set_or_is_refused(written):
    with pytest.raises(SetError):
        read_set(written, "any.yml")


@given(json_values)
def test_any_structure_is_a_set_or_is_refused(value):
    with pytest.raises(SetError):
        read_set(json.dumps(value), "any.yml")


@given(st.recursive(st.sampled_from(["choice", "order", "milk", *SCRIPTS]), lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["id", "ask", "title", "story", "givens", "questions", "options", "items", "by", "text", "right", "show", "tries", "hint cost"]), inner, max_size=6), max_leaves=20))  # fmt: skip
def test_any_problem_is_one_or_is_refused(value):
    with pytest.raises(SetError):
        read_set(json.dumps({"title": "a", "version": 1, "problems": [value]}), "any.yml")


@pytest.mark.parametrize("bad", ["one\n", "../one", "One", "a" * 81, "<b>", ""])
def test_an_id_is_a_plain_word(bad):
    with pytest.raises(SetError):
        read_set(SET.format('"a"').replace("id: one", f"id: {json.dumps(bad)}"), "a.yml")


# Hand-ins.


@given(json_values)
def test_any_json_is_a_handin_or_is_refused(value):
    with pytest.raises(HandinError):
        read_handin(json.dumps(value))


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


def test_brackets_are_counted_once_each():
    """A pattern that tries again at every quote would take the square of the length."""
    with pytest.raises(json.JSONDecodeError):
        untrusted.read_json('"' + '\\"' * 490_000)
    steps = list(untrusted._STRING_OR_BRACKET.finditer('"' + '\\"' * 490_000))
    assert len(steps) == 1
    assert untrusted._depth('["a\\"[[[", {"b": "]"}]') == 2


# Tables.


@given(st.text(max_size=200) | st.sampled_from(EVERY))
def test_any_table_is_read_or_refused(tmp_path_factory, content):
    file = tmp_path_factory.mktemp("table") / "a.csv"
    file.write_bytes(content.encode("utf-8", "surrogatepass"))
    for found in collect.collect([file], load("first-swaps")):
        assert isinstance(found, collect.Entry | collect.Refusal)


def test_one_row_of_many_lines_does_not_fill_the_memory(tmp_path, monkeypatch):
    monkeypatch.setattr(table, "LONGEST_LINE", 10_000)
    file = tmp_path / "a.csv"
    file.write_text("student,code\n" + '"\n",' * 20_000)
    rows = list(table.open_table(file).rows())
    assert any("far too long" in row.trouble for row in rows)
    assert max(len(row.cells) for row in rows) <= 10_000


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


# Names and paths.


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


@given(json_values)
def test_any_record_is_an_ingredient_or_is_refused(value):
    with pytest.raises(RecordError):
        from_record(value)


@given(st.fixed_dictionaries({"name": text, "water": json_values}, optional={"kind": json_values, "fat": json_values, "allergens": json_values, "ph_low": json_values, "perishable": json_values}))  # fmt: skip
def test_any_ingredient_is_within_100_g_or_is_refused(record):
    try:
        made = from_record(record)
    except RecordError:
        return
    assert 0 <= made.water <= 1
    assert made.name.isprintable()
