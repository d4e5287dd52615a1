"""Loose and tight: each dough as a mound on one line, flat where it is loose and tall where it is tight.

A mound's place is the dough's score of tightness (`calc.feel`), which says “usually”. All mounds have
one area, as if they were one dough; the broken line is the same dough with plain water.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from xml.etree.ElementTree import Element

from calc.feel import Place
from docs.parts.shared.drawing import WIDTH, Drawing, as_figure, line, text
from exercises.publish.html import element

NAMES = 104.0
TOP = 26.0
ROW = 34.0
LINE = 12.0
LETTER = 6.2
# A mound in the middle of the line is twice as wide as high.
HALF_WIDE, HIGH = 19.0, 19.0
# The tightest is so many times as tall as the loosest, where the line is as long as `LEAST` or longer.
STRETCH = 2.6
# The line spans at least so many points: small differences stay small.
LEAST = 4.0


def loose_and_tight(places: Sequence[Place], plain: float | None) -> Element | None:
    """The picture of doughs by their places, the tightest first, beside `plain` water's score.

    None where no dough has a place.
    """
    placed = [each for each in places if each.score is not None]
    return as_figure(drawing(placed, plain)) if placed else None


def drawing(placed: Sequence[Place], plain: float | None) -> Drawing:
    """A row for each dough, its mound at its score; loose is left, tight is right."""
    scores = [each.score for each in placed] + ([] if plain is None else [plain])
    middle = (min(scores) + max(scores)) / 2
    half = max(LEAST, max(scores) - min(scores)) / 2
    left, right = NAMES + 1.7 * HALF_WIDE, WIDTH - 1.7 * HALF_WIDE

    def part(score: float) -> float:
        """From -1, the loosest, to 1."""
        return (score - middle) / half

    def across(score: float) -> float:
        return (left + right + part(score) * (right - left)) / 2

    foot = TOP + ROW * len(placed)
    marks = [text(NAMES, 12, "loose"), text(WIDTH, 12, "tight", "end")]
    for number, each in enumerate(placed):
        floor = TOP + ROW * (number + 1) - 6
        marks += [_mound(across(each.score), floor, part(each.score)), *_name(each, floor)]
        marks.append(line((NAMES, floor), (WIDTH, floor), class_="dw-faint"))
    if plain is not None:
        x = across(plain)
        marks.append(line((x, 18), (x, foot), class_="dw-stroke dw-dashes"))
        marks.append(text(x, foot + 12, "plain water", "middle", "dw-small"))
    return Drawing(_said(placed, plain), CAPTION, foot + 18, tuple(marks))


CAPTION = (
    "The same dough with each liquid: usually, a tight dough stands and a loose one spreads. "
    "Where each mound lies is our own reckoning, so feel the dough too."
)


def _mound(middle: float, floor: float, part: float) -> Element:
    """Half an ellipse of one area, the tighter the taller; `part` from -1 to 1."""
    taller = STRETCH ** (part / 2)
    wide, high = HALF_WIDE / taller**0.5, HIGH * taller**0.5
    curve = f"A{wide:.1f} {high:.1f} 0 0 1 {middle + wide:.1f} {floor:.1f}"
    return element("path", d=f"M{middle - wide:.1f} {floor:.1f}{curve}Z", class_="dw-flour")


def _name(each: Place, floor: float) -> list[Element]:
    plain = each.variant.name.partition(" (")[0] or each.variant.name
    names = textwrap.wrap(plain, int(NAMES / LETTER), break_long_words=False)[:2]
    top = floor - LINE * (len(names) - 1)
    return [text(0, top + LINE * row, name, class_="dw-small") for row, name in enumerate(names)]


def _said(placed: Sequence[Place], plain: float | None) -> str:
    def told(each: Place) -> str:
        if plain is None:
            return each.variant.name
        apart = each.score - plain
        word = "tighter than" if apart > SEEN else "looser than" if apart < -SEEN else "like"
        return f"{each.variant.name}, {word} the dough with plain water"

    return (
        f"Doughs on a line from loose to tight, the tightest first: {'; '.join(map(told, placed))}."
    )


# Points that nobody sees in the picture.
SEEN = 0.1
