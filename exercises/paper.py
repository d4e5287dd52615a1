"""``doughwater print``: worksheet, key, and the table into which answers from paper are typed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from calc.words import capital
from exercises.collect import CODE_HEADING, STUDENT_HEADINGS, places_on_paper
from exercises.draws import ProblemSet, draw
from exercises.publish.pdf import PdfError, print_pdf
from exercises.publish.worksheet import Sheet, key, worksheet
from exercises.table import TableWriter

ANSWERS = "answers.csv"


def print_set(
    problem_set: ProblemSet, sheets: list[Sheet], folder: Path, paper: str
) -> Iterator[str]:
    """Write everything into a folder, and tell each thing written. Raises OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    # First, because it stops where answers to other sheets may be typed in already.
    answers = folder / ANSWERS
    write_template(problem_set, sheets, answers)
    yield f"To type answers into: {answers}"
    for name, text in (
        ("worksheet", worksheet(problem_set, sheets, paper)),
        ("key", key(problem_set, sheets, paper)),
    ):
        html = folder / f"{name}.html"
        html.write_text(text, "utf-8")
        yield f"{capital(name)}: {html}"
        try:
            print_pdf(html, html.with_suffix(".pdf"))
        except PdfError as error:
            yield f"No {name}.pdf: {error}"
        else:
            yield f"{capital(name)}: {html.with_suffix('.pdf')}"


def write_template(problem_set: ProblemSet, sheets: list[Sheet], path: Path) -> None:
    """A table with a row a sheet and a column an answer. A table typed into is never overwritten.

    Lines of free working go into one cell, with a semicolon between them.
    """
    with path.open("x", encoding="utf-8-sig", newline="") as file:
        writer = TableWriter(file)
        headings = [
            f"{problem.id}/{key}"
            for problem in problem_set.problems
            for key in places_on_paper(draw(problem_set, problem, ""))
        ]
        writer.write(CODE_HEADING, STUDENT_HEADINGS[0], *headings)
        for sheet in sheets:
            writer.write(sheet.code, sheet.student, *("" for _ in headings))
