"""A problem without numbers as fields: questions with answers to choose, and ingredients to put in order."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from calc.quantities import RANKINGS
from docs.parts.shared.set_fields import (
    adder,
    box,
    button,
    field,
    id_of,
    name_of,
    of_the_whole,
    select,
    text_at,
    whole_id,
)
from exercises.problems import MOST_OPTIONS
from exercises.publish.html import element
from exercises.setfile import Entry, Path


def questions(entry: Entry, path: Path) -> list[Element]:
    listed = entry.part("questions")
    there = listed.value if listed and isinstance(listed.value, list) else []
    return [
        element("span", class_="dw-complaint", data_for=name_of(path)),
        *(
            _question(each, number, (*path, number), len(there))
            for number, each in enumerate(there)
        ),
        element("p", button("Add a question", "add-question", name_of(path))),
    ]


def _question(entry: Entry, number: int, path: Path, count: int) -> Element:
    listed = entry.part("options")
    there = listed.value if listed and isinstance(listed.value, list) else []
    title = f"Question {number + 1}"
    return element(
        "fieldset",
        element("legend", title),
        element("span", class_="dw-complaint", data_for=name_of(path)),
        field((*path, "ask"), "It asks", box(text_at(entry, "ask"))),
        element("span", class_="dw-complaint", data_for=name_of((*path, "options"))),
        *(_option(each, n, path, bool(entry.part("show")), len(there)) for n, each in enumerate(there)),
        element(
            "div",
            button("Add an answer", "add-option", name_of((*path, "options")), f"Add an answer to question {number + 1}"),
            button("Delete the question", "remove", name_of(path), f"Delete question {number + 1}") if count > 1 else None,
            class_="dw-buttons",
        ),
        _shown(entry, path, "answers"),
        class_="dw-given-set",
    )  # fmt: skip


def _option(entry: Entry, number: int, path: Path, pooled: bool, count: int) -> Element:
    here = (*path, "options", number)
    label = f"Answer {number + 1}"
    right = text_at(entry, "right").lower() in ("yes", "true")
    name = name_of((*here, "right") if pooled else (*path, "right"))
    tick = element(
        "input",
        type="checkbox" if pooled else "radio",
        name=name,
        value="yes" if pooled else str(number),
        id=f"{id_of(name_of(here))}-right",
        checked=right,
    )
    return element(
        "div",
        element("span", class_="dw-complaint", data_for=name_of(here)),
        field((*here, "text"), label, box(text_at(entry, "text"))),
        element("label", tick, " right", for_=f"{id_of(name_of(here))}-right", class_="dw-box"),
        field((*here, "because"), f"What is said when {label.lower()} is chosen", box(text_at(entry, "because"))),
        button("Delete", "remove", name_of(here), f"Delete {label.lower()}") if count > 2 else None,
        class_="dw-option-set",
    )  # fmt: skip


def _shown(entry: Entry, path: Path, what: str) -> Element:
    counts = [("", "all of them", ""), *((str(n), str(n), "") for n in range(2, MOST_OPTIONS + 1))]
    note = f"Write more than that, and each student sees other {what}."
    return field((*path, "show"), "Each student sees", select(text_at(entry, "show"), counts), note)


def order(entry: Entry, path: Path) -> list[Element]:
    by = [(name, f"{name}. {ranking.asks}", "") for name, ranking in RANKINGS.items()]
    listed = entry.part("items")
    there = listed.value if listed and isinstance(listed.value, list) else []
    lines = "\n".join(one.text for one in there)
    lines_box = element(
        "textarea",
        lines,
        rows=max(3, min(len(there) + 1, 12)),
        autocomplete="off",
        spellcheck="false",
    )
    lines_box.set("aria-describedby", whole_id((*path, "items")))
    return [
        field((*path, "by"), "In order of", select(text_at(entry, "by"), by)),
        field((*path, "items", "list"), "What to put in order, one a line", lines_box),
        of_the_whole((*path, "items")),
        adder((*path, "items", "list")),
        _shown(entry, path, "items"),
    ]  # fmt: skip
