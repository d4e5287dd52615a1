"""The results of a side-by-side bake: boxes to type in, pictures, and what can be said from them."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.interval import Interval
from calc.loaves import (
    DERIVED,
    MEASURES,
    REMARK,
    Loaf,
    Measure,
    Outcome,
    Pair,
    bake_loss,
    cell,
    outcomes,
    specific_volume,
    write,
)
from calc.units import Style
from docs.parts import worked_example
from docs.parts.shared.fields import text_field
from docs.parts.shared.side_by_side_sheets import Plan, print_button, sheet
from exercises.publish.html import Child, element, table

# Up to so many pairs each stand in a sentence of their own.
SENTENCES = 6


def form(plan: Plan, prefix: str) -> Element:
    """A box for each number of each loaf."""
    codes = plan.bake.codes()
    cards = []
    for variant, number in plan.bake.loaves:
        boxes = [_box(prefix, cell(variant.key, number, m.key), m, plan.style) for m in MEASURES]
        remark = text_field(prefix, cell(variant.key, number, REMARK), "remark", "")
        legend = f"{variant.name}, loaf {number} (code {codes[variant.key, number]})"
        cards.append(
            element(
                "details",
                element("summary", legend),
                element("div", *boxes, remark, class_="dw-loaf", role="group", aria_label=legend),
                open=True,
            )
        )
    return element(
        "form", *cards, class_="dw-form dw-loaves", novalidate=True, aria_label="Results"
    )


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
    """Bad cells in one line: which loaf, which box, and what is wrong."""
    names = {variant.key: variant.name for variant in plan.bake.variants}
    measures = {measure.key: measure.name for measure in MEASURES} | {REMARK: "remark"}
    said = []
    for name, message in messages.items():
        variant, number, measure = name.rsplit(".", 2)
        said.append(f"{names[variant]}, loaf {number}, {measures[measure]}: {message}")
    return " ".join(said)


def view(plan: Plan, loaves: list[Loaf]) -> list[Element]:
    """The table of means, a picture of each measure, and the sentences."""
    found = outcomes(loaves)
    if not found:
        return [
            element(
                "p",
                "Nothing is typed in yet. When you type the first number, its picture and what it says stand here.",
                class_="dw-screen-only",
            )
        ]
    names = {variant.key: variant.name for variant in plan.bake.variants}
    return [
        sheet(
            "results",
            "What came out",
            *_general(plan, found),
            _means(plan, found, names),
            *(_measured(plan, one, loaves, names) for one in found),
            *_workings(plan, loaves),
            element("p", print_button("Print the results", "results")),
        )
    ]


# The sentences.


def _general(plan: Plan, found: list[Outcome]) -> list[Element]:
    said = []
    if all(one.common is None for one in found):
        said.append(
            "There is one loaf of each so far. Each number is about that one loaf and says nothing beyond "
            "it. Another loaf from the same formula would come out differently, and one loaf cannot show by how much. "
            "Bake each variant at least twice, better three times."
        )
    else:
        said.append(
            "The spread is how much loaves of the same variant differ (the sample standard deviation). A "
            "difference between variants counts only when it is larger than the spread can explain."
        )
        said.append(
            "“From … to …” is a 95 % interval for one pair taken alone: made in this way after each of many such "
            "bakes, it would hold the true difference in 95 of 100. It takes for granted that all variants spread "
            "alike. Where you compare several pairs, only a difference that stays clear of 0 in a wider interval, "
            "one that holds for all pairs together, is called larger than the spread can explain."
        )
    if len(found) > 1:
        said.append(
            f"You look at {len(found)} measures. The more you look at, the more often one differs by chance. "
            "Decide before the bake which one matters most."
        )
    if any(one.measure.several for one in found):
        said.append(
            "Several tasters’ scores of one loaf make one number, their mean. More tasters are not more loaves. "
            "Scores are opinions: a step from 3 to 4 need not be the same as one from 7 to 8."
        )
    said.append("This is one kitchen, one day, one flour. It may come out otherwise elsewhere.")
    return [element("p", text) for text in said]


def said_of(one: Outcome, names: Mapping[str, str], style: Style) -> list[tuple[str, list[str]]]:
    """What one measure's loaves can and cannot say: sentences, each with the pairs it is about."""
    if len(one.groups) < 2:
        return [("Only one variant has numbers here, so there is nothing to compare yet.", [])]
    if one.common is None:
        return [
            (
                "One loaf of each: these numbers describe these loaves. Which variant is really more "
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
    "perhaps": "Larger than the spread when this pair is taken alone. Among all the pairs that you compare, one "
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
        _difference(value, one.measure, style) for value in (gap, bounds.low, bounds.high)
    )
    return f"{names[more]} minus {names[less]}: {size} (from {low} to {high})"


def _difference(value: float, measure: Measure, style: Style) -> str:
    """A difference of two numbers: degrees have no zero of their own, and shares are points."""
    if measure.kind == "temperature":
        return units.write(value, "temperature difference", style, 0.1)
    if measure.kind == "share":
        return f"{units.digits(value * 100, 0.1, style)} percentage points"
    return write(value, measure, style, guard=1)


# The table and the pictures.


def _means(plan: Plan, found: list[Outcome], names: Mapping[str, str]) -> Element:
    rows: list[list[Child]] = [
        [one.measure.name, *(_mean(one, key, plan.style) for key in names)] for one in found
    ]
    return table(
        "Mean, spread and number of loaves", ["", *names.values()], rows, "dw-figures dw-holds"
    )


def _mean(one: Outcome, key: str, style: Style) -> Child:
    group = one.groups.get(key)
    if group is None:
        return "–"
    spread = (
        "one loaf" if group.spread is None
        else f"spread {_difference(group.spread, one.measure, style)}, {group.number} loaves"
    )  # fmt: skip
    return element("span", write(group.mean, one.measure, style), element("small", spread))


def _measured(plan: Plan, one: Outcome, loaves: list[Loaf], names: Mapping[str, str]) -> Element:
    return element(
        "figure",
        element("figcaption", one.measure.name[0].upper() + one.measure.name[1:]),
        *dots(plan, one, loaves, names),
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


def dots(plan: Plan, one: Outcome, loaves: list[Loaf], names: Mapping[str, str]) -> list[Element]:
    """A dot for every loaf and a line for the mean, one strip a variant, all on one scale."""
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
    plan: Plan, one: Outcome, key: str, name: str, loaves: list[Loaf], low: float, high: float
) -> Element:
    def across(value: float) -> str:
        return f"{(value - low) / (high - low) * 100:.2f}%"

    found = [
        (loaf.number, value)
        for loaf in loaves
        if loaf.variant == key and (value := loaf.value(one.measure.key)) is not None
    ]
    mean = one.groups[key].mean
    said = ", ".join(f"loaf {n} {write(v, one.measure, plan.style)}" for n, v in found)
    text = f"{name}: {said}; mean {write(mean, one.measure, plan.style)}"
    # Loaves stand at different heights, so that equal numbers do not hide each other.
    return element(
        "svg",
        element("title", text),
        element("line", x1=across(mean), x2=across(mean), y1="5%", y2="95%"),
        *(
            element(
                "circle", cx=across(v), cy=f"{100 * n / (plan.bake.replicates + 1):.0f}%", r="4.5"
            )
            for n, v in found
        ),
        role="img",
        class_="dw-dots",
    )


def _workings(plan: Plan, loaves: list[Loaf]) -> list[Element]:
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
