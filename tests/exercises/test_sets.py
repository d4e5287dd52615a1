"""Set files: what a teacher writes, and what is said of slips in it."""

import re
from dataclasses import replace
from importlib.resources import files

import jsonschema
import pytest
import yaml

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
            last = drawn.working.answer.key
            assert mark(drawn, {last: answers[last]}).all_right
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
]


@pytest.mark.parametrize(("good", "bad", "line", "column", "says"), SLIPS)
def test_says_where_a_slip_is_and_what_to_do(good, bad, line, column, says):
    assert good in GOOD
    with pytest.raises(SetError) as caught:
        read_set(GOOD.replace(good, bad, 1), "sets/mine.yml")
    first = str(caught.value).splitlines()[0]
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
            assert seen.alike < seen.seen, problem.id


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
