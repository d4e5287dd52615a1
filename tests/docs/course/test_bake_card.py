"""A dough's card says in tables and words what its data hold."""

import pytest

from docs.course.bake_card import build
from docs.course.bakes import published


def text_of(elements):
    return " ".join(" ".join(" ".join(each.itertext()).split()) for each in elements)


def test_a_card_has_weights_method_heat_yield_and_allergens():
    said = text_of(build({"dough": "brioche"}))
    for part in (
        "250 g",
        "Cold night in the fridge",
        "180 °C (356 °F)",
        "2 × loaf of 540 g",
        "egg",
    ):
        assert part in said


def test_a_card_without_a_dough_lists_every_public_formula():
    said = text_of(build({}))
    assert all(source["name"] in said for source in published())


def test_a_dough_that_nobody_knows_is_told_with_those_there_are():
    with pytest.raises(ValueError, match="There are sandwich-loaf, soft-rolls"):
        build({"dough": "bagels"})
