"""Figures of the lesson “What rides along”."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc import composition
from calc.formula import Item
from calc.registry import for_bench
from calc.words import capital
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import Drawing
from docs.parts.shared.water_line import COLOURS, Vessel, drawing


@figure("what-comes-in")
def what_comes_in(attributes: Mapping[str, str]) -> Drawing:
    """Liquids that bring one water as vessels, with what rides along stacked above.

    ``flour`` and ``hydration``; ``liquids`` lists them, divided by semicolons.
    """
    given = {name: attributes[name] for name in ("flour", "hydration")}
    vessels = []
    for one in attributes["liquids"].split(";"):
        liquid = for_bench(composition.read(one.strip()))
        weight = working("new liquid", **given, liquid=one.strip()).values()["liquid"]
        vessels.append(Vessel(capital(liquid.name), (Item(liquid, weight),)))
    caption = (
        f"The same water, one line. {COLOURS} Salt is too little to draw, and enough to taste."
    )
    return replace(drawing(vessels), caption=caption)
