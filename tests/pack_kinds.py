"""What each kind of food on the pack page holds, from USDA rows: ``python -m tests.pack_kinds``.

It fills in the columns of ``calc/data/pack_kinds.csv`` that come from
``tests/reference/usda_sr24_foods.csv``; the others (names, acid) are written by hand.
`tests/calc/test_label.py` says when the two no longer agree.
"""

from __future__ import annotations

import csv
import io
import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from calc.composition import SALT_PER_SODIUM

KINDS = Path(__file__).parents[1] / "calc" / "data" / "pack_kinds.csv"
FOODS = Path(__file__).parent / "reference" / "usda_sr24_foods.csv"
# Who does not know the kind has a moist food, most likely: drier ones hold more minerals.
ANY, MOIST = "any", 20.0
# USDA rows whose parts do not add up to 100 g tell nothing of the minerals.
ABOUT_100 = (99.5, 100.5)
# Vinegar's acid is in none of its parts.
ACID, LEAST_IN_ACID = "acid", 93.0
PARTS = ("water", "protein", "fat", "carbohydrate", "ash", "alcohol")
# A range leaves out this share of the rows at each end: what only one food in seventy is.
LEFT_OUT = 0.03
# Steps of the minerals that go with a gram of protein.
SLOPES = [step / 100 for step in range(0, 61)]
# Minerals go with the protein where that narrows the range to less than this.
WORTH_IT = 0.75


@dataclass(frozen=True)
class Food:
    """A USDA row: grams in 100 g, kilocalories, g/ml; None where the USDA gives no figure."""

    number: int
    name: str
    kind: str
    water: float
    protein: float
    fat: float
    saturated: float | None
    carbohydrate: float
    sugars: float | None
    fibre: float | None
    ash: float
    sodium: float
    alcohol: float
    energy: float | None
    density: float | None

    @property
    def salt(self) -> float:
        return self.sodium * SALT_PER_SODIUM

    @property
    def minerals(self) -> float:
        """Ash without salt."""
        return self.ash - self.salt

    @property
    def adds_up(self) -> bool:
        least = LEAST_IN_ACID if self.kind == ACID else ABOUT_100[0]
        return least <= sum(getattr(self, part) for part in PARTS) <= ABOUT_100[1]


def foods(path: Path = FOODS) -> list[Food]:
    """Every row of the reference file."""
    with path.open(encoding="utf-8", newline="") as file:
        return [_food(row) for row in csv.DictReader(file)]


def _food(row: dict[str, str]) -> Food:
    def number(column: str, scale: float = 1.0) -> float | None:
        return float(row[column]) * scale if row[column] else None

    grams = ("water", "protein", "fat", "saturated", "carbohydrate", "sugars", "fibre", "ash")
    return Food(
        int(row["ndb_number"]),
        row["name"],
        row["kind"],
        **{name: number(f"{name}_g") for name in grams},
        sodium=number("sodium_mg", 0.001) or 0.0,
        alcohol=number("alcohol_g") or 0.0,
        energy=number("energy_kcal"),
        density=number("density_g_ml"),
    )


def quantile(values: Sequence[float], share: float) -> float:
    """The value below which `share` of `values` lie, in proportion between two of them."""
    ordered = sorted(values)
    place = share * (len(ordered) - 1)
    low = int(place)
    high = min(low + 1, len(ordered) - 1)
    return ordered[low] + (ordered[high] - ordered[low]) * (place - low)


def ends(values: Sequence[float]) -> tuple[float, float]:
    """From low to high, without the outermost rows. Few rows say less of the ends: let them out."""
    low, high = quantile(values, LEFT_OUT), quantile(values, 1 - LEFT_OUT)
    more = (high - low) * 2 / len(values)
    return low - more, high + more


def minerals(rows: Sequence[Food]) -> tuple[float, float, float, float]:
    """Grams of minerals in 100 g that go with a gram of protein, and low, middle, high besides."""

    def besides(slope: float) -> list[float]:
        return [row.minerals - slope * row.protein for row in rows]

    def width(slope: float) -> float:
        low, high = ends(besides(slope))
        return high - low

    slope = min(SLOPES, key=width)
    if width(slope) > WORTH_IT * width(0.0):
        slope = 0.0
    low, high = ends(besides(slope))
    return slope, low, statistics.median(besides(slope)), high


def derived(rows: Iterable[Food]) -> dict[str, str]:
    """The columns of one kind that come from its rows."""
    whole = [row for row in rows if row.adds_up]
    slope, low, middle, high = minerals(whole)
    least, most = ends([row.minerals for row in whole])
    fibre = [row.fibre for row in whole if row.fibre is not None] or [0.0]
    return {
        "rows": str(len(whole)),
        "least": f"{least:.2f}",
        "most": f"{most:.2f}",
        "per_protein": f"{slope:.2f}",
        "minerals_low": f"{low:.2f}",
        "minerals": f"{middle:.2f}",
        "minerals_high": f"{high:.2f}",
        "fibre": f"{statistics.median(fibre):.1f}",
        "most_salt": f"{max(row.salt for row in whole):.1f}",
        "fibre_high": f"{max(0.0, ends(fibre)[1]):.1f}",
    }


def filled(text: str, rows: Sequence[Food]) -> str:
    """The data file's text with its derived columns from `rows`."""
    reader = csv.DictReader(io.StringIO(text, newline=""))
    made = io.StringIO(newline="")
    writer = csv.DictWriter(made, reader.fieldnames or [], lineterminator="\n")
    writer.writeheader()
    for kind in reader:
        mine = [row for row in rows if is_of(row, kind["key"])]
        writer.writerow(kind | derived(mine))
    return made.getvalue()


def is_of(row: Food, kind: str) -> bool:
    """Whether a food counts for a kind; nearly all count for the unknown one."""
    return row.water > MOIST if kind == ANY else row.kind == kind


if __name__ == "__main__":
    KINDS.write_text(filled(KINDS.read_text(encoding="utf-8"), foods()), encoding="utf-8")
