"""Figures of the lesson “Find the water in a liquid”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import units
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import Drawing, bar, line, text

FULL = 300.0
COLOURS = {"fat": "fat", "protein": "protein", "carbohydrate": "carbohydrate"}


@figure("what-is-left")
def what_is_left(attributes: Mapping[str, str]) -> Drawing:
    """100 g of a food, a step down for each thing that is not water; the rest is water.

    The attributes are those of the quantity “water from a pack”.
    """
    slots = ("fat", "protein", "carbohydrate", "fibre", "salt", "other-minerals")
    given = {name.replace("-", "_"): attributes[name] for name in slots if name in attributes}
    found = working("water from a pack", **given)
    values = found.values()
    amount, water = values["amount"], values["water"]
    solids = {name: values[name] / amount for name in ("fat", "protein", "carbohydrate", "fibre")
              if name in values}  # fmt: skip
    # Salt and the other minerals are too thin to tell apart.
    solids["minerals"] = 1 - water - sum(solids.values())
    end, marks, says = FULL, [text(0, 13, "100 g of the food"), bar(0, 20, FULL, "outline", 18)], []
    for number, (name, share) in enumerate(solids.items(), 1):
        top = number * 26 + 20
        width = share * FULL
        said = f"{name} {units.write(share * 100, 'mass', step=0.1)}"
        marks += [
            text(0, top + 14, f"take away {said}"),
            bar(end - width, top, width, COLOURS.get(name, "other"), 18),
            line((end, top - 8), (end, top + 18), class_="dw-faint"),
        ]
        end -= width
        says.append(said)
    top = (len(solids) + 1) * 26 + 20
    left = f"Water: what is left, {found.weighed('water')}"
    marks += [
        line((end, top - 8), (end, top + 28), class_="dw-faint"),
        bar(0, top, end, "water", 18),
        text(0, top + 34, left),
    ]
    return Drawing(
        f"A bar of 100 g of food. Below it, steps take away {', '.join(says)}. {left}.",
        "The pack prints what is not water. Take it away from 100 g.",
        top + 40,
        tuple(marks),
    )


@figure("what-stays")
def what_stays(attributes: Mapping[str, str]) -> Drawing:
    """A sample before and after the oven; the attributes are those of “water by drying”."""
    given = {name: attributes[name] for name in ("before", "after", "dish")}
    found = working("water by drying", **given)
    values = found.values()
    sample, solids = values["sample"], values["solids"]
    lost = sample - solids
    fresh, dry, gone = (units.write(w, "mass", step=0.1) for w in (sample, solids, lost))
    scale = FULL / sample
    stays = solids * scale
    marks = (
        text(0, 13, f"Fresh sample {fresh}, without the dish"),
        bar(0, 20, stays, "other"),
        bar(stays, 20, FULL - stays, "water"),
        text(0, 71, f"After the oven {dry}"),
        bar(0, 78, stays, "other"),
        bar(stays, 78, FULL - stays, "outline"),
        text(stays + 8, 95, f"water that left: {gone}"),
        line((stays, 16), (stays, 48)),
        line((stays, 74), (stays, 106)),
        text(0, 125, f"{gone} of {fresh} is {found.weighed('water')}"),
    )
    return Drawing(
        f"Two bars to one scale. The fresh sample weighs {fresh}. After the oven {dry} stays: the solids. "
        f"The {gone} that left is water, {found.weighed('water')} of the fresh sample.",
        "Grey stays in the dish. Blue leaves: that is the water.",
        132,
        marks,
    )
