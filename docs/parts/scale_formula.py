"""Yield and scaling: a formula for so many pieces, a dough or flour weight, or a tin, on a scale's steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.cautions import Caution
from calc.formula import Formula
from calc.scaling import (
    TIN_FILLS,
    Rounding,
    TinFill,
    dough_for_pieces,
    dough_for_tin,
    round_to_scale,
    scaled,
    scaling_factor,
)
from calc.units import Style
from calc.words import capital
from calc.working import Working
from docs.parts import python_cell, worked_example
from docs.parts.shared import dough_holds, onward
from docs.parts.shared.caution_list import borne_list, marks, must_make_bread
from docs.parts.shared.fields import (
    FieldReader,
    Scale,
    answer,
    choice_field,
    style_fields,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import (
    SCALE_CHOICES,
    SCALES,
    formula_fields,
    notes,
    read_formula,
    scale_field,
)
from docs.parts.shared.formula_table import (
    DOUGH,
    all_cells,
    column,
    formula_table,
    rows_of,
    shares,
)
from exercises.publish.html import element, table

DEFAULTS = {
    "by": "pieces", "pieces": "12", "piece": "80 g", "bake-loss": "12 %", "allowance": "2 %",
    "dough": "1 kg", "new-flour": "1 kg", "tin": "1500 ml", "tins": "1", "fill": "open", "ratio": "",
    "scale": "1 g", "fine": "0.1 g", "mass": "g", "decimal": ".",
}  # fmt: skip
BY = [
    ("pieces", "pieces of a weight", ""), ("dough", "a dough weight", ""),
    ("flour", "a flour weight", ""), ("tin", "tins of a volume", ""),
]  # fmt: skip
HEADS = {"after": "Weigh", "share": "% of flour"}
NO_FINE_SCALE = "none"
# Above this the form asks whether it is meant: a tonne of dough is no class.
MOST_DOUGH = 1_000_000


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes."""
    own = with_defaults(attributes, DEFAULTS)
    return formula_fields(attributes) | own


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """What the form asked for: how it is scaled, the workings, and the formula on the scale's steps."""

    before: Formula
    by: str
    amount: Working | None
    factor: Working
    rounding: Rounding
    scale: Scale
    fine: Scale | None
    style: Style


def result(values: Mapping[str, str]) -> Result:
    """Scale and round. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    items, _ = read_formula(reader)
    by = values.get("by", "")
    if by not in [key for key, _, _ in BY]:
        reader.complain("by", "Choose what the new formula is for.")
    amount, wanted = _wanted(by, reader)
    scale, fine = _scale(reader, "scale"), _scale(reader, "fine")
    reader.finish()
    before = Formula(tuple(items))
    must_make_bread(values, before)
    old = before.flour if by == "flour" else before.dough
    factor = scaling_factor(old, wanted)
    whole = scaled(before, factor.values()["factor"])
    rounding = round_to_scale(whole, scale.step, fine.step if fine else None)
    return Result(before, by, amount, factor, rounding, scale, fine, style)


def _wanted(by: str, reader: FieldReader) -> tuple[Working | None, float]:
    """The working of the wanted weight, where there is one, and the weight in grams.

    Only the chosen way's fields are read, so that the others cannot stop it.
    """
    if by == "pieces":
        pieces = reader.quantity("pieces", "number", 1, 5000)
        piece = _weight(reader, "piece", 1)
        loss, allowance = _loss(reader, "bake-loss"), _loss(reader, "allowance")
        working = dough_for_pieces(pieces, piece, loss, allowance)
        return working, _sensible(reader, "pieces", working.values()[working.answer.key])
    if by == "tin":
        tin = reader.quantity("tin", "volume", 50, 100_000)
        tins = reader.quantity("tins", "number", 1, 500)
        fill = _fill(reader)
        ratio = fill.usual
        chosen = reader.values.get("ratio", "").strip()
        if chosen:
            ratio = reader.quantity("ratio", "density", 0.1, 1.2)
        working = dough_for_tin(tin * tins, ratio, None if chosen else fill.range)
        return working, _sensible(reader, "tin", working.values()["dough"])
    return None, _weight(reader, "new-flour" if by == "flour" else "dough", 1)


def _sensible(reader: FieldReader, name: str, grams: float) -> float:
    if grams > MOST_DOUGH:
        reader.complain(name, "That is more than a tonne of dough. Use smaller numbers.")
    return grams


def _weight(reader: FieldReader, name: str, least: float) -> float:
    return reader.quantity(name, "mass", least, MOST_DOUGH)


def _loss(reader: FieldReader, name: str) -> float:
    """A share of the dough from 0 to 40 %; blank is none."""
    if not reader.values.get(name, "").strip():
        return 0.0
    return reader.quantity(name, "share", 0.0, 0.4)


def _fill(reader: FieldReader) -> TinFill:
    for fill in TIN_FILLS:
        if fill.key == reader.values.get("fill"):
            return fill
    reader.complain("fill", "Choose the kind of loaf from the list.")
    return TIN_FILLS[0]


def _scale(reader: FieldReader, name: str) -> Scale | None:
    """The chosen scale; None where there is no second one. A complaint where it is not in the list."""
    chosen = reader.values.get(name, "")
    if name == "fine" and chosen == NO_FINE_SCALE:
        return None
    if chosen not in SCALES:
        reader.complain(name, "Choose a scale from the list.")
    return Scale(chosen)


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""

    def field(name: str, label: str, help: str = "", kind: str = "") -> Element:
        return text_field(prefix, name, label, values[name], help, kind)

    fills = [(fill.key, fill.name, "") for fill in TIN_FILLS]
    return element(
        "form",
        formula_table(values, prefix, HEADS),
        element(
            "fieldset",
            element("legend", "Make it for"),
            choice_field(prefix, "by", "Make it for", values["by"], BY),
            _way(
                values, "pieces",
                field("pieces", "Number of pieces"),
                field("piece", "Weight of one, baked", "raw, if the bake loss is blank", "mass"),
                field("bake-loss", "Bake loss", "of the raw dough; may be blank"),
                field("allowance", "Allowance", "left in bowl and on hands; may be blank"),
            ),
            _way(values, "dough", field("dough", "Dough weight", kind="mass")),
            _way(values, "flour", field("new-flour", "Flour weight", kind="mass")),
            _way(
                values, "tin",
                field("tin", "Tin’s volume", "fill it with water and weigh: 1 g is 1 ml"),
                field("tins", "Number of tins"),
                choice_field(prefix, "fill", "Kind of loaf", values["fill"], fills),
                field("ratio", "Dough for each ml (may be blank)", "your own, such as 0.36 g/ml"),
            ),
        ),
        element(
            "details",
            element("summary", "My scales, grams or ounces, decimal mark"),
            element(
                "div",
                scale_field(prefix, values),
                choice_field(
                    prefix, "fine", "Second scale, below 10 g", values["fine"],
                    [(NO_FINE_SCALE, "I have none", ""), *SCALE_CHOICES],
                ),
                *style_fields(prefix, values),
                class_="dw-row",
            ),
        ),
        class_="dw-form",
        novalidate=True,
        aria_label="Yield and scaling",
    )  # fmt: skip


def _way(values: Mapping[str, str], key: str, *fields: Element) -> Element:
    return element("div", *fields, class_="dw-row", data_way=key, hidden=values["by"] != key)


# The result.


def headline(made: Result) -> str:
    """The answer in one sentence."""
    best = made.rounding.best
    factor = made.factor.weighed("factor", made.style)
    flour = _mass(best.flour, made)
    return (
        f"Mix {_mass(best.dough, made)} of dough on {flour} of flour: every weight times {factor}."
    )


def result_view(made: Result) -> list[Element]:
    """The caution first, then what to mix, the sheet, what came of the rounding, what the dough holds, the workings."""
    shown = [
        *borne_list(made.before),
        *marks(_cautions(made)),
        answer(headline(made), _mass(made.rounding.best.dough, made)),
        _range(made),
        _pieces(made),
        _sheet(made),
        _rounded(made),
        dough_holds.folded({"Exact": made.rounding.exact, "Weigh": made.rounding.best}, made.style),
        *([_folded("How much dough", made.amount, made.style)] if made.amount else []),
        _folded("The scaling factor", made.factor, made.style),
        python_cell.folded(python_of(made)),
    ]
    return [each for each in shown if each is not None]


def _cautions(made: Result) -> list[Caution]:
    spoils = [i.ingredient.name for i in made.before.items if i.grams and i.ingredient.perishable]
    said = [
        Caution("raw", "Do not taste raw dough", "An allergen in the formula is in every piece."),
        Caution("bake", "Bake it through", "Many pieces bake and cool longer than one."),
    ]
    if not spoils:
        return said
    text = (
        f"{capital(', '.join(spoils))} can spoil, and a large dough cools slowly: your local food code says "
        "how long it may stand warm."
    )
    return [Caution("cold", "Keep it cold", text), *said]


def _mass(grams: float, made: Result) -> str:
    """A weight on the scale it was rounded to: no figure more than the scale shows."""
    scale = made.fine if made.fine and grams < 10 else made.scale
    if made.style.mass == "oz":
        return scale.shows(grams, made.style)
    step = scale.step
    return units.write(grams, "mass", made.style, step=1.0 if step.is_integer() else 0.1)


def _stated(grams: float, made: Result) -> str:
    """A weight of the formula before, which no scale has rounded."""
    return units.write(grams, "mass", made.style) if made.style.mass == "oz" else _mass(grams, made)


def _range(made: Result) -> Element | None:
    if made.amount is None or made.by != "tin" or not made.amount.givens["ratio"].range:
        return None
    interval = made.amount.bounds()["dough"]
    low, high = (_mass(end, made) for end in (interval.low, interval.high))
    return element(
        "p",
        f"For this tin, anything from {low} to {high} is in use: common practice, from memory, without a "
        "source. Bake one, look at it, and write in your own grams for each ml.",
        class_="dw-bounds",
    )


def _pieces(made: Result) -> Element | None:
    if made.by != "pieces":
        return None
    values = made.amount.values()
    raw = values.get("raw", values["together"]) / values["pieces"]
    return element("p", f"Scale each piece at {_mass(raw, made)} raw.")


def _sheet(made: Result) -> Element:
    exact, best = made.rounding.exact, made.rounding.best
    rows: list[list] = []
    for old, item, weighed in zip(made.before.items, exact.items, best.items, strict=True):
        if not old.grams:
            continue
        rows.append(
            [
                item.ingredient.name,
                _stated(old.grams, made),
                _fine(item.grams, made),
                element("strong", _mass(weighed.grams, made)),
                units.write(exact.bakers_percentage(item), "share", made.style, step=0.001),
            ]
        )
    rows.append(
        [
            "dough", _stated(made.before.dough, made), _fine(exact.dough, made),
            _mass(best.dough, made),
            units.write(exact.dough / exact.flour, "share", made.style, step=0.001),
        ]
    )  # fmt: skip
    return table(
        "The formula",
        ["Ingredient", "Before", "Exact", "Weigh", "% of flour"],
        rows,
        "dw-figures dw-sheet",
    )


def _fine(grams: float, made: Result) -> str:
    step = 0.01 if grams < 10 else 0.1
    if made.style.mass == "oz":
        return units.write(grams, "mass", made.style, guard=1)
    return units.write(grams, "mass", made.style, step=step)


def _rounded(made: Result) -> Element:
    """What rounding does to the hydration, and what it would do to each weight alone."""
    rounding = made.rounding

    def share(value: float) -> str:
        return units.write(value, "share", made.style, step=0.0001)

    rows = [
        ["exact", share(rounding.wanted), "–"],
        ["weights above", share(rounding.found), _points(rounding.error, made)],
        [
            "each weight rounded alone",
            share(rounding.found_nearest),
            _points(rounding.error_nearest, made),
        ],
    ]
    return element(
        "div",
        table("Rounding and hydration", ["", "Hydration", "Off by"], rows, "dw-figures"),
        element(
            "p",
            "Hydration here is the water in liquids, eggs and purees ÷ total flour. Flour and liquids are tried a "
            "step down and a step up, all together, and the nearest hydration is taken.",
        ),
    )


def _points(error: float, made: Result) -> str:
    return f"{units.digits(error * 100, 0.01, made.style)} points"


def _folded(title: str, working: Working, style: Style) -> Element:
    return element(
        "details",
        element("summary", f"{title}, step by step"),
        worked_example.given_list(working, style),
        worked_example.steps(working, style),
    )


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    items = "\n".join(
        f'    Item(find("{item.ingredient.key}"), {item.grams:.6g}),'
        for item in made.before.items
        if item.grams
    )
    fine = "" if made.fine is None else f", fine_step={made.fine.step:.9g}"
    return f"""from calc.composition import find
from calc.formula import Formula, Item
from calc.scaling import round_to_scale, scaled

dough = Formula((
{items}
))
done = round_to_scale(scaled(dough, {made.factor.values()["factor"]:.9g}), step={made.scale.step:.9g}{fine})
for exact, item in zip(done.exact.items, done.best.items):
    print(item.ingredient.name, round(exact.grams, 2), "->", round(item.grams, 2), "g")
print("hydration wanted:", done.wanted, "found:", done.found, "each alone:", done.found_nearest)
"""


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the scaled dough may go next."""
    dough = onward.of_formula(made.rounding.best, values["was"], made.style)
    tools = (onward.SWAP, onward.BALANCE, onward.TEMPERATURE, onward.BAKE)
    return onward.links(values, dict.fromkeys(tools, dough))


def cells_of(values: Mapping[str, str], made: Result) -> dict[str, str]:
    """The formula's columns: what to weigh on the scale, and its baker's percentage before rounding."""
    rows, exact, best = rows_of(values), made.rounding.exact, made.rounding.best
    weighed = {name: item.grams for name, item in zip(rows, best.items, strict=True)}
    wanted = {name: item.grams for name, item in zip(rows, exact.items, strict=True)}
    cells = column("after", weighed | {DOUGH: best.dough}, lambda grams: _mass(grams, made))
    return all_cells(values, rows, cells | shares(wanted, exact, made.style), made.style)


PART = FormPart("yield", fields_of, form, result, result_view, headline, notes, onward_of, cells_of)
