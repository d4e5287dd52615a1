"""Figures of the lesson “Part swaps, blends, eggs and purees”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import composition, units
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text


def _grams(weight: float) -> str:
    return units.write(weight, "mass", step=1)


@figure("a-part-goes")
def a_part_goes(attributes: Mapping[str, str]) -> Drawing:
    """A water dough's liquid before and after a part swap: ``liquid-weight``, ``new-liquid``, ``part``."""
    given = {
        name.replace("-", "_"): attributes[name] for name in ("liquid-weight", "new-liquid", "part")
    }
    swap = working("part swap", liquid="water", **given)
    values = swap.values()
    old, gone, new = values["old"], values["replaced"], values["new"]
    kept = old - gone
    name = composition.read(attributes["new-liquid"]).name
    scale = 0.98 * WIDTH / (kept + new)
    stays, water, rest = (weight * scale for weight in (kept, gone, new - gone))
    short = name.split("(")[0].strip()
    marks = (
        text(0, 13, f"Before: {_grams(old)} of water"),
        bar(0, 20, stays + water, "water"),
        line((stays, 17), (stays, 47)),
        text(stays / 2, 64, f"{_grams(kept)} stays", "middle", "dw-small"),
        text(stays + water / 2, 64, f"{_grams(gone)} goes", "middle", "dw-small"),
        text(0, 93, f"After: {_grams(kept)} water, {_grams(new)} {short}"),
        bar(0, 100, stays + water, "water"),
        bar(stays + water, 100, rest, "other"),
        bar(stays, 100, water + rest, "outline"),
        text(stays / 2, 144, "water", "middle", "dw-small"),
        text(stays + (water + rest) / 2, 144, short, "middle", "dw-small"),
    )
    return Drawing(
        f"Two bars drawn to one scale. Before, {_grams(old)} of water: {_grams(kept)} stays and "
        f"{_grams(gone)} goes. After, the {_grams(kept)} of water and {_grams(new)} of {name}, "
        f"which holds the {_grams(gone)} of water and {_grams(new - gone)} of other things.",
        "Blue is water, as long after as before. Grey is what the new liquid brings beside its water.",
        150,
        marks,
    )


@figure("blend-level")
def blend_level(attributes: Mapping[str, str]) -> Drawing:
    """Two liquids as boxes: as wide as their weight, filled as high as their water content.

    ``liquid``, ``liquid-weight``, ``second-liquid`` and ``second-weight``, as “blend water” takes them.
    """
    given = {name.replace("-", "_"): attributes[name] for name in _BLEND}
    blend = working("blend water", **given)
    values = blend.values()
    level = values["content"]
    weights = [values["weight0"], values["weight1"]]
    contents = [given.value for given in blend.with_role("water content")]
    names = [composition.read(attributes[key]).name for key in ("liquid", "second-liquid")]
    average = sum(contents) / 2
    scale = WIDTH / sum(weights)
    # The boxes start at half full, so that the difference can be seen.
    top, bottom, empty = 34.0, 154.0, 0.5
    tall = (bottom - top) / (1 - empty)

    def height(content: float) -> float:
        return (content - empty) * tall

    shares = [units.write(each, "share", step=0.01) for each in (*contents, level, average)]
    marks = []
    left = 0.0
    for name, weight, content, share in zip(names, weights, contents, shares[:2], strict=True):
        width = weight * scale
        # A narrow box may hold no name: the first starts at the left edge, the second ends at the right.
        side, anchor = ((WIDTH, 13.0), "end") if left else ((0.0, 13.0), "start")
        marks += [
            bar(left, bottom - height(content), width, "water", height(content)),
            bar(left, top, width, "outline", bottom - top),
            text(*side, name, anchor),
            text(side[0], 28, f"{_grams(weight)}, {share}", anchor, "dw-small"),
        ]
        left += width
    mixed, middle = bottom - height(level), bottom - height(average)
    marks += [
        line((0, mixed), (WIDTH, mixed)),
        line((0, middle), (WIDTH, middle), class_="dw-stroke dw-dashes"),
        text(WIDTH - 4, 172, f"full line: the blend, {shares[2]}", "end", "dw-small"),
        text(WIDTH - 4, 188, f"broken line: the plain middle, {shares[3]}", "end", "dw-small"),
    ]
    return Drawing(
        f"Two boxes. The first is {names[0]}, {_grams(weights[0])} wide and filled to {shares[0]}. The second is "
        f"{names[1]}, {_grams(weights[1])} wide and filled to {shares[1]}. Mixed, they are filled to {shares[2]}; "
        f"the plain middle of the two percentages would be {shares[3]}.",
        "Each box is as wide as its weight and filled with its water. Take the wall away: the water settles "
        "nearer to the wider box. The boxes are drawn from 50 % up.",
        194,
        tuple(marks),
    )


_BLEND = ("liquid", "liquid-weight", "second-liquid", "second-weight")
