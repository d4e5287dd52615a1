"""Acidity and feel: liquids side by side at the same water, what they usually do, and three choices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from xml.etree.ElementTree import Element

from calc import acid, composition, feel, units
from calc.composition import Ingredient, find
from calc.feel import FEATURES, GROUNDS, SCALES, STUDIES, Place, Scale, Study, Variant
from calc.formula import Formula, Item
from calc.interval import Interval
from calc.substitution import swap
from calc.units import Style
from calc.words import listed
from docs.parts import python_cell, worked_example
from docs.parts.shared import onward
from docs.parts.shared.cards import as_cards
from docs.parts.shared.caution_list import caution_list, must_make_bread
from docs.parts.shared.fields import (
    FieldReader,
    choice_field,
    folded_style,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import known_liquid, liquid_choices
from docs.parts.shared.loose_and_tight import loose_and_tight
from exercises.publish.html import Child, element, table

MOST_LIQUIDS = 6
# How a page says on which side of the bakers' claim a published test is, in this order.
SIDES = {
    "for": "for it",
    "against": "against it",
    "mixed": "mixed",
    "about": "on a related question",
}
SOFTENERS = ("egg-yolk", "butter")
# Below this the liquid asks for nothing.
_SOUR_ENOUGH = 0.05
# Ours: above so many mmol of acid for 100 g of flour (twice a yogurt dough) no common rule holds.
_TOO_SOUR = 20.0

DEFAULTS = {
    "flour": "500 g", "hydration": "65 %", "part": "100 %", "salt": "2 %",
    "liquids": "kefir, orange-juice, oat-drink, half-and-half", "mass": "g", "decimal": ".",
}  # fmt: skip


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes; ``liquids`` is a list with commas."""
    values = with_defaults(attributes, DEFAULTS)
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

    @cached_property
    def orders(self) -> dict[str, list[Place]]:
        """The variants on each scale, by its key."""
        return feel.orders(list(self.variants.values()), SCALES, self.style)

    @cached_property
    def sourness(self) -> dict[str, tuple[float, Interval] | None]:
        """The sour share of each variant, by its liquid's key; None where its acid is not known."""
        return {liquid.key: acid.sourness(each.formula) for liquid, each in self.variants.items()}


def result(values: Mapping[str, str]) -> Result:
    """Compute the variants. Raises FieldErrors, with a message for each field that stops them."""
    style = style_of(values)
    reader = FieldReader(values, style)
    flour = reader.amount("flour", 0.0, find("bread-flour"))
    if not flour:
        reader.complain("flour", "Give the flour a weight, such as 500 g. Hydration counts on it.")
    hydration = reader.share("hydration", 0.0, 2.0)
    part = reader.share("part", 0.0, 1.0)
    salt = reader.amount("salt", flour)
    chosen = _chosen(reader)
    reader.finish()
    plain = Formula(
        (
            Item(find("bread-flour"), flour),
            Item(find("water"), flour * hydration),
            Item(find("salt"), salt),
        )
    )
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
        if reader.values.get(name):
            chosen[known_liquid(reader, name)] = None
    if not chosen:
        reader.complain("liquid1", "Choose at least one liquid.")
    return list(chosen)


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""
    liquids = [("", "– none –", ""), *liquid_choices()]
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
                text_field(
                    prefix,
                    "salt",
                    "Salt",
                    values["salt"],
                    "2 %, or a weight; it decides how acid works",
                    kind="mass",
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
    places = [p for p in made.orders[scale.key] if p.rank]
    if len({p.rank for p in places}) < 2:
        return "These doughs are usually about equally tight."
    first = [p.variant.name for p in places if p.rank == 1]
    last = [p.variant.name for p in places if p.rank == places[-1].rank]
    return f"Usually {scale.first}: {listed(first)}. Usually {scale.last}: {listed(last)}."


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the orders, how sour each is, the choices, the studies, the working."""
    tightness = SCALES[0]
    shown = [
        *caution_list(made.plain, *(each.formula for each in made.variants.values())),
        element("p", headline(made), class_="dw-answer"),
        loose_and_tight(made.orders[tightness.key], _plain_score(made, tightness)),
        element("h2", "Which dough is usually which", class_="dw-hidden"),
        element("div", *(_scale(made, scale) for scale in SCALES), class_="dw-scales"),
        _reckoning(),
        _sour_table(made),
        *_choices(made),
        *_workings(made),
        python_cell.folded(python_of(made)),
    ]
    return [each for each in shown if each is not None]


def _plain_score(made: Result, scale: Scale) -> float | None:
    """Where the dough with plain water is on a scale."""
    return feel.order([Variant("plain water", made.plain)], scale)[0].score


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
        for place in made.orders[scale.key]
    ]
    return element(
        "section",
        element("h3", scale.name),
        element("p", f"From {scale.first} to {scale.last}.", class_="dw-note"),
        element("ol", *rows),
        element("p", scale.note, class_="dw-note") if scale.note else None,
        _evidence(scale),
    )


def _reckoning() -> Element:
    rows = [
        [
            element("span", scale.name, element("small", FEATURES[weight.of])),
            f"{'+' if weight.counts > 0 else '−'}{abs(weight.counts):g}",
            element("span", weight.why.says, element("small", _ground(weight))),
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
            "Each order is a simple score of composition. A point is one hundredth of the flour’s weight. How much each thing counts is "
            "ours, chosen to agree with common practice; what it counts rests on what the last column says. "
            f"Scores closer than this are a tie: {ties}. For proof time, the lowest score rises first.",
        ),
        table("What one point counts", ["Score and part", "Counts", "Why"], rows),
    )


def _ground(weight: feel.Weight) -> str:
    cited = "; ".join(STUDIES[key].citation for key in weight.why.studies)
    return GROUNDS[weight.why.ground] + (f"; see {cited}" if cited else "")


def _sour_table(made: Result) -> Element:
    rows = []
    for liquid, variant in made.variants.items():
        sour, load = made.sourness[liquid.key], acid.load(variant.formula)
        rows.append(
            [
                liquid.name,
                units.write(_weight(variant, liquid), "mass", made.style),
                acid.write_ph(liquid.ph, made.style) if liquid.ph else "not known",
                _held(acid.of(liquid), made.style),
                "?" if load is None else _mmol(load[0], load[1].low, load[1].high, made.style),
                "?" if sour is None else _span(sour[0], sour[1].low, sour[1].high, made.style),
            ]
        )
    heads = [
        "Liquid", "Weigh", "Its pH", "Acid in 100 g, mmol", "Acid for 100 g of flour, mmol", "Sour part of the water",
    ]  # fmt: skip
    return element(
        "div",
        as_cards(table("How much acid comes along", heads, rows, "dw-figures")),
        element(
            "p",
            "pH tells how sour a liquid is, not how much acid it holds: coffee lies near buttermilk in pH and holds a small part of its acid. "
            "So acid is counted as titratable acidity: how much base it takes to pH 8.2 or 8.3. One per cent of lactic acid is 11.1 mmol in 100 g. "
            f"{acid.MILD} mmol in 100 g of a liquid’s water, as in fresh milk, count as not sour. {acid.SOUR} mmol, the least in sour cream, count as fully sour, with a straight line between. That is our own reckoning. "
            "Yeast itself makes up to 1.6 mmol for 100 g of flour. A ? means that we found no figure, and so give no advice.",
            class_="dw-note",
        ),
    )


def _held(known: acid.Acid | None, style: Style) -> Child:
    if known is None:
        return element("span", "?", element("small", "not known"))
    source = composition.sources().get(known.source)
    named = source["short"] if source else known.source
    told = _mmol(known.mmol, known.between.low, known.between.high, style)
    return element("span", told, element("small", named))


def _mmol(value: float, low: float, high: float, style: Style) -> str:
    ends = [units.digits(each, 0.1, style) for each in (low, value, high)]
    return ends[1] if ends[0] == ends[2] else f"{ends[1]} ({ends[0]} to {ends[2]})"


def _weight(variant: Variant, liquid: Ingredient) -> float:
    return sum(item.grams for item in variant.formula.items if item.ingredient == liquid)


def _span(value: float, low: float, high: float, style: Style) -> str:
    ends = [units.write(end, "share", style) for end in (max(0.0, low), value, min(1.0, high))]
    return ends[1] if ends[0] == ends[2] else f"{ends[1]} ({ends[0]} to {ends[2]})"


def _sour(made: Result) -> dict[str, tuple[Variant, float]]:
    """The variants that are sour enough to ask for something, with their sour share."""
    found = {}
    for liquid, variant in made.variants.items():
        sour, load = made.sourness[liquid.key], acid.load(variant.formula)
        if sour and load and sour[0] >= _SOUR_ENOUGH and load[0] <= _TOO_SOUR:
            found[variant.name] = (variant, sour[0])
    return found


def _not_advised(made: Result) -> list[Element]:
    """Why some liquids get no advice: their acid is not known, or is too much for any rule."""
    said = []
    for variant in made.variants.values():
        load = acid.load(variant.formula)
        if load is None:
            why = f"{variant.name}: ? We do not know how much acid it holds, and pH alone does not tell. We advise nothing."
        elif load[0] > _TOO_SOUR:
            why = f"{variant.name}: far more acid than cultured milk brings. No common rule holds, and yeast may not work. Use a little of it, with water."
        else:
            continue
        said.append(element("p", why))
    return said


def _soften(variant: Variant, share: float, flour: float, style: Style) -> list[str]:
    """The softeners for one variant: what is there already counts."""
    there = feel.fat_in(variant.formula)
    if there is None:
        return ["?" for _ in SOFTENERS]
    if feel.fat_short(flour, share, there) <= 0:
        return ["none: its fat is enough" for _ in SOFTENERS]
    softened = [feel.softening(flour, share, find(key), there) for key in SOFTENERS]
    return [each.weighed("softener", style) for each in softened]


def _choices(made: Result) -> list[Element]:
    sour = _sour(made)
    if not sour:
        return [
            element(
                "p", "None of the liquids whose acid we know is sour enough to ask for a change."
            ),
            *_not_advised(made),
        ]
    rows = []
    for variant, share in sour.values():
        water = feel.extra_water(made.plain.flour, made.hydration, share)
        rows.append(
            [
                variant.name,
                element(
                    "span",
                    f"+{water.weighed('extra', made.style)}",
                    element("small", f"to {water.weighed('raised', made.style)}"),
                ),
                *_soften(variant, share, made.plain.flour, made.style),
            ]
        )
    choice = "Three choices for a sour liquid. Choose one, or a little of two."
    return [
        element("h3", "What you can do"),
        element("p", choice),
        element(
            "ol",
            element("li", element("strong", "Keep the water."), " The dough is usually tighter and takes longer; the loaf may stand taller."),
            element("li", element("strong", "Raise the water."), " Common practice: up to about five points of hydration when all the liquid is sour, less in proportion. In a dough without salt, feel it first: acid may soften it."),
            element("li", element("strong", "Soften with fat or yolk."), " Take the softener’s own water off the liquid. Fat that the liquid brings counts; where it brings more than your bread needs, take butter out. The amounts are from memory, a place to start."),
        ),
        table(
            "The second and third choice, for your flour",
            ["Liquid", "Add water", "or egg yolk", "or butter"],
            rows,
            "dw-figures",
        ),
        *_not_advised(made),
        element("p", "Egg yolk and butter bring allergens (egg, milk), and raw yolk its own caution.", class_="dw-note"),
    ]  # fmt: skip


def _evidence(scale: Scale) -> Element:
    """The published works that bear on one order, for and against."""
    return element(
        "details",
        element("summary", f"Published tests: {_sides(scale)}"),
        element("ul", *(_study(STUDIES[key]) for key in scale.studies), class_="dw-evidence"),
        element("p", "So make a small dough first, and go by what you feel."),
    )


def _sides(scale: Scale) -> str:
    sides = [STUDIES[key].side for key in scale.studies]
    return ", ".join(f"{sides.count(side)} {says}" for side, says in SIDES.items() if side in sides)


def _study(one: Study) -> Element:
    link = f", {one.link}" if one.link else ""
    return element(
        "li",
        element("strong", f"{SIDES[one.side].capitalize()}: "),
        one.says,
        element("small", f"Dose: {one.dose}. {one.citation}{link}. Read: {one.read}."),
    )


def _workings(made: Result) -> list[Element]:
    """The working for the sourest of the liquids whose acid is known."""
    known = {v: found for each, v in made.variants.items() if (found := made.sourness[each.key])}
    if not known:
        return []
    sourest = max(known, key=lambda each: known[each][0])
    share, bounds = known[sourest]
    found = [acid.sour_share(acid.liquids(sourest.formula))]
    if sourest.name in _sour(made):
        found.append(feel.extra_water(made.plain.flour, made.hydration, share, bounds))
        there = feel.fat_in(sourest.formula)
        if there is not None and feel.fat_short(made.plain.flour, share, there) > 0:
            found.append(feel.softening(made.plain.flour, share, find(SOFTENERS[0]), there))
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
    flour, water, salt = (item.grams for item in made.plain.items)
    return f"""from calc.acid import load, sourness
from calc.composition import find
from calc.feel import SCALES, Variant, extra_water, order
from calc.formula import Formula, Item
from calc.substitution import swap

plain = Formula((
    Item(find("bread-flour"), {flour:.6g}), Item(find("water"), {water:.6g}), Item(find("salt"), {salt:.6g}),
))
variants = []
for key in [{keys}]:
    dough = swap(plain, "water", find(key), part={made.part:.6g}).after
    print(key, "acid, mmol for 100 g of flour:", load(dough))
    sour = sourness(dough)
    print("  sour part", sour and round(sour[0], 3))
    if sour:
        print("  water to add:", extra_water({flour:.6g}, {made.hydration:.6g}, sour[0]).sentence("extra"))
    variants.append(Variant(find(key).name, dough))
for scale in SCALES:
    print(scale.name)
    for place in order(variants, scale):
        print("  ", place.rank, place.variant.name, place.says, round(place.score or 0, 2))
"""


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the dough may go next: to a bake that compares these liquids, or to one swap."""
    flour, water, salt = made.plain.items
    compared = [liquid.key for liquid in made.variants]
    dough = dict.fromkeys(onward.FORMULA_FIELDS, "") | {
        "flour": units.write_exact(flour.grams, "mass", made.style),
        "flour-kind": flour.ingredient.key,
        "liquid": units.write_exact(made.hydration, "share", made.style),
        "was": water.ingredient.key,
    }
    if salt.grams:
        dough |= {"with1": "salt", "amount1": units.write_exact(salt.grams, "mass", made.style)}
    swap = dough | {"becomes": compared[0], "part": values["part"]}
    bake = dough | onward.to_compare(compared if len(compared) > 1 else ["water", *compared])
    return onward.links(values, {onward.BAKE: bake, onward.SWAP: swap, onward.BALANCE: swap})


PART = FormPart("feel", fields_of, form, result, result_view, headline, onward=onward_of)
