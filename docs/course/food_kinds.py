"""What each kind of food on the pack page holds besides its panel, from the kinds themselves."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import pack_kinds
from calc.interval import Interval
from calc.pack_kinds import Kind
from docs.parts.shared.cards import as_cards
from exercises.publish.html import table

HEADS = ["Kind of food", "Foods", "Minerals", "Fibre, where no pack says", "Acid"]


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A table: each kind, from how many foods, and its minerals, fibre and acid in 100 g."""
    rows = [_row(kind) for kind in pack_kinds.kinds().values()]
    return [
        as_cards(table("What no pack prints, in 100 g (minerals without the salt)", HEADS, rows))
    ]


def _row(kind: Kind) -> list[str]:
    return [
        kind.name,
        str(kind.rows),
        _grams(kind.minerals_range),
        _grams(kind.fibre.range),
        _grams(kind.acid.range),
    ]


def _grams(share: Interval) -> str:
    low, high = (round(max(0.0, 100 * end), 1) for end in (share.low, share.high))
    return f"{low:g} to {high:g} g" if high else "none"
