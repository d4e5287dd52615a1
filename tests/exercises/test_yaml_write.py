"""Data written as YAML and read back; the reader is PyYAML, which is not ours."""

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from exercises.yaml_write import block, inline, item, scalar, written
from tests.hostile import EVERY

# What JSON from the page can hold, but for halves of letters, which UTF-8 has none of.
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=40) | st.sampled_from(EVERY)
lines = st.lists(texts.map(lambda text: text.replace("\n", " ")), max_size=5).map("\n".join)
data = st.recursive(
    texts | lines,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=10,
)


def read(text):
    return yaml.load(text, Loader=yaml.BaseLoader)


@given(texts, st.sampled_from(["", "'", '"']))
@example("yes: no", "")
@example("a #b", "")
@example("\x85\u2028\ufeff\x00\U0010ffff", "'")
def test_a_text_on_one_line_is_read_back(text, quotes):
    assert read(f"a: {scalar(text, quotes=quotes)}\nb: c") == {"a": text, "b": "c"}
    assert read(f"[{scalar(text, flow=True, quotes=quotes)}, b]") == [text, "b"]


@given(data)
def test_any_data_is_read_back(value):
    assert read(f"a: {inline(value)}\n") == {"a": value}
    made = written(value, 0)
    assert read("\n".join([f"a: {made.head}", *made.body, "b: c"])) == {"a": value, "b": "c"}
    assert read("\n".join(["a:", *item(value, 2), "b: c"])) == {"a": [value], "b": "c"}


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ({"title": "One loaf"}, "title: One loaf"),
        ({"title": "Swaps: first"}, 'title: "Swaps: first"'),
        ({"flour": ["400 g", "500 g"]}, "flour: [400 g, 500 g]"),
        ({"liquid": ["goat yogurt, 86 % water"]}, 'liquid: ["goat yogurt, 86 % water"]'),
        ({"flour": {"from": "4 g", "to": "8 g"}}, "flour: {from: 4 g, to: 8 g}"),
        ({"story": "One.\nTwo.\n"}, "story: |\n  One.\n  Two."),
        ({"givens": {"a": ["b"]}}, "givens:\n  a: [b]"),
        ({"questions": [{"ask": "Why?", "options": ["a"]}]}, "questions:\n  - ask: Why?\n    options: [a]"),
    ],
)  # fmt: skip
def test_it_looks_as_a_teacher_would_write_it(value, text):
    assert "\n".join(block(value, 0)) == text
