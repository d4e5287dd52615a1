"""One thing changed in a set's text, and the rest as it was written."""

import re
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exercises import problems, set_edit
from exercises.problems import read_set
from exercises.set_edit import (
    EditError,
    duplicate,
    entries,
    insert,
    move,
    put,
    remove,
    slug,
    take_in,
)
from tests.exercises.set_texts import EVERY_KIND, GOOD, POOL
from tests.exercises.test_yaml_write import texts

# Every way of writing that a set may have, each with notes around it.
ODD = """\
# n1
title: 'Monday''s set'   # n2
version: 1
# n3
about: >-
  Folded over
  two lines.

problems:
# n4
- id: one # n5
  title: One
  # n6
  level: 1
  story: | # n7
    A story with # no note,
    and two lines.

  ask: new liquid
  givens: # n8
    # n9
    flour: {from: 400 g, to: 600 g, # n10
            step: 50 g}
    hydration:
      - 62 %   # n11
      # n12
      - 65 %
    liquid: [buttermilk, # n13, with a comma
             "thick yogurt, 74 % water",]  # n14
  # n15

# n16

# n17
- {id: two, title: Two, ask: order, by: water content, story: Which one, items: [milk, egg, water]}
- level: 2
  # n18
  id: three
  title: "Three" # n19
  ask: choice
  story:
    On the
    next lines.
  questions:
  - ask: Why?
    options:
    - {text: it is, right: yes}   # n20
    - text: it is not
      because:   # n21
# n22
"""
FLOW = '{"title": "All in one", "version": 1, "problems": [{"id": "a", "title": "A", "ask": "order", "by": "water content", "story": "Which?", "items": ["milk", "egg", "water"]}, {"id": "b"}]}\n'
TEXTS = {
    "odd": ODD,
    "flow": FLOW,
    "good": GOOD,
    "every": EVERY_KIND,
    "pool": POOL,
    "ours": problems.text_of_ours("first-swaps"),
    "lines of Windows": ODD.replace("\n", "\r\n"),
    "no end": GOOD.rstrip("\n"),
}


def notes(text):
    return re.findall(r"# n\d+", text)


def paths(entry):
    """The path of every value of a text, but of the whole."""
    inside = entry.value
    children = inside.values() if isinstance(inside, dict) else inside if entry.text == "" else ()
    for child in children:
        yield child.path
        yield from paths(child)


# A text is read once, however often a test asks what is in it.
read = cache(entries)


def plain(text):
    return read(text).plain


def at(data, path):
    for step in path:
        data = data[step]
    return data


def without(data, path):
    """The data with nothing at a path, to compare the rest of it."""
    if len(path) == 1 and isinstance(data, dict):
        return {name: one for name, one in data.items() if name != path[0]}
    inside = without(data[path[0]], path[1:]) if len(path) > 1 else None
    if isinstance(data, dict):
        return data | {path[0]: inside}
    return [inside if n == path[0] else one for n, one in enumerate(data)]


def any_place(text):
    return st.sampled_from(list(paths(read(text))))


# Ours are long, and take long to read again and again.
any_text = st.sampled_from([name for name in TEXTS if name != "ours"])
values = (
    texts
    | st.lists(texts, min_size=1, max_size=4)
    | st.fixed_dictionaries({"from": texts, "to": texts, "step": texts})
    | st.text("ab \n#:", max_size=20)
)


@settings(max_examples=60)
@given(st.data(), any_text, values)
def test_a_value_is_changed_and_nothing_else(data, name, value):
    text = set_edit._ended(TEXTS[name])
    path = data.draw(any_place(text))
    made = put(text, path, value)
    assert at(plain(made), path) == value
    assert without(plain(made), path) == without(plain(text), path)
    if not isinstance(at(plain(text), path), dict | list):
        assert notes(made) == notes(text)


@settings(max_examples=40)
@given(st.data(), any_text, texts)
def test_a_short_text_put_back_leaves_the_very_same_signs(data, name, value):
    text = set_edit._ended(TEXTS[name])
    path = data.draw(any_place(text))
    before = at(plain(text), path)
    shown = set_edit._node(text, path)
    if (
        not isinstance(before, str)
        or shown.style == ">"
        or shown.start_mark.line != shown.end_mark.line
    ):
        return
    assert plain(put(put(text, path, value), path, before)) == plain(text)
    if before and before[0].isalnum() and value[:1].isalnum() and shown.style is None:
        assert put(put(text, path, "x"), path, before) == text


@settings(max_examples=60)
@given(st.data(), any_text)
def test_what_is_taken_out_is_gone_and_nothing_else(data, name):
    text = set_edit._ended(TEXTS[name])
    path = data.draw(any_place(text))
    made = remove(text, path)
    expected = plain(text)
    parent = at(expected, path[:-1])
    del parent[path[-1]]
    assert plain(made) == expected
    gone = set(notes(text)) - set(notes(made))
    assert len(notes(text)) - len(notes(made)) == len(gone)


@settings(max_examples=40)
@given(st.data(), any_text, values)
def test_what_is_added_is_there_and_goes_again(data, name, value):
    text = set_edit._ended(TEXTS[name])
    lists = [path for path in paths(read(text)) if isinstance(at(plain(text), path), list)]
    path = data.draw(st.sampled_from(lists))
    number = data.draw(st.integers(0, len(at(plain(text), path))))
    made = insert(text, (*path, number), value)
    expected = plain(text)
    at(expected, path).insert(number, value)
    assert plain(made) == expected
    assert notes(made) == notes(text)
    assert plain(remove(made, (*path, number))) == plain(text)


@pytest.mark.parametrize("name", TEXTS)
def test_a_problem_moved_up_comes_down_to_the_very_same_text(name):
    text = set_edit._ended(TEXTS[name])
    count = len(plain(text)["problems"])
    for number in range(count - 1):
        moved = move(text, ("problems", number), 1)
        assert sorted(notes(moved)) == sorted(notes(text))
        order = [each["id"] for each in plain(moved)["problems"]]
        before = [each["id"] for each in plain(text)["problems"]]
        before[number], before[number + 1] = before[number + 1], before[number]
        assert order == before
        assert move(moved, ("problems", number + 1), -1) == text
    assert move(text, ("problems", 0), -1) == text
    assert move(text, ("problems", count - 1), 1) == text


@pytest.mark.parametrize("name", TEXTS)
def test_a_second_copy_of_a_problem_has_an_id_of_its_own_and_goes_again(name):
    text = set_edit._ended(TEXTS[name])
    for number, problem in enumerate(plain(text)["problems"]):
        made = duplicate(text, number)
        copy = plain(made)["problems"][number + 1]
        assert copy == problem | {"id": f"{problem['id']}-2"}
        assert remove(made, ("problems", number + 1)) == text


@pytest.mark.parametrize("name", TEXTS)
def test_problems_of_ours_are_taken_in_as_they_are_written(name):
    text = set_edit._ended(TEXTS[name])
    ours = problems.text_of_ours("first-swaps")
    wanted = [each["id"] for each in plain(ours)["problems"]][2:5]
    made = take_in(text, ours, wanted)
    theirs = {each["id"]: each for each in plain(ours)["problems"]}
    taken = plain(made)["problems"][len(plain(text)["problems"]) :]
    renamed = [f"{each}-2" if name == "ours" else each for each in wanted]
    assert taken == [theirs[one] | {"id": new} for one, new in zip(wanted, renamed, strict=True)]
    assert notes(made) == notes(text)


def test_a_set_of_our_problems_alone_is_a_set():
    empty = "name: mine\ntitle: Mine\nversion: 1\nproblems: []\n"
    made = take_in(empty, problems.text_of_ours("first-swaps"), {"small-batch"})
    assert [each.id for each in read_set(made, "mine.yml").problems] == ["small-batch"]
    assert made.startswith("name: mine\ntitle: Mine\nversion: 1\nproblems:\n  - id: small-batch\n")


@pytest.mark.slow
@pytest.mark.parametrize("key", problems.set_keys())
def test_every_problem_of_ours_can_be_taken_in(key):
    ours = problems.text_of_ours(key)
    wanted = [each["id"] for each in plain(ours)["problems"]]
    made = take_in(GOOD, ours, wanted)
    assert plain(made)["problems"][1:] == plain(ours)["problems"]


def test_a_part_that_is_added_has_its_usual_place():
    made = put(
        put(put(GOOD, ("name",), "mine"), ("lesson",), "preferments"), ("problems", 0, "level"), "2"
    )
    assert made.startswith(
        "# A set of my own\nname: mine\ntitle: My set\nversion: 1\nlesson: preferments\nproblems:"
    )
    assert "    title: One loaf\n    level: 2\n    story:" in made
    assert remove(remove(remove(made, ("name",)), ("lesson",)), ("problems", 0, "level")) == GOOD


def test_a_list_keeps_the_notes_between_what_stays():
    made = put(ODD, ("problems", 0, "givens", "hydration"), ["60 %", "65 %", "70 %"])
    assert "      - 60 %   # n11\n      # n12\n      - 65 %\n      - 70 %\n" in made
    made = put(ODD, ("problems", 0, "givens", "liquid"), ["buttermilk", "kefir"])
    assert '[buttermilk, # n13, with a comma\n             "kefir",]  # n14' in made


def test_a_story_is_written_under_a_bar():
    made = put(GOOD, ("problems", 0, "story"), "One: {flour}.\n\nTwo # no note.\n")
    assert "    story: |\n      One: {flour}.\n\n      Two # no note.\n    ask:" in made


def test_what_is_not_there_cannot_be_changed():
    with pytest.raises(EditError):
        put(GOOD, ("problems", 7, "title"), "x")
    with pytest.raises(EditError):
        put(GOOD, (), "x")


def test_a_set_does_not_grow_beyond_what_is_read():
    with pytest.raises(EditError, match="Split the set"):
        put(GOOD, ("about",), "x" * 200_000)


@pytest.mark.parametrize(
    ("title", "made"),
    [
        ("Müller's loaf!", "mullers-loaf"),
        ("  ", "problem"),
        ("面包", "problem"),
        ("A" * 200, "a" * 60),
    ],
)
def test_an_id_is_made_from_a_title(title, made):
    assert slug(title) == made
    assert problems.ID.fullmatch(made)
