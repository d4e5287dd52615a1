"""The register of what a problem may ask for: slots, quantities, and the table of them.

Each module of calculations registers its own quantities; `calc.quantities` gathers them all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from calc import units
from calc.composition import RIDERS, Ingredient
from calc.interval import Interval
from calc.units import Style
from calc.words import listed
from calc.working import Working


@dataclass(frozen=True)
class Slot:
    """One thing a problem must give: its name, what it measures and what is sensible for it.

    `kind` is ``mass``, ``share`` or ``ingredient``; `low` and `high` are in calc's unit. `needs`
    names a part that an ingredient must hold, such as ``fat``; ``is_flour`` wants a flour.
    """

    name: str
    kind: str
    low: float = 0.0
    high: float = 0.0
    optional: bool = False
    needs: str = ""

    def refusal(self, value: float | Ingredient) -> str:
        """Why a value does not fit here, in words for the set's writer; empty when it fits."""
        if isinstance(value, Ingredient):
            if self.needs == "is_flour" and not value.is_flour:
                return f"{value.name} is not a flour. Choose one that is."
            if self.needs and not getattr(for_bench(value), self.needs):
                return f"{value.name} has no {self.needs} in the table. Choose one that has some."
        elif not self.low <= value <= self.high:
            low, high = (units.write_exact(end, self.kind) for end in (self.low, self.high))
            shown = units.write_exact(value, self.kind)
            return f"{shown} is not sensible here; stay between {low} and {high}."
        return ""


# The givens that several modules ask with: what they measure, and what is sensible.
FLOUR = Slot("flour", "mass", 50, 50_000)
FLOUR_KIND = Slot("flour kind", "ingredient", needs="is_flour")
HYDRATION = Slot("hydration", "share", 0.40, 1.20)
LIQUID = Slot("liquid", "ingredient")
LIQUID_WEIGHT = Slot("liquid weight", "mass", 20, 50_000)
SECOND_LIQUID = Slot("second liquid", "ingredient")
INGREDIENT = Slot("ingredient", "ingredient")
OTHERS = Slot("other ingredients", "mass", 0, 50_000, optional=True)
SALT = Slot("salt", "share", 0.005, 0.05)
PART = Slot("part", "share", 0.05, 0.95)


@dataclass(frozen=True)
class Quantity:
    """Something to ask for. `build` takes the slots by name and returns the working.

    A draw whose answer is not from `plausible_low` to `plausible_high`, in calc's unit, is refused:
    nobody weighs a 3 g swap.
    """

    name: str
    means: str
    slots: tuple[Slot, ...]
    build: Callable[..., Working]
    plausible_low: float = 0.0
    plausible_high: float = 100_000.0
    # Each step is asked for, as the cells of a table are; otherwise those that `asks` names, or the last.
    cells: bool = False
    asks: tuple[str, ...] = ()

    def slot(self, name: str) -> Slot | None:
        """The slot of that name, if there is one."""
        return next((slot for slot in self.slots if slot.name == name), None)

    def working(self, values: dict[str, float | Ingredient]) -> Working:
        """Build the working from values by slot name, in calc's unit; ingredients as `for_bench` has them.

        Raises ValueError when an ingredient lacks what the quantity is about, or holds no water to divide by.
        """
        for slot in self.slots:
            if slot.needs and slot.name in values and slot.refusal(values[slot.name]):
                raise ValueError(slot.refusal(values[slot.name]))
        bench = {
            name: for_bench(value) if isinstance(value, Ingredient) else value
            for name, value in values.items()
        }
        try:
            made = self.build(**{name.replace(" ", "_"): value for name, value in bench.items()})
            made.values()
            return made
        except ZeroDivisionError:
            raise ValueError(_divided_by_nothing(bench.values())) from None

    def __reduce__(self) -> tuple:
        """Pickled as its name: what builds it is code."""
        return _quantity, (self.name,)


def _divided_by_nothing(values: Iterable[float | Ingredient]) -> str:
    dry = [each.name for each in values if isinstance(each, Ingredient) and not each.water]
    if dry:
        return f"{listed(dry)} holds no water, so nothing can be divided by its water content"
    return "one of them is 0, and nothing can be divided by it"


# Every quantity, by name; `calc.quantities` fills it.
REGISTRY: dict[str, Quantity] = {}


def _quantity(name: str) -> Quantity:
    return REGISTRY[name]


@dataclass(frozen=True)
class Ranking:
    """Something to order ingredients by, most first.

    `score` gives an ingredient's place (more is earlier) and raises ValueError, in words for the
    set's writer, where the table does not know it. Scores closer than `same`, in their own unit,
    count as equal. `tells` writes, for a worked solution, the figures that the score comes from.
    """

    name: str
    asks: str
    score: Callable[[Ingredient], float]
    tells: Callable[[Ingredient, Style], str]
    same: float = 0.0

    def __reduce__(self) -> tuple:
        """Pickled as its name: what scores is code."""
        return _ranking, (self.name,)


# Every ranking, by name; `calc.quantities` fills it.
RANKINGS: dict[str, Ranking] = {}


def _ranking(name: str) -> Ranking:
    return RANKINGS[name]


def ranking(name: str, asks: str, tells: Callable[[Ingredient, Style], str], same: float = 0.0):
    """Register a score as something to order by; `same` is in the score's own unit."""

    def enter(score: Callable[[Ingredient], float]) -> Callable[[Ingredient], float]:
        RANKINGS[name] = Ranking(name, asks, score, tells, same)
        return score

    return enter


def quantity(
    name: str,
    means: str,
    *slots: Slot,
    plausible_low: float = 0.0,
    plausible_high: float = 100_000.0,
    cells: bool = False,
    asks: tuple[str, ...] = (),
):
    """Register a function that returns a working as something to ask for.

    `means` completes "asks for"; answers from `plausible_low` to `plausible_high`, in calc's unit, are
    sensible; `cells` asks for each step instead of the last one only, `asks` for those it names.
    """

    def enter(build: Callable[..., Working]) -> Callable[..., Working]:
        if name in REGISTRY:
            raise ValueError(f"Two calculations are called “{name}”. Give one another name.")
        REGISTRY[name] = Quantity(
            name, means, slots, build, plausible_low, plausible_high, cells, asks
        )
        return build

    return enter


@dataclass(frozen=True)
class BenchShare:
    """A share of an ingredient that a problem may tell: its attribute, its name, its decimals."""

    part: str
    name: str
    decimals: int


# Water to the whole per cent; the rest to a tenth, as packs print it: a little of it counts.
BENCH_SHARES = (
    BenchShare("water", "water content", 2),
    *(BenchShare(part, f"{name} content", 3) for part, name in RIDERS.items()),
)


def for_bench(ingredient: Ingredient) -> Ingredient:
    """An ingredient with its shares rounded as a student reads them (`BENCH_SHARES`)."""
    shares = {each.part: getattr(ingredient, each.part) for each in BENCH_SHARES}
    rounded = {
        each.part: None if shares[each.part] is None else round(shares[each.part], each.decimals)
        for each in BENCH_SHARES
    }
    water, products = rounded["water"], ingredient.water_range
    return replace(
        ingredient,
        **rounded,
        water_range=Interval(min(products.low, water), max(products.high, water)),
    )
