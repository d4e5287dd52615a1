"""How well the diagnosis names mistakes: ``python -m tests.bench.diagnosis [draws]``.

For every problem of every set, with many students' draws:

- named rightly: a student makes one known mistake in one step and writes that step, rounded to the
  scale; the share in which the marking names this mistake (alone, or as one of two).
- blamed wrongly: a student writes a random wrong number; the share in which a mistake is named.
- alike: the share of draws in which two mistakes give the same number in some step.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass

from calc import units
from calc.mistakes import outcomes, rewritten
from calc.working import Step
from exercises.marking import Verdict, mark
from exercises.problems import Variant, draw, load, set_keys


@dataclass
class Tally:
    """Counts of one problem."""

    made: int = 0
    named: int = 0
    random: int = 0
    blamed: int = 0
    draws: int = 0
    alike: int = 0

    def add(self, other: Tally) -> None:
        for name in vars(self):
            setattr(self, name, getattr(self, name) + getattr(other, name))


def written(value: float, step: Step) -> str:
    """A number as a student writes it: rounded to the scale of the step."""
    return units.write(value, step.kind, step=step.to)


def slips(variant: Variant) -> Iterator[tuple[str, str, str]]:
    """Every (step, mistake, number written) that one known mistake gives and that is not right."""
    right = variant.working.honest({})
    for key, step in variant.working.steps.items():
        for mistake, changed in rewritten(variant.working, key):
            for value in outcomes(variant.working, key, {key: changed})[:1]:
                # Below the scale's step nothing can be read off, and less than nothing is no weight.
                if value > 2 * step.to and value not in right[key].widened(step.to):
                    yield key, mistake.key, written(value, step)


def shown_before(variant: Variant, key: str) -> dict[str, str]:
    """The steps before `key`, written and right."""
    answers = {}
    for step in variant.working.steps.values():
        if step.key == key:
            break
        answers[step.key] = written(variant.working.values()[step.key], step)
    return answers


def tally(variant: Variant, chance: random.Random) -> Tally:
    """Every known mistake once, and as many random numbers."""
    found = Tally(draws=1, alike=bool(variant.alike))
    values = variant.working.values()
    for key, mistake, number in slips(variant):
        shown = shown_before(variant, key)
        result = next(s for s in mark(variant, shown | {key: number}).steps if s.step.key == key)
        if result.verdict is Verdict.WRONG:
            found.made += 1
            found.named += mistake in {finding.mistake.key for finding in result.findings}
        # Any size from a fifth to five times the right number is as likely as any other.
        wrong = written(values[key] * 5 ** chance.uniform(-1, 1), result.step)
        result = next(s for s in mark(variant, shown | {key: wrong}).steps if s.step.key == key)
        if result.verdict is Verdict.WRONG:
            found.random += 1
            found.blamed += bool(result.findings)
    return found


def report(draws: int) -> Tally:
    """Print a line a problem, and return the whole."""
    whole = Tally()
    print(f"{'problem':44} named rightly  blamed wrongly  alike   ({draws} draws each)")
    for key in set_keys():
        problem_set = load(key)
        for problem in filter(lambda each: each.quantity, problem_set.problems):
            found = Tally()
            chance = random.Random(f"{key}/{problem.id}")
            for number in range(draws):
                found.add(tally(draw(problem_set, problem, f"student {number}"), chance))
            print(_line(f"{key}/{problem.id}", found))
            whole.add(found)
    print(_line("all", whole))
    return whole


def _line(name: str, found: Tally) -> str:
    shares = (
        found.named / max(1, found.made),
        found.blamed / max(1, found.random),
        found.alike / max(1, found.draws),
    )
    return f"{name:44} {shares[0]:12.1%} {shares[1]:15.1%} {shares[2]:7.1%}"


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
