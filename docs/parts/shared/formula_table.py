"""The formula as one table that is the form: each row is typed in and shows what became of it.

A row's fields are those of `formula_form`. Its further cells are results: each has a name,
``after flour`` or ``share amount3``, by which the build and the page's script fill it with the same
text. What is said of a row has the width of the table under it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.composition import Ingredient
from calc.formula import Formula, Item
from calc.units import Style
from docs.parts import formula_shelf
from docs.parts.shared.fields import (
    FieldReader,
    choice_field,
    complaint,
    in_cell,
    style_of,
    text_field,
)
from docs.parts.shared.formula_form import (
    OWN,
    ROWS,
    further_flours,
    ingredient_choices,
    liquid_choices,
    read_formula,
    row_names,
)
from exercises.publish.html import Child, element

# What the columns of most tools are called, by the first word of their cells' names.
AFTER = {"after": "After", "share": "% of flour"}
# The row of the whole dough, and the line for what no row has.
DOUGH, ADDED = "dough", "added"
# No scale shows so few grams: what is left of a sum's last figures.
NOTHING = 0.005


def formula_table(
    values: Mapping[str, str], prefix: str, heads: Mapping[str, str], swap: bool = False
) -> Element:
    """The formula's rows, filled in, with a column of results for each of `heads`.

    With `swap`, the new liquid has its row under the liquid whose place it takes.
    """
    more = _further_rows(values, prefix, heads)
    flours = [row for name in further_flours(values) for row in more.pop(name)]
    rows = [
        *_row(
            "flour",
            choice_field(prefix, "flour-kind", "Kind of flour", values["flour-kind"], _flours()),
            _amount(values, prefix, "flour", "Flour"),
            heads,
        ),
        *flours,
        *_row(
            "liquid",
            choice_field(prefix, "was", "Liquid in the formula", values["was"], liquid_choices()),
            _amount(values, prefix, "liquid", "Liquid: weight or % of flour"),
            heads,
        ),
        *(_swap_rows(values, prefix, heads) if swap else []),
        *(row for rows in more.values() for row in rows),
    ]
    head = [element("th", text, scope="col") for text in ("Ingredient", "Before", *heads.values())]
    foot = element(
        "tr",
        element("th", "dough", scope="row"),
        *(_result(kind, DOUGH) for kind in ("before", *heads)),
        class_="dw-line dw-total",
    )
    added = element("td", colspan=len(head), data_cell=ADDED, class_="dw-added")
    return element(
        "fieldset",
        element("legend", "The formula"),
        formula_shelf.folded(prefix),
        element(
            "table",
            element("thead", element("tr", *head)),
            element("tbody", *rows, element("tr", added)),
            element("tfoot", foot),
            class_="dw-formula-table",
        ),
        element(
            "p",
            "An amount is a weight or a % of the flour; cups, ml and eggs fit too.",
            class_="dw-note",
        ),
    )


def _flours() -> list[tuple[str, str, str]]:
    return ingredient_choices(lambda each: each.is_flour)


def _amount(values: Mapping[str, str], prefix: str, name: str, label: str) -> Element:
    return text_field(prefix, name, label, values[name], kind="mass")


def _further_rows(
    values: Mapping[str, str], prefix: str, heads: Mapping[str, str]
) -> dict[str, list[Element]]:
    """The rows that wait to be filled, by the names of their amounts; one empty one is shown."""
    choices = [("", "add: rye, salt, egg …", ""), *ingredient_choices(lambda each: True)]
    filled = max((n for n in range(1, ROWS + 1) if values[f"with{n}"]), default=0)
    rows = {}
    for n in range(1, ROWS + 1):
        of, name = f"with{n}", f"amount{n}"
        # All the rows' lists together would be most of the page.
        like = "with1" if n > 1 else ""
        chosen = choice_field(prefix, of, f"Ingredient {n}", values[of], choices, like=like)
        rows[name] = _row(name, chosen, _amount(values, prefix, name, f"Amount {n}"), heads)
        empty = "" if values[of] or values[name] else " dw-unfilled"
        rows[name][0].set("class", f"dw-line dw-more{empty}")
        for each in rows[name] if n > filled + 1 else ():
            each.set("hidden", "")
    return rows


def _row(
    name: str, chosen: Element, amount: Element, heads: Mapping[str, str], said: Child = None
) -> list[Element]:
    """A row, and under it the line for what is said of its two fields."""
    typed = element(
        "td", in_cell(amount), element("span", data_cell=f"read {name}", class_="dw-read-as")
    )
    return [
        element(
            "tr",
            element("th", said, in_cell(chosen), scope="row"),
            typed,
            *(_result(kind, name) for kind in heads),
            class_="dw-line",
        ),
        element(
            "tr",
            element(
                "td",
                complaint(_name_of(chosen)),
                complaint(_name_of(amount)),
                colspan=2 + len(heads),
            ),
            class_="dw-told",
        ),
    ]


def _name_of(field: Element) -> str:
    return next(each.get("name", "") for each in field.iter() if each.get("name"))


def _result(kind: str, row: str) -> Element:
    return element("td", data_cell=f"{kind} {row}", data_kind=kind)


def _swap_rows(values: Mapping[str, str], prefix: str, heads: Mapping[str, str]) -> list[Element]:
    """The new liquid, and its water where it is one's own."""
    becomes = [*liquid_choices(), (OWN, "my own water content", "My own")]
    part = text_field(prefix, "part", "Part to swap: % or weight", values["part"], kind="mass")
    own = element(
        "div",
        text_field(prefix, "own-water", "Water content", values["own-water"], "such as 86 %"),
        text_field(prefix, "own-low", "Lowest (may be blank)", values["own-low"]),
        text_field(prefix, "own-high", "Highest (may be blank)", values["own-high"]),
        class_="dw-row dw-own",
    )
    made = _row(
        "part",
        choice_field(prefix, "becomes", "New liquid", values["becomes"], becomes),
        part,
        heads,
        element("span", "in its place", class_="dw-becomes"),
    )
    made[0].set("class", "dw-line dw-new")
    # An amount here says how much of the liquid goes, not how much there is of the dough.
    for box in part.iter("input"):
        box.set("data-unit-by", "")
    return [*made, element("tr", element("td", own, colspan=2 + len(heads)), class_="dw-own-row")]


# What the cells say.


def rows_of(values: Mapping[str, str]) -> dict[str, Item]:
    """The formula's items by their rows. `values` must be readable."""
    items = read_formula(FieldReader(values, style_of(values)))[0]
    return dict(zip(row_names(values), items, strict=True))


def weights(rows: Mapping[str, Item], made: Formula) -> tuple[dict[str, float], list[Item]]:
    """What each row weighs in the formula `made`, in grams, and what of it no row has.

    Where two rows have one ingredient, the first one takes what changed.
    """
    left = _together(made)
    found: dict[str, float] = {}
    for name, item in reversed(rows.items()):
        first = not any(
            other.ingredient == item.ingredient for other in _before(rows, name).values()
        )
        there = left.get(item.ingredient, 0.0)
        found[name] = there if first else min(there, item.grams)
        left[item.ingredient] = there - found[name]
    return found, [Item(each, grams) for each, grams in left.items() if grams > NOTHING]


def _together(made: Formula) -> dict[Ingredient, float]:
    found: dict[Ingredient, float] = {}
    for item in made.items:
        found[item.ingredient] = found.get(item.ingredient, 0.0) + item.grams
    return found


def _before(rows: Mapping[str, Item], name: str) -> dict[str, Item]:
    names = list(rows)
    return {each: rows[each] for each in names[: names.index(name)]}


def column(
    kind: str, weighed: Mapping[str, float], write: Callable[[float], str]
) -> dict[str, str]:
    """A column's cells: each row's weight as `write` writes it, and a dash for nothing."""
    return {
        f"{kind} {name}": write(grams) if grams > NOTHING else "–"
        for name, grams in weighed.items()
    }


def shares(weighed: Mapping[str, float], made: Formula, style: Style) -> dict[str, str]:
    """The column of baker's percentages in the formula `made`."""

    def write(grams: float) -> str:
        return units.write(grams / made.flour, "share", style, step=0.001)

    return column("share", dict(weighed) | {DOUGH: made.dough}, write)


def all_cells(
    values: Mapping[str, str], rows: Mapping[str, Item], cells: Mapping[str, str], style: Style
) -> dict[str, str]:
    """All cells: those of the results, the dough's weight before, and the weight of a percentage.

    A weight that the next column tells is not told twice.
    """
    told = {"before dough": units.write(sum(item.grams for item in rows.values()), "mass", style)}
    for name, item in rows.items():
        weight = units.write(item.grams, "mass", style)
        if units.is_percentage(values.get(name, "")) and weight != cells.get(f"after {name}"):
            told[f"read {name}"] = f"= {weight}"
    return told | dict(cells)


def put_cells(form: Element, cells: Mapping[str, str]) -> None:
    """Write the cells into a form, as the page's script does."""
    for place in form.iter():
        if "data-cell" in place.attrib:
            place.text = cells.get(place.get("data-cell", ""), "")
