"""Figures of the lesson “Divide by the water content”."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from calc import composition, units
from calc.formula import Item
from calc.registry import for_bench
from calc.words import capital
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text
from docs.parts.shared.water_line import COLOURS, Vessel, drawing


@figure("same-water")
def same_water(attributes: Mapping[str, str]) -> Drawing:
    """Water, the liquid that holds it, and the same weight of liquid, as vessels.

    ``flour``, ``hydration`` and ``liquid`` as the quantity “new liquid” takes them.
    """
    given = {name: attributes[name] for name in ("flour", "hydration", "liquid")}
    swap = working("new liquid", **given)
    values = swap.values()
    need, liquid = values["water"], values[swap.answer.key]
    new = for_bench(composition.read(attributes["liquid"]))
    name, water = capital(new.name), composition.find("water")
    vessels = (
        Vessel("Water", (Item(water, need),)),
        Vessel(name, (Item(new, liquid),)),
        Vessel(f"{name} gram for gram", (Item(new, need),)),
    )
    return replace(
        drawing(vessels, needed=need),
        caption=f"The broken line is the water that the dough needs. Gram for gram falls short of it. {COLOURS}",
    )


@figure("drier-needs-more")
def drier_needs_more(attributes: Mapping[str, str]) -> Drawing:
    """The weight of liquids that all bring the same water, drawn to one scale.

    ``flour`` and ``hydration``; ``contents`` lists water contents, divided by semicolons.
    """
    wet = {name: attributes[name] for name in ("flour", "hydration")}
    contents = [one.strip() for one in attributes["contents"].split(";")]
    swaps = [working("new liquid", **wet, liquid=f"liquid, {one} water") for one in contents]
    need = swaps[0].values()["water"]
    weights = [swap.values()["liquid"] for swap in swaps]
    grams = [units.write(weight, "mass", step=1) for weight in weights]
    scale = 0.98 * WIDTH / max(weights)
    marks = []
    for number, (content, weight, shown) in enumerate(zip(contents, weights, grams, strict=True)):
        top = number * 50
        marks += [
            text(0, top + 13, f"{content} water: {shown}"),
            bar(0, top + 20, need * scale, "water", 18),
            bar(need * scale, top + 20, (weight - need) * scale, "other", 18),
        ]
    bottom = len(contents) * 50 - 6
    marks.append(line((need * scale, 18), (need * scale, bottom)))
    listed = "; ".join(f"at {c}, {g}" for c, g in zip(contents, grams, strict=True))
    return Drawing(
        f"Bars drawn to one scale, each with the same {units.write(need, 'mass', step=1)} of water. "
        f"The weight of the liquid is, {listed}.",
        "Blue is the same water in each bar, grey is everything else in the liquid.",
        bottom + 2,
        tuple(marks),
    )
