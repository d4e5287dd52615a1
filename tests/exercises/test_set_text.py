"""A set's file in any usual letters; what is no text is refused with what to do."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises.set_text import decoded
from exercises.setfile import SetError


@pytest.mark.parametrize(
    ("encoding", "read_as"),
    [
        ("utf-8", "UTF-8"),
        ("utf-8-sig", "UTF-8"),
        ("utf-16", "UTF-16"),
        ("utf-16-le", "UTF-16"),
        ("utf-16-be", "UTF-16"),
        ("cp1252", "Windows-1252"),
        ("mac-roman", "Mac Roman"),
    ],
)
def test_a_file_in_any_usual_encoding_is_read_as_it_was_meant(encoding, read_as):
    text = "title: Müllers Übung – “eins”\n"
    assert decoded(text.encode(encoding), "a.yml") == (text, read_as)


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
        decoded(raw, "homework.docx")
    assert says in str(refused.value)


@given(st.binary(max_size=200))
def test_any_bytes_are_a_text_or_are_refused(raw):
    try:
        text, _ = decoded(raw, "any.yml")
    except SetError:
        return
    assert "\0" not in text
