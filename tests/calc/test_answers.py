"""What students write, and what it is read as."""

from contextlib import suppress

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calc import units
from calc.answers import read_answer
from calc.units import ReadingError, Style
from calc.written import LONGEST_ANSWER
from tests.hostile import EVERY
from tests.written import ACCEPTED, REFUSED


@pytest.mark.parametrize(("text", "kind", "near", "value"), ACCEPTED)
def test_reads_what_people_write(text, kind, near, value):
    assert read_answer(text, kind, near).reading.value == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(("text", "kind", "says"), REFUSED)
def test_asks_back_what_a_teacher_would(text, kind, says):
    with pytest.raises(ReadingError, match=says):
        read_answer(text, kind, 300.0)


@pytest.mark.parametrize("text", ["128 g", "128,4 g", "74.25", "0,128 kg", "-3 g", "17 5/8 oz"])
def test_a_plain_quantity_is_read_as_the_forms_read_it_and_needs_no_note(text):
    answer = read_answer(text, "mass", 128.0)
    assert answer.reading == units.read(text, "mass")
    assert (answer.note, answer.slip) == ("", "")


@pytest.mark.parametrize(
    ("text", "kind", "near", "note"),
    [
        ("2,500 g", "mass", 2480, "Read as 2500 g, not 2.5 g."),
        ("2.500 g", "mass", 2480, "Read as 2500 g, not 2.5 g."),
        ("2.500 g", "mass", 2.4, "Read as 2.5 g, not 2500 g."),
        ("1.7", "share", 0.017, "Read as 1.7 %, not 170 %."),
        ("0.017", "share", 0.017, "Read as 1.7 %, not 0.017 %."),
        ("0.68", "share", 0.65, "Read as 68 %, not 0.68 %."),
        ("17/25", "share", 0.65, "Read as 68 %."),
        ("68", "share", 0.65, ""),
        ("about 446 g", "mass", 446, "Read as 446 g."),
        ("320/0.94", "mass", 340, "Read as 340.426 g."),
    ],
)
def test_tells_how_a_text_was_read(text, kind, near, note):
    assert read_answer(text, kind, near).note == note


def test_a_reader_of_commas_is_told_in_commas():
    assert read_answer("1,7", "share", 0.017, Style(",")).note == "Read as 1,7 %, not 170 %."


@pytest.mark.parametrize(
    ("text", "kind", "gives"),
    [
        ("720 × 0.62 = 464.4 g", "mass", "Your sum gives 446.4, not 464.4."),
        ("326 / 480 = 0.86", "share", "Your sum gives 0.67917, not 0.86."),
        ("720 × 0.62 = 446 g", "mass", ""),
        ("0.5 kg × 0.62 = 310 g", "mass", ""),
        ("1.2 × 0.62 = 0.744 kg", "mass", ""),
        ("1,200 × 0.62 = 744 g", "mass", ""),
        ("326 ÷ 480 × 100 = 67.9 %", "share", ""),
        ("326 ÷ 480 = 67.9 %", "share", ""),
    ],
)
def test_a_sum_that_does_not_give_its_result_is_told(text, kind, gives):
    slip = read_answer(text, kind, 0.68 if kind == "share" else 446).slip
    assert slip == (f"{gives} The result you wrote is what counts." if gives else "")


def outcome(text, kind):
    """The value a text is read as, or why it is not, in words."""
    try:
        return f"{read_answer(text, kind, 100.0).reading.value}"
    except ReadingError as error:
        return str(error)


@given(st.text(alphabet="0123456789 .,'’/:=≈~±+-−×÷x()%°gkhmin lb", max_size=LONGEST_ANSWER + 5))
@example("0h0’0")
@example("1 h 30 minſ")
@example("2\x00 x 3 = 6")
@example("340/\x1c500 g")
def test_every_text_is_read_or_refused_in_words(text):
    for kind in units.KINDS:
        assert outcome(text, kind)
        # A form's field reads it, or refuses it, too.
        with suppress(ReadingError):
            units.read(text, kind)


@pytest.mark.parametrize("text", EVERY)
def test_a_hostile_text_is_only_text(text):
    assert 0 < len(outcome(text, "mass")) < 300
