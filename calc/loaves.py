"""What came out of a side-by-side bake: loaves measured, and what can be said from so few.

A loaf is known by its variant's key and its number. Its numbers stand in calc's units (g, °C, min,
cm, ml); scores and dough feel are plain numbers.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from calc import units
from calc.interval import Interval
from calc.registry import Slot, quantity
from calc.spread import Pooled, Summary, difference, level_of_each, pooled
from calc.units import ReadingError, Style
from calc.working import PART_OF_A_WHOLE, Working

# The level of confidence of every interval between variants.
LEVEL = 0.95


@dataclass(frozen=True)
class Measure:
    """One thing to write down for each loaf.

    `kind` is a key of `calc.units.KINDS`; `low` and `high` are the ends of what is not a slip, in
    calc's unit; `unit` is what a bare number is in (empty: the reader's own choice). `several`
    lets one loaf have several numbers, one a taster; their mean counts.
    """

    key: str
    name: str
    kind: str
    low: float
    high: float
    unit: str = ""
    how: str = ""
    several: bool = False


# What can be written down for a loaf.
MEASURES = (
    Measure("dough-temperature", "dough temperature", "temperature", 0, 50, how="after mixing"),
    Measure("feel", "dough feel", "number", 1, 5, how="1 slack to 5 tight"),
    Measure("proof", "proof time", "time", 1, 2880, "min", "both rises together"),
    Measure("height", "height", "length", 1, 50, "mm", "at the highest point, cold"),
    Measure("volume", "volume", "volume", 20, 20_000, "ml", "by seed displacement"),
    Measure("before", "weight before baking", "mass", 10, 20_000, how="the shaped dough"),
    Measure("after", "weight after baking", "mass", 10, 20_000, how="the cold loaf"),
    Measure("crust", "crust colour", "number", 1, 9, how="1 pale to 9 dark", several=True),
    Measure("softness", "softness", "number", 1, 9, how="1 hard to 9 soft", several=True),
    Measure("taste", "taste", "number", 1, 9, how="1 dislike to 9 like", several=True),
)
# The same, by key.
BY_KEY = {measure.key: measure for measure in MEASURES}
# What is reckoned from them.
DERIVED = (
    Measure("bake-loss", "bake loss", "share", 0, 1),
    Measure("specific-volume", "specific volume", "specific volume", 0, 100),
)
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


_AFTER = Slot("after", "mass", 10, 20_000)


@quantity(
    "bake loss",
    "the share of its weight that a loaf loses in the oven",
    Slot("before", "mass", 10, 20_000),
    _AFTER,
    least=0.01,
    most=0.4,
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
    least=0.5,
    most=10,
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
    least=1,
    most=50,
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


def read_cell(text: str, measure: Measure, style: Style = units.PLAIN) -> float:
    """One cell in calc's unit; several scores (``7 6 8``) give their mean. Raises ReadingError."""
    if not measure.several:
        return _read_one(text, measure, style)
    parts = [part.rstrip(",") for part in re.split(r"[;\s]+", text) if part.rstrip(",")]
    if not parts:
        raise ReadingError(f"There is no score in “{text}”. Write one, or several: 7 6 8.")
    return Summary(tuple(_read_one(part, measure, style) for part in parts)).mean


def _read_one(text: str, measure: Measure, style: Style) -> float:
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


# What can be said.


@dataclass(frozen=True)
class Pair:
    """Two variants in one measure. `gap` is mean of `one` − mean of `other`.

    `alone` is its 95 % interval taken alone; `together` the wider one that holds for all the
    pairs of the measure at once. Both are None where no loaf was baked twice, or where loaves of
    one variant all gave the same number, so that the spread cannot be seen.
    """

    one: str
    other: str
    gap: float
    alone: Interval | None = None
    together: Interval | None = None

    @property
    def verdict(self) -> str:
        """``larger`` than the spread, ``perhaps``, ``not shown``, or ``unknown``."""
        if self.alone is None or self.together is None:
            return "unknown"
        if 0 not in self.together:
            return "larger"
        return "not shown" if 0 in self.alone else "perhaps"


@dataclass(frozen=True)
class Outcome:
    """One measure over all variants: each one's summary, the common spread, and the pairs."""

    measure: Measure
    groups: dict[str, Summary]
    common: Pooled | None
    pairs: tuple[Pair, ...]

    @property
    def spread_is_seen(self) -> bool:
        """Whether at least one variant was baked twice and its loaves were not all alike."""
        return self.common is not None and self.common.spread > 0


def outcomes(loaves: Sequence[Loaf]) -> list[Outcome]:
    """What each measure came to, for every measure that at least one loaf has."""
    found = []
    for measure in (*MEASURES, *DERIVED):
        groups: dict[str, list[float]] = {}
        for loaf in loaves:
            value = loaf.value(measure.key)
            if value is not None:
                groups.setdefault(loaf.variant, []).append(value)
        if groups:
            found.append(outcome(measure, {key: Summary(tuple(v)) for key, v in groups.items()}))
    return found


def outcome(measure: Measure, groups: dict[str, Summary]) -> Outcome:
    """Compare every pair of variants in one measure."""
    common = pooled(list(groups.values()))
    pairs = list(combinations(groups, 2))
    compared = []
    for one, other in pairs:
        left, right = groups[one], groups[other]
        gap = left.mean - right.mean
        if common is None or not common.spread:
            compared.append(Pair(one, other, gap))
            continue
        each = level_of_each(len(pairs), LEVEL)
        compared.append(
            Pair(
                one,
                other,
                gap,
                difference(left, right, common, LEVEL),
                difference(left, right, common, each),
            )
        )
    return Outcome(measure, groups, common, tuple(compared))
