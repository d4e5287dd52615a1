"""A bench sheet for a demonstration: a column for each bowl, its weights, and boxes to write in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.cautions import allergens_of, on_the_bench
from calc.composition import Ingredient
from calc.formula import Formula, Item, hydration
from calc.words import capital
from docs.course.benches import bench_of
from exercises.publish.html import Child, element, table

LETTERS = "ABCDEF"
AS_WATER = "gram for gram"
BLANKS = ("Group", "Names", "Date")
SAFE = "Ask about allergies before anyone opens a pack. Your school's rules and local codes come first."


@dataclass(frozen=True)
class Bowl:
    """One dough of a demonstration: `note` says how its liquid was weighed, `do` what is done with it."""

    name: str
    dough: Formula
    note: str
    do: str = ""


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A sheet for up to six bowls.

    ``title``; ``flour`` and ``hydration`` (one for all, or a list: ``60 %; 68 %``); ``bowls``, the
    liquids divided by semicolons, each at the same water unless “(gram for gram)” follows its name;
    ``also``, other ingredients in baker's percentages (``salt 2 %; butter 8 %``); ``do``, what is done
    with the bowls, one for all or one for each; ``watch``, what to write down, divided by semicolons;
    ``columns``, where to write it, if not under the bowls (``roll 1; roll 2``).
    ``lesson`` alone takes all this from that lesson's demonstration. Raises ValueError with a message
    for the page's author.
    """
    if "lesson" in attributes:
        attributes = bench_of(attributes["lesson"]).sheet
    bowls = bowls_of(attributes)
    watch = _listed(attributes.get("watch", "how it feels; dough temperature; remarks"))
    heads = [f"{LETTERS[n]}: {bowl.name}" for n, bowl in enumerate(bowls)]
    columns = _listed(attributes.get("columns", "")) or LETTERS[: len(bowls)]
    return [
        element("h3", f"Bench sheet: {attributes.get('title', 'bowls side by side')}"),
        element("p", *(element("span", f"{blank}:") for blank in BLANKS), class_="dw-blanks"),
        table("Weigh-up", ["Ingredient", *heads], _rows(bowls), "dw-bench-weights"),
        table("Write down", ["What", *columns], [[one, *[""] * len(columns)] for one in watch], "dw-write-in"),
        element("ul", element("li", SAFE), *_said(bowls), class_="dw-bench-cautions"),
        element("button", "Print this sheet alone", type="button", class_="dw-button dw-quiet dw-screen-only"),
    ]  # fmt: skip


def _listed(text: str) -> list[str]:
    return [one.strip() for one in text.split(";") if one.strip()]


def bowls_of(attributes: Mapping[str, str]) -> list[Bowl]:
    """The doughs of a sheet, in grams. Raises ValueError with a message for the page's author."""
    names = _listed(attributes.get("bowls", ""))
    if not 1 <= len(names) <= len(LETTERS):
        raise ValueError(f"“bowls” must list 1 to {len(LETTERS)} liquids, divided by semicolons")
    flour = units.read(attributes.get("flour", ""), "mass").value
    wet = _each(attributes, "hydration", len(names))
    also = [_share(one) for one in _listed(attributes.get("also", ""))]
    return [
        replace(_bowl(name, flour, units.read(h, "share").value, also), do=do)
        for name, h, do in zip(names, wet, _each(attributes, "do", len(names)), strict=True)
    ]


def _each(attributes: Mapping[str, str], name: str, bowls: int) -> list[str]:
    """An attribute's entries, one for each bowl; one alone is for all."""
    found = _listed(attributes.get(name, "")) or [""]
    found = found * bowls if len(found) == 1 else found
    if len(found) != bowls:
        raise ValueError(f"“{name}” must be one for all bowls, or one for each")
    return found


def _share(text: str) -> tuple[Ingredient, float]:
    """“salt 2 %” as the ingredient and its share of the flour."""
    found = re.fullmatch(r"(.+?)\s+([\d.,]+\s*%)", text)
    if not found:
        raise ValueError(f"“also” has “{text}”: write a name and a percentage, such as salt 2 %")
    return composition.read(found[1]), units.read(found[2], "share").value


def _bowl(name: str, flour: float, wet: float, also: list[tuple[Ingredient, float]]) -> Bowl:
    plain = re.sub(rf"\s*\({AS_WATER}\)$", "", name)
    liquid = composition.read(plain)
    water = flour * wet
    same = plain == name
    grams = water / liquid.water if same else water
    items = [Item(composition.find("bread-flour"), flour), Item(liquid, grams)]
    items += [Item(ingredient, flour * share) for ingredient, share in also]
    return Bowl(liquid.name, Formula(tuple(items)), "" if same else AS_WATER)


def _rows(bowls: list[Bowl]) -> list[list[Child]]:
    """Flour, each bowl's liquid, what is the same in all, and the hydration as a check."""
    also = [
        [item.ingredient.name, *(written(bowl.dough.items[n].grams) for bowl in bowls)]
        for n, item in enumerate(bowls[0].dough.items)
        if n > 1
    ]
    return [
        ["flour", *(written(bowl.dough.flour) for bowl in bowls)],
        ["liquid", *(_liquid(bowl) for bowl in bowls)],
        *also,
        *([["do", *(bowl.do for bowl in bowls)]] if any(bowl.do for bowl in bowls) else []),
        ["hydration (water ÷ flour)", *(_hydration(bowl) for bowl in bowls)],
        ["allergens", *(element("strong", allergens_of(bowl.dough)) for bowl in bowls)],
    ]


def _liquid(bowl: Bowl) -> Element:
    grams = written(bowl.dough.items[1].grams)
    note = f" ({bowl.note})" if bowl.note else ""
    return element("span", f"{grams} {bowl.name}{note}")


def written(grams: float) -> str:
    """A weight as a scale shows it: whole grams, tenths below 20 g."""
    return units.write(grams, "mass", step=1 if grams >= 20 else 0.1)


def _hydration(bowl: Bowl) -> str:
    working = hydration(bowl.dough)
    return working.weighed(working.answer.key)


def _said(bowls: list[Bowl]) -> list[Element]:
    """The cautions of every bowl, each once."""
    said = on_the_bench(*(bowl.dough for bowl in bowls))
    return [
        element("li", element("strong", f"{each.title}: "), capital(each.text)) for each in said
    ]
