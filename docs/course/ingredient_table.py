"""The whole composition table: every row with its figures and where each comes from.

The page's script sorts and searches the rows; what is in them is written here, once.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.allergens import ALLERGENS
from calc.composition import Ingredient
from calc.interval import Interval
from calc.names import SPELT
from docs.parts import python_cell
from docs.parts.shared.formula_form import GROUP_NAMES
from exercises.publish.html import Child, element

UNKNOWN = "not known"
NONE_NAMED = "none named"


@dataclass(frozen=True)
class Column:
    """A column to sort by; `is_figure` says that it holds numbers, largest first at a first sort."""

    key: str
    head: str
    is_figure: bool = True


COLUMNS = (
    Column("name", "Ingredient", False),
    Column("water", "Water"),
    Column("fat", "Fat"),
    Column("protein", "Protein"),
    Column("carbohydrate", "Carbo\u00adhydrate"),
    Column("sugars", "of that, sugars"),
    Column("salt", "Salt"),
    Column("ph", "pH"),
    Column("allergens", "Allergens", False),
    Column("source", "Source", False),
)

MORE = (
    ("lactose", "lactose"),
    ("fibre", "fibre"),
    ("ash", "minerals (ash)"),
    ("alcohol", "alcohol"),
)

CODE = """\
from calc.composition import find, table

milk = find("whole milk")
print(milk.name, milk.water, milk.water_range, milk.source)
for each in sorted(table().values(), key=lambda each: -(each.fat or 0))[:5]:
    print(f"{100 * each.fat:6.2f} g fat in 100 g of {each.name}")
"""


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The search form (for when scripts run), the table, and the call behind it."""
    rows = composition.table().values()
    heads = [
        element("th", column.head, scope="col", data_key=column.key, data_figure=column.is_figure)
        for column in COLUMNS
    ]
    grid = element(
        "table",
        element("caption", "Grams in 100 g of each ingredient"),
        element("thead", element("tr", *heads)),
        element("tbody", *(_row(each) for each in rows)),
        class_="dw-grid",
        data_spelt=json.dumps(SPELT),
    )
    return [
        _form(),
        element("p", f"{len(rows)} ingredients.", class_="dw-status", role="status"),
        element(
            "div", grid, class_="dw-table", role="group", aria_label="Ingredients", tabindex="0"
        ),
        _not_found(),
        python_cell.folded(CODE),
    ]


def _not_found() -> Element:
    """What is where the rows were, when none answers a search."""
    add = element("a", "Add it from its pack", href="#", data_site="ingredients/")
    return element(
        "div",
        element("p", "What you look for has no place in this table yet? ", add, "."),
        class_="dw-empty-place",
        data_picture="own-shelf",
        hidden=True,
    )


def figure(grams: float) -> str:
    """Grams in 100 g as the table holds them: no noise, no noughts at the end."""
    return f"{round(grams, 4):g}"


def shown(grams: float) -> str:
    """Grams in 100 g to read: salt is reckoned from sodium and has figures that mean nothing."""
    return figure(float(units.digits(grams, 0.01)) if grams >= 0.1 else grams)


def cited(source: str) -> Element:
    """A source's key, such as ``usda-sr:1077 1078``, in words, linked to the sources page."""
    key, _, numbers = source.partition(":")
    words = composition.sources()[key]["short"]
    rows = numbers.split()
    if rows:
        words += f", {'row' if len(rows) == 1 else 'rows'} {', '.join(rows)}"
    return element("a", words, data_site=f"sources/#{key}")


def names_for(ingredient: Ingredient) -> tuple[str, ...]:
    """Every name that finds an ingredient, its own first, and its group last."""
    return (ingredient.name, *ingredient.also, ingredient.group)


def _form() -> Element:
    orders = (("up", "smallest or A first"), ("down", "largest or Z first"))
    choices = [("", "kind, as in the table"), *((c.key, c.head.lower()) for c in COLUMNS)]
    return element(
        "form",
        element(
            "div",
            element(
                "div",
                element("label", "Find an ingredient", for_="ingredients-find"),
                element(
                    "input", id="ingredients-find", name="find", type="search", autocomplete="off",
                    spellcheck="false", enterkeyhint="search",
                ),
                class_="dw-field",
            ),
            _select("by", "Sort by", choices),
            _select("order", "In order", orders),
            class_="dw-row",
        ),
        class_="dw-form",
        role="search",
        aria_label="The ingredient table",
    )  # fmt: skip


def _select(name: str, label: str, choices) -> Element:
    options = (
        element("option", text.replace("\u00ad", ""), value=value) for value, text in choices
    )
    return element(
        "div",
        element("label", label, for_=f"ingredients-{name}"),
        element("select", *options, id=f"ingredients-{name}", name=name),
        class_="dw-field",
    )


def _row(each: Ingredient) -> Element:
    name = element(
        "th",
        each.name,
        element("small", GROUP_NAMES[each.group]),
        scope="row",
        data_value=each.name,
    )
    parts = [
        _figure(column, getattr(each, column.key))
        for column in COLUMNS
        if column.key in ("fat", "protein", "carbohydrate", "sugars", "salt")
    ]
    allergens = ", ".join(ALLERGENS[word].name for word in each.allergens)
    return element(
        "tr",
        name,
        _figure(COLUMNS[1], each.water, each.water_range),
        *parts,
        _acidity(each.ph),
        element("td", allergens or NONE_NAMED, data_label="Allergens", data_value=allergens),
        _source(each),
        id=f"of-{each.key}",
        data_names="|".join(names_for(each)),
    )


def _figure(column: Column, share: float | None, around: Interval | None = None) -> Element:
    label = column.head.replace("\u00ad", "").replace("of that, s", "S")
    if share is None:
        return element("td", element("i", UNKNOWN), data_label=label, data_value="")
    return element(
        "td",
        shown(100 * share),
        element("small", _span(around, 100)) if around and around.width else None,
        data_label=label,
        data_value=figure(100 * share),
    )


def _acidity(ph: Interval | None) -> Element:
    if ph is None:
        return element("td", element("i", UNKNOWN), data_label="pH", data_value="")
    middle = figure((ph.low + ph.high) / 2)
    return element("td", _span(ph), data_label="pH", data_value=middle)


def _span(ends: Interval, times: float = 1) -> str:
    low, high = figure(times * ends.low), figure(times * ends.high)
    return low if low == high else f"{low} to {high}"


def _source(each: Ingredient) -> Element:
    """The row's source, then, folded, those of single figures and what else the table holds."""
    cell = element("td", cited(each.source), data_label="Source")
    cell.set("data-value", "".join(cell.itertext()))
    hidden = element("span", f" on {each.name}", class_="dw-hidden")
    cell.append(
        element("details", element("summary", "More", hidden), _more(each), class_="dw-more")
    )
    return cell


def _more(each: Ingredient) -> Element:
    lines: list[tuple[str, Child, str]] = [
        (label, f"{figure(100 * share)} g", "")
        for part, label in MORE
        if (share := getattr(each, part))
    ]
    if each.density:
        lines.append(("density", f"{figure(each.density)} g/ml", each.density_source))
    if each.bulk:
        lines.append(("1 ml by cup or spoon", f"{_span(each.bulk)} g", each.bulk_source))
    if each.water_range.width:
        lines.append(("range of water", None, each.water_range_source))
    if each.sugars is not None and each.sugars_source != each.source:
        lines.append(("sugars", None, each.sugars_source))
    if each.ph:
        lines.append(("pH", None, each.ph_source))
    pairs = [
        element(
            "div",
            element("dt", label),
            element(
                "dd", said, "; " if said and source else None, cited(source) if source else None
            ),
        )
        for label, said, source in lines
    ]
    return element(
        "div",
        element("p", f"Also called: {', '.join(each.also)}.") if each.also else None,
        element("dl", *pairs) if pairs else None,
        element("p", "Perishable: keep it cold.") if each.perishable else None,
        element("p", each.note) if each.note else None,
    )
