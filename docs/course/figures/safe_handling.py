"""Figures of the lesson “Allergens, perishable dough and safe handling”."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.cautions import named
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text


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

    ``limit``, ``mixing``, ``first-rise``, ``shaping`` and ``baking`` as “time left out of the cold”
    takes them. The proof is what is left, before the bake.
    """
    names = ("mixing", "first-rise", "shaping", "baking")
    given = {name.replace("-", "_"): attributes[name] for name in ("limit", *names)}
    values = working("time left out of the cold", **given).values()
    limit = units.read(attributes["limit"], "time").value
    scale = WIDTH / limit
    minutes = {name: units.read(attributes[name], "time").value for name in names}
    left = units.write(values["left"], "time")
    marks = [bar(0, 20, WIDTH, "outline", 30), text(0, 13, f"Limit: {attributes['limit']}")]
    start = 0.0
    for number, (name, colour) in enumerate(zip(names, SPELL_COLOURS, strict=True)):
        if name == names[-1]:
            start = limit - minutes[name]
            between = scale * (sum(minutes.values()) - minutes[name] + start) / 2
            marks.append(text(between, 40, "proof", "middle", class_="dw-small"))
        marks += _spell(start, minutes[name], scale, number, f"{name.replace('-', ' ')}: {attributes[name]}", colour)  # fmt: skip
        start += minutes[name]
    marks.append(text(WIDTH, 13, f"left for the proof: {left}", "end"))
    spells = ", ".join(f"{name.replace('-', ' ')} {attributes[name]}" for name in names[:-1])
    return Drawing(
        f"A bar as long as the limit of {attributes['limit']}. It is filled from the left: {spells}; "
        f"and from the right: baking {attributes['baking']}. {left} is left between them for the proof.",
        "The bake counts too. What it leaves is for the proof.",
        128,
        tuple(marks),
    )


SPELL_COLOURS = ("water", "fat", "protein", "carbohydrate")


def _spell(
    start: float, minutes: float, scale: float, number: int, label: str, colour: str
) -> list[Element]:
    """A spell in the bar, and its label below it, one line lower than the one before."""
    middle, y = (start + minutes / 2) * scale, 68 + number * 16
    return [
        bar(start * scale, 20, minutes * scale, colour, 30),
        line((middle, 50), (middle, y - 4), class_="dw-faint"),
        text(min(middle + 4, WIDTH - 120), y + 5, label, class_="dw-small"),
    ]
