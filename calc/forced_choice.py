"""Tests in which each taster must choose: the triangle test and the paired test, and what they show.

A taster who cannot tell guesses, and a guess is right by chance. So the question is how many right
choices so many guessing tasters would hardly ever reach: a sum of the binomial distribution.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import comb

from calc.tasting import blind_codes
from calc.units import read_whole

# The risk of a false claim that is taken, as in `calc.spread`.
RISK = 0.05
# More tasters than this are a slip.
MOST_TASTERS = 999


@dataclass(frozen=True)
class ChoiceTest:
    """A test by choice. `guess` is how often a guess is right; `sides` is 2 where either answer may win."""

    key: str
    name: str
    asks: str
    guess: float
    sides: int
    source: str
    orders: tuple[str, ...]


# Which of the two liquids, A and B, is in which place: each order is used equally often.
TRIANGLE = ChoiceTest(
    "triangle",
    "Triangle test",
    "Two of these three samples are alike. Which one is the odd one?",
    1 / 3,
    1,
    "ISO 4120",
    ("AAB", "BBA", "ABA", "BAB", "BAA", "ABB"),
)
PAIRED = ChoiceTest(
    "paired",
    "Paired test",
    "Which of these two samples is softer (or: which do you like better)?",
    1 / 2,
    2,
    "ISO 5495",
    ("AB", "BA"),
)
TESTS = (TRIANGLE, PAIRED)


def at_least(right: int, tasters: int, share: float) -> float:
    """How often `right` or more of so many tasters choose right when each does with chance `share`."""
    return sum(
        comb(tasters, n) * share**n * (1 - share) ** (tasters - n)
        for n in range(right, tasters + 1)
    )


def chance(chosen: int, tasters: int, test: ChoiceTest) -> float:
    """How often mere guessing gives so many choices, or more: the p value, a share.

    `chosen` is how many found the odd sample, or in a two-sided test chose the first liquid; there,
    few count as many for the other liquid. Raises ValueError when more chose than tasted.
    """
    if not 0 <= chosen <= tasters or tasters < 1:
        raise ValueError("More cannot choose than taste, and somebody must taste.")
    most = max(chosen, tasters - chosen) if test.sides == 2 else chosen
    return min(1.0, test.sides * at_least(most, tasters, test.guess))


def needed(tasters: int, test: ChoiceTest, risk: float = RISK) -> int | None:
    """The fewest choices that show a difference at a `risk` (a share); None where even all would not."""
    fewest = (tasters + 1) // 2 if test.sides == 2 else 0
    found = (n for n in range(fewest, tasters + 1) if chance(n, tasters, test) <= risk)
    return next(found, None)


def power(able: float, tasters: int, test: ChoiceTest, risk: float = RISK) -> float:
    """How often the test shows a difference when the share `able` of tasters can really tell.

    The others guess. In a two-sided test, those who can tell all choose the same liquid.
    """
    bar = needed(tasters, test, risk)
    return at_least(bar, tasters, able + (1 - able) * test.guess) if bar is not None else 0.0


@dataclass(frozen=True)
class Count:
    """What a test gave: of `tasters`, so many `chosen` right, or chose the first liquid."""

    test: ChoiceTest
    chosen: int
    tasters: int


def cells(test: ChoiceTest) -> tuple[str, str]:
    """The names of a test's two cells among a bake's results: how many tasted, how many chose."""
    return f"{test.key}.1.asked", f"{test.key}.1.chosen"


def read_counts(texts: Mapping[str, str]) -> tuple[list[Count], dict[str, str]]:
    """The tests that were made, and a message for each cell that cannot be read."""
    found, messages = [], {}
    for test in TESTS:
        asked, chosen = cells(test)
        numbers = [_whole(texts.get(name, "")) for name in (asked, chosen)]
        for name, number in zip((asked, chosen), numbers, strict=True):
            if number is None and texts.get(name, "").strip():
                messages[name] = f"Write a whole number of tasters, from 0 to {MOST_TASTERS}."
        if None in numbers:
            continue
        if numbers[1] > numbers[0] or not numbers[0]:
            messages[chosen] = "More cannot choose than taste. Look at both numbers again."
            continue
        found.append(Count(test, numbers[1], numbers[0]))
    return found, messages


def _whole(text: str) -> int | None:
    number = read_whole(text.strip())
    return number if number is not None and number <= MOST_TASTERS else None


def sheet(word: str, test: ChoiceTest, taster: int) -> tuple[tuple[str, int], ...]:
    """One taster's samples, left to right: each the liquid's letter and its code. Tasters count from 0.

    Every sample has a code of its own, so that two slices of one loaf do not look alike on paper.
    """
    order = test.orders[taster % len(test.orders)]
    names = [f"{test.key} {taster} {place}" for place in range(len(order))]
    return tuple(zip(order, blind_codes(word, names), strict=True))
