"""Mark a student's answers from the student's own working.

Each answer is judged within what honest rounding could give, first from the right figures, then
from the student's own earlier ones (follow-through): one slip costs one step's marks. A number that
a known wrong method explains is told so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum

from calc.answers import read_answer
from calc.diagnosis import Finding, diagnose, mistyped
from calc.expression import names
from calc.interval import Interval
from calc.routes import routes
from calc.size_check import size_check
from calc.units import PLAIN, Reading, ReadingError, Style
from calc.words import capital
from calc.working import PART_OF_A_WHOLE, Step, Working, margin, rounded_to, with_article
from exercises.draws import Box, Option, Variant
from exercises.free_working import (
    NO_LINES,
    WORKING,
    lines,
    match,
    sums_that_do_not_come_out,
)

# As many lines that lead nowhere are quoted.
MOST_STRAY = 3


class Verdict(Enum):
    """How a step came out."""

    RIGHT = "right"
    FOLLOWS = "right from your own figure"
    NOT_NEEDED = "not shown, not needed"
    IN_ORDER = "in order"
    OUT_OF_ORDER = "not in order yet"
    WRONG = "not right yet"
    UNREAD = "not read"
    BLANK = "not answered"

    @property
    def earns(self) -> bool:
        return self in (Verdict.RIGHT, Verdict.FOLLOWS, Verdict.NOT_NEEDED, Verdict.IN_ORDER)

    @property
    def misses(self) -> bool:
        """Whether it was answered, and the answer earns nothing."""
        return self in (Verdict.WRONG, Verdict.OUT_OF_ORDER)

    @property
    def sign(self) -> str:
        """One letter that stands for it beside the words."""
        other = {Verdict.UNREAD: "?", Verdict.BLANK: "·"}
        return "✓" if self.earns else other.get(self, "✗")


@dataclass(frozen=True)
class ByHand:
    """Marks that a teacher gave in place of those that were worked out, and why."""

    marks: float
    reason: str

    @property
    def says(self) -> str:
        return f"Marks changed by hand to {self.marks:g}: {self.reason}"


@dataclass
class StepMark:
    """One step's verdict, what to tell the student, and the mistakes found.

    `wrote` is what was marked, in its box or (`from_line`) as a line of free working; `note` says how it was read, where
    it could be read otherwise.
    `findings` are alternatives, unless `in_a_row`: then they were made one after the other.
    """

    step: Step | Box
    verdict: Verdict
    says: str = ""
    note: str = ""
    findings: list[Finding] = field(default_factory=list)
    in_a_row: bool = False
    reading: Reading | None = None
    wrote: str = ""
    from_line: bool = False
    hint_cost: float = 0.0
    by_hand: ByHand | None = None

    def marks(self, each: int) -> float:
        """What it earns of the marks of a step, less what its hints cost; never less than nothing."""
        if self.by_hand:
            return self.by_hand.marks
        return max(0.0, each - self.hint_cost) if self.verdict.earns else 0.0


@dataclass(frozen=True)
class ProblemMark:
    """The marks of one problem; `says` is what to tell the student of all its steps together."""

    variant: Variant
    steps: tuple[StepMark, ...]
    says: str = ""
    by_hand: ByHand | None = None

    @property
    def marks(self) -> float:
        """What the steps earn, or what a teacher gave for the whole problem."""
        each = self.variant.problem.marks_per_step
        earned = self.by_hand.marks if self.by_hand else sum(one.marks(each) for one in self.steps)
        return int(earned) if earned == int(earned) else round(earned, 2)

    @property
    def out_of(self) -> int:
        return self.variant.out_of

    @property
    def all_right(self) -> bool:
        """Whether each step earns, or a teacher gave all its marks, or all of the problem's."""
        each = self.variant.problem.marks_per_step
        if self.by_hand:
            return self.by_hand.marks >= self.out_of
        return all(s.by_hand.marks >= each if s.by_hand else s.verdict.earns for s in self.steps)

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

    `answers` maps the keys of steps and boxes to what the student wrote; some may be left out. Under
    `free_working.WORKING` it may have lines of working, each of which is put to the step it computes.
    `hints` says how many of a step's three hints were opened.
    """
    marks = {part.key: StepMark(part, Verdict.BLANK) for part in variant.parts}
    says, from_lines = "", set()
    if variant.problem.ranking:
        says = _judge_order(variant, marks, answers)
    elif variant.boxes:
        _judge_choices(variant, marks, answers)
    else:
        matched = match(variant, answers.get(WORKING, "")) if variant.takes_lines else NO_LINES
        filled = {key: text for key, text in answers.items() if text.strip()}
        from_lines = matched.answers.keys() - filled.keys()
        answers, says = {**matched.answers, **filled}, _of_stray(matched.stray)
        readings = _read_all(variant.working, marks, answers, style, from_lines)
        _judge(variant, marks, readings, style)
        if variant.problem.credits_unshown and not variant.problem.quantity.cells:
            _credit_blanks(variant.working, marks)
    for key, one in marks.items():
        one.wrote = answers.get(key, "").strip()
        one.from_line = key in from_lines
    for key, opened in (hints or {}).items():
        if key in marks:
            marks[key].hint_cost = sum(variant.problem.hint_costs[: max(0, opened)])
    return ProblemMark(variant, tuple(marks.values()), says)


def _of_stray(stray: Sequence[str]) -> str:
    """What to say, kindly, of lines that no step asks for."""
    if not stray:
        return ""
    told = ", ".join(f"“{line}”" for line in stray[:MOST_STRAY])
    if len(stray) == 1:
        return f"{told} leads to nothing that this problem needs. What did you want to know by it?"
    return f"These lines lead to nothing that this problem needs: {told}. What did you want to know by them?"


def same_answers(variant: Variant, one: Mapping[str, str], other: Mapping[str, str]) -> bool:
    """Whether two answers to a problem read the same, as ``355`` and ``355 g`` do."""
    values = variant.working.values()
    if lines(one.get(WORKING, "")) != lines(other.get(WORKING, "")):
        return False
    return all(
        _read_as(part, one.get(part.key, ""), values.get(part.key))
        == _read_as(part, other.get(part.key, ""), values.get(part.key))
        for part in variant.parts
    )


def _read_as(part: Step | Box, text: str, near: float | None) -> float | Option | str:
    """What marking reads in a text: a number or an option, or the text where it reads neither."""
    if isinstance(part, Box):
        return part.chosen(text) or text.strip()
    try:
        return float(f"{read_answer(text, part.kind, near).reading.value:.9g}")
    except ReadingError:
        return text.strip()


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


def _judge_order(variant: Variant, marks: dict[str, StepMark], answers: Mapping[str, str]) -> str:
    """The longest run of items in the right order earns: moving one item costs one mark.

    What is judged, and told, is the order: an item of the run can be in another place than it
    will in the end. One item alone is in no order, and an item chosen twice has no place.
    """
    ranking = variant.problem.ranking
    scores = {item.name: ranking.score(item) for item in variant.items}
    placed = _placed_once(variant, marks, answers)
    if len(placed) == 1:
        one = marks[placed[0][0]]
        one.verdict = Verdict.UNREAD
        one.says = "One alone has no order. Give each of the others a place of its own."
        return ""
    run = _longest_in_order([scores[name] for _, name in placed], ranking.same)
    run = run if len(run) > 1 else []
    for number, (key, name) in enumerate(placed):
        one = marks[key]
        one.verdict = Verdict.IN_ORDER if number in run else Verdict.OUT_OF_ORDER
        if run and number not in run:
            before = [placed[n][1] for n in run if n < number]
            after = [placed[n][1] for n in run if n > number]
            one.says = _where_it_belongs(name, before, after, scores, ranking.same)
    in_order = [placed[n][1] for n in run]
    if len(run) == len(variant.boxes):
        return "All of them are in the right order."
    if run:
        return f"These are in the right order: {', '.join(in_order)}."
    return "No two of these are in the right order yet." if placed else ""


def _placed_once(
    variant: Variant, marks: dict[str, StepMark], answers: Mapping[str, str]
) -> list[tuple[str, str]]:
    """The box and the name of each item that has one place; an item chosen again is told so."""
    placed = []
    for box in variant.boxes:
        option = _chosen(box, marks[box.key], answers.get(box.key, ""))
        if option is not None:
            placed.append((box.key, option.text))
    times = Counter(name for _, name in placed)
    for key, name in placed:
        if times[name] > 1:
            marks[key].verdict = Verdict.UNREAD
            marks[key].says = f"{capital(name)} is chosen {times[name]} times. Give it one place."
    return [(key, name) for key, name in placed if times[name] == 1]


def _where_it_belongs(
    name: str, before: list[str], after: list[str], scores: Mapping[str, float], same: float
) -> str:
    """Which item of the right run is on the wrong side of this one: the last to be passed."""
    for other in before:
        if scores[name] > scores[other] + same:
            return f"{capital(name)} belongs before {other}."
    for other in reversed(after):
        if scores[name] < scores[other] - same:
            return f"{capital(name)} belongs after {other}."
    return ""


def _longest_in_order(scores: list[float], same: float) -> list[int]:
    """The places of the longest run of scores that never rises (by more than `same`)."""
    best: list[list[int]] = []
    for place, score in enumerate(scores):
        before = [run for run in best if score <= scores[run[-1]] + same]
        best.append([*max(before, key=len, default=[]), place])
    return max(best, key=len, default=[])


def _read_all(
    working: Working,
    marks: dict[str, StepMark],
    answers: Mapping[str, str],
    style: Style,
    from_lines: Container[str] = (),
) -> dict[str, Reading]:
    readings, values = {}, working.values()
    for key, one in marks.items():
        text = answers.get(key, "").strip()
        if not text:
            continue
        try:
            answer = read_answer(text, one.step.kind, values[key], style)
        except ReadingError as error:
            one.verdict, one.says = Verdict.UNREAD, str(error)
            continue
        one.reading = readings[key] = answer.reading
        # That a line's result is its result goes without saying.
        note = answer.note if answer.is_doubtful or key not in from_lines else ""
        one.note = " ".join(filter(None, (note, answer.slip)))
    return readings


def read_back(variant: Variant, answers: Mapping[str, str], style: Style = PLAIN) -> dict[str, str]:
    """By step, how each answer is read, where it holds more than a number with its unit; or why not."""
    marks = {key: StepMark(step, Verdict.BLANK) for key, step in variant.working.steps.items()}
    _read_all(variant.working, marks, answers, style)
    told = {
        key: one.note or (one.says if one.verdict is Verdict.UNREAD else "")
        for key, one in marks.items()
    }
    told[WORKING] = " ".join(sums_that_do_not_come_out(answers.get(WORKING, ""), style))
    return {key: says for key, says in told.items() if says}


def _judge(
    variant: Variant, marks: dict[str, StepMark], readings: Mapping[str, Reading], style: Style
) -> None:
    working = variant.working
    right = working.attainable({})
    earlier: dict[str, Reading] = {}
    for key, reading in readings.items():
        one = marks[key]
        reach = margin(one.step, reading, variant.rounding(one.step))
        own = (
            _followed(working, key, reading, earlier, reach)
            if _is_shown(one.step, reading)
            else set()
        )
        if reading.value in right[key].widened(reach) or _all_right(own, marks):
            one.verdict = Verdict.RIGHT
            one.says = f"{working.sentence(key, style)}."
        elif trouble := cannot_be(one.step, reading.value, bool(own)):
            one.verdict, one.says = Verdict.WRONG, trouble
            if not own:
                _diagnose(variant, one, marks, earlier)
                one.says = " ".join(filter(None, (trouble, _explain(one, marks))))
        elif own:
            one.verdict = Verdict.FOLLOWS
            one.says = "Your method is right; only an earlier figure is not."
        elif _is_too_coarse(working.values()[key], reading, reach):
            one.verdict = Verdict.WRONG
            one.says = f"As far as it goes, that is right. Give it {rounded_to(one.step, style)}."
        else:
            one.verdict = Verdict.WRONG
            _diagnose(variant, one, marks, earlier)
            one.says = _explain(one, marks) or _go_on(variant, one, earlier, style)
        if _is_shown(one.step, reading) or reading.value == 0:
            earlier[key] = reading


def _is_shown(step: Step, reading: Reading) -> bool:
    """Whether a scale can show the figure: what rounds to nothing follows from anything, and anything from it."""
    return abs(reading.value) >= step.to


def _is_too_coarse(right: float, reading: Reading, reach: float) -> bool:
    """Whether a figure is the right one, rounded further than the question asks for."""
    return reach < reading.half_unit and abs(right - reading.value) < reading.half_unit * (1 - 1e-9)


def _all_right(own: set[str], marks: Mapping[str, StepMark]) -> bool:
    """Whether a number comes from figures that are all right, and were only rounded."""
    return bool(own) and all(marks[key].verdict is Verdict.RIGHT for key in own)


def _followed(
    working: Working, key: str, reading: Reading, earlier: Mapping[str, Reading], reach: float
) -> set[str]:
    """The student's own figures that a number follows from, by the working or another correct route."""
    shown = set(earlier)
    used = {name for name in shown if working.depends_on(key, name, unless=shown - {name})}
    if used and _is_within(reading, reach, lambda: working.attainable(earlier, key)[key]):
        return used
    for route in routes(working, key):
        used = {name for name in names(route) if name in working.steps}
        if used <= shown and _is_within(
            reading, reach, lambda e=route: working.from_own(e, earlier)
        ):
            return used
    return set()


def _is_within(reading: Reading, reach: float, bounds: Callable[[], Interval]) -> bool:
    try:
        return reading.value in bounds().widened(reach)
    except ZeroDivisionError:
        return False


_NOT_BELOW_NOTHING = {"mass": "weight", "share": "percentage", "volume": "volume", "time": "time"}


def cannot_be(step: Step, value: float, follows: bool) -> str:
    """Says so where no such figure can be, whatever it follows from; else empty."""
    if value < 0 and step.kind in _NOT_BELOW_NOTHING:
        trouble = f"A {_NOT_BELOW_NOTHING[step.kind]} cannot be less than nothing."
    elif follows and value > 1 and step.role in (PART_OF_A_WHOLE, "water content"):
        trouble = "A part cannot be more than the whole."
    else:
        return ""
    return f"{trouble} It follows from your figures: look at those again." if follows else trouble


def _diagnose(
    variant: Variant,
    one: StepMark,
    marks: Mapping[str, StepMark],
    earlier: Mapping[str, Reading],
) -> None:
    found = diagnose(variant.working, one.step.key, one.reading, earlier)
    one.findings, one.in_a_row = list(found.findings), found.in_a_row


def _explain(one: StepMark, marks: Mapping[str, StepMark]) -> str:
    """What the mistakes found say: told where there is one, or one after the other; asked where it is one of two."""
    told = []
    asks = len(one.findings) > 1 and not one.in_a_row
    for finding in one.findings:
        where = ""
        if finding.step != one.step.key:
            where = f" Look at the step “{marks[finding.step].step.label}”."
        told.append((finding.asks if asks else finding.says) + where)
    told = list(dict.fromkeys(told))
    if asks and len(told) > 1:
        return f"{told[0]} Or {told[1][0].lower()}{told[1][1:]}"
    return " And then: ".join(told)


def _go_on(variant: Variant, one: StepMark, earlier: Mapping[str, Reading], style: Style) -> str:
    """What helps where no known mistake explains a number: its size, or the next smaller question."""
    working, key = variant.working, one.step.key
    own = {name: reading.value for name, reading in earlier.items()}
    size = size_check(working, key, one.reading.value, own, style)
    if size:
        return f"Look at the size first. {size}"
    if mistyped(working, key, one.reading):
        return "Look at the digits once more: what you typed, and the sum itself."
    before = [name for name in working.steps if working.depends_on(key, name) and name not in own]
    if before and not variant.is_free:
        return f"Not yet. First find {with_article(working.steps[before[0]].label)}, then go on from there."
    return "Not yet. Check each number against the story, then the sum itself."


def _credit_blanks(working: Working, marks: dict[str, StepMark]) -> None:
    """A step not shown counts as done when a later figure that earns its mark proves it."""
    for one in [each for each in marks.values() if each.reading and each.verdict.earns]:
        for key, other in marks.items():
            if other.verdict is Verdict.BLANK and working.depends_on(one.step.key, key):
                other.verdict = Verdict.NOT_NEEDED


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
    if variant.problem.ranking:
        return _solved_order(variant, style)
    working = variant.working
    lines = [
        f"{step.label}: {working.sentence(step.key, style)}" for step in working.steps.values()
    ]
    for box in variant.boxes:
        for letter, option in box.lettered():
            if option.right:
                chosen = f"{letter}: {option.text}"
                lines.append(
                    " ".join(filter(None, (box.label, _ended(chosen, "."), option.because)))
                )
    return lines


def _solved_order(variant: Variant, style: Style) -> list[str]:
    """The items in the right order, with the figures that put them there."""
    ranking = variant.problem.ranking
    items = sorted(variant.items, key=ranking.score, reverse=True)
    lines = []
    for number, item in enumerate(items):
        line = f"{item.name}: {ranking.tells(item, style)}"
        if number and ranking.score(items[number - 1]) <= ranking.score(item) + ranking.same:
            line += f" (counts as equal to {items[number - 1].name})"
        lines.append(line)
    return lines


def _ended(text: str, sign: str) -> str:
    """A text with a sign after it, where it has none of its own."""
    return text if text.endswith((".", "?", "!", ":")) else text + sign


def introduced(label: str) -> str:
    """A step's label before its answer: “liquid:”, but “Which is drier?”."""
    return _ended(label, ":")
