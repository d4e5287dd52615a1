"""The results of a side-by-side bake: boxes to type in, pictures, and what can be said from them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import forced_choice, units
from calc.forced_choice import TESTS, TRIANGLE, Count
from calc.interval import Interval
from calc.loaves import (
    DERIVED,
    EQUAL_WARMTH,
    MEASURES,
    REMARK,
    SCORE,
    SCORES,
    Loaf,
    Measure,
    Outcome,
    Pair,
    Score,
    asked,
    bake_loss,
    cell,
    outcomes,
    score_cell,
    specific_volume,
    warmth_apart,
    write,
    write_spread,
)
from calc.units import Style
from calc.words import capital, counted
from docs.parts import worked_example
from docs.parts.shared.cards import as_cards
from docs.parts.shared.fields import text_field
from docs.parts.shared.side_by_side_choices import said_of as said_of_choice
from docs.parts.shared.side_by_side_sheets import Plan, print_button, sheet
from exercises.publish.html import Child, element, table

# Up to so many pairs each have a sentence of their own.
SENTENCES = 6


@dataclass(frozen=True)
class Results:
    """All that was typed of a bake: its loaves, the tasters' scores, the tests by choice."""

    loaves: tuple[Loaf, ...] = ()
    scores: tuple[Score, ...] = ()
    counts: tuple[Count, ...] = ()


def forms(plan: Plan, prefix: str) -> list[Element]:
    """A box for each number of each loaf, for each score of each taster, and for the tests by choice."""
    return [
        _form("Results", "dw-loaves", _loaf_cards(plan, prefix)),
        element("h3", "The tasters’ scores"),
        _form("Scores", "dw-loaves dw-scores", _taster_cards(plan, prefix)),
        element("h3", "A triangle or paired test"),
        _form("Tests by choice", "dw-loaves dw-scores", [_choice_card(plan, prefix)]),
    ]


def _form(label: str, class_: str, cards: list[Element]) -> Element:
    return element("form", *cards, class_=f"dw-form {class_}", novalidate=True, aria_label=label)


def _card(legend: str, boxes: list[Element], open_: bool) -> Element:
    group = element("div", *boxes, class_="dw-loaf", role="group", aria_label=legend)
    return element("details", element("summary", legend), group, open=open_)


def _loaf_cards(plan: Plan, prefix: str) -> list[Element]:
    codes = plan.bake.codes()
    cards = []
    for variant, number in plan.bake.loaves:
        boxes = [_box(prefix, cell(variant.key, number, m.key), m, plan.style) for m in MEASURES]
        boxes.append(text_field(prefix, cell(variant.key, number, REMARK), "remark", ""))
        legend = f"{variant.name}, loaf {number} (code {codes[variant.key, number]})"
        cards.append(_card(legend, boxes, True))
    return cards


def _taster_cards(plan: Plan, prefix: str) -> list[Element]:
    """The boxes are as on the taster's sheet: by code, in the order of tasting."""
    codes = plan.bake.codes()
    cards = []
    for taster, loaves in enumerate(plan.bake.served(), 1):
        boxes = [
            text_field(
                prefix, score_cell(key, taster, one.key), f"{codes[key, loaf]}: {one.name}", ""
            )
            for key, loaf in loaves
            for one in SCORES
        ]
        cards.append(_card(f"Taster {taster}", boxes, False))
    return cards


def _choice_card(plan: Plan, prefix: str) -> Element:
    first, second = (variant.name for variant in plan.bake.variants[:2])
    boxes = []
    for test in TESTS:
        asked_, chosen = forced_choice.cells(test)
        what = "found the odd one" if test is TRIANGLE else f"chose {first}"
        boxes += [
            text_field(prefix, asked_, f"{test.name}: how many tasted", ""),
            text_field(prefix, chosen, f"{test.name}: how many {what}", ""),
        ]
    return _card(f"{first} and {second}", boxes, False)


def _box(prefix: str, name: str, measure: Measure, style: Style) -> Element:
    """A box, and the unit that the page writes after a bare number in it."""
    unit = style.unit(measure.kind)
    symbol = measure.unit or (unit.symbol if unit else "")
    label = f"{measure.name}, {symbol}" if symbol else measure.name
    made = text_field(prefix, name, label, "", measure.how)
    if symbol:
        next(made.iter("input")).set("data-unit", symbol)
    return made


def tell(plan: Plan, messages: Mapping[str, str]) -> str:
    """Bad cells in one line: which loaf or taster, which box, and what is wrong."""
    names = {variant.key: variant.name for variant in plan.bake.variants}
    return " ".join(f"{_cell_name(name, names)}: {text}" for name, text in messages.items())


def _cell_name(name: str, names: Mapping[str, str]) -> str:
    variant, number, measure = name.rsplit(".", 2)
    if variant not in names:
        return next(test.name for test in TESTS if test.key == variant)
    if measure.startswith(SCORE):
        score = next(one.name for one in SCORES if SCORE + one.key == measure)
        return f"Taster {number}, {names[variant]}, {score}"
    called = next((one.name for one in MEASURES if one.key == measure), measure)
    return f"{names[variant]}, loaf {number}, {called}"


def view(plan: Plan, results: Results) -> list[Element]:
    """The table of means, a picture of each measure, and the sentences."""
    found = outcomes(results.loaves, results.scores, plan.question.key)
    if not found and not results.counts:
        return [
            element(
                "div",
                element(
                    "p",
                    "Nothing is typed in yet. When you type the first number, its picture and what it says are shown here.",
                ),
                class_="dw-empty-place",
                data_picture="bake-to-come",
            )
        ]
    names = {variant.key: variant.name for variant in plan.bake.variants}
    return [
        sheet(
            "results",
            "What came out",
            *_general(plan, found),
            _means(plan, found, names) if found else None,
            *(_measured(plan, one, results.loaves, names) for one in found),
            *(element("p", said_of_choice(count, plan)) for count in results.counts),
            *_workings(plan, results.loaves),
            element("p", print_button("Print the results", "results")),
        )
    ]


# The sentences.


def _general(plan: Plan, found: list[Outcome]) -> list[Element]:
    said = []
    if found and all(one.common is None for one in found):
        said.append(
            "There is one loaf of each so far. Each number is about that one loaf and says nothing beyond "
            "it. Another loaf from the same formula would come out differently, and one loaf cannot show by how much. "
            "Bake each variant at least twice, better three times."
        )
    elif found:
        said.append(
            "The spread is the standard deviation: how far loaves of the same variant typically lie from their mean. A "
            "difference between variants counts only when it is larger than the spread can explain."
        )
        said.append(
            "“From … to …” is a 95 % interval for one pair taken alone: made in this way after each of many such "
            "bakes, it would hold the true difference in 95 of 100. It takes for granted that all variants spread alike."
        )
        said.append(_claims(plan, found))
    apart = warmth_apart(found)
    if apart > EQUAL_WARMTH:
        said.append(
            f"The doughs were not equally warm: their means lie {units.write(apart, 'temperature difference', plan.style, 0.1)} "
            "apart. Rise, proof and height may come from that, and not from the liquid."
        )
    if any(one.tasters for one in found):
        said.append(
            "Some tasters give high scores and some low ones. So each taster’s own level is taken out, and only the "
            "differences within a taster count. Scores tell these loaves apart: more tasters are not more loaves. "
            "And a step from 3 to 4 need not be the same as one from 7 to 8."
        )
    said.append("This is one kitchen, one day, one flour. It may come out otherwise elsewhere.")
    return [element("p", text) for text in said]


def _claims(plan: Plan, found: list[Outcome]) -> str:
    name = plan.question.name
    if [one.measure.key for one in asked(found, plan.question.key)] == [plan.question.key]:
        rest = (
            " The other measures only hint: to claim one of them, make it the question of another bake."
            if len(found) > 1
            else ""
        )
        return (
            f"This bake asks about {name}. What it calls larger than the spread can explain there stays clear when all its pairs "
            f"are read together (Holm’s rule). In bakes of liquids that are all alike, any such claim comes in 5 of 100 at most.{rest}"
        )
    return (
        f"The question, {name}, has no numbers yet. So all measures share one risk: in bakes of liquids that are all alike, any "
        "claim at all comes in 5 of 100 at most (Holm’s rule)."
    )


def said_of(one: Outcome, names: Mapping[str, str], style: Style) -> list[tuple[str, list[str]]]:
    """What one measure's loaves can and cannot say: sentences, each with the pairs it is about."""
    if len(one.groups) < 2:
        return [("Only one variant has numbers here, so there is nothing to compare yet.", [])]
    if one.common is None:
        return [
            (
                "One taster: these scores are one person’s. Nothing can be said beyond it."
                if one.tasters
                else "One loaf of each: these numbers describe these loaves. Which variant is really more "
                "cannot be said.",
                [],
            )
        ]
    if not one.spread_is_seen:
        return [
            (
                "Loaves of the same variant all gave the same number, so their spread cannot be seen. "
                "Measure more finely, or bake more loaves. Until then, a difference cannot be judged.",
                [],
            )
        ]
    said = []
    for verdict, sentence in VERDICTS.items():
        pairs = [_pair(one, pair, names, style) for pair in one.pairs if pair.verdict == verdict]
        if pairs and verdict == "not shown" and len(one.pairs) > SENTENCES:
            said.append(
                (f"{sentence.removesuffix(':')}: {len(pairs)} of {len(one.pairs)} pairs.", [])
            )
        elif pairs:
            said.append((sentence, pairs))
    return said


VERDICTS = {
    "larger": "Larger than the spread can explain:",
    "perhaps": "A hint: larger than the spread when this pair is taken alone. Among all that you compare, one "
    "like it may come by chance. Bake again before you believe it:",
    "not shown": "The spread can explain these. The loaves do not show which is more, and they do not show that "
    "they are alike:",
}


def _pair(one: Outcome, pair: Pair, names: Mapping[str, str], style: Style) -> str:
    more, less, gap, bounds = pair.one, pair.other, pair.gap, pair.alone
    if gap < 0:
        more, less, gap = less, more, -gap
        bounds = Interval(-bounds.high, -bounds.low)
    size, low, high = (
        write_spread(value, one.measure, style) for value in (gap, bounds.low, bounds.high)
    )
    return f"{names[more]} minus {names[less]}: {size} (from {low} to {high})"


# The table and the pictures.


def _means(plan: Plan, found: list[Outcome], names: Mapping[str, str]) -> Element:
    rows: list[list[Child]] = [
        [one.measure.name, *(_mean(one, key, plan.style) for key in names)] for one in found
    ]
    heads = ["", *names.values()]
    return as_cards(
        table("Mean, spread, and how many loaves or tasters", heads, rows, "dw-figures dw-holds")
    )


def _mean(one: Outcome, key: str, style: Style) -> Child:
    group = one.groups.get(key)
    if group is None:
        return "–"
    if one.tasters:
        spread = counted(one.tasters, "taster")
    elif group.spread is None:
        spread = "one loaf"
    else:
        spread = f"spread {write_spread(group.spread, one.measure, style)}, {group.number} loaves"
    return element("span", write(group.mean, one.measure, style), element("small", spread))


def _measured(
    plan: Plan, one: Outcome, loaves: Sequence[Loaf], names: Mapping[str, str]
) -> Element:
    return element(
        "figure",
        element("figcaption", capital(one.measure.name)),
        *dots(plan, one, loaves, names),
        element("p", _common(one, plan.style)) if one.spread_is_seen else None,
        *(
            element(
                "div",
                element("p", sentence),
                element("ul", *(element("li", pair) for pair in pairs)) if pairs else None,
            )
            for sentence, pairs in said_of(one, names, plan.style)
        ),
        class_="dw-outcome",
    )


def _common(one: Outcome, style: Style) -> str:
    spread = write_spread(one.common.spread, one.measure, style)
    return f"Spread of all variants together: {spread}."


def dots(
    plan: Plan, one: Outcome, loaves: Sequence[Loaf], names: Mapping[str, str]
) -> list[Element]:
    """A dot for every loaf or taster and a line for the mean, one strip a variant, all on one scale."""
    values = [value for group in one.groups.values() for value in group.values]
    low, high = min(values), max(values)
    room = (high - low or abs(high) or 1) * 0.1
    low, high = low - room, high + room
    strips = [
        element(
            "div",
            element("span", names[key], class_="dw-name"),
            _strip(plan, one, key, names[key], loaves, low, high),
            class_="dw-strip",
        )
        for key in names
        if key in one.groups
    ]
    ends = (write(end, one.measure, plan.style) for end in (low + room, high - room))
    axis = element(
        "div", *(element("span", end) for end in ends), class_="dw-axis", aria_hidden="true"
    )
    return [*strips, axis]


def _strip(
    plan: Plan, one: Outcome, key: str, name: str, loaves: Sequence[Loaf], low: float, high: float
) -> Element:
    def across(value: float) -> str:
        return f"{(value - low) / (high - low) * 100:.2f}%"

    found = _dots_of(one, key, loaves)
    mean = one.groups[key].mean
    unit, rows = ("taster", one.tasters) if one.tasters else ("loaf", plan.bake.replicates)
    said = ", ".join(f"{unit} {n} {write(v, one.measure, plan.style)}" for n, v in found)
    text = f"{name}: {said}; mean {write(mean, one.measure, plan.style)}"
    # Dots are at different heights, so that equal numbers do not hide each other.
    return element(
        "svg",
        element("title", text),
        element("line", x1=across(mean), x2=across(mean), y1="5%", y2="95%"),
        *(
            element("circle", cx=across(v), cy=f"{100 * n / (rows + 1):.0f}%", r="4.5")
            for n, v in found
        ),
        role="img",
        class_="dw-dots",
    )


def _dots_of(one: Outcome, key: str, loaves: Sequence[Loaf]) -> list[tuple[int, float]]:
    """Each number with its loaf's; a score with its taster's place among those who scored all."""
    if one.tasters:
        return list(enumerate(one.groups[key].values, 1))
    return [
        (loaf.number, value)
        for loaf in loaves
        if loaf.variant == key and (value := loaf.value(one.measure.key)) is not None
    ]


def _workings(plan: Plan, loaves: Sequence[Loaf]) -> list[Element]:
    """The first loaf's bake loss and specific volume, step by step."""
    names = {variant.key: variant.name for variant in plan.bake.variants}
    made = []
    for derived, build, needs in zip(
        DERIVED,
        (bake_loss, specific_volume),
        (("before", "after"), ("volume", "after")),
        strict=True,
    ):
        loaf = next((one for one in loaves if one.value(derived.key) is not None), None)
        if loaf is None:
            continue
        working = build(*(loaf.values[need] for need in needs))
        made.append(
            element(
                "details",
                element(
                    "summary",
                    f"How {derived.name} is worked out: {names[loaf.variant]}, loaf {loaf.number}",
                ),
                worked_example.given_list(working, plan.style),
                worked_example.steps(working, plan.style),
            )
        )
    return made
