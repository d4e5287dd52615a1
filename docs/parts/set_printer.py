"""Print a set from the desk: worksheets, the key, and the table into which answers are typed."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.units import read_whole
from calc.words import counted
from docs.parts.shared.desk_files import made
from docs.parts.shared.desk_set import asked_part, level_field, names_field, names_in
from docs.parts.shared.fields import FieldErrors, choice_field
from exercises.codes import MOST_SHEETS
from exercises.draws import ProblemSet
from exercises.paper import ANSWERS, write_template
from exercises.publish import page, worksheet
from exercises.publish.html import element
from exercises.publish.worksheet import Sheet, named, numbered

card = True
A_CLASS = "24"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """Whom to print for, on what paper; then what to do with it."""
    return [
        element(
            "form",
            names_field(
                "print",
                "Names, one a line",
                "Each name picks its own numbers, the same as on a screen. Names stay in this page and are forgotten with it.",
            ),
            element(
                "div",
                element(
                    "div",
                    element("label", "Or so many sheets with a line for a name", for_="print-count"),
                    element("input", id="print-count", name="count", type="text", inputmode="numeric", value=A_CLASS, autocomplete="off"),
                    element("span", class_="dw-complaint", data_for="count"),
                    class_="dw-field",
                ),
                level_field("print"),
                choice_field("print", "paper", "Paper", "a4", [("a4", "A4", ""), ("letter", "letter", "")]),
                class_="dw-row",
            ),
            element(
                "div",
                element("button", "Print the worksheets", type="submit", class_="dw-button", data_action="worksheets"),
                element("button", "Print the key", type="submit", class_="dw-button dw-quiet", data_action="key"),
                element("button", "Save as files", type="submit", class_="dw-button dw-quiet", data_action="files"),
                class_="dw-buttons",
            ),
            element(
                "p",
                f"The files are the worksheets, the key, and {ANSWERS}: a table with a row a sheet, into which you type what the students wrote. Then mark it.",
                class_="dw-note",
            ),
            class_="dw-form",
            novalidate=True,
        ),
        element("div", class_="dw-output", data_output=True),
        element(
            "div",
            element("p", "The pages that you print are laid out here first, so you can look at them again."),
            class_="dw-empty-place",
            data_picture="print",
        ),
        element("p", class_="dw-status", role="status"),
    ]  # fmt: skip


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``worksheets``, ``key`` or ``files``.

    The first two give the pages with their style; a page shows and prints them in a frame.
    """
    problem_set = asked_part(values)
    sheets = _sheets(problem_set, values)
    paper = values.get("paper", "")
    paper = paper if paper in worksheet.PAPERS else next(iter(worksheet.PAPERS))
    says = f"{problem_set.title}: {counted(len(sheets), 'sheet')}."
    if values.get("action") == "files":
        return {"made": _write(problem_set, sheets, paper, values), "says": f"{says} Saved."}
    body = worksheet.key_body if values.get("action") == "key" else worksheet.worksheet_body
    return {
        "elements": body(problem_set, sheets),
        "style": page.STYLE + worksheet.style(paper),
        "says": says,
    }


def _sheets(problem_set: ProblemSet, values: Mapping[str, str]) -> list[Sheet]:
    if names := names_in(values):
        return named(problem_set, names)
    count = read_whole(values.get("count", "").strip()) or 0
    if not 1 <= count <= MOST_SHEETS:
        raise FieldErrors({"count": f"Write a whole number from 1 to {MOST_SHEETS}, or names."})
    return numbered(problem_set, count)


def _write(
    problem_set: ProblemSet, sheets: list[Sheet], paper: str, values: Mapping[str, str]
) -> list[str]:
    """Write the same files as ``doughwater print`` does, and give their names."""
    folder, key = made(values), problem_set.key
    texts = {
        f"{key}-worksheet.html": worksheet.worksheet(problem_set, sheets, paper),
        f"{key}-key.html": worksheet.key(problem_set, sheets, paper),
    }
    for name, text in texts.items():
        (folder / name).write_text(text, "utf-8")
    answers = f"{key}-{ANSWERS}"
    write_template(problem_set, sheets, folder / answers)
    return [*texts, answers]
