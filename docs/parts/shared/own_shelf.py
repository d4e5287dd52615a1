"""A shelf of own ingredients on its way: as the letters of a link, and as a set brings it to a class."""

from __future__ import annotations

import json
from collections.abc import Iterable
from urllib.parse import quote
from xml.etree.ElementTree import Element

from calc.composition import Ingredient
from calc.own_ingredient import to_record
from docs.parts.shared.cards import as_cards
from exercises.draws import ProblemSet
from exercises.publish.html import element
from exercises.publish.own_table import READ_THE_PACK, own_cells, own_table

# A link has room for some dozens: programs that pass it on cut longer ones.
LONGEST_SHARED = 8_000


def shelf_text(ingredients: Iterable[Ingredient], name: str = "") -> str:
    """The ingredients as the part of a link that stays in the browser; empty where they are too many."""
    records = [to_record(each) for each in ingredients]
    shelf = {"name": name, "ingredients": records} if name else records
    text = json.dumps(shelf, ensure_ascii=False, separators=(",", ":"))
    return text if len(text) <= LONGEST_SHARED else ""


def of_a_set(problem_set: ProblemSet) -> list[Element]:
    """The ingredients that a set brings, to look at and to take; nothing where it brings none."""
    if not problem_set.ingredients:
        return []
    names = ", ".join(each.name for each in problem_set.ingredients)
    rows = [own_cells(each) for each in problem_set.ingredients]
    return [
        element(
            "details",
            element("summary", f"Ingredients of this set: {names}"),
            element("p", f"Your teacher wrote these figures. {READ_THE_PACK}"),
            as_cards(own_table("In 100 g", rows)),
            *_to_take(problem_set),
            class_="dw-fold",
        )
    ]


def _to_take(problem_set: ProblemSet) -> list[Element]:
    text = shelf_text(problem_set.ingredients, problem_set.title)
    if not text:
        return []
    words = "Look at them in Your ingredients, and keep them"
    link = element("a", words, data_site=f"ingredients/#shelf={quote(text)}")
    return [element("p", link, ", so that every tool of this site has them in its lists.")]
