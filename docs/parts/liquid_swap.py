"""The liquid swap: a formula in, the same dough with another liquid out, with its working."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.composition import Ingredient
from calc.formula import MEANINGS, Formula, FormulaError, Item, weighed
from calc.interval import Interval
from calc.substitution import Swap, swap
from calc.units import Style
from docs.parts import composition_bars, python_cell, worked_example
from docs.parts.fields import (
    FieldErrors,
    FieldReader,
    choice_field,
    form_with_result,
    style_fields,
    style_of,
    text_field,
)
from docs.parts.html import Child, element, table
from docs.parts.hydration_table import hydration_of, split_item

# How many ingredients beside flour and liquid the form has room for.
ROWS = 6
OWN = "own"

GROUP_NAMES = {
    "water": "Water", "dairy": "Milk and cream", "cultured": "Cultured dairy", "plant": "Plant drinks",
    "egg": "Eggs", "puree": "Purees and vegetables", "fruit": "Fruit", "juice": "Juices",
    "alcohol": "Beer and wine", "brew": "Coffee and tea", "acid": "Vinegar and sour juices",
    "fat": "Fats", "sweetener": "Sweeteners", "flour": "Flours", "yeast": "Yeasts", "salt": "Salt",
    "leavening": "Baking powder and soda", "dry": "Dry powders", "other": "Other",
}  # fmt: skip

DEFAULTS = {
    "flour": "500 g", "flour-kind": "bread-flour", "liquid": "65 %", "was": "water",
    "becomes": "buttermilk", "own-water": "", "own-low": "", "own-high": "", "part": "100 %",
    "mass": "g", "decimal": ".", "scale": "1 g",
}  # fmt: skip

SCALES = ("0.1 g", "1 g", "2 g", "5 g")


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes; ``with`` fills the ingredient rows."""
    values = {name: attributes.get(name, default) for name, default in DEFAULTS.items()}
    rows = [split_item(one) for one in attributes.get("with", "").split(";") if one.strip()]
    if len(rows) > ROWS:
        raise ValueError(f"“with” has room for {ROWS} ingredients")
    for number in range(1, ROWS + 1):
        key, amount = rows[number - 1] if number <= len(rows) else ("", "")
        values[f"with{number}"] = key
        values[f"amount{number}"] = amount
    return values


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The form and, computed now, its result."""
    values = fields_of(attributes)
    prefix = attributes.get("id", "swap")
    made = result(values)
    return form_with_result(form(values, prefix), result_view(made), headline(made))


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page: the elements to show and a sentence to announce.

    Raises FieldErrors when a field cannot be read.
    """
    made = result(values)
    return {"elements": result_view(made), "says": headline(made)}


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """What the form asked for, computed."""

    swap: Swap
    style: Style
    scale: float


def result(values: Mapping[str, str]) -> Result:
    """Compute the swap. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    flour = reader.amount("flour", 0.0)
    if not flour:
        reader.complain("flour", "Give the flour a weight, such as 500 g. Hydration counts on it.")
    liquid = reader.amount("liquid", flour)
    if not liquid:
        reader.complain("liquid", "Give the liquid a weight, or a percentage of the flour.")
    part = reader.share("part", 0.0, 1.0)
    new = _new_liquid(reader)
    old = _known(reader, "was")
    scale = (
        units.read(values.get("scale", ""), "mass").value if values.get("scale") in SCALES else 1.0
    )
    items = [Item(_known(reader, "flour-kind"), flour), Item(old, liquid)]
    items += _others(reader, flour)
    reader.finish()
    if not new.water:
        raise FieldErrors(
            {"becomes": f"{new.name} holds no water, so it cannot take a liquid’s place."}
        )
    try:
        return Result(swap(Formula(tuple(items)), old.key, new, part, scale), style, scale)
    except FormulaError as error:
        raise FieldErrors({"liquid": str(error)}) from None


def _known(reader: FieldReader, name: str) -> Ingredient:
    try:
        return composition.find(reader.values.get(name, ""))
    except composition.UnknownIngredient as error:
        reader.complain(name, f"{error} Choose one from the list.")
        return composition.find("water")


def _new_liquid(reader: FieldReader) -> Ingredient:
    if reader.values.get("becomes") != OWN:
        return _known(reader, "becomes")
    water = reader.share("own-water", 0.0, 1.0)
    low, high = reader.values.get("own-low", "").strip(), reader.values.get("own-high", "").strip()
    ends = [
        reader.share(name, 0.0, 1.0)
        for name, text in (("own-low", low), ("own-high", high))
        if text
    ]
    if "own-water" in reader.messages:
        return composition.find("water")
    bounds = sorted([water, *ends])
    if (
        ends
        and water in (bounds[0], bounds[-1])
        and len(ends) == 2
        and bounds[0] != bounds[-1]
        and water not in ends
    ):
        reader.complain("own-low", "The water content must lie between the lowest and the highest.")
    return composition.own("your liquid", water, Interval(bounds[0], bounds[-1]))


def _others(reader: FieldReader, flour: float) -> list[Item]:
    items = []
    for number in range(1, ROWS + 1):
        name = f"amount{number}"
        grams = reader.amount(name, flour)
        if not reader.values.get(f"with{number}"):
            if grams:
                reader.complain(name, "Choose the ingredient this weight belongs to.")
            continue
        ingredient = _known(reader, f"with{number}")
        if grams and ingredient.is_flour:
            reader.complain(name, "Only one flour fits here. Put all the flour in the first field.")
        items.append(Item(ingredient, grams))
    return items


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""
    liquids = list(_choices(lambda each: each.is_liquid))
    others = [("", "– nothing –", ""), *_choices(lambda each: not each.is_flour)]
    rows = [
        element(
            "div",
            choice_field(prefix, f"with{n}", f"Ingredient {n}", values[f"with{n}"], others),
            text_field(prefix, f"amount{n}", "Weight, %", values[f"amount{n}"]),
            class_="dw-row dw-pair",
            hidden=n > _filled(values) + 1,
        )
        for n in range(1, ROWS + 1)
    ]
    return element(
        "form",
        element(
            "fieldset",
            element("legend", "The formula"),
            element(
                "div",
                text_field(prefix, "flour", "Flour", values["flour"]),
                choice_field(
                    prefix,
                    "flour-kind",
                    "Kind of flour",
                    values["flour-kind"],
                    _choices(lambda e: e.is_flour),
                ),
                class_="dw-row",
            ),
            element(
                "div",
                text_field(prefix, "liquid", "Liquid: weight or % of flour", values["liquid"]),
                choice_field(prefix, "was", "Written for", values["was"], liquids),
                class_="dw-row",
            ),
            element(
                "details",
                element("summary", "Salt, yeast, butter, sugar, eggs …"),
                *rows,
                open=_filled(values) > 0,
            ),
        ),
        element(
            "fieldset",
            element("legend", "The swap"),
            element(
                "div",
                choice_field(
                    prefix,
                    "becomes",
                    "New liquid",
                    values["becomes"],
                    [*liquids, (OWN, "my own water content", "My own")],
                ),
                text_field(prefix, "part", "Part to swap", values["part"], "100 % is all of it"),
                class_="dw-row",
            ),
            element(
                "div",
                text_field(
                    prefix, "own-water", "Water content", values["own-water"], "such as 74 %"
                ),
                text_field(prefix, "own-low", "Lowest (may be blank)", values["own-low"]),
                text_field(prefix, "own-high", "Highest (may be blank)", values["own-high"]),
                class_="dw-row dw-own",
            ),
        ),
        element(
            "details",
            element("summary", "Grams or ounces, decimal mark, scale"),
            element(
                "div",
                *style_fields(prefix, values),
                choice_field(
                    prefix,
                    "scale",
                    "My scale shows",
                    values["scale"],
                    [(s, f"steps of {s}", "") for s in SCALES],
                ),
                class_="dw-row",
            ),
        ),
        class_="dw-form",
        novalidate=True,
        aria_label="Liquid swap",
    )


def _filled(values: Mapping[str, str]) -> int:
    return sum(bool(values[f"with{n}"]) for n in range(1, ROWS + 1))


def _choices(wanted) -> list[tuple[str, str, str]]:
    found = [each for each in composition.table().values() if wanted(each)]
    order = list(GROUP_NAMES)
    found.sort(key=lambda each: order.index(each.group) if each.group in order else len(order))
    return [(each.key, each.name, GROUP_NAMES.get(each.group, "Other")) for each in found]


# The result.


def headline(made: Result) -> str:
    """The answer in one sentence."""
    new, old = made.swap.new, made.swap.old
    part = "" if made.swap.kept == 0 else " part of"
    return (
        f"Weigh {_mass(new.grams, made)} of {new.ingredient.name} "
        f"in place of{part} the {old.ingredient.name}."
    )


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the answer, the sheet, hydration, what rides along, the working."""
    return [
        *_cautions(made.swap),
        element("p", headline(made), class_="dw-answer"),
        _bounds(made),
        _sheet(made),
        _hydrations(made),
        _riders(made),
        element(
            "details",
            element("summary", "The working, step by step"),
            worked_example.given_list(made.swap.working, made.style),
            worked_example.steps(made.swap.working, made.style),
            open=True,
        ),
        _picture(made.swap),
        python_cell.folded(python_of(made)),
    ]


def _mass(grams: float, made: Result) -> str:
    return units.write(
        grams, "mass", made.style, step=made.scale if made.style.mass == "g" else None
    )


def _cautions(swap: Swap) -> list[Element]:
    made = []
    if swap.new_allergens:
        made.append(
            element(
                "p",
                element("strong", "Allergen added: "),
                f"{', '.join(swap.new_allergens)}. The first formula had none. Tell everyone who will eat this, "
                "and follow your local allergen rules.",
                class_="dw-caution",
                role="note",
            )
        )
    if swap.new.ingredient.perishable and not swap.old.ingredient.perishable:
        made.append(
            element(
                "p",
                element("strong", "Keep it cold: "),
                f"{swap.new.ingredient.name} spoils. Do not leave this dough warm for long; your local food "
                "code says how long. Raw dough is not safe to taste.",
                class_="dw-caution",
                role="note",
            )
        )
    return made


def _bounds(made: Result) -> Element:
    interval = made.swap.working.bounds()["new"]
    water = made.swap.new.ingredient.water_range
    low, high = (units.write(end, "mass", made.style) for end in (interval.low, interval.high))
    reasons = []
    if water.width:
        ends = (
            units.write(end, "share", made.style, step=0.001) for end in (water.low, water.high)
        )
        reasons.append("products of this name hold {} to {} water".format(*ends))
    if weighed(made.swap.old.grams, made.scale):
        reasons.append(
            f"a scale with steps of {units.write_exact(made.scale, 'mass', made.style)} can be half a step off"
        )
    if low == high:
        return element(
            "p",
            f"That is sure to the nearest unit shown: {'; '.join(reasons)}.",
            class_="dw-bounds",
        )
    return element(
        "p",
        f"It may need anything from {low} to {high}: {', and '.join(reasons)}. "
        "Hold a little back and go by the dough.",
        class_="dw-bounds",
    )


def _sheet(made: Result) -> Element:
    """Both formulas side by side, with baker's percentages."""
    before, after = made.swap.before, made.swap.after
    lines = list(dict.fromkeys(item.ingredient for item in (*before.items, *after.items)))
    flour = [each for each in lines if each.is_flour]
    lines = flour + [each for each in lines if each not in flour]
    rows: list[list] = []
    for each in lines:
        cells = [_weight_of(formula, each, made) for formula in (before, after)]
        if cells == ["–", "–"]:
            continue
        share = sum(i.grams for i in after.items if i.ingredient == each) / after.flour
        rows.append(
            [
                each.name,
                *cells,
                units.write(share, "share", made.style, step=0.001) if share else "–",
            ]
        )
    rows.append(
        [
            "dough",
            _mass(before.dough, made),
            _mass(after.dough, made),
            units.write(after.dough / after.flour, "share", made.style, step=0.001),
        ]
    )
    return table(
        "The formula",
        ["Ingredient", "Before", "After", "% of flour, after"],
        rows,
        "dw-figures dw-sheet",
    )


def _weight_of(formula: Formula, ingredient: Ingredient, made: Result) -> str:
    grams = sum(item.grams for item in formula.items if item.ingredient == ingredient)
    if not grams:
        return "–"
    # Yeast and salt are weighed finer than flour.
    return _mass(grams, made) if grams >= 10 else units.write(grams, "mass", made.style)


def _hydrations(made: Result) -> Element:
    rows = []
    for meaning in MEANINGS:
        shares = [
            hydration_of(formula, meaning.key) for formula in (made.swap.before, made.swap.after)
        ]
        cells = [units.write(share, "share", made.style, step=0.001) for share in shares]
        rows.append([element("span", meaning.name, element("small", meaning.explained)), *cells])
    return table(
        "Hydration, in each meaning", ["Counted as", "Before", "After"], rows, "dw-figures"
    )


RIDERS = (("fat", "fat"), ("sugars", "sugars"), ("salt", "salt"))


def _riders(made: Result) -> Element:
    """What comes along with the water: fat, sugar and salt, and how sour the liquid is."""
    swap = made.swap
    old, new = Item(swap.old.ingredient, swap.old.grams - swap.kept), swap.new
    rows: list[list] = []
    for part, name in RIDERS:
        brought = [_brought(item, part) for item in (old, new)]
        change: Child = "not known"
        if None not in brought:
            grams = brought[1] - brought[0]
            share = _signed(units.write(grams / swap.after.flour, "share", made.style, step=0.001))
            change = element(
                "span",
                _signed(units.write(grams, "mass", made.style, step=0.1)),
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
        element("p", _acidity(made)),
    )


def _brought(item: Item, part: str) -> float | None:
    share = getattr(item.ingredient, part)
    return None if share is None else item.grams * share


def _signed(text: str) -> str:
    return text if text.startswith("−") else f"+{text}"


def _acidity(made: Result) -> str:
    old, new = made.swap.old.ingredient, made.swap.new.ingredient
    return f"Acidity: {_ph(old, made)}, {_ph(new, made)}. {_sourness(old, new)}"


def _ph(ingredient: Ingredient, made: Result) -> str:
    if ingredient.ph is None:
        return f"{ingredient.name} not known"
    low, high = (
        units.digits(end, 0.1, made.style) for end in (ingredient.ph.low, ingredient.ph.high)
    )
    return f"{ingredient.name} pH {low}" + (f" to {high}" if high != low else "")


def _sourness(old: Ingredient, new: Ingredient) -> str:
    if old.ph is None or new.ph is None:
        return "Taste it: a sour liquid may make the dough tighter."
    if new.ph.high < old.ph.low:
        return "The new liquid is more sour: common practice finds the dough tighter and slower; see the lesson for what is not certain."
    if new.ph.low > old.ph.high:
        return "The new liquid is less sour: the dough may feel looser."
    return "They are about equally sour."


def _picture(swap: Swap) -> Element:
    both = [
        each for each in (swap.old.ingredient, swap.new.ingredient) if each.carbohydrate is not None
    ]
    if not both:
        return element("p", "The table does not know what your liquid holds besides water.")
    return element(
        "div", composition_bars.legend(), composition_bars.bars(both), class_="dw-picture"
    )


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    items = "\n".join(
        f"    Item({_ingredient_call(item.ingredient)}, {item.grams:.6g}),"
        for item in made.swap.before.items
        if item.grams
    )
    part = (made.swap.old.grams - made.swap.kept) / made.swap.old.grams
    return f"""from calc.composition import find, own
from calc.formula import Formula, Item, hydration
from calc.substitution import swap

dough = Formula((
{items}
))
done = swap(dough, "{made.swap.old.ingredient.key}", {_ingredient_call(made.swap.new.ingredient)}, part={part:.6g}, scale={made.scale:g})
print("new weight:", done.new.grams, "g, bounds", done.working.bounds()["new"])
for step in done.working.steps:
    print(step, "=", done.working.sentence(step))
for item in done.after.items:
    print(item.ingredient.name, round(item.grams, 1), "g")
print("hydration:", hydration(done.after).values()["hydration"])
"""


def _ingredient_call(ingredient: Ingredient) -> str:
    if ingredient.key == OWN:
        return f'own("your liquid", {ingredient.water:.6g})'
    return f'find("{ingredient.key}")'
