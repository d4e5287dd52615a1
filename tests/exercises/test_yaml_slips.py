"""What YAML cannot read, told as what a teacher did."""

import pytest

from exercises.problems import read_set
from exercises.setfile import SetError
from tests.exercises.set_texts import EVERY_KIND, GOOD

SLIPS = [
    ("title: One loaf", "title: 'Mo's loaf'", 6, 15, "The apostrophe ends the quotes. Put double"),
    ("title: My set", "title: 'A week's sets'", 2, 15, "The apostrophe ends the quotes. Put double"),
    ("title: One loaf", 'title: "One" loaf', 6, 16, "The quotes end before the text does"),
    ("ask: new liquid", "ask new liquid", 8, 8, "A colon is missing: “ask: new liquid”."),
    ("version: 1", "version 1", 3, 8, "A colon is missing: “version: 1”."),
    ("    ask", "\u00a0   ask", 8, 1, "(no-break space). Type plain spaces."),
    ("    title: One", "  \u3000 title: One", 6, 3, "(ideographic space). Type plain"),
    ("title: One", "title:\u00a0One", 6, 11, "(no-break space). Type plain"),
    ("title: One", "title：One", 6, 10, "looks like a colon and is another sign"),
    ("title: One", "ti\u200btle: One", 6, 5, "A sign that cannot be seen is in"),
    ("  - id", "  – id", 5, 3, "starts with a hyphen (-), not with “–”"),
    ("  - id", "  • id", 5, 3, "starts with a hyphen (-), not with “•”"),
    ("title: One loaf", "title: Loaf #1 of 2", 6, 17, 'put the whole in quotes: "Loaf #1 of 2".'),
    ("title: One loaf", "title: #1", 6, 12, "If it is a note, write a space after the #."),
    ("# A set", "{\\rtf1\\ansi # A set", 1, 1, "a word processor's file"),
    ("# A set", "<!DOCTYPE html>", 1, 1, "This is a web page, not plain text"),
]  # fmt: skip


@pytest.mark.parametrize(("good", "bad", "line", "column", "says"), SLIPS)
def test_says_what_was_done_and_where(good, bad, line, column, says):
    assert good in GOOD
    with pytest.raises(SetError) as caught:
        read_set(GOOD.replace(good, bad, 1), "mine.yml")
    (only,) = caught.value.complaints
    assert (only.line, only.column) == (line, column)
    assert says in only.message


SLIPS_IN_BRACES = [
    ("because: Milk is", "because: Wrong: milk is", "A colon inside a sentence needs quotes"),
    ("because: Milk is", "because: Why? Milk is", "A question mark within braces"),
    (
        "because: Milk is",
        "because: Well, milk is",
        "The comma before “milk is not all water.” ends “because”",
    ),
    ("right: yes, because", "right: yes because", "A comma is missing before “because”"),
]


@pytest.mark.parametrize(("good", "bad", "says"), SLIPS_IN_BRACES)
def test_says_what_a_slip_within_braces_is(good, bad, says):
    assert good in EVERY_KIND
    with pytest.raises(SetError) as caught:
        read_set(EVERY_KIND.replace(good, bad, 1), "every.yml")
    (only,) = caught.value.complaints
    assert says in only.message
