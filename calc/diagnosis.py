"""Which known wrong method gives the number a student wrote.

Every mistake in the catalogue rewrites a step; the working is computed with each, and those whose result is the
student's number explain it. A number that too much could explain, or chance, is not explained.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple
from weakref import WeakKeyDictionary

from calc.expression import Expression, evaluate, names
from calc.mistakes import CATALOGUE, Mistake
from calc.mistakes.rule import COMMON, RARE, USUAL, flattened
from calc.units import Reading
from calc.working import Step, Working, margin


class Rewrite(NamedTuple):
    """A step as a mistake changes it; `part` is what the change is about, if it is about one."""

    mistake: Mistake
    expression: Expression
    part: Expression | None = None
    rank: int = USUAL


@dataclass(frozen=True)
class Finding:
    """A mistake that explains a student's number, the step in which it was made, and the part it is about."""

    mistake: Mistake
    step: str
    part: str = ""

    @property
    def name(self) -> str:
        """What was done: ``left out the salt``."""
        return self.mistake.named(self.part)

    @property
    def says(self) -> str:
        """What to tell who made it, where nothing else explains the number."""
        return self.mistake.told(self.part)

    @property
    def asks(self) -> str:
        """What to ask where another mistake explains the number too."""
        return self.mistake.asked(self.part)


@dataclass(frozen=True)
class Diagnosis:
    """What is worth saying of a number: one mistake, one or the other of two, or two made `in_a_row`."""

    findings: tuple[Finding, ...] = ()
    in_a_row: bool = False


# Rewriting.

# Draws of one problem differ in their numbers only, so they share what does not look at those.
_MOST_SHAPES = 500
_BY_SHAPE: dict[tuple, list[Rewrite]] = {}
_OF_WORKING: WeakKeyDictionary[Working, dict[tuple, list[Rewrite]]] = WeakKeyDictionary()


def rewritten(working: Working, key: str, shown: frozenset[str] = frozenset()) -> list[Rewrite]:
    """Each mistake a step admits, with the changed expression; computed once for a working.

    `shown` are the steps a student wrote down: mistakes that reach over several steps start from those.
    """
    known = _OF_WORKING.setdefault(working, {})
    place = key, shown
    if place not in known:
        shape = (*place, working.shape())
        if shape not in _BY_SHAPE:
            if len(_BY_SHAPE) >= _MOST_SHAPES:
                _BY_SHAPE.clear()
            _BY_SHAPE[shape] = list(_rewritten(working, key, shown, looks_at_numbers=False))
        own = _rewritten(working, key, shown, looks_at_numbers=True)
        known[place] = [*_BY_SHAPE[shape], *own]
    return known[place]


def _rewritten(
    working: Working, key: str, shown: frozenset[str], looks_at_numbers: bool
) -> Iterator[Rewrite]:
    step = working.steps[key]
    flat = flattened(working, step, shown)
    found: set[tuple[str, Expression]] = set()
    for mistake in CATALOGUE:
        if mistake.looks_at_numbers != looks_at_numbers:
            continue
        for one in (each for rule in mistake.rules for each in rule(working, step, flat)):
            new = one.expression not in (step.expression, flat)
            if new and (mistake.key, one.expression) not in found:
                found.add((mistake.key, one.expression))
                yield Rewrite(mistake, one.expression, one.part, one.rank or mistake.rank)


# What a rewrite comes to.


def outcomes(
    working: Working,
    key: str,
    changes: Mapping[str, Expression],
    own: Mapping[str, float] | None = None,
) -> list[float]:
    """What a step comes to, in calc's unit, with some steps' expressions changed.

    A student who does not show a step keeps every figure of it or rounds it to the scale, and one
    who shows it may go on from what is still in the calculator: both are computed. `own` gives the
    figures the student did show.
    """
    return [
        value
        for rounding in (False, True)
        if (value := _Figures(working, own or {}, rounding).come_to(key, changes)) is not None
    ]


class _Figures:
    """A working's figures as one student carries them on, rounded to the scale or not."""

    def __init__(self, working: Working, own: Mapping[str, float], rounding: bool) -> None:
        self.working, self.own, self.rounding = working, own, rounding
        self.base = {given.key: given.value for given in working.givens.values()}
        for step in working.steps.values():
            try:
                value = evaluate(step.expression, self.base.__getitem__, float)
            except ZeroDivisionError:
                break
            self.base[step.key] = self._carried(step, value)

    def _carried(self, step: Step, value: float) -> float:
        shown = self.own.get(step.key)
        off = shown is not None and abs(shown - value) > step.to / 2 * (1 + 1e-9)
        if shown is not None and (self.rounding or off):
            return shown
        return math.floor(value / step.to + 0.5) * step.to if self.rounding else value

    def come_to(self, key: str, changes: Mapping[str, Expression]) -> float | None:
        """What a step comes to with some expressions changed; None where that divides by nought."""
        values = dict(self.base)
        touched: set[str] = set()
        try:
            for step in self.working.steps.values():
                changed = step.key in changes
                if changed or step.key == key or not touched.isdisjoint(names(step.expression)):
                    expression = changes.get(step.key, step.expression)
                    value = evaluate(expression, values.__getitem__, float)
                    if step.key == key:
                        return value
                    values[step.key] = self._carried(step, value)
                    touched.add(step.key)
        except (ZeroDivisionError, KeyError):
            pass
        return None


class _Candidate(NamedTuple):
    outcome: float
    rank: int
    finding: Finding


_CANDIDATES: WeakKeyDictionary[Working, dict[str, list[_Candidate]]] = WeakKeyDictionary()


def _candidates(working: Working, key: str, own: Mapping[str, float]) -> list[_Candidate]:
    """What every single mistake gives for a step, in it or in a step before it that was not shown."""
    if own:
        return _distinct(_computed(working, key, own))
    known = _CANDIDATES.setdefault(working, {})
    if key not in known:
        known[key] = _distinct(_computed(working, key, own))
    return known[key]


def _distinct(candidates: Iterator[_Candidate]) -> list[_Candidate]:
    """The most plausible candidate of those that give the very same number: one slip seen from several sides."""
    found: dict[str, _Candidate] = {}
    for one in candidates:
        figure = f"{one.outcome:.10g}"
        if figure not in found or one.rank > found[figure].rank:
            found[figure] = one
    return list(found.values())


def _computed(working: Working, key: str, own: Mapping[str, float]) -> Iterator[_Candidate]:
    ways = [_Figures(working, own, rounding) for rounding in (False, True)]
    for name in reversed(_blamable(working, key, own)):
        for one in rewritten(working, name, frozenset(own)):
            if name == key or not one.mistake.when_shown:
                finding = _finding(working, one, name)
                for figures in ways:
                    outcome = figures.come_to(key, {name: one.expression})
                    if outcome is not None:
                        yield _Candidate(outcome, one.rank, finding)


def _finding(working: Working, made: Rewrite, step: str) -> Finding:
    part = working.named(made.part) if made.part is not None else ""
    return Finding(made.mistake, step, part)


def _blamable(working: Working, key: str, own: Mapping[str, float]) -> list[str]:
    """The step itself, and those before it that were not shown."""
    return [
        name
        for name in working.steps
        if name == key or (name not in own and working.depends_on(key, name, unless=own))
    ]


# Weighing.

# A figure as coarse as this share of itself fits many mistakes.
COARSE = 0.1
# How many wrong methods give, by chance, a number this near: what is still said of a usual and of a rare one.
MOST_BY_CHANCE = {COMMON: 9.0, USUAL: 1.0, RARE: 0.35}
# How near to a number the outcomes are counted that might hit it by chance, as a factor.
_NEAR = 1.5
MOST_FINDINGS = 2


def diagnose(working: Working, key: str, reading: Reading, own: Mapping[str, Reading]) -> Diagnosis:
    """What is worth saying of a student's wrong number for step `key`.

    `own` holds the student's readings of earlier steps: the search starts from those. Where an
    earlier step was left blank, its mistakes are tried too. Two mistakes in a row are sought only
    among the commonest, in steps not shown, and only where one alone explains nothing. A right
    number has no explanation: ask `exercises.marking` first.
    """
    if reading.value == 0:
        return Diagnosis()
    earlier = {name: one.value for name, one in own.items() if name != key}
    step = working.steps[key]
    slack = _slack(step, reading) * (1 + 1e-6)
    candidates = _candidates(working, key, earlier)
    right = working.values()[key]
    fitting = [
        one
        for one in candidates
        if abs(one.outcome - reading.value)
        <= _reach(one, slack, step, reading, right) + abs(one.outcome) * 1e-9
    ]
    slip = mistyped(working, key, reading)
    coarse = reading.half_unit > COARSE * abs(reading.value)
    if coarse and (slip or len({one.finding.mistake.key for one in fitting}) > 1):
        return Diagnosis()
    if fitting:
        low = COMMON if slip else _lowest_rank(candidates, reading, slack)
        return Diagnosis(tuple(_weighed(fitting, low)))
    if coarse or slip:
        return Diagnosis()
    pairs = list(_pairs(working, key, reading.value, slack, earlier))
    return Diagnosis(pairs[0], in_a_row=True) if len(pairs) == 1 else Diagnosis()


def _reach(one: _Candidate, slack: float, step: Step, reading: Reading, right: float) -> float:
    """How far an outcome may lie from the number: a slip of the unit magnifies the rounding before it."""
    if not one.finding.mistake.when_shown or reading.half_unit > COARSE * abs(reading.value):
        return slack
    magnified = step.to / 2 * abs(one.outcome / right) if right else 0.0
    return max(slack, reading.half_unit, magnified)


def _lowest_rank(candidates: list[_Candidate], reading: Reading, slack: float) -> int:
    """How common a mistake must be to be named: the more outcomes are near, the likelier one fits by chance."""
    size = abs(reading.value)
    near = {
        round(one.outcome / (2 * slack))
        for one in candidates
        if size / _NEAR < abs(one.outcome) < size * _NEAR
    }
    width = size * (_NEAR - 1 / _NEAR)
    by_chance = len(near) * 2 * slack / width if width else math.inf
    return next(
        (rank for rank in (RARE, USUAL, COMMON) if by_chance <= MOST_BY_CHANCE[rank]), COMMON
    )


def _weighed(fitting: list[_Candidate], low: int) -> list[Finding]:
    """The most plausible findings, one for each mistake; none where too many are as plausible."""
    best: dict[str, _Candidate] = {}
    for one in fitting:
        key = one.finding.mistake.key
        if key not in best or one.rank >= best[key].rank:
            best[key] = one
    top = max(one.rank for one in best.values())
    if top < low:
        return []
    for least in (max(low, top - 1), top):
        kept = [one.finding for one in best.values() if one.rank >= least]
        if len(kept) <= MOST_FINDINGS:
            return kept
    return []


def _pairs(
    working: Working, key: str, value: float, slack: float, own: Mapping[str, float]
) -> Iterator[tuple[Finding, Finding]]:
    """Two mistakes, made one after the other in steps not shown, that give the number together."""
    blamable = _blamable(working, key, own)
    ways = [_Figures(working, own, rounding) for rounding in (False, True)]
    found = {}
    common = {
        name: [one for one in rewritten(working, name, frozenset(own)) if one.mistake.in_pairs]
        for name in blamable
    }
    for place, one in enumerate(blamable):
        for two in blamable[place + 1 :]:
            for first in common[one]:
                for second in common[two]:
                    changes = {one: first.expression, two: second.expression}
                    for figures in ways:
                        outcome = figures.come_to(key, changes)
                        if outcome is not None and abs(outcome - value) <= slack:
                            pair = (
                                _finding(working, first, one),
                                _finding(working, second, two),
                            )
                            found[pair] = None
    yield from found


def _slack(step: Step, reading: Reading) -> float:
    """How far a wrong method's outcome may lie from what the student wrote.

    A number on a step of a coarse scale (14580 g, in steps of 10 g) may have been rounded to it.
    """
    near = min(reading.half_unit, margin(step, reading))
    on_a_step = math.isclose(reading.value, round(reading.value / step.to) * step.to, rel_tol=1e-9)
    return max(near, step.to / 2) if on_a_step else near


def mistyped(working: Working, key: str, reading: Reading) -> bool:
    """Whether a number is one slip of the keys away from the right one.

    A digit changed, dropped or typed twice, or two that changed places.
    """
    if not reading.half_unit:
        # The result of a sum that was never written out: no key was pressed for it.
        return False
    step = working.steps[key]
    right = working.values()[key]
    unit = reading.unit
    shown = (reading.value - unit.offset) / unit.factor
    decimals = max(0, -math.floor(math.log10(2 * reading.half_unit / unit.factor * 1.001)))
    scale = max(0, -math.floor(math.log10(step.to / unit.factor * 1.001)))
    text = f"{shown:.{decimals}f}"
    return any(
        _one_slip(text, f"{(right - unit.offset) / unit.factor:.{places}f}")
        for places in {decimals, scale}
    )


def _one_slip(one: str, two: str) -> bool:
    """Whether two texts differ by one sign changed, put in or left out, or by two neighbours' places."""
    if len(one) > len(two):
        one, two = two, one
    if len(two) - len(one) > 1:
        return False
    start = next((n for n, (a, b) in enumerate(zip(one, two, strict=False)) if a != b), len(one))
    if len(one) < len(two):
        return one[start:] == two[start + 1 :]
    if one[start + 1 :] == two[start + 1 :]:
        return True
    return one[start : start + 2] == two[start : start + 2][::-1] and (
        one[start + 2 :] == two[start + 2 :]
    )


def alike(working: Working) -> tuple[str, str] | tuple[()]:
    """Two of the commonest mistakes that give one number in some step, or one and "" where it gives the right one.

    Such a draw cannot be told apart when it is marked, or teaches nothing.
    """
    right = working.attainable({})
    figures = _Figures(working, {}, rounding=False)
    for key, step in working.steps.items():
        seen: dict[int, str] = {}
        for value, rewrite in _common_outcomes(working, key, figures):
            # A number that the scale cannot show tells nobody apart.
            if value < 2 * step.to:
                continue
            if value in right[key].widened(step.to / 2):
                if rewrite.mistake.in_pairs:
                    return rewrite.mistake.key, ""
                continue
            other = seen.setdefault(round(value / step.to), rewrite.mistake.key)
            if other != rewrite.mistake.key:
                return other, rewrite.mistake.key
    return ()


def _common_outcomes(working: Working, key: str, figures: _Figures) -> list[tuple[float, Rewrite]]:
    """What the commonest mistakes in a step give; one slip seen from two sides counts once."""
    found: dict[str, tuple[float, Rewrite]] = {}
    for one in rewritten(working, key):
        if one.rank == COMMON:
            value = figures.come_to(key, {key: one.expression})
            if value is not None:
                found.setdefault(f"{value:.10g}", (value, one))
    return list(found.values())
