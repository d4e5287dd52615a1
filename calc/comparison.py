"""A side-by-side bake: one formula with two to eight liquids, at the same water.

Each variant is the base formula with its liquid swapped whole (`calc.substitution.swap`), so flour,
salt, yeast and the rest weigh the same in all of them, and so does the water of their liquids.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc import formula
from calc.composition import Ingredient
from calc.formula import Formula, FormulaError, Item
from calc.spread import least_seen, level_of_each, needed_gap
from calc.substitution import Swap, swap
from calc.tasting import blind_codes, mixing_orders, oven_places, serving

# A bake compares at least and at most so many variants.
FEWEST, MOST = 2, 8


@dataclass(frozen=True)
class Variant:
    """One dough of the bake: the liquid, and the swap that led to its formula."""

    swap: Swap

    @property
    def liquid(self) -> Ingredient:
        """The liquid that makes this variant."""
        return self.swap.new.ingredient

    @property
    def key(self) -> str:
        """The key of its liquid."""
        return self.liquid.key

    @property
    def name(self) -> str:
        """The name of its liquid."""
        return self.liquid.name

    @property
    def dough(self) -> Formula:
        """Its formula, after the swap."""
        return self.swap.after

    def hydration(self, meaning: str = "water") -> float:
        """The hydration in one of `calc.formula.MEANINGS`, a share of the flour."""
        return formula.hydration(self.dough, meaning).values()["hydration"]

    def brought(self, part: str) -> float | None:
        """Grams of a part that come with the liquid; None where not known."""
        share = getattr(self.liquid, part)
        return None if share is None else self.swap.new.grams * share

    def share(self, part: str) -> float | None:
        """A part (``fat``, ``sugars``, ``salt``) as a share of the flour; None where not known."""
        grams = self.dough.total(part)
        return None if grams is None else grams / self.dough.flour


@dataclass(frozen=True)
class Sight:
    """What a plan can show of one measure, in spreads of loaves of the same dough.

    `alone` is how far two means must come out apart to count when one pair is looked at; `together`
    when all pairs are; `seen` is the least true difference that the bake shows four times in five.
    """

    alone: float
    together: float
    seen: float


def sight(variants: int, loaves: int) -> Sight | None:
    """What so many loaves of each variant can show; None for one loaf of each."""
    freedom = variants * (loaves - 1)
    if not freedom:
        return None
    each = level_of_each(variants * (variants - 1) // 2)
    return Sight(
        needed_gap(loaves, freedom),
        needed_gap(loaves, freedom, each),
        least_seen(loaves, freedom, each),
    )


@dataclass(frozen=True)
class Bake:
    """A planned side-by-side bake. `replicates` is the number of loaves of each variant."""

    base: Formula
    variants: tuple[Variant, ...]
    replicates: int
    word: str
    tasters: int

    @property
    def loaves(self) -> tuple[tuple[Variant, int], ...]:
        """Every loaf: its variant and its number from 1, variant by variant."""
        return tuple(
            (variant, loaf + 1) for variant in self.variants for loaf in range(self.replicates)
        )

    def codes(self) -> dict[tuple[str, int], int]:
        """The blind code of each loaf, by the variant's key and the loaf's number."""
        loaves = [(variant.key, loaf) for variant, loaf in self.loaves]
        drawn = blind_codes(self.word, [f"{key} {loaf}" for key, loaf in loaves])
        return dict(zip(loaves, drawn, strict=True))

    def tasting(self) -> tuple[tuple[int, ...], ...]:
        """The codes each taster tastes, in order; one tuple a taster."""
        codes = self.codes()
        return tuple(tuple(codes[loaf] for loaf in loaves) for loaves in self.served())

    def served(self) -> tuple[tuple[tuple[str, int], ...], ...]:
        """The loaves each taster tastes, in order, each a variant's key and the loaf's number."""
        return tuple(
            tuple(
                (self.variants[sample].key, loaf + 1)
                for sample, loaf in serving(len(self.variants), self.replicates, taster)
            )
            for taster in range(self.tasters)
        )

    def mixing_rounds(self) -> tuple[tuple[Variant, ...], ...]:
        """The order to mix in: a round makes one loaf of each variant, number 1 in the first round."""
        orders = mixing_orders(len(self.variants), self.replicates)
        return tuple(tuple(self.variants[one] for one in order) for order in orders)

    def oven_place(self, variant: Variant, loaf: int) -> int:
        """The place in the oven, from 1, where a variant's loaf of that number bakes."""
        places = oven_places(len(self.variants), self.replicates)
        return places[loaf - 1][self.variants.index(variant)] + 1

    @property
    def control(self) -> bool:
        """Whether one of the variants is made with plain water."""
        return any(variant.key == "water" for variant in self.variants)

    @property
    def pairs(self) -> int:
        """How many pairs of variants there are to compare."""
        return len(self.variants) * (len(self.variants) - 1) // 2

    @property
    def sight(self) -> Sight | None:
        """What the loaves can show; None when each variant is baked once."""
        return sight(len(self.variants), self.replicates)

    def in_all(self) -> tuple[Item, ...]:
        """What is weighed once for all the loaves together, over all variants and replicates."""
        grams: dict[Ingredient, float] = {}
        for variant, _ in self.loaves:
            for item in variant.dough.items:
                grams[item.ingredient] = grams.get(item.ingredient, 0.0) + item.grams
        return tuple(Item(ingredient, weight) for ingredient, weight in grams.items() if weight)


def plan(
    base: Formula,
    old: str,
    liquids: Sequence[Ingredient],
    replicates: int = 2,
    word: str = "bake",
    tasters: int = 4,
    scale: float = 0.0,
) -> Bake:
    """Plan the bake: each liquid in turn for the liquid with key `old`; `scale` in grams.

    Raises FormulaError when there are too few or too many liquids, one appears twice, or one cannot
    take the old liquid's place.
    """
    if not FEWEST <= len(liquids) <= MOST:
        raise FormulaError(f"A side-by-side bake compares {FEWEST} to {MOST} liquids.")
    if len({liquid.key for liquid in liquids}) != len(liquids):
        raise FormulaError("The same liquid appears twice. Choose each one once.")
    if replicates < 1 or tasters < 1:
        raise FormulaError("A bake has at least one loaf of each liquid and one taster.")
    variants = tuple(Variant(swap(base, old, liquid, scale=scale)) for liquid in liquids)
    return Bake(base, variants, replicates, word, tasters)
