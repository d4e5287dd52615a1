"""What a side-by-side bake prints: comparison, bench sheets, tasting sheets and the code key."""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import cautions, units
from calc.acid import write_ph
from calc.comparison import Bake, Variant, sight
from calc.composition import RIDERS, Ingredient
from calc.formula import MEANINGS, Formula, Item
from calc.loaves import EQUAL_WARMTH, MEASURES, SCORES, Measure, write_spread
from calc.tasting import balanced_tasters
from calc.units import Style
from calc.words import capital
from docs.parts import worked_example
from docs.parts.shared.cards import as_cards
from docs.parts.shared.caution_list import caution
from docs.parts.shared.fields import Scale, quiet_button
from docs.parts.shared.formula_sheet import fine
from docs.parts.shared.water_line import water_line
from exercises.publish.html import Child, element, table

# Above these, a reader is told what to watch for. Common practice, no source.
MUCH_FAT, MUCH_LACTOSE, SOUR, THICK = 0.03, 0.02, 5.5, 0.85


# The most loaves of each that the page offers.
MOST_LOAVES = 5


@dataclass(frozen=True)
class Proof:
    """One rule by which every dough of a bake proofs."""

    name: str
    does: str
    then: str


PROOFS = {
    "time": Proof(
        "for the same time",
        "Proof every dough for the same time, at the same warmth.",
        "Then height and volume may differ.",
    ),
    "volume": Proof(
        "to the same volume",
        "Proof every dough to the same volume: put 50 g of each into a narrow straight jar, and stop when it has doubled there.",
        "Then the minutes may differ.",
    ),
}


@dataclass(frozen=True)
class Plan:
    """A bake, how it is run, the reader's scale, and how the reader wants numbers written.

    `warm` is the wanted dough temperature (°C); `spread` what the reader knows of the question's
    spread, in calc's unit.
    """

    bake: Bake
    style: Style
    scale: Scale
    question: Measure
    proof: Proof
    warm: float
    spread: float | None = None

    def mass(self, grams: float) -> str:
        """A weight on the reader's scale; yeast and salt finer than flour."""
        return fine(grams, self.style, self.scale)

    def share(self, share: float) -> str:
        return units.write(share, "share", self.style, step=0.001)


def print_button(text: str, sheet: str) -> Element:
    """A button that prints one kind of sheet alone."""
    return quiet_button(text, "print", data_print=sheet)


def sheet(kind: str, title: str, *children: Child) -> Element:
    """A section that can be printed alone."""
    return element("section", element("h3", title), *children, data_sheet=kind)


def _whose(plan: Plan) -> Element:
    """The bake's name, on every sheet: a class prints several bakes."""
    return element("p", "Bake: ", element("strong", plan.bake.word), class_="dw-bake-name")


def _print_or_show(kind: str) -> Element:
    """The print button, and one that shows the sheets, which otherwise are on paper only."""
    show = quiet_button(f"Show the {kind} sheets", "show")
    printed = print_button(f"Print the {kind} sheets", kind)
    return element("div", printed, show, class_="dw-buttons")


# The comparison.


def cautions_first(plan: Plan) -> list[Element]:
    """Allergens of every variant, then what to do about tasting and raw dough."""
    bake = plan.bake
    lines = [
        element("li", element("strong", f"{v.name}: "), cautions.allergens_of(v.dough))
        for v in bake.variants
    ]
    badly_borne = dict.fromkeys(said for v in bake.variants for said in cautions.borne(v.dough))
    return [
        *map(caution, badly_borne),
        element(
            "div",
            element("p", element("strong", "Allergens in each dough")),
            element("ul", *lines),
            element(
                "p",
                "Read the packs of your own products. Ask every taster about allergies before anyone tastes. "
                "Follow your local allergen rules.",
            ),
            class_="dw-caution",
            role="note",
        ),
        element(
            "p",
            element("strong", "Taste baked samples only. "),
            "Raw flour and raw egg may carry germs: nobody tastes the dough. ",
            _keep_cold(bake),
            class_="dw-caution",
            role="note",
        ),
    ]


def _keep_cold(bake: Bake) -> str:
    names = [v.name for v in bake.variants if v.liquid.perishable]
    if not names:
        return "Ovens and tins are hot: use dry cloths or gloves."
    return (
        f"What spoils: {', '.join(names)}, and each dough made with it. Keep it cold until you weigh it. "
        "Your local food code says how long such a dough may stand warm. Ovens and tins are hot."
    )


def warm_words(plan: Plan) -> str:
    """How warm every dough is to be."""
    warm = units.write(plan.warm, "temperature", plan.style, 0.5)
    near = units.write(EQUAL_WARMTH, "temperature difference", plan.style, 0.5)
    return f"Every dough at {warm} after mixing, and none more than {near} from another: a warmer dough rises faster."


def _control(bake: Bake) -> Element | None:
    if bake.control:
        return None
    return element(
        "p",
        element("strong", "No dough with plain water. "),
        "You can then compare these liquids with each other, but not say what any of them does to your usual dough. "
        "Add water as one more liquid.",
        class_="dw-note",
    )


def _sight(plan: Plan) -> Element:
    """What the bake can show, told before it, with fewer and more loaves beside it."""
    bake, name = plan.bake, plan.question.name
    rows: list[list[Child]] = []
    for loaves in range(2, MOST_LOAVES + 1):
        seen = sight(len(bake.variants), loaves)
        label = f"{loaves} loaves of each" + (" (your plan)" if loaves == bake.replicates else "")
        rows.append([label, _spreads(plan, seen.together), _spreads(plan, seen.seen)])
    pairs = "one pair" if bake.pairs == 1 else f"{bake.pairs} pairs"
    known = (
        "" if plan.spread else
        f" Do you know the spread of the {name} from an earlier bake? Type it in, and this table tells it in its unit."
    )  # fmt: skip
    return element(
        "details",
        element("summary", element("h4", "What this bake can show")),
        element("p", _sight_words(plan)),
        table(
            f"For {name}, with {pairs} to compare",
            [
                "",
                "means must come out apart by",
                "a true difference it shows in four bakes of five",
            ],
            rows,
            "dw-figures",
        ),
        element(
            "p",
            "Spread means the standard deviation of loaves made from the same formula, each from a dough of its own. "
            f"The risk of any false claim is kept at 5 %.{known}",
            class_="dw-note",
        ),
        class_="dw-section",
    )


def _sight_words(plan: Plan) -> str:
    seen = plan.bake.sight
    if seen is None:
        return "With one loaf of each it can show nothing about the liquids: nobody will know how far two loaves of the same dough lie apart."
    return (
        f"Smaller differences will be there, and this bake will miss them: it finds a true difference in {plan.question.name} "
        f"four times in five only from {_spreads(plan, seen.seen)} on. If that is too coarse, bake more loaves of fewer liquids."
    )


def _spreads(plan: Plan, spreads: float) -> str:
    told = f"{units.digits(spreads, 0.1, plan.style)} spreads"
    if plan.spread is None:
        return told
    return f"{write_spread(spreads * plan.spread, plan.question, plan.style)} ({told})"


def comparison(plan: Plan, headline: str, warmed: Element) -> Element:
    """Cautions, then all variants beside each other: the weigh-up, and what each dough holds."""
    return sheet(
        "plan",
        "The variants side by side",
        _whose(plan),
        *cautions_first(plan),
        element("p", headline, class_="dw-answer"),
        _control(plan.bake),
        _weigh_up(plan),
        warmed,
        element("p", f"{plan.proof.does} {plan.proof.then}"),
        _sight(plan),
        water_line({each.name: each.dough for each in plan.bake.variants}, plan.style),
        _holds(plan),
        element(
            "p",
            "Flour, salt, yeast and the rest weigh the same in every variant. The water in the liquids is "
            "the same too. Fat, sugars and salt ride along with the liquid: they differ, and that is what you compare.",
        ),
        *(_working(plan, variant) for variant in plan.bake.variants),
    )


def _lines(plan: Plan) -> list[Ingredient]:
    found = dict.fromkeys(
        i.ingredient for v in plan.bake.variants for i in v.dough.items if i.grams
    )
    liquids = [v.liquid for v in plan.bake.variants]
    rest = [each for each in found if each not in liquids]
    flour = [each for each in rest if each.is_flour]
    return [*flour, *liquids, *(each for each in rest if each not in flour)]


def _grams(dough: Formula, ingredient: Ingredient) -> float:
    return sum(item.grams for item in dough.items if item.ingredient == ingredient)


def _weigh_up(plan: Plan) -> Element:
    variants = plan.bake.variants
    totals = {item.ingredient: item.grams for item in plan.bake.in_all()}
    rows: list[list[Child]] = []
    for each in _lines(plan):
        grams = [_grams(v.dough, each) for v in variants]
        cells = [plan.mass(one) if one else "–" for one in grams]
        rows.append([each.name, *cells, plan.mass(totals[each])])
    doughs = [v.dough.dough for v in variants]
    total = sum(doughs) * plan.bake.replicates
    rows.append(["dough", *(plan.mass(one) for one in doughs), plan.mass(total)])
    count = len(plan.bake.loaves)
    return table(
        "Weigh-up for one loaf of each",
        ["Ingredient", *(v.name for v in variants), f"All {count} loaves"],
        rows,
        "dw-figures dw-sheet",
    )


def _holds(plan: Plan) -> Element:
    variants = plan.bake.variants
    rows: list[list[Child]] = [
        [
            element("span", f"hydration: {meaning.name}", element("small", meaning.explained)),
            *(plan.share(v.hydration(meaning.key)) for v in variants),
        ]
        for meaning in MEANINGS
    ]
    for part, name in RIDERS.items():
        label = element(
            "span",
            f"{name} from the liquid",
            element("small", "under it: in the whole dough, and as % of flour"),
        )
        rows.append([label, *(_part(plan, v, part) for v in variants)])
    rows.append(["acidity of the liquid", *(_ph(plan, v) for v in variants)])
    heads = ["", *(v.name for v in variants)]
    rows.append(["allergens", *(element("span", cautions.allergens_of(v.dough)) for v in variants)])
    return element(
        "details",
        element("summary", element("h4", "What each dough holds, and its allergens")),
        as_cards(table("What each dough holds", heads, rows, "dw-figures dw-holds")),
        class_="dw-section",
    )


def _part(plan: Plan, variant: Variant, part: str) -> Child:
    def written(grams: float | None) -> str:
        return "not known" if grams is None else units.write(grams, "mass", plan.style, step=0.1)

    whole, share = variant.dough.total(part), variant.share(part)
    dough = "dough not known" if share is None else f"{written(whole)}, {plan.share(share)}"
    return element("span", written(variant.brought(part)), element("small", dough))


def _ph(plan: Plan, variant: Variant) -> str:
    ph = variant.liquid.ph
    return f"pH {write_ph(ph, plan.style)}" if ph else "not known"


def _working(plan: Plan, variant: Variant) -> Element:
    return element(
        "details",
        element("summary", f"How the {variant.name} is worked out"),
        worked_example.given_list(variant.swap.working, plan.style),
        worked_example.steps(variant.swap.working, plan.style),
    )


# The bench sheets.


def bench_sheets(plan: Plan) -> Element:
    """One sheet a variant; each prints on a page of its own."""
    return sheet(
        "bench",
        "Bench sheets",
        element("p", _mixing(plan.bake), class_="dw-screen-only"),
        _print_or_show("bench"),
        *(_bench(plan, v) for v in plan.bake.variants),
    )


def _mixing(bake: Bake) -> str:
    rounds = "; ".join(
        f"round {number}: {', '.join(v.name for v in one)}"
        for number, one in enumerate(bake.mixing_rounds(), 1)
    )
    batches = (
        " Mix a dough of its own for each loaf. Two loaves from one dough show how shaping and oven differ, "
        "not how doughs differ."
        if bake.replicates > 1
        else ""
    )
    return (
        f"Mix in this order, so that no liquid is always early: {rounds}. Bake a round together. Number the places in the "
        f"oven; the sheets say which loaf goes where, so that no liquid keeps the hot corner.{batches}"
    )


def _bench(plan: Plan, variant: Variant) -> Element:
    bake = plan.bake
    return element(
        "article",
        element("h4", f"Bench sheet: {variant.name}"),
        _whose(plan),
        element(
            "p",
            element("strong", "Allergens: "),
            cautions.allergens_of(variant.dough),
            class_="dw-caution",
        ),
        table(
            f"Weigh-up for one loaf ({bake.replicates} to make)",
            ["Ingredient", "Weight", "Done"],
            [*(_bench_row(plan, item) for item in variant.dough.items if item.grams)],
            "dw-bench-weights",
        ),
        element(
            "div",
            element("p", element("strong", "What to watch")),
            element("ul", *(element("li", text) for text in watch(plan, variant))),
            class_="dw-watch",
        ),
        table(
            "Write down for each loaf",
            ["", *(f"Loaf {number}" for number in range(1, bake.replicates + 1))],
            [
                *_given_places(bake, variant),
                *([label, *([""] * bake.replicates)] for label in _boxes()),
            ],
            "dw-write-in",
        ),
        class_="dw-bench dw-print-only",
    )


def _bench_row(plan: Plan, item: Item) -> list[Child]:
    ticks = (
        element("span", class_="dw-tick", aria_hidden="true") for _ in range(plan.bake.replicates)
    )
    return [item.ingredient.name, plan.mass(item.grams), element("span", *ticks)]


def _given_places(bake: Bake, variant: Variant) -> list[list[Child]]:
    """Which dough of its round each loaf is, and where it bakes."""
    rounds = bake.mixing_rounds()
    loaves = range(1, bake.replicates + 1)
    count = len(bake.variants)
    return [
        ["mix it as", *(f"{rounds[n - 1].index(variant) + 1} of {count}" for n in loaves)],
        ["place in the oven", *(str(bake.oven_place(variant, n)) for n in loaves)],
    ]


def _boxes() -> list[Child]:
    boxes: list[Child] = ["mixed by, date"]
    for measure in MEASURES:
        if measure.key == "proof":
            boxes += ["proof starts at", "proof ends at"]
        boxes.append(element("span", measure.name, element("small", measure.how)))
    return [*boxes, "remarks"]


def watch(plan: Plan, variant: Variant) -> list[str]:
    """What a baker should look at in this dough. Common practice where it says "may" or "usually"."""
    liquid = variant.liquid
    grams = variant.swap.new.grams
    flour = variant.dough.flour
    said = [
        capital(c.text)
        for c in cautions.cautions(plan.bake.base, variant.dough)
        if c.key != "allergen"
    ]
    if liquid.water < THICK:
        said.append("This liquid is thick. Stir it well, and scrape all of it into the bowl.")
    if liquid.ph is not None and liquid.ph.high < SOUR:
        said.append(
            "It is sour: the dough may feel tighter or softer than the others. Add no water."
        )
    if (liquid.fat or 0) * grams / flour >= MUCH_FAT:
        said.append("It brings fat: the dough may feel softer, and the crumb is usually softer.")
    if (liquid.lactose or 0) * grams / flour >= MUCH_LACTOSE:
        said.append(
            "It brings milk sugar, which bread yeast cannot eat, so the crust may brown more."
        )
    if liquid.perishable:
        said.append("It comes cold from the fridge. Warm it just before you mix, not earlier.")
    return [
        *said,
        f"{warm_words(plan)} Write it down.",
        "Whoever feels the dough does not know which one it is: somebody else brings the bowls.",
        plan.proof.does,
    ]


# Tasting.


def tasting_sheets(plan: Plan) -> Element:
    """One sheet a taster, with codes only. On the screen the first one stands for all."""
    bake = plan.bake
    count = len(bake.variants)
    balance = f"{_balance(bake)} All that one taster tastes comes from the same round of baking."
    sheets = [_taster(plan, number, codes) for number, codes in enumerate(bake.tasting(), 1)]
    return sheet(
        "tasting",
        "Tasting sheets",
        element(
            "p",
            f"Each taster tastes {count} samples by code and does not know the liquids. {balance}",
            class_="dw-screen-only",
        ),
        _print_or_show("tasting"),
        *sheets,
    )


def _balance(bake: Bake) -> str:
    need, whole = (balanced_tasters(len(bake.variants), n) for n in (1, bake.replicates))
    if bake.tasters % whole == 0:
        return (
            f"With {bake.tasters} tasters the order is balanced: every loaf comes equally often in every place, and every "
            "liquid equally often right after every other."
        )
    if bake.tasters % need == 0:
        return (
            f"With {bake.tasters} tasters the order is balanced for the liquids. With {whole}, or a multiple of it, each single "
            "loaf would come equally often in every place too."
        )
    return (
        f"The order is balanced for the liquids when the tasters are {need}, {2 * need}, {3 * need} …, and for each loaf with "
        f"{whole}. You have {bake.tasters}, so some places and neighbours come more often."
    )


def _taster(plan: Plan, number: int, codes: tuple[int, ...]) -> Element:
    heads = ["Taste in this order", *(f"{m.name}: {m.how}" for m in SCORES), "Remarks"]
    return element(
        "article",
        element("h4", f"Taster {number}"),
        _whose(plan),
        element(
            "p",
            "Tell us about allergies and foods you avoid before you taste. Ask which allergens are here.",
            class_="dw-caution",
        ),
        element(
            "p",
            "Take a sip of water before each sample. Do not talk about the samples until the end.",
        ),
        table(
            f"Sheet of taster {number}",
            heads,
            [[str(code), *([""] * (len(heads) - 1))] for code in codes],
            "dw-write-in",
        ),
        class_="dw-taster dw-print-only",
    )


def code_key(plan: Plan) -> Element:
    """Which code is which loaf, and each taster's order: for the teacher alone, so folded on the screen."""
    bake = plan.bake
    codes = bake.codes()
    return sheet(
        "key",
        "Code key, for the teacher only",
        _whose(plan),
        element(
            "p",
            "Keep this page away from the tasters. Mark each loaf’s plate with its code after baking. "
            "Cut all samples alike, from the same part of the loaf.",
        ),
        element("p", print_button("Print the code key", "key")),
        element(
            "details",
            element("summary", element("h4", "Show the codes and the serving order")),
            table(
                "Codes",
                ["Liquid", *(f"Loaf {number}" for number in range(1, bake.replicates + 1))],
                [
                    [v.name, *(str(codes[v.key, n]) for n in range(1, bake.replicates + 1))]
                    for v in bake.variants
                ],
            ),
            table(
                "Serving order",
                ["Taster", *(f"{place}." for place in range(1, len(bake.variants) + 1))],
                [
                    [str(number), *(str(code) for code in order)]
                    for number, order in enumerate(bake.tasting(), 1)
                ],
            ),
            class_="dw-section",
        ),
        element(
            "p",
            "The order is balanced: no place and no neighbour is favoured. "
            "The codes are drawn from the name of the bake: the same name gives the same codes.",
        ),
    )
