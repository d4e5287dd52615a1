"""Everything a problem set may ask for, from the register itself."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.quantities import RANKINGS, REGISTRY
from calc.registry import Slot
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
    return [element("small", f"{slot.name}: {allowed(slot)}") for slot in slots]


def allowed(slot: Slot) -> str:
    """What a slot takes, in words: ``50 g to 50000 g``."""
    left_out = " (may be left out)" if slot.optional else ""
    if slot.kind == "ingredient":
        if slot.needs == "is_flour":
            return f"a flour{left_out}"
        return f"an ingredient{f' with {slot.needs}' if slot.needs else ''}{left_out}"
    low, high = (units.write_exact(end, slot.kind) for end in (slot.low, slot.high))
    return f"{low} to {high}{left_out}"
