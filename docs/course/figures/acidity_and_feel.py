"""Figures of the lesson “Acidity and feel”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import composition, units
from calc.composition import Ingredient
from calc.feel import MILD_PH, SOUR_PH
from docs.course.figures.drawing import WIDTH, Drawing, bar, figure, line, text

_LOWEST, _HIGHEST = 2.0, 9.0
_ROW, _TOP = 38, 34


def _across(ph: float) -> float:
    return (ph - _LOWEST) / (_HIGHEST - _LOWEST) * WIDTH


def _says(liquid: Ingredient) -> str:
    low, high = (units.digits(end, 0.1) for end in (liquid.ph.low, liquid.ph.high))
    return f"{liquid.name}: pH {low}" + (f" to {high}" if low != high else "")


@figure("how-sour")
def how_sour(attributes: Mapping[str, str]) -> Drawing:
    """The pH of liquids on one scale, between the lines “fully sour” and “not sour”.

    ``liquids`` is a list with commas; each must have a pH in the table.
    """
    liquids = [composition.find(name.strip()) for name in attributes["liquids"].split(",")]
    unknown = [each.name for each in liquids if each.ph is None]
    if unknown:
        raise ValueError(f"The table has no pH for {', '.join(unknown)}")
    height = _TOP + _ROW * len(liquids)
    sour, mild = _across(SOUR_PH), _across(MILD_PH)
    marks = [
        text(sour - 6, 13, "← fully sour", "end", "dw-small"),
        text(mild + 6, 13, "not sour →", class_="dw-small"),
        text(sour, 28, f"{SOUR_PH:g}", "middle"),
        text(mild, 28, f"{MILD_PH:g}", "middle"),
    ]
    for number, liquid in enumerate(liquids):
        top = _TOP + number * _ROW
        low, high = _across(liquid.ph.low), _across(liquid.ph.high)
        marks += [
            text(0, top + 13, _says(liquid)),
            bar(low, top + 20, max(4.0, high - low), "water", 10),
            line((0, top + 33), (WIDTH, top + 33), class_="dw-faint"),
            line((sour, top + 17), (sour, top + 33)),
            line((mild, top + 17), (mild, top + 33)),
        ]
    return Drawing(
        f"The pH of liquids on a scale from {_LOWEST:g} to {_HIGHEST:g}, lower is more sour. "
        f"{'; '.join(map(_says, liquids))}. A liquid at pH {SOUR_PH:g} or below counts as fully sour, at pH {MILD_PH:g} or "
        "above as not sour.",
        "Left is more sour. A bar shows where products of that name lie.",
        height,
        tuple(marks),
    )  # fmt: skip
