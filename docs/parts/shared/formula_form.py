"""A formula in a form: flour, liquid and the other ingredients, and reading them back.

The fields are ``flour``, ``flour-kind``, ``liquid``, ``was`` and, for each further ingredient,
``with1`` and ``amount1`` … A further ingredient may be a flour: every percentage is of all of them.
Every part that starts from a formula uses these. Parts that start from
a swap add ``becomes``, ``part`` and, for one's own water content, ``own-water``, ``own-low`` and
``own-high``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from xml.etree.ElementTree import Element

from calc import composition, household, units
from calc.composition import Ingredient
from calc.formula import Formula, FormulaError, Item
from calc.interval import Interval
from calc.substitution import Swap, old_liquid, swap, swap_weight, swap_working
from calc.units import ReadingError, Style
from calc.words import capital, counted
from docs.parts.hydration_table import hydration_of, split_item
from docs.parts.shared.caution_list import must_make_bread
from docs.parts.shared.fields import (
    FieldErrors,
    FieldReader,
    Notes,
    Scale,
    choice_field,
    folded_style,
    style_of,
    with_defaults,
)

# How many ingredients beside flour and liquid the form has room for.
ROWS = 12
OWN = "own"

GROUP_NAMES = {
    "water": "Water", "dairy": "Milk and cream", "cultured": "Cultured dairy", "plant": "Plant drinks",
    "egg": "Eggs", "puree": "Purees and vegetables", "fruit": "Fruit", "juice": "Juices",
    "alcohol": "Beer, wine and spirits", "brew": "Coffee and tea", "drink": "Soft drinks",
    "broth": "Broth and stock", "acid": "Vinegar and sour juices", "fat": "Fats",
    "sweetener": "Sweeteners", "cheese": "Cheese", "nut": "Nuts, seeds and their pastes",
    "flour": "Flours", "yeast": "Yeasts", "salt": "Salt", "leavening": "Baking powder and soda",
    "dry": "Dry powders", "seasoning": "Seasonings", "other": "Other",
}  # fmt: skip

SCALES = ("0.1 g", "1 g", "2 g", "5 g", "10 g", "0.05 oz", "0.1 oz", "1/4 oz", "0.01 lb")
SCALE_CHOICES = tuple((step, f"steps of {step}", "") for step in SCALES)

FORMULA_DEFAULTS = {
    "flour": "500 g", "flour-kind": "bread-flour", "liquid": "65 %", "was": "water",
}  # fmt: skip
# The further rows: the field of each amount, and of its ingredient.
FURTHER = {f"amount{number}": f"with{number}" for number in range(1, ROWS + 1)}
ROW_FIELDS = tuple(field for amount, of in FURTHER.items() for field in (of, amount))
FORMULA_FIELDS = (*FORMULA_DEFAULTS, *ROW_FIELDS)


SWAP_DEFAULTS = {
    "becomes": "buttermilk", "own-water": "", "own-low": "", "own-high": "", "part": "100 %",
    "mass": "g", "decimal": ".", "scale": "1 g",
}  # fmt: skip


SWAP_FIELDS = ("becomes", "part", "own-water", "own-low", "own-high")


def swap_fields(attributes: Mapping[str, str]) -> dict[str, str]:
    """The values of a formula and a swap for a lesson's attributes."""
    values = with_defaults(attributes, SWAP_DEFAULTS)
    return formula_fields(attributes) | values


def formula_fields(attributes: Mapping[str, str]) -> dict[str, str]:
    """The formula's values for a lesson's attributes; ``with`` fills the ingredient rows."""
    values = with_defaults(attributes, FORMULA_DEFAULTS)
    rows = [split_item(one) for one in attributes.get("with", "").split(";") if one.strip()]
    if len(rows) > ROWS:
        raise ValueError(f"“with” has room for {ROWS} ingredients")
    for number in range(1, ROWS + 1):
        key, amount = rows[number - 1] if number <= len(rows) else ("", "")
        values[f"with{number}"] = key
        values[f"amount{number}"] = amount
    return values


def ingredient_choices(wanted: Callable[[Ingredient], bool]) -> list[tuple[str, str, str]]:
    """The table's ingredients for a list, those that are wanted, by group."""
    found = [each for each in composition.table().values() if wanted(each)]
    order = list(GROUP_NAMES)
    found.sort(key=lambda each: order.index(each.group) if each.group in order else len(order))
    return [(each.key, each.in_lists, GROUP_NAMES.get(each.group, "Other")) for each in found]


def liquid_choices() -> list[tuple[str, str, str]]:
    """Every liquid, for a list."""
    return ingredient_choices(lambda each: each.is_liquid)


def read_formula(reader: FieldReader) -> tuple[list[Item], Ingredient]:
    """The formula's items and the liquid it is written for; complaints go to the reader.

    The items are in the order of `row_names`.
    """
    old = known(reader, "was")
    flours = _read_flours(reader)
    flour = sum(item.grams for item in flours.values())
    liquid = reader.item("liquid", flour, old)
    # A percentage of a flour that cannot be read is no fault of the liquid.
    waits_for_flour = not flour and units.is_percentage(reader.values.get("liquid", ""))
    if not liquid.grams and not waits_for_flour:
        reader.complain("liquid", "Give the liquid a weight, or a percentage of the flour.")
    read = flours | {"liquid": liquid}
    for name, of in FURTHER.items():
        if not reader.values.get(of):
            if reader.amount(name, flour):
                reader.complain(name, "Choose the ingredient this weight belongs to.")
        elif name not in read:
            read[name] = reader.item(name, flour, known(reader, of))
    return list(read.values()), old


def row_names(values: Mapping[str, str]) -> list[str]:
    """The filled rows by the names of their amounts: the flours, the liquid, the rest."""
    filled = [name for name, of in FURTHER.items() if values.get(of)]
    flours = further_flours(values)
    return ["flour", *flours, "liquid", *(name for name in filled if name not in flours)]


def further_flours(values: Mapping[str, str]) -> list[str]:
    """The rows of flours beside the first one, by the names of their amounts."""
    return [name for name, of in FURTHER.items() if _is_flour(values.get(of, ""))]


def _is_flour(name: str) -> bool:
    try:
        return bool(name) and composition.find(name).is_flour
    except composition.UnknownIngredient:
        return False


def _read_flours(reader: FieldReader) -> dict[str, Item]:
    """The flours by their rows. A percentage is of them all, so the weights are what it leaves."""
    kinds = {"flour": known(reader, "flour-kind")}
    kinds |= {name: known(reader, FURTHER[name]) for name in further_flours(reader.values)}
    if not kinds["flour"].is_flour:
        reader.complain(
            "flour-kind", f"{kinds['flour'].name} is no flour. Choose a flour from the list."
        )
    shared = [name for name in kinds if units.is_percentage(reader.values.get(name, ""))]
    weighed = {name: reader.item(name, 0.0, kinds[name]) for name in kinds if name not in shared}
    left = 1 - sum(reader.amount(name, 1.0) for name in shared)
    together = sum(item.grams for item in weighed.values())
    if not together or not reader.values.get("flour", "").strip():
        reader.complain("flour", "Give the flour a weight, such as 500 g. Hydration counts on it.")
    elif left <= 0:
        reader.complain(shared[-1], "All the flours are 100 %: this leaves nothing for the others.")
    whole = together / left if left > 0 else together
    return {
        name: weighed.get(name) or reader.item(name, whole, kind) for name, kind in kinds.items()
    }


# No dough holds so little water for its flour: the liquid was perhaps meant as a percentage.
DRIEST = 0.3
# No amount of a formula is more of its flour: a larger number is none's percentage.
MOST_PERCENT = 200


def notes(values: Mapping[str, str], _made: object) -> Notes:
    """How a field was read, by its name, where that is not what its writer sees; and what else it may be meant as.

    A measure is told with the weight it was taken for, a number alone with its unit. `values` must
    be readable.
    """
    style = style_of(values)
    reader = FieldReader(values, style)
    formula = Formula(tuple(read_formula(reader)[0]))
    if "becomes" in values:
        _read_part(reader, read_new_liquid(reader))
    told = {name: each.says(style) for name, each in reader.measured.items()}
    doubtful = _doubtful(values, formula)
    read = {name: _as_read(name, values, formula, style) for name in doubtful}
    offers = {name: texts for name in doubtful if (texts := _else(name, values, style))}
    return read | told, offers


def _amounts(values: Mapping[str, str]) -> dict[str, str]:
    """The fields for amounts that are filled, and the field that names the ingredient of each."""
    fields = {"flour": "flour-kind", "liquid": "was", "part": "becomes"} | FURTHER
    return {name: of for name, of in fields.items() if values.get(name, "").strip()}


def is_bare(text: str) -> bool:
    """Whether a number has no unit, so that it may be a weight, a percentage or a count."""
    return not (units.is_percentage(text) or units.written_unit(text) or household.is_measure(text))


def _doubtful(values: Mapping[str, str], formula: Formula) -> list[str]:
    """The amounts that may be meant otherwise than they are read."""
    return [
        name
        for name in _amounts(values)
        if is_bare(values[name]) or (name == "liquid" and _too_dry(values[name], formula))
    ]


def _too_dry(text: str, formula: Formula) -> bool:
    """Whether a liquid is so light that its number may be a percentage: “65 g” to 500 g of flour."""
    if units.is_percentage(text) or household.is_measure(text):
        return False
    share = _percentage(text, of_liquid=True)
    return hydration_of(formula, "water") < DRIEST <= (share or 0.0)


def _percentage(text: str, of_liquid: bool) -> float | None:
    """The share that a weight's number is as a percentage; None where it is none of a formula.

    No liquid is 0.65 % of the flour: its fractions are shares.
    """
    read = units.read(text, "mass")
    number = read.value / read.unit.factor
    if not 0 < number <= MOST_PERCENT:
        return None
    return number if of_liquid and number <= units.LARGEST_BARE_FRACTION else number / 100


def _as_read(name: str, values: Mapping[str, str], formula: Formula, style: Style) -> str:
    """In what unit an amount was read, and what that is of the flour."""
    text = values[name]
    if name == "part" and not _is_weight(text):
        share = units.read(text, "share").value
        return f"Read as {units.write_exact(share, 'share', style)} of the liquid."
    if name == "part":
        return f"Read as {text.strip()} g."
    grams = units.read(text, "mass", style.mass).value
    weight = units.write_exact(grams, "mass", style)
    if name == "flour":
        return f"Read as {weight}."
    return f"Read as {weight}, {units.write(grams / formula.flour, 'share', style, step=0.001)} of the flour."


def _else(name: str, values: Mapping[str, str], style: Style) -> list[str]:
    """The other readings of an amount, as they would be written."""
    text = values[name].strip()
    if name == "flour" or (name == "part" and _is_weight(text)):
        return []
    if name == "part":
        return [f"{text} {style.mass}"]
    share = _percentage(text, name == "liquid")
    said = [] if share is None else [units.write_exact(share, "share", style)]
    return said + (measures(text, values[_amounts(values)[name]]) if is_bare(text) else [])


def measures(number: str, key: str) -> list[str]:
    """The measures that a number alone beside an ingredient may count."""
    count = units.read_whole(number)
    if not count:
        return []
    if key in household.EGGS:
        return [counted(count, "egg")] if count <= MOST_EGGS else []
    if not composition.find(key).is_liquid:
        return []
    return [f"{count} ml" if count >= FEWEST_ML else counted(count, "cup")]


# No egg is so light: the number may count them. A liquid of fewer millilitres is told in cups.
MOST_EGGS = 24
FEWEST_ML = 10


def known(reader: FieldReader, name: str) -> Ingredient:
    """The table's ingredient that a field names; a complaint where there is none."""
    if not reader.values.get(name):
        reader.complain(name, "Nothing is chosen here. Choose one from the list.")
        return composition.find("water")
    try:
        return composition.find(reader.values[name])
    except composition.UnknownIngredient as error:
        reader.complain(name, f"{error} Choose one from the list.")
        return composition.find("water")


def known_liquid(reader: FieldReader, name: str) -> Ingredient:
    """The liquid that a field names; a complaint where it names nothing, or what is no liquid."""
    ingredient = known(reader, name)
    if not ingredient.is_liquid:
        reader.complain(name, f"{capital(ingredient.name)} is no liquid. Choose one from the list.")
        return composition.find("water")
    return ingredient


def scale_of(values: Mapping[str, str]) -> Scale:
    """The reader's scale; one with steps of 1 g where none of `SCALES` is chosen."""
    chosen = values.get("scale", "")
    return Scale(chosen if chosen in SCALES else "1 g")


def scale_field(prefix: str, values: Mapping[str, str]) -> Element:
    """The list of the reader's scales."""
    return choice_field(prefix, "scale", "My scale shows", values["scale"], SCALE_CHOICES)


# The swap.


def style_details(values: Mapping[str, str], prefix: str) -> Element:
    """Units, decimal mark and scale, folded away."""
    scale = scale_field(prefix, values)
    return folded_style(prefix, values, "Grams or ounces, decimal mark, scale", scale)


def read_swap(reader: FieldReader) -> Swap:
    """The swap that the fields ask for. Raises FieldErrors with a message for each bad field."""
    items, old = read_formula(reader)
    new = read_new_liquid(reader)
    part = _read_part(reader, new)
    reader.finish()
    formula, scale = Formula(tuple(items)), scale_of(reader.values).step
    try:
        if isinstance(part, Item):
            _check_weight(reader, old_liquid(formula, old.key), part)
            made = swap_weight(formula, old.key, part, scale)
        else:
            made = swap(formula, old.key, new, part, scale)
    except FormulaError as error:
        raise FieldErrors({"liquid": str(error)}) from None
    must_make_bread(
        reader.values, made.after, lambda share: swap(formula, old.key, new, share).after
    )
    return made


def _read_part(reader: FieldReader, new: Ingredient) -> Item | float:
    """What is to be swapped: so much of the new liquid, or a share of the old one."""
    text = reader.values.get("part", "")
    if _is_weight(text):
        # A number alone is in grams, whatever unit is chosen later: a choice of unit changes no amount.
        written = f"{text.strip()} g" if is_bare(text) else text
        return replace(reader, values={**reader.values, "part": written}).item("part", 0.0, new)
    return reader.share("part", 0.0, 1.0)


def _is_weight(text: str) -> bool:
    """Whether a part to swap is a weight or a measure: no liquid has more than 100 % to swap."""
    if units.is_percentage(text):
        return False
    if units.written_unit(text) or household.is_measure(text.strip()):
        return True
    try:
        return units.read(text, "mass").value > 100
    except ReadingError:
        return False


def _check_weight(reader: FieldReader, old: Item, new: Item) -> None:
    """Raises FieldErrors when so much of the new liquid does not fit, in the reader's units."""
    ounce_or_gram = reader.style.unit("mass").factor
    most = swap_working(old, new.ingredient).values()["new"]
    if 0 < new.grams <= most:
        return
    # Rounded down: what is said to fit must fit.
    most = math.floor(most / ounce_or_gram * 10) / 10 * ounce_or_gram
    weight, whole, fits = (
        units.write_exact(grams, "mass", reader.style) for grams in (new.grams, old.grams, most)
    )
    if not new.grams:
        raise FieldErrors({"part": f"Write a weight above 0, and at most {fits}."})
    raise FieldErrors(
        {
            "part": f"{weight} of {new.ingredient.name} brings more water than {whole} of "
            f"{old.ingredient.name} holds. At most {fits} fits."
        }
    )


def read_new_liquid(reader: FieldReader) -> Ingredient:
    """The liquid to swap in: from the table, or known by its water alone."""
    if reader.values.get("becomes") != OWN:
        return known_liquid(reader, "becomes")
    water = reader.share("own-water", 0.0, 1.0)
    low, high = reader.values.get("own-low", "").strip(), reader.values.get("own-high", "").strip()
    ends = [
        reader.share(name, 0.0, 1.0)
        for name, text in (("own-low", low), ("own-high", high))
        if text
    ]
    if "own-water" in reader.messages:
        return composition.find("water")
    bounds = sorted([water, *ends])
    if (
        ends
        and water in (bounds[0], bounds[-1])
        and len(ends) == 2
        and bounds[0] != bounds[-1]
        and water not in ends
    ):
        reader.complain("own-low", "The water content must lie between the lowest and the highest.")
    return composition.own("your liquid", water, Interval(bounds[0], bounds[-1]))
