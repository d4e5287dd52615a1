"""The list of problem sets, each with what it is about and how many problems it has at each level."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.course.kitchen_picture import picture
from docs.course.pictures.scenes import SCENES
from exercises import problems
from exercises.draws import ProblemSet
from exercises.lessons import LESSONS
from exercises.problems import LEVELS
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``of`` is ``lessons`` (the set of each lesson, in their order) or ``mixed`` (all others)."""
    lessons = [key for key in LESSONS if key in problems.set_keys()]
    mixed = [key for key in problems.set_keys() if key not in LESSONS]
    chosen = {"lessons": lessons, "mixed": mixed}.get(attributes.get("of", ""))
    if chosen is None:
        raise ValueError("“of” must be lessons or mixed")
    return [element("ul", *(_line(problems.load(key)) for key in chosen), class_="dw-sets")]


def _line(problem_set: ProblemSet) -> Element:
    link = element("a", problem_set.title, href="#", data_site=f"practice/{problem_set.key}/")
    shown = problem_set.key if problem_set.key in SCENES else "loaf"
    standing = element("span", class_="dw-standing", data_standing=problem_set.key)
    about = element("span", f"{count(problem_set)}. {problem_set.about} ", standing)
    return element("li", picture(shown, "small"), link, about)


def count(problem_set: ProblemSet) -> str:
    """“9 problems: 4 at level 1, 5 at level 2”."""
    levels = Counter(problem.level for problem in problem_set.problems)
    parts = [f"{levels[level]} at level {level}" for level in LEVELS if levels[level]]
    return f"{counted(len(problem_set.problems), 'problem')}: {', '.join(parts)}"
