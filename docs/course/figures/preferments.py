"""Figures of the lesson “Preferments and starters”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import units
from calc.preferment import KINDS
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text

_SLOTS = ("flour", "hydration", "preferment-weight", "preferment-hydration", "liquid")


def _grams(weight: float) -> str:
    return units.write(weight, "mass", step=1)


@figure("preferment-in-the-dough")
def preferment_in_the_dough(attributes: Mapping[str, str]) -> Drawing:
    """A preferment, the final dough and both together, drawn to one scale.

    Its attributes are the slots of the quantity “liquid left for the final dough”; ``name`` names
    the preferment.
    """
    given = {name.replace("-", "_"): attributes[name] for name in _SLOTS}
    left = working("liquid left for the final dough", **given)
    values = left.values()
    name, liquid = attributes.get("name", "preferment"), attributes["liquid"]
    ahead, ahead_water = values["flour"], values["liquid"]
    own = values["total flour"] - ahead
    water, final = values["water left"], values[left.answer.key]
    scale = WIDTH / (values["total flour"] + ahead_water + final)
    rows = (
        (
            f"{name.capitalize()}: {_grams(ahead)} flour, {_grams(ahead_water)} water",
            (("flour", ahead), ("water", ahead_water)),
        ),
        (
            f"Final dough: {_grams(own)} flour, {_grams(final)} {liquid}",
            (("flour", own), ("water", water), ("other", final - water)),
        ),
        (
            f"Together: {_grams(own + ahead)} flour, {_grams(water + ahead_water)} water",
            (("flour", ahead), ("flour", own), ("water", ahead_water), ("water", water), ("other", final - water)),
        ),
    )  # fmt: skip
    marks = []
    for number, (says, parts) in enumerate(rows):
        top, place = number * 54, 0.0
        marks.append(text(0, top + 13, says))
        for of, grams in parts:
            marks.append(bar(place, top + 20, grams * scale, of))
            place += grams * scale
            marks.append(line((place, top + 20), (place, top + 44)))
    said = ". ".join(says for says, _ in rows)
    return Drawing(
        f"Three bars drawn to the same scale. {said}.",
        "In each bar flour is on the left, then water (blue), then what is not water in the liquid (grey).",
        160,
        tuple(marks),
    )


@figure("preferment-kinds")
def preferment_kinds(attributes: Mapping[str, str]) -> Drawing:
    """The kinds of preferment, each with its usual water for 100 g of flour."""
    most = max(kind.high for kind in KINDS)
    scale = WIDTH / (1 + most)
    marks, told = [], []
    for number, kind in enumerate(KINDS):
        top = number * 50
        low, high = (units.digits(100 * end, 1) for end in (kind.low, kind.high))
        water = f"{low} g" if low == high else f"{low} to {high} g"
        says = f"{kind.name.capitalize()}: {water}"
        told.append(says)
        marks += [
            text(0, top + 13, says),
            bar(0, top + 19, scale, "flour", 20),
            bar(scale, top + 19, kind.low * scale, "water", 20),
        ]
        if kind.high > kind.low:
            marks.append(bar(scale * (1 + kind.low), top + 19, (kind.high - kind.low) * scale, "outline", 20))  # fmt: skip
    return Drawing(
        f"Kinds of preferment, each with its water for 100 g of flour. {'; '.join(told)}. Common practice.",
        "Water (blue) for 100 g of flour (left). An empty box shows how far bakers differ. Common practice, no source.",
        50 * len(KINDS) - 6,
        tuple(marks),
    )
