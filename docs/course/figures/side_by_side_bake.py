"""Figures of the lesson “Plan and read a side-by-side bake”."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.spread import Summary, difference, pooled
from calc.tasting import serving_orders
from docs.course.figures.registry import figure
from docs.parts.shared.drawing import WIDTH, Drawing, line, text
from exercises.publish.html import element

LEFT, RIGHT = 70, 20


@figure("loaves-as-dots")
def loaves_as_dots(attributes: Mapping[str, str]) -> Drawing:
    """A dot for each loaf's height, and whether two liquids differ by more than the spread.

    ``first`` and ``second`` are a name, a colon and heights in cm: ``water: 11.2 10.4 12.1``.
    Invented numbers: the caption says so.
    """
    groups = dict(_heights(attributes[key]) for key in ("first", "second"))
    every = [height for summary in groups.values() for height in summary.values]
    low, high = min(every), max(every)

    def x(height: float) -> float:
        return LEFT + (height - low) / (high - low) * (WIDTH - LEFT - RIGHT)

    marks: list[Element] = []
    for row, (name, summary) in enumerate(groups.items()):
        top = 26 + row * 46
        marks += [text(0, top + 5, name), line((LEFT - 8, top), (WIDTH, top), class_="dw-faint")]
        marks += [
            element("circle", cx=f"{x(each):.1f}", cy=top, r=6, class_="dw-water")
            for each in summary.values
        ]
        marks.append(line((x(summary.mean), top - 14), (x(summary.mean), top + 14)))
        marks.append(
            text(x(summary.mean), top + 27, f"mean {_cm(summary.mean)}", "middle", "dw-small")
        )
    one, other = groups.values()
    told = difference(one, other, pooled([one, other]))
    shown = told.low > 0 or told.high < 0
    verdict = (
        "The means differ by more than the spread can explain."
        if shown
        else "The spread can explain the difference: these loaves do not show which is higher."
    )
    said = "; ".join(
        f"{name}: {', '.join(_cm(each) for each in summary.values)}, mean {_cm(summary.mean)}"
        for name, summary in groups.items()
    )
    return Drawing(
        f"Heights of loaves as dots on two lines. {said}. {verdict}",
        f"Each dot is a loaf, the upright line is the mean. {verdict} (Invented numbers.)",
        26 + 46 + 34,
        tuple(marks),
    )


def _heights(text_: str) -> tuple[str, Summary]:
    name, _, heights = text_.partition(":")
    return name.strip(), Summary(
        tuple(units.read(each, "length").value for each in heights.split())
    )


def _cm(height: float) -> str:
    return units.write(height, "length", step=0.1)


@figure("tasting-orders")
def tasting_orders(attributes: Mapping[str, str]) -> Drawing:
    """Who tastes what when: ``samples`` names, divided by semicolons, in balanced orders."""
    names = [one.strip() for one in attributes["samples"].split(";")]
    orders = serving_orders(len(names))
    wide = (WIDTH - LEFT) / len(names)
    marks = [
        text(LEFT + wide * (n + 0.5), 13, f"{n + 1}.", "middle", "dw-small")
        for n in range(len(names))
    ]
    for row, order in enumerate(orders):
        top = 22 + row * 34
        marks.append(text(0, top + 19, f"Taster {row + 1}"))
        for place, sample in enumerate(order):
            x = LEFT + wide * place
            marks += [
                element(
                    "rect",
                    x=f"{x + 2:.1f}",
                    y=top,
                    width=f"{wide - 4:.1f}",
                    height=28,
                    class_="dw-outline",
                ),
                text(x + wide / 2, top + 19, names[sample], "middle"),
            ]
    said = "; ".join(
        f"taster {row + 1} {', '.join(names[sample] for sample in order)}"
        for row, order in enumerate(orders)
    )
    return Drawing(
        f"A grid of tasting orders: {said}.",
        "Every sample is once in every place, and comes once right after each of the others.",
        22 + 34 * len(orders),
        tuple(marks),
    )
