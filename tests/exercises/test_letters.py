"""Text in any usual encoding is read as it was written; Python's own codecs write it."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises import letters
from exercises.letters import decode, encoding_of

TEXTS = ("Zoë Müller;García;Ángel", "José;31,5 g", "Šárka Škoda", "Søren Ødegård – 5 °C", "O’Brien …", "plain")  # fmt: skip


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])  # fmt: skip
def test_letters_come_back(text, encoding):
    assert decode(text.encode(encoding)).removeprefix("\ufeff") == text


@pytest.mark.parametrize("text", TEXTS[:2])
def test_mac_roman_is_taken_where_only_it_gives_words(text):
    assert encoding_of(io.BytesIO(text.encode("mac-roman"))) == letters.MAC
    assert decode(text.encode("mac-roman")) == text


def test_one_row_of_other_letters_does_not_change_the_rest():
    raw = "Zoë\nJosé\n".encode() + "Müller\n".encode("cp1252")
    assert encoding_of(io.BytesIO(raw)) == letters.UTF8
    assert decode(raw).splitlines()[:2] == ["Zoë", "José"]


@given(st.binary())
def test_any_bytes_are_some_text(raw):
    assert isinstance(decode(raw), str)
    assert encoding_of(io.BytesIO(raw)) in letters.NAMES
