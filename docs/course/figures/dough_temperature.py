"""Figures of the lesson “Dough temperature with cold liquids”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import composition, units
from calc.temperature import heat_capacity
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, text

# Where the heat capacities are taken, °C: an ordinary room.
_ROOM = 20.0


@figure("heat-for-one-degree")
def heat_for_one_degree(attributes: Mapping[str, str]) -> Drawing:
    """How much heat warms each ingredient by one degree; ``parts`` such as “500 g bread-flour; …”."""
    parts = []
    for one in attributes["parts"].split(";"):
        amount, unit, name = one.split(maxsplit=2)
        ingredient = composition.find(name.strip())
        grams = units.read(f"{amount} {unit}", "mass").value
        parts.append((ingredient.name, grams, grams * heat_capacity(ingredient, _ROOM)))
    scale = WIDTH / max(heat for _, _, heat in parts)
    marks, told = [], []
    for number, (name, grams, heat) in enumerate(parts):
        top = number * 52
        says = f"{units.write(grams, 'mass')} of {name}: {units.write(heat, 'heat')}"
        told.append(says)
        marks += [text(0, top + 13, says), bar(0, top + 19, heat * scale, "water", 20)]
    return Drawing(
        f"Bars for the heat that warms each ingredient by one degree. {'; '.join(told)}.",
        "The heat that warms each by 1 °C. The longer the bar, the harder it pulls.",
        52 * len(parts) - 10,
        tuple(marks),
    )


_SLOTS = (
    "flour", "flour-temperature", "flour-heat-capacity", "liquid-weight", "liquid-temperature",
    "liquid-heat-capacity", "rise-by-mixing",
)  # fmt: skip


@figure("cold-liquid")
def cold_liquid(attributes: Mapping[str, str]) -> Drawing:
    """How warm flour, liquid, mix and dough are, beside the wanted temperature.

    Its attributes are the slots of the quantity “dough temperature by heat”, ``wanted`` and
    ``name``, the liquid's name.
    """
    given = {name.replace("-", "_"): attributes[name] for name in _SLOTS}
    made = working("dough temperature by heat", **given)
    values = made.values()
    wanted = units.read(attributes["wanted"], "temperature").value
    points = (
        (attributes["name"], values["liquid celsius"]),
        ("flour", values["flour celsius"]),
        ("the two mixed", values["mix"]),
        ("dough after kneading", values["dough"]),
        ("wanted", wanted),
    )
    scale = WIDTH / wanted
    marks, told = [], []
    for number, (name, celsius) in enumerate(points):
        top = number * 44
        says = f"{name} {units.write(celsius, 'temperature')}"
        told.append(says)
        of = "outline" if name == "wanted" else "water"
        marks += [text(0, top + 13, says), bar(0, top + 19, celsius * scale, of, 14)]
    return Drawing(
        f"Bars for temperatures, counted from 0 °C: {'; '.join(told)}.",
        "A heavy, cold liquid pulls the mix to its side. Kneading wins back only a little.",
        44 * len(points) - 8,
        tuple(marks),
    )
