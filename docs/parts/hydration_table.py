"""One dough's hydration in every meaning the trade gives the word."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import composition, formula, units
from calc.formula import MEANINGS, Formula, Item
from calc.units import Style
from exercises.publish.html import element, table


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``flour`` is a weight; ``with`` lists the rest: ``whole-milk 200 g; salt 2 %``."""
    dough = Formula(tuple(read_items(attributes)))
    parts = ", ".join(
        f"{units.write_exact(i.grams, 'mass')} {i.ingredient.name}" for i in dough.items
    )
    rows = [
        [
            meaning.name,
            meaning.explained,
            units.write(hydration_of(dough, meaning.key), "share", step=0.001),
        ]
        for meaning in MEANINGS
    ]
    return [
        element("p", f"The dough: {parts}."),
        table("Its hydration in each meaning", ["Meaning", "How it is counted", "Hydration"], rows),
    ]


def in_each_meaning(doughs: Mapping[str, Formula], style: Style) -> Element:
    """The hydration of each dough, by its heading, in each meaning."""
    rows = []
    for meaning in MEANINGS:
        shares = [hydration_of(dough, meaning.key) for dough in doughs.values()]
        cells = [units.write(share, "share", style, step=0.001) for share in shares]
        rows.append([element("span", meaning.name, element("small", meaning.explained)), *cells])
    return table("Hydration, in each meaning", ["Counted as", *doughs], rows, "dw-figures")


def hydration_of(dough: Formula, meaning: str) -> float:
    """The hydration as a share of the flour."""
    return formula.hydration(dough, meaning).values()["hydration"]


def read_items(attributes: Mapping[str, str]) -> list[Item]:
    """The formula a lesson's author wrote; raises ValueError with what to mend."""
    flour = units.read(attributes.get("flour", ""), "mass").value
    kind = composition.find(attributes.get("flour-kind", "bread-flour"))
    items = [Item(kind, flour)]
    for one in filter(str.strip, attributes.get("with", "").split(";")):
        key, amount = split_item(one)
        items.append(Item(composition.find(key), amount_of(amount, flour)))
    return items


def split_item(text: str) -> tuple[str, str]:
    """``whole-milk 200 g`` as (``whole-milk``, ``200 g``)."""
    key, _, amount = text.strip().partition(" ")
    return key, amount


def amount_of(text: str, flour: float) -> float:
    """Grams from a weight, or from a percentage of the flour."""
    if units.is_percentage(text):
        return units.read(text, "share").value * flour
    return units.read(text, "mass").value
