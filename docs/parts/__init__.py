"""The interactive parts: what each looks like, written once for the build and for the page.

At build time `build` fills a custom element with its first content. In the page the same code runs
in Pyodide: `respond` takes one request as JSON and gives one answer as JSON.
"""

from __future__ import annotations

import json

from calc import composition
from docs.parts import (
    acidity_and_feel,
    balance_formula,
    composition_bars,
    dough_temperature,
    dry_sample,
    hydration_table,
    liquid_swap,
    own_ingredients,
    pack_reader,
    problem_set,
    python_cell,
    scale_formula,
    set_writer,
    side_by_side,
    study_plan,
    worked_example,
)
from docs.parts.shared.fields import FieldErrors
from exercises import problems
from exercises.publish.html import write

PARTS = {
    "acidity-and-feel": acidity_and_feel.PART,
    "balance-formula": balance_formula.PART,
    "composition-bars": composition_bars,
    "dough-temperature": dough_temperature.PART,
    "dry-sample": dry_sample.PART,
    "hydration-table": hydration_table,
    "liquid-swap": liquid_swap.PART,
    "own-ingredients": own_ingredients,
    "pack-reader": pack_reader.PART,
    "problem-set": problem_set,
    "python-cell": python_cell,
    "set-writer": set_writer,
    "scale-formula": scale_formula.PART,
    "side-by-side": side_by_side,
    "study-plan": study_plan,
    "worked-example": worked_example,
}


def warm() -> None:
    """Read the tables and the sets, for a snapshot of memory that then needs no files."""
    composition.table()
    composition.sources()
    problems.pack_sets()


def respond(request: str) -> str:
    """Answer the page: ``{"part": …, "fields": {…}}`` in, HTML or messages out, both JSON.

    ``own`` is the text of the reader's own ingredients, known for this one request; ``linked`` that of
    ingredients in the page's address, which never take the place of the reader's.
    """
    asked = json.loads(request)
    try:
        own, linked = (own_ingredients.kept(asked.get(name, "")) for name in ("own", "linked"))
        with composition.known({each.key: each for each in [*linked, *own]}.values()):
            answer = PARTS[asked["part"]].respond(asked["fields"])
    except FieldErrors as error:
        return json.dumps({"complaints": error.messages})
    answer["html"] = write(*answer.pop("elements", []))
    return json.dumps(answer, ensure_ascii=False)
