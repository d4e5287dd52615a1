"""The liquid swap: a formula in, the same dough with another liquid out, with its working."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.acid import write_ph
from calc.composition import RIDERS, Ingredient
from calc.formula import Item, weighed
from calc.interval import Interval
from calc.own_ingredient import OWN_SOURCE
from calc.scalding import may_be_scalded
from calc.substitution import Swap
from calc.units import Style
from calc.words import capital, the
from docs.parts import python_cell, worked_example
from docs.parts.hydration_table import in_each_meaning
from docs.parts.shared import onward
from docs.parts.shared.caution_list import caution_list
from docs.parts.shared.fields import FieldReader, Scale, answer, style_of
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import (
    notes,
    read_swap,
    scale_of,
    style_details,
    swap_fields,
)
from docs.parts.shared.formula_sheet import (
    fine,
    formula_call,
    ingredient_call,
    on_paper,
    sheet,
    signed,
)
from docs.parts.shared.formula_table import (
    AFTER,
    DOUGH,
    all_cells,
    column,
    formula_table,
    rows_of,
    shares,
    weights,
)
from docs.parts.shared.water_line import water_line
from exercises.publish.html import Child, element, table

# From the form to the result.


@dataclass(frozen=True)
class Result:
    """What the form asked for, computed."""

    swap: Swap
    style: Style
    scale: Scale


def result(values: Mapping[str, str]) -> Result:
    """Compute the swap. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    return Result(read_swap(FieldReader(values, style)), style, scale_of(values))


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""
    return element(
        "form",
        formula_table(values, prefix, AFTER, swap=True),
        style_details(values, prefix),
        class_="dw-form",
        novalidate=True,
        aria_label="Liquid swap",
    )


# The result.


def headline(made: Result) -> str:
    """The answer in one sentence."""
    new, old = made.swap.new, made.swap.old
    weight = made.scale.shows(new.grams, made.style)
    if not made.swap.kept:
        return f"Weigh {weight} of {new.ingredient.name} in place of {the(old.ingredient.name)}."
    rest = made.scale.shows(made.swap.kept, made.style)
    return (
        f"Weigh {weight} of {new.ingredient.name} in place of part of {the(old.ingredient.name)}: "
        f"{rest} of it stays."
    )


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the answer, hydration, what rides along, the working."""
    return [
        *caution_list(made.swap.before, made.swap.after),
        answer(headline(made), made.scale.shows(made.swap.new.grams, made.style)),
        _bounds(made),
        water_line({"Before": made.swap.before, "After": made.swap.after}, made.style),
        on_paper(
            sheet({"Before": made.swap.before, "After": made.swap.after}, made.style, made.scale)
        ),
        in_each_meaning({"Before": made.swap.before, "After": made.swap.after}, made.style),
        _riders(made),
        element(
            "details",
            element("summary", "The working, step by step"),
            worked_example.given_list(made.swap.working, made.style),
            worked_example.steps(made.swap.working, made.style),
            open=True,
        ),
        python_cell.folded(python_of(made)),
    ]


def _bounds(made: Result) -> Element:
    """How far the sought weight may be off: the new liquid's, or what stays of the old one."""
    found = made.swap.working.bounds()["kept" if made.swap.by_weight else "new"]
    interval = Interval(max(0.0, found.low), max(0.0, found.high))
    sought = (
        f"{capital(the(made.swap.old.ingredient.name))} that stays" if made.swap.by_weight else "It"
    )
    low, high = (units.write(end, "mass", made.style) for end in (interval.low, interval.high))
    reasons = []
    for each in (made.swap.new.ingredient, made.swap.old.ingredient):
        if each.water_range.width:
            ends = (
                units.write(end, "share", made.style, step=0.001)
                for end in (each.water_range.low, each.water_range.high)
            )
            own = each.source in ("", OWN_SOURCE)
            holds = (
                f"as you wrote, {each.name} holds" if own else f"products called {each.name} hold"
            )
            reasons.append(f"{holds} {' to '.join(ends)} water")
    measured = [each for each in (made.swap.old, made.swap.new) if each.around]
    reasons += [f"{the(each.ingredient.name)} was measured, not weighed" for each in measured]
    if made.swap.old not in measured and weighed(made.swap.old.grams, made.scale.step):
        reasons.append(
            f"a scale with steps of {made.scale.named(made.style)} can be half a step off"
        )
    if low == high:
        return element(
            "p",
            f"That is sure to the nearest unit shown: {'; '.join(reasons)}.",
            class_="dw-bounds",
        )
    return element(
        "p",
        f"{sought} may need to be anything from {low} to {high}: {', and '.join(reasons)}. "
        "Hold a little back and go by the dough.",
        class_="dw-bounds",
    )


# Above this much more of the flour's weight, protein makes a dough stiffer than its hydration says.
MUCH_PROTEIN = 0.01


def _riders(made: Result) -> Element:
    """What comes along with the water (`RIDERS`), what that does, and how sour the liquid is."""
    swap = made.swap
    old, new = Item(swap.old.ingredient, swap.old.grams - swap.kept), swap.new
    rows: list[list] = []
    for part, name in RIDERS.items():
        brought = [_brought(item, part) for item in (old, new)]
        change: Child = "not known"
        if None not in brought:
            grams = brought[1] - brought[0]
            share = signed(units.write(grams / swap.after.flour, "share", made.style, step=0.001))
            change = element(
                "span",
                signed(units.write(grams, "mass", made.style, step=0.1)),
                element("small", f"{share} of flour"),
            )
        known = [
            "not known" if grams is None else units.write(grams, "mass", made.style, step=0.1)
            for grams in brought
        ]
        rows.append([name, *known, change])
    heads = ["", old.ingredient.name, new.ingredient.name, "Change"]
    return element(
        "div",
        table("What rides along with the liquid", heads, rows, "dw-figures"),
        _protein(made, new),
        _scald(new),
        element("p", _acidity(made)),
    )


def _protein(made: Result, new: Item) -> Element | None:
    share = new.grams * (new.ingredient.protein or 0.0) / made.swap.after.flour
    if share < MUCH_PROTEIN:
        return None
    written = units.write(share, "share", made.style, step=0.001)
    return element(
        "p",
        f"{capital(the(new.ingredient.name))} brings protein, {written} of the flour. So much protein usually "
        "makes a dough stiffer than its hydration says.",
    )


def _scald(new: Item) -> Element | None:
    """What scalding does, and what it does to the weight."""
    if not may_be_scalded(new.ingredient):
        return None
    name = new.ingredient.name
    return element(
        "p",
        f"Many textbooks scald {name} for bread: to the boil, or some minutes at 82 to 88 °C (180 to 190 °F), then "
        "cooled. Unheated, it can make the dough slack and the loaf lower; others see no difference with a little "
        f"milk. Water boils off: weigh {the(name)} again when it is cold, and make up its weight with water.",
    )


def _brought(item: Item, part: str) -> float | None:
    share = getattr(item.ingredient, part)
    return None if share is None else item.grams * share


def _acidity(made: Result) -> str:
    old, new = made.swap.old.ingredient, made.swap.new.ingredient
    return f"Acidity: {_ph(old, made)}, {_ph(new, made)}. {_sourness(old, new)}"


def _ph(ingredient: Ingredient, made: Result) -> str:
    known = f"pH {write_ph(ingredient.ph, made.style)}" if ingredient.ph else "not known"
    return f"{ingredient.name} {known}"


def _sourness(old: Ingredient, new: Ingredient) -> str:
    if old.ph is None or new.ph is None:
        return "Measure its pH: a sour liquid may make the dough tighter."
    if new.ph.high < old.ph.low:
        return "The new liquid is more sour: common practice finds the dough tighter and slower; see the lesson for what is not certain."
    if new.ph.low > old.ph.high:
        return "The new liquid is less sour: the dough may feel looser."
    return "They are about equally sour."


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    old, new = made.swap.old, made.swap.new
    liquid = ingredient_call(new.ingredient)
    part = (old.grams - made.swap.kept) / old.grams
    name, arguments, sought = "swap", f"{liquid}, part={part:.6g}", "new"
    if made.swap.by_weight:
        name, arguments, sought = "swap_weight", f"Item({liquid}, {new.grams:.6g})", "kept"
    return f"""from calc.composition import find, own
from calc.formula import Formula, Item, hydration
from calc.substitution import {name}

{formula_call(made.swap.before)}
done = {name}(dough, "{old.ingredient.key}", {arguments}, scale={made.scale.step:.9g})
print("new weight:", done.new.grams, "g; bounds of what is sought:", done.working.bounds()["{sought}"])
for step in done.working.steps:
    print(step, "=", done.working.sentence(step))
for item in done.after.items:
    print(item.ingredient.name, round(item.grams, 1), "g")
print("hydration:", hydration(done.after).values()["hydration"])
"""


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the swap may go next."""
    return onward.after_swap(values, made.swap, made.swap.after, onward.BALANCE)


def cells_of(values: Mapping[str, str], made: Result) -> dict[str, str]:
    """The formula's columns: what to weigh, and its baker's percentage."""
    rows, swap = rows_of(values), made.swap
    weighed, _ = weights(rows | {"part": Item(swap.new.ingredient, 0.0)}, swap.after)
    after = column("after", weighed, lambda grams: fine(grams, made.style, made.scale))
    total = {f"after {DOUGH}": made.scale.shows(swap.after.dough, made.style)}
    return all_cells(
        values, rows, after | total | shares(weighed, swap.after, made.style), made.style
    )


PART = FormPart(
    "swap", swap_fields, form, result, result_view, headline, notes, onward_of, cells_of
)
