"""What a problem trains: a short list of skills, each in a student's words, with a page to read.

A problem says by what it asks which skill it trains. Where no row of the table names that (a choice
with its reason, or a calculation that has just been added), the lesson of its set is the skill.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from exercises import problems
from exercises.draws import Problem, ProblemSet
from exercises.lessons import LESSONS


@dataclass(frozen=True)
class Skill:
    """Something to practise.

    `name` completes “You can …”, `page` is where it is taught (an address from the site's start),
    and `asked` are the quantities and the rankings that train it.
    """

    key: str
    name: str
    page: str
    asked: tuple[str, ...] = ()


# In teaching order: a new skill is suggested in this order too.
SKILLS = (
    Skill(
        "percentages", "count in baker's percentages", "lessons/bakers-percentage/",
        (
            "weight from baker's percentage", "baker's percentage", "percentage on total flour",
            "flour from a percentage", "weights from percentages",
        ),
    ),
    Skill(
        "hydration", "find how wet a dough is", "lessons/what-hydration-means/",
        (
            "water needed", "hydration", "hydration after gram for gram",
            "hydration of an enriched dough", "hydration by weight of the liquids",
            "hydration with all added water", "hydration with the flour's moisture",
            "hydration in each meaning", "hydration by water and milk alone",
            "hydration with scalded milk",
        ),
    ),
    Skill(
        "water-content", "find the water in a liquid", "lessons/finding-the-water/",
        (
            "water in a liquid", "water from a pack", "water from a US pack", "water by drying",
            "water content",
        ),
    ),
    Skill(
        "swap", "swap one liquid for another", "lessons/divide-by-the-water-content/",
        ("new liquid", "liquid for liquid", "weight for the same water"),
    ),
    Skill(
        "parts-and-blends", "swap a part, or a blend", "lessons/part-swaps-blends-eggs/",
        (
            "part swap", "blend water", "blend in place of water", "hydration with two liquids",
            "liquid beside another",
        ),
    ),
    Skill(
        "formula", "convert a whole formula", "lessons/what-rides-along/",
        ("converted formula",),
    ),
    Skill(
        "fat", "count the fat that comes along", "lessons/what-rides-along/",
        ("fat brought", "protein brought", "butter to take out", "most that fits under a fat limit", "fat content"),
    ),
    Skill(
        "sugar-and-salt", "count the sugar and salt that come along", "lessons/what-rides-along/",
        (
            "sugar brought", "salt brought", "sugar left to add", "salt left to add",
            "sugar content", "salt content",
        ),
    ),
    Skill(
        "feel", "say how a dough may feel and bake", "lessons/acidity-and-feel/",
        (
            "raised hydration for a sour liquid", "extra water for a sour liquid",
            "acid in a dough", "sour part of the water", "softener for a sour dough",
            "tightness", "crust colour", "softness", "proof time",
        ),
    ),
    Skill(
        "preferment", "count a preferment in", "lessons/preferments/",
        (
            "overall hydration with a preferment", "liquid left for the final dough",
            "flour and liquid in a preferment", "total flour with a preferment",
            "prefermented flour", "baker's percentage with a preferment",
            "preferment for a share of the flour",
        ),
    ),
    Skill(
        "temperature", "bring a dough to its temperature", "lessons/dough-temperature/",
        (
            "water temperature", "friction factor", "ice needed",
            "dough temperature by heat", "liquid temperature by heat",
        ),
    ),
    Skill(
        "scaling", "make more or less of a dough", "lessons/scaling-and-rounding/",
        (
            "dough for pieces", "flour for a dough weight", "scaling factor", "dough for a tin",
            "weight of a volume", "error of a reading", "recipe for a smaller bowl",
            "liquid for an order",
        ),
    ),
    Skill(
        "results", "read what came out of the oven", "lessons/side-by-side-bake/",
        ("bake loss", "specific volume", "mean of three loaves", "gap that two means need"),
    ),
    Skill(
        "handling", "keep a dough safe", "lessons/safe-handling/",
        ("time left out of the cold",),
    ),
    Skill(
        "flours", "say what a flour brings, in numbers", "lessons/what-the-flour-does/",
        (
            "protein of two flours", "strong flour for a wanted protein", "water for two flours",
            "fat and sugar of a dough", "protein content",
        ),
    ),
)  # fmt: skip

_BY_ASKED = {asked: skill for skill in SKILLS for asked in skill.asked}


def skill_of(problem: Problem, lesson: str = "") -> Skill:
    """The skill a problem trains; `lesson` is that of its set."""
    asked = problem.quantity or problem.ranking
    of = problem.lesson or lesson or next(iter(LESSONS))
    return _BY_ASKED.get(asked.name if asked else "") or of_lesson(of)


def of_lesson(lesson: str) -> Skill:
    """The skill of a lesson as a whole, for what no row of the table names."""
    name = f"answer questions on “{LESSONS[lesson]}”"
    return Skill(f"lesson-{lesson}", name, f"lessons/{lesson}/")


@dataclass(frozen=True)
class Exercise:
    """A problem in its set. `key` names it in a log of attempts."""

    problem_set: ProblemSet
    problem: Problem

    @property
    def key(self) -> str:
        return f"{self.problem_set.key}/{self.problem.id}"

    @property
    def skill(self) -> Skill:
        return skill_of(self.problem, self.problem_set.lesson)


@cache
def exercises() -> dict[str, Exercise]:
    """Every problem of every set that comes with the project, by its key."""
    return {each.key: each for each in _all_exercises()}


def _all_exercises() -> Iterator[Exercise]:
    for key in sorted(problems.set_keys(), key=_place):
        problem_set = problems.load(key)
        for problem in problem_set.problems:
            yield Exercise(problem_set, problem)


def _place(key: str) -> tuple[int, str]:
    """The lessons' sets in teaching order, then the mixed ones."""
    return (list(LESSONS).index(key) if key in LESSONS else len(LESSONS)), key


@cache
def trained() -> dict[Skill, tuple[Exercise, ...]]:
    """The skills that some problem trains, in teaching order, each with its problems."""
    found: dict[Skill, list[Exercise]] = {skill: [] for skill in SKILLS}
    for each in exercises().values():
        found.setdefault(each.skill, []).append(each)
    return {skill: tuple(those) for skill, those in found.items() if those}
