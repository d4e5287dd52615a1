"""HTML as a tree, so that a reader's text can only ever become text.

`element` builds with the standard library's ElementTree; `write` prints it. Nothing in the
project writes markup as strings.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from calc.units import BY_SYMBOL

Child = Element | str | None


def element(tag: str, *children: Child, **attributes: object) -> Element:
    """An element. ``class_`` gives ``class``; underscores become hyphens.

    An attribute of True is written empty; one of None or False is left out.
    """
    made = Element(tag)
    for name, value in attributes.items():
        if value is None or value is False:
            continue
        made.set(name.rstrip("_").replace("_", "-"), "" if value is True else str(value))
    if tag == "textarea":
        # It is sent back as it is here: no sign of it may change.
        made.text = "".join(child for child in children if isinstance(child, str))
    else:
        add(made, *children)
    return made


# A number and its unit stay on one line, wherever the lines of their source end.
UNIT_GAP = re.compile(rf"(?<=\d)[ \n]+(?=(?:{'|'.join(map(re.escape, BY_SYMBOL))})(?!\w))")
# What is not prose stays as it is written.
VERBATIM = ("code", "pre", "textarea")


def add(parent: Element, *children: Child) -> None:
    """Append elements and text, in order."""
    for child in children:
        if child is None:
            continue
        if isinstance(child, Element):
            parent.append(child)
            continue
        if parent.tag not in VERBATIM:
            child = UNIT_GAP.sub("\u00a0", child)
        if len(parent):
            parent[-1].tail = (parent[-1].tail or "") + child
        else:
            parent.text = (parent.text or "") + child


def write(*elements: Element) -> str:
    """The HTML text of some elements."""
    return "".join(
        ElementTree.tostring(each, encoding="unicode", method="html") for each in elements
    )


def table(caption: str, heads: list[str], rows: list[list[Child]], class_: str = "") -> Element:
    """A table whose first column heads its rows, in a box that scrolls by itself if it must.

    The box takes the focus, so that it scrolls by keyboard (WCAG 2.1.1).
    """
    head = element(
        "tr", *(element("th", text, scope="col") if text else element("td") for text in heads)
    )
    body = [
        element(
            "tr", element("th", row[0], scope="row"), *(element("td", cell) for cell in row[1:])
        )
        for row in rows
    ]
    made = element(
        "table",
        element("caption", caption) if caption else None,
        element("thead", head),
        element("tbody", *body),
        class_="dw-grid",
    )
    return element(
        "div",
        made,
        class_=f"dw-table {class_}".strip(),
        role="group",
        aria_label=caption or "Table",
        tabindex="0",
    )
