"""Going on from one tool to the next: links that carry the formula in their address.

A link writes every field that the two forms share, the empty ones too: the next page's own example
would else show through.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from urllib.parse import quote_plus
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.formula import Formula, hydration
from calc.own_ingredient import to_record
from calc.substitution import Swap
from calc.units import Style
from docs.parts.shared.fields import style_of
from docs.parts.shared.formula_form import FORMULA_FIELDS, OWN, ROW_FIELDS, ROWS, SWAP_DEFAULTS
from exercises.publish.html import element

# Each tool that starts from a formula: its page, and that page's own name.
SWAP = ("swap/", "Swap a liquid")
BALANCE = ("balance/", "Balance what rides along")
TEMPERATURE = ("temperature/", "Dough temperature")
YIELD = ("scale/", "Yield and scaling")
BAKE = ("side-by-side/", "Plan a side-by-side bake")
FEEL = ("feel/", "Compare acidity and feel")

# Pages where a reader's dough is in hand: each takes it along from the last one.
DOUGH_PAGES = (SWAP, BALANCE, TEMPERATURE, YIELD, BAKE, ("blends/", "Blends and preferments"))

STYLE_FIELDS = ("mass", "decimal", "degrees", "scale")
# The bake has room for as many liquids; those that are not named are cleared.
BAKE_LIQUIDS = tuple(f"liquid{number}" for number in range(1, 9))

# The most of it that a link carries: an address has not room for all.
LONGEST_OWN = 2000

Fields = dict[str, str]


def as_typed(values: Mapping[str, str]) -> Fields:
    """The formula of a form, as it was typed."""
    return {name: values.get(name, "") for name in FORMULA_FIELDS}


def of_formula(formula: Formula, liquid: str, style: Style) -> Fields | None:
    """A formula that was computed, as a form's fields; None when no form has room for it.

    `liquid` is the key of the ingredient that is the form's liquid.
    """
    items = [item for item in formula.items if item.grams]
    flours = sorted((i for i in items if i.ingredient.is_flour), key=lambda item: -item.grams)
    wet = [item for item in items if item.ingredient.key == liquid]
    rest = [item for item in items if item not in (*flours, *wet)]
    known = all(item.ingredient.key != OWN for item in items)
    further = [*flours[1:], *rest]
    if not (flours and len(wet) == 1 and len(further) <= ROWS and known):
        return None
    shown = {item: _typed_weight(item.grams, style) for item in items}
    fields = dict.fromkeys(ROW_FIELDS, "") | {
        "flour": shown[flours[0]], "flour-kind": flours[0].ingredient.key,
        "liquid": shown[wet[0]], "was": liquid,
    }  # fmt: skip
    for number, item in enumerate(further, 1):
        fields |= {f"with{number}": item.ingredient.key, f"amount{number}": shown[item]}
    return fields


def _typed_weight(grams: float, style: Style) -> str:
    """A weight as a reader would type it, so that it is read as what it is."""
    # A cook's scale shows no finer step than the tenth; yeast and salt may be weighed finer.
    text = units.write_exact(round(grams, 1 if grams >= 10 else 2), "mass", style)
    try:
        units.read(text, "mass")
    except units.ReadingError:
        # “14,286 oz” may be thousands: one more nought says that it is a decimal comma.
        number, _, unit = text.partition(" ")
        return f"{number}0 {unit}"
    return text


def after_swap(
    values: Mapping[str, str], made: Swap, after: Formula, other: tuple[str, str]
) -> Element:
    """From a swap: the same swap in the `other` tool for swaps, and the new dough in the rest."""
    typed, new = as_typed(values), made.new.ingredient.key
    dough = of_formula(after, new, style_of(values))
    swap = typed | {name: values.get(name, "") for name in SWAP_DEFAULTS}
    bake = feel = None
    if OWN not in (new, typed["was"]):
        compared = to_compare([typed["was"], new])
        bake, feel = typed | compared, _plain_dough(made.before, style_of(values)) | compared
    doughs = {other: swap, TEMPERATURE: dough, YIELD: dough, BAKE: bake, FEEL: feel}
    return links(values, doughs)


def _plain_dough(formula: Formula, style: Style) -> Fields:
    """Only the flour and the hydration of a formula: all that the comparison of feel starts from."""
    wetness = round(hydration(formula).values()["hydration"], 4)
    return {
        "flour": units.write_exact(round(formula.flour, 1), "mass", style),
        "hydration": units.write_exact(wetness, "share", style),
        "part": "100 %",
    }


def to_compare(liquids: Sequence[str]) -> Fields:
    """The liquids of a side-by-side bake, by their keys."""
    return dict.fromkeys(BAKE_LIQUIDS, "") | dict(zip(BAKE_LIQUIDS, liquids, strict=False))


def links(values: Mapping[str, str], doughs: Mapping[tuple[str, str], Fields | None]) -> Element:
    """A link to each tool with the dough it gets; a tool that cannot hold the dough is left out."""
    style = {name: values[name] for name in STYLE_FIELDS if name in values}
    entries = [
        element("li", element("a", name, href="#", data_site=f"{page}?{_query(style | dough)}"))
        for (page, name), dough in doughs.items()
        if dough is not None
    ]
    return element(
        "nav",
        element("p", "Go on with this dough:"),
        element("ul", *entries),
        class_="dw-onward",
        aria_label="Go on with this dough",
    )


def link(values: Mapping[str, str], tool: tuple[str, str], dough: Fields, text: str) -> Element:
    """One link to a tool, with the dough it gets and the reader's units."""
    style = {name: values[name] for name in STYLE_FIELDS if name in values}
    return element("a", text, href="#", data_site=f"{tool[0]}?{_query(style | dough)}")


def _query(fields: Fields) -> str:
    """An address that also carries the reader's own ingredients, as `own.js` writes them."""
    used = set(fields.values())
    rows = [to_record(each) for each in composition.readers_own() if each.key in used]
    own = json.dumps(rows, ensure_ascii=False)
    carried = fields | ({"own": own} if rows and len(own) <= LONGEST_OWN else {})
    # Most of the fields are empty, and each answer writes them again.
    return "&".join(f"{name}={quote_plus(text) if text else ''}" for name, text in carried.items())


def placed(shown: list[Element], onward: Element) -> list[Element]:
    """A result with its links onward: after what it says, before what it keeps folded."""
    place = next((n for n, each in enumerate(shown) if each.tag == "details"), len(shown))
    return [*shown[:place], onward, *shown[place:]]
