"""The demo school's doughs that one can bake, and the ranges of such doughs, from ``bakes.yml``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml

from calc.composition import table
from calc.formula import Formula, Item, hydration

PARTS = ("water", "sugar", "fat", "salt", "yeast")


@dataclass(frozen=True)
class Stage:
    """One step of the method: its name, its minutes, what to look for."""

    name: str
    minutes: int
    look: str


@dataclass(frozen=True)
class Bake:
    """One dough: weights in grams, temperatures in °C, ranges in per cent of the flour."""

    key: str
    title: str
    formula: Formula
    ranges: Mapping[str, tuple[float, float]]
    piece: str
    pieces: int
    piece_weight: float
    dough: float
    oven: float
    inside: float
    stages: tuple[Stage, ...]

    @property
    def minutes(self) -> int:
        """All stages together, a cold night too."""
        return sum(stage.minutes for stage in self.stages)

    @property
    def cost(self) -> float:
        """What one piece costs, in the demo school's invented crowns."""
        prices = _data()["prices"]
        whole = sum(item.grams * prices[item.ingredient.key] for item in self.formula.items) / 1000
        return whole / self.pieces

    def parts(self) -> dict[str, float]:
        """Water of the liquids, added sugar, added fat, salt and yeast, in per cent of the flour."""
        water = hydration(self.formula)
        return {"water": 100 * water.values()[water.answer.key]} | {
            part: self._percent(part) for part in PARTS[1:]
        }

    def _percent(self, part: str) -> float:
        return 100 * sum(map(_ADDED[part], self.formula.items)) / self.formula.flour


def _of_group(name: str, weight=lambda item: item.grams):
    return lambda item: weight(item) if item.ingredient.group == name else 0.0


# Grams that an item adds: what rides along in milk and egg is not added.
_ADDED = {
    "sugar": _of_group("sweetener"),
    "fat": _of_group("fat", lambda item: item.grams * (item.ingredient.fat or 0.0)),
    "salt": _of_group("salt"),
    "yeast": _of_group("yeast"),
}


@cache
def bakes() -> dict[str, Bake]:
    """Every dough by its key, in the order of the page."""
    return {row["key"]: _bake(row) for row in _data()["bakes"]}


def published() -> list[dict]:
    """The public formulas that the ranges rest on: name, dough, per cent of each part they state."""
    return _data()["published"]


def beyond() -> dict[str, float]:
    """How many points a range may reach beyond the public formulas."""
    return _data()["beyond"]


@cache
def _data() -> dict:
    return yaml.safe_load(Path(__file__).with_suffix(".yml").read_text("utf-8"))


def _bake(row: dict) -> Bake:
    return Bake(
        key=row["key"],
        title=row["title"],
        formula=Formula(tuple(Item(table()[k], g) for k, g in row["weights"].items())),
        ranges={part: tuple(ends) for part, ends in row["ranges"].items()},
        piece=row["piece"],
        pieces=row["pieces"],
        piece_weight=row["piece weight"],
        dough=row["dough"],
        oven=row["oven"],
        inside=row["inside"],
        stages=tuple(Stage(*stage) for stage in row["steps"]),
    )
