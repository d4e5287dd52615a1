"""The side-by-side bake: one formula with two to eight liquids, from the plan to what came out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from xml.etree.ElementTree import Element

from calc import units
from calc.comparison import FEWEST, MOST, Bake, plan
from calc.forced_choice import read_counts
from calc.formula import Formula, FormulaError
from calc.loaves import BY_KEY, QUESTIONS, Measure, read_cell, read_loaves, read_scores
from calc.units import ReadingError
from docs.parts import python_cell
from docs.parts.shared import (
    onward,
    side_by_side_choices,
    side_by_side_files,
    side_by_side_results,
    side_by_side_sheets,
)
from docs.parts.shared.caution_list import must_make_bread
from docs.parts.shared.fields import (
    FieldErrors,
    FieldReader,
    choice_field,
    folded_style,
    form_with_result,
    quiet_button,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.formula_form import (
    formula_fields,
    known_liquid,
    liquid_choices,
    notes,
    read_formula,
    scale_field,
    scale_of,
)
from docs.parts.shared.formula_table import all_cells, formula_table, put_cells, rows_of, shares
from docs.parts.shared.side_by_side_sheets import PROOFS, Plan, print_button
from exercises import untrusted
from exercises.publish.html import Child, element, write

DEFAULTS = {
    "loaves": "2", "word": "our first bake", "tasters": "8",
    "question": "height", "spread": "", "proof": "time", "warm": "25 °C",
    "mass": "g", "decimal": ".", "degrees": "°C", "scale": "1 g",
}  # fmt: skip
HEADS = {"share": "% of flour"}
LIQUIDS = "kefir; orange-juice; half-and-half; water"
SLOTS = tuple(f"liquid{number}" for number in range(1, MOST + 1))
MOST_LOAVES, MOST_TASTERS = 5, 40
LONGEST_WORD = 60


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a lesson's attributes; ``liquids`` lists what is compared."""
    values = formula_fields(attributes)
    values |= with_defaults(attributes, DEFAULTS)
    chosen = [key.strip() for key in attributes.get("liquids", LIQUIDS).split(";") if key.strip()]
    if not FEWEST <= len(chosen) <= MOST:
        raise ValueError(f"“liquids” must list {FEWEST} to {MOST} ingredients")
    return values | dict(zip(SLOTS, chosen + [""] * MOST, strict=False))


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The plan's form and, computed now, its sheets; then empty boxes for the results."""
    values = fields_of(attributes)
    prefix = attributes.get("id", "bake")
    made = read_plan(values)
    filled = form(values, prefix)
    put_cells(filled, cells_of(values, made))
    return [
        element("h2", "Plan the bake", class_="dw-hidden"),
        *form_with_result(filled, plan_view(made, values), headline(made)),
        element("h2", "Type in the results"),
        element("p", INTRODUCTION),
        element("div", class_="dw-buttons", data_kept=True),
        element("div", *side_by_side_results.forms(made, prefix), data_loaves=shape(made)),
        element("p", class_="dw-told", role="status", data_told=True),
        element(
            "div",
            *side_by_side_results.view(made, side_by_side_results.Results()),
            data_outcomes=True,
            class_="dw-output",
        ),
        files(prefix),
    ]


INTRODUCTION = (
    "Type what is on the bench sheets and the tasting sheets. Leave a box empty when you did not measure it. "
    "What you type stays on this device, under the name of the bake. The page sends it nowhere. "
    "Keep this page away from the tasters: it shows codes and liquids together."
)


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page: the plan with its results, a file to save, or a file that was opened.

    ``action`` is ``show``, ``csv``, ``scores``, ``json`` or ``open``; ``results`` holds the cells as JSON.
    Raises FieldErrors when a field of the plan, or an opened file, cannot be read.
    """
    action = values.get("action", "show")
    if action == "open":
        return _open(values.get("file", ""))
    cells = _cells(values)
    name = _file_name(values.get("word", ""))
    if action == "json":
        fields = {field: values[field] for field in fields_of({}) if field in values}
        text = side_by_side_files.save_json(fields, cells)
        return {"file": text, "filename": f"{name}.json", "says": f"{name}.json is saved."}
    made = read_plan(values)
    results, messages = read_results(made, cells)
    if action in ("csv", "scores"):
        save = side_by_side_files.save_csv if action == "csv" else side_by_side_files.save_scores
        file = f"{name}.csv" if action == "csv" else f"{name}-scores.csv"
        return {"file": save(made, results, cells), "filename": file, "says": f"{file} is saved."}
    remarks, offers = notes(values, made)
    return {
        "elements": plan_view(made, values),
        "loaves": write(*side_by_side_results.forms(made, values.get("prefix", "bake"))),
        "shape": shape(made),
        "outcomes": write(*side_by_side_results.view(made, results)),
        "bad": messages,
        "told": side_by_side_results.tell(made, messages),
        "says": headline(made),
        "remarks": remarks,
        "offers": offers,
        "cells": cells_of(values, made),
    }


def cells_of(values: Mapping[str, str], made: Plan) -> dict[str, str]:
    """The formula's column: its baker's percentages."""
    rows = rows_of(values)
    weighed = {name: item.grams for name, item in rows.items()}
    formula = Formula(tuple(rows.values()))
    return all_cells(values, rows, shares(weighed, formula, made.style), made.style)


def read_results(
    made: Plan, cells: Mapping[str, str]
) -> tuple[side_by_side_results.Results, dict[str, str]]:
    """What was typed, and a message for each cell that cannot be read."""
    loaves, bad = read_loaves(cells, _loaves(made.bake), made.style)
    scores, bad_scores = read_scores(cells, made.bake.served(), made.style)
    counts, bad_counts = read_counts(cells)
    results = side_by_side_results.Results(tuple(loaves), tuple(scores), tuple(counts))
    return results, bad | bad_scores | bad_counts


def shape(made: Plan) -> str:
    """What the boxes for the results depend on: the page keeps them while this stays the same."""
    codes = [f"{key}.{loaf}={code}" for (key, loaf), code in made.bake.codes().items()]
    tasters = str(made.bake.tasters)
    return " ".join([made.style.mass, made.style.temperature, tasters, *codes])


def _open(text: str) -> dict[str, object]:
    plan_fields, cells = side_by_side_files.open_json(text, fields_of({}))
    return {
        "plan": plan_fields,
        "results": cells,
        "says": f"The bake is open, with {len(cells)} numbers and remarks.",
    }


def _cells(values: Mapping[str, str]) -> dict[str, str]:
    """The typed cells that the page sent; what cannot be a cell is left out."""
    return side_by_side_files.checked(untrusted.strings(values.get("results", "")))


def _loaves(bake: Bake) -> list[tuple[str, int]]:
    return [(variant.key, number) for variant, number in bake.loaves]


def _file_name(word: str) -> str:
    """The name of a bake as a file may be called."""
    plain = re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-")
    return f"side-by-side-{plain[:40] or 'bake'}"


# From the form to the plan.


def read_plan(values: Mapping[str, str]) -> Plan:
    """The plan the form asks for. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    reader = FieldReader(values, style)
    items, old = read_formula(reader)
    liquids = [known_liquid(reader, slot) for slot in SLOTS if values.get(slot)]
    _check_liquids(reader)
    loaves = _whole(reader, "loaves", MOST_LOAVES, "loaves of each liquid")
    tasters = _whole(reader, "tasters", MOST_TASTERS, "tasters")
    word = " ".join(values.get("word", "").split())
    if not word or len(word) > LONGEST_WORD:
        reader.complain(
            "word",
            f"Give the bake a name of 1 to {LONGEST_WORD} characters, such as: class 2, week 5.",
        )
    question = BY_KEY.get(values.get("question", ""), BY_KEY[DEFAULTS["question"]])
    rule = PROOFS.get(values.get("proof", ""), PROOFS["time"])
    if question.key == "proof" and rule is PROOFS["time"]:
        reader.complain(
            "proof",
            "When all proof for the same time, no dough can be the quicker one. Choose the same volume.",
        )
    spread = _spread(reader, question)
    warm = reader.quantity("warm", "temperature", 10, 40) if values.get("warm") else 25.0
    reader.finish()
    scale = scale_of(values)
    try:
        bake = plan(Formula(tuple(items)), old.key, liquids, loaves, word, tasters, scale.step)
    except FormulaError as error:
        raise FieldErrors({"liquid1": str(error)}) from None
    for variant in bake.variants:
        must_make_bread(values, variant.dough)
    return Plan(bake, style, scale, question, rule, warm, spread)


def _spread(reader: FieldReader, question: Measure) -> float | None:
    """The spread that the reader knows from earlier bakes, in calc's unit; None when left empty."""
    text = reader.values.get("spread", "").strip()
    if not text:
        return None
    one = replace(question, low=0.0)
    try:
        value = read_cell(text, one, reader.style)
    except ReadingError as error:
        reader.complain("spread", str(error))
        return None
    if not value:
        reader.complain(
            "spread", "Loaves always spread a little. Leave this empty if you do not know how much."
        )
    return value


def _check_liquids(reader: FieldReader) -> None:
    seen: dict[str, str] = {}
    for slot in SLOTS:
        key = reader.values.get(slot, "")
        if not key:
            continue
        if key in seen:
            reader.complain(slot, "This liquid appears twice. Choose each one once.")
        seen[key] = slot
    if len(seen) < FEWEST:
        empty = next((slot for slot in SLOTS if not reader.values.get(slot)), SLOTS[0])
        reader.complain(empty, f"Choose at least {FEWEST} liquids to compare.")


def _whole(reader: FieldReader, name: str, most: int, what: str) -> int:
    number = units.read_whole(reader.values.get(name, "").strip()) or 0
    if not 1 <= number <= most:
        reader.complain(name, f"Write a whole number of {what}, from 1 to {most}.")
        return 1
    return number


# The form and the result.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The plan's form, filled in."""
    return element(
        "form",
        formula_table(values, prefix, HEADS),
        _liquids(values, prefix),
        _loaves_and_tasters(values, prefix),
        folded_style(
            prefix, values, "Grams or ounces, °C or °F, decimal mark, scale",
            scale_field(prefix, values), temperature=True,
        ),
        class_="dw-form",
        novalidate=True,
        aria_label="Plan of the side-by-side bake",
    )  # fmt: skip


def _liquids(values: Mapping[str, str], prefix: str) -> Element:
    """The lists of liquids: those that are chosen, and one more; the page shows the others as they fill."""
    liquids = [("", "– none –", ""), *liquid_choices()]
    filled = sum(bool(values[slot]) for slot in SLOTS)
    slots = (
        element(
            "div",
            choice_field(prefix, slot, f"Liquid {number}", values[slot], liquids),
            class_="dw-slot",
            hidden=number > max(filled + 1, FEWEST),
        )
        for number, slot in enumerate(SLOTS, 1)
    )
    return element(
        "fieldset",
        element("legend", f"The liquids to compare, {FEWEST} to {MOST}"),
        element("div", *slots, class_="dw-row"),
    )


def _loaves_and_tasters(values: Mapping[str, str], prefix: str) -> Element:
    def text(name: str, label: str, help: str = "", kind: str = "") -> Element:
        return text_field(prefix, name, label, values[name], help, kind)

    questions = [(one.key, one.name, "") for one in QUESTIONS]
    asks = "Only this can be claimed; the rest gives hints."
    proofs = [(key, rule.name, "") for key, rule in PROOFS.items()]
    rows = (
        (
            text("loaves", "Loaves of each", "2 or more show the spread"),
            text("tasters", "Tasters"),
        ),
        (
            choice_field(prefix, "question", "The question: what matters most", values["question"], questions, asks),
            text("spread", "Its spread, if you know it", "of loaves from the same formula, such as 4 mm"),
        ),
        (
            choice_field(prefix, "proof", "Proof every dough", values["proof"], proofs),
            text("warm", "Every dough at", "after mixing", "temperature"),
        ),
    )  # fmt: skip
    drawn_from = "The blind codes are drawn from it, and the results are kept under it."
    return element(
        "fieldset",
        element("legend", "Loaves and tasters"),
        *(element("div", *row, class_="dw-row") for row in rows),
        text("word", "Name of this bake", drawn_from),
    )


def headline(made: Plan) -> str:
    """The plan in one sentence."""
    bake = made.bake
    each = ", ".join(f"{v.name} {made.mass(v.swap.new.grams)}" for v in bake.variants)
    shares = {made.share(v.hydration()) for v in bake.variants}
    return f"Weigh for one loaf: {each}. Hydration {' or '.join(sorted(shares))} in every variant."


def plan_view(made: Plan, values: Mapping[str, str]) -> list[Element]:
    """The comparison, the sheets to print, where to go next, and the exact call."""
    return [
        side_by_side_sheets.comparison(made, headline(made), _warmed(made, values)),
        element("p", print_button("Print the comparison", "plan")),
        side_by_side_sheets.bench_sheets(made),
        side_by_side_sheets.tasting_sheets(made),
        side_by_side_sheets.code_key(made),
        side_by_side_choices.choice_tests(made),
        onward_of(values),
        python_cell.folded(python_of(made)),
    ]


def _warmed(made: Plan, values: Mapping[str, str]) -> Element:
    """A link for each variant to the tool that says how warm its liquid must be."""
    warm = {"wanted": units.write(made.warm, "temperature", made.style)}
    links: list[Child] = []
    for variant in made.bake.variants:
        dough = onward.of_formula(variant.dough, variant.key, made.style)
        if dough:
            link = onward.link(values, onward.TEMPERATURE, dough | warm, variant.name)
            links += [", ", link] if links else [link]
    return element(
        "p", f"{side_by_side_sheets.warm_words(made)} How warm its liquid must be: ", *links, "."
    )


def onward_of(values: Mapping[str, str]) -> Element:
    """Where the bake's formula may go next."""
    dough = onward.as_typed(values)
    tools = (onward.SWAP, onward.BALANCE, onward.TEMPERATURE, onward.YIELD)
    return onward.links(values, dict.fromkeys(tools, dough))


def files(prefix: str) -> Element:
    """Save and open a bake."""
    return element(
        "div",
        quiet_button("Save as CSV (for a spreadsheet)", "csv"),
        quiet_button("Save the scores as CSV", "scores"),
        quiet_button("Save as JSON (to open here again)", "json"),
        element(
            "div",
            element("label", "Open a saved JSON", for_=f"{prefix}-file"),
            element(
                "input",
                type="file",
                id=f"{prefix}-file",
                name="file",
                accept=".json,application/json",
            ),
            element("span", class_="dw-complaint", data_for="file"),
            class_="dw-field",
        ),
        element("span", class_="dw-did", role="status"),
        class_="dw-files",
    )


def python_of(made: Plan) -> str:
    """The exact call behind a plan."""
    bake = made.bake
    items = "\n".join(
        f'    Item(find("{item.ingredient.key}"), {item.grams:.6g}),'
        for item in bake.base.items
        if item.grams
    )
    old = bake.variants[0].swap.old.ingredient.key
    keys = ", ".join(f'"{variant.key}"' for variant in bake.variants)
    return f"""from calc.comparison import plan
from calc.composition import find
from calc.formula import Formula, Item
from calc.loaves import cell, outcomes, read_loaves

dough = Formula((
{items}
))
liquids = [find(key) for key in ({keys})]
bake = plan(dough, "{old}", liquids, {bake.replicates}, {bake.word!r}, {bake.tasters}, scale={made.scale.step:.9g})
for variant in bake.variants:
    print(variant.name, round(variant.swap.new.grams, 1), "g, hydration", variant.hydration())
print(bake.codes())
print(bake.tasting())
print("what it can see, in spreads:", bake.sight)

typed = {{cell("{bake.variants[0].key}", 1, "height"): "104", cell("{bake.variants[1].key}", 1, "height"): "98"}}
loaves, bad = read_loaves(typed, [(variant.key, number) for variant, number in bake.loaves])
for outcome in outcomes(loaves, question="{made.question.key}"):
    print(outcome.measure.name, outcome.groups, outcome.pairs)
"""
