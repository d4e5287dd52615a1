"""No cell of a table that we write is run by a spreadsheet, and what was written comes back."""

import re

from hypothesis import assume, given
from hypothesis import strategies as st

from exercises.cells import harmless, unharmed


@given(st.text())
def test_harmless_text_comes_back(text):
    assume(not text.startswith("'"))
    assert unharmed(harmless(text)) == text
    assert not harmless(text).startswith(tuple("=+-@\t\r\n"))


def test_no_cell_starts_a_formula_at_a_comma_or_a_semicolon():
    for text in ("a,=1+1", "a;=1+1", "a|=1", "a\t@x"):
        assert not re.search(r"[,;|\t][=@]", harmless(text))
        assert unharmed(harmless(text)) == text
