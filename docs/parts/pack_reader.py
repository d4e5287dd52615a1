"""Read the pack: a nutrition panel in, the water content out, with bounds and working."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode
from xml.etree.ElementTree import Element

from calc import pack_kinds, units
from calc.composition import OWN_LIQUID, SALT_PER_SODIUM, Ingredient
from calc.interval import Interval
from calc.label import BASES, Basis, Panel, PanelError, WaterContent, read_panel, water_content
from calc.own_ingredient import DENSITIES, STATED_PARTS
from calc.panel_doubts import Doubt, doubts
from calc.panel_energy import Energy, read_energy, suspects
from calc.panel_figures import is_not_said
from calc.panel_text import LONGEST_PASTE, PanelText, read_text
from calc.units import ReadingError, Style
from docs.parts import composition_bars, python_cell, worked_example
from docs.parts.shared.fields import (
    FieldErrors,
    Notes,
    choice_field,
    style_fields,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.water_found import sentence, swap_link, water_in_100_g
from exercises.publish.html import Child, element, table

# The example is a made-up pack: plain yogurt, as each kind of panel prints it. It has no energy: that
# would not fit what a reader types over it.
EXAMPLES = {
    "us": {
        "serving": "1 cup (240 g)", "energy": "", "fat": "8 g", "carbohydrate": "11 g", "fibre": "0 g",
        "sugars": "11 g", "protein": "8 g", "sodium": "110 mg", "salt": "",
    },
    "eu-g": {
        "serving": "", "energy": "", "fat": "3.3 g", "carbohydrate": "4.6 g", "fibre": "<0.5 g",
        "sugars": "4.6 g", "protein": "3.3 g", "sodium": "", "salt": "0.11 g",
    },
    "eu-ml": {
        "serving": "", "energy": "", "fat": "3.4 g", "carbohydrate": "4.7 g", "fibre": "<0.5 g",
        "sugars": "4.7 g", "protein": "3.4 g", "sodium": "", "salt": "0.12 g",
    },
}  # fmt: skip
DEFAULTS = {
    "panel": "us", "kind": "cultured", **EXAMPLES["us"], "alcohol": "", "density": "", "decimal": ".",
}  # fmt: skip
PRINTED = (
    "serving", "fat", "carbohydrate", "fibre", "sugars", "protein", "sodium", "salt", "alcohol",
    "density",
)  # fmt: skip
# A text that holds fewer figures than this is no panel.
FEWEST_FIGURES = 2


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes."""
    return with_defaults(attributes, DEFAULTS)


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """A panel, the water read from it, its energy if it was given, and how the reader wants numbers."""

    panel: Panel
    found: WaterContent
    energy: Energy | None
    style: Style

    @property
    def doubts(self) -> list[Doubt]:
        return doubts(self.panel, self.found, self.energy, self.style)


def result(values: Mapping[str, str]) -> Result:
    """Read the panel. Raises FieldErrors, with a message for each field that stops it."""
    basis = BASES.get(values.get("panel", ""))
    if basis is None:
        raise FieldErrors({"panel": "Choose where the pack is from."})
    kind = pack_kinds.find(values.get("kind", ""))
    if kind is None:
        raise FieldErrors({"kind": "Choose a kind of food from the list."})
    energy, messages = _energy(values.get("energy", ""), basis)
    unused = "salt" if basis.salt == "sodium" else "sodium"
    printed = {name: values.get(name, "") for name in PRINTED if name != unused}
    try:
        panel = read_panel(basis.key, kind, **printed)
    except PanelError as error:
        raise FieldErrors(messages | _at_the_likeliest(error, energy)) from None
    if messages:
        raise FieldErrors(messages)
    return Result(panel, water_content(panel), energy, style_of(values))


def _energy(text: str, basis: Basis) -> tuple[Energy | None, dict[str, str]]:
    """The energy, where there is one, and a message where it cannot be read."""
    if is_not_said(text):
        return None, {}
    try:
        return read_energy(text, us=not basis.fibre_apart), {}
    except ReadingError as error:
        return None, {"energy": str(error)}


def _at_the_likeliest(error: PanelError, energy: Energy | None) -> dict[str, str]:
    """The messages; what is impossible as a whole, at the figure that the energy points to."""
    if error.panel is None or energy is None:
        return error.messages
    tried = suspects(error.panel, energy)
    if not tried or tried[0].field in error.messages:
        return error.messages
    return {tried[0].field: " ".join(error.messages.values())}


def notes(_values: Mapping[str, str], made: Result) -> Notes:
    """What is shown beside a field: how it was read, or that it may hold a slip."""
    slips = {
        doubt.field: "Look at this figure: see the result."
        for doubt in made.doubts
        if doubt.serious
    }
    return made.panel.remarks | slips, {}


# A panel pasted as text.


def pasted(text: str) -> dict[str, object]:
    """The answer to a pasted panel: the form's new values, and what became of the rest of the text."""
    found = read_text(text)
    figures = len(found.fields)
    if figures < FEWEST_FIGURES:
        says = "This text holds no panel that can be read. Paste the lines with fat, carbohydrate, protein."
        return {"elements": [element("p", says)], "says": says, "values": {}}
    blank = dict.fromkeys((*EXAMPLES["us"], "alcohol"), "")
    values = blank | found.fields | ({"panel": found.basis} if found.basis else {})
    says = f"{figures} fields are filled in. Choose the kind of food, and compare each figure with the pack."
    return {"elements": [element("p", says), *_left_over(found)], "says": says, "values": values}


def _left_over(found: PanelText) -> list[Element]:
    parts = (
        ("Not understood", found.not_understood),
        ("Not needed for the water", found.not_needed),
    )
    return [
        element("p", element("strong", f"{title}: "), " · ".join(pieces), class_="dw-note")
        for title, pieces in parts
        if pieces
    ]


# The form.


# What a pack prints, row by row: the field, its title, what to write, and of which panels alone it is.
ROWS = (
    (
        ("serving", "One serving", "such as 1 cup (240 g)", "dw-us-only"),
        ("energy", "Energy", "calories or kJ: finds a slip; may be blank", ""),
        ("fat", "Total fat", "also “<0.5 g” or “trace”", ""),
    ),
    (
        ("carbohydrate", "Carbohydrate", "also “less than 1 g”", ""),
        ("fibre", "Fibre", "may be blank", ""),
        ("sugars", "Sugars", "only a check; may be blank", ""),
    ),
    (
        ("protein", "Protein", "", ""),
        ("sodium", "Sodium", "in mg", "dw-us-only"),
        ("salt", "Salt", "in g", "dw-eu-only"),
    ),
    (
        ("alcohol", "Alcohol", "% vol or proof; blank if none", ""),
        ("density", "Density", "such as 1.03 g/ml; may be blank", ""),
    ),
)


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in. Its class says which fields the chosen panel has."""
    return element(
        "form",
        _paste_box(prefix),
        element(
            "fieldset", element("legend", "The pack", class_="dw-hidden"), _the_pack(values, prefix)
        ),
        element(
            "fieldset",
            element("legend", "What it prints"),
            *(_row(values, prefix, row) for row in ROWS),
        ),
        element(
            "details",
            element("summary", "Decimal mark"),
            element("div", style_fields(prefix, values)[1], class_="dw-row"),
        ),
        class_="dw-form" + (" dw-us" if values["panel"] == "us" else ""),
        novalidate=True,
        aria_label="Read the pack",
        data_examples=json.dumps(EXAMPLES),
    )


def _the_pack(values: Mapping[str, str], prefix: str) -> Element:
    """Where the pack is from, and what is in it."""
    panels = [(basis.key, basis.name, "") for basis in BASES.values()]
    kinds = [(kind.key, kind.name, "") for kind in pack_kinds.kinds().values()]
    why = "for what no pack prints: minerals, acid"
    return element(
        "div",
        choice_field(prefix, "panel", "Panel", values["panel"], panels),
        choice_field(prefix, "kind", "Kind of food", values["kind"], kinds, why),
        class_="dw-row",
    )


def _row(
    values: Mapping[str, str], prefix: str, row: tuple[tuple[str, str, str, str], ...]
) -> Element:
    fields = []
    for name, title, help, of_panels in row:
        made = text_field(prefix, name, title, values[name], help)
        made.set("class", f"{made.get('class')} {of_panels}".strip())
        fields.append(made)
    return element("div", *fields, class_="dw-row")


def _paste_box(prefix: str) -> Element:
    """A place for the whole panel as text. It has no name: it is no part of the panel."""
    box = f"{prefix}-paste"
    return element(
        "details",
        element("summary", "Paste the panel’s text"),
        element("label", "The panel as text, US or EU", for_=box),
        element(
            "textarea",
            id=box,
            rows=6,
            maxlength=LONGEST_PASTE,
            spellcheck="false",
            autocomplete="off",
            class_="dw-code",
            aria_describedby=f"{box}-note",
        ),
        element(
            "p",
            "From a shop’s page, or from your phone’s reading of a photograph. It fills the fields below.",
            class_="dw-note",
            id=f"{box}-note",
        ),
        element(
            "button",
            "Fill in the fields",
            type="button",
            class_="dw-button dw-quiet",
            data_paste=True,
        ),
        element("div", data_pasted=True),
        class_="dw-paste",
    )


# The result.


def headline(made: Result) -> str:
    """The water content and its bounds in one sentence."""
    return sentence(made.found.value, made.found.bounds, made.style)


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the answer, the picture, what each figure may have been, the working."""
    serious = [doubt for doubt in made.doubts if doubt.serious]
    others = [doubt for doubt in made.doubts if not doubt.serious]
    return [
        _caution("Allergens: ", ALLERGENS),
        *(_caution(doubt.title, doubt.says) for doubt in serious),
        element("p", headline(made), class_="dw-answer"),
        *(
            element("p", element("strong", doubt.title), doubt.says, class_="dw-bounds")
            for doubt in others
        ),
        *filter(None, [swap_link(made.found.value, made.found.bounds)]),
        _keep_link(made),
        element(
            "div",
            composition_bars.legend(),
            composition_bars.bars([_food(made)]),
            class_="dw-picture",
        ),
        _doubts(made),
        element(
            "details",
            element("summary", "The working, step by step"),
            worked_example.given_list(made.found.working, made.style),
            worked_example.steps(made.found.working, made.style),
            open=True,
        ),
        python_cell.folded(python_of(made)),
    ]


ALLERGENS = (
    "this page does not know them. They are on the pack: read its list of ingredients, "
    "tell everyone who will eat this, and follow your local allergen rules."
)


def _caution(title: str, says: str) -> Element:
    return element("p", element("strong", title), says, class_="dw-caution", role="note")


def _keep_link(made: Result) -> Element:
    """A link that opens the form for one's own ingredients with the panel's figures, in 100 g."""
    values = made.found.working.values()
    grams = {name: 100 * values[name] / values["amount"] for name in STATED_PARTS if name in values}
    grams["carbohydrate"] += 100 * values.get("fibre", 0.0) / values["amount"]
    sugars = made.panel.figures.get("sugars")
    if sugars is not None:
        grams["sugars"] = 100 * sugars.value / values["amount"]
    grams |= water_in_100_g(made.found.value, made.found.bounds)
    query = {
        name: units.write_exact(round(value, 2), "mass", made.style)
        for name, value in grams.items()
    }
    density = made.panel.density
    if density:
        ends = (density.value, density.range.low, density.range.high)
        query |= {
            name: f"{value:.3f}".replace(".", made.style.decimal)
            for name, value in zip(DENSITIES, ends, strict=True)
        }
    link = element("a", "Keep it as my ingredient", data_site=f"ingredients/?{urlencode(query)}")
    return element(
        "p", link, ", with its fat, sugars and salt, for every tool of this site.", class_="dw-note"
    )


def _food(made: Result) -> Ingredient:
    """What the pack says of 100 g, for the picture."""
    values = made.found.working.values()
    shares = {
        name: values[name] / values["amount"]
        for name in ("fat", "protein", "carbohydrate", "fibre")
        if name in values
    }
    shares["carbohydrate"] += shares.pop("fibre", 0.0)
    return Ingredient(
        "pack", "your pack", OWN_LIQUID, made.found.value, made.found.bounds, **shares
    )


def _doubts(made: Result) -> Element:
    """What each figure may have been before it was rounded, and the doubt it adds."""
    working, style = made.found.working, made.style
    amount = working.values()["amount"]
    rows: list[list[Child]] = []
    for given in working.givens.values():
        if given.key == "pure alcohol":
            continue
        ends = [
            _exactly(end, given.kind, style) for end in (given.interval.low, given.interval.high)
        ]
        # A figure in grams moves the water by its share of the weight, salt by 2.5 times sodium.
        doubt = "–"
        if given.kind == "mass" and given.key != "amount":
            times = SALT_PER_SODIUM if given.key == "sodium" else 1.0
            doubt = _points(given.interval, times / amount, style)
        elif given.key in ("minerals", "acid"):
            doubt = _points(given.interval, 1.0, style)
        between = element("span", ends[0], element("small", f"to {ends[1]}"))
        rows.append([given.label, between, doubt])
    return element(
        "details",
        element("summary", "What each figure may have been before rounding"),
        table(
            "Each range, and what it adds to the doubt",
            ["Figure", "May have been", "Adds"],
            rows,
            "dw-figures",
        ),
    )


def _exactly(value: float, kind: str, style: Style) -> str:
    if kind == "share":
        return units.write(value, kind, style, step=0.0001)
    return units.write_exact(round(value, 6) + 0.0, kind, style)


def _points(interval: Interval, times: float, style: Style) -> str:
    return units.write(interval.width * times, "share", style, step=0.0001)


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    printed = "".join(f"\n    {name}={text!r}," for name, text in made.panel.printed.items())
    return f"""from calc.label import read_panel, water_content

pack = read_panel(
    {made.panel.basis.key!r}, {made.panel.kind.key!r},{printed}
)
found = water_content(pack)
print("water:", found.value, "bounds:", found.bounds)
for step in found.working.steps:
    print(step, "=", found.working.sentence(step))
"""


class PackReader(FormPart):
    """A form with a result, which also takes a panel's text apart."""

    def respond(self, values: Mapping[str, str]) -> dict[str, object]:
        if "pasted" in values:
            return pasted(values["pasted"])
        return super().respond(values)


PART = PackReader("pack", fields_of, form, result, result_view, headline, notes)
