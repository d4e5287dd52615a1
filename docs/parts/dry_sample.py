"""Dry a sample: its weights before and after the oven in, its water content out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.drying import DryingError, drying_working, is_constant
from calc.interval import Interval
from calc.units import Style
from calc.working import Working
from docs.parts import python_cell, worked_example
from docs.parts.shared.fields import (
    FieldErrors,
    FieldReader,
    choice_field,
    folded_style,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.water_found import sentence, swap_link
from exercises.publish.html import element

DEFAULTS = {
    "dish": "50.2 g", "before": "70.4 g", "after": "52.3 g", "again": "52.3 g", "scale": "0.1 g",
    "mass": "g", "decimal": ".",
}  # fmt: skip
SCALES = ("0.01 g", "0.1 g", "1 g", "2 g", "5 g", "0.05 oz", "0.1 oz", "1/4 oz")
HEAVIEST = 100_000.0


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes."""
    return with_defaults(attributes, DEFAULTS)


@dataclass(frozen=True)
class Result:
    """The weights in grams (`after` is the last weighing) and the working from them."""

    dish: float
    before: float
    after: float
    steady: bool | None
    scale: float
    working: Working
    style: Style

    @property
    def water(self) -> float:
        return self.working.values()["water"]

    @property
    def bounds(self) -> Interval:
        found = self.working.bounds()["water"]
        return Interval(max(0.0, found.low), min(1.0, found.high))


def result(values: Mapping[str, str]) -> Result:
    """Compute the water. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    blank = {name: not values.get(name, "").strip() for name in ("dish", "again")}
    dish = 0.0 if blank["dish"] else reader.quantity("dish", "mass", 0.0, HEAVIEST)
    before = reader.quantity("before", "mass", 0.0, HEAVIEST)
    after = reader.quantity("after", "mass", 0.0, HEAVIEST)
    again = after if blank["again"] else reader.quantity("again", "mass", 0.0, HEAVIEST)
    if values.get("scale") not in SCALES:
        reader.complain("scale", "Choose the step of your scale from the list.")
    reader.finish()
    scale = units.read(values["scale"], "mass").value
    try:
        working = drying_working(before, again, dish, scale)
    except DryingError as error:
        name = "again" if error.field == "after" and not blank["again"] else error.field
        raise FieldErrors({name: str(error)}) from None
    steady = None if blank["again"] else is_constant(again, after, scale)
    return Result(dish, before, again, steady, scale, working, style)


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""
    return element(
        "form",
        element(
            "fieldset",
            element("legend", "The weights"),
            element(
                "div",
                text_field(
                    prefix,
                    "dish",
                    "Empty dish",
                    values["dish"],
                    "blank if you weigh without it",
                    "mass",
                ),
                text_field(
                    prefix, "before", "Dish with fresh sample", values["before"], kind="mass"
                ),
                class_="dw-row",
            ),
            element(
                "div",
                text_field(prefix, "after", "Dish with dry sample", values["after"], kind="mass"),
                text_field(
                    prefix,
                    "again",
                    "The same, half an hour later",
                    values["again"],
                    "may be blank",
                    "mass",
                ),
                class_="dw-row",
            ),
            element(
                "div",
                choice_field(
                    prefix,
                    "scale",
                    "My scale shows",
                    values["scale"],
                    [(step, f"steps of {step}", "") for step in SCALES],
                ),
                class_="dw-row",
            ),
        ),
        folded_style(prefix, values, "Grams or ounces, decimal mark"),
        class_="dw-form",
        novalidate=True,
        aria_label="Dry a sample",
    )


def headline(made: Result) -> str:
    """The water content and its bounds in one sentence."""
    return sentence(made.water, made.bounds, made.style)


_STEADY = {
    None: "Weigh it again after half an hour more: it is dry when the weight no longer changes.",
    False: "The weight still changes: the sample is not dry yet. Dry it longer and weigh again.",
    True: "The weight no longer changes, so the sample is dry.",
}


def result_view(made: Result) -> list[Element]:
    """Whether the sample is dry, the answer, the link to the swap, and the working."""
    steady = element("p", _STEADY[made.steady], class_=None if made.steady else "dw-caution")
    return [
        steady,
        element("p", headline(made), class_="dw-answer"),
        element(
            "p",
            "The bounds come from the scale: each weight can be half a step off. "
            "A larger sample or a finer scale brings them closer.",
            class_="dw-bounds",
        ),
        *filter(None, [swap_link(made.water, made.bounds)]),
        element(
            "details",
            element("summary", "The working, step by step"),
            worked_example.given_list(made.working, made.style),
            worked_example.steps(made.working, made.style),
            open=True,
        ),
        python_cell.folded(python_of(made)),
    ]


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    return f"""from calc.drying import drying_working

dried = drying_working(before={made.before:.8g}, after={made.after:.8g}, dish={made.dish:.8g}, scale={made.scale:.9g})
for step in dried.steps:
    print(step, "=", dried.sentence(step))
print("bounds:", dried.bounds()["water"])
"""


PART = FormPart("dry", fields_of, form, result, result_view, headline)
