"""A marked student as plain data, for a page to keep or show: names, numbers and texts only."""

from __future__ import annotations

from exercises.gradebook import StudentMark, comment, wrote
from exercises.marking import ByHand, ProblemMark, StepMark


def student_data(student: StudentMark) -> dict[str, object]:
    """Everything that is told of a student, as JSON can hold it: each problem, each of its steps."""
    return {
        "student": student.entry.student,
        "marks": student.marks,
        "out of": student.out_of,
        "percent": round(student.percent, 1),
        "counts": student.counts,
        "changed": student.is_changed,
        "notes": list(student.notes),
        "handed in as": student.entry.place,
        "saved": student.entry.when,
        "problems": [_problem(student, problem) for problem in student.problems],
    }


def _problem(student: StudentMark, problem: ProblemMark) -> dict[str, object]:
    return {
        "id": problem.variant.problem.id,
        "title": problem.variant.problem.title,
        "marks": problem.marks,
        "out of": problem.out_of,
        "says": problem.says,
        "by hand": _by_hand(problem.by_hand),
        "steps": [_step(student, problem, step) for step in problem.steps],
    }


def _step(student: StudentMark, problem: ProblemMark, step: StepMark) -> dict[str, object]:
    most = problem.variant.problem.marks_per_step
    return {
        "key": step.step.key,
        "label": step.step.label,
        "wrote": wrote(problem, step, student.entry),
        "verdict": step.verdict.value,
        "sign": step.verdict.sign,
        "says": comment(step),
        "marks": step.marks(most),
        "out of": most,
        "by hand": _by_hand(step.by_hand),
    }


def _by_hand(by_hand: ByHand | None) -> dict[str, object] | None:
    return by_hand and {"marks": by_hand.marks, "reason": by_hand.reason}
