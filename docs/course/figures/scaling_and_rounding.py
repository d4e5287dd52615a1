"""Figures of the lesson “Scaling, rounding and error”."""

from __future__ import annotations

from collections.abc import Mapping

from calc import units
from docs.course.figures.registry import figure, working
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text


@figure("left-after-the-oven")
def left_after_the_oven(attributes: Mapping[str, str]) -> Drawing:
    """The raw dough, and the same dough baked: ``pieces``, ``piece-weight`` and ``bake-loss``."""
    given = {
        name.replace("-", "_"): attributes[name] for name in ("pieces", "piece-weight", "bake-loss")
    }
    values = working("dough for pieces", **given).values()
    raw, baked = values["raw"], values["together"]
    grams = {
        key: units.write(each, "mass", step=1)
        for key, each in (("raw", raw), ("baked", baked), ("lost", raw - baked))
    }
    scale = 0.98 * WIDTH / raw
    loss = attributes["bake-loss"]
    marks = (
        text(0, 13, f"Before the oven: {grams['raw']} of dough"),
        bar(0, 20, raw * scale, "flour"),
        text(0, 71, f"After the oven: {grams['baked']}"),
        bar(0, 78, baked * scale, "flour"),
        bar(baked * scale, 78, (raw - baked) * scale, "outline"),
        line((baked * scale, 17), (baked * scale, 106)),
        text(WIDTH, 120, f"lost: {grams['lost']}", "end"),
    )
    return Drawing(
        f"Two bars drawn to the same scale. Before the oven, {grams['raw']} of dough. After the oven, "
        f"{grams['baked']}. The end of the second bar is empty: {grams['lost']} is lost, {loss} of the first bar.",
        f"The loss is {loss} of the long bar, not of the short one.",
        126,
        marks,
    )


@figure("half-a-step")
def half_a_step(attributes: Mapping[str, str]) -> Drawing:
    """How far a reading may be off, for several weights on one scale.

    ``scale-step`` is the scale's, ``weights`` are divided by semicolons.
    """
    step = attributes["scale-step"]
    weights = [one.strip() for one in attributes["weights"].split(";")]
    errors = [working("error of a reading", scale_step=step, weight=one) for one in weights]
    shares = [each.values()["error"] for each in errors]
    middle, largest = WIDTH * 0.5, max(shares)
    marks = [line((middle, 4), (middle, 40 * len(weights) + 4), class_="dw-faint")]
    said = []
    for number, (weight, share, each) in enumerate(zip(weights, shares, errors, strict=True)):
        top = 40 * number
        half = share / largest * (middle - 4)
        shown = each.weighed("error")
        said.append(f"{weight}, {shown} either way")
        marks += [
            text(0, top + 14, f"{weight}: ± {shown}"),
            bar(middle - half, top + 20, 2 * half, "water", 12),
        ]
    return Drawing(
        f"Bars show how far a reading may be off on a scale with steps of {step}: {'; '.join(said)}.",
        f"One scale, steps of {step}. The bar shows how far the true weight may lie from the reading.",
        40 * len(weights) + 8,
        tuple(marks),
    )
