"""Balance what rides along: a swap, and the weights that bring back fat, sugar, salt or dough weight."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.balance import PARTS, Balance, Miss, Unknown, amount, balance, may_adjust
from calc.composition import RIDERS, Ingredient
from calc.formula import Item
from calc.substitution import Swap
from calc.units import Style
from calc.words import listed, the
from docs.parts import python_cell, worked_example
from docs.parts.hydration_table import hydration_of, in_each_meaning
from docs.parts.shared import onward
from docs.parts.shared.caution_list import caution_list
from docs.parts.shared.fields import FieldReader, Scale, answer, check_box, style_of
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import (
    notes,
    read_swap,
    scale_of,
    style_details,
    swap_fields,
)
from docs.parts.shared.formula_sheet import fine, formula_call, ingredient_call, on_paper, sheet
from docs.parts.shared.formula_table import (
    ADDED,
    AFTER,
    DOUGH,
    all_cells,
    column,
    formula_table,
    rows_of,
    shares,
    weights,
)
from docs.parts.shared.water_line import water_line
from exercises.publish.html import Child, element, table

# Half of the 0.1 g that the tables show: less than this is held.
SHOWN = 0.05


@dataclass(frozen=True)
class Kind:
    """A kind of ingredient that may change: its word in ``change``, its label, which they are."""

    word: str
    label: str
    holds: Callable[[Ingredient], bool]


def _group(name: str) -> Callable[[Ingredient], bool]:
    return lambda each: each.group == name and may_adjust(each)


NEW = "new-liquid"
KINDS = (
    Kind("fats", "butter, oil, other fats", _group("fat")),
    Kind("sweeteners", "sugar, honey, syrups", _group("sweetener")),
    Kind("salt", "salt", _group("salt")),
    Kind("milk-powder", "milk powder", _group("dry")),
    Kind("water", "water (it may be added)", _group("water")),
    Kind(NEW, "the new liquid", lambda each: False),
)
DEFAULT_HOLD = "fat sugars salt"
DEFAULT_CHANGE = "fats sweeteners salt milk-powder water"


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """As `swap_fields`, with ``hold`` (words of `PARTS`) and ``change`` (words of `KINDS`)."""
    return swap_fields(attributes) | {
        f"{name}-{word}": "yes"
        for name, words in (("hold", DEFAULT_HOLD), ("change", DEFAULT_CHANGE))
        for word in attributes.get(name, words).split()
    }


@dataclass(frozen=True)
class Result:
    """What the form asked for, computed."""

    swap: Swap
    balance: Balance
    style: Style
    scale: Scale


def result(values: Mapping[str, str]) -> Result:
    """Compute the balance. Raises FieldErrors, with a message for each field that stops it."""
    style = style_of(values)
    done = read_swap(FieldReader(values, style))
    hold = {part for part in PARTS if f"hold-{part}" in values}
    made = balance(done.before, done.after, hold, _adjusters(values, done))
    return Result(done, made, style, scale_of(values))


def _adjusters(values: Mapping[str, str], done: Swap) -> list[Ingredient]:
    chosen = [kind for kind in KINDS if values.get(f"change-{kind.word}")]
    there = [item.ingredient for item in done.after.items]
    found = [each for each in there for kind in chosen if kind.holds(each)]
    words = {kind.word for kind in chosen}
    if "water" in words:
        found.append(composition.find("water"))
    if NEW in words:
        found.append(done.new.ingredient)
    return list(dict.fromkeys(found))


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The form, filled in."""
    return element(
        "form",
        formula_table(values, prefix, AFTER, swap=True),
        _boxes(values, prefix, "hold", "Hold, beside the water", PARTS),
        _boxes(
            values, prefix, "change", "What may change", {kind.word: kind.label for kind in KINDS}
        ),
        style_details(values, prefix),
        class_="dw-form",
        novalidate=True,
        aria_label="Balance what rides along",
    )


def _boxes(
    values: Mapping[str, str], prefix: str, name: str, legend: str, labels: Mapping[str, str]
) -> Element:
    boxes = [
        check_box(prefix, f"{name}-{word}", label, f"{name}-{word}" in values)
        for word, label in labels.items()
    ]
    return element(
        "fieldset",
        element("legend", legend),
        element("div", *boxes, class_="dw-boxes"),
    )


# The result.


def headline(made: Result) -> str:
    """What to weigh and what to change, in one or two sentences."""
    changes = {
        each: grams
        for each, grams in made.balance.changes.items()
        if abs(grams) >= SHOWN and each != made.swap.new.ingredient
    }
    step = made.scale.step
    moved = [
        f"{_fine(abs(grams), made)} {'more' if grams > 0 else 'less'} {each.name}"
        for each, grams in changes.items()
        if abs(grams) >= step
    ]
    small = [each.name for each, grams in changes.items() if abs(grams) < step]
    first = (
        f"Weigh {_weighed(made)} of {made.swap.new.ingredient.name} "
        f"in place of {the(made.swap.old.ingredient.name)}."
    )
    then = f" Then take {listed(moved)}." if moved else " Nothing else changes."
    leave = f" Leave the {listed(small)}: less than a step of your scale." if small else ""
    return f"{first}{then}{leave}"


def _weighed(made: Result) -> str:
    """The new liquid's weight, all of it."""
    items = made.balance.after.items
    grams = sum(each.grams for each in items if each.ingredient == made.swap.new.ingredient)
    return made.scale.shows(grams, made.style)


def _fine(grams: float, made: Result) -> str:
    return units.write(grams, "mass", made.style, step=0.1)


def result_view(made: Result) -> list[Element]:
    """Cautions first, then the answer, what was missed, hydration, what the dough holds, the sums."""
    done = made.balance
    sheets = {"Before": done.before, "Swapped": done.swapped, "Balanced": done.after}
    return [
        *caution_list(done.before, done.after),
        answer(headline(made), _weighed(made)),
        *(_missed(miss, made) for miss in _shown(done)),
        water_line(sheets, made.style),
        on_paper(sheet(sheets, made.style, made.scale)),
        in_each_meaning({"Before": done.before, "After": done.after}, made.style),
        element("p", _hydration(made), class_="dw-bounds"),
        _parts(made),
        *(element("p", _not_known(one), class_="dw-bounds") for one in done.unknown),
        element(
            "details",
            element("summary", "The sums, before and after"),
            worked_example.steps(done.checks, made.style),
        ),
        python_cell.folded(python_of(made)),
    ]


def _shown(done: Balance) -> list[Miss]:
    return [miss for miss in done.misses if abs(miss.grams) >= SHOWN]


def _missed(miss: Miss, made: Result) -> Element:
    much = "too much" if miss.grams > 0 else "too little"
    share = units.write(abs(miss.share_of_flour), "share", made.style, step=0.001)
    return element(
        "p",
        element("strong", f"{PARTS[miss.part].capitalize()} is not held: "),
        f"{_fine(abs(miss.grams), made)} {much}, {share} of the flour. {miss.reason} {miss.effect}",
        class_="dw-miss",
        role="note",
    )


def _parts(made: Result) -> Element:
    """What the dough holds in each formula, and whether it is held."""
    done = made.balance
    missed = {miss.part: miss.grams for miss in _shown(done)}
    rows: list[list[Child]] = []
    names = {"water": "all water"} | RIDERS | PARTS
    for part, name in names.items():
        before, swapped, after = (
            _fine(amount(each, part), made) for each in (done.before, done.swapped, done.after)
        )
        verdict = element("small", "held", class_="dw-held")
        if part in missed:
            verdict = element(
                "small", f"off by {_fine(abs(missed[part]), made)}", class_="dw-missed"
            )
        elif part not in ("water", *done.held):
            verdict = element("small", "not asked" if part in PARTS else "cannot be held")
        rows.append([name, before, swapped, element("span", after, verdict)])
    heads = ["In the dough", "Before", "Swapped", "Balanced"]
    return table("What the dough holds", heads, rows, "dw-figures")


def _hydration(made: Result) -> str:
    before, after = (
        units.write(hydration_of(each, "water"), "share", made.style, step=0.001)
        for each in (made.balance.before, made.balance.after)
    )
    same = "All water in the dough, butter’s too, is the same before and after. "
    if before == after:
        return f"{same}Counted in the liquids alone, the hydration is {after}, as before."
    return (
        f"{same}Counted in the liquids alone, the hydration goes from {before} to {after}: "
        "water that came with butter or syrup now comes as a liquid, or the other way round."
    )


def _not_known(one: Unknown) -> str:
    part = PARTS.get(one.part, one.part)
    counted = f"The table does not know the {part} of {one.ingredient.name}. It counts as nothing."
    if one.moves:
        return f"{counted} Its weight changes, so the true {part} may be off. Read its pack."
    return f"{counted} Its weight stays the same, so it does not shift the balance."


def python_of(made: Result) -> str:
    """The exact call behind a result."""
    done, part = made.swap, (made.swap.old.grams - made.swap.kept) / made.swap.old.grams
    movers = ", ".join(ingredient_call(each) for each in made.balance.changes)
    new = ingredient_call(done.new.ingredient)
    return f"""from calc.balance import balance
from calc.composition import find, own
from calc.formula import Formula, Item
from calc.substitution import swap

{formula_call(done.before)}
done = swap(dough, "{done.old.ingredient.key}", {new}, part={part:.6g})
made = balance(dough, done.after, {list(made.balance.held)}, [{movers}])
for each, grams in made.changes.items():
    print(each.name, "changes by", round(grams, 2), "g")
for miss in made.misses:
    print("not held:", miss.part, round(miss.grams, 2), "g.", miss.reason, miss.effect)
for step in made.checks.steps:
    print(step, "=", made.checks.sentence(step))
"""


def onward_of(values: Mapping[str, str], made: Result) -> Element:
    """Where the balanced dough may go next."""
    return onward.after_swap(values, made.swap, made.balance.after, onward.SWAP)


def cells_of(values: Mapping[str, str], made: Result) -> dict[str, str]:
    """The formula's columns: what to weigh, its baker's percentage, and what is weighed beside."""
    rows, after, style = rows_of(values), made.balance.after, made.style
    new = {"part": Item(made.swap.new.ingredient, 0.0)}
    weighed, rest = weights(rows | new, after)
    cells = column("after", weighed, lambda grams: fine(grams, style, made.scale))
    cells |= {f"after {DOUGH}": made.scale.shows(after.dough, style)}
    more = [f"{fine(i.grams, style, made.scale)} of {i.ingredient.name}" for i in rest]
    cells |= {ADDED: f"and {listed(more)}"} if more else {}
    return all_cells(values, rows, cells | shares(weighed, after, style), style)


PART = FormPart(
    "balance", fields_of, form, result, result_view, headline, notes, onward_of, cells_of
)
