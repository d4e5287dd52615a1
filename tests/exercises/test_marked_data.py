"""What a page keeps of a student is what the report says, and JSON holds it."""

import json

from exercises.changes import Changes
from exercises.marked_data import student_data
from tests.exercises.invented_class import marked


def test_a_student_as_data_adds_up(hand_ins):
    change = {"student": "Di Invented", "problem": "milk-in-the-dough", "step": "hydration", "marks": 0.5, "reason": "half"}  # fmt: skip
    _, students = marked(hand_ins, changes=Changes.of([change]))
    for student in students:
        data = json.loads(json.dumps(student_data(student)))
        assert data["marks"] == student.marks == sum(problem["marks"] for problem in data["problems"])  # fmt: skip
        for problem in data["problems"]:
            assert problem["marks"] == sum(step["marks"] for step in problem["steps"])
    di = next(student_data(s) for s in students if s.entry.student == "Di Invented")
    (step,) = [s for p in di["problems"] for s in p["steps"] if s["by hand"]]
    assert (step["by hand"], step["verdict"], di["changed"]) == ({"marks": 0.5, "reason": "half"}, "not right yet", True)  # fmt: skip
