"""Set files: what a teacher writes, and what is said of slips in it."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises import problems, setfile
from exercises.draws import draw
from exercises.problems import key_of, read_set
from exercises.setfile import LARGEST_SET, SetError
from tests.exercises.set_texts import EVERY_KIND, GOOD, POOL
from tests.hostile import SCRIPTS, json_values


def test_reads_a_good_set():
    mine = read_set(GOOD, "mine.yml")
    assert (mine.key, mine.title, len(mine.problems)) == ("mine", "My set", 1)
    assert len(mine.problems[0].givens["flour"]) == 5


SLIPS = [
    ("version: 1", "version: one", 3, 10, "whole number"),
    ("title: My set\n", "", 2, 1, "lacks “title”"),
    ("ask: new liquid", "ask: new liqid", 8, 10, "Did you mean “new liquid”?"),
    ("title: One loaf", "titel: One loaf", 6, 5, "no part “titel”. Did you mean “title”?"),
    ("hydration: [62 %, 65 %]", "hydration: [62 %, 650 %]", 11, 25, "not sensible"),
    ("buttermilk", "butermilk", 12, 16, "Did you mean buttermilk"),
    ("74 % water", "174 % water", 12, 28, "above 0 % and at most 100 %"),
    ("{flour} flour", "{flower} flour", 7, 12, "{flower}"),
    ("with {liquid}", "with milk", 7, 12, "never tells {liquid}"),
    ("step: 50 g", "step: 0 g", 10, 45, "in steps of 0 g. The step must be more than 0."),
    ("from: 400 g", "from: 700 g", 10, 45, "Put the smaller one under “from”."),
    ("{from: 400 g, to: 600 g, step: 50 g}", "400–600 g", 10, 14, "such as {from: 400 g, to: 600 g, step: 5 g}"),
    ("400 g", "400 ml", 10, 21, "measures volume"),
    ("title: My set", "title: My set: two", 2, 14, "A colon inside a sentence needs quotes"),
    ("id: one-loaf", "id: One Loaf", 5, 9, "small letters"),
    ("version: 1", "version: 1\nversion: 2", 4, 1, "appears twice"),
    ("[62 %, 65 %]", "&a [62 %, 65 %]", 11, 18, "Anchors"),
    ("[62 %, 65 %]", "!!python/object/apply:os.system [ls]", 11, 18, "Tags"),
    ("[62 %, 65 %]", "[62,50 %, 67,50 %]", 11, 19, '“62,50” looks like a decimal comma. Write "62,50 %"'),
    ("[62 %, 65 %]", "[57,5 %, 60 %]", 11, 19, "57.5 %."),
    ("400 g, to: 600 g, step: 50 g", "0,5 kg, to: 0,5 kg, step: 0,1 kg", 10, 21, "“0,5” looks like"),
    ("    ask", "\task", 8, 1, "There is a tab here. Use spaces."),
    ("    title: One", "   title: One", 6, 4, "give both the same indent"),
    ("    ask:", "      ask:", 8, 7, "give both the same indent"),
    ("title: My", "title:My", 2, 7, "A space is missing after the colon."),
    ("title: One", "title:One", 6, 11, "A space is missing after the colon."),
    ('story: "{flour} flour at', "story: {flour} flour at", 7, 20, "or on lines of its own after |"),
    ('story: "{flour} flour at {hydration}, with {liquid}."', "story: {flour}", 7, 12, "Put it in quotes"),
    ("buttermilk", "Vollmilch", 12, 16, 'such as "Vollmilch, 88 % water", or choose one of the page'),
    ("buttermilk", "quark, 78 % water", 12, 16, "“quark” and its water: Put straight quotes"),
    ("buttermilk", "“quark, 78,5 % water”", 12, 16, "“quark” and its water: Put straight quotes"),
    ("version: 1", "version: 1\nlesson: what-rides-alng", 4, 9, "Did you mean “what-rides-along”?"),
    ("step: 50 g", "step: 150 g", 10, 45, "it never reaches 600 g"),
    ("[62 %, 65 %]", "[62 %, 65 %", 11, 18, "Add ] at its end"),
    ("    ask", "    points: 5\n    ask", 8, 5, "no part “points”. Write “marks per step”."),
    ("    ask", "    answer: 5\n    ask", 8, 5, "Leave “answer” out"),
    ("title: My set", "name: My set\ntitle: My set", 2, 7, "A set's name is made of small letters"),
    ("title: My set", "name: first-swaps\ntitle: My set", 2, 7, "such as first-swaps-2"),
]  # fmt: skip


@pytest.mark.parametrize(("good", "bad", "line", "column", "says"), SLIPS)
def test_says_where_a_slip_is_and_what_to_do(good, bad, line, column, says):
    assert good in GOOD
    with pytest.raises(SetError) as caught:
        read_set(GOOD.replace(good, bad, 1), "sets/mine.yml")
    first, *more = str(caught.value).splitlines()
    assert len(more) <= ("{flower}" in bad)
    assert first.startswith(f"sets/mine.yml:{line}:{column}: ")
    assert says in first


def test_tells_every_slip_at_once():
    text = GOOD.replace("version: 1", "version: x").replace("buttermilk", "butermilk")
    with pytest.raises(SetError) as caught:
        read_set(text, "mine.yml")
    assert [c.line for c in caught.value.complaints] == [3, 12]


def test_tells_every_slip_at_once_where_a_part_is_unknown_or_not_there():
    text = GOOD.replace("    title: One loaf\n", "    points: 5\n")
    text = text.replace("buttermilk", "butermilk").replace("{hydration}", "{hydratoin}")
    with pytest.raises(SetError) as caught:
        read_set(text, "mine.yml")
    found = [(each.message.split(".")[0], each.path[2:]) for each in caught.value.complaints]
    assert found == [
        ("A problem lacks “title”", ("title",)),
        ("A problem has no part “points”", ("points",)),
        ("The story has {hydratoin}, which no given fills", ("story",)),
        ("The story never tells {hydration}, so the problem cannot be solved", ("story",)),
        (
            "“liquid”: There is no ingredient called “butermilk” in the table",
            ("givens", "liquid", 0),
        ),
    ]


@pytest.mark.parametrize(
    ("file", "key"),
    [
        ("monday.yml", "monday"),
        ("Monday.YAML", "monday"),
        ("monday (1).yml", "monday"),
        ("monday(2).yml", "monday"),
        ("monday - Copy (3).yml", "monday"),
        ("monday copy 2.yml", "monday"),
        ("C:\\Sets\\My Monday.yml", "my-monday"),
        ("sets/Mu\u0308llers Brot.yml", "müllers-brot"),
        ("week 3.2.yml", "week-3-2"),
        ("(1).yml", "set"),
    ],
)
def test_a_second_download_and_another_computer_change_no_name(file, key):
    assert key_of(file) == key
    assert read_set(GOOD, file).key == key


def test_a_set_keeps_its_own_name_whatever_its_file_is_called():
    named = GOOD.replace("title: My set", "name: monday\ntitle: My set")
    one, other = (read_set(named, file) for file in ("monday.yml", "x/Downloads (4).yml"))
    assert one.key == other.key == "monday"
    numbers = [draw(each, each.problems[0], "Ada Sample").shown for each in (one, other)]
    assert numbers[0] == numbers[1]


def test_our_own_set_may_bear_its_own_name():
    ours = problems.text_of_ours("first-swaps")
    assert read_set(f"name: first-swaps\n{ours}", "copy.yml", 0).key == "first-swaps"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "- a\n- b\n",
        "just words",
        "x" * (LARGEST_SET + 1),
        "[" * 5000,
        "\x00",
        "problems: []\ntitle: a\nversion: 1\n",
    ],
)
def test_refuses_what_is_no_set(text):
    with pytest.raises(SetError):
        read_set(text, "mine.yml")


def test_a_story_is_only_text():
    """Nothing in a story is looked up or run: braces name givens and nothing else."""
    text = GOOD.replace("with {liquid}", "with {liquid} <b>{liquid.__class__}</b>")
    with pytest.raises(SetError, match="no given fills"):
        read_set(text, "mine.yml")


def test_figures_that_are_no_decimals_are_no_decimal_comma():
    """A raised two is a figure to Unicode, and no decimal."""
    assert setfile.parse("a: [1,²]\n", "mine.yml").plain == {"a": ["1", "²"]}


def test_a_decimal_comma_in_quotes_is_a_decimal_point():
    commas = GOOD.replace("[62 %, 65 %]", '["62,50 %", "67,5 %"]')
    found = read_set(commas, "mine.yml").problems[0].givens["hydration"]
    assert [choice.shown for choice in found] == ["62.5 %", "67.5 %"]


def test_an_order_written_without_brackets_is_told_what_to_add():
    text = "title: t\nversion: 1\nproblems:\n  - {id: a, title: a, story: a, ask: order, by: water content, items: "
    with pytest.raises(SetError, match=r"Put \[ \] around it"):
        read_set(text + '"water, egg, milk"}', "mine.yml")


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        ("right: yes, because: Milk", "because: Milk", "exactly one option"),
        ("{text: they are the same}", "{text: the water dough}", "say the same"),
        ("right: yes, because: Milk", "right: maybe, because: Milk", "yes or no"),
        ("by: water content", "by: water contents", "Did you mean “water content”?"),
        (
            "[sour-cream, water, whole-milk, heavy-cream]",
            "[sour-cream]",
            "a list of 3 to 8; this has 1",
        ),
        ("[0, 0.5, 1]", "[0, 1]", "each of the four hints"),
        ("    by: water content\n", "", "lacks “by”"),
    ],
)
def test_says_what_is_wrong_with_a_question(good, bad, says):
    assert good in EVERY_KIND
    with pytest.raises(SetError, match=says):
        read_set(EVERY_KIND.replace(good, bad, 1), "every.yml")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("show: 3", "show: 9", "“show” must be a whole number from 2 to 5"),
        ("{text: buttermilk}", "{text: buttermilk, right: yes}", ""),
        ("show: 3", "show: 5", "To show 5, give one right option or more, and 4 wrong ones"),
        ("level: 2", "level: 4", "“level” must be a whole number from 1 to 3"),
    ],
)
def test_a_pool_that_cannot_be_shown_is_refused(old, new, says):
    text = POOL.replace(old, new)
    if not says:
        assert read_set(text, "pools.yml")
        return
    with pytest.raises(SetError, match=says):
        read_set(text, "pools.yml")


def test_a_set_of_too_many_problems_is_refused():
    with pytest.raises(SetError, match=f"at most {problems.MOST_PROBLEMS} problems"):
        read_set("title: a\nversion: 1\nproblems:" + "\n- id: a" * 200, "a.yml")


@given(st.text(max_size=300) | st.binary(max_size=300).map(lambda raw: raw.decode("latin-1")))
def test_any_text_is_a_set_or_is_refused(written):
    with pytest.raises(SetError):
        read_set(written, "any.yml")


@given(json_values)
def test_any_structure_is_a_set_or_is_refused(value):
    with pytest.raises(SetError):
        read_set(json.dumps(value), "any.yml")


@given(st.recursive(st.sampled_from(["choice", "order", "milk", *SCRIPTS]), lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(["id", "ask", "title", "story", "givens", "questions", "options", "items", "by", "text", "right", "show", "tries", "hint cost"]), inner, max_size=6), max_leaves=20))  # fmt: skip
def test_any_problem_is_one_or_is_refused(value):
    with pytest.raises(SetError):
        read_set(json.dumps({"title": "a", "version": 1, "problems": [value]}), "any.yml")


@pytest.mark.parametrize("bad", ["one\n", "../one", "One", "a" * 81, "<b>", ""])
def test_an_id_is_a_plain_word(bad):
    with pytest.raises(SetError):
        read_set(GOOD.replace("id: one-loaf", f"id: {json.dumps(bad)}"), "a.yml")


@pytest.mark.parametrize("liquid", ["lard", "rapeseed-oil", "salt"])
def test_a_liquid_without_water_is_told(liquid):
    """It cannot be divided by: the calculation of this one fails as soon as it is built."""
    text = f"""
name: my-set
title: A set
version: 1
about: Without water.
problems:
  - id: a
    title: A preferment
    level: 1
    ask: liquid left for the final dough
    story: >
      {{flour}}, {{hydration}}, {{preferment weight}}, {{preferment hydration}}, {{liquid}}
    givens:
      flour: 500 g
      hydration: 65 %
      preferment weight: 100 g
      preferment hydration: 100 %
      liquid: {liquid}
"""
    with pytest.raises(SetError, match="holds no water"):
        read_set(text, "my-set.yml", 8)
