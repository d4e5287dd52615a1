"""A dough with a preferment: what to mix ahead, and what is left for the final dough."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.composition import Ingredient
from calc.formula import Formula, FormulaError, Item
from calc.preferment import KINDS, Build, Kind, build
from calc.units import Style
from docs.parts import python_cell, worked_example
from docs.parts.shared.caution_list import caution_list, must_make_bread
from docs.parts.shared.dough_holds import what_doughs_hold
from docs.parts.shared.fields import (
    FieldErrors,
    FieldReader,
    Scale,
    answer,
    choice_field,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import (
    formula_fields,
    ingredient_choices,
    known,
    known_liquid,
    liquid_choices,
    notes,
    read_formula,
    scale_of,
    style_details,
)
from docs.parts.shared.formula_sheet import fine, formula_call, ingredient_call, on_paper, sheet
from docs.parts.shared.formula_table import (
    ADDED,
    DOUGH,
    all_cells,
    column,
    formula_table,
    rows_of,
    weights,
)
from docs.parts.shared.water_line import water_line
from exercises.publish.html import element

DEFAULTS = {
    "kind": "poolish", "ahead": "25 %", "pre-flour": "", "pre-hydration": "", "pre-salt": "", "keep": "",
    "final": "water", "mass": "g", "decimal": ".", "scale": "1 g",
}  # fmt: skip

HEADS = {"ahead": "Preferment", "after": "Final dough"}


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes."""
    own = with_defaults(attributes, DEFAULTS)
    return formula_fields(attributes) | own


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """The dough taken apart; `keep` grams of the preferment are kept back for the next dough."""

    before: Formula
    old: str
    kind: Kind
    liquid: Ingredient
    build: Build
    hydration: float
    salt: float
    keep: float
    style: Style
    scale: Scale


def result(values: Mapping[str, str]) -> Result:
    """Take the dough apart. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    items, old = read_formula(reader)
    kind = _kind(reader)
    hydration = _or_usual(reader, "pre-hydration", kind.usual, 0.3, 2.0)
    salt = _or_usual(reader, "pre-salt", kind.salt, 0.0, 0.05)
    liquid = known_liquid(reader, "final")
    keep = reader.amount("keep", 0.0)
    flours = [item for item in items if item.ingredient.is_flour]
    milled = _flour(reader, flours)
    weight = _weight(reader, sum(item.grams for item in flours), 1 + hydration + salt)
    reader.finish()
    before = Formula(tuple(items))
    try:
        made = build(before, old.key, liquid, weight, hydration, salt, milled)
    except FormulaError as error:
        raise FieldErrors({"ahead": str(error)}) from None
    must_make_bread(values, made.whole)
    return Result(
        before, old.key, kind, liquid, made, hydration, salt, keep, style, scale_of(values)
    )


def _kind(reader: FieldReader) -> Kind:
    for kind in KINDS:
        if kind.key == reader.values.get("kind"):
            return kind
    reader.complain("kind", "Choose a kind from the list.")
    return KINDS[0]


def _flour(reader: FieldReader, flours: list[Item]) -> Ingredient | None:
    """The dough's flour that the preferment takes; None for the one that it has most of."""
    if not reader.values.get("pre-flour"):
        return None
    chosen = known(reader, "pre-flour")
    if chosen not in [item.ingredient for item in flours if item.grams]:
        reader.complain("pre-flour", f"There is no {chosen.name} in the formula above.")
    return chosen


def _or_usual(reader: FieldReader, name: str, usual: float, low: float, high: float) -> float:
    """A percentage of the preferment's flour; blank is what its kind usually has."""
    if not reader.values.get(name, "").strip():
        return usual
    return reader.share(name, low, high)


def _weight(reader: FieldReader, flour: float, parts: float) -> float:
    """The preferment's weight in grams: as such, or from its share of all the flour."""
    text = reader.values.get("ahead", "")
    if units.is_percentage(text):
        return reader.share("ahead", 0.0, 1.0) * flour * parts
    grams = reader.amount("ahead", 0.0)
    if not grams:
        reader.complain("ahead", "Give the preferment a weight, or a percentage of all the flour.")
    return grams


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""

    def field(name: str, label: str, help: str = "", kind: str = "") -> Element:
        return text_field(prefix, name, label, values[name], help, kind)

    flours = [("", "the main flour", ""), *ingredient_choices(lambda each: each.is_flour)]
    kinds = [(kind.key, f"{kind.name}, {_usual(kind)}", "") for kind in KINDS]
    return element(
        "form",
        formula_table(values, prefix, HEADS),
        element(
            "fieldset",
            element("legend", "The preferment"),
            element(
                "div",
                choice_field(prefix, "kind", "Kind", values["kind"], kinds),
                field("ahead", "How much", "% of all the flour, or its weight", "mass"),
                choice_field(prefix, "pre-flour", "Its flour", values["pre-flour"], flours),
                field("pre-hydration", "Its hydration", "blank: the kind’s usual"),
                field("pre-salt", "Salt on its flour", "blank: the kind’s usual"),
                field("keep", "Kept back (may be blank)", "for the next dough: mixed on top", "mass"),
                choice_field(prefix, "final", "The final dough’s liquid", values["final"], liquid_choices()),
                class_="dw-row",
            ),
        ),
        style_details(values, prefix),
        class_="dw-form",
        novalidate=True,
        aria_label="A dough with a preferment",
    )  # fmt: skip


def _usual(kind: Kind) -> str:
    low, high = (f"{100 * end:.0f}" for end in (kind.low, kind.high))
    wet = f"{low} %" if low == high else f"{low} to {high} %"
    return f"{wet}, salted" if kind.salt else wet


# The result.


def headline(made: Result) -> str:
    """What to mix ahead and what is left, in two sentences."""
    weight = made.scale.shows(made.build.ahead.dough, made.style)
    share = units.write(made.build.ahead.flour / made.build.whole.flour, "share", made.style)
    working = made.build.working
    left = working.weighed(working.answer.key, made.style)
    return (
        f"Mix {weight} of {made.kind.name} ahead: {share} of all the flour. "
        f"The final dough takes {left} of {made.liquid.name}."
    )


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the answer, the three sheets, what they hold, the working."""
    sheets = {
        "Preferment": made.build.ahead,
        "Final dough": made.build.final,
        "Whole dough": made.build.whole,
    }
    shown = [
        *caution_list(made.before, made.build.whole),
        answer(headline(made), made.scale.shows(made.build.ahead.dough, made.style)),
        water_line(sheets, made.style),
        on_paper(sheet(sheets, made.style, made.scale)),
        _notes(made),
        _kept(made),
        *what_doughs_hold(sheets, made.style),
        element(
            "details",
            element("summary", "The working, step by step"),
            worked_example.given_list(made.build.working, made.style),
            worked_example.steps(made.build.working, made.style),
        ),
        python_cell.folded(python_of(made)),
    ]
    return [each for each in shown if each is not None]


def _notes(made: Result) -> Element:
    salted = (
        "Old dough brings its yeast too, and some of its strength is spent: the final dough’s yeast is "
        "yours to judge. "
        if made.kind.salt
        else "The preferment’s own yeast or culture is not counted: a pinch, or a spoon of ripe starter. "
    )
    return element(
        "p",
        f"{salted}Mix the preferment into the final dough’s weights; baker’s percentages count on all the flour.",
        class_="dw-note",
    )


def _kept(made: Result) -> Element | None:
    """What to mix when a part of the preferment is kept back for the next dough."""
    if not made.keep:
        return None
    more = (made.build.ahead.dough + made.keep) / made.build.ahead.dough
    parts = ", ".join(
        f"{made.scale.shows(item.grams * more, made.style)} of {item.ingredient.name}"
        for item in made.build.ahead.items
        if item.grams
    )
    keep = made.scale.shows(made.keep, made.style)
    return element(
        "p",
        f"To keep {keep} back, mix {parts}. Take the {keep} out before you mix the final dough: only a "
        "preferment of flour and water keeps.",
    )


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    return f"""from calc.composition import find
from calc.formula import Formula, Item
from calc.preferment import build, hydrations

{formula_call(made.before)}
done = build(dough, "{made.old}", {ingredient_call(made.liquid)}, weight={made.build.ahead.dough:.6g}, hydration={made.hydration:.6g}, salt={made.salt:.6g}, flour=find("{made.build.ahead.items[0].ingredient.key}"))
for name, sheet in (("preferment", done.ahead), ("final dough", done.final)):
    for item in sheet.items:
        print(name, item.ingredient.name, round(item.grams, 1), "g")
print(hydrations(done.final, done.ahead))
"""


def cells_of(values: Mapping[str, str], made: Result) -> dict[str, str]:
    """The formula's columns: what goes into the preferment, and what into the final dough."""
    rows = rows_of(values)
    cells, more = {}, []
    for kind, formula in (("ahead", made.build.ahead), ("after", made.build.final)):
        weighed, rest = weights(rows, formula)
        cells |= column(
            kind, weighed | {DOUGH: formula.dough}, lambda g: fine(g, made.style, made.scale)
        )
        more += [
            f"{HEADS[kind].lower()}: {fine(i.grams, made.style, made.scale)} of {i.ingredient.name}"
            for i in rest
        ]
    return all_cells(values, rows, cells | {ADDED: "; ".join(more)}, made.style)


PART = FormPart("ahead", fields_of, form, result, result_view, headline, notes, cells=cells_of)
