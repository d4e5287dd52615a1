"""Everything a problem set may ask for, from the register itself."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.quantities import RANKINGS, REGISTRY
from calc.registry import Slot
from docs.parts.shared.set_givens import allowed
from exercises.publish.html import element, table


def build(attributes: Mapping[str, str]) -> list[Element]:
    """Two tables: what to compute, with its givens; and what to order by."""
    quantities = [
        [each.name, each.means, element("span", *_slots(each.slots))] for each in REGISTRY.values()
    ]
    rankings = [[each.name, each.asks] for each in RANKINGS.values()]
    return [
        table("To compute", ["ask", "It asks for", "Givens"], quantities),
        table("To put in order", ["by", "The order"], rankings),
    ]


def _slots(slots: tuple[Slot, ...]) -> list[Element]:
    return [element("small", f"{slot.name}: {_allowed(slot)}") for slot in slots]


def _allowed(slot: Slot) -> str:
    return allowed(slot) + (" (may be left out)" if slot.optional else "")
