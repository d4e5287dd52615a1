"""The interactive parts: what each looks like, written once for the build and for the page.

At build time `build` fills a custom element with its first content. In the page the same code runs
in Pyodide: `respond` takes one request as JSON and gives one answer as JSON.
"""

from __future__ import annotations

import json
import sys

from calc import composition, pack_kinds
from docs.parts.own_ingredients import kept
from docs.parts.shared.fields import FieldErrors
from docs.parts.shared.part import LatePart, Part, late_parts_of, parts_of
from exercises import problems, untrusted
from exercises.publish.html import write

OURS = ("calc", "exercises", "docs")
# One line a part. Its module is docs/parts/x_y.py, its script x-y.js.
EARLY: dict[str, Part] = parts_of(
    __name__,
    "acidity-and-feel",
    "balance-formula",
    "check-question",
    "composition-bars",
    "desk-set",
    "dough-temperature",
    "dry-sample",
    "formula-shelf",
    "given-set",
    "hydration-table",
    "liquid-swap",
    "one-swap",
    "own-ingredients",
    "pack-reader",
    "preferment-form",
    "problem-set",
    "python-cell",
    "recipe-text",
    "scale-formula",
    "school-set",
    "side-by-side",
    "study-plan",
    "worked-example",
)
# The parts of the teacher's desk: what they import is large, and no other page needs it.
LATE: dict[str, LatePart] = late_parts_of(
    __name__,
    "class-marker",
    "demo-class",
    "desk-shelf",
    "set-giver",
    "set-printer",
    "set-writer",
)
PARTS: dict[str, Part | LatePart] = EARLY | LATE


def warm(sets: dict[str, bytes]) -> None:
    """Read the tables and take the packed sets, for a snapshot of memory that then needs no files."""
    composition.table()
    composition.sources()
    pack_kinds.kinds()
    problems.take_packed(sets)


def rehearse() -> None:
    """Answer once, so that a snapshot holds what a first answer has to make: patterns, above all."""
    respond(json.dumps({"part": "liquid-swap", "fields": EARLY["liquid-swap"].fields({})}))


def import_late() -> None:
    """Import what the late parts need, for a list of all the modules that a page can ask for."""
    for part in LATE.values():
        part.load()


def forget() -> None:
    """Let go of what a reader wrote: in a browser other pages go on with this Python.

    A cache with a limit keeps what comes and goes, such as a teacher's own set; one without, our tables.
    """
    ours = [module for name, module in sys.modules.items() if name.split(".")[0] in OURS]
    for value in [each for module in ours for each in vars(module).values()]:
        if hasattr(value, "cache_clear") and value.cache_parameters()["maxsize"] is not None:
            value.cache_clear()


def _well_formed(fields: dict[str, object]) -> dict[str, object]:
    return {
        name: untrusted.well_formed(each) if isinstance(each, str) else each
        for name, each in fields.items()
    }


def respond(request: str) -> str:
    """Answer the page: ``{"part": …, "fields": {…}}`` in, HTML or messages out, both JSON.

    ``own`` is the text of the reader's own ingredients, known for this one request; ``linked`` that of
    ingredients in the page's address, which never take the place of the reader's.
    """
    asked = json.loads(request)
    try:
        own, linked = (kept(asked.get(name, "")) for name in ("own", "linked"))
        with composition.known({each.key: each for each in [*linked, *own]}.values()):
            answer = PARTS[asked["part"]].respond(_well_formed(asked["fields"]))
    except FieldErrors as error:
        return json.dumps({"complaints": error.messages})
    answer["html"] = write(*answer.pop("elements", []))
    return json.dumps(answer, ensure_ascii=False)
