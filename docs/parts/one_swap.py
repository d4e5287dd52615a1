"""One question: I have so much of one liquid, in place of so much of another. Answered by their water."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.acid import write_ph
from calc.cautions import Caution, cautions
from calc.composition import RIDERS
from calc.formula import Formula, Item
from calc.substitution import swap_working
from calc.units import Style
from calc.words import capital, listed, the
from calc.working import Working
from docs.parts.shared import onward
from docs.parts.shared.fields import (
    FieldReader,
    Notes,
    answer,
    choice_field,
    folded_style,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import is_bare, known_liquid, liquid_choices, measures
from docs.parts.shared.water_line import water_line
from exercises.publish.html import element

DEFAULTS = {
    "have": "400 g", "becomes": "coconut-milk", "liquid": "240 g", "was": "whole-milk", "mass": "g", "decimal": ".",
}  # fmt: skip
# The dough that the link to the whole formula opens with: an example to write over.
EXAMPLE_HYDRATION = 0.65
EXAMPLE_ROWS = {"with1": "salt", "amount1": "2 %", "with2": "instant-yeast", "amount2": "1 %"}
# What is said of two liquids alone; what a dough can bear is told where there is a dough.
_SHORT = ("allergen", "unknown", "perishable", "alcohol", "honey")
_NO_CHANGE = "Fat, protein, sugar and salt stay nearly as they were."
# Less of a part than this, in grams, nobody tastes or weighs.
LEAST_TOLD = 0.1


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a page's attributes."""
    return with_defaults(attributes, DEFAULTS)


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """The liquid in the formula, what there is of the new one, and the working of what is needed.

    `have` may weigh nothing: then only what is needed is told. `typed` are the cups and eggs, by field.
    """

    old: Item
    have: Item
    working: Working
    style: Style
    typed: Mapping[str, str]

    @property
    def needed(self) -> Item:
        """The new liquid that brings the old one's water."""
        return Item(self.have.ingredient, self.working.values()[self.working.answer.key])

    @property
    def is_enough(self) -> bool:
        """Whether there is so much; half a gram is no lack."""
        return not self.have.grams or self.have.grams >= self.needed.grams - 0.5

    @property
    def replaced(self) -> float:
        """Grams of the old liquid with as much water as all that there is of the new one."""
        return self.have.grams * self.have.ingredient.water / self.old.ingredient.water


def result(values: Mapping[str, str]) -> Result:
    """Weigh the one against the other. Raises FieldErrors, with a message for each bad field."""
    style = _as_written(values)
    reader = FieldReader(values, style)
    new, was = known_liquid(reader, "becomes"), known_liquid(reader, "was")
    have, old = reader.item("have", 0.0, new), reader.item("liquid", 0.0, was)
    for name in ("have", "liquid"):
        if units.is_percentage(values.get(name, "")):
            reader.messages[name] = (
                "Write a weight or a measure here, such as 120 g, 1 cup or 2 eggs."
            )
    if not old.grams:
        reader.complain(
            "liquid", "How much does the recipe take? Write such as 120 g, 1 cup or 250 ml."
        )
    reader.finish()
    typed = {name: each.typed for name, each in reader.measured.items()}
    return Result(old, have, swap_working(old, new), style, typed)


def _as_written(values: Mapping[str, str]) -> Style:
    """Answered in ounces where the recipe's weight is written in ounces or pounds."""
    style = style_of(values)
    unit = units.BY_WORD.get(("mass", units.written_unit(values.get("liquid", ""))))
    return replace(style, mass="oz") if unit and unit.symbol in ("oz", "lb") else style


def notes(values: Mapping[str, str], _made: Result) -> Notes:
    """What a cup, a spoon or eggs were taken for, and the measures that a number alone may count."""
    style = _as_written(values)
    reader = FieldReader(values, style)
    reader.item("have", 0.0, known_liquid(reader, "becomes"))
    reader.item("liquid", 0.0, known_liquid(reader, "was"))
    told = {name: each.says(style) for name, each in reader.measured.items()}
    bare = _bare(values)
    read = {name: f"Read as {values[name].strip()} {style.mass}." for name in bare}
    found = {name: measures(values[name].strip(), values[_OF[name]]) for name in bare}
    return read | told, {name: texts for name, texts in found.items() if texts}


# Which field names the liquid that an amount is of.
_OF = {"have": "becomes", "liquid": "was"}


def _bare(values: Mapping[str, str]) -> list[str]:
    """The amounts that are numbers without a unit."""
    return [name for name in _OF if values.get(name, "").strip() and is_bare(values[name])]


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The question as one sentence with four places."""
    liquids = liquid_choices()
    return element(
        "form",
        element(
            "div",
            text_field(prefix, "have", "I have", values["have"], "or leave it blank", kind="mass"),
            choice_field(prefix, "becomes", "of the new liquid", values["becomes"], liquids),
            text_field(prefix, "liquid", "in place of", values["liquid"], "grams, ounces, cups, ml, eggs", kind="mass"),
            choice_field(prefix, "was", "of the old liquid", values["was"], liquids, like="becomes"),
            class_="dw-sentence",
        ),
        folded_style(prefix, values, "Grams or ounces, decimal mark"),
        class_="dw-form",
        novalidate=True,
        aria_label="One liquid in place of another",
    )  # fmt: skip


# The result.


def headline(made: Result) -> str:
    """The answer in one sentence."""
    new, old = made.have.ingredient.name, made.old.ingredient.name
    if made.is_enough:
        return f"Weigh {_weight(made, made.needed.grams)} of {new} in place of {_weight(made, made.old.grams)} of {old}."
    stays = made.old.grams - made.replaced
    return f"Use all {_weight(made, made.have.grams)} of {new}, and keep {_weight(made, stays)} of {the(old)}."


def _sought(made: Result) -> str:
    """The weight that the answer begins with."""
    return _weight(made, (made.needed if made.is_enough else made.have).grams)


def _weight(made: Result, grams: float) -> str:
    return units.write(grams, "mass", made.style)


def result_view(made: Result) -> list[Element]:
    """The answer, what is left or lacking, how sure that is, what rides along, the way on, the picture."""
    shown = [
        *_marks(made),
        answer(headline(made), _sought(made)),
        _stock(made),
        element("p", _bounds(made), class_="dw-bounds"),
        element("p", _along(made)),
        element("p", _rest(made), class_="dw-buttons"),
        element("p", _note(), class_="dw-note"),
        _picture(made),
    ]
    return [each for each in shown if each is not None]


def _picture(made: Result) -> Element:
    """The old liquid, and what takes its place, at one water."""
    old, new = made.old.ingredient, made.have.ingredient
    flour = Item(composition.find("bread-flour"), _flour(made))
    after = [made.needed]
    if not made.is_enough:
        after = [made.have, Item(old, made.old.grams - made.replaced)]
    name = new.name if made.is_enough else f"{new.name} with {old.name}"
    return water_line(
        {
            capital(old.name): Formula((flour, made.old)),
            capital(name): Formula((flour, *after)),
        },
        made.style,
    )


def _stock(made: Result) -> Element | None:
    """What all that there is holds, and what is left of it or lacking."""
    if not made.have.grams:
        return None
    new, old = made.have.ingredient.name, made.old.ingredient.name
    have, water, replaced = (
        _weight(made, grams)
        for grams in (made.have.grams, made.have.grams * made.have.ingredient.water, made.replaced)
    )
    holds = f"{have} of {new} holds {water} of water and takes the place of {replaced} of {old}."
    difference = made.have.grams - made.needed.grams
    if abs(difference) < 0.5:
        return element("p", f"{holds} That is just enough.")
    word = "is left over" if difference > 0 else f"more {new} would take the place of all of it"
    return element("p", f"{holds} {_weight(made, abs(difference))} {word}.")


def _bounds(made: Result) -> str:
    found = made.working.bounds()[made.working.answer.key]
    low, high = (_weight(made, max(0.0, end)) for end in (found.low, found.high))
    if low == high:
        return "That is sure to the nearest unit shown."
    whole = "" if made.is_enough else "For all of it, "
    return (
        f"{whole}{'It' if made.is_enough else 'it'} may need to be anything from {low} to {high}, as products and "
        "measures vary. Hold a little back and go by the dough."
    )


def _along(made: Result) -> str:
    """What the new liquid brings more or less of than the old one it replaces."""
    new, old = made.needed, made.old
    if not made.is_enough:
        new, old = made.have, Item(made.old.ingredient, made.replaced)
    told, unknown = [], []
    for part, name in RIDERS.items():
        shares = [getattr(each.ingredient, part) for each in (old, new)]
        if None in shares:
            unknown.append(name)
            continue
        more = new.grams * shares[1] - old.grams * shares[0]
        if abs(more) >= LEAST_TOLD:
            amount = units.write(abs(more), "mass", made.style, step=0.1)
            told.append(f"{amount} {'more' if more > 0 else 'less'} {name}")
    name = made.old.ingredient.name
    said = f"Against {the(name)}, that is {listed(told)}." if told else _NO_CHANGE
    said += f" Of {listed(unknown)} we know too little to say." if unknown else ""
    return said + _sour(made)


def _sour(made: Result) -> str:
    new, old = made.have.ingredient.ph, made.old.ingredient.ph
    if new is None or old is None or not (new.high < old.low or new.low > old.high):
        return ""
    ends = [write_ph(each, made.style) for each in (new, old)]
    word = "more" if new.high < old.low else "less"
    return (
        f" It is {word} sour: pH {ends[0]}, against {ends[1]} for {the(made.old.ingredient.name)}."
    )


def _marks(made: Result) -> list[Element]:
    """The cautions, each a line that opens."""
    flour = Item(composition.find("bread-flour"), _flour(made))
    before = Formula((flour, made.old))
    after = Formula((flour, made.needed))
    return [_mark(said) for said in cautions(before, after) if said.key in _SHORT]


def _mark(said: Caution) -> Element:
    first, _, rest = said.text.partition(". ")
    summary = element("summary", element("strong", f"{said.title}: "), f"{first.rstrip('.')}.")
    return element("details", summary, element("p", rest or said.text), class_="dw-mark")


def _flour(made: Result) -> float:
    """The flour of an example dough that holds this liquid, in whole grams."""
    return max(1.0, float(round(made.old.grams * made.old.ingredient.water / EXAMPLE_HYDRATION)))


def _rest(made: Result) -> Element:
    """The swap tool, filled in with this question and an example of a dough around it."""

    def written(name: str, item: Item) -> str:
        return made.typed.get(name) or units.write_exact(round(item.grams, 1), "mass", made.style)

    flour = units.write_exact(_flour(made), "mass", made.style)
    fields = dict.fromkeys(onward.ROW_FIELDS, "") | EXAMPLE_ROWS | {
        "flour": flour, "flour-kind": "bread-flour",
        "liquid": written("liquid", made.old), "was": made.old.ingredient.key,
        "becomes": made.have.ingredient.key, "part": "100 %" if made.is_enough else written("have", made.have),
    }  # fmt: skip
    style = {"mass": made.style.mass, "decimal": made.style.decimal}
    link = onward.link(style, onward.SWAP, fields, "Put in the rest of the formula")
    link.set("class", "dw-button")
    return link


def _note() -> str:
    return "The swap page opens with this swap and an example of flour, salt and yeast: write your own over them. It shows the working too."


PART = FormPart("one", fields_of, form, result, result_view, headline, notes)
