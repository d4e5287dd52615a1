"""What came out of a side-by-side bake: loaves measured, and what can be said from so few.

A loaf is known by its variant's key and its number. Its numbers are in calc's units (g, °C, min,
cm, ml); scores and dough feel are plain numbers. A score is known by its taster and the variant.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from calc import units
from calc.interval import Interval
from calc.registry import Slot, quantity
from calc.spread import (
    Pooled,
    Summary,
    chance_of_difference,
    difference,
    holm,
    pooled,
    without_rows,
)
from calc.units import ReadingError, Style
from calc.working import PART_OF_A_WHOLE, Working

# The level of confidence of every interval between variants; the risk of any false claim.
LEVEL = 0.95
RISK = 1 - LEVEL
# Means of dough temperatures further apart than this (°C) may explain what is found.
EQUAL_WARMTH = 1.0


@dataclass(frozen=True)
class Measure:
    """One thing to write down for each loaf.

    `kind` is a key of `calc.units.KINDS`; `low` and `high` are the ends of what is not a slip, in
    calc's unit; `unit` is what a bare number is in (empty: the reader's own choice). `judged` is
    what one person judged in steps: it hints and claims nothing. `scored`: each taster gives a score.
    """

    key: str
    name: str
    kind: str
    low: float
    high: float
    unit: str = ""
    how: str = ""
    judged: bool = False
    scored: bool = False


# What can be written down for a loaf.
MEASURES = (
    Measure("dough-temperature", "dough temperature", "temperature", 0, 50, how="after mixing"),
    Measure("feel", "dough feel", "number", 1, 5, how="1 slack to 5 tight, felt blind", judged=True),
    Measure("proof", "proof time", "time", 1, 2880, "min", "both rises together"),
    Measure("height", "height", "length", 1, 50, "mm", "at the highest point, cold"),
    Measure("volume", "volume", "volume", 20, 20_000, "ml", "by seed displacement"),
    Measure("before", "weight before baking", "mass", 10, 20_000, how="the shaped dough"),
    Measure("after", "weight after baking", "mass", 10, 20_000, how="the cold loaf"),
)  # fmt: skip
# What each taster gives each sample.
SCORES = (
    Measure("crust", "crust colour", "number", 1, 9, how="1 pale to 9 dark", scored=True),
    Measure("softness", "softness", "number", 1, 9, how="1 hard to 9 soft", scored=True),
    Measure("taste", "taste", "number", 1, 9, how="1 dislike to 9 like", scored=True),
)
# What is reckoned from the measures.
DERIVED = (
    Measure("bake-loss", "bake loss", "share", 0, 1),
    Measure("specific-volume", "specific volume", "specific volume", 0, 100),
)
# All of them, by key.
BY_KEY = {measure.key: measure for measure in (*MEASURES, *SCORES, *DERIVED)}
# What a bake may ask: one measure, chosen before it. What the dough weighs, or one person judged, is none.
QUESTIONS = tuple(
    m for m in BY_KEY.values() if not m.judged and m.key not in ("dough-temperature", "before", "after")
)  # fmt: skip
# The key of a loaf's remark, and the most characters it may have.
REMARK = "remark"
LONGEST_REMARK = 300


@dataclass(frozen=True)
class Loaf:
    """One loaf's numbers, by the key of their measure and in calc's unit; what was not measured is not there."""

    variant: str
    number: int
    values: Mapping[str, float] = field(default_factory=dict)
    remark: str = ""

    def value(self, measure: str) -> float | None:
        """A measured number, or one worked out from those; None when it is not known."""
        if measure == "bake-loss" and {"before", "after"} <= self.values.keys():
            return bake_loss(self.values["before"], self.values["after"]).values()["loss"]
        if measure == "specific-volume" and {"volume", "after"} <= self.values.keys():
            working = specific_volume(self.values["volume"], self.values["after"])
            return working.values()["specific volume"]
        return self.values.get(measure)


@dataclass(frozen=True)
class Score:
    """What one taster (from 1) gave one loaf, by the key of the score."""

    taster: int
    variant: str
    loaf: int
    values: Mapping[str, float] = field(default_factory=dict)


_AFTER = Slot("after", "mass", 10, 20_000)


@quantity(
    "bake loss",
    "the share of its weight that a loaf loses in the oven",
    Slot("before", "mass", 10, 20_000),
    _AFTER,
    plausible_low=0.01,
    plausible_high=0.4,
)
def bake_loss(before: float, after: float) -> Working:
    """Bake loss = (weight before − weight after) ÷ weight before; weights in grams, a share."""
    working = Working("Bake loss")
    dough = working.given("before", "weight before baking", before, "mass", role="before")
    bread = working.given("after", "weight after baking", after, "mass", role="after")
    lost = working.step(
        "lost",
        "weight lost",
        dough - bread,
        "mass",
        why="Nearly all of it is water that left as steam.",
    )
    working.step(
        "loss",
        "bake loss",
        lost / dough,
        "share",
        to=0.001,
        role=PART_OF_A_WHOLE,
        why="Compare it with the weight that went into the oven.",
    )
    return working


@quantity(
    "specific volume",
    "how many millilitres each gram of a loaf fills",
    Slot("volume", "volume", 20, 20_000),
    _AFTER,
    plausible_low=0.5,
    plausible_high=10,
)
def specific_volume(volume: float, after: float) -> Working:
    """Specific volume = volume ÷ weight after baking; ml and grams, so ml/g.

    The volume is by seed displacement, after AACC Approved Method 10-05 (from memory).
    """
    working = Working("Specific volume")
    space = working.given("volume", "volume", volume, "volume")
    bread = working.given("after", "weight after baking", after, "mass")
    working.step(
        "specific volume",
        "specific volume",
        space / bread,
        "specific volume",
        why="A heavier loaf is larger anyway. Per gram, loaves can be compared.",
    )
    return working


_HEIGHT = ("length", 1, 50)


@quantity(
    "mean of three loaves",
    "the mean of three loaves of one dough, here of their heights",
    Slot("first", *_HEIGHT),
    Slot("second", *_HEIGHT),
    Slot("third", *_HEIGHT),
    plausible_low=1,
    plausible_high=50,
)
def mean_of_three(first: float, second: float, third: float) -> Working:
    """Mean = (first + second + third) ÷ 3; lengths in cm."""
    working = Working("Mean of three loaves")
    heights = [
        working.given(name, f"{name} loaf", value, "length")
        for name, value in (("first", first), ("second", second), ("third", third))
    ]
    together = working.step(
        "sum", "heights together", heights[0] + heights[1] + heights[2], "length", to=0.1,
        why="Every loaf counts the same, so add them all.",
    )  # fmt: skip
    working.step(
        "mean", "mean height", together / 3, "length", to=0.1,
        why="There are three loaves: divide by three.",
    )  # fmt: skip
    return working


@quantity(
    "gap that two means need",
    "how far two means must lie apart before a bake shows a difference",
    Slot("spread", "length", 0.1, 5),
    Slot("bar", "number", 1, 10),
    plausible_low=0.2,
    plausible_high=30,
)
def gap_needed(spread: float, bar: float) -> Working:
    """Gap = bar × spread; lengths in cm, `bar` in spreads (`calc.spread.needed_gap`)."""
    working = Working("How far apart two means must lie")
    known = working.given("spread", "spread of the loaves", spread, "length")
    times = working.given("bar", "spreads that the means must lie apart", bar, "number")
    working.step(
        "gap", "gap that the means need", times * known, "length", to=0.1,
        why="With few loaves one spread is not enough. The table says how many it takes.",
    )  # fmt: skip
    return working


# Reading what was typed.


def cell(variant: str, number: int, measure: str) -> str:
    """The name of one cell of the results: ``buttermilk.2.height``."""
    return f"{variant}.{number}.{measure}"


def read_loaves(
    texts: Mapping[str, str], loaves: Sequence[tuple[str, int]], style: Style = units.PLAIN
) -> tuple[list[Loaf], dict[str, str]]:
    """Read every cell: the loaves with what can be read, and a message for each cell that cannot.

    `texts` are cells by name (`cell`); `loaves` are (variant's key, number).
    """
    read, messages = [], {}
    for variant, number in loaves:
        values: dict[str, float] = {}
        for measure in MEASURES:
            name = cell(variant, number, measure.key)
            text = texts.get(name, "").strip()
            if not text:
                continue
            try:
                values[measure.key] = read_cell(text, measure, style)
            except ReadingError as error:
                messages[name] = str(error)
        if values.get("after", 0.0) > values.get("before", float("inf")):
            del values["after"]
            messages[cell(variant, number, "after")] = (
                "A loaf cannot weigh more after baking than before. Look at both weights again."
            )
        remark = texts.get(cell(variant, number, REMARK), "").strip()
        if len(remark) > LONGEST_REMARK:
            messages[cell(variant, number, REMARK)] = (
                f"Keep a remark to {LONGEST_REMARK} characters."
            )
        read.append(Loaf(variant, number, values, remark[:LONGEST_REMARK]))
    return read, messages


# What the name of a score's cell ends in, before the score's key.
SCORE = "score-"


def score_cell(variant: str, taster: int, measure: str) -> str:
    """The name of the cell of a taster's score: ``buttermilk.3.score-softness``."""
    return cell(variant, taster, SCORE + measure)


def read_scores(
    texts: Mapping[str, str],
    served: Sequence[Sequence[tuple[str, int]]],
    style: Style = units.PLAIN,
) -> tuple[list[Score], dict[str, str]]:
    """Read every taster's scores, and a message for each cell that cannot be read.

    `served` holds, for each taster, the loaves in order: (variant's key, number).
    """
    read, messages = [], {}
    for taster, loaves in enumerate(served, 1):
        for variant, loaf in loaves:
            values: dict[str, float] = {}
            for measure in SCORES:
                name = score_cell(variant, taster, measure.key)
                if not texts.get(name, "").strip():
                    continue
                try:
                    values[measure.key] = read_cell(texts[name].strip(), measure, style)
                except ReadingError as error:
                    messages[name] = str(error)
            read.append(Score(taster, variant, loaf, values))
    return read, messages


def read_cell(text: str, measure: Measure, style: Style = units.PLAIN) -> float:
    """One cell in calc's unit. Raises ReadingError."""
    own = style.unit(measure.kind)
    value = units.read(text, measure.kind, measure.unit or (own.symbol if own else None)).value
    if not measure.low <= value <= measure.high:
        low, high = (write(end, measure, style) for end in (measure.low, measure.high))
        raise ReadingError(f"“{text}” looks like a slip: write something from {low} to {high}.")
    return value


def write(value: float, measure: Measure, style: Style = units.PLAIN, guard: int = 0) -> str:
    """A measure's number with its unit, as its cell is usually read: height in mm.

    `guard` adds that many figures, for a mean or a spread.
    """
    if measure.unit == "mm":
        return f"{units.digits(value * 10, 10.0**-guard, style)} mm"
    if measure.kind == "number":
        return units.write_exact(round(value, 1 + guard), "number", style)
    step = 0.001 if measure.kind == "share" else None
    return units.write(value, measure.kind, style, step, guard)


def write_spread(value: float, measure: Measure, style: Style = units.PLAIN) -> str:
    """A spread, or a difference of two numbers: degrees have no zero of their own, shares are points."""
    if measure.kind == "temperature":
        return units.write(value, "temperature difference", style, 0.1)
    if measure.kind == "share":
        return f"{units.digits(value * 100, 0.1, style)} percentage points"
    return write(value, measure, style, guard=1)


# What can be said.


@dataclass(frozen=True)
class Pair:
    """Two variants in one measure. `gap` is mean of `one` − mean of `other`.

    `alone` is its 95 % interval taken alone, and `chance` how often loaves that do not differ give
    such a gap (p value). Both are None where nothing was measured twice, or where all that was
    measured twice gave the same number, so that the spread cannot be seen. `claimed`: it stays
    clear when all pairs of the bake's question are looked at together.
    """

    one: str
    other: str
    gap: float
    alone: Interval | None = None
    chance: float | None = None
    claimed: bool = False

    @property
    def verdict(self) -> str:
        """``larger`` than the spread, ``perhaps``, ``not shown``, or ``unknown``."""
        if self.alone is None:
            return "unknown"
        if self.claimed:
            return "larger"
        return "not shown" if 0 in self.alone else "perhaps"


@dataclass(frozen=True)
class Outcome:
    """One measure over all variants: each one's summary, the common spread, and the pairs.

    `groups` hold a number for each loaf; for a score, one for each taster, with the taster's own
    level taken out. `tasters` says how many of them scored every variant (0: no score).
    """

    measure: Measure
    groups: dict[str, Summary]
    common: Pooled | None
    pairs: tuple[Pair, ...]
    tasters: int = 0

    @property
    def spread_is_seen(self) -> bool:
        """Whether something was measured twice and did not come out all alike."""
        return self.common is not None and self.common.spread > 0


def outcomes(
    loaves: Sequence[Loaf], scores: Sequence[Score] = (), question: str = ""
) -> list[Outcome]:
    """What each measure came to, for every measure that at least one loaf or taster has.

    `question` is the key of the measure that the bake asks about; the others then only hint. Where
    it has no number, or is empty, all measures share one risk of a false claim (`RISK`).
    """
    found = []
    for measure in (*MEASURES, *DERIVED):
        groups: dict[str, list[float]] = {}
        for loaf in loaves:
            value = loaf.value(measure.key)
            if value is not None:
                groups.setdefault(loaf.variant, []).append(value)
        if groups:
            found.append(outcome(measure, {key: Summary(tuple(v)) for key, v in groups.items()}))
    found += [one for measure in SCORES if (one := score_outcome(measure, scores))]
    return _claim(found, question)


def outcome(measure: Measure, groups: dict[str, Summary]) -> Outcome:
    """Compare every pair of variants in one measure of loaves. Nothing is claimed yet."""
    common = pooled(list(groups.values()))
    return Outcome(measure, groups, common, _pairs(groups, common))


def score_outcome(measure: Measure, scores: Sequence[Score]) -> Outcome | None:
    """Compare every pair of variants in one score, each taster's own level taken out; None without scores.

    A taster who did not score every variant is left out. The tasters' differences tell these
    loaves apart, not all loaves of a liquid.
    """
    given: dict[int, dict[str, float]] = {}
    for one in scores:
        if measure.key in one.values:
            given.setdefault(one.taster, {})[one.variant] = one.values[measure.key]
    variants = list(dict.fromkeys(one.variant for one in scores))
    rows = [
        [mine[key] for key in variants] for mine in given.values() if len(mine) == len(variants)
    ]
    if not rows:
        return None
    columns, common = without_rows(rows)
    groups = dict(zip(variants, columns, strict=True))
    return Outcome(measure, groups, common, _pairs(groups, common), len(rows))


def _pairs(groups: dict[str, Summary], common: Pooled | None) -> tuple[Pair, ...]:
    return tuple(_pair(one, other, groups, common) for one, other in combinations(groups, 2))


def _pair(one: str, other: str, groups: dict[str, Summary], common: Pooled | None) -> Pair:
    left, right = groups[one], groups[other]
    gap = left.mean - right.mean
    if common is None or not common.spread:
        return Pair(one, other, gap)
    chance = chance_of_difference(left, right, common)
    return Pair(one, other, gap, difference(left, right, common, LEVEL), chance)


def asked(found: Sequence[Outcome], question: str) -> list[Outcome]:
    """The outcomes that may claim: the question's own, or all when it has none."""
    able = [one for one in found if not one.measure.judged]
    return [one for one in able if one.measure.key == question] or able


def _claim(found: list[Outcome], question: str) -> list[Outcome]:
    """Mark the pairs that stay clear when all pairs of what is asked are read together (Holm)."""
    family = asked(found, question)
    judged = [pair for one in family for pair in one.pairs if pair.chance is not None]
    raised = iter(holm([pair.chance for pair in judged]))

    def marked(pair: Pair) -> Pair:
        return pair if pair.chance is None else replace(pair, claimed=next(raised) <= RISK)

    return [
        replace(one, pairs=tuple(marked(pair) for pair in one.pairs)) if one in family else one
        for one in found
    ]


def warmth_apart(found: Sequence[Outcome]) -> float:
    """How far the variants' mean dough temperatures lie apart, in °C; 0 where they are not known."""
    means = [
        group.mean
        for one in found
        if one.measure.key == "dough-temperature"
        for group in one.groups.values()
    ]
    return max(means) - min(means) if means else 0.0
