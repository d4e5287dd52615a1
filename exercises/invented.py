"""An invented class: students who each have a skill and a misconception, and the answers they give.

Nobody here exists. A student works a problem step by step from the student's own figures. A mistake
is always one of `calc.mistakes`: its rewrite of the step, computed with those figures. So no wrong
number is written anywhere, and what was put in is known and can be compared with what marking finds.
Chance comes from a fixed seed: the same set gives the same answers.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from random import Random

from calc import units
from calc.diagnosis import rewritten
from calc.expression import evaluate
from calc.mistakes import CATALOGUE, Mistake
from calc.units import ReadingError, Style
from calc.working import Step, Working
from exercises.draws import Box, Problem, ProblemSet, Variant, draw
from exercises.marking import right_answers

SCHOOL = "the Invented School of Baking"
SEED = "doughwater demo 1"
MOST_MISCONCEPTIONS = 5

# A number this close to the right one is honest rounding, not a mistake.
NEAR = 0.02


@dataclass(frozen=True)
class Skill:
    """How often things go wrong. Shares of the answers, but `wrong_choice` of choices and orders."""

    name: str
    slips: float
    miscopies: float
    blanks: float
    unread: float
    wrong_choice: float


SURE = Skill("sure", slips=0.01, miscopies=0.01, blanks=0.01, unread=0.0, wrong_choice=0.05)
STEADY = Skill("steady", slips=0.03, miscopies=0.02, blanks=0.04, unread=0.01, wrong_choice=0.15)
NEW = Skill("new to it", slips=0.05, miscopies=0.03, blanks=0.10, unread=0.05, wrong_choice=0.30)
SKILLS = (SURE, STEADY, NEW)

# The share of the chances to make it in which a student makes their own mistake.
FIRM, WAVERING = 0.9, 0.5

# What no one can read as an answer.
UNREADABLE = ("a bit more than before", "two cups", "about as much")


class Way(Enum):
    """How a student hands in."""

    FILE = "a file"
    PASTED = "a pasted text"
    SPREADSHEET = "a row of a spreadsheet"
    PAPER = "on paper, typed in"


@dataclass(frozen=True)
class Student:
    """An invented student. `has` is which of the class's misconceptions, from 0; None is none.

    A careful student keeps every figure; others go on from what they wrote. `attempt` draws other
    chances for the same student.
    """

    name: str
    way: Way
    skill: Skill
    has: int | None = None
    rate: float = FIRM
    style: Style = units.PLAIN
    attempt: int = 1

    @property
    def keeps_figures(self) -> bool:
        return self.skill is SURE or self.shows_the_last_only

    @property
    def shows_the_last_only(self) -> bool:
        """A school's system asks for one answer a problem."""
        return self.way is Way.SPREADSHEET


_COMMA, _OUNCES = Style(decimal=","), Style(mass="oz", temperature="°F")

# Given names from many places; family names that nobody has.
STUDENTS = (
    Student("Aiko Ovenglove", Way.FILE, SURE),
    Student("Amina Breadpan", Way.FILE, STEADY, 0),
    Student("Arjun Rollingpin", Way.FILE, STEADY, 1),
    Student("Ayşe Flourbag", Way.FILE, NEW, 0, style=_COMMA),
    Student("Chidi Doughhook", Way.FILE, STEADY, 2, style=_OUNCES),
    Student("Eleni Scalepan", Way.FILE, NEW, 3),
    Student("Inês Proofbox", Way.FILE, SURE, style=_COMMA),
    Student("Ji-woo Crumbtray", Way.FILE, STEADY, 0),
    Student("Kwame Milkjug", Way.FILE, NEW, 1),
    Student("Leila Yeastpot", Way.PASTED, STEADY, 1),
    Student("Łukasz Bunfold", Way.PASTED, NEW, 0, WAVERING, _COMMA),
    Student("Malia Saltspoon", Way.PASTED, SURE, style=_OUNCES),
    Student("Mateo Loaftin", Way.PASTED, STEADY, 2),
    Student("Mei Doughscraper", Way.PASTED, STEADY),
    Student("Minh Breadbin", Way.SPREADSHEET, STEADY, 0, style=_COMMA),
    Student("Oksana Jamjar", Way.SPREADSHEET, STEADY, 1, style=_COMMA),
    Student("Omar Mixingbowl", Way.SPREADSHEET, SURE, style=_COMMA),
    Student("Priya Ovendoor", Way.SPREADSHEET, NEW, 2, style=_COMMA),
    Student("Søren Flourscoop", Way.SPREADSHEET, STEADY, 3, style=_COMMA),
    Student("Sofía Butterdish", Way.PAPER, STEADY, 0),
    Student("Tāne Eggtimer", Way.PAPER, NEW, 1, WAVERING),
    Student("Thandiwe Teatowel", Way.PAPER, SURE),
    Student("Yusuf Crustknife", Way.PAPER, STEADY, 4),
    Student("Zoë Pastrybrush", Way.PAPER, STEADY, 2),
)


@dataclass
class Work:
    """What a student wrote, and what was put in.

    `made` lists (problem, mistake) for each mistake that the answers carry; `chances` and `taken`
    count the steps that admitted the student's misconception, and those where it was made.
    """

    student: Student
    misconception: Mistake | None
    answers: dict[str, dict[str, str]] = field(default_factory=dict)
    made: list[tuple[str, str]] = field(default_factory=list)
    chances: int = 0
    taken: int = 0
    events: Counter[str] = field(default_factory=Counter)


def misconceptions(problem_set: ProblemSet) -> list[Mistake]:
    """The mistakes that suit a set: the common ones it admits, then those most steps admit."""
    spoils: Counter[str] = Counter()
    for problem in problem_set.problems:
        drawn = draw(problem_set, problem, "")
        values = drawn.working.values()
        for step in drawn.working.steps.values():
            spoils.update(key for key, _ in set(_spoiled(drawn.working, step, values)))
    # A slip that is sought only in a step written down would not be found in a last answer alone.
    fit = [one for one in CATALOGUE if spoils[one.key] and not one.when_shown]
    fit.sort(key=lambda one: (not one.in_pairs, 0 if one.in_pairs else -spoils[one.key]))
    return fit[:MOST_MISCONCEPTIONS]


def work(problem_set: ProblemSet, student: Student) -> Work:
    """A student works through a set."""
    known = misconceptions(problem_set)
    has = known[student.has % len(known)] if known and student.has is not None else None
    done = Work(student, has)
    for problem in problem_set.problems:
        seed = (SEED, problem_set.key, student.name, str(student.attempt), problem.id)
        _Problem(done, draw(problem_set, problem, student.name), Random("\n".join(seed))).work()
    return done


def asks_for_all(problem: Problem) -> bool:
    """Whether even who writes only last answers must fill every box: choices, orders and tables."""
    return problem.quantity is None or problem.quantity.cells


@dataclass
class _Problem:
    """One student at one problem."""

    done: Work
    drawn: Variant
    chance: Random
    made: list[str] = field(default_factory=list)
    chances: int = 0

    def work(self) -> None:
        answers = self.computed() if self.drawn.working.steps else self.chosen()
        self.done.answers[self.drawn.problem.id] = {k: text for k, text in answers.items() if text}
        self.done.made += [(self.drawn.problem.id, key) for key in self.made]
        self.done.chances += self.chances
        if self.done.misconception:
            self.done.taken += self.made.count(self.done.misconception.key)

    # Numbers.

    def computed(self) -> dict[str, str]:
        working, answers = self.drawn.working, {}
        own = {given.key: given.value for given in working.givens.values()}
        hidden = self.done.student.shows_the_last_only and not asks_for_all(self.drawn.problem)
        for step in working.steps.values():
            unseen = hidden and step is not working.answer
            value, mistake = self.method(step, own)
            answers[step.key], own[step.key] = self.written(step, value, mistake or unseen)
            if mistake:
                self.made.append(mistake)
        if not hidden:
            return answers
        last = answers[working.answer.key]
        if not last or last in UNREADABLE:
            # Nothing shows what was done before.
            self.made, self.chances = [], 0
        return {working.answer.key: last}

    def method(self, step: Step, own: Mapping[str, float]) -> tuple[float, str]:
        """What a step comes to by the student's method, and the mistake made in it, if any."""
        working, has = self.drawn.working, self.done.misconception
        spoiled = list(_spoiled(working, step, own))
        mine = [one for one in spoiled if has and one[0] == has.key]
        if mine:
            self.chances += 1
            if self.chance.random() < self.done.student.rate:
                return self.of(mine)
        other = [one for one in spoiled if one not in mine]
        if other and self.chance.random() < self.done.student.skill.slips:
            return self.of(other)
        return evaluate(step.expression, own.__getitem__, float), ""

    def of(self, spoiled: list[tuple[str, float]]) -> tuple[float, str]:
        key, value = self.chance.choice(spoiled)
        return value, key

    def written(self, step: Step, value: float, as_it_is: object) -> tuple[str, float]:
        """The text for a step, and the figure to go on from."""
        student = self.done.student
        finely = student.keeps_figures or student.style.decimal == ","
        guard = 1 if finely and step.kind == "mass" and step.to >= 1 else 0
        text = units.write(value, step.kind, student.style, step.to, guard)
        if not as_it_is:
            event = self.event()
            if event == "blank":
                return "", value
            if event == "unread":
                return self.chance.choice(UNREADABLE), value
            if event == "miscopied":
                text = self.miscopied(text, step, value)
        figure = units.read(text, step.kind).value
        return text, value if student.keeps_figures or figure <= 0 else figure

    def event(self) -> str:
        """What befalls an answer; nothing most of the time."""
        skill, luck = self.done.student.skill, self.chance.random()
        for name, share in (
            ("blank", skill.blanks),
            ("unread", skill.unread),
            ("miscopied", skill.miscopies),
        ):
            if luck < share:
                if name != "miscopied":
                    self.done.events[name] += 1
                return name
            luck -= share
        return ""

    def miscopied(self, text: str, step: Step, value: float) -> str:
        """Two figures that are side by side change places, where that makes another number."""
        for n in range(len(text) - 1):
            one, two = text[n : n + 2]
            if one.isdigit() and two.isdigit() and one != two:
                slip = f"{text[:n]}{two}{one}{text[n + 2 :]}"
                if _is_another(units.read(slip, step.kind).value, value, step):
                    self.done.events["miscopied"] += 1
                    return slip
        return text

    # Choices and orders.

    def chosen(self) -> dict[str, str]:
        answers = right_answers(self.drawn)
        if self.drawn.problem.ranking:
            if self.wrong():
                first, second = self.chance.sample(list(answers), 2)
                answers[first], answers[second] = answers[second], answers[first]
            return answers
        return {box.key: self.choice(box, answers[box.key]) for box in self.drawn.boxes}

    def wrong(self) -> bool:
        return self.chance.random() < self.done.student.skill.wrong_choice

    def choice(self, box: Box, right: str) -> str:
        event = self.event()
        if event in ("blank", "unread"):
            return "" if event == "blank" else "?"
        others = [letter for letter, option in box.lettered() if not option.right]
        return self.chance.choice(others) if others and self.wrong() else right


def _spoiled(working: Working, step: Step, own: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    """The mistakes a step admits, each with the wrong number it gives from the student's figures."""
    right = evaluate(step.expression, own.__getitem__, float)
    for one in rewritten(working, step.key):
        try:
            value = evaluate(one.expression, own.__getitem__, float)
        except ZeroDivisionError:
            continue
        if _is_another(value, right, step) and _can_be_written(value, step):
            yield one.mistake.key, value


def _is_another(value: float, right: float, step: Step) -> bool:
    return abs(value - right) > max(2 * step.to, NEAR * abs(right))


def _can_be_written(value: float, step: Step) -> bool:
    """A student notices what the scale cannot show, and what is longer than any number."""
    if not 2 * step.to < value < math.inf:
        return False
    try:
        units.read(units.write(value, step.kind, step=step.to), step.kind)
    except ReadingError:
        return False
    return True


def again(student: Student) -> Student:
    """The same student after a talk with the teacher."""
    return replace(student, way=Way.PASTED, has=None, attempt=student.attempt + 1)
