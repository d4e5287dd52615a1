"""Expressions in words."""

from calc import units
from calc.expression import Name, Number, summed, words


def test_words_keep_the_brackets_that_matter():
    a, b, c = Name("a"), Name("b"), Name("c")
    say = lambda e: words(e, str, units.write_fraction)  # noqa: E731
    assert say(a - (b - c)) == "a − (b − c)"
    assert say(a / (b * c)) == "a ÷ (b × c)"
    assert say((a + b) * c) == "(a + b) × c"
    assert say(a * b / c) == "a × b ÷ c"
    assert say(Number(1) - a) == "1 − a"


def test_summed_adds_from_left_to_right_and_starts_from_no_nought():
    a, b, c = Name("a"), Name("b"), Name("c")
    assert summed([a, b, c]) == a + b + c
    assert summed([a]) == a
