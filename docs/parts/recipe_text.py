"""A recipe as it is, pasted: each line with what it was read as, what is not clear asked, then the formula."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from calc import units
from calc.composition import Ingredient
from calc.formula import Formula
from calc.preferment import Kind
from calc.recipe_text import FLOUR_OF_PERCENTAGES, Answer, ReadLine, Recipe, read_recipe
from calc.units import Style
from calc.words import are, counted
from docs.parts.hydration_table import hydration_of
from docs.parts.shared import onward
from docs.parts.shared.fields import (
    FieldReader,
    Scale,
    choice_field,
    folded_style,
    style_of,
    text_field,
    with_defaults,
)
from docs.parts.shared.form_part import FormPart
from docs.parts.shared.formula_form import SWAP_DEFAULTS
from docs.parts.shared.formula_sheet import sheet
from exercises.publish.html import element

# What a reader finds in the box. Invented.
EXAMPLE = "500 g strong flour, 1 cup buttermilk, 100 ml water, 2 eggs\n10 g salt, 1½ tsp yeast\na pinch of nutmeg"
DEFAULTS = {"text": EXAMPLE, "mass": "g", "decimal": "."}
BLENDS = ("blends/", "Poolish, sponge or starter: both bowls")
# An answer's name begins so; the line it belongs to follows.
_ANSWERS = ("pick", "weighs", "called")


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    """The form's values for a page's attributes; ``text`` may be the page's own example."""
    return with_defaults(attributes, DEFAULTS)


# From the form to the result.


@dataclass(frozen=True)
class Result:
    """A recipe that was read, its whole dough, and the liquid that the formula is written for."""

    recipe: Recipe
    dough: Formula | None
    liquid: Ingredient | None
    answers: Mapping[str, Answer]
    flour: float
    style: Style


def result(values: Mapping[str, str]) -> Result:
    """Read the recipe. Raises FieldErrors where the flour of a recipe of percentages cannot be read."""
    style = style_of(values)
    reader = FieldReader(values, style)
    flour = reader.amount("flour", 0.0) or FLOUR_OF_PERCENTAGES
    reader.finish()
    answers = _answers(values)
    recipe = read_recipe(values.get("text", ""), flour, answers, style)
    dough = recipe.dough()
    wet = _liquids(dough)
    liquid = next(
        (each for each in wet if each.key == values.get("liquid")), wet[0] if wet else None
    )
    return Result(recipe, dough, liquid, answers, flour, style)


def _answers(values: Mapping[str, str]) -> dict[str, Answer]:
    found: dict[str, dict[str, str]] = {}
    for name, text in values.items():
        kind, _, line = name.partition(" ")
        if kind in _ANSWERS and line and text:
            found.setdefault(line, {})[kind] = text
    return {line: Answer(**given) for line, given in found.items()}


def _liquids(dough: Formula | None) -> list[Ingredient]:
    """The liquids of a dough, the one that weighs most first."""
    items = dough.items if dough else ()
    wet = [item for item in items if item.ingredient.is_liquid and item.grams]
    return [item.ingredient for item in sorted(wet, key=lambda item: -item.grams)]


# The form.


def form(values: Mapping[str, str], prefix: str) -> Element:
    """The box for the recipe."""
    box = f"{prefix}-text"
    area = element(
        "textarea",
        values["text"],
        id=box,
        name="text",
        rows=7,
        spellcheck="false",
        autocomplete="off",
        aria_describedby=f"{box}-note",
    )
    note = "Lines or commas, cups or grams, percentages, several parts."
    return element(
        "form",
        element(
            "div",
            element("label", "A recipe, as it is written", for_=box),
            area,
            element("span", note, class_="dw-note", id=f"{box}-note"),
            element("span", class_="dw-complaint", data_for="text"),
            class_="dw-field",
        ),
        folded_style(prefix, values, "Grams or ounces, decimal mark"),
        class_="dw-form",
        novalidate=True,
        aria_label="Paste a recipe",
    )


# The result.


def headline(made: Result) -> str:
    """How much was read, and how much is asked, in one sentence."""
    lines = made.recipe.lines
    outcomes = [line.outcome for line in lines if line.says != "a heading"]
    read, asked, left = (outcomes.count(each) for each in ("read", "asked", "left"))
    if not lines:
        return "There is no recipe in the box yet. Paste one, or type it."
    said = f"{counted(read, 'ingredient')} read"
    said += f", {counted(asked, 'question')} open" if asked else ""
    return f"{said}{f', {left} left out' if left else ''}."


def result_view(made: Result) -> list[Element]:
    """What each line was read as, then the formula and what to do with it."""
    use = _use(made) if made.dough and made.liquid else []
    shown = [element("p", headline(made), class_="dw-answer"), *use]
    if made.recipe.lines:
        lines = (_line(number, line, made) for number, line in enumerate(made.recipe.lines, 1))
        shown.append(element("ol", *lines, class_="dw-recipe"))
    shown += [element("p", said) for said in made.recipe.says]
    if made.recipe.is_percentages:
        shown.append(_flour_field(made))
    return [*shown, *_formula(made)]


def _onward(made: Result) -> Element:
    """Where the formula may go besides the swap; the tool for a preferment first, where there is one."""
    fields = _fields(made, made.liquid.key) if made.dough and made.liquid else None
    tools = dict.fromkeys((onward.BALANCE, onward.TEMPERATURE, onward.YIELD), fields)
    links = onward.links(_style(made), {BLENDS: _ahead(made)} | tools)
    # On the swap page there is another such list.
    links.set("aria-label", "Go on with this recipe")
    return links


_SIGNS = {"read": ("✓", "Read as"), "asked": ("?", "Please say"), "left": ("–", "Left out")}


def _line(number: int, line: ReadLine, made: Result) -> Element:
    sign, word = ("–", "Noted") if line.says == "a heading" else _SIGNS[line.outcome]
    return element(
        "li",
        element("span", sign, aria_hidden="true", class_="dw-sign"),
        element("q", line.piece.text),
        element("span", element("strong", f"{word}: "), line.says, class_="dw-said"),
        *_asks(number, line, made),
        class_=f"dw-line dw-line-{line.outcome}",
    )


def _asks(number: int, line: ReadLine, made: Result) -> list[Element]:
    """The places for an answer to one line."""
    text, prefix = line.piece.text, f"recipe-{number}"
    given = made.answers.get(text, Answer())
    fields = []
    if line.choices:
        choices = [(each.value, each.label, "") for each in line.choices]
        if not any(value == "" for value, _, _ in choices):
            choices.insert(0, ("", "choose", ""))
        fields.append(choice_field(prefix, f"pick {text}", "Choose", given.pick, choices))
    if line.has_weight_field:
        fields.append(
            text_field(
                prefix, f"weighs {text}", "or how much it is", given.weighs, "such as 5 g or 1 tsp"
            )
        )
    if line.asks == "ingredient" or given.called:
        fields.append(
            text_field(
                prefix, f"called {text}", "or another name for it", given.called, "as in our table"
            )
        )
    for field, kind in zip(fields, ("pick", "weighs", "called"), strict=False):
        _plain_ids(field, f"{prefix}-{kind}-{len(fields)}")
    return [element("div", *fields, class_="dw-row")] if fields else []


def _plain_ids(field: Element, name: str) -> None:
    """A field's ids without the line's text, which may hold anything."""
    label, control, note = field[0], field[1], field[2]
    control.attrib.pop("data-ingredients", None)
    label.set("for", name)
    control.set("id", name)
    control.set("aria-describedby", f"{name}-note")
    note.set("id", f"{name}-note")


def _flour_field(made: Result) -> Element:
    weight = units.write_exact(made.flour, "mass", made.style)
    return text_field("recipe", "flour", "Flour for these percentages", weight, kind="mass")


def _formula(made: Result) -> list[Element]:
    if made.dough is None:
        says = "There is no flour in it yet, and a formula counts on its flour."
        return [element("p", says, class_="dw-note")] if made.recipe.lines else []
    water = units.write(hydration_of(made.dough, "water"), "share", made.style, step=0.001)
    told = [f"Hydration, as water in the liquids ÷ flour: {water}.", *_summed(made)]
    if made.liquid is None:
        told.append("It has no liquid of our table yet, so there is nothing to swap.")
    table = sheet({"Weight": made.dough}, made.style, Scale("1 g"))
    return [table, *(element("p", said) for said in told), _onward(made)]


def _summed(made: Result) -> list[str]:
    """What was added up so that it fits into a form."""
    if not any(line.ahead for line in made.recipe.lines):
        return []
    return [
        "What ferments ahead is counted in: its flour with the flour, its water with the liquids."
    ]


def _use(made: Result) -> list[Element]:
    """The choice of the liquid, and the ways on."""
    wet = [(each.key, each.name, "") for each in _liquids(made.dough)]
    picked = choice_field("recipe", "liquid", "The liquid to change", made.liquid.key, wet)
    _plain_ids(picked, "recipe-liquid")
    fields = _fields(made, made.liquid.key)
    if fields is None:
        says = "The forms have room for 12 ingredients beside the first flour and the liquid. Leave the smallest out above."
        return [element("p", says, class_="dw-note")]
    use = onward.link(
        _style(made), onward.SWAP, fields | _becomes(made.liquid.key), "Use this formula"
    )
    use.set("class", "dw-button")
    waiting = len(made.recipe.open)
    said = f" {counted(waiting, 'open line')} {are(waiting)} not in it."
    return [
        element("div", picked, class_="dw-row"),
        element("p", use, said if waiting else "", class_="dw-buttons"),
    ]


def _style(made: Result) -> dict[str, str]:
    return {"mass": made.style.mass, "decimal": made.style.decimal}


def _becomes(old: str) -> dict[str, str]:
    """The swap page's own new liquid, and another one where the recipe has that already."""
    usual = SWAP_DEFAULTS["becomes"]
    return {"becomes": usual if old != usual else "whole-milk", "part": "100 %"}


def _fields(made: Result, liquid: str) -> onward.Fields | None:
    """The formula as a form's fields; a cup or an egg stays one, so that the form knows its bounds."""
    fields = onward.of_formula(made.dough, liquid, made.style)
    if fields is None:
        return None
    typed = _typed(made.recipe)
    places = {"liquid": "was"} | {f"amount{n}": f"with{n}" for n in range(1, onward.ROWS + 1)}
    return fields | {
        place: typed[fields[key]] for place, key in places.items() if fields[key] in typed
    }


def _typed(recipe: Recipe) -> dict[str, str]:
    """The measure of each ingredient that one line alone gives, by its key."""
    lines = [(line, item) for line in recipe.lines for item in line.items]
    keys = [item.ingredient.key for _, item in lines]
    return {
        item.ingredient.key: line.typed
        for line, item in lines
        if line.typed and keys.count(item.ingredient.key) == 1
    }


def _ahead(made: Result) -> onward.Fields | None:
    """The form for a preferment, filled in; None where it has no room for this one."""
    found = made.recipe.ahead()
    if found is None or made.dough is None or not _is_flour_and_water(found[1]):
        return None
    kind, part = found
    fields = _fields(made, "water")
    return fields and fields | _preferment(kind, part, made.style)


def _is_flour_and_water(part: Formula) -> bool:
    """Whether a preferment is one that the form can make: flour, water, salt, yeast."""
    groups = {item.ingredient.group for item in part.items if item.grams}
    return "water" in groups and groups <= {"flour", "water", "salt", "yeast"}


def _preferment(kind: Kind, part: Formula, style: Style) -> onward.Fields:
    grams = {
        group: sum(item.grams for item in part.items if item.ingredient.group == group)
        for group in ("flour", "water", "salt")
    }
    flours = [item for item in part.items if item.ingredient.is_flour]
    wet, salted = (round(grams[name] / grams["flour"], 4) for name in ("water", "salt"))
    return {
        "kind": kind.key,
        "ahead": units.write_exact(round(sum(grams.values()), 1), "mass", style),
        "pre-hydration": units.write_exact(wet, "share", style),
        "pre-flour": max(flours, key=lambda item: item.grams).ingredient.key,
        "pre-salt": units.write_exact(salted, "share", style) if salted else "",
        "final": "water",
    }


PART = FormPart("recipe", fields_of, form, result, result_view, headline)
