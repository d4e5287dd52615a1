"""Acidity and feel: liquids side by side at the same water, what they usually do, and three choices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import composition, feel, units
from calc.composition import Ingredient, find
from calc.feel import EVIDENCE, FEATURES, SCALES, Place, Scale, Variant
from calc.formula import Formula, Item
from calc.substitution import swap
from calc.units import Style
from docs.parts import python_cell, worked_example
from docs.parts.shared import onward
from docs.parts.shared.caution_list import caution_list, must_make_bread
from docs.parts.shared.fields import (
    FieldReader,
    choice_field,
    folded_style,
    style_of,
    text_field,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import ingredient_choices
from exercises.publish.html import element, table

MOST_LIQUIDS = 6
SOFTENERS = ("egg-yolk", "butter")
# Below this the liquid asks for nothing.
_SOUR_ENOUGH = 0.05

DEFAULTS = {
    "flour": "500 g", "hydration": "65 %", "part": "100 %",
    "liquids": "kefir, orange-juice, oat-drink, half-and-half", "mass": "g", "decimal": ".",
}  # fmt: skip


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes; ``liquids`` is a list with commas."""
    values = {name: attributes.get(name, default) for name, default in DEFAULTS.items()}
    named = [each.strip() for each in values.pop("liquids").split(",") if each.strip()]
    if len(named) > MOST_LIQUIDS:
        raise ValueError(f"“liquids” has room for {MOST_LIQUIDS}")
    for number in range(1, MOST_LIQUIDS + 1):
        values[f"liquid{number}"] = find(named[number - 1]).key if number <= len(named) else ""
    return values


@dataclass(frozen=True)
class Result:
    """What the form asked for: the dough with plain water, and one variant a liquid."""

    plain: Formula
    hydration: float
    part: float
    variants: dict[Ingredient, Variant]
    style: Style


def result(values: Mapping[str, str]) -> Result:
    """Compute the variants. Raises FieldErrors, with a message for each field that stops them."""
    style = style_of(values)
    reader = FieldReader(values, style)
    flour = reader.amount("flour", 0.0, find("bread-flour"))
    if not flour:
        reader.complain("flour", "Give the flour a weight, such as 500 g. Hydration counts on it.")
    hydration = reader.share("hydration", 0.0, 2.0)
    part = reader.share("part", 0.0, 1.0)
    chosen = _chosen(reader)
    reader.finish()
    plain = Formula((Item(find("bread-flour"), flour), Item(find("water"), flour * hydration)))
    variants = {
        liquid: Variant(liquid.name, swap(plain, "water", liquid, part).after) for liquid in chosen
    }
    for liquid, variant in variants.items():
        must_make_bread(
            values,
            variant.formula,
            lambda share, new=liquid: swap(plain, "water", new, share).after,
        )
    return Result(plain, hydration, part, variants, style)


def _chosen(reader: FieldReader) -> list[Ingredient]:
    chosen: dict[Ingredient, None] = {}
    for number in range(1, MOST_LIQUIDS + 1):
        name = f"liquid{number}"
        asked = reader.values.get(name, "")
        if not asked:
            continue
        try:
            liquid = find(asked)
        except composition.UnknownIngredient as error:
            reader.complain(name, f"{error} Choose one from the list.")
            continue
        if not liquid.water:
            reader.complain(name, f"{liquid.name} holds no water. Choose a liquid.")
        chosen[liquid] = None
    if not chosen:
        reader.complain("liquid1", "Choose at least one liquid.")
    return list(chosen)


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""
    liquids = [("", "– none –", ""), *ingredient_choices(lambda each: each.is_liquid)]
    return element(
        "form",
        element(
            "fieldset",
            element("legend", "The dough"),
            element(
                "div",
                text_field(prefix, "flour", "Flour", values["flour"], kind="mass"),
                text_field(prefix, "hydration", "Hydration", values["hydration"], "water ÷ flour"),
                text_field(
                    prefix,
                    "part",
                    "Part of the water",
                    values["part"],
                    "that the liquid brings; plain water brings the rest",
                ),
                class_="dw-row",
            ),
        ),
        element(
            "fieldset",
            element("legend", "The liquids"),
            element(
                "div",
                *(
                    choice_field(prefix, f"liquid{n}", f"Liquid {n}", values[f"liquid{n}"], liquids)
                    for n in range(1, MOST_LIQUIDS + 1)
                ),
                class_="dw-row",
            ),
        ),
        folded_style(prefix, values, "Grams or ounces, decimal mark"),
        class_="dw-form",
        novalidate=True,
        aria_label="Acidity and feel",
    )


# The result.


def headline(made: Result) -> str:
    """The two ends of the first order, in one sentence."""
    scale = SCALES[0]
    places = [p for p in _order(made, scale) if p.rank]
    if len({p.rank for p in places}) < 2:
        return "These doughs are usually about equally tight."
    first = [p.variant.name for p in places if p.rank == 1]
    last = [p.variant.name for p in places if p.rank == places[-1].rank]
    return f"Usually {scale.first}: {_and(first)}. Usually {scale.last}: {_and(last)}."


def _and(names: list[str]) -> str:
    return " and ".join([*([", ".join(names[:-1])] if names[1:] else []), names[-1]])


def _order(made: Result, scale: Scale) -> list[Place]:
    return feel.order(list(made.variants.values()), scale, made.style)


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the orders, how sour each is, the choices, the studies, the working."""
    return [
        *caution_list(made.plain, *(each.formula for each in made.variants.values())),
        element("p", headline(made), class_="dw-answer"),
        element("h2", "Which dough is usually which", class_="dw-hidden"),
        element("div", *(_scale(made, scale) for scale in SCALES), class_="dw-scales"),
        _reckoning(),
        _sour_table(made),
        *_choices(made),
        _evidence(),
        *_workings(made),
        python_cell.folded(python_of(made)),
    ]


def _scale(made: Result, scale: Scale) -> Element:
    rows = [
        element(
            "li",
            element("span", f"{place.rank}." if place.rank else "?", class_="dw-rank"),
            element(
                "span",
                element("strong", place.variant.name),
                f" {place.says}",
                element("small", place.reason),
            ),
        )
        for place in _order(made, scale)
    ]
    return element(
        "section",
        element("h3", scale.name),
        element("p", f"From {scale.first} to {scale.last}.", class_="dw-note"),
        element("ol", *rows),
        element("p", scale.note, class_="dw-note") if scale.note else None,
    )


def _reckoning() -> Element:
    rows = [
        [
            element("span", scale.name, element("small", FEATURES[weight.of])),
            f"{'+' if weight.counts > 0 else '−'}{abs(weight.counts):g}",
            weight.why,
        ]
        for scale in SCALES
        for weight in scale.weights
    ]
    ties = "; ".join(f"{scale.key} {scale.tie:g}" for scale in SCALES)
    return element(
        "details",
        element("summary", "How the orders are reckoned"),
        element(
            "p",
            "Each order is a simple score of composition. A point is one hundredth of the flour’s weight. The weights are ours. "
            "They agree with common practice, which has no source to cite; they are not measured. "
            f"Scores closer than this are a tie: {ties}. For proof time, the lowest score rises first.",
        ),
        table("What one point counts", ["Score and part", "Counts", "Why"], rows),
    )


def _sour_table(made: Result) -> Element:
    rows = []
    for liquid, variant in made.variants.items():
        value, bounds = feel.sourness(variant.formula)
        rows.append(
            [
                liquid.name,
                units.write(_weight(variant, liquid), "mass", made.style),
                _ph(liquid.ph, made.style),
                _span(value, bounds.low, bounds.high, made.style),
                _ph(feel.ph_bounds(feel.liquids(variant.formula)), made.style),
            ]
        )
    heads = ["Liquid", "Weigh", "Its pH", "Sour part of the water", "Mixed liquid’s pH"]
    return element(
        "div",
        table("How sour the liquid is", heads, rows, "dw-figures"),
        element(
            "p",
            f"pH {feel.SOUR_PH} and below counts as fully sour, pH {feel.MILD_PH} and above as not sour, with a straight line between. "
            "This is an index, not a pH. It does not know how much acid a liquid holds: lemon juice counts no more than buttermilk, and a mild puree near pH 5 counts as partly sour. "
            "The mixed liquid’s pH lies somewhere between its parts; the flour then raises it, and yeast lowers it again.",
            class_="dw-note",
        ),
    )


def _weight(variant: Variant, liquid: Ingredient) -> float:
    return sum(item.grams for item in variant.formula.items if item.ingredient == liquid)


def _ph(ph, style: Style) -> str:
    if ph is None:
        return "not known"
    low, high = (units.digits(end, 0.1, style) for end in (ph.low, ph.high))
    return low if low == high else f"{low} to {high}"


def _span(value: float, low: float, high: float, style: Style) -> str:
    ends = [units.write(end, "share", style) for end in (max(0.0, low), value, min(1.0, high))]
    return ends[1] if ends[0] == ends[2] else f"{ends[1]} ({ends[0]} to {ends[2]})"


def _choices(made: Result) -> list[Element]:
    sour = [
        (variant, feel.sourness(variant.formula)[0])
        for variant in made.variants.values()
        if feel.sourness(variant.formula)[0] >= _SOUR_ENOUGH
    ]
    if not sour:
        return [element("p", "None of these liquids is sour enough to ask for a change.")]
    rows = []
    for variant, share in sour:
        water = feel.extra_water(made.plain.flour, made.hydration, share)
        softened = [feel.softening(made.plain.flour, share, find(key)) for key in SOFTENERS]
        rows.append(
            [
                variant.name,
                element(
                    "span",
                    f"+{water.weighed('extra', made.style)}",
                    element("small", f"to {water.weighed('raised', made.style)}"),
                ),
                *(each.weighed("softener", made.style) for each in softened),
            ]
        )
    choice = "Three choices for a sour liquid. Choose one, or a little of two."
    return [
        element("h3", "What you can do"),
        element("p", choice),
        element(
            "ol",
            element("li", element("strong", "Keep the water."), " The dough is usually tighter and takes longer; the loaf may stand taller."),
            element("li", element("strong", "Raise the water."), " Common practice: up to about five points of hydration when all the liquid is near pH 4.5, less in proportion."),
            element("li", element("strong", "Soften with fat or yolk."), " Take the softener’s own water off the liquid. The amounts are from memory, a place to start."),
        ),
        table(
            "The second and third choice, for your flour",
            ["Liquid", "Add water", "or egg yolk", "or butter"],
            rows,
            "dw-figures",
        ),
        element("p", "Egg yolk and butter bring allergens (egg, milk), and raw yolk its own caution.", class_="dw-note"),
    ]  # fmt: skip


def _evidence() -> Element:
    entries = [
        element(
            "li",
            element("strong", f"{one.side.capitalize()}: "),
            one.says,
            element(
                "small",
                f"{one.citation}{f', doi {one.doi}' if one.doi else ''}. We read the {one.read} only.",
            ),
        )
        for one in EVIDENCE
    ]
    return element(
        "details",
        element("summary", "Published tests do not all agree that acid tightens dough"),
        element("ul", *entries, class_="dw-evidence"),
        element("p", "So make a small dough first, and go by what you feel."),
        open=True,
    )


def _workings(made: Result) -> list[Element]:
    """The working for the sourest of the liquids."""
    sourest = max(made.variants.values(), key=lambda each: feel.sourness(each.formula)[0])
    share, bounds = feel.sourness(sourest.formula)
    found = [feel.sour_share(feel.liquids(sourest.formula))]
    if share >= _SOUR_ENOUGH:
        found += [
            feel.extra_water(made.plain.flour, made.hydration, share, bounds),
            feel.softening(made.plain.flour, share, find(SOFTENERS[0])),
        ]
    return [
        element(
            "details",
            element("summary", f"The working, for {sourest.name}"),
            *(
                part
                for working in found
                for part in (
                    element("h4", working.title),
                    worked_example.given_list(working, made.style),
                    worked_example.steps(working, made.style),
                )
            ),
        )
    ]


def python_of(made: Result) -> str:
    """The exact calls behind a result."""
    keys = ", ".join(f'"{liquid.key}"' for liquid in made.variants)
    flour, water = (item.grams for item in made.plain.items)
    return f"""from calc.composition import find
from calc.feel import SCALES, Variant, extra_water, order, sourness
from calc.formula import Formula, Item
from calc.substitution import swap

plain = Formula((Item(find("bread-flour"), {flour:.6g}), Item(find("water"), {water:.6g})))
variants = []
for key in [{keys}]:
    dough = swap(plain, "water", find(key), part={made.part:.6g}).after
    sour, bounds = sourness(dough)
    print(key, "sour part", round(sour, 3), "bounds", bounds)
    print("  water to add:", extra_water({flour:.6g}, {made.hydration:.6g}, sour).sentence("extra"))
    variants.append(Variant(find(key).name, dough))
for scale in SCALES:
    print(scale.name)
    for place in order(variants, scale):
        print("  ", place.rank, place.variant.name, place.says, round(place.score or 0, 2))
"""


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the dough may go next: to a bake that compares these liquids, or to one swap."""
    flour, water = made.plain.items
    compared = [liquid.key for liquid in made.variants]
    dough = dict.fromkeys(onward.FORMULA_FIELDS, "") | {
        "flour": units.write_exact(flour.grams, "mass", made.style),
        "flour-kind": flour.ingredient.key,
        "liquid": units.write_exact(made.hydration, "share", made.style),
        "was": water.ingredient.key,
    }
    swap = dough | {"becomes": compared[0], "part": values["part"]}
    bake = dough | onward.to_compare(compared if len(compared) > 1 else ["water", *compared])
    return onward.links(values, {onward.BAKE: bake, onward.SWAP: swap, onward.BALANCE: swap})


PART = FormPart("feel", fields_of, form, result, result_view, headline, onward=onward_of)
