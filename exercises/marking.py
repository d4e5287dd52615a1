"""Mark a student's answers from the student's own working.

Each answer is judged within what honest rounding could give, first from the right figures, then
from the student's own earlier ones (follow-through): one slip costs one step's marks. A number that
a known wrong method explains is told so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from calc import units
from calc.mistakes import Explanation, Finding, diagnose
from calc.units import PLAIN, Reading, ReadingError, Style
from calc.working import Step, Working, margin
from exercises.draws import Box, Option, Variant

# More explanations than this for one number explain nothing.
MOST_FINDINGS = 2


class Verdict(Enum):
    """How a step came out."""

    RIGHT = "right"
    FOLLOWS = "right from your own figure"
    NOT_NEEDED = "not shown, not needed"
    WRONG = "not right yet"
    UNREAD = "not read"
    BLANK = "not answered"

    @property
    def earns(self) -> bool:
        return self in (Verdict.RIGHT, Verdict.FOLLOWS, Verdict.NOT_NEEDED)


@dataclass
class StepMark:
    """One step's verdict, what to tell the student, and the mistakes found.

    `findings` are alternatives, unless `in_a_row`: then they were made one after the other.
    """

    step: Step | Box
    verdict: Verdict
    says: str = ""
    findings: list[Finding] = field(default_factory=list)
    in_a_row: bool = False
    reading: Reading | None = None
    hint_cost: float = 0.0


@dataclass(frozen=True)
class ProblemMark:
    """The marks of one problem."""

    variant: Variant
    steps: tuple[StepMark, ...]

    @property
    def marks(self) -> float:
        """What the steps earn, less what their hints cost; a step never earns less than nothing."""
        each = self.variant.problem.marks_per_step
        earned = sum(max(0.0, each - one.hint_cost) for one in self.steps if one.verdict.earns)
        return int(earned) if earned == int(earned) else round(earned, 2)

    @property
    def out_of(self) -> int:
        return self.variant.out_of

    @property
    def all_right(self) -> bool:
        return all(step.verdict.earns for step in self.steps)

    @property
    def answered(self) -> bool:
        return any(step.verdict not in (Verdict.BLANK, Verdict.UNREAD) for step in self.steps)


def mark(
    variant: Variant,
    answers: Mapping[str, str],
    style: Style = PLAIN,
    hints: Mapping[str, int] | None = None,
) -> ProblemMark:
    """Mark a problem.

    `answers` maps the keys of steps and boxes to what the student wrote; some may be left out.
    `hints` says how many of a step's three hints were opened.
    """
    marks = {part.key: StepMark(part, Verdict.BLANK) for part in variant.parts}
    if variant.problem.ranking:
        _judge_order(variant, marks, answers)
    elif variant.boxes:
        _judge_choices(variant, marks, answers)
    else:
        readings = _read_all(marks, answers)
        _judge(variant.working, marks, readings, style)
        if not variant.problem.quantity.cells:
            _credit_blanks(variant.working, marks)
    for key, opened in (hints or {}).items():
        if key in marks:
            marks[key].hint_cost = sum(variant.problem.hint_costs[: max(0, opened)])
    return ProblemMark(variant, tuple(marks.values()))


def _chosen(box: Box, one: StepMark, text: str) -> Option | None:
    """The option a student chose; an answer that is none of them is told so."""
    if not text.strip():
        return None
    option = box.chosen(text)
    if option is None:
        letters = ", ".join(letter for letter, _ in box.lettered())
        one.verdict, one.says = Verdict.UNREAD, f"Choose one of {letters}."
    return option


def _judge_choices(
    variant: Variant, marks: dict[str, StepMark], answers: Mapping[str, str]
) -> None:
    for box in variant.boxes:
        one = marks[box.key]
        option = _chosen(box, one, answers.get(box.key, ""))
        if option is not None:
            one.verdict = Verdict.RIGHT if option.right else Verdict.WRONG
            one.says = option.because


def _judge_order(variant: Variant, marks: dict[str, StepMark], answers: Mapping[str, str]) -> None:
    """The longest run of items in the right order is right: moving one item costs one mark."""
    ranking = variant.problem.ranking
    scores = {item.name: ranking.score(item) for item in variant.items}
    placed: list[tuple[str, str]] = []
    for box in variant.boxes:
        one = marks[box.key]
        option = _chosen(box, one, answers.get(box.key, ""))
        if option is None:
            continue
        if option.text in (name for _, name in placed):
            one.verdict, one.says = Verdict.WRONG, f"{option.text} has a place already."
            continue
        placed.append((box.key, option.text))
    right = _longest_in_order([scores[name] for _, name in placed], ranking.same)
    for number, (key, name) in enumerate(placed):
        one = marks[key]
        one.verdict = Verdict.RIGHT if number in right else Verdict.WRONG
        if number not in right:
            one.says = f"{name} does not belong between its neighbours. {ranking.asks}"


def _longest_in_order(scores: list[float], same: float) -> set[int]:
    """The places of the longest run of scores that never rises (by more than `same`)."""
    best: list[list[int]] = []
    for place, score in enumerate(scores):
        before = [run for run in best if score <= scores[run[-1]] + same]
        best.append([*max(before, key=len, default=[]), place])
    return set(max(best, key=len, default=[]))


def _read_all(marks: dict[str, StepMark], answers: Mapping[str, str]) -> dict[str, Reading]:
    readings = {}
    for key, one in marks.items():
        text = answers.get(key, "").strip()
        if not text:
            continue
        try:
            one.reading = readings[key] = units.read(text, one.step.kind)
        except ReadingError as error:
            one.verdict, one.says = Verdict.UNREAD, str(error)
    return readings


def _judge(
    working: Working, marks: dict[str, StepMark], readings: Mapping[str, Reading], style: Style
) -> None:
    right = working.honest({})
    earlier: dict[str, Reading] = {}
    for key, reading in readings.items():
        one = marks[key]
        reach = margin(one.step, reading)
        if reading.value in right[key].widened(reach):
            one.verdict = Verdict.RIGHT
            one.says = f"{working.sentence(key, style)}."
        elif _follows(working, key, reading, earlier, reach):
            one.verdict = Verdict.FOLLOWS
            one.says = "Your method is right; only an earlier figure is not."
        else:
            one.verdict = Verdict.WRONG
            explanations = diagnose(working, key, reading, earlier)
            one.findings, one.in_a_row = _worth_saying(explanations)
            one.says = _explain(one, marks)
        # Nothing can be followed through from a figure that no scale can show.
        if reading.value >= one.step.to:
            earlier[key] = reading


def _follows(
    working: Working, key: str, reading: Reading, earlier: Mapping[str, Reading], reach: float
) -> bool:
    try:
        return reading.value in working.honest(earlier)[key].widened(reach)
    except ZeroDivisionError:
        return False


def _worth_saying(explanations: list[Explanation]) -> tuple[list[Finding], bool]:
    """One mistake, two alternatives, or two in a row; nothing where too much would explain it."""
    if len(explanations) == 1:
        return list(explanations[0]), len(explanations[0]) > 1
    latest = {one[0].mistake.key: one[0] for one in explanations if len(one) == 1}
    return (list(latest.values()), False) if len(latest) <= MOST_FINDINGS else ([], False)


def _explain(one: StepMark, marks: Mapping[str, StepMark]) -> str:
    if not one.findings:
        return "This number does not fit yet. Open a hint, or write the steps before it."
    told = []
    for finding in one.findings:
        where = ""
        if finding.step != one.step.key:
            where = f" Look at the step “{marks[finding.step].step.label}”."
        told.append(finding.mistake.says + where)
    return (" And then: " if one.in_a_row else " Or: ").join(dict.fromkeys(told))


def _credit_blanks(working: Working, marks: dict[str, StepMark]) -> None:
    """A step not shown counts as done when a later answer shows that it was."""
    for one in list(marks.values()):
        if one.reading is None:
            continue
        slip = {finding.step for finding in one.findings}
        explained = one.verdict is Verdict.WRONG and (len(slip) == 1 or one.in_a_row)
        if not (one.verdict.earns or explained):
            continue
        for key, other in marks.items():
            unseen = other.verdict is Verdict.BLANK and working.depends_on(one.step.key, key)
            if unseen and key in slip:
                other.verdict, other.findings = Verdict.WRONG, one.findings
                other.says = one.says
            elif unseen:
                other.verdict = Verdict.NOT_NEEDED
        if explained and one.step.key not in slip:
            one.verdict = Verdict.FOLLOWS
            one.findings = []


def hints(variant: Variant, key: str, style: Style = PLAIN) -> tuple[str, str, str]:
    """Three hints for a step, each telling more: what to find, the relation, the numbers put in."""
    working = variant.working
    step = working.steps[key]
    return (
        f"Find the {step.label}. {step.why}",
        f"{step.label} = {working.relation(key)}",
        f"{step.label} = {working.numbers(key, style)}",
    )


def right_answers(variant: Variant) -> dict[str, str]:
    """An answer to every part that is right, as a student would write it."""
    answers = {key: variant.working.weighed(key) for key in variant.working.steps}
    if variant.problem.ranking:
        items = sorted(variant.items, key=variant.problem.ranking.score, reverse=True)
        placed = zip(variant.boxes, items, strict=True)
        return {box.key: item.name for box, item in placed}
    for box in variant.boxes:
        answers[box.key] = next(letter for letter, option in box.lettered() if option.right)
    return answers


def solution(variant: Variant, style: Style = PLAIN) -> list[str]:
    """The model solution, a line a step."""
    working = variant.working
    lines = [
        f"{step.label}: {working.sentence(step.key, style)}" for step in working.steps.values()
    ]
    if variant.problem.ranking:
        names = right_answers(variant).values()
        return [f"{number}. {name}" for number, name in enumerate(names, 1)]
    for box in variant.boxes:
        for letter, option in box.lettered():
            if option.right:
                lines.append(f"{box.label} {letter}: {option.text}. {option.because}".strip())
    return lines
