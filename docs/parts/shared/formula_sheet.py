"""Formulas shown side by side, and written out as Python: every part that changes a formula uses these."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.composition import Ingredient
from calc.formula import Formula
from calc.units import Style
from docs.parts.shared.fields import Scale
from docs.parts.shared.formula_form import OWN
from exercises.publish.html import table

# So few steps of a scale are too few to weigh with it.
SMALL = 4


def sheet(formulas: Mapping[str, Formula], style: Style, scale: Scale) -> Element:
    """A column for each formula, by its heading, and baker's percentages of the last one."""
    last = list(formulas.values())[-1]
    lines = list(dict.fromkeys(i.ingredient for each in formulas.values() for i in each.items))
    # Flour first: the rest counts on it.
    lines.sort(key=lambda each: not each.is_flour)
    rows: list[list] = []
    for each in lines:
        grams = [_grams(formula, each) for formula in formulas.values()]
        if any(grams):
            cells = [_fine(weight, style, scale) for weight in grams]
            rows.append([each.name, *cells, _percent(grams[-1] / last.flour, style)])
    totals = [scale.shows(formula.dough, style) for formula in formulas.values()]
    rows.append(["dough", *totals, _percent(last.dough / last.flour, style)])
    share = f"% of flour, {list(formulas)[-1].lower()}"
    return table("The formula", ["Ingredient", *formulas, share], rows, "dw-figures dw-sheet")


def on_paper(made: Element) -> Element:
    """A sheet for the printer alone: on the screen the form's own table is the sheet."""
    made.set("class", f"{made.get('class')} dw-on-paper")
    return made


def _grams(formula: Formula, ingredient: Ingredient) -> float:
    return sum(item.grams for item in formula.items if item.ingredient == ingredient)


def _fine(grams: float, style: Style, scale: Scale) -> str:
    """Yeast and salt are weighed finer than flour."""
    if not grams:
        return "–"
    return fine(grams, style, scale)


def fine(grams: float, style: Style, scale: Scale) -> str:
    """A weight on the reader's scale, and a small one as a finer scale shows it."""
    small = grams < max(10, SMALL * scale.step)
    return units.write(grams, "mass", style) if small else scale.shows(grams, style)


def _percent(share: float, style: Style) -> str:
    return units.write(share, "share", style, step=0.001) if share else "–"


def signed(text: str) -> str:
    """A change with its sign."""
    return text if text.startswith("−") else f"+{text}"


def formula_call(formula: Formula) -> str:
    """A formula as Python: ``dough = Formula((…))``."""
    items = "\n".join(
        f"    Item({ingredient_call(item.ingredient)}, {item.grams:.6g}),"
        for item in formula.items
        if item.grams
    )
    return f"dough = Formula((\n{items}\n))"


def ingredient_call(ingredient: Ingredient) -> str:
    """An ingredient as Python."""
    if ingredient.key == OWN:
        return f'own("{ingredient.name}", {ingredient.water:.6g})'
    return f'find("{ingredient.key}")'
