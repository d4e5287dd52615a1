"""The figures of the lessons, by the name that a lesson calls them by, and the numbers they take."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from calc import composition, units
from calc.quantities import REGISTRY
from calc.working import Working
from docs.parts.shared.drawing import Drawing

Draw = Callable[[Mapping[str, str]], Drawing]
FIGURES: dict[str, Draw] = {}


def figure(name: str) -> Callable[[Draw], Draw]:
    """Enter a figure under the name a lesson calls it by."""

    def enter(draw: Draw) -> Draw:
        FIGURES[name] = draw
        return draw

    return enter


def working(asked: str, **given: str) -> Working:
    """The working of a registered quantity, its givens in words; underscores stand for spaces."""
    quantity = REGISTRY[asked]
    kinds = {slot.name: slot.kind for slot in quantity.slots}
    values = {}
    for key, text in given.items():
        name = key.replace("_", " ")
        read = composition.read if kinds[name] == "ingredient" else None
        values[name] = read(text) if read else units.read(text, kinds[name]).value
    return quantity.working(values)
