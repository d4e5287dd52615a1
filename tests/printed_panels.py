"""Packs printed forwards: the panel that a food's figures would give, as texts for `calc.label.read_panel`."""

from __future__ import annotations

import math
from collections.abc import Mapping

from calc.composition import SALT_PER_SODIUM, Ingredient
from calc.label import BASES, Basis
from calc.panel_figures import Rounding


def rounded(rule: Rounding, grams: float, small: str = "zero") -> float | None:
    """The figure printed for an amount; None stands for “less than `less`”.

    `small` says how the pack shows small amounts where it may choose: ``zero``, ``less`` or
    ``plain`` (rounded like any other).
    """
    if small == "less" and rule.less and grams < max(rule.less, rule.zero):
        return None
    if grams < rule.zero and (rule.always_zero or small == "zero"):
        return 0.0
    step = next(step for start, step in reversed(rule.steps) if grams >= start)
    return math.floor(grams / step + 0.5) * step


def print_us(
    food: Ingredient, serving: float, small: str = "zero", alcohol: float | None = None
) -> dict[str, str]:
    """A US panel for `food`, as texts for `read_panel`.

    `serving` is in whole grams; `small` as in `rounded`; `alcohol` a share of the volume.
    Raises ValueError when the food lacks a figure.
    """
    figures = _printable(food, "fat", "sodium", "carbohydrate", "fibre", "sugars", "protein")
    return {
        "serving": f"{serving:.0f} g",
        **_print(BASES["us"], figures, serving, small),
        **_print_alcohol(food, alcohol),
    }


def print_eu(
    food: Ingredient, small: str = "zero", alcohol: float | None = None, by_volume: bool = False
) -> dict[str, str]:
    """An EU panel for 100 g (or 100 ml) of `food`, as texts for `read_panel`."""
    figures = _printable(food, "fat", "carbohydrate", "sugars", "fibre", "protein", "salt")
    figures["carbohydrate"] = max(0.0, figures["carbohydrate"] - figures.get("fibre", 0.0))
    grams = 100 * food.density if by_volume else 100.0
    return {
        **_print(BASES["eu-g"], figures, grams, small),
        **_print_alcohol(food, alcohol, always_density=by_volume),
    }


def _printable(food: Ingredient, *names: str) -> dict[str, float]:
    shares = {
        name: food.salt / SALT_PER_SODIUM
        if name == "sodium" and food.salt is not None
        else getattr(food, name, None)
        for name in names
    }
    missing = [n for n, s in shares.items() if s is None and n not in ("fibre", "sugars")]
    if missing:
        raise ValueError(f"The table has no {' or '.join(missing)} for {food.name}.")
    return {name: share for name, share in shares.items() if share is not None}


def _print(basis: Basis, shares: Mapping[str, float], grams: float, small: str) -> dict[str, str]:
    made = {}
    for name, rule in basis.rules.items():
        if name not in shares:
            continue
        figure = rounded(rule, shares[name] * grams, small)
        made[name] = f"less than {rule.less:g} g" if figure is None else _text(name, figure)
    return made


def _text(name: str, grams: float) -> str:
    return f"{grams * 1000:.0f} mg" if name == "sodium" else f"{grams:.6g} g"


def _print_alcohol(
    food: Ingredient, alcohol: float | None, always_density: bool = False
) -> dict[str, str]:
    made = {"alcohol": f"{alcohol * 100:.1f} % vol"} if alcohol else {}
    if food.density and (alcohol or always_density):
        made["density"] = f"{food.density:.3f} g/ml"
    return made
