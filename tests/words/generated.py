"""Every sentence that the project puts together itself, for tests to read: ``python -m tests.words.generated``.

Over every problem of every set and many draws: labels, reasons, hints, solutions, what each known mistake says of
each step (told and asked), and the size check on both sides.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator

from calc.diagnosis import Finding, rewritten
from calc.mistakes import CATALOGUE
from calc.size_check import size_check
from calc.working import Working
from exercises.draws import Variant, draw
from exercises.hints import hints
from exercises.marking import solution
from exercises.problems import load, set_keys


def variants(draws: int) -> Iterator[Variant]:
    for key in set_keys():
        problem_set = load(key)
        for problem in problem_set.problems:
            for number in range(draws):
                yield draw(problem_set, problem, f"student {number}")


def sentences(draws: int) -> Iterator[tuple[str, str]]:
    """(What it is, the text) of every sentence, each once."""
    seen = set()
    for variant in variants(draws):
        for kind, text in _of(variant):
            if (kind, text) not in seen:
                seen.add((kind, text))
                yield kind, text
    for mistake in CATALOGUE:
        yield "mistake", mistake.says
        yield "question", mistake.asked()


def _of(variant: Variant) -> Iterator[tuple[str, str]]:
    working = variant.working
    for key, step in working.steps.items():
        yield "label", step.label
        question, size, relation, numbers = hints(variant, key)
        yield "hint", question
        yield "hint", size
        yield "relation", relation
        if step.why:
            yield "reason", step.why
        yield "numbers", numbers
        for text in _mistakes(working, key):
            yield "mistake", text[0]
            yield "question", text[1]
        value = working.values()[key]
        for wrong in (value / 1000, value * 1000):
            told = size_check(working, key, wrong, working.values())
            if told:
                yield "size", told
    for given in working.givens.values():
        yield "label", given.label
    for line in solution(variant):
        yield "solution", line


def _mistakes(working: Working, key: str) -> Iterator[tuple[str, str]]:
    for one in rewritten(working, key):
        part = working.named(one.part) if one.part is not None else ""
        finding = Finding(one.mistake, key, part)
        yield finding.says, finding.asks


if __name__ == "__main__":
    for kind, text in sorted(set(sentences(int(sys.argv[1]) if len(sys.argv) > 1 else 3))):
        print(f"{kind:9} {text}")
