"""Form fields of the interactive parts, and reading them back with a message for each."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element

from calc import composition, household, units
from calc.composition import Ingredient
from calc.formula import Item
from calc.household import Measured
from calc.own_ingredient import kind_of
from calc.units import ReadingError, Style
from exercises.publish.html import element

# Beside a field, by its name: how it was read where that may not be what its writer meant, and what else it may be
# meant as, which a press writes there.
Notes = tuple[dict[str, str], dict[str, list[str]]]


class FieldErrors(ValueError):
    """Fields that cannot be read: what is wrong, by field name."""

    def __init__(self, messages: dict[str, str]) -> None:
        super().__init__("; ".join(messages.values()))
        self.messages = messages


def with_defaults(attributes: Mapping[str, str], defaults: Mapping[str, str]) -> dict[str, str]:
    """A form's values: what a lesson's attributes say, and the defaults where they say nothing."""
    return {name: attributes.get(name, default) for name, default in defaults.items()}


# Which of the style's choices names the unit of a number without one, by the number's kind.
UNIT_CHOICES = {"mass": "mass", "temperature": "degrees", "temperature difference": "degrees"}


def text_field(
    prefix: str, name: str, label: str, value: str, help: str = "", kind: str = ""
) -> Element:
    """A labelled text box, with room for a message under it.

    `kind` says what a number alone in it is, where the reader chooses the unit: the page writes
    the unit that it has before another one is chosen.
    """
    return _field(
        prefix,
        name,
        label,
        help,
        element(
            "input",
            id=f"{prefix}-{name}",
            name=name,
            value=value,
            type="text",
            autocomplete="off",
            spellcheck="false",
            inputmode="decimal" if kind == "mass" else "text",
            data_unit_by=UNIT_CHOICES.get(kind),
            aria_describedby=f"{prefix}-{name}-note",
        ),
    )


def choice_field(
    prefix: str,
    name: str,
    label: str,
    value: str,
    choices: Iterable[tuple[str, str, str]],
    help: str = "",
    like: str = "",
) -> Element:
    """A labelled list; `choices` are (value, text, group), grouped where the group changes.

    A list of ingredients says of which kinds they are: the page adds the reader's own to it. A list
    that is `like` another field's holds only what is chosen until the page copies the rest.
    """
    choices = [each for each in choices if not like or each[0] in ("", value)]
    select = element(
        "select",
        id=f"{prefix}-{name}",
        name=name,
        aria_describedby=f"{prefix}-{name}-note",
        data_ingredients=None
        if like
        else _ingredient_kinds([key for key, _, _ in choices if key not in ("", "own")]),
        data_list=f"{prefix}-{like}" if like else None,
    )
    groups: dict[str, Element] = {"": select}
    for key, text, group in choices:
        if group not in groups:
            groups[group] = element("optgroup", label=group)
            select.append(groups[group])
        groups[group].append(element("option", text, value=key, selected=key == value))
    return _field(prefix, name, label, help, select)


def check_box(prefix: str, name: str, label: str, checked: bool) -> Element:
    """A box to tick; its field is ``yes`` when ticked and missing when not."""
    box = element(
        "input", type="checkbox", name=name, value="yes", id=f"{prefix}-{name}", checked=checked
    )
    return element("label", box, f" {label}", for_=f"{prefix}-{name}", class_="dw-box")


def _ingredient_kinds(keys: list[str]) -> str | None:
    """The kinds of the ingredients in a list; None when it lists anything else."""
    if not keys or any(key not in composition.table() for key in keys):
        return None
    return " ".join(sorted({kind_of(composition.table()[key]) for key in keys}))


def _field(prefix: str, name: str, label: str, help: str, control: Element) -> Element:
    note = element("span", help, class_="dw-note", id=f"{prefix}-{name}-note")
    return element(
        "div",
        element("label", label, for_=f"{prefix}-{name}"),
        control,
        note,
        complaint(name),
        class_="dw-field",
    )


def complaint(name: str) -> Element:
    """Where it is said what is wrong with a field, or how it was read."""
    return element("span", class_="dw-complaint", data_for=name)


def in_cell(field: Element) -> Element:
    """A field in a table: the column heads it, so its label is only heard; what is said of it is elsewhere."""
    label, control, note, said = field
    label.set("class", "dw-hidden")
    del control.attrib["aria-describedby"]
    field.remove(note)
    field.remove(said)
    return field


def form_with_result(form: Element, result: list[Element], headline: str) -> list[Element]:
    """A form, its result beside it (below it where there is no room), and the line that is announced."""
    output = element("div", *result, class_="dw-output", data_output=True)
    form.append(_buttons())
    return [
        element("div", form, output, class_="dw-beside"),
        element("p", headline, class_="dw-status", role="status"),
    ]


# What form-part.js does when a button is pressed, and what is on it.
ACTS = {
    "link": "Copy a link to this",
    "print": "Print this sheet",
    "again": "Start again",
    "undo": "Undo",
}


def _buttons() -> Element:
    """What one may do with any form. They have their room before the page's script hears them (style.css)."""
    return element(
        "div",
        *(
            element("button", text, type="button", class_="dw-button dw-quiet", data_bar=act)
            for act, text in ACTS.items()
        ),
        element("span", class_="dw-did", role="status"),
        class_="dw-buttons",
        data_form_acts=True,
    )


def quiet_button(text: str, action: str, **more: object) -> Element:
    """A button that does what the part's script knows by this name; it has its room before the script hears it."""
    return element(
        "button", text, type="button", class_="dw-button dw-quiet", data_action=action, **more
    )


def answer(sentence: str, number: str = "") -> Element:
    """What a result says first; the number in it that is weighed, warmed or mixed is seen from afar."""
    start, there, end = sentence.partition(number) if number else (sentence, "", "")
    return element(
        "p",
        start,
        element("strong", there, class_="dw-number") if there else None,
        end,
        class_="dw-answer",
    )


def style_fields(
    prefix: str, values: Mapping[str, str], temperature: bool = False
) -> list[Element]:
    """How the reader wants numbers: grams or ounces, decimal point or comma, degrees."""
    made = [
        choice_field(
            prefix,
            "mass",
            "Weights in",
            values.get("mass", "g"),
            [("g", "grams", ""), ("oz", "ounces", "")],
        ),
        choice_field(
            prefix,
            "decimal",
            "Decimal mark",
            values.get("decimal", "."),
            [(".", "point: 4.5", ""), (",", "comma: 4,5", "")],
        ),
    ]
    if temperature:
        made.append(
            choice_field(
                prefix,
                "degrees",
                "Temperatures in",
                values.get("degrees", "°C"),
                [("°C", "°C", ""), ("°F", "°F", "")],
            )
        )
    return made


def folded_style(
    prefix: str, values: Mapping[str, str], summary: str, *more: Element, temperature: bool = False
) -> Element:
    """How the reader wants numbers, and `more` fields, folded away."""
    row = element("div", *style_fields(prefix, values, temperature), *more, class_="dw-row")
    return element("details", element("summary", summary), row)


def style_of(values: Mapping[str, str]) -> Style:
    """The style the reader chose; grams, °C and the point where nothing valid was chosen."""

    def chosen(name: str, allowed: tuple[str, ...]) -> str:
        value = values.get(name, "")
        return value if value in allowed else allowed[0]

    return Style(
        chosen("decimal", (".", ",")), chosen("mass", ("g", "oz")), chosen("degrees", ("°C", "°F"))
    )


@dataclass(frozen=True)
class Scale:
    """A reader's scale by its step, as a list offers it: ``1 g``, ``1/4 oz``."""

    name: str

    @property
    def step(self) -> float:
        """In grams."""
        return units.read(self.name, "mass").value

    def named(self, style: Style) -> str:
        """The step in the scale's own unit, with the reader's decimal mark."""
        return self.name.replace(".", style.decimal)

    def shows(self, grams: float, style: Style) -> str:
        """A weight as this scale shows it; in the other unit, as such scales usually do."""
        if units.written_unit(self.name) != style.mass:
            return units.write(grams, "mass", style)
        if style.mass == "g":
            return units.write(grams, "mass", style, step=self.step)
        steps = math.floor(grams / self.step + 0.5 + 1e-9)
        return units.write_exact(steps * self.step, "mass", style)


# No bakery mixes more at once: 10 tonnes, in grams.
HEAVIEST = 10_000_000


@dataclass
class FieldReader:
    """Reads fields one by one and gathers the messages, so that all are told at once.

    `measured` holds what was read as a cup, a spoon or eggs, by field.
    """

    values: Mapping[str, str]
    style: Style
    messages: dict[str, str] = field(default_factory=dict)
    measured: dict[str, Measured] = field(default_factory=dict)

    def share(self, name: str, low: float, high: float) -> float:
        """A percentage of more than `low`, at most `high` (fractions); 0 where it cannot be read."""
        try:
            value = units.read(self.values.get(name, ""), "share").value
        except ReadingError as error:
            self.messages[name] = str(error)
            return 0.0
        if not low < value <= high:
            ends = (units.write_exact(end, "share", self.style) for end in (low, high))
            self.messages[name] = "Write a percentage above {} and at most {}.".format(*ends)
        return value

    def item(self, name: str, flour: float, ingredient: Ingredient) -> Item:
        """An ingredient with the weight in a field; a cup, a spoon or eggs of it fit too."""
        grams = self.amount(name, flour, ingredient)
        measured = self.measured.get(name)
        return Item(ingredient, grams, measured.bounds if measured else None)

    def amount(self, name: str, flour: float, ingredient: Ingredient | None = None) -> float:
        """A weight in grams: as such, or as a percentage of the flour. Blank is nothing.

        Of a named ingredient, it may be a measure: 250 ml, 1 cup, 2 eggs (`calc.household`).
        """
        text = self.values.get(name, "").strip()
        if not text:
            return 0.0
        if ingredient and household.is_measure(text):
            return self._measure(name, text, ingredient)
        kind = "share" if units.is_percentage(text) else "mass"
        try:
            value = units.read(text, kind, self.style.mass).value
        except ReadingError as error:
            percentage = " A percentage of the flour fits too." if flour and kind == "mass" else ""
            self.messages[name] = f"{error}{percentage}"
            return 0.0
        if value < 0:
            self.messages[name] = "A weight cannot be less than nothing. Leave the minus sign out."
            return 0.0
        return self._light(name, value * flour if kind == "share" else value)

    def _measure(self, name: str, text: str, ingredient: Ingredient) -> float:
        try:
            read = household.read(text, ingredient)
        except ReadingError as error:
            self.messages[name] = str(error)
            return 0.0
        grams = self._light(name, read.grams)
        if grams:
            self.measured[name] = read
        return grams

    def _light(self, name: str, grams: float) -> float:
        if grams <= HEAVIEST:
            return grams
        self.messages[name] = "That is more than 10 tonnes. Look at the number and its unit again."
        return 0.0

    def quantity(self, name: str, kind: str, low: float, high: float) -> float:
        """A quantity of any kind, from `low` to `high` (calc's unit); `low` where it cannot be read."""
        unit = self.style.unit(kind)
        try:
            value = units.read(self.values.get(name, ""), kind, unit.symbol if unit else None).value
        except ReadingError as error:
            self.messages[name] = str(error)
            return low
        if not low <= value <= high:
            ends = (units.write_exact(end, kind, self.style) for end in (low, high))
            self.messages[name] = "Write something from {} to {}.".format(*ends)
            return low
        return value

    def complain(self, name: str, message: str) -> None:
        self.messages.setdefault(name, message)

    def finish(self) -> None:
        """Raises FieldErrors when any field could not be read."""
        if self.messages:
            raise FieldErrors(self.messages)
