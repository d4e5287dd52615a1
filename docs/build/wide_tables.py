"""A table of many columns of words: each cell names its column, so that a phone shows a row as a card (style.css)."""

from __future__ import annotations

from docs.build.tree import Tag, tags

# So many columns, and more, are too many for a phone, unless each holds no more letters than a figure has.
MANY = 4
FIGURE = 14


def name_columns(page: Tag) -> None:
    """Write into each cell of Markdown's wide tables what its column is."""
    for table in tags(page, "table"):
        if not table.get("class"):
            _name_columns(table)


def _name_columns(table: Tag) -> None:
    heads = [_words(head) for head in table.iterfind("thead/tr/th")]
    rows = [list(zip(heads, row, strict=True))[1:] for row in table.iterfind("tbody/tr")]
    longest = max((len(_words(cell)) for row in rows for _, cell in row), default=0)
    if len(heads) < MANY or longest <= FIGURE:
        return
    for row in rows:
        for head, cell in row:
            cell.set("data-label", head)


def _words(cell: Tag) -> str:
    return " ".join(cell.text_content().split())
