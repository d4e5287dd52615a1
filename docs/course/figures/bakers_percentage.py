"""Figures of the lesson “Baker's percentage and total flour”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import composition, units
from calc.words import capital
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import Drawing, bar, line, text

ASKED = "weights from percentages"
NEEDED = ("flour", "flour-kind", "second-share", "second-kind", "hydration", "salt", "yeast")
FULL = 300.0


@figure("flour-is-100")
def flour_is_100(attributes: Mapping[str, str]) -> Drawing:
    """Each weight of a dough with two flours as a bar; the total flour's bar is 100 %.

    The attributes are those of the quantity “weights from percentages”.
    """
    given = {name.replace("-", "_"): attributes[name] for name in NEEDED}
    values = working(ASKED, **given).values()
    flour = values["flour"]
    kinds = [composition.read(attributes[name]).name for name in ("flour-kind", "second-kind")]
    flours = [values["first flour"], values["second flour"]]
    parts = [_said(name, weight, flour) for name, weight in zip(kinds, flours, strict=True)]
    whole = f"Total flour {units.write(flour, 'mass')}: 100 %"
    split = FULL * flours[0] / flour
    marks = [
        text(0, 13, whole),
        bar(0, 20, split, "flour"),
        bar(split, 20, FULL - split, "flour"),
        text(0, 58, parts[0], class_="dw-small"),
        text(FULL - 5, 58, parts[1], "end", "dw-small"),
    ]
    says = [whole, "which is " + " and ".join(parts)]
    for number, name in enumerate(("water", "salt", "yeast")):
        top = 72 + number * 50
        said = _said(name, values[name], flour)
        marks += [
            text(0, top + 13, capital(said)),
            bar(0, top + 20, FULL * values[name] / flour, "water" if name == "water" else "other"),
        ]
        says.append(said)
    marks.append(line((FULL, 14), (FULL, 220)))
    return Drawing(
        f"Bars drawn to one scale. {'; '.join(says)}. A line marks 100 %: the total flour.",
        "One scale for all bars. The upright line is 100 %: the two flours together.",
        222,
        tuple(marks),
    )


def _said(name: str, weight: float, flour: float) -> str:
    share = weight / flour
    percent = units.write(share, "share", step=0.001 if share < 0.1 else 0.01)
    return f"{name} {units.write(weight, 'mass')}: {percent.replace('.0 %', ' %')}"


@figure("two-ways-to-count")
def two_ways_to_count(attributes: Mapping[str, str]) -> Drawing:
    """A dough before and after something is added; water against the flour and against it all.

    ``flour``, ``water``, ``others`` (all else in the bowl), ``added`` and ``of``, what is added.
    """
    flour, water, others, added = (
        units.read(attributes[name], "mass").value for name in ("flour", "water", "others", "added")
    )
    what = attributes["of"]
    scale = FULL / (flour + water + others + added)
    marks, says = [], []
    for number, more in enumerate((0.0, added)):
        top = number * 112
        dough = flour + water + others + more
        title = f"With {units.write(more, 'mass')} of {what}" if more else "Before"
        on_flour, on_dough = (units.write(water / base, "share") for base in (flour, dough))
        told = (f"water ÷ flour: {on_flour}", f"water ÷ whole dough: {on_dough}")
        start = 0.0
        marks.append(text(0, top + 13, f"{title}: dough {units.write(dough, 'mass')}"))
        parts = (
            ("flour", "flour", flour),
            ("water", "water", water),
            ("rest", "other", others + more),
        )
        for name, colour, weight in parts:
            marks.append(bar(start, top + 20, weight * scale, colour, 20))
            marks.append(text(start, top + 53, name, class_="dw-small"))
            start += weight * scale
        marks += [text(0, top + 72, told[0]), text(0, top + 88, told[1], class_="dw-small")]
        says.append(f"{title}, {' and '.join(told)}")
    return Drawing(
        f"Two bars of one dough, in flour, water and the rest, to one scale. {'. '.join(says)}.",
        "The flour and the water stay the same. Only the count on the whole dough moves.",
        206,
        tuple(marks),
    )
