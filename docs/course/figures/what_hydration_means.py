"""Figures of the lesson “What hydration means”."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.formula import MEANINGS
from calc.working import Working
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import Drawing, bar, line, text

FULL = 300.0


@figure("water-in-the-liquid")
def water_in_the_liquid(attributes: Mapping[str, str]) -> Drawing:
    """Flour, and a liquid with its water marked, to one scale: ``flour``, ``liquid``, ``liquid-weight``."""
    given = {
        name.replace("-", "_"): attributes[name] for name in ("flour", "liquid", "liquid-weight")
    }
    found = working("hydration", **given)
    values = found.values()
    flour, liquid, water = values["flour"], values["liquid weight"], values["water"]
    share = found.weighed("hydration")
    name = composition.read(attributes["liquid"]).name
    grams = {
        key: units.write(weight, "mass", step=1)
        for key, weight in (("flour", flour), ("liquid", liquid), ("water", water), ("rest", liquid - water))
    }  # fmt: skip
    scale = FULL / max(flour, liquid)
    end = water * scale
    marks = (
        text(0, 13, f"Flour {grams['flour']}: this is 100 %"),
        bar(0, 20, flour * scale, "flour"),
        text(0, 67, f"{name.capitalize()} {grams['liquid']}"),
        bar(0, 74, end, "water"),
        bar(end, 74, (liquid - water) * scale, "other"),
        text(liquid * scale + 6, 90, f"other {grams['rest']}"),
        text(0, 117, f"Water {grams['water']}: {share} of the flour"),
    )
    return Drawing(
        f"Two bars drawn to the same scale. The flour weighs {grams['flour']}. The {name} weighs "
        f"{grams['liquid']}: {grams['water']} of it is water and {grams['rest']} is not.",
        "One scale for both bars. Only the blue part, on the left, counts as water.",
        124,
        marks,
    )


SLOTS = (
    "flour", "flour-kind", "liquid", "liquid-weight", "second-liquid", "second-weight", "fat",
    "fat-weight",
)  # fmt: skip
ROW = 62


@figure("four-meanings")
def four_meanings(attributes: Mapping[str, str]) -> Drawing:
    """One dough, a bar for each meaning of hydration; the attributes are those of the quantity."""
    given = {name.replace("-", "_"): attributes[name] for name in SLOTS}
    found = working("hydration in each meaning", **given)
    values = found.values()
    scale = FULL / max(values[m.key] * values["weight0"] for m in MEANINGS)
    marks: list[Element] = []
    says = []
    for number, meaning in enumerate(MEANINGS):
        title = f"{meaning.name.capitalize()}: {found.weighed(meaning.key)}"
        marks += [
            text(0, number * ROW + 13, title),
            *_row(found, meaning.key, number * ROW + 20, scale),
        ]
        says.append(f"{title}, which counts {' and '.join(_counted(found, meaning.key))}")
    return Drawing(
        f"{len(MEANINGS)} bars, one for each meaning of hydration of one dough. {'. '.join(says)}.",
        "Each bar holds what that meaning counts. Blue is water; grey is the part of the liquids that is not.",
        len(MEANINGS) * ROW,
        tuple(marks),
    )  # fmt: skip


def _counted(found: Working, meaning: str) -> list[str]:
    names = found.steps[meaning].uses - {"weight0"}
    return [found.part(name).label for name in sorted(names, key=_place)]


def _place(key: str) -> int:
    """Liquids first, then the fat, and the flour last."""
    number = int(key[-1])
    return number or len(SLOTS)


def _row(found: Working, meaning: str, top: float, scale: float) -> list[Element]:
    values = found.values()
    marks, start = [], 0.0
    for key in sorted(found.steps[meaning].uses - {"weight0"}, key=_place):
        number = key[-1]
        water, whole = values[f"water{number}"] * scale, values[key] * scale
        marks.append(bar(start, top, water, "water", 20))
        if whole > water:
            marks.append(bar(start + water, top, whole - water, "other", 20))
        name = composition.find(found.givens[f"weight{number}"].of).name.split()[-1]
        marks.append(text(start + whole / 2, top + 33, name, "middle", "dw-small"))
        start += whole
        marks.append(line((start, top), (start, top + 20)))
    return marks
