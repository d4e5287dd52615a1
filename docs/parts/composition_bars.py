"""What is in 100 g of each liquid, one bar a liquid."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.composition import Ingredient
from exercises.publish.html import element

# Carbohydrate counts fibre in; "other" is ash, alcohol and acids.
PARTS = (
    ("water", "water"),
    ("fat", "fat"),
    ("protein", "protein"),
    ("carbohydrate", "carbohydrate"),
)


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``of`` lists ingredients by key or name, separated by commas."""
    wanted = [
        composition.find(name) for name in attributes.get("of", "").split(",") if name.strip()
    ]
    if not wanted:
        raise ValueError("“of” must list at least one ingredient")
    return [legend(), bars(wanted)]


def legend() -> Element:
    """What each pattern of a bar stands for."""
    keys = [*(name for _, name in PARTS), "other"]
    return element(
        "ul",
        *(
            element("li", element("span", class_=f"dw-swatch dw-{key}", aria_hidden="true"), key)
            for key in keys
        ),
        class_="dw-legend",
    )


def bars(wanted: list[Ingredient]) -> Element:
    """The list: name, bar (with its figures in words) and water content."""
    return element("ul", *(_line(each) for each in wanted), class_="dw-bars")


def _line(ingredient: Ingredient) -> Element:
    water = units.write(ingredient.water, "share")
    return element(
        "li",
        element("span", ingredient.name, class_="dw-name"),
        _bar(ingredient),
        element("span", f"{water} water", class_="dw-figure"),
    )


def _bar(ingredient: Ingredient) -> Element:
    shares = {key: getattr(ingredient, key) or 0.0 for key, _ in PARTS}
    shares["other"] = max(0.0, 1 - sum(shares.values()))
    said = ", ".join(
        f"{key} {units.write(share * 100, 'mass', step=0.1)}"
        for key, share in shares.items()
        if share >= 0.0005
    )
    pieces = []
    start = 0.0
    for key, share in shares.items():
        if share < 0.0005:
            continue
        pieces.append(
            element(
                "rect",
                class_=f"dw-{key}",
                x=f"{start * 100:.2f}",
                y=0,
                width=f"{share * 100:.2f}",
                height=10,
            )
        )
        start += share
    return element(
        "svg",
        element("title", f"100 g of {ingredient.name}: {said}"),
        *pieces,
        viewBox="0 0 100 10",
        preserveAspectRatio="none",
        role="img",
        class_="dw-bar",
    )
