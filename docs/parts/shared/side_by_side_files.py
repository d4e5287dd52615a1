"""A side-by-side bake as a file: CSV for a spreadsheet, JSON to open here again."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Mapping

from calc import units
from calc.forced_choice import TESTS
from calc.forced_choice import cells as choice_cells
from calc.loaves import (
    BY_KEY,
    DERIVED,
    MEASURES,
    REMARK,
    SCORE,
    SCORES,
    Loaf,
    Measure,
    cell,
    score_cell,
)
from calc.units import BY_SYMBOL
from docs.parts.shared.fields import FieldErrors
from docs.parts.shared.side_by_side_results import Results
from docs.parts.shared.side_by_side_sheets import Plan
from exercises import untrusted
from exercises.cells import harmless

KIND, VERSION = "side-by-side bake", 1
LARGEST_FILE = 500_000
LONGEST_CELL, MOST_CELLS = 400, 2_000
_CELL = re.compile(r"[^\W_][\w-]{0,80}\.[1-9][0-9]?\.[a-z-]{1,30}")


def save_json(plan: Mapping[str, str], cells: Mapping[str, str]) -> str:
    """The plan's fields and the cells, as they were typed."""
    bake = {"doughwater": KIND, "version": VERSION, "plan": dict(plan), "results": dict(cells)}
    return json.dumps(bake, ensure_ascii=False, indent=2) + "\n"


def open_json(text: str, fields: Iterable[str]) -> tuple[dict[str, str], dict[str, str]]:
    """The plan's fields and the cells of a saved bake, each checked.

    `fields` are the names a plan may have. Raises FieldErrors with the reason, for the field ``file``.
    """
    if len(text) > LARGEST_FILE:
        raise _refused("it is too large for a bake")
    try:
        found = untrusted.read_json(text)
    except ValueError:
        raise _refused("it is not JSON, or only a part of it is there") from None
    if not isinstance(found, dict) or found.get("doughwater") != KIND:
        raise _refused("it is not a side-by-side bake saved from this page")
    if found.get("version") != VERSION:
        raise _refused("it was saved by another version of this page")
    plan, cells = found.get("plan"), found.get("results")
    if not isinstance(plan, dict) or not isinstance(cells, dict):
        raise _refused("its plan or its results are missing")
    known = set(fields)
    for name, value in plan.items():
        if name not in known:
            raise _refused(f"its plan has a field “{name[:40]}” that this page does not know")
        if not isinstance(value, str) or len(value) > LONGEST_CELL:
            raise _refused(f"its plan’s field “{name}” is not a short text")
    good = checked(cells)
    if len(good) != len(cells):
        bad = next(str(name) for name in cells if name not in good)
        raise _refused(f"its result “{bad[:60]}” is not one that this page knows")
    return dict(plan), good


def _refused(reason: str) -> FieldErrors:
    return FieldErrors({"file": f"This file cannot be opened: {reason}. Nothing was changed."})


def checked(cells: object) -> dict[str, str]:
    """The cells that can be a bake's: a known name and a short text; the others are left out."""
    if not isinstance(cells, dict) or len(cells) > MOST_CELLS:
        return {}
    known = {*BY_KEY, REMARK, *(SCORE + one.key for one in SCORES)}
    known |= {name.rsplit(".", 1)[1] for test in TESTS for name in choice_cells(test)}
    return {
        name: text
        for name, text in cells.items()
        if isinstance(text, str)
        and len(text) <= LONGEST_CELL
        and _CELL.fullmatch(name)
        and name.rsplit(".", 1)[1] in known
    }


def save_scores(plan: Plan, results: Results, cells: Mapping[str, str]) -> str:
    """A row for each sample of each taster, in the order of tasting; as `save_csv` otherwise."""
    names = {variant.key: variant.name for variant in plan.bake.variants}
    codes = plan.bake.codes()
    heads = ["taster", "place", "code", "liquid", "loaf", *(one.name for one in SCORES)]
    rows = []
    for taster, loaves in enumerate(plan.bake.served(), 1):
        for place, (key, loaf) in enumerate(loaves, 1):
            typed = [cells.get(score_cell(key, taster, one.key), "") for one in SCORES]
            start = [taster, place, codes[key, loaf], names[key], loaf]
            rows.append([*map(str, start), *typed])
    return _written([heads, *rows])


def _written(rows: list[list[str]]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows(
        [harmless(text) for text in row] for row in rows
    )
    return out.getvalue()


def save_csv(plan: Plan, results: Results, cells: Mapping[str, str]) -> str:
    """A row for each loaf, after RFC 4180: commas, quotes where needed, CRLF at the end of lines.

    Numbers have a decimal point and the unit in the column's head. A cell that could not be read
    is as it was typed. No cell can start a formula in a spreadsheet.
    """
    columns = [*MEASURES, *DERIVED]
    rows = [["code", "liquid", "loaf", *(_head(m) for m in columns), "remark"]]
    names = {variant.key: variant.name for variant in plan.bake.variants}
    codes = plan.bake.codes()
    for loaf in results.loaves:
        typed = [cells.get(cell(loaf.variant, loaf.number, m.key), "") for m in columns]
        numbers = [_number(loaf, m) for m in columns]
        remark = cells.get(cell(loaf.variant, loaf.number, REMARK), "")
        row = [
            str(codes[loaf.variant, loaf.number]),
            names[loaf.variant],
            str(loaf.number),
            *(number or text for number, text in zip(numbers, typed, strict=True)),
            remark,
        ]
        rows.append(row)
    return _written(rows)


def _symbol(measure: Measure) -> str:
    return (
        measure.unit
        or units.KINDS[measure.kind].default
        or ("%" if measure.kind == "share" else "")
    )


def _head(measure: Measure) -> str:
    symbol = _symbol(measure)
    return f"{measure.name} ({symbol})" if symbol else measure.name


def _number(loaf: Loaf, measure: Measure) -> str:
    value = loaf.value(measure.key)
    if value is None:
        return ""
    unit = BY_SYMBOL.get(_symbol(measure))
    return f"{value / unit.factor if unit else value:.6g}"
