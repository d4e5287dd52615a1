"""Problems, and one student's draw of them.

A student's numbers follow from set, version, problem and name alone, by SHA-256, so they are the
same on every machine.
"""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

from calc import units
from calc.composition import Ingredient
from calc.diagnosis import alike
from calc.registry import BENCH_SHARES, Quantity, Ranking
from calc.units import PLAIN, Style
from calc.words import counted
from calc.working import Step, Working, is_usual, rounded_to, whole
from exercises.due import Due

MOST_REDRAWS = 20
# At this level a student plans the steps, so no box names them.
FREE_LEVEL = 3
# Marks that are around an option or its letter, and mean nothing.
_AROUND = re.compile(r"[()\[\].:;,!?“”\"'’]+")
PLACEHOLDER = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True)
class Choice:
    """A value a given can take: as `calc` needs it, and as the story shows it."""

    value: float | Ingredient
    shown: str


@dataclass(frozen=True)
class Option:
    """An answer to choose; `because` is told when it is chosen."""

    text: str
    right: bool
    because: str = ""


@dataclass(frozen=True)
class Box:
    """A place for an answer that is chosen, not computed. The options are in the student's order.

    With `show`, a draw takes that many of the options: one right one and some of the wrong ones.
    """

    key: str
    label: str
    options: tuple[Option, ...]
    kind: str = "choice"
    show: int = 0

    def chosen(self, text: str) -> Option | None:
        """The option a student named by its letter, its words or both: “b”, “(b)”, “b) butter.”"""
        wanted = _bare(text)
        for letter, option in self.lettered():
            words = _bare(option.text)
            if wanted in (letter, words, f"{letter} {words}"):
                return option
        return None

    def lettered(self) -> list[tuple[str, Option]]:
        """The options with their letters: a, b, c …"""
        return [(chr(ord("a") + n), option) for n, option in enumerate(self.options)]


@dataclass(frozen=True, eq=False)
class Problem:
    """One problem: a story, and what is asked.

    Exactly one of `quantity` (numbers, by steps), `questions` (options to choose) and `ranking`
    (items to put in order) says what is asked. `show` is how many of the items a draw takes (0: all).
    `hint_costs` are the marks each of the four hints takes from its step. `level` is 1 (one idea),
    2 (two or three steps) or 3 (the whole job).
    """

    id: str
    title: str
    story: str
    quantity: Quantity | None = None
    givens: dict[str, tuple[Choice, ...]] = field(default_factory=dict)
    questions: tuple[Box, ...] = ()
    ranking: Ranking | None = None
    items: tuple[Ingredient, ...] = ()
    show: int = 0
    level: int = 1
    # The earlier lesson that it brings back; none where it belongs to the lesson of its set.
    lesson: str = ""
    marks_per_step: int = 1
    tries: int = 3
    hint_costs: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    # Whether a right answer earns the marks of the steps before it that were not written down.
    credits_unshown: bool = True


@dataclass(frozen=True)
class ProblemSet:
    """A set: `key` is its own name, else its file's name; `content` a short digest of what it asks.

    Two sets of one key with another `content` are not the same set, or not the same text of it.
    """

    key: str
    title: str
    version: int
    lesson: str
    about: str
    problems: tuple[Problem, ...]
    # The problems of the whole set that are not asked here.
    not_asked: tuple[Problem, ...] = ()
    content: str = ""
    due: Due | None = None
    # The set's own ingredients, which the table does not have.
    ingredients: tuple[Ingredient, ...] = ()

    def problem(self, problem_id: str) -> Problem | None:
        return next((p for p in self.problems if p.id == problem_id), None)

    def of_level(self, level: int) -> ProblemSet:
        """Its problems of one level; every student's numbers and code stay as in the whole set."""
        part = self.only(problem.id for problem in self.problems if problem.level == level)
        return replace(part, title=f"{self.title}, level {level}")

    def only(self, ids: Iterable[str]) -> ProblemSet:
        """Some of its problems, in its order; every student's numbers and code stay as in the whole set.

        Raises KeyError with an id that it does not have.
        """
        wanted = frozenset(ids)
        for unknown in wanted - {problem.id for problem in self.problems}:
            raise KeyError(unknown)
        asked = tuple(p for p in self.problems if p.id in wanted)
        others = tuple(p for p in self.problems if p.id not in wanted)
        number = f"{len(asked)} of {counted(len(self.problems), 'problem')}"
        return replace(self, title=f"{self.title}, {number}", problems=asked, not_asked=(*self.not_asked, *others))  # fmt: skip


@dataclass(frozen=True, eq=False)
class Variant:
    """A problem with one student's numbers (or order of options) in it.

    `working` has the steps to compute, none where answers are chosen; `boxes` the places to choose,
    `items` what to put in order.
    """

    problem: Problem
    shown: dict[str, str]
    working: Working
    boxes: tuple[Box, ...] = ()
    items: tuple[Ingredient, ...] = ()

    @property
    def story(self) -> str:
        """The story with the student's numbers in the braces."""
        return PLACEHOLDER.sub(lambda m: self.shown.get(m[1], m[0]), self.problem.story)

    @property
    def parts(self) -> tuple[Step | Box, ...]:
        """Every place for an answer, in order."""
        return (*self.working.steps.values(), *self.boxes)

    @property
    def out_of(self) -> int:
        return self.problem.marks_per_step * len(self.parts)

    @property
    def takes_lines(self) -> bool:
        """Whether free working can stand in place of its boxes: it has steps, and they are no table."""
        quantity = self.problem.quantity
        return quantity is not None and not quantity.cells and len(self.working.steps) > 1

    @property
    def is_free(self) -> bool:
        """Whether its steps have no boxes: the plan is the student's own."""
        return self.takes_lines and self.problem.level == FREE_LEVEL

    @cached_property
    def asked(self) -> tuple[Step, ...]:
        """The steps whose results are what the story asks for."""
        steps, quantity = self.working.steps, self.problem.quantity
        if quantity is None or quantity.cells:
            return tuple(steps.values())
        return tuple(steps[key] for key in quantity.asks or (self.working.answer.key,))

    def rounding(self, step: Step) -> float:
        """How coarsely a step's result may be rounded, in calc's unit: an answer as it is told."""
        return step.to if step in self.asked else self.working.enough(step.key)

    def told(self, step: Step, style: Style = PLAIN) -> str:
        """What to tell of a step's rounding: “to 0.1 g”; empty where it is rounded as all are."""
        if step in self.asked:
            return rounded_to(step, style)
        value = self.working.values()[step.key]
        return (
            "" if is_usual(step, value) else rounded_to(replace(step, to=whole(step, value)), style)
        )

    @cached_property
    def alike(self) -> tuple[str, str] | tuple[()]:
        """Two mistakes that give the same number in some step, or one that gives the right number."""
        return alike(self.working)


def draw(problem_set: ProblemSet, problem: Problem, student: str) -> Variant:
    """One student's variant. The same set, version, problem and name give the same numbers.

    A draw in which two mistakes give one number cannot be told apart when it is marked, so it is
    drawn again, at most `MOST_REDRAWS` times.
    """
    seed = (problem_set.key, str(problem_set.version), problem.id, plain_name(student))
    if problem.quantity is None:
        items = _ordered(problem, seed)
        boxes = _places(items, seed) if items else _questions(problem, seed)
        return Variant(problem, {}, Working(problem.title), boxes, items)
    first = None
    for again in range(MOST_REDRAWS + 1):
        drawn = _variant_of_picks(problem, _picks(problem, (*seed, str(again))))
        if not drawn.alike:
            return drawn
        first = first or drawn
    return first


def _number(*seed: str) -> int:
    return int.from_bytes(hashlib.sha256("\n".join(seed).encode()).digest())


def _picks(problem: Problem, seed: tuple[str, ...]) -> tuple[int, ...]:
    """Which choice each given takes."""
    return tuple(_number(*seed, given) % len(choices) for given, choices in problem.givens.items())


def _questions(problem: Problem, seed: tuple[str, ...]) -> tuple[Box, ...]:
    """The questions with one student's options, shuffled."""
    return tuple(
        Box(box.key, box.label, _shown(box, (*seed, box.key))) for box in problem.questions
    )


def _shown(box: Box, seed: tuple[str, ...]) -> tuple[Option, ...]:
    """The options a student sees: all of them, or one right one and as many wrong ones as fit."""
    options = _shuffled(box.options, (*seed, "shown")) if box.show else box.options
    right = [option for option in options if option.right][:1]
    wrong = [option for option in options if not option.right]
    kept = [*right, *wrong[: box.show - 1]] if box.show else options
    return _shuffled(kept, seed)


def _ordered(problem: Problem, seed: tuple[str, ...]) -> tuple[Ingredient, ...]:
    """The items that one student puts in order."""
    if not problem.show:
        return problem.items
    mixed = sorted(problem.items, key=lambda item: _number(*seed, "shown", item.name))
    return tuple(mixed[: problem.show])


def _places(items: tuple[Ingredient, ...], seed: tuple[str, ...]) -> tuple[Box, ...]:
    """A box for each place in an order, all with the same options."""
    options = _shuffled([Option(item.name, True) for item in items], seed)
    return tuple(Box(f"place {n}", f"place {n}", options) for n in range(1, len(options) + 1))


def _shuffled(options: Iterable[Option], seed: tuple[str, ...]) -> tuple[Option, ...]:
    return tuple(sorted(options, key=lambda option: _number(*seed, option.text)))


@lru_cache(maxsize=20_000)
def _variant_of_picks(problem: Problem, picks: tuple[int, ...]) -> Variant:
    """Students share variants: a class marks faster when each is built once."""
    return variant(
        problem,
        {
            given: choices[pick]
            for (given, choices), pick in zip(problem.givens.items(), picks, strict=True)
        },
    )


def variant(problem: Problem, picked: dict[str, Choice]) -> Variant:
    """A problem with the given choices put in."""
    working = problem.quantity.working({given: choice.value for given, choice in picked.items()})
    return Variant(problem, shown_of(picked), working)


def shown_of(picked: dict[str, Choice]) -> dict[str, str]:
    """What a story can tell of some choices: each as it is written, and what the table knows of it."""
    told = {given: choice.shown for given, choice in picked.items()}
    for given, choice in picked.items():
        if isinstance(choice.value, Ingredient):
            for each in BENCH_SHARES:
                share = getattr(choice.value, each.part)
                if share is not None:
                    step = 10.0**-each.decimals
                    told[f"{each.name} of {given}"] = units.write(share, "share", step=step)
            if choice.value.density is not None:
                told[f"density of {given}"] = units.write_exact(choice.value.density, "density")
    return told


def _bare(text: str) -> str:
    """Words without the case, the brackets and the full stops that writing adds."""
    return plain_name(_AROUND.sub(" ", text))


# Which of them a keyboard writes is its own choice.
_KEYS = str.maketrans({**dict.fromkeys("’‘ʼ`´", "'"), **dict.fromkeys("‐‑‒–—−", "-")})


def plain_name(student: str) -> str:
    """A name without the differences that typing makes: case, accents' encoding, kinds of apostrophe and hyphen, extra spaces."""
    plain = unicodedata.normalize("NFKC", student.translate(_KEYS)).casefold()
    return " ".join(plain.split())
