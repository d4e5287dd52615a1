"""A school's own scale of grades: what share of the marks gives which grade."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

MOST_GRADES = 50
LONGEST_GRADE = 40
_PART = re.compile(r"\s*([^=]*?)\s*=\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*%?\s*$")
_BETWEEN = re.compile(r"[;\n]|,(?!\d+\s*%?\s*(?:[,;\n]|$))")


class ScaleError(ValueError):
    """A scale that cannot be used; the message says why."""


@dataclass(frozen=True)
class Scale:
    """Grades with the percent from which each is given, the highest first."""

    steps: tuple[tuple[str, float], ...]

    def grade(self, percent: float) -> str:
        """The grade for a percentage as it is shown, to one decimal: the two columns agree."""
        shown = round(percent, 1)
        for grade, least in self.steps:
            if shown >= least:
                return grade
        return f"below {self.steps[-1][0]}"


def read_scale(text: str) -> Scale:
    """``A=90, B=80, C=70`` as a scale; semicolons and lines part too. Raises ScaleError."""
    steps = []
    for part in filter(str.strip, _BETWEEN.split(text)):
        match = _PART.match(part)
        if not match or not match[1] or len(match[1]) > LONGEST_GRADE or not match[1].isprintable():
            raise ScaleError(f"“{part.strip()[:40]}” is no step of a scale. Write it as A=90: the grade, and the least per cent.")  # fmt: skip
        least = float(match[2].replace(",", "."))
        if least > 100:
            raise ScaleError(f"{match[1]}={match[2]}: nobody earns more than 100 per cent.")
        steps.append((match[1], least))
    if not steps or len(steps) > MOST_GRADES:
        raise ScaleError("A scale has some grades, each with its least per cent: A=90, B=80, C=70.")
    steps.sort(key=lambda step: -step[1])
    for (one, least), (other, same) in pairwise(steps):
        if least == same:
            raise ScaleError(f"{one} and {other} begin at the same per cent.")
    return Scale(tuple(steps))
