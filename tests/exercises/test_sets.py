"""Set files: what a teacher writes, and what is said of slips in it."""

import re
from dataclasses import replace
from importlib.resources import files

import jsonschema
import pytest
import yaml

from calc.meanings import FLOUR_KIND
from docs.course.what_to_ask import allowed
from exercises import problems
from exercises.marking import mark, right_answers
from exercises.problems import draw, load, read_set
from exercises.review import review
from exercises.schema import schema
from exercises.setfile import LARGEST_SET, SetError

GOOD = """\
# A set of my own
title: My set
version: 1
problems:
  - id: one-loaf
    title: One loaf
    story: "{flour} flour at {hydration}, with {liquid}."
    ask: new liquid
    givens:
      flour: {from: 400 g, to: 600 g, step: 50 g}
      hydration: [62 %, 65 %]
      liquid: [buttermilk, "thick yogurt, 74 % water"]
"""


@pytest.mark.parametrize("key", problems.set_keys())
@pytest.mark.parametrize("student", ["", "Ada Invented", "Zoë", "李"])
def test_every_set_draws_and_its_own_answers_are_right(key, student):
    problem_set = load(key)
    assert len(problem_set.problems) >= 6
    for problem in problem_set.problems:
        drawn = draw(problem_set, problem, student)
        answers = right_answers(drawn)
        assert mark(drawn, answers).all_right
        values = drawn.working.values().items()
        # Only a temperature may be nought: ice melts at 0 °C.
        assert all(v > 0 or drawn.working.part(k).kind == "temperature" for k, v in values)
        if problem.quantity and not problem.quantity.cells:
            asked = {step.key: answers[step.key] for step in drawn.asked}
            assert mark(drawn, asked).all_right
        assert "{" not in drawn.story


def test_the_same_name_gives_the_same_numbers_however_it_is_typed():
    problem_set = load("first-swaps")
    for problem in problem_set.problems:
        first, second = (draw(problem_set, problem, name) for name in ("Ada Doe", "  ada   DOE "))
        assert first.shown == second.shown


def test_draws_are_the_same_on_every_machine():
    """SHA-256 (FIPS 180-4) picks them; these were drawn once, from version 1, and must not change."""
    problem_set = replace(load("first-swaps"), version=1)
    drawn = draw(problem_set, problem_set.problem("yogurt-loaf"), "Ada")
    assert drawn.shown["flour"] == "1600 g"
    assert drawn.shown["hydration"] == "67 %"


def test_different_names_get_different_numbers():
    problem_set = load("first-swaps")
    problem = problem_set.problem("yogurt-loaf")
    assert len({draw(problem_set, problem, f"student {n}").story for n in range(50)}) > 25


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
    ("step: 50 g", "step: 0 g", 10, 45, "cannot go from 400 g to 600 g"),
    ("400 g", "400 ml", 10, 21, "measures volume"),
    ("title: My set", "title: My set: two", 2, 14, "A colon inside a sentence needs quotes"),
    ("id: one-loaf", "id: One Loaf", 5, 9, "small letters"),
    ("version: 1", "version: 1\nversion: 2", 4, 1, "stands twice"),
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


@pytest.mark.parametrize("key", problems.set_keys())
def test_no_set_of_ours_has_an_absurd_draw(key):
    for problem in load(key).problems:
        if problem.quantity:
            seen = review(problem)
            assert seen.absurd == ()
            assert not seen.all_alike, problem.id


@pytest.mark.parametrize(
    ("bad", "says"),
    [
        ("flour: {from: 50 g, to: 60 g, step: 10 g}\n      hydration: [40 %, 120 %]", "answer is"),
        ("flour: {from: 400 g, to: 600 g, step: 0.001 g}", "cannot go from"),
    ],
)
def test_refuses_absurd_draws(bad, says):
    text = GOOD.replace("flour: {from: 400 g, to: 600 g, step: 50 g}", bad)
    text = text.replace("      hydration: [62 %, 65 %]\n", "") if "hydration" in bad else text
    text = (
        text.replace("ask: new liquid", "ask: hydration after gram for gram")
        if "hydration" in bad
        else text
    )
    with pytest.raises(SetError, match=says):
        read_set(text, "mine.yml")


def test_the_schema_agrees_with_the_reader():
    """Outside check: JSON Schema 2020-12, by the reference library jsonschema."""
    validator = jsonschema.Draft202012Validator(schema())
    jsonschema.Draft202012Validator.check_schema(schema())
    for key in problems.set_keys():
        text = (files("exercises") / "sets" / f"{key}.yml").read_text("utf-8")
        validator.validate(yaml.safe_load(text))
    validator.validate(yaml.safe_load(GOOD))
    for slip in ("titel: One loaf", "ask: new liqid", "version: one"):
        word = slip.split(":")[0].replace("titel", "title")
        bad = re.sub(rf"(?m){word}: (One loaf|new liquid|1)$", slip, GOOD, count=1)
        assert bad != GOOD
        assert not validator.is_valid(yaml.safe_load(bad))


def test_a_decimal_comma_in_quotes_is_a_decimal_point():
    commas = GOOD.replace("[62 %, 65 %]", '["62,50 %", "67,5 %"]')
    found = read_set(commas, "mine.yml").problems[0].givens["hydration"]
    assert [choice.shown for choice in found] == ["62.5 %", "67.5 %"]


def test_an_order_written_without_brackets_is_told_what_to_add():
    text = "title: t\nversion: 1\nproblems:\n  - {id: a, title: a, story: a, ask: order, by: water content, items: "
    with pytest.raises(SetError, match=r"Put \[ \] around it"):
        read_set(text + '"water, egg, milk"}', "mine.yml")


def test_the_list_of_givens_says_flour_in_a_teachers_words():
    assert allowed(FLOUR_KIND) == "a flour"
