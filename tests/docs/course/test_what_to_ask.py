"""The page on what a set may ask for."""

from calc.meanings import FLOUR_KIND
from docs.course.what_to_ask import allowed


def test_the_list_of_givens_says_flour_in_a_teachers_words():
    assert allowed(FLOUR_KIND) == "a flour"
