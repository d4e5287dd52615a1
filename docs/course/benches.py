"""The bench demonstrations of the course, fitted to the clock: a file each in ``demonstrations``."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from itertools import accumulate
from pathlib import Path

import yaml

from calc.composition import Ingredient

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Stretch:
    """A stretch of a lesson: minutes in a whole lesson and in a short one, and what happens.

    `look` is how long ago the demonstration began, where everybody looks at it; `starts` says that
    it begins when this stretch ends.
    """

    minutes: int
    short: int
    what: str
    starts: bool = False
    look: int | None = None


@dataclass(frozen=True)
class Bench:
    """One lesson's demonstration. `before` and each of `two` are minutes with what is done in them.

    `for_group` and `for_class` are grams beside the bowls of the sheet, by ingredient. `ticket` names
    the problems of the exit ticket; `outcomes` says where each outcome of the lesson's page shows.
    """

    sheet: Mapping[str, str]
    clock: tuple[Stretch, ...]
    see: Mapping[int, str]
    before: tuple[tuple[int, str], ...]
    two: tuple[tuple[tuple[int, str], ...], ...] = ()
    for_group: Mapping[str, float] = field(default_factory=dict)
    for_class: Mapping[str, float] = field(default_factory=dict)
    groups: int = 1
    ticket: tuple[str, ...] = ()
    outcomes: tuple[tuple[str, ...], ...] = ()

    @property
    def begins(self) -> list[int]:
        """The minute of the lesson at which each stretch begins."""
        return [0, *accumulate(stretch.minutes for stretch in self.clock)][:-1]

    @property
    def start(self) -> int:
        """The minute of the lesson that is 0 for the demonstration."""
        return next(
            begin + stretch.minutes
            for begin, stretch in zip(self.begins, self.clock, strict=True)
            if stretch.starts
        )


@cache
def benches() -> dict[str, Bench]:
    """Every demonstration by the key of its lesson."""
    files = sorted((HERE / "demonstrations").glob("*.yml"))
    return {file.stem: _bench(yaml.safe_load(file.read_text("utf-8"))) for file in files}


def bench_of(lesson: str) -> Bench:
    """The demonstration of a lesson. Raises ValueError with those there are."""
    if lesson not in benches():
        raise ValueError(f"No lesson “{lesson}” has a bench. There are {', '.join(benches())}.")
    return benches()[lesson]


def setting(name: str) -> int:
    """``period`` and ``short`` in minutes, ``groups`` in a class, ``students`` in a group."""
    return _data()[name]


def to_buy(ingredient: Ingredient, grams: float) -> str:
    """How many usual packs hold that much, such as “2 × carton of 1000 g”."""
    if ingredient.key == "water":
        return "from the tap"
    size, pack = _data()["packs"].get(ingredient.key, (0, ""))
    return f"{math.ceil(grams / size)} × {pack} of {size} g" if size else "a pack of your own"


@cache
def _data() -> dict:
    return yaml.safe_load((HERE / "benches.yml").read_text("utf-8"))


def _bench(row: dict) -> Bench:
    return Bench(
        sheet=row["sheet"],
        clock=tuple(_stretch(*stretch) for stretch in row["clock"]),
        see=row["see"],
        before=_rows(row["before"]),
        two=tuple(map(_rows, row.get("two", ()))),
        for_group=row.get("group", {}),
        for_class=row.get("class", {}),
        ticket=tuple(row["ticket"]),
        outcomes=tuple(map(tuple, row["outcomes"])),
        groups=row.get("groups", _data()["groups"]),
    )


def _stretch(minutes: int, short: int, what: str, mark: str | int = "") -> Stretch:
    return Stretch(minutes, short, what, mark == "start", mark if isinstance(mark, int) else None)


def _rows(rows: list[list]) -> tuple[tuple[int, str], ...]:
    return tuple((minutes, what) for minutes, what in rows)
