"""Untrusted JSON is bounded and checked before it is used."""

import json

import pytest
from hypothesis import given

from exercises import untrusted
from tests.hostile import json_values


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "{" * 100_000, '{"a":' * 50_000, '"' + "\\" * 99_999]
)
def test_refuses_deep_and_broken_json_without_parsing_it(text):
    with pytest.raises(ValueError, match=r"deep|Unterminated|Invalid|Expecting"):
        untrusted.read_json(text)
    assert untrusted.answers(text) == {}


def test_brackets_in_strings_do_not_count():
    assert untrusted.read_json('{"a": "[[[[[[[[[[[[[[[[[[[[ \\" [["}') == {
        "a": '[[[[[[[[[[[[[[[[[[[[ " [['
    }


def test_refuses_what_is_too_long():
    with pytest.raises(ValueError, match="longer than"):
        untrusted.read_json(" " * 11, longest=10)


@given(json_values)
def test_only_well_shaped_answers_come_through(value):
    import json

    for problem in untrusted.answers(json.dumps(value)).values():
        assert all(type(text) is str for text in problem.values())
    for problem in untrusted.counts(json.dumps(value)).values():
        assert all(type(count) is int for count in problem.values())


def test_brackets_are_counted_once_each():
    """A pattern that tries again at every quote would take the square of the length."""
    with pytest.raises(json.JSONDecodeError):
        untrusted.read_json('"' + '\\"' * 490_000)
    steps = list(untrusted._STRING_OR_BRACKET.finditer('"' + '\\"' * 490_000))
    assert len(steps) == 1
    assert untrusted._depth('["a\\"[[[", {"b": "]"}]') == 2


def test_half_of_a_pair_becomes_a_sign_that_a_file_can_hold():
    assert untrusted.well_formed("a\ud83d b") == "a\ufffd b"
    assert untrusted.well_formed("\ud83c\udf5e 500 g à") == "🍞 500 g à"
    kept = untrusted.answers('{"loaf": {"\\ud800": "12 \\udfff"}}')
    assert kept == {"loaf": {"\ufffd": "12 \ufffd"}}
    assert untrusted.texts('["\\ud800"]') == ["\ufffd"]
