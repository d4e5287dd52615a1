"""The kinds of food that a pack may hold, and what its panel does not print: minerals, fibre, acid.

The figures are in ``data/pack_kinds.csv``, in g per 100 g. Minerals and fibre come from the rows of
the USDA's table, release 24, that are of the kind (`tests/pack_kinds.py` derives them); acids are
from memory, compared with measured fruit and vegetables of the Indian Food Composition Tables 2017.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from calc.data_file import PACK_KINDS, read_rows
from calc.interval import Interval

# Any moist food, where the reader does not know the kind.
ANY = "any"


@dataclass(frozen=True)
class Usual:
    """What foods of a kind usually hold of something, as a share: the middle one, and low to high."""

    value: float
    range: Interval


@dataclass(frozen=True)
class Kind:
    """One kind of food. Shares of its weight; minerals are the ash without the salt.

    Minerals partly go with the protein: `per_protein` of it, and `besides` as well; in all they are
    within `minerals_range`. No food of the kind was found with more than `most_salt`. `acid` is
    organic acid, which no panel prints: EU carbohydrate leaves it out, and US carbohydrate, what is
    left of the whole, does so only for vinegar (`acid_everywhere`). `pours` tells whether it is a liquid or paste without air, whose solids tell the density.
    """

    key: str
    name: str
    rows: int
    per_protein: float
    besides: Usual
    minerals_range: Interval
    fibre: Usual
    most_salt: float
    acid: Usual
    acid_everywhere: bool
    pours: bool

    def minerals(self, protein: Interval) -> Usual:
        """The minerals of a food of this kind with that share of protein."""
        lowest, highest = self.minerals_range.low, self.minerals_range.high
        low = self.besides.range.low + self.per_protein * protein.low
        high = self.besides.range.high + self.per_protein * protein.high
        # More protein than nearly all of these foods have, or less, tells no more than theirs did:
        # the band stops at the ends that were found, and does not shrink there.
        low = max(lowest, min(low, highest - self.besides.range.width))
        high = min(highest, max(high, lowest + self.besides.range.width))
        middle = self.besides.value + self.per_protein * (protein.low + protein.high) / 2
        return Usual(min(high, max(low, middle)), Interval(low, high))


def kind_of(row: Mapping[str, str]) -> Kind:
    """A kind from a row of the data file."""

    def share(column: str) -> float:
        return float(row[column]) / 100

    return Kind(
        row["key"],
        row["name"],
        int(row["rows"]),
        float(row["per_protein"]),
        Usual(share("minerals"), Interval(share("minerals_low"), share("minerals_high"))),
        Interval(share("least"), share("most")),
        # A law lets fibre be left out, also where there is none.
        Usual(share("fibre"), Interval(0.0, share("fibre_high"))),
        share("most_salt"),
        Usual(share("acid"), Interval(share("acid"), share("acid_high"))),
        row["acid_laws"] == "both",
        row["pours"] == "yes",
    )


@cache
def kinds() -> dict[str, Kind]:
    """Every kind, by key, as the page lists them; `ANY` comes last. Raises DataFileError."""
    return {row["key"]: kind_of(row) for row in read_rows(PACK_KINDS).values()}


def find(key: str) -> Kind | None:
    """The kind of that key, if there is one."""
    return kinds().get(key)
