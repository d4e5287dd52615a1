"""Figures of the lesson “What rides along”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import composition, units
from calc.composition import RIDERS, Ingredient
from calc.registry import for_bench
from calc.words import capital
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, text

# A part of an ingredient, and the colour it has.
_PARTS = (("fat", "fat"), ("protein", "protein"), ("sugars", "carbohydrate"))


@figure("what-comes-in")
def what_comes_in(attributes: Mapping[str, str]) -> Drawing:
    """The weight of liquids that bring one water, each split into water, fat, protein, sugar and the rest.

    ``flour`` and ``hydration``; ``liquids`` lists them, divided by semicolons.
    """
    given = {name: attributes[name] for name in ("flour", "hydration")}
    names = [one.strip() for one in attributes["liquids"].split(";")]
    liquids = [for_bench(composition.read(one)) for one in names]
    swaps = [working("new liquid", **given, liquid=one).values() for one in names]
    weights = [swap["liquid"] for swap in swaps]
    scale = 0.98 * WIDTH / max(weights)
    marks, said = [], []
    for number, (liquid, weight) in enumerate(zip(liquids, weights, strict=True)):
        top = number * 66
        what = _brought(liquid, weight)
        marks += [
            text(0, top + 13, f"{_short(liquid)} {units.write(weight, 'mass', step=1)}"),
            text(0, top + 28, what, class_="dw-small"),
            *_segments(liquid, weight, scale, top + 34),
        ]
        said.append(
            f"{units.write(weight, 'mass', step=1)} of {liquid.name} with {what.removeprefix('with ')}"
        )
    return Drawing(
        f"Bars drawn to one scale, all with the same {units.write(swaps[0]['water'], 'mass', step=1)} of water: "
        f"{'; '.join(said)}.",
        "From the left: blue is water, the same in every bar; then fat (gold), protein (red), sugar (brown), and the rest (grey). "
        "Salt is too little to draw, and enough to taste.",
        len(liquids) * 66 - 4,
        tuple(marks),
    )


def _short(liquid: Ingredient) -> str:
    return capital(liquid.name.split("(")[0].strip())


def _brought(liquid: Ingredient, weight: float) -> str:
    steps = {part: 0.1 if part == "salt" else 1 for part in RIDERS}
    grams = {
        name: units.write(weight * getattr(liquid, part), "mass", step=steps[part])
        for part, name in RIDERS.items()
    }
    return "with " + ", ".join(f"{mass} {name}" for name, mass in grams.items())


def _segments(liquid: Ingredient, weight: float, scale: float, top: float) -> list:
    left, made = 0.0, []
    shares = [("water", liquid.water)] + [(css, getattr(liquid, p)) for p, css in _PARTS]
    shares.append(("other", 1 - sum(share for _, share in shares)))
    for css, share in shares:
        width = weight * share * scale
        made.append(bar(left, top, width, css, 20))
        left += width
    return made
