"""What doughs hold: hydration in each meaning, then what rides along. Every tool tells it in this order."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.balance import amount
from calc.composition import RIDERS
from calc.formula import Formula
from calc.units import Style
from docs.parts.hydration_table import in_each_meaning
from exercises.publish.html import element, table


def what_doughs_hold(doughs: Mapping[str, Formula], style: Style) -> list[Element]:
    """Both tables, a column for each dough by its name."""
    return [in_each_meaning(doughs, style), _riders(doughs, style)]


def folded(doughs: Mapping[str, Formula], style: Style) -> Element:
    """The same, to open, where the tool changes none of it."""
    summary = element("summary", "Hydration in each meaning, and what rides along")
    return element("details", summary, *what_doughs_hold(doughs, style))


def _riders(doughs: Mapping[str, Formula], style: Style) -> Element:
    rows = [
        [name, *(_held(dough, part, style) for dough in doughs.values())]
        for part, name in RIDERS.items()
    ]
    return table("What rides along", ["In the dough", *doughs], rows, "dw-figures")


def _held(dough: Formula, part: str, style: Style) -> Element:
    """Grams of a part in all of the dough, and its share of the flour; what no source tells may come on top."""
    grams = amount(dough, part)
    more = " or more" if dough.total(part) is None else ""
    share = units.write(grams / dough.flour, "share", style, step=0.001)
    weight = units.write(grams, "mass", style, step=0.1)
    return element("span", f"{weight}{more}", element("small", f"{share} of flour"))
