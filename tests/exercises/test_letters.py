"""Text in any usual encoding is read as it was written; Python's own codecs write it."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises import letters
from exercises.letters import decode, encoding_of

FREE = (0x81, 0x8D, 0x8F, 0x90, 0x9D)
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


@pytest.mark.parametrize(
    "name", ["Tāne Eggtimer", "Łukasz", "Sofía", "李明", "Ada", "D’Arcy – “B”"]
)
def test_letters_that_a_program_read_wrongly_are_put_right(name):
    assert letters.put_right(name) == name
    assert letters.put_right(name.encode("utf-8-sig").decode("latin-1")) == name
    # Windows-1252 leaves five bytes free: programs put Latin-1's signs there, or private ones.
    for free in (0, 0xF100):
        read = "".join(
            bytes([byte]).decode("cp1252") if byte not in FREE else chr(free + byte)
            for byte in name.encode()
        )
        assert letters.put_right(read) == name


def test_a_byte_order_mark_too_many_is_no_letter():
    assert letters.put_right("\ufeffcode") == "code"


@given(st.text(st.characters(codec="latin-1"), max_size=8))
def test_no_name_of_western_letters_is_changed_unless_it_is_utf_8(name):
    changed = letters.put_right(name)
    assert changed == name or len(changed) < len(name)
