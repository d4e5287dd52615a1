"""How much acid a liquid holds, and how sour it makes a dough.

pH says how strong an acid is at work, not how much of it there is: coffee and buttermilk lie near
each other in pH, and buttermilk holds six times the acid. So acid is counted as titratable acidity,
in millimoles (mmol) of base that 100 g take up to pH 8.2 or 8.3. One per cent of lactic acid is
11.1 mmol in 100 g. Where nobody measured it, nothing is guessed, but for soured milk, whose pH and
acid hang together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from calc.composition import Ingredient, sources, table
from calc.data_file import ACIDS, check_acids, read_rows
from calc.expression import Name, Number, summed
from calc.formula import Formula, FormulaError, Item, counts, numbered_water
from calc.interval import Interval
from calc.registry import FLOUR, LIQUID, LIQUID_WEIGHT, Slot, quantity
from calc.units import PLAIN, Style, digits
from calc.working import PART_OF_A_WHOLE, Working

# At this pH or above a liquid makes no dough sourer: a dough without any acid lies near pH 5.5 to 6.
# Source: Holmes and Hoseney, Cereal Chemistry 64 (1987), 343, control dough pH 5.5 (abstract read).
DOUGH_PH = 6.0
# Ours, in mmol in 100 g of the liquid's water. Fresh milk's 1.6 counts as nothing; from 7.5 on, which
# sour cream has at the least, a liquid counts as fully sour.
MILD, SOUR = 1.6, 7.5
# Soured milk, by straight line from fresh milk (pH 6.6, 1.6 mmol in 100 g of water) to cultured
# buttermilk (pH 4.5, 10.4 mmol): the table's own figures. In milk each step of pH takes about as
# much acid as the last.
_FRESH, _SOURED = (6.6, 1.6), (4.5, 10.4)
_LEAST_PH = 3.8


@dataclass(frozen=True)
class Acid:
    """The acid in 100 g of a liquid, in mmol: the usual figure, its range, and where it is from."""

    mmol: float
    between: Interval
    source: str


# The source of what is reckoned, not looked up.
BY_PH = "no sourer than dough"
AS_IN_MILK = "from its pH, as in milk"


@cache
def _measured() -> dict[str, Acid]:
    rows = read_rows(ACIDS)
    check_acids(rows, table(), sources())
    return {
        row["key"]: Acid(
            float(row["mmol"]),
            Interval(float(row["mmol_low"]), float(row["mmol_high"])),
            row["source"],
        )
        for row in rows.values()
    }


def of(ingredient: Ingredient) -> Acid | None:
    """The acid of a liquid; None when nobody measured it and its pH does not tell. Raises DataFileError."""
    known = _measured().get(ingredient.key)
    if known or ingredient.ph is None:
        return known
    if (ingredient.ph.low + ingredient.ph.high) / 2 >= DOUGH_PH:
        return Acid(0.0, Interval.exactly(0.0), BY_PH)
    if "milk" in ingredient.allergens and ingredient.ph.low >= _LEAST_PH:
        high, low = (
            _in_milk(ph) * ingredient.water for ph in (ingredient.ph.low, ingredient.ph.high)
        )
        return Acid((low + high) / 2, Interval(low, high), AS_IN_MILK)
    return None


def _in_milk(ph: float) -> float:
    """Acid in 100 g of a soured milk's water, in mmol."""
    (fresh, least), (soured, most) = _FRESH, _SOURED
    return max(0.0, least + (most - least) * (fresh - ph) / (fresh - soured))


def liquids(formula: Formula) -> tuple[Item, ...]:
    """The items whose water counts as the dough's liquid."""
    return tuple(item for item in formula.items if item.grams and counts(item, "water"))


def unknown(parts: Sequence[Item]) -> list[str]:
    """The names of the liquids whose acid is not known."""
    return [item.ingredient.name for item in parts if of(item.ingredient) is None]


def load(formula: Formula) -> tuple[float, Interval] | None:
    """The acid that the liquids bring, in mmol for 100 g of flour, and its bounds; None when not known."""
    parts = liquids(formula)
    if unknown(parts):
        return None
    acids = [(item.grams / formula.flour, of(item.ingredient)) for item in parts]
    return sum(share * acid.mmol for share, acid in acids), Interval(
        sum(share * acid.between.low for share, acid in acids),
        sum(share * acid.between.high for share, acid in acids),
    )


def sour_share(parts: Sequence[Item]) -> Working:
    """The share of the liquid's water that counts as sour; the last step is a fraction.

    Each liquid's acid is placed between `MILD` (counts 0) and `SOUR` (counts 1) by a straight line,
    and weighed by its water. The bounds carry what products hold. It is an index of ours: it leaves
    out what the flour takes up and what yeast makes (about as much as fresh milk holds).

    Raises FormulaError when there is no liquid with water, or one whose acid is not known.
    """
    parts = [item for item in parts if item.grams and item.ingredient.water]
    if not parts:
        raise FormulaError("There is no liquid in this dough. Give it one with water in it.")
    if missing := unknown(parts):
        raise FormulaError(f"Nobody told us how much acid is in {' and '.join(missing)}.")
    working = Working("How much of the liquid's water counts as sour")
    waters, sour = [], []
    for number, item in enumerate(parts):
        water = _water(working, number, item)
        waters.append(water)
        sour.append(water * _how_sour(working, number, item.ingredient))
    if len(parts) > 1:
        working.step(
            "share",
            "sour share of the water",
            summed(sour) / summed(waters),
            "share",
            role=PART_OF_A_WHOLE,
            why="Each liquid counts by its water.",
        )
    return working


def _water(working: Working, number: int, item: Item) -> Name:
    weight = working.given(
        f"weight{number}", item.ingredient.name, item.grams, "mass", role="ingredient"
    )
    return numbered_water(working, number, item.ingredient, weight)


def _how_sour(working: Working, number: int, ingredient: Ingredient) -> Name:
    known, water = of(ingredient), ingredient.water
    held = working.given(
        f"acid{number}",
        f"mmol of acid in 100 g of the water of {ingredient.name}, counted from {MILD} to {SOUR}",
        _counted(known.mmol / water),
        "number",
        Interval(_counted(known.between.low / water), _counted(known.between.high / water)),
    )
    return working.step(
        f"sour{number}",
        f"how sour {ingredient.name} counts",
        (held - Number(MILD)) / (Number(SOUR) - Number(MILD)),
        "share",
        why=f"{MILD} mmol, as in fresh milk, count as not sour, {SOUR} mmol as fully sour, with a straight line between.",
    )


def _counted(mmol: float) -> float:
    return min(SOUR, max(MILD, mmol))


def sourness(formula: Formula) -> tuple[float, Interval] | None:
    """The sour share of a formula's liquid, and its bounds; None where its acid is not known.

    Raises FormulaError when there is no liquid.
    """
    parts = liquids(formula)
    if parts and unknown(parts):
        return None
    working = sour_share(parts)
    key = working.answer.key
    # Rounding in the last bits, or bounds that are too wide, may carry a share over the whole.
    share = max(0.0, min(1.0, working.values()[key]))
    return share, working.bounds()[key].intersection(Interval(0.0, 1.0))


def ph_bounds(parts: Sequence[Item]) -> Interval | None:
    """Between which pH values the mixed liquid lies; None when a part's pH is not known.

    A mixture's pH lies between the lowest and the highest of its parts: each part takes up more
    acid the lower the pH, so the mixture's charge balance changes sign between the two. The flour is
    left out, and so is what yeast makes.
    """
    ranges = [item.ingredient.ph for item in parts if item.grams]
    if not ranges or None in ranges:
        return None
    return Interval(min(one.low for one in ranges), max(one.high for one in ranges))


def write_ph(ph: Interval, style: Style = PLAIN) -> str:
    """A pH as a reader reads it: "4.4", or "3.9 to 4.4"."""
    return " to ".join(dict.fromkeys(digits(end, 0.1, style) for end in (ph.low, ph.high)))


@quantity(
    "sour part of the water",
    "how much of the dough's water comes with a sour liquid when plain water brings the rest",
    LIQUID,
    LIQUID_WEIGHT,
    Slot("water weight", "mass", 20, 50_000),
    plausible_low=0.02,
    plausible_high=1.0,
)
def sour_part(liquid: Ingredient, liquid_weight: float, water_weight: float) -> Working:
    """The water of a fully sour liquid as a share of all the water; weights in grams."""
    working = Working("How much of the water is sour")
    water = _water(working, 0, Item(liquid, liquid_weight))
    plain = working.given("plain", "plain water", water_weight, "mass", role="ingredient")
    total = working.step(
        "total", "water in all", water + plain, "mass", why="The plain water counts too."
    )
    working.step(
        "share",
        "sour part of the water",
        water / total,
        "share",
        role=PART_OF_A_WHOLE,
        why="Only the liquid's water is sour. Compare it with all the water.",
    )
    return working


@quantity(
    "acid in a dough",
    "how much acid a liquid brings for 100 g of flour",
    FLOUR,
    LIQUID_WEIGHT,
    Slot("acid", "number", 0.2, 100),
    plausible_low=0.1,
    plausible_high=100,
)
def acid_in_dough(flour: float, liquid_weight: float, acid: float) -> Working:
    """Liquid × acid ÷ flour: mmol for 100 g of flour. `acid` is mmol in 100 g; weights in grams."""
    working = Working("Acid in a dough")
    weight = working.given("liquid", "sour liquid", liquid_weight, "mass", role="ingredient")
    base = working.given("flour", "flour", flour, "mass", role="flour")
    held = working.given("acid", "mmol of acid in 100 g of the liquid", acid, "number")
    share = working.step(
        "part", "liquid as a share of the flour", weight / base, "share",
        why="Count it on the flour, as a baker counts everything.",
    )  # fmt: skip
    working.step(
        "load", "mmol of acid for 100 g of flour", held * share, "number", to=0.1,
        why="100 g of flour get this share of 100 g of the liquid.",
    )  # fmt: skip
    return working
