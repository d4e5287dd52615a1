"""How often the bounds read from a pack hold the true water, and how wide they are.

``python -m tests.bench.packs [FILE]``

Foods are the USDA's (`tests/reference/usda_sr24_foods.csv`), each printed as a pack by the rules of
21 CFR 101.9(c) or the EU guidance of December 2012, with a printer of its own, and read back. What a
kind of food holds besides the panel is derived without the foods that are read (k-fold), so every food
is one that the reader has not seen. Beside the width is the goal, which no reader can be narrower than
and hold so many: rounding alone, and what 95 of 100 foods of the kind differ in what no pack prints.

Foods whose USDA parts do not add up to 100 g are left out: their water is not known so closely.
"""

from __future__ import annotations

import csv
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path
from zlib import crc32

from calc import pack_kinds
from calc.label import ALCOHOL_DENSITY, Panel, PanelError, read_panel, water_content
from calc.panel_energy import Energy, fits, read_energy, suspects
from tests.pack_kinds import ANY, KINDS, Food, derived, foods, is_of, quantile

FOLDS = 5
NOISE = 1e-9


# The printer. It shares nothing with the reading.


def to_step(value: Decimal, step: str) -> Decimal:
    return (value / Decimal(step)).quantize(Decimal(1), ROUND_HALF_UP) * Decimal(step)


def us_figure(name: str, grams: float, style: int) -> str:
    """One line of a US panel; `style` picks how small amounts are shown where the law leaves a choice."""
    amount = Decimal(str(grams))
    if name == "sodium":
        amount *= 1000
        if amount < 5:
            return "0 mg"
        return f"{to_step(amount, '5' if amount <= 140 else '10')} mg"
    if name == "fat":
        if amount < Decimal("0.5"):
            return "0 g"
        return f"{to_step(amount, '0.5' if amount < 5 else '1')} g"
    if amount < Decimal("0.5"):
        return ("0 g", "less than 1 g", "0 g")[style]
    if amount < 1:
        return ("1 g", "<1 g", "Contains less than 1 gram")[style]
    return f"{to_step(amount, '1')} g"


def eu_figure(name: str, grams: float, style: int) -> str:
    """One line of an EU panel, per 100 g or 100 ml."""
    amount = Decimal(str(grams))
    if name == "salt":
        if amount <= Decimal("0.0125"):
            return ("0 g", "<0.01 g", f"{to_step(amount, '0.01')} g")[style]
        return f"{to_step(amount, '0.01' if amount < 1 else '0.1')} g"
    if amount <= Decimal("0.5"):
        return ("0 g", "<0.5 g", f"{to_step(amount, '0.1')} g")[style]
    return f"{to_step(amount, '0.1' if amount < 10 else '1')} g"


def us_panel(food: Food, grams: float, serving: str, style: int) -> dict[str, str]:
    parts = {name: getattr(food, name) for name in ("fat", "carbohydrate", "protein", "sodium")}
    parts |= {"fibre": food.fibre or 0.0}
    return {"serving": serving} | {
        name: us_figure(name, value * grams / 100, style) for name, value in parts.items()
    }


def eu_panel(food: Food, grams: float, style: int, fibre: bool = True) -> dict[str, str]:
    parts = {name: getattr(food, name) for name in ("fat", "protein", "salt")}
    parts["carbohydrate"] = max(0.0, food.carbohydrate - (food.fibre or 0.0))
    if fibre:
        parts["fibre"] = food.fibre or 0.0
    return {name: eu_figure(name, value * grams / 100, style) for name, value in parts.items()}


# Volumes in 1 g, in ml, from memory; alcohol as OIML R 22 has it in drinks.
_VOLUMES = {"water": 1 / 0.998, "protein": 1 / 1.32, "fat": 1 / 0.92, "carbohydrate": 1 / 1.59,
            "ash": 1 / 2.4, "alcohol": 1.165}  # fmt: skip


def density(food: Food) -> float:
    """The USDA's own (from its weight of a fluid ounce) where that can be, else from the parts."""
    weights = {name: getattr(food, name) for name in _VOLUMES}
    modelled = sum(weights.values()) / sum(_VOLUMES[name] * each for name, each in weights.items())
    if food.density and abs(food.density / modelled - 1) < 0.012:
        return food.density
    return modelled


def alcohol(food: Food) -> dict[str, str]:
    if food.alcohol < 0.1:
        return {}
    return {"alcohol": f"{food.alcohol * density(food) / ALCOHOL_DENSITY:.1f} % vol"}


@dataclass(frozen=True)
class Pack:
    """One food on one pack."""

    food: Food
    kind: str
    layout: str
    basis: str
    printed: dict[str, str]


def packs(food: Food, kind: str) -> Iterator[Pack]:
    """The packs that one food is printed on."""
    style = food.number % 3
    strong = alcohol(food)
    dense = {"density": f"{density(food):.3f} g/ml"}
    exact = dense if strong else {}

    def pack(layout: str, basis: str, printed: dict[str, str]) -> Pack:
        return Pack(food, kind, layout, basis, printed | strong)

    for grams in (30, 100, 170, 240):
        yield pack(f"US {grams} g", "us", us_panel(food, grams, f"{grams} g", style) | exact)
    yield pack("EU, fibre", "eu-g", eu_panel(food, 100, style) | exact)
    yield pack("EU, no fibre", "eu-g", eu_panel(food, 100, style, fibre=False) | exact)
    if food.kind not in POURED:
        return
    weight = density(food)
    us, eu = (
        us_panel(food, 240 * weight, "1 cup (240 mL)", style),
        eu_panel(food, 100 * weight, style),
    )
    yield pack("US 240 ml, density", "us", us | dense)
    yield pack("EU ml, density", "eu-ml", eu | dense)
    yield pack("US 240 ml", "us", us)
    yield pack("EU ml", "eu-ml", eu)


POURED = {"dairy", "cultured", "plant", "juice", "sour-juice", "brew", "alcohol", "acid"}


# Reading.


@dataclass
class Tally:
    """What came of the packs of one group."""

    held: int = 0
    refused: int = 0
    widths: list[float] = field(default_factory=list)
    goals: list[float] = field(default_factory=list)
    alone: list[float] = field(default_factory=list)

    def count(self, held: bool, width: float, goal: float, alone: float) -> None:
        self.held += held
        self.widths.append(width)
        self.goals.append(goal)
        self.alone.append(alone)

    def line(self, name: str) -> str:
        widths, goals, alone = self.widths or [0.0], self.goals or [0.0], self.alone or [0.0]
        total = len(widths) + self.refused
        return (
            f"{name:34} {total:6} {100 * self.held / total:6.1f} {self.refused:4}"
            f" {quantile(widths, 0.5):7.1f} {quantile(widths, 0.9):6.1f}"
            f" {quantile(goals, 0.5):7.1f} {quantile(goals, 0.9):6.1f}"
            f" {quantile(alone, 0.5):7.1f} {quantile(alone, 0.9):6.1f}"
        )


def rounding_alone(panel: Panel) -> float:
    """The width that rounding alone gives, in points."""
    names = ["fat", "protein", "carbohydrate", *(["fibre"] if panel.basis.fibre_apart else [])]
    grams = sum(panel.figures[name].range.width for name in names if name in panel.figures)
    grams += panel.figures[panel.basis.salt].range.width * (
        2.5 if panel.basis.salt == "sodium" else 1
    )
    return 100 * grams / panel.weight.low


@cache
def spread(kind: str, with_fibre: bool) -> float:
    """How far foods of a kind differ in what no pack prints, in points: the middle 95 of 100."""
    rows = [row for row in foods() if row.adds_up and is_of(row, kind)]
    unprinted = [row.minerals + (row.fibre or 0.0 if with_fibre else 0.0) for row in rows]
    return quantile(unprinted, 0.975) - quantile(unprinted, 0.025)


def read(pack: Pack, kind: pack_kinds.Kind, tallies: list[Tally]) -> None:
    try:
        panel = read_panel(pack.basis, kind, **pack.printed)
    except PanelError:
        for tally in tallies:
            tally.refused += 1
        return
    bounds = water_content(panel).bounds
    held, alone = pack.food.water / 100 in bounds.widened(NOISE), rounding_alone(panel)
    goal = alone + spread(pack.kind, panel.basis.fibre_apart and "fibre" not in panel.figures)
    for tally in tallies:
        tally.count(held, 100 * bounds.width, goal, alone)


def kinds_without(rows: list[Food], left_out: set[int]) -> dict[str, pack_kinds.Kind]:
    """The kinds as they would be, had these foods not been in the table."""
    with KINDS.open(encoding="utf-8", newline="") as file:
        written = [*csv.DictReader(file)]
    made = {}
    for row in written:
        mine = [food for food in rows if food.number not in left_out and is_of(food, row["key"])]
        made[row["key"]] = pack_kinds.kind_of(row | derived(mine))
    return made


def fold_of(food: Food, folds: int) -> int:
    """Foods of nearly one name are nearly one food: they are left out together."""
    return crc32(",".join(food.name.split(",")[:2]).encode()) % folds


HEADING = f"{'':34} {'packs':>6} {'hold %':>6} {'ref.':>4} {'width':>7} {'p90':>6} {'goal':>7} {'p90':>6} {'round.':>7} {'p90':>6}"


Read = tuple[list[Food], dict[str, pack_kinds.Kind]]


def unseen_folds(folds: int, rows: list[Food]) -> Iterator[Read]:
    """Foods, part by part, each with the kinds as they are without that part."""
    for fold in range(folds):
        unseen = [food for food in rows if fold_of(food, folds) == fold]
        yield unseen, kinds_without(rows, {food.number for food in unseen})


Tallies = dict[tuple[str, str], Tally]


def measure(reads: Iterable[Read]) -> Tallies:
    """What comes of every pack, by panel and by kind."""
    tallies: Tallies = defaultdict(Tally)
    for unseen, kinds in reads:
        for food in filter(lambda each: each.adds_up, unseen):
            for key in (food.kind, ANY):
                if key in kinds and is_of(food, key):
                    for pack in packs(food, key):
                        read(pack, kinds[key], [*places(pack, tallies)])
    return tallies


def places(pack: Pack, tallies: Tallies) -> Iterator[Tally]:
    """Where a pack counts: small servings are so wide that they cannot miss."""
    yield tallies["panel", pack.layout + (", kind not known" if pack.kind == ANY else "")]
    if "30 g" not in pack.layout:
        yield tallies["kind", pack.kind]


# Slips of the decimal point, with the energy filled in.


@dataclass
class Slips:
    """Of the panels of one law: true ones, and ones with a figure ten times too large or too small.

    Only slips count that move the water by more than a point.
    """

    true: int = 0
    alarms: int = 0
    moved: int = 0
    refused: int = 0
    caught: int = 0
    named_first: int = 0

    def line(self, name: str) -> str:
        return (
            f"{name:12} {self.true:6} true, {self.alarms} doubted; {self.moved:6} slips: "
            f"{100 * self.refused / self.moved:.0f} % refused, "
            f"{100 * self.caught / (self.moved - self.refused):.0f} % of the others caught, "
            f"{100 * self.named_first / max(1, self.caught):.0f} % of these with the right figure named first"
        )


def energy_of(food: Food, us: bool) -> str:
    """Annex XIV of Regulation (EU) 1169/2011 in kJ; 4, 4, 9 and 7 kcal on a US panel of 240 g."""
    fibre = food.fibre or 0.0
    if us:
        calories = 2.4 * (9 * food.fat + 4 * (food.carbohydrate + food.protein) + 7 * food.alcohol)
        return str(to_step(Decimal(str(calories)), "5" if calories <= 50 else "10"))
    carbohydrate = max(0.0, food.carbohydrate - fibre)
    joules = 37 * food.fat + 17 * (carbohydrate + food.protein) + 8 * fibre + 29 * food.alcohol
    return f"{joules:.0f} kJ"


def slips(rows: Iterable[Food], us: bool) -> Slips:
    """What becomes of slips in fat, carbohydrate and protein, one at a time."""
    made, basis = Slips(), "us" if us else "eu-g"
    for food in rows:
        kind, style = pack_kinds.kinds().get(food.kind), food.number % 3
        if kind is None or not food.adds_up:
            continue
        strong = alcohol(food)
        printed = us_panel(food, 240, "240 g", style) if us else eu_panel(food, 100, style)
        printed |= strong | ({"density": f"{density(food):.3f}"} if strong else {})
        panel, energy = read_panel(basis, kind, **printed), read_energy(energy_of(food, us), us)
        made.true += 1
        made.alarms += not fits(panel, energy)
        for name in ("fat", "carbohydrate", "protein"):
            for slip in (10, 0.1):
                wrong = f"{panel.figures[name].value * slip:.6g} g"
                _slip(made, panel, kind, printed | {name: wrong}, name, energy)
    return made


def _slip(
    made: Slips,
    true: Panel,
    kind: pack_kinds.Kind,
    wrong: dict[str, str],
    name: str,
    energy: Energy,
) -> None:
    solids = wrong[name].split()[0]
    if abs(float(solids) - true.figures[name].value) <= 0.01 * true.weight.low:
        return
    made.moved += 1
    try:
        panel = read_panel(true.basis.key, kind, **wrong)
    except PanelError:
        made.refused += 1
        return
    found = suspects(panel, energy)
    made.caught += not fits(panel, energy)
    made.named_first += bool(found) and found[0].field == name


def main(table: str = "") -> None:
    """`table` is another file with the columns of the USDA's, for foods that no kind was made from."""
    reads = [(foods(Path(table)), pack_kinds.kinds())] if table else unseen_folds(FOLDS, foods())
    tallies = measure(reads)
    for part, title in (("panel", "by panel"), ("kind", "by kind, without servings of 30 g")):
        print(f"\n{title}\n{HEADING}")
        for (which, name), tally in sorted(tallies.items()):
            if which == part:
                print(tally.line(name))
    print("\nslips of the decimal point")
    rows = foods(Path(table)) if table else foods()
    for us, law in ((False, "EU 100 g"), (True, "US 240 g")):
        print(slips(rows[::4], us).line(law))


if __name__ == "__main__":
    main(*sys.argv[1:2])
