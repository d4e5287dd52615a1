"""What the site's search shows where it finds nothing, written into a module of its own: fetched at the first such search."""

from __future__ import annotations

import json

from docs.course.kitchen_picture import picture
from exercises.publish.html import element, write

SAY = "One plain word finds most: kefir, salt, sourdough. What is near:"
# Where a word may still be found, and how: the address takes it along.
NEAR = (
    ("swap/", "Swap a liquid", "any liquid, your own too"),
    ("reference/ingredients/?find=", "The ingredient table", "what people call each one"),
    ("reference/glossary/", "Glossary", "the words of the trade, from A to Y"),
)


def no_hits_module() -> str:
    """The module's text: the HTML, whose links name pages from the site's start; one ends where the word goes."""
    near = [
        element("li", element("a", title, data_site=to), f" {told}") for to, title, told in NEAR
    ]
    html = write(picture("nothing-here", "small"), element("p", SAY), element("ul", *near))
    return (
        "// Written by the build (docs/build/no_hits.py): what the search shows where it finds nothing.\n"
        f"export const NO_HITS = {json.dumps(html, ensure_ascii=False)};\n"
    )
