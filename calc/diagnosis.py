"""Which known wrong method gives the number a student wrote.

Every mistake in the catalogue rewrites a step; the working is computed with each, and those whose result is the
student's number explain it. A number that too much could explain, or chance, is not explained.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
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

    def __init__(
        self,
        working: Working,
        own: Mapping[str, float],
        rounding: bool,
        givens: Mapping[str, float] | None = None,
    ) -> None:
        self.working, self.own, self.rounding = working, own, rounding
        self.base = dict(givens or {one.key: one.value for one in working.givens.values()})
        self.uses = {key: one.uses for key, one in working.steps.items()}
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
                if changed or step.key == key or not touched.isdisjoint(self.uses[step.key]):
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
    expression: Expression


_CANDIDATES: WeakKeyDictionary[Working, dict[str, list[_Candidate]]] = WeakKeyDictionary()


def _candidates(working: Working, key: str, own: Mapping[str, float]) -> list[_Candidate]:
    """What every single mistake gives for a step, in it or in a step before it that was not shown."""
    if own:
        return _from_own(working, key, tuple(own.items()))
    known = _CANDIDATES.setdefault(working, {})
    if key not in known:
        known[key] = _distinct(working, key, own)
    return known[key]


@lru_cache(maxsize=8)
def _from_own(working: Working, key: str, own: tuple[tuple[str, float], ...]) -> list[_Candidate]:
    """Many answers to one step after the same figures are asked about in a row: for a package, and by who tries again."""
    return _distinct(working, key, dict(own))


def _distinct(working: Working, key: str, own: Mapping[str, float]) -> list[_Candidate]:
    """The candidates, one for each slip.

    Two that give the very same number, and would with other numbers in the story too, are one slip seen from two
    sides: the more plausible is kept, and of those the one that makes a step the simplest. Two that agree in this
    draw alone are both kept.
    """
    by_figure: dict[str, list[_Candidate]] = {}
    for one in _computed(working, key, own):
        by_figure.setdefault(f"{one.outcome:.10g}", []).append(one)
    others = _other_numbers(working)
    found: list[_Candidate] = []
    for alike in by_figure.values():
        if len(alike) > 1:
            alike.sort(key=lambda one: (-one.rank, len(list(names(one.expression)))))
        if all(one.finding == alike[0].finding for one in alike):
            found.append(alike[0])
            continue
        kept: dict[str, _Candidate] = {}
        for one in alike:
            changes = {one.finding.step: one.expression}
            kept.setdefault(f"{others.come_to(key, changes) or 0.0:.9g}", one)
        found += kept.values()
    return found


def _other_numbers(working: Working) -> _Figures:
    """The figures of the same story, told with numbers that have nothing to do with each other."""
    givens = {
        one.key: one.value * (1 + 0.1 * math.sin(place + 1))
        for place, one in enumerate(working.givens.values())
    }
    return _Figures(working, {}, rounding=False, givens=givens)


def _computed(working: Working, key: str, own: Mapping[str, float]) -> Iterator[_Candidate]:
    ways = [_Figures(working, own, rounding) for rounding in (False, True)]
    for name in reversed(_blamable(working, key, own)):
        for one in rewritten(working, name, frozenset(own)):
            if name == key or not one.mistake.when_shown:
                finding = _finding(working, one, name)
                for figures in ways:
                    outcome = figures.come_to(key, {name: one.expression})
                    if outcome is not None:
                        yield _Candidate(outcome, one.rank, finding, one.expression)


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
# Which share of the numbers near one may be what such a mistake, or a commoner one, gives: what is more is chance.
MOST_BY_CHANCE = {COMMON: math.inf, USUAL: 0.4, RARE: 0.3}
# The same for a number with one digit other than in the right one, and for one with its digits out of place.
MOST_WHERE_MISTYPED = {COMMON: 0.4, USUAL: 0.02, RARE: 0.0}
MOST_WHERE_OUT_OF_PLACE = {COMMON: 0.01}
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
    if fitting:
        most = {
            0: MOST_BY_CHANCE,
            ANOTHER_DIGIT: MOST_WHERE_MISTYPED,
            OUT_OF_PLACE: MOST_WHERE_OUT_OF_PLACE,
        }[slip]
        enough = {
            rank
            for rank in {one.rank for one in fitting}
            if _by_chance(candidates, rank, reading, slack) <= most.get(rank, 0)
        }
        told = [one for one in fitting if one.finding.mistake.is_slip or one.rank in enough]
        # What is told of a number may be asked of it beside a rarer mistake that gives it too.
        return Diagnosis(tuple(_weighed(told if slip else fitting))) if told else Diagnosis()
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


def _by_chance(candidates: list[_Candidate], rank: int, reading: Reading, slack: float) -> float:
    """Which share of the numbers near this one are outcomes of mistakes as common as this, or more so."""
    size = abs(reading.value)
    near = {
        round(one.outcome / (2 * slack))
        for one in candidates
        if one.rank >= rank and size / _NEAR < abs(one.outcome) < size * _NEAR
    }
    width = size * (_NEAR - 1 / _NEAR)
    return len(near) * 2 * slack / width


def _weighed(fitting: list[_Candidate]) -> list[Finding]:
    """The most plausible findings, one for each mistake; none where too many are as plausible."""
    best: dict[str, _Candidate] = {}
    for one in fitting:
        key = one.finding.mistake.key
        if key not in best or one.rank >= best[key].rank:
            best[key] = one
    top = max(one.rank for one in best.values())
    for least in (RARE, top - 1, top):
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


# A slip of the keys: one digit for another; or digits that changed places, are missing or too many.
ANOTHER_DIGIT, OUT_OF_PLACE = 1, 2


def mistyped(working: Working, key: str, reading: Reading) -> int:
    """Whether a number is one slip of the keys away from the right one, and which: nought if it is not."""
    if not reading.half_unit:
        # The result of a sum that was never written out: no key was pressed for it.
        return 0
    step = working.steps[key]
    right = working.values()[key]
    unit = reading.unit
    shown = (reading.value - unit.offset) / unit.factor
    if shown < 0 < right:
        return 0  # Nobody presses a minus for a digit.
    decimals = max(0, -math.floor(math.log10(2 * reading.half_unit / unit.factor * 1.001)))
    scale = max(0, -math.floor(math.log10(step.to / unit.factor * 1.001)))
    text = f"{shown:.{decimals}f}"
    return max(
        _slip(_keys(text), _keys(f"{(right - unit.offset) / unit.factor:.{places}f}"))
        for places in {decimals, scale}
    )


def _keys(text: str) -> str:
    return text.replace(".", "")


def _slip(one: str, two: str) -> int:
    """Which one slip makes one row of digits of the other."""
    if len(one) == len(two):
        off = [place for place, (a, b) in enumerate(zip(one, two, strict=True)) if a != b]
        if len(off) == 2 and off[1] == off[0] + 1:
            first, last = off
            return OUT_OF_PLACE if (one[first], one[last]) == (two[last], two[first]) else 0
        return ANOTHER_DIGIT if len(off) <= 1 else 0
    one, two = sorted((one, two), key=len)
    start = next((n for n, (a, b) in enumerate(zip(one, two, strict=False)) if a != b), len(one))
    return OUT_OF_PLACE if one[start:] == two[start + 1 :] else 0


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
