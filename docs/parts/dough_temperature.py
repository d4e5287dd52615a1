"""Dough temperature: how warm the liquid must be, how much ice, or what to warm instead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.cautions import cold_rule, raw
from calc.formula import Formula, FormulaError, Item
from calc.interval import Interval
from calc.temperature import (
    BOWL,
    COLDEST_SOLID,
    FACTORS,
    Part,
    Plan,
    balance,
    frozen_name,
    movable,
    plan,
    warmest,
    water_temperature,
)
from calc.units import Style
from calc.working import Working
from docs.parts import python_cell, worked_example
from docs.parts.shared import onward
from docs.parts.shared.caution_list import borne_list, must_make_bread
from docs.parts.shared.fields import (
    FieldErrors,
    FieldReader,
    choice_field,
    style_fields,
    style_of,
    text_field,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import formula_fields, formula_fieldset, read_formula, remarks
from exercises.publish.html import element, table

DEFAULTS = {
    "wanted": "26 °C", "friction": "4 °C", "flour-at": "20 °C", "room-at": "21 °C",
    "liquid-at": "12 °C", "liquid-may": "free", "tap-at": "15 °C", "cold-at": "5 °C", "bowl": "",
    "ice-at": "−18 °C", "mass": "g", "decimal": ".", "degrees": "°C",
}  # fmt: skip
MAY = [("free", "warmed, cooled or iced", ""), ("fixed", "not at all", "")]
# The thermometer is taken to show whole degrees.
THERMOMETER = 1.0


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes."""
    own = {name: attributes.get(name, default) for name, default in DEFAULTS.items()}
    return formula_fields(attributes) | own


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """What the form asked for: the parts as they stand, the plan, and the short rule beside it."""

    parts: tuple[Part, ...]
    plan: Plan
    wanted: float
    friction: float
    ice: float
    rule: Working
    style: Style


def result(values: Mapping[str, str]) -> Result:
    """Compute the plan. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    items, _ = read_formula(reader)
    wanted = reader.quantity("wanted", "temperature", 5, 45)
    friction = reader.quantity("friction", "temperature difference", 0, 30)
    flour = reader.quantity("flour-at", "temperature", -20, 45)
    room = reader.quantity("room-at", "temperature", 0, 45)
    liquid = reader.quantity("liquid-at", "temperature", -40, 90)
    if liquid < 0:
        reader.complain(
            "liquid-at",
            "A liquid colder than 0 °C is ice. Write 0 °C or more; the ice is worked out for you.",
        )
    kitchen = Kitchen(
        flour,
        room,
        max(liquid, 0.0),
        values.get("liquid-may") != "fixed",
        reader.quantity("tap-at", "temperature", 0, 45),
        reader.quantity("cold-at", "temperature", 0, 15),
        reader.amount("bowl", 0.0),
    )
    ice = reader.quantity("ice-at", "temperature", -40, 0)
    reader.finish()
    must_make_bread(values, Formula(tuple(items)))
    parts = tuple(kitchen.parts(items))
    try:
        made = plan(parts, wanted, friction, ice, THERMOMETER)
    except FormulaError as error:
        raise FieldErrors({"wanted": str(error)}) from None
    rule = water_temperature(wanted, flour, room, FACTORS * friction)
    return Result(parts, made, wanted, friction, ice, rule, style)


@dataclass(frozen=True)
class Kitchen:
    """How warm things stand (°C), whether the liquid may change, and the bowl's weight (g)."""

    flour: float
    room: float
    liquid: float
    liquid_is_free: bool
    tap: float
    cold: float
    bowl: float

    def parts(self, items: list[Item]) -> list[Part]:
        """The formula's items as parts, each at its temperature and free to what is sensible."""
        found = [self._part(place, item) for place, item in enumerate(items) if item.grams]
        if self.bowl:
            found.append(_solid(Part(BOWL, self.bowl, self.room)))
        return found

    def _part(self, place: int, item: Item) -> Part:
        ingredient, grams = item.ingredient, item.grams
        if ingredient.is_flour:
            return _solid(Part(ingredient, grams, self.flour))
        if place == 1:
            stands = Part(ingredient, grams, self.liquid)
            return movable(stands, self.liquid) if self.liquid_is_free else stands
        # Bakers let butter soften.
        if ingredient.perishable and ingredient.group != "fat":
            return Part(ingredient, grams, self.cold)
        if ingredient.is_liquid:
            return movable(Part(ingredient, grams, self.tap), self.tap)
        return Part(ingredient, grams, self.room)


def _solid(part: Part) -> Part:
    """Flour or bowl: as cold as the refrigerator makes it, or as it stands if that is colder."""
    return movable(part, min(part.celsius, COLDEST_SOLID))


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""

    def field(name: str, label: str, help: str = "", kind: str = "temperature") -> Element:
        return text_field(prefix, name, label, values[name], help, kind)

    return element(
        "form",
        element(
            "fieldset",
            element("legend", "Temperatures"),
            element(
                "div",
                field("wanted", "Wanted dough temperature"),
                field(
                    "friction", "Rise by mixing",
                    f"by hand {_rise(1, 3)}, by machine often {_rise(4, 12)}",
                    "temperature difference",
                ),
                field("flour-at", "Flour"),
                field("room-at", "Room"),
                field("liquid-at", "Liquid, as it stands"),
                choice_field(
                    prefix, "liquid-may", "The liquid may be", values["liquid-may"], MAY
                ),
                class_="dw-row",
            ),
            element(
                "details",
                element("summary", "Tap, refrigerator, ice, bowl"),
                element(
                    "div",
                    field("tap-at", "Tap water", "and other liquids that stand with it"),
                    field("cold-at", "Refrigerator", "for egg, milk and the like"),
                    field("ice-at", "Ice"),
                    field("bowl", "Steel bowl’s weight (may be blank)", "counts at room temperature", "mass"),
                    class_="dw-row",
                ),
            ),
        ),
        formula_fieldset(values, prefix, "Liquid"),
        element(
            "details",
            element("summary", "Grams or ounces, decimal mark, °C or °F"),
            element("div", *style_fields(prefix, values, temperature=True), class_="dw-row"),
        ),
        class_="dw-form",
        novalidate=True,
        aria_label="Dough temperature",
    )  # fmt: skip


def _rise(low: float, high: float) -> str:
    """A rise in both units: the form is drawn before the reader chooses one."""

    def ends(style: Style) -> str:
        kind = "temperature difference"
        return f"{units.digits(low / style.unit(kind).factor, 1, style)} to {units.write(high, kind, style, step=style.unit(kind).factor)}"

    return f"{ends(Style())} ({ends(Style(temperature='°F'))})"


# The result.


def headline(made: Result) -> str:
    """What to do, in one or two sentences."""
    steps = [_deed(made, number) for number in made.plan.changed]
    if made.plan.enough:
        return " ".join(steps)
    return (
        f"This dough cannot come to {_degrees(made.wanted, made)}. "
        f"Even so it comes to {_degrees(made.plan.reached, made)}: {' '.join(steps)}"
    )


def _deed(made: Result, number: int) -> str:
    part, before = made.plan.parts[number], made.parts[number]
    name, target = part.ingredient.name, _degrees(part.celsius, made)
    if number == made.plan.iced:
        rest = part.grams - made.plan.ice
        others = f", and {_mass(rest, made)} at {target}" if rest >= 0.5 else ""
        return f"Weigh {_mass(made.plan.ice, made)} as {frozen_name(part.ingredient)}{others}."
    if part.is_liquid:
        return f"Have the {name} at {target}."
    verb = "Warm" if part.celsius > before.celsius else "Chill"
    return f"{verb} the {name} to {target}."


def result_view(made: Result) -> list[Element]:
    """Cautions first, then what to do, the list of what goes in, the short rule, the working."""
    shown = [
        *_cautions(made),
        element("p", headline(made), class_="dw-answer"),
        *_limits(made),
        _instead(made),
        _bounds(made),
        _sheet(made),
        _rule(made),
        element(
            "details",
            element("summary", "The working, step by step"),
            element("p", "The working counts in grams and °C, whichever units you chose."),
            worked_example.given_list(made.plan.working, _si(made.style)),
            worked_example.steps(made.plan.working, _si(made.style)),
        ),
        python_cell.folded(python_of(made)),
    ]
    return [each for each in shown if each is not None]


def _si(style: Style) -> Style:
    """Joules, grams and kelvins belong together; only the decimal mark is the reader's."""
    return Style(style.decimal)


def _degrees(celsius: float, made: Result) -> str:
    return units.write(celsius, "temperature", made.style)


def _mass(grams: float, made: Result) -> str:
    return units.write(grams, "mass", made.style)


def _caution(title: str, text: str) -> Element:
    return element("p", element("strong", f"{title}: "), text, class_="dw-caution", role="note")


def _cautions(made: Result) -> list[Element]:
    said = borne_list(Formula(tuple(Item(p.ingredient, p.grams) for p in _dough_parts(made))))
    perishable = [p.ingredient.name for p in made.parts if p.ingredient.perishable]
    if perishable:
        said.append(
            _caution(
                "Keep it cold until you mix",
                f"{', '.join(perishable)} can spoil. Warm only what you mix now, gently, and mix at once. "
                + cold_rule(lambda celsius: _degrees(celsius, made)),
            )
        )
    said.append(
        _caution(
            "Do not taste raw dough",
            f"{raw(part.ingredient for part in made.parts)} may carry germs. Liquid or a bowl that feels hot burns: test it first.",
        )
    )
    return said


def _limits(made: Result) -> list[Element]:
    """Why a part was warmed no further; common practice, and said to be."""
    said = []
    for number in made.plan.changed:
        part = made.plan.parts[number]
        if part.may and part.celsius == part.may.high == warmest(part.ingredient).celsius:
            said.append(
                element(
                    "p",
                    f"No warmer than {_degrees(part.celsius, made)} for the {part.ingredient.name}: "
                    f"{warmest(part.ingredient).why}. This is common practice, without a source.",
                )
            )
    return said


def _instead(made: Result) -> Element | None:
    """Where nothing else helps: what the liquid that was not to change would have to be."""
    if made.plan.enough:
        return None
    if made.plan.reached > made.wanted:
        return element(
            "p",
            "Mix less or more slowly, so that it rises less; chill flour and bowl; or let the dough be warmer.",
        )
    fixed = [n for n, part in enumerate(made.plan.parts) if part.is_liquid and not part.may]
    for number in fixed:
        part = made.plan.parts[number]
        needed = balance(made.plan.parts, number, made.wanted, made.friction).values()[
            "temperature"
        ]
        if part.celsius < needed <= warmest(part.ingredient).celsius:
            return element(
                "p",
                f"What is left to do: bring the {part.ingredient.name} itself to {_degrees(needed, made)}, "
                "in a bowl of warm water, stirred, just before mixing. "
                "Or let the dough be colder and rise longer.",
            )
    return element("p", "Let the dough be colder and rise longer, or use less of what is cold.")


def _bounds(made: Result) -> Element | None:
    working = made.plan.working
    if not made.plan.enough:
        return None
    interval: Interval = working.bounds()[working.answer.key]
    kind = working.answer.kind
    low, high = (
        units.write(max(end, 0.0), kind, made.style) for end in (interval.low, interval.high)
    )
    return element(
        "p",
        f"From {low} to {high}: a thermometer with steps of {_step(made)} can be half a step off for each ingredient. "
        "The rise by mixing is the least certain. Measure your dough and correct it.",
        class_="dw-bounds",
    )


def _step(made: Result) -> str:
    return units.write_exact(THERMOMETER, "temperature difference", made.style)


def _sheet(made: Result) -> Element:
    rows: list[list] = []
    for number, part in enumerate(made.plan.parts):
        grams = part.grams
        if number == made.plan.iced:
            grams -= made.plan.ice
            rows.append(
                [
                    frozen_name(part.ingredient),
                    _mass(made.plan.ice, made),
                    "–",
                    _degrees(made.ice, made),
                ]
            )
        if grams >= 0.05:
            stands, goes = (_degrees(p.celsius, made) for p in (made.parts[number], part))
            rows.append([part.ingredient.name, _mass(grams, made), stands, goes])
    rows.append(["dough", _mass(_dough(made), made), "–", _degrees(made.plan.reached, made)])
    return table(
        "What goes in, and how warm",
        ["Ingredient", "Weight", "Stands at", "Goes in at"],
        rows,
        "dw-figures dw-sheet",
    )


def _dough(made: Result) -> float:
    return sum(part.grams for part in _dough_parts(made))


def _dough_parts(made: Result) -> list[Part]:
    return [part for part in made.parts if part.ingredient != BOWL]


def _rule(made: Result) -> Element:
    return element(
        "details",
        element(
            "summary",
            f"The trade’s short rule gives {made.rule.weighed('water', made.style)} for plain water"
            + (", which means ice" if made.rule.values()["water"] < 0 else ""),
        ),
        element(
            "p",
            "The short rule is common practice. It counts flour, room and water as if they weighed the same, "
            "and every liquid as water. The answer above weighs each ingredient and what it holds. "
            f"The rule’s friction factor is {FACTORS} times the rise, for it shares it among {FACTORS} temperatures.",
        ),
        worked_example.given_list(made.rule, made.style),
        worked_example.steps(made.rule, made.style),
    )


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    lines = "\n".join(f"    {_part_call(part)}," for part in made.parts)
    return f"""from calc.composition import find
from calc.interval import Interval
from calc.temperature import BOWL, Part, mixed, plan

parts = [
{lines}
]
done = plan(parts, wanted={made.wanted:.6g}, friction={made.friction:.6g}, ice={made.ice:.6g})
for step in done.working.steps:
    print(step, "=", done.working.sentence(step))
for part in done.parts:
    print(part.ingredient.name, round(part.grams, 1), "g at", round(part.celsius, 1), "°C")
print("frozen:", round(done.ice, 1), "g; dough:", round(done.reached, 2), "°C; enough:", done.enough)
"""


def _part_call(part: Part) -> str:
    what = "BOWL" if part.ingredient == BOWL else f'find("{part.ingredient.key}")'
    may = f", Interval({part.may.low:.6g}, {part.may.high:.6g})" if part.may else ""
    return f"Part({what}, {part.grams:.6g}, {part.celsius:.6g}{may})"


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the dough may go next."""
    dough = onward.as_typed(values)
    tools = (onward.SWAP, onward.BALANCE, onward.YIELD, onward.BAKE)
    return onward.links(values, dict.fromkeys(tools, dough))


PART = FormPart("warmth", fields_of, form, result, result_view, headline, remarks, onward_of)
