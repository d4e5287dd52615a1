"""The shelf of one's own formulas: named, kept on the reader's device, saved to one file and read from it.

The page keeps them; here only a file is written and read. A file may hold anything: it is bounded
before it is read, each formula is checked, and nothing is taken in part.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.parts.shared.fields import FieldErrors, complaint
from docs.parts.shared.formula_form import FORMULA_FIELDS, SWAP_FIELDS
from exercises import untrusted
from exercises.publish.html import element

FORMAT = "doughwater-formulas"
FILE_NAME = "my-formulas.json"
MOST_FORMULAS = 200
LONGEST_NAME = 60
LONGEST_VALUE = 80
LONGEST_FILE = 400_000
FIELDS = (*FORMULA_FIELDS, *SWAP_FIELDS)

Record = dict[str, object]


def build(attributes: Mapping[str, str]) -> list[Element]:
    """The shelf by itself, as it is in each formula's form."""
    return shelf(attributes.get("id", "shelf"))


def folded(prefix: str) -> Element:
    """The shelf, folded away in a form."""
    return element("formula-shelf", *shelf(f"{prefix}-shelf"), class_="dw-part")


def shelf(prefix: str) -> list[Element]:
    """An empty shelf: the page puts the formulas on it. Its fields have no names: they are no form's."""

    def press(text: str, act: str) -> Element:
        return element(
            "button", text, type="button", class_="dw-button dw-quiet", data_act=act
        )  # fmt: skip

    return [
        element(
            "details",
            element("summary", "My formulas"),
            element(
                "div",
                element("label", "Its name", for_=f"{prefix}-name"),
                element(
                    "input", id=f"{prefix}-name", type="text", maxlength=str(LONGEST_NAME),
                    autocomplete="off", placeholder="such as rolls for the market", data_shelf="name",
                ),
                press("Keep this formula", "keep"),
                class_="dw-shelf-keep",
            ),
            element("ul", data_shelf="list"),
            element(
                "div",
                element("p", "The formulas that you keep are listed here, on this device, in every tool."),
                class_="dw-empty-place",
                data_picture="formulas-to-come",
            ),
            element(
                "div",
                press("Save all to a file", "save"),
                element(
                    "label",
                    "Read a file ",
                    element("input", id=f"{prefix}-file", type="file", accept=".json,application/json"),
                    for_=f"{prefix}-file",
                ),
                class_="dw-buttons",
            ),
            element("p", role="status", data_shelf="says"),
            complaint("shelf-file"),
        )
    ]  # fmt: skip


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Write the ``store`` to a file, or read the ``file``. Raises FieldErrors with what is wrong in it."""
    if values.get("action") == "save":
        found = read(values.get("store", ""), "what is kept here")
        text = json.dumps(
            {"format": FORMAT, "version": 1, "formulas": found}, ensure_ascii=False, indent=1
        )
        says = f"{counted(len(found), 'formula')} saved to {FILE_NAME}."
        return {"file": text, "filename": FILE_NAME, "says": says}
    found = read(values.get("file", ""), "this file")
    return {"formulas": found, "says": f"The file holds {counted(len(found), 'formula')}."}


def read(text: str, where: str) -> list[Record]:
    """The formulas in a text, all of them. Raises FieldErrors."""
    try:
        held = untrusted.read_json(text, LONGEST_FILE)
    except ValueError:
        held = None
    rows = held.get("formulas") if isinstance(held, dict) else held
    if not isinstance(rows, list) or not rows:
        raise _refusal(f"There are no formulas in {where}. Choose a file saved here, such as {FILE_NAME}.")  # fmt: skip
    if len(rows) > MOST_FORMULAS:
        raise _refusal(f"There are {len(rows)} formulas in {where}; {MOST_FORMULAS} fit.")
    return [_record(row, number) for number, row in enumerate(rows, 1)]


def _record(row: object, number: int) -> Record:
    name = row.get("name") if isinstance(row, dict) else None
    fields = row.get("fields") if isinstance(row, dict) else None
    if not isinstance(name, str) or not name.strip() or not isinstance(fields, dict):
        raise _refusal(f"Formula {number} has no name, or no amounts. Nothing was added.")
    known = {field: fields[field] for field in FIELDS if field in fields}
    if not all(isinstance(text, str) and len(text) <= LONGEST_VALUE for text in known.values()):
        raise _refusal(
            f"Formula {number} has an amount that is no text of ours. Nothing was added."
        )
    return {"name": " ".join(name.split())[:LONGEST_NAME], "fields": known}


def _refusal(message: str) -> FieldErrors:
    return FieldErrors({"shelf-file": message})
