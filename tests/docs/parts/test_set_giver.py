"""A set given out from the desk: the same link and package as at the terminal."""

import re
from xml.etree import ElementTree

import pytest

from docs.parts.set_giver import DRAWS, LONG_LINK, respond
from docs.parts.shared.fields import FieldErrors
from exercises import set_link
from exercises.cli import main
from exercises.problems import load, read_set, set_keys, text_of_ours
from exercises.publish.html import write
from tests.exercises.set_texts import EVERY_KIND

SITE = "https://school.example/dough/"
FILE = "monday.yml"
NAMES = "Ada Invented\nZoë Invented\n"
OWN = {"text": "# my note\n" + EVERY_KIND, "file": FILE}


def given(action: str, **fields: str) -> dict:
    return respond({"action": action, "site": SITE} | fields)


def link_in(answer: dict) -> str:
    areas = [each for one in answer["elements"] for each in one.iter("textarea")]
    return next(each.text for each in areas if each.get("id") == "give-link")


def test_the_link_is_the_terminals(tmp_path, capsys):
    (tmp_path / FILE).write_text(OWN["text"], "utf-8")
    code = tmp_path / "code.svg"
    assert main(["link", str(tmp_path / FILE), "--site", SITE, "--qr", str(code)]) == 0
    answer = given("link", **OWN)
    assert link_in(answer) + "\n" == capsys.readouterr().out
    assert answer["svg"] == code.read_text("utf-8")
    assert ElementTree.fromstring(answer["svg"]).tag.endswith("svg")
    assert read_set(answer["file"], "x.yml").key == "monday"
    assert "my note" not in answer["file"]


@pytest.mark.parametrize("key", set_keys())
def test_one_of_ours_is_given_by_the_address_of_its_page(key, capsys):
    answer = given("link", set=key)
    assert link_in(answer) == f"{SITE}practice/{key}/"
    assert answer["svg"]
    main(["link", key])
    assert capsys.readouterr().out == f"practice/{key}/\n"


def test_a_long_link_is_told_and_has_no_code(tmp_path, capsys):
    long = text_of_ours("safe-handling")
    shown = given("link", text=long, file=FILE)
    text = write(*shown["elements"])
    assert len(link_in(shown)) > LONG_LINK
    assert "Some e-mail programs" in text
    assert "too long for a code" in text
    assert not shown["svg"]
    (tmp_path / FILE).write_text(long, "utf-8")
    code = str(tmp_path / "code.svg")
    assert main(["link", str(tmp_path / FILE), "--site", SITE, "--qr", code]) == 1
    assert "too many for a code" in capsys.readouterr().err


def test_a_code_needs_a_whole_address(capsys):
    assert main(["link", "first-swaps", "--qr", "x.svg"]) == 1
    assert "--site" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("fields", "options"),
    [
        ({"draws": "2"}, ["--draws", "2"]),
        ({"draws": DRAWS, "level": "1", "as": "qti3"}, ["--level", "1", "--as", "qti3"]),
        ({"names": NAMES, "answer_only": "yes"}, ["--students", "names.txt", "--answer-only"]),
    ],
)
def test_the_package_is_the_terminals_byte_for_byte(fields, options, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "out").mkdir()
    (tmp_path / "names.txt").write_text(NAMES, "utf-8")
    assert main(["export", "first-swaps", "--out", "terminal.zip", *options]) == 0
    answer = given("package", set="first-swaps", folder=str(tmp_path), **fields)
    [name] = answer["made"]
    assert (tmp_path / "out" / name).read_bytes() == (tmp_path / "terminal.zip").read_bytes()


@pytest.mark.parametrize(
    ("fields", "field"),
    [({"draws": "many"}, "draws"), ({"draws": "0"}, "draws"), ({"draws": "999"}, "draws"),
     ({"draws": "99999999999"}, "draws"), ({"draws": "²"}, "draws"), ({"names": "x" * 5_000}, "names")],
)  # fmt: skip
def test_what_cannot_be_packed_is_told_beside_its_field(fields, field, tmp_path):
    with pytest.raises(FieldErrors) as refused:
        given("package", set="first-swaps", folder=str(tmp_path), **fields)
    assert field in refused.value.messages


def test_a_due_time_is_written_into_the_set_and_out_of_it():
    timed = given("due", due="2030-03-06 18:00 -05:00", **OWN)["text"]
    assert "# my note" in timed
    answer = given("link", text=timed, file=FILE)
    assert answer["due"] == 1_899_068_400
    words = "Wednesday, 6 March 2030, 18:00 (UTC-05:00)"
    assert words in write(*answer["elements"])
    assert given("due", due="", text=timed, file=FILE)["text"] == OWN["text"]
    with pytest.raises(FieldErrors):
        given("due", due="tomorrow", **OWN)


def test_a_set_with_slips_is_not_given_out():
    answer = given("link", text=EVERY_KIND.replace("ask: choice", "ask: chioce"), file=FILE)
    assert re.search(r"Line \d+", write(*answer["elements"]))
    assert "file" not in answer


def test_students_are_told_what_they_need():
    shown = write(*given("link", **OWN)["elements"])
    for words in ("Write your full name", "Save hand-in file", set_link.PAGE):
        assert words in shown
    assert load("first-swaps").title in write(*given("link", set="first-swaps")["elements"])
