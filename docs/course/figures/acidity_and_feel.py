"""Figures of the lesson “Acidity and feel”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import acid, composition, units
from calc.composition import Ingredient
from docs.course.figures.registry import figure
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text

_LOWEST, _HIGHEST = 2.0, 9.0
_ROW, _TOP = 38, 34


def _across(ph: float) -> float:
    return (ph - _LOWEST) / (_HIGHEST - _LOWEST) * WIDTH


def _says(liquid: Ingredient) -> str:
    known = acid.of(liquid)
    held = (
        "acid not known"
        if known is None
        else f"{units.digits(known.mmol, 0.1)} mmol of acid in 100 g"
    )
    return f"{liquid.name}: pH {acid.write_ph(liquid.ph)}, {held}"


@figure("how-sour")
def how_sour(attributes: Mapping[str, str]) -> Drawing:
    """The pH of liquids on one scale beside a dough's, each with the acid it holds.

    ``liquids`` is a list with commas; each must have a pH in the table.
    """
    liquids = [composition.find(name.strip()) for name in attributes["liquids"].split(",")]
    unknown = [each.name for each in liquids if each.ph is None]
    if unknown:
        raise ValueError(f"The table has no pH for {', '.join(unknown)}")
    height = _TOP + _ROW * len(liquids)
    dough = _across(acid.DOUGH_PH)
    marks = [
        text(dough - 6, 13, "← more sour than a dough", "end", "dw-small"),
        text(dough, 28, f"pH {acid.DOUGH_PH:g}", "middle"),
    ]
    for number, liquid in enumerate(liquids):
        top = _TOP + number * _ROW
        low, high = _across(liquid.ph.low), _across(liquid.ph.high)
        marks += [
            text(0, top + 13, _says(liquid)),
            bar(low, top + 20, max(4.0, high - low), "water", 10),
            line((0, top + 33), (WIDTH, top + 33), class_="dw-faint"),
            line((dough, top + 17), (dough, top + 33)),
        ]
    return Drawing(
        f"The pH of liquids on a scale from {_LOWEST:g} to {_HIGHEST:g}, lower is more sour, and how much acid each holds. "
        f"{'; '.join(map(_says, liquids))}. A dough without sour liquid lies just below pH {acid.DOUGH_PH:g}.",
        "A bar shows the pH of products of that name: left is more sour. How much acid they hold is written above it.",
        height,
        tuple(marks),
    )  # fmt: skip
