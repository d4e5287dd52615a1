"""Figures of the lesson “Allergens, perishable dough and safe handling”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import composition, units
from calc.cautions import named
from docs.course.figures.drawing import WIDTH, Drawing, bar, figure, line, text, working


@figure("allergens-of-liquids")
def allergens_of_liquids(attributes: Mapping[str, str]) -> Drawing:
    """Some ``liquids`` (divided by semicolons), each with the allergens that it brings."""
    liquids = [composition.find(one.strip()) for one in attributes["liquids"].split(";")]
    row, middle = 32, 128
    marks, said = [], []
    for number, liquid in enumerate(liquids):
        y = number * row
        brought = ", ".join(named(word).name for word in liquid.allergens)
        shown = brought or "none that our table knows"
        marks += [
            text(0, y + 20, liquid.name),
            text(middle + 10, y + 20, shown, class_="" if brought else "dw-small"),
        ]
        if brought:
            marks.insert(0, bar(middle, y + 2, WIDTH - middle, "flour", 26))
        said.append(f"{liquid.name}: {shown}")
    return Drawing(
        f"A list of liquids and their allergens. {'; '.join(said)}.",
        "A box means an allergen. No box means: none that our table knows. The pack in your hand decides.",
        row * len(liquids),
        tuple(marks),
    )


@figure("time-used")
def time_used(attributes: Mapping[str, str]) -> Drawing:
    """The limit as a bar, and the spells out of the cold that use it up.

    ``limit``, ``mixing``, ``first-rise`` and ``shaping`` as “time left out of the cold” takes them.
    """
    names = ("mixing", "first-rise", "shaping")
    given = {name.replace("-", "_"): attributes[name] for name in ("limit", *names)}
    values = working("time left out of the cold", **given).values()
    limit = units.read(attributes["limit"], "time").value
    scale = WIDTH / limit
    marks = [bar(0, 20, WIDTH, "outline", 30)]
    start = 0.0
    for number, name in enumerate(names):
        minutes = units.read(attributes[name], "time").value
        marks.append(
            bar(start * scale, 20, minutes * scale, ("water", "fat", "protein")[number], 30)
        )
        middle = (start + minutes / 2) * scale
        label = 68 + number * 16
        marks += [line((middle, 50), (middle, label - 4), class_="dw-faint")]
        marks.append(
            text(
                min(middle + 4, WIDTH - 120),
                label + 5,
                f"{name.replace('-', ' ')}: {attributes[name]}",
                class_="dw-small",
            )
        )
        start += minutes
    left = units.write(values["left"], "time")
    marks += [text(0, 13, f"Limit: {attributes['limit']}"), text(WIDTH, 13, f"left: {left}", "end")]
    spells = ", ".join(f"{name.replace('-', ' ')} {attributes[name]}" for name in names)
    return Drawing(
        f"A bar as long as the limit of {attributes['limit']}. It is filled from the left: {spells}. {left} is left.",
        "Every spell out of the cold uses some of the limit. The fridge does not turn the clock back.",
        112,
        tuple(marks),
    )
