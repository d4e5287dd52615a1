"""What a school's system hears of each step, against what the marking says of it."""

import re

import pytest

from exercises.draws import draw
from exercises.marking import mark, right_answers
from exercises.problems import load, read_set, set_keys
from exercises.record import record
from tests.exercises.set_texts import EVERY_KIND

STUDENT = "Ada Invented"


def results(problem_set, answers):
    return {
        each.id: mark(draw(problem_set, each, STUDENT), answers[each.id])
        for each in problem_set.problems
        if each.id in answers
    }


def right(problem_set):
    return {
        each.id: right_answers(draw(problem_set, each, STUDENT)) for each in problem_set.problems
    }


@pytest.mark.parametrize("key", set_keys())
def test_right_answers_are_correct_and_match_their_pattern(key):
    problem_set = load(key)
    entries = record(problem_set, STUDENT, results(problem_set, right(problem_set)))
    assert {entry["result"] for entry in entries} == {"correct"}
    assert all(entry["answer"] == entry["right"] for entry in entries)
    marks = sum(draw(problem_set, each, STUDENT).out_of for each in problem_set.problems)
    assert sum(entry["weight"] for entry in entries) == marks


@pytest.mark.parametrize("key", set_keys())
def test_entries_keep_their_place_and_fit_the_standard(key):
    """SCORM 1.2, 3.4.4: an identifier has no space, a choice is a letter; 255 characters at most."""
    problem_set = load(key)
    before = record(problem_set, STUDENT, {})
    after = record(problem_set, STUDENT, results(problem_set, right(problem_set)))
    assert [entry["id"] for entry in before] == [entry["id"] for entry in after]
    assert len({entry["id"] for entry in before}) == len(before)
    assert {entry["result"] for entry in before} == {"neutral"}
    for entry in after:
        assert re.fullmatch(r"[A-Za-z0-9.-]{1,255}", entry["id"])
        assert entry["type"] != "choice" or re.fullmatch("[a-z]", entry["right"])
        assert len(entry["right"]) <= 250


def test_wrong_blank_and_own_figures():
    problem_set = load("first-swaps")
    problem = problem_set.problem("yogurt-loaf")
    variant = draw(problem_set, problem, STUDENT)
    values = variant.working.values()
    own = values["water"] + 40
    told = {"water": f"{own:.0f} g", "liquid": f"{own / values['water content']:.0f} g"}
    entries = record(problem_set, STUDENT, results(problem_set, {problem.id: told}))
    first, second = [entry for entry in entries if entry["id"].startswith(problem.id)]
    # One slip costs one mark: the second step is right from the student's own figure.
    assert (first["result"], second["result"]) == ("incorrect", "correct")
    assert first["answer"] == told["water"]
    others = [entry for entry in entries if not entry["id"].startswith(problem.id)]
    assert {(entry["result"], entry["answer"]) for entry in others} == {("neutral", "")}


def test_what_cannot_be_read_is_told_as_it_was_written():
    problem_set = read_set(EVERY_KIND, "monday.yml")
    junk = {each.id: {part.key: "zzz" for part in draw(problem_set, each, STUDENT).parts} for each in problem_set.problems}  # fmt: skip
    for entry in record(problem_set, STUDENT, results(problem_set, junk)):
        assert entry["result"] == "incorrect"
        assert entry["answer"] == ("" if entry["type"] == "choice" else "zzz")
