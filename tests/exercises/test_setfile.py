"""YAML to entries that remember their place; what would flood the reader is refused."""

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from exercises import setfile
from exercises.problems import read_set
from exercises.setfile import SetError

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


@pytest.mark.parametrize(
    ("encoding", "read_as"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("utf-16-le", "UTF-16"),
        ("utf-16-be", "UTF-16"),
        ("cp1252", "Windows-1252"),
    ],
)
def test_a_file_in_any_usual_encoding_is_read_as_it_was_meant(encoding, read_as):
    text = "title: Müllers Übung – “eins”\n"
    assert setfile.decoded(text.encode(encoding), "a.yml") == (text, read_as)


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"PK\x03\x04\x14\0\x06\0[Content_Types].xml", "a word processor's or a spreadsheet's"),
        (b"{\\rtf1\\ansi title: a", "a word processor's file"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3", "a PDF"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "a picture"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF", "a picture"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an older word processor's"),
        (b"<!DOCTYPE html><title>a</title>", "a web page"),
        (b"\x7fELF\x02\x01\x01\0\0\0\0\0\0\x81", "This is no text"),
    ],
)
def test_a_document_is_refused_with_what_to_do(raw, says):
    with pytest.raises(SetError) as refused:
        setfile.decoded(raw, "homework.docx")
    assert says in str(refused.value)


@given(st.binary(max_size=200))
def test_any_bytes_are_a_text_or_are_refused(raw):
    try:
        text, _ = setfile.decoded(raw, "any.yml")
    except SetError:
        return
    assert "\0" not in text
