"""A dough's card: weights, what comes out, the method with minutes and what to look for, the ranges.

``<bake-card dough="brioche">`` is one dough; without an attribute it is the list of public formulas.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.cautions import allergens_of, on_the_bench
from calc.formula import Item
from calc.words import capital
from docs.course.bakes import Bake, bakes, published
from docs.parts.shared.caution_list import marks
from exercises.publish.html import element, table

NAMES = {"water": "water of the liquids", "fat": "added fat", "sugar": "added sugar"}


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The card of a dough, or the public formulas."""
    if "dough" not in attributes:
        return [_public()]
    return list(_card(_found(attributes["dough"])))


def _found(key: str) -> Bake:
    if key not in bakes():
        raise ValueError(f"No dough is called “{key}”. There are {', '.join(bakes())}.")
    return bakes()[key]


def _card(bake: Bake) -> Iterator[Element]:
    yield table(
        f"{bake.title}: what goes on the scale",
        ["Ingredient", "Weight", "Percentage"],
        [_row(bake, item) for item in bake.formula.items],
    )
    yield element("p", _yield(bake))
    yield table(
        f"{bake.title}: the method",
        ["Step", "Minutes", "Look for"],
        [[stage.name, str(stage.minutes), stage.look] for stage in bake.stages],
    )
    yield element("p", _heat(bake))
    yield table(
        f"{bake.title}: where it lies, in per cent of the flour",
        ["Part", "Here", "Such doughs"],
        [_range(bake, part) for part in bake.ranges],
    )
    yield element("p", element("strong", "Allergens: "), f"{allergens_of(bake.formula)}.")
    yield from marks(on_the_bench(bake.formula))


def _row(bake: Bake, item: Item) -> list[str]:
    share = bake.formula.bakers_percentage(item)
    return [
        capital(item.ingredient.name),
        units.write(item.grams, "mass", step=1),
        units.write(share, "share", step=0.001),
    ]


def _yield(bake: Bake) -> str:
    return (
        f"Dough: {units.write(bake.formula.dough, 'mass', step=1)}. It makes {bake.pieces} × "
        f"{bake.piece} of {bake.piece_weight:g} g. The ingredients of one {bake.piece} cost about "
        f"{bake.cost:.2f} crowns. (The demo school's money and prices are invented.)"
    )


def _heat(bake: Bake) -> str:
    hours, minutes = divmod(bake.minutes, 60)
    return (
        f"From the first step to the last: {hours} h {minutes:02} min. Dough after mixing: "
        f"{units.in_both_degrees(bake.dough)}. Oven: {units.in_both_degrees(bake.oven)}. Done when the middle is at least "
        f"{units.in_both_degrees(bake.inside)}."
    )


def _range(bake: Bake, part: str) -> list[str]:
    low, high = bake.ranges[part]
    return [
        capital(NAMES.get(part, part)),
        f"{bake.parts()[part]:.1f} %",
        f"{low:g} % to {high:g} %",
    ]


def _public() -> Element:
    made = element("ul")
    for source in published():
        parts = ", ".join(f"{part} {source[part]:g} %" for part in _parts(source))
        of = bakes()[source["dough"]].title.lower()
        made.append(
            element("li", f"{source['name']} (for {of}; read in {source['read']}): {parts}.")
        )
    return made


def _parts(source: Mapping[str, object]) -> list[str]:
    return [part for part in ("water", "sugar", "fat", "salt", "yeast") if part in source]
