"""The numbers of a problem as fields: each given is one value, one of a list, a range, or left out."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from calc import units
from calc.registry import Quantity, Slot
from calc.words import capital
from docs.parts.shared.set_fields import (
    adder,
    box,
    button,
    field,
    id_of,
    name_of,
    of_the_whole,
    select,
    side_by_side,
    text_at,
    whole_id,
)
from exercises.problems import RANGE_KEYS
from exercises.publish.html import element
from exercises.setfile import Entry, Path

# The ways a given can be told, and their words.
FIXED, LIST, RANGE, OUT = "fixed", "list", "range", "out"
_WAYS = {FIXED: "one value", LIST: "one of a list", RANGE: "a range", OUT: "left out"}


def way_of(given: Entry | None) -> str:
    """How a given is told: fixed, a list, a range, or left out."""
    if given is None:
        return OUT
    if isinstance(given.value, dict):
        return RANGE
    return LIST if isinstance(given.value, list) else FIXED


def givens(entry: Entry, path: Path, quantity: Quantity) -> list[Element]:
    """A field for each thing that the quantity is computed from."""
    here = (*path, "givens")
    given = entry.part("givens")
    there = given.value if given and isinstance(given.value, dict) else {}
    unknown = [name for name in there if quantity.slot(name) is None]
    return [
        element("h3", "The numbers"),
        element("span", class_="dw-complaint", data_for=name_of(here)),
        *(_given(there.get(slot.name), slot, (*here, slot.name)) for slot in quantity.slots),
        *(_stranger((*here, name)) for name in unknown),
    ]


def _stranger(path: Path) -> Element:
    """A given that the quantity does not take."""
    return element(
        "p",
        element("span", class_="dw-complaint", data_for=name_of(path)),
        button(f"Take “{path[-1]}” out", "remove", name_of(path)),
    )


def _given(given: Entry | None, slot: Slot, path: Path) -> Element:
    way = way_of(given)
    ways = [each for each in _WAYS if (each != OUT or slot.optional or way == OUT) and not (each == RANGE and slot.kind == "ingredient" and way != RANGE)]  # fmt: skip
    control = select(way, [(each, _WAYS[each], "") for each in ways])
    control.set("id", id_of(name_of((*path, "how"))))
    control.set("name", name_of((*path, "how")))
    control.set("aria-label", f"How {slot.name} is told")
    return element(
        "fieldset",
        element("legend", capital(slot.name), element("small", f" {allowed(slot)}")),
        element("div", control, *_values(given, way, slot, path), class_="dw-given"),
        of_the_whole(path) if way != FIXED else None,
        class_="dw-given-set",
    )


def allowed(slot: Slot) -> str:
    """What a slot takes, in words: ``50 g to 50000 g``."""
    if slot.kind == "ingredient":
        if slot.needs == "is_flour":
            return "a flour"
        return f"an ingredient with {slot.needs}" if slot.needs else "an ingredient"
    low, high = (units.write_exact(end, slot.kind) for end in (slot.low, slot.high))
    return f"{low} to {high}"


def _values(given: Entry | None, way: str, slot: Slot, path: Path) -> list[Element]:
    label = capital(slot.name)
    if way == FIXED:
        return [
            field(path, label, _known(box(given.text, spellcheck="false"), slot), hidden_label=True)
        ]
    if way == LIST:
        lines = "\n".join(one.text for one in given.value)
        listed = element(
            "textarea",
            lines,
            rows=max(2, min(len(given.value) + 1, 10)),
            autocomplete="off",
            spellcheck="false",
        )
        listed.set("aria-describedby", whole_id(path))
        made = [field((*path, "list"), f"{label}, one a line", listed, hidden_label=True)]
        return [*made, adder((*path, "list"), slot)] if slot.kind == "ingredient" else made
    if way == RANGE:
        ends = {end: box(text_at(given, end), spellcheck="false") for end in RANGE_KEYS}
        return side_by_side({(*path, end): (end, box) for end, box in ends.items()})
    return []


def _known(control: Element, slot: Slot) -> Element:
    if slot.kind == "ingredient":
        control.set("list", "set-ingredients")
    return control
