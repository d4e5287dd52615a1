"""The interactive parts: what each looks like, written once for the build and for the page.

At build time `build` fills a custom element with its first content. In the page the same code runs
in Pyodide: `respond` takes one request as JSON and gives one answer as JSON.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.parts import (
    composition_bars,
    hydration_table,
    liquid_swap,
    problem_set,
    python_cell,
    worked_example,
)
from docs.parts.fields import FieldErrors
from docs.parts.html import write

PARTS = {
    "composition-bars": composition_bars,
    "hydration-table": hydration_table,
    "liquid-swap": liquid_swap,
    "problem-set": problem_set,
    "python-cell": python_cell,
    "worked-example": worked_example,
}


def build(name: str, attributes: Mapping[str, str]) -> list[Element]:
    """The first content of a custom element. Raises ValueError or KeyError for the author."""
    return PARTS[name].build(attributes)


def respond(request: str) -> str:
    """Answer the page: ``{"part": …, "fields": {…}}`` in, HTML or messages out, both JSON."""
    asked = json.loads(request)
    try:
        answer = PARTS[asked["part"]].respond(asked["fields"])
    except FieldErrors as error:
        return json.dumps({"complaints": error.messages})
    answer["html"] = write(*answer.pop("elements", []))
    return json.dumps(answer, ensure_ascii=False)
