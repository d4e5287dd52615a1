"""The fields of a set's form: each is named by the path of its value in the set's text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree.ElementTree import Element

from calc import composition
from calc.registry import Slot
from calc.units import read_whole
from exercises.publish.html import element
from exercises.setfile import Entry, Path


def name_of(path: Path) -> str:
    """A field's name: ``problems/0/givens/flour``."""
    return "/".join(map(str, path))


def path_of(name: str) -> Path:
    """The path that a field's name tells."""
    steps = ((step, read_whole(step)) for step in name.split("/"))
    return tuple(step if number is None else number for step, number in steps)


def text_at(root: Entry | None, *path: str | int) -> str:
    """The text at a path, without the ends that lines under | add; empty where there is none."""
    found = root.part(*path) if root else None
    return found.text.strip("\n") if found else ""


def id_of(name: str) -> str:
    return "set-" + re.sub(r"\W+", "-", name)


def field(
    path: Path, label: str, control: Element, note: str = "", hidden_label: bool = False
) -> Element:
    """A label, its control, a note, and a place for complaints."""
    name = name_of(path)
    control.set("id", id_of(name))
    control.set("name", name)
    if note:
        control.set("aria-describedby", f"{id_of(name)}-note")
    return element(
        "div",
        element("label", label, for_=id_of(name), class_="dw-hidden" if hidden_label else None),
        control,
        element("span", note, class_="dw-note", id=f"{id_of(name)}-note") if note else None,
        element("span", class_="dw-complaint", data_for=name),
        class_="dw-field",
    )


def of_the_whole(path: Path) -> Element:
    """What is wrong with a list as a whole, which its box is described by."""
    return element("span", class_="dw-complaint", data_for=name_of(path), id=whole_id(path))


def whole_id(path: Path) -> str:
    return f"{id_of(name_of(path))}-whole"


def box(value: str, **more: object) -> Element:
    usual = {"type": "text", "value": value, "autocomplete": "off", "spellcheck": "true"}
    return element("input", **(usual | more))


def area(value: str, least: int = 2) -> Element:
    rows = max(least, value.count("\n") + 1 + len(value) // 70)
    return element("textarea", value, rows=min(rows, 14), autocomplete="off", class_="dw-words")


def select(value: str, choices: Iterable[tuple[str, str, str]]) -> Element:
    """A list of (value, words, group); what the text says stays in it, even if nobody knows it."""
    choices = list(choices)
    made = element("select")
    if value not in {each[0] for each in choices}:
        made.append(element("option", value, value=value, selected=True))
    group, inside = "", made
    for each, words, its in choices:
        if its != group:
            group, inside = its, element("optgroup", label=its) if its else made
            if its:
                made.append(inside)
        inside.append(element("option", words, value=each, selected=each == value))
    return made


def button(words: str, do: str, at: str, label: str = "", **more: object) -> Element:
    return element(
        "button", words, type="button", class_="dw-button dw-quiet", data_do=do, data_at=at,
        aria_label=label or None, **more,
    )  # fmt: skip


def side_by_side(boxes: dict[Path, tuple[str, Element]]) -> list[Element]:
    """Short fields in a row; what is wrong with one has the whole width below them."""
    fields = [field(path, label, box) for path, (label, box) in boxes.items()]
    said = [each[-1] for each in fields]
    for each in fields:
        each.remove(each[-1])
    return [element("div", element("div", *fields, class_="dw-range"), *said)]


def adder(path: Path, slot: Slot | None = None) -> Element:
    """Ingredients of the table, to be added to a list of names."""
    table = composition.table().values()
    fits = [each.name for each in table if slot is None or not slot.refusal(each)]
    target = id_of(name_of(path))
    return element(
        "select",
        element("option", "add from the table", value=""),
        *(element("option", name, value=name) for name in sorted(fits)),
        data_add_to=target,
        aria_label=f"Add an ingredient to {path[-2] if path[-1] == 'list' else path[-1]}",
    )
