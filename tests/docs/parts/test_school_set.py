"""The set that a package's page asks for, with the name that the school's system gives."""

import json

from docs.parts.problem_set import respond as respond_as_set
from docs.parts.school_set import respond
from exercises import set_link
from exercises.draws import draw
from exercises.marking import right_answers
from exercises.problems import load
from exercises.publish.html import write
from tests.exercises.set_texts import EVERY_KIND


def element_in(answer):
    [shown] = answer["elements"]
    return shown


def test_a_name_from_the_system_is_not_the_students_to_change():
    shown = element_in(respond({"name": "first-swaps", "student": "Ada Invented", "id": "s 17"}))
    [box] = [each for each in shown.iter("input") if each.get("name") == "student"]
    assert box.get("value") == "Ada Invented"
    assert box.get("readonly") == ""
    assert "comes from your school’s system" in write(shown)


def test_without_a_name_the_student_writes_one():
    shown = element_in(respond({"name": "first-swaps"}))
    [box] = [each for each in shown.iter("input") if each.get("name") == "student"]
    assert box.get("readonly") is None


def test_two_of_one_name_on_one_device_are_kept_apart():
    one, other = (
        respond({"name": "first-swaps", "student": "Ada", "id": key})["place"] for key in ("1", "2")
    )
    assert one != other


def test_a_teachers_own_set_and_one_level_of_it():
    packed = set_link.pack(set_link.to_give(EVERY_KIND, "monday.yml"))
    whole = set_link.read_packed(packed)
    answer = respond({"packed": packed, "level": "1", "student": "Ada"})
    asked = {each.id for each in whole.problems if each.level == 1}
    assert set(answer["problems"]) == asked
    assert element_in(answer).get("packed") == packed
    drawn = respond_as_set({"action": "draw", "packed": packed, "level": "1", "student": "Ada"})
    assert {each.get("data-problem") for each in drawn["elements"] if each.tag == "form"} == asked


def test_the_record_has_what_was_marked():
    problem_set = load("first-swaps")
    problem = problem_set.problems[0]
    right = right_answers(draw(problem_set, problem, "Ada"))
    fields = {"action": "record", "name": "first-swaps", "student": "Ada"}
    [first, *others] = respond_as_set(fields | {"marked": json.dumps({problem.id: right})})[
        "record"
    ]
    assert (first["result"], first["answer"]) == ("correct", *right.values())
    assert {one["result"] for one in others} == {"neutral"}
