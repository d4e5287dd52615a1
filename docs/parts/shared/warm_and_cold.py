"""Warm and cold meet: what goes into a dough as blocks on a beam, which balances at the dough's temperature.

A block stands at its temperature; its height is the heat that one degree takes (grams × heat capacity), so
the beam's point of balance is the mean that the heat balance gives. Mixing adds its rise. Ice takes
much heat before it is water: its block stands far out, where water would have to be as cold.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from calc import units
from calc.temperature import FREEZING, Part, Plan, frozen_name, heat_capacity, mixed
from calc.units import PLAIN, Style
from docs.parts.shared.drawing import WIDTH, Drawing, as_figure, bar, line, text

HIGHEST_STACK = 78.0
BEAM = 140.0
MARGIN = 34.0
BLOCK = 30.0
LINE = 12.0
# Stacks nearer than this, in the picture's units, are drawn as one, at their common balance.
NEAR = 46.0
# The axis spans at least so many degrees.
LEAST = 6.0
MOST_NAMES = 2


@dataclass(frozen=True)
class Block:
    """One part: its name, °C, and the heat that one degree takes (J/K)."""

    name: str
    celsius: float
    heat: float
    kind: str
    is_ice: bool = False


def warm_and_cold(made: Plan, friction: float, style: Style = PLAIN) -> Element:
    """The picture of what goes in by a plan, and of the dough after a rise by mixing of `friction` °C."""
    return as_figure(drawing(planned(made, friction), made.reached, style))


def blocks(parts: Sequence[Part], met: float | None = None) -> list[Block]:
    """The parts that weigh something, the one that counts most first; without ice they meet at `met` (°C)."""
    meet = mixed(parts, 0.0) if met is None else met
    found = [
        Block(
            each.ingredient.name,
            each.celsius,
            each.grams * heat_capacity(each.ingredient, each.celsius, meet),
            "water" if each.is_liquid else "flour" if each.ingredient.is_flour else "other",
        )
        for each in parts
        if each.grams
    ]
    return sorted(found, key=lambda one: -one.heat)


def planned(made: Plan, friction: float) -> list[Block]:
    """The blocks of a plan, with a block for its ice."""
    if not made.ice:
        return blocks(made.parts)
    met = made.reached - friction
    wet = made.parts[made.iced]
    rest = [*made.parts[: made.iced], *made.parts[made.iced + 1 :]]
    if wet.grams > made.ice:
        rest.append(replace(wet, grams=wet.grams - made.ice))
    # The working counts what a gram of ice takes away beside the liquid that it replaces.
    melts = made.working.values()["each"]
    if wet.celsius > FREEZING:
        melts -= (wet.celsius - FREEZING) * heat_capacity(wet.ingredient, FREEZING, wet.celsius)
    each_degree = heat_capacity(wet.ingredient, FREEZING, met)
    ice = Block(
        frozen_name(wet.ingredient),
        FREEZING - melts / each_degree,
        made.ice * each_degree,
        "water",
        is_ice=True,
    )
    return sorted([*blocks(rest, met), ice], key=lambda one: -one.heat)


def balance_point(found: Sequence[Block]) -> float:
    """Where the blocks balance (°C): their mean, each counted by its heat."""
    return sum(one.celsius * one.heat for one in found) / sum(one.heat for one in found)


def drawing(found: Sequence[Block], reached: float, style: Style = PLAIN) -> Drawing:
    """Blocks on their beam, the point of balance under it, and the rise by mixing to `reached` (°C)."""
    met = balance_point(found)
    ends = [*(one.celsius for one in found), met, reached]
    low, high = min(ends), max(ends)
    span = max(LEAST, high - low)

    def across(celsius: float) -> float:
        return MARGIN + (celsius - (low + high - span) / 2) / span * (WIDTH - 2 * MARGIN)

    scale = HIGHEST_STACK / sum(one.heat for one in found)
    marks: list[Element] = [line((4, BEAM), (WIDTH - 4, BEAM))]
    for stack in _stacks(found, across):
        marks += _stack(stack, across(balance_point(stack)), scale, style)
    marks += _below(across(met), across(reached), reached, style)
    caption = f"{CAPTION} {ICE_CAPTION}" if any(one.is_ice for one in found) else CAPTION
    return Drawing(_said(found, met, reached, style), caption, BEAM + 50, tuple(marks))


CAPTION = (
    "Each block stands at its temperature, and is as high as the heat that one degree takes. "
    "The beam balances where they meet; mixing warms the dough from there."
)
ICE_CAPTION = "Melting takes so much heat that a little ice weighs like water far below 0 °C: its block is far out."


def _stacks(found: Sequence[Block], across) -> list[list[Block]]:
    """Blocks that stand near each other go on one stack."""
    stacks: list[list[Block]] = []
    for one in sorted(found, key=lambda each: each.celsius):
        if stacks and across(one.celsius) - across(balance_point(stacks[-1])) < NEAR:
            stacks[-1].append(one)
        else:
            stacks.append([one])
    return stacks


def _stack(stack: list[Block], middle: float, scale: float, style: Style) -> list[Element]:
    """The blocks, the heaviest at the bottom; above them what they are, and how warm."""
    marks, level = [], BEAM
    for one in sorted(stack, key=lambda each: -each.heat):
        level -= one.heat * scale
        marks.append(bar(middle - BLOCK / 2, level, BLOCK, one.kind, one.heat * scale))
    names = [one.name.partition(" (")[0] for one in sorted(stack, key=lambda each: -each.heat)]
    more = len(names) - MOST_NAMES
    told = names[:MOST_NAMES] + ([f"and {more} more"] if more > 0 else [])
    warm = _degrees(balance_point(stack), style)
    if stack[0].is_ice:
        warm = f"like {warm}"
    for row, says in enumerate(reversed([*told, warm])):
        marks.append(text(middle, level - 5 - row * LINE, says, "middle", "dw-small"))
    return marks


def _below(met: float, reached: float, celsius: float, style: Style) -> list[Element]:
    """The point of balance, and the way from there to the dough's temperature."""
    foot = BEAM + 14
    marks = [line((met, BEAM), (met - 8, foot), (met + 8, foot), (met, BEAM))]
    if reached - met > 6:
        marks.append(line((met, foot + 6), (reached, foot + 6)))
        marks.append(line((reached - 5, foot + 2), (reached, foot + 6), (reached - 5, foot + 10)))
    anchor = "end" if reached > WIDTH - 60 else "start" if reached < 60 else "middle"
    marks.append(text(reached, foot + 26, f"dough {_degrees(celsius, style)}", anchor))
    return marks


def _degrees(celsius: float, style: Style) -> str:
    return units.write(celsius, "temperature", style)


def _said(found: Sequence[Block], met: float, reached: float, style: Style) -> str:
    whole = sum(one.heat for one in found)
    told = (
        f"{one.name} {'like water at' if one.is_ice else 'at'} {_degrees(one.celsius, style)} counts for {units.write(one.heat / whole, 'share', style)}"
        for one in found
    )
    return (
        f"A beam with blocks at their temperatures: {'; '.join(told)}. It balances at "
        f"{_degrees(met, style)}; with the rise by mixing the dough comes to {_degrees(reached, style)}."
    )
