"""Expressions in words."""

from calc import units
from calc.expression import Name, Number, words


def test_words_keep_the_brackets_that_matter():
    a, b, c = Name("a"), Name("b"), Name("c")
    say = lambda e: words(e, str, units.write_fraction)  # noqa: E731
    assert say(a - (b - c)) == "a − (b − c)"
    assert say(a / (b * c)) == "a ÷ (b × c)"
    assert say((a + b) * c) == "(a + b) × c"
    assert say(a * b / c) == "a × b ÷ c"
    assert say(Number(1) - a) == "1 − a"
