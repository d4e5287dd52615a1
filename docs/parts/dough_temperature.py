"""Dough temperature: how warm the liquid must be, how much ice, or what to warm instead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.cautions import Caution, cold_rule, raw
from calc.composition import Ingredient
from calc.formula import Formula, FormulaError, Item
from calc.interval import Interval
from calc.temperature import (
    BOWL,
    COLD_FOR_DRY_YEAST,
    COLDEST_SOLID,
    FACTORS,
    Part,
    Plan,
    balance,
    frozen_name,
    is_dry_yeast,
    is_mixed_into_flour,
    movable,
    plan,
    preferment_part,
    pull,
    warmest,
    water_temperature,
)
from calc.units import Style
from calc.words import capital, the
from calc.working import Working
from docs.parts import python_cell, worked_example
from docs.parts.shared import dough_holds, onward
from docs.parts.shared.caution_list import borne_list, marks, must_make_bread
from docs.parts.shared.fields import (
    FieldErrors,
    FieldReader,
    answer,
    choice_field,
    folded_style,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import formula_fields, notes, read_formula
from docs.parts.shared.formula_table import all_cells, formula_table, rows_of
from docs.parts.shared.warm_and_cold import warm_and_cold
from exercises.publish.html import element, table

DEFAULTS = {
    "wanted": "26 °C", "friction": "4 °C", "flour-at": "20 °C", "room-at": "21 °C",
    "liquid-at": "12 °C", "liquid-may": "free", "tap-at": "15 °C", "cold-at": "5 °C", "bowl": "",
    "ice-at": "−18 °C", "pre": "", "pre-hydration": "100 %", "pre-at": "22 °C", "mass": "g", "decimal": ".", "degrees": "°C",
}  # fmt: skip
MAY = [("free", "warmed, cooled or iced", ""), ("fixed", "not at all", "")]
# The thermometer is taken to show whole degrees.
THERMOMETER = 1.0

HEADS = {"warm": "Goes in at"}


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes."""
    own = with_defaults(attributes, DEFAULTS)
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
    yeast_in_flour: bool
    pre_hydration: float


def result(values: Mapping[str, str]) -> Result:
    """Compute the plan. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    items, old = read_formula(reader)
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
        is_mixed_into_flour(item.ingredient for item in items if item.grams),
    )
    hydration = reader.share("pre-hydration", 0.3, 2.0)
    ahead = _preferment(reader, items[0].ingredient, hydration)
    ice = reader.quantity("ice-at", "temperature", -40, 0)
    reader.finish()
    must_make_bread(values, Formula(tuple(items)))
    parts = (*kitchen.parts(items, old), *ahead)
    try:
        made = plan(parts, wanted, friction, ice, THERMOMETER)
    except FormulaError as error:
        raise FieldErrors({"wanted": str(error)}) from None
    factors = FACTORS + len(ahead)
    warmth = ahead[0].celsius if ahead else None
    rule = water_temperature(wanted, flour, room, factors * friction, warmth)
    return Result(
        parts, made, wanted, friction, ice, rule, style, kitchen.yeast_in_flour, hydration
    )


def _preferment(reader: FieldReader, flour: Ingredient, hydration: float) -> tuple[Part, ...]:
    """The preferment as a part, where one is weighed; it counts as made of the formula's flour."""
    grams = reader.amount("pre", 0.0)
    if not grams:
        return ()
    celsius = reader.quantity("pre-at", "temperature", 0, 45)
    return (preferment_part(flour, grams, hydration, celsius),)


@dataclass(frozen=True)
class Kitchen:
    """How warm things are (°C), whether the liquid may change, and the bowl's weight (g)."""

    flour: float
    room: float
    liquid: float
    liquid_is_free: bool
    tap: float
    cold: float
    bowl: float
    yeast_in_flour: bool

    def parts(self, items: list[Item], liquid: Ingredient) -> list[Part]:
        """The formula's items as parts, each at its temperature and free to what is sensible."""
        poured = next(item for item in items if item.ingredient == liquid)
        found = [self._part(item, item is poured) for item in items if item.grams]
        if self.bowl:
            found.append(_solid(Part(BOWL, self.bowl, self.room)))
        return found

    def _part(self, item: Item, is_poured: bool) -> Part:
        ingredient, grams = item.ingredient, item.grams
        if ingredient.is_flour:
            return _solid(Part(ingredient, grams, self.flour))
        if is_poured:
            stands = Part(ingredient, grams, self.liquid)
            return self._free(stands) if self.liquid_is_free else stands
        # Bakers let butter soften.
        if ingredient.perishable and ingredient.group != "fat":
            return Part(ingredient, grams, self.cold)
        if ingredient.is_liquid:
            return self._free(Part(ingredient, grams, self.tap))
        return Part(ingredient, grams, self.room)

    def _free(self, liquid: Part) -> Part:
        return movable(liquid, liquid.celsius, self.yeast_in_flour)


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
            element(
                "details",
                element("summary", "A preferment or starter"),
                element(
                    "div",
                    field("pre", "Its weight (blank: none)", "beside the final dough’s formula below", "mass"),
                    field("pre-hydration", "Its hydration", "water ÷ its flour", ""),
                    field("pre-at", "Its temperature"),
                    class_="dw-row",
                ),
                open=bool(values["pre"]),
            ),
        ),
        formula_table(values, prefix, HEADS),
        folded_style(prefix, values, "Grams or ounces, decimal mark, °C or °F", temperature=True),
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
    steps = list(dict.fromkeys(_deed(made, number) for number in made.plan.changed))
    if made.plan.enough:
        return " ".join(steps)
    return (
        f"This dough cannot come to {_degrees(made.wanted, made)}. "
        f"Even so it comes to {_degrees(made.plan.reached, made)}: {' '.join(steps)}"
    )


def _first_number(made: Result) -> str:
    """The ice's weight or the temperature that the answer begins with; nothing where there is nothing to do."""
    if not (made.plan.enough and made.plan.changed):
        return ""
    number = made.plan.changed[0]
    if number == made.plan.iced:
        return _mass(made.plan.ice, made)
    return _degrees(made.plan.parts[number].celsius, made)


def _deed(made: Result, number: int) -> str:
    part, before = made.plan.parts[number], made.parts[number]
    name, target = part.ingredient.name, _degrees(part.celsius, made)
    if number == made.plan.iced:
        rest = part.grams - made.plan.ice
        others = f", and {_mass(rest, made)} at {target}" if rest >= 0.5 else ""
        return f"Weigh {_mass(made.plan.ice, made)} as {frozen_name(part.ingredient)}{others}."
    if part.is_liquid:
        return f"Have {the(name)} at {target}."
    verb = "Warm" if part.celsius > before.celsius else "Chill"
    return f"{verb} {_together(made, number)} to {target}."


def _together(made: Result, number: int) -> str:
    """A part's name; all of the flour where each of its kinds is to be as warm."""
    part = made.plan.parts[number]
    flours = [each for each in made.plan.parts if each.ingredient.is_flour]
    if part not in flours or any(each.celsius != part.celsius for each in flours):
        return the(part.ingredient.name)
    return "all the flour" if len(flours) > 1 else the(part.ingredient.name)


def result_view(made: Result) -> list[Element]:
    """Cautions first, then what to do, the list of what goes in, what the dough holds, the short rule, the working."""
    shown = [
        *_cautions(made),
        answer(headline(made), _first_number(made)),
        *_limits(made),
        warm_and_cold(made.plan, made.friction, made.style),
        _instead(made),
        _bounds(made),
        _sheet(made),
        dough_holds.folded({"Dough": _mixed(made)}, made.style),
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


def _cautions(made: Result) -> list[Element]:
    perishable = [p.ingredient.name for p in made.parts if p.ingredient.perishable]
    said = []
    if perishable:
        text = (
            f"{capital(', '.join(perishable))} can spoil. Warm only what you mix now, gently, and mix at once. "
            + cold_rule(lambda celsius: _degrees(celsius, made))
        )
        said.append(Caution("cold", "Keep it cold until you mix", text))
    raw_text = (
        f"{capital(raw(part.ingredient for part in made.parts))} may carry germs. Liquid or a bowl that "
        "feels hot burns: test it first."
    )
    said.append(Caution("raw", "Do not taste raw dough", raw_text))
    dough = Formula(tuple(Item(p.ingredient, p.grams) for p in _dough_parts(made)))
    return [*borne_list(dough), *marks(said), *_cold_yeast(made)]


def _cold_yeast(made: Result) -> list[Element]:
    """What to do where dry yeast would be wetted by a cold liquid, or by ice."""
    dry = [part.ingredient.name for part in made.parts if is_dry_yeast(part.ingredient)]
    cold = made.plan.iced is not None or any(
        part.celsius < COLD_FOR_DRY_YEAST for part in made.plan.parts if part.is_liquid
    )
    if not (dry and cold):
        return []
    start = _degrees(40, made)
    text = (
        f"{capital(dry[0])} that gets wet cold leaks a substance (glutathione) that makes the dough slack, and "
        f"it rises weakly. Start it in a little of the formula’s water at about {start}, or mix it into the "
        "flour, and let the cold liquid come last."
    )
    return marks([Caution("yeast", f"Start the {dry[0]} in warm water", text)])


def _limits(made: Result) -> list[Element]:
    """Why a part was warmed no further, and who says so."""
    said = {}
    for number in made.plan.changed:
        part = made.plan.parts[number]
        limit = warmest(part.ingredient, made.yeast_in_flour)
        if part.may and part.celsius == part.may.high == limit.celsius:
            text = (
                f"No warmer than {_degrees(part.celsius, made)} for {_together(made, number)}: "
                f"{limit.why}. {limit.source}."
            )
            said[text] = element("p", text)
    return list(said.values())


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
        if part.celsius < needed <= warmest(part.ingredient, made.yeast_in_flour).celsius:
            return element(
                "p",
                f"What is left to do: bring {the(part.ingredient.name)} itself to {_degrees(needed, made)}, "
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
        f"The rise by mixing is the least certain. Measure your dough and correct it.{_pull(made)}",
        class_="dw-bounds",
    )


def _pull(made: Result) -> str:
    """How far the last liquid must move for a degree of dough: what to do when the dough misses."""
    number = made.plan.changed[-1]
    part = made.plan.parts[number]
    if not part.is_liquid or number == made.plan.iced:
        return ""
    degree = made.style.unit("temperature difference").factor
    by = units.write(
        pull(made.parts, number) * degree, "temperature difference", made.style, step=degree / 10
    )
    one = units.write(degree, "temperature difference", made.style)
    return f" A dough that misses by {one} needs {the(part.ingredient.name)} changed by {by}."


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


def _mixed(made: Result) -> Formula:
    """What the form's formula weighs: a preferment comes beside it."""
    parts = (part for part in _dough_parts(made) if part.ingredient.group != "preferment")
    return Formula(tuple(Item(part.ingredient, part.grams) for part in parts))


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
            f"and every liquid as water. The answer above weighs each ingredient and what it holds. {_friction(made)}",
        ),
        worked_example.given_list(made.rule, made.style),
        worked_example.steps(made.rule, made.style),
    )


def _friction(made: Result) -> str:
    """The friction factor as the rule has it; with a preferment, both ways in which it is told."""
    if "preferment" not in made.rule.givens:
        return (
            f"The rule’s friction factor is {FACTORS} times the rise, for it shares it among "
            f"{FACTORS} temperatures."
        )
    rise = units.write(made.friction, "temperature difference", made.style)
    other = units.write(made.rule.values()["water"] + made.friction, "temperature", made.style)
    return (
        f"With a preferment it shares the friction factor among {FACTORS + 1} temperatures, so here it is "
        f"{FACTORS + 1} times the rise of {rise}. Many schools keep the mixer’s factor as it is without a "
        f"preferment, {FACTORS} times the rise: then the water comes out at {other}. Say which way is yours."
    )


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    lines = "\n".join(f"    {_part_call(made, part)}," for part in made.parts)
    return f"""from calc.composition import find
from calc.interval import Interval
from calc.temperature import BOWL, Part, mixed, plan, preferment_part

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


def _part_call(made: Result, part: Part) -> str:
    if part.ingredient.key == "preferment":
        flour = made.parts[0].ingredient.key
        return f'preferment_part(find("{flour}"), {part.grams:.6g}, {made.pre_hydration:.6g}, {part.celsius:.6g})'
    what = "BOWL" if part.ingredient == BOWL else f'find("{part.ingredient.key}")'
    may = f", Interval({part.may.low:.6g}, {part.may.high:.6g})" if part.may else ""
    return f"Part({what}, {part.grams:.6g}, {part.celsius:.6g}{may})"


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the dough may go next."""
    dough = onward.as_typed(values)
    tools = (onward.SWAP, onward.BALANCE, onward.YIELD, onward.BAKE)
    return onward.links(values, dict.fromkeys(tools, dough))


def cells_of(values: Mapping[str, str], made: Result) -> dict[str, str]:
    """The formula's column: how warm each ingredient goes in."""
    rows = rows_of(values)
    weighed = [name for name, item in rows.items() if item.grams]
    warm = dict(zip(weighed, made.plan.parts, strict=False))
    cells = {f"warm {name}": _degrees(part.celsius, made) for name, part in warm.items()}
    cells["warm dough"] = _degrees(made.plan.reached, made)
    return all_cells(values, rows, cells, made.style)


PART = FormPart(
    "warmth", fields_of, form, result, result_view, headline, notes, onward_of, cells_of
)
