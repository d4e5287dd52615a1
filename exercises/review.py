"""Look over a set's draws before a class does: the smallest and largest answers, and look-alikes."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from calc import units
from calc.words import counted
from exercises.draws import Choice, Problem, Variant, variant

# Up to this many draws each one is looked at; beyond, as many are taken at random (the same ones
# each time) together with every corner.
MOST_DRAWS = 2_000


@dataclass(frozen=True)
class Review:
    """What was seen of a problem's draws, from the smallest answer to the largest."""

    problem: Problem
    possible: int
    draws: tuple[Variant, ...]
    absurd: tuple[str, ...]

    @property
    def all_alike(self) -> bool:
        """Whether in each draw two mistakes give one number; whoever only reads a set does not ask."""
        return all(drawn.alike for drawn in self.draws)


def review(problem: Problem, most: int = MOST_DRAWS) -> Review:
    """Look at the draws of a problem that asks for numbers.

    `absurd` says, in words for the set's writer, what no class should be given.
    """
    possible = math.prod(len(choices) for choices in problem.givens.values())
    ranked: list[tuple[float, int, Variant]] = []
    absurd: dict[str, None] = {}
    for number, picked in enumerate(_picks(problem, possible, most)):
        drawn = variant(problem, picked)
        values = drawn.working.values()
        ranked.append((values[drawn.working.answer.key], number, drawn))
        trouble = _absurd(drawn, values)
        if trouble and not absurd:
            given = ", ".join(choice.shown for choice in picked.values())
            absurd[f"With {given}: {trouble}"] = None
    return Review(problem, possible, tuple(drawn for *_, drawn in sorted(ranked)), tuple(absurd))


def describe(seen: Review) -> str:
    """One line for the set's writer: how many draws, the smallest and largest answer, look-alikes."""
    smallest, largest = seen.draws[0], seen.draws[-1]
    step = smallest.working.answer.key
    low, high = (drawn.working.weighed(step) for drawn in (smallest, largest))
    count = counted(seen.possible, "draw")
    line = f"{count}, answers from {low} ({_given(smallest)}) to {high} ({_given(largest)})"
    if seen.all_alike:
        return f"{line}; in every draw two mistakes give one number: vary the givens"
    return line


def _given(drawn: Variant) -> str:
    return ", ".join(drawn.shown[name] for name in drawn.problem.givens)


def _picks(problem: Problem, possible: int, most: int) -> Iterator[dict[str, Choice]]:
    names = list(problem.givens)
    every = list(problem.givens.values())
    if possible <= most:
        for choices in itertools.product(*every):
            yield dict(zip(names, choices, strict=True))
        return
    for corner in itertools.product(*({choices[0]: 0, choices[-1]: 0} for choices in every)):
        yield dict(zip(names, corner, strict=True))
    chance = random.Random(problem.id)
    for _ in range(most):
        yield {name: chance.choice(choices) for name, choices in problem.givens.items()}


def _absurd(drawn: Variant, values: dict[str, float]) -> str:
    quantity = drawn.problem.quantity
    answer = drawn.working.answer
    for step in drawn.working.steps.values():
        if values[step.key] < 0 and step.kind in ("mass", "share"):
            shown = units.write(values[step.key], step.kind)
            return f"the {step.label} comes to {shown}, less than nothing. Choose other givens."
    if not quantity.plausible_low <= values[answer.key] <= quantity.plausible_high:
        shown, low, high = (
            units.write_exact(number, answer.kind)
            for number in (values[answer.key], quantity.plausible_low, quantity.plausible_high)
        )
        return f"the answer is {shown}. Choose givens that keep it between {low} and {high}."
    return ""
