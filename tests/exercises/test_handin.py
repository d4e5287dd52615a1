"""A hand-in as text to paste: survives what school systems do to text, refuses what is damaged."""

import html
import json
import tracemalloc
import zlib

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from exercises.cli import main
from exercises.collect import doubts
from exercises.draws import draw
from exercises.handin import (
    END,
    LARGEST_HANDIN,
    START,
    Handin,
    HandinError,
    file_name,
    is_packed,
    new_handin,
    pack,
    read_handin,
    unpack,
    write_handin,
)
from exercises.problems import load, read_set
from tests.exercises.set_texts import EVERY_KIND
from tests.hostile import json_values

# RFC 4648, table 3.
BASE32 = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"


def by_hand(text: str) -> bytes:
    """Base32 as RFC 4648 section 6 describes it, five bits a letter."""
    letters = "".join(text.partition(START)[2].partition(END)[0].split())
    number = 0
    for letter in letters:
        number = number * 32 + BASE32.index(letter)
    whole = len(letters) * 5 // 8
    return (number >> (len(letters) * 5 - whole * 8)).to_bytes(whole)


def packed_bytes(data: bytes) -> str:
    """Bytes in the text form, whatever they hold."""
    number, letters = int.from_bytes(data), -(-len(data) * 8 // 5)
    number <<= letters * 5 - len(data) * 8
    code = "".join(BASE32[number >> 5 * place & 31] for place in reversed(range(letters)))
    return f"{START}\n{code}\n{END}"


@pytest.fixture(scope="module")
def ada():
    problem_set = load("first-swaps")
    answers = {}
    for problem in problem_set.problems:
        working = draw(problem_set, problem, "Ada Invented").working
        answers[problem.id] = {working.answer.key: working.weighed(working.answer.key)}
    return new_handin(problem_set, "Ada Invented", answers, {"yogurt-loaf": {"liquid": 2}})


words = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
filled = words.filter(str.strip)


@given(
    words,
    st.integers(1, 9999),
    words,
    st.dictionaries(words, st.dictionaries(words, filled, min_size=1, max_size=3), max_size=4),
)
@example("s", 1, START + END, {"a": {"b": START}})
def test_what_is_packed_comes_out_again(key, version, student, answers):
    handin = Handin(key, version, student, answers)
    assert unpack(pack(handin)) == handin


def test_begins_with_a_line_to_read_and_is_wrapped(ada):
    lines = pack(ada).splitlines()
    assert lines[0] == "Doughwater hand-in: first-swaps, Ada Invented"
    assert all(len(line) <= 72 for line in lines)
    assert len(pack(ada)) < 1_500


def test_is_base32_of_a_crc_and_a_zlib_stream(ada):
    """RFC 4648 decoded by hand; RFC 1950 streams of this kind start with 78 hex."""
    raw = by_hand(pack(ada))
    assert raw[4] == 0x78
    plain = zlib.decompress(raw[4:])
    assert zlib.crc32(plain) == int.from_bytes(raw[:4])
    assert json.loads(plain)["student"] == "Ada Invented"


@pytest.mark.parametrize(
    "changed",
    [
        str.lower,
        lambda text: text.replace("\n", "\r\n"),
        lambda text: " ".join(text.split("\n")),
        lambda text: "Dear teacher,\n" + text + "\nYours, Ada",
        lambda text: "".join(f"> {line}\n" for line in text.splitlines()),
        lambda text: html.escape(text),
        lambda text: "<p>" + html.escape(text).replace("\n", "<br />&nbsp;") + "</p>",
        lambda text: text.replace("\n", "\u00a0\n\u200b"),
        lambda text: "\ufeff" + text,
    ],
)
def test_survives_what_systems_do_to_pasted_text(changed, ada):
    text = changed(pack(ada).replace(START, "@s").replace(END, "@e"))
    text = text.replace("@s", START).replace("@e", END)
    assert read_handin(text) == ada


def test_survives_markup_around_and_escapes_of_its_own_marks(ada):
    assert is_packed(html.escape(pack(ada)))
    assert unpack(html.escape(pack(ada))) == ada


@pytest.mark.parametrize("lost", [1, 7, 60, 500])
def test_notices_a_part_cut_off(lost, ada):
    text = pack(ada)
    with pytest.raises(HandinError, match=r"runs from|damaged"):
        read_handin(text[: -lost - len(END)])
    with pytest.raises(HandinError, match="damaged"):
        read_handin(text.replace(text.splitlines()[3], ""))


def test_notices_every_changed_letter(ada):
    text = pack(ada)
    body = text.index(START) + len(START) + 1
    for place in range(body, text.index(END) - 3, 29):
        other = "A" if text[place] != "A" else "B"
        if text[place] == "\n":
            continue
        with pytest.raises(HandinError):
            read_handin(text[:place] + other + text[place + 1 :])


def test_a_few_letters_cannot_fill_the_memory():
    stream = zlib.compressobj(9)
    bomb = b"\0\0\0\0" + stream.compress(bytes(50_000_000)) + stream.flush()
    text = packed_bytes(bomb)
    assert len(text) < LARGEST_HANDIN
    tracemalloc.start()
    try:
        with pytest.raises(HandinError, match="far too large"):
            read_handin(text)
        assert tracemalloc.get_traced_memory()[1] < 10_000_000
    finally:
        tracemalloc.stop()


@given(st.text())
def test_no_text_stops_the_reading(text):
    for hostile in (
        text,
        START + text + END,
        "{" + text,
        packed_bytes(text.encode("utf-8", "replace")),
    ):
        with pytest.raises(HandinError):
            read_handin(hostile)


@pytest.mark.parametrize(
    "text",
    [
        '{"format": "doughwater hand-in 1", "set": "s", "version": ' + "9" * 5000 + "}",
        '{"format": "doughwater hand-in 1", "set": "s", "version": 1, "student": "\\ud800", "answers": {}}',
        '{"format": "doughwater hand-in 1", "set": "s", "version": 1, "student": "'
        + "a" * 999
        + '", "answers": {}}',
    ],
)
def test_refuses_endless_numbers_and_names_that_are_no_text(text):
    with pytest.raises(HandinError):
        read_handin(text)


def test_the_terminal_marks_pasted_text_as_it_marks_the_file(ada, tmp_path, capsys):
    path = tmp_path / "ada.txt"
    path.write_text("From: Ada\n\n" + pack(ada), "utf-8")
    assert main(["mark", str(path)]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("Ada Invented: First swaps")
    assert "Marks: 19 of 19" in printed


def test_the_terminal_tells_when_numbers_are_not_the_names_own(ada, tmp_path, capsys):
    other = Handin(ada.set_key, ada.version, "Ben Invented", ada.answers, ada.given)
    path = tmp_path / "ben.txt"
    path.write_text(pack(other), "utf-8")
    main(["mark", str(path)])
    assert "not the ones this name draws" in capsys.readouterr().out


def test_a_hand_in_tells_when_it_was_saved():
    problem_set = load("first-swaps")
    made = new_handin(problem_set, "Ada", {}, saved=1_790_000_000)
    assert unpack(pack(made)).saved == 1_790_000_000
    text = write_handin(problem_set, "Ada", {}, saved=1_790_000_000)
    assert read_handin(text).saved == 1_790_000_000


@pytest.mark.parametrize("saved", ["", ', "saved": "now"', ', "saved": true', ', "saved": 1e400'])
def test_a_hand_in_without_a_time_is_read(saved):
    text = write_handin(load("first-swaps"), "Ada", {}).rstrip().removesuffix("}")
    assert read_handin(f"{text}{saved}}}").saved == 0


@pytest.mark.parametrize(
    ("student", "name"),
    [
        ("Ada Invented", "Ada-Invented-first-swaps.json"),
        ("  Ada  O'Invented ", "Ada-O-Invented-first-swaps.json"),
        ("Åsa Öst", "Åsa-Öst-first-swaps.json"),
        ("A\u030asa", "Åsa-first-swaps.json"),
        ("李 小龙", "李-小龙-first-swaps.json"),
        ("अनिता", "अनिता-first-swaps.json"),
        ("../../etc/passwd", "etc-passwd-first-swaps.json"),
        ('a<b>:"c|d?e*f\\g\x00\u202eh', "a-b-c-d-e-f-g-h-first-swaps.json"),
        ("\ud800", "first-swaps.json"),
        ("…", "first-swaps.json"),
    ],
)
def test_a_file_is_called_after_its_student_and_its_set(student, name):
    assert file_name(load("first-swaps"), student) == name


@given(st.text())
def test_any_name_makes_a_file_name_that_every_system_takes(student):
    name = file_name(load("first-swaps"), student)
    assert len(name.encode()) <= 200
    assert name.endswith("first-swaps.json")
    assert not set(name) & set('/\\:*?"<>| \0')
    assert not name.startswith((".", "-"))


@given(json_values)
def test_any_json_is_a_handin_or_is_refused(value):
    with pytest.raises(HandinError):
        read_handin(json.dumps(value))


def test_a_hand_in_knows_which_text_of_its_set_it_was_made_from():
    old = read_set(EVERY_KIND, "monday.yml")
    notes = read_set(
        "# a note\n" + EVERY_KIND.replace("title: Every", "title:  Every"), "monday.yml"
    )
    new = read_set(EVERY_KIND.replace("Why?", "Why is that?"), "monday.yml")
    handed = new_handin(old, "Ada Invented", {"why": {"question 1": "a"}}, saved=5)
    for text in (write_handin(old, "Ada Invented", handed.answers), pack(handed)):
        back = read_handin(text)
        assert back.content == old.content
        assert not list(doubts(back, notes))
        [told] = doubts(back, new)
        assert "another text of this set" in told
    older = json.loads(write_handin(old, "Ada Invented", {}))
    del older["content"]
    assert not list(doubts(read_handin(json.dumps(older)), new))
    for odd in (7, "<b>", "a" * 65, None):
        assert read_handin(json.dumps(older | {"content": odd})).content == ""
