"""The menu of the whole site, in each page: most of what MkDocs writes, and nothing of ours.

A page is read without it, and has it back when it is written.
"""

from __future__ import annotations

import re

from exercises.publish.html import UNIT_GAP

START = '<div class="md-sidebar md-sidebar--primary"'
# What follows it: the list of the page's own headings.
END = '<div class="md-sidebar md-sidebar--secondary"'
PLACE = "<!--menu-->"
# The theme makes a stop for the keyboard of a label that needs none.
STOP = ' tabindex=""'


def put_aside(html: str) -> tuple[str, str]:
    """A page with a place for its menu, and the menu; a page without one as it is."""
    before, start, rest = html.partition(START)
    menu, end, after = rest.partition(END)
    return (before + PLACE + end + after, start + menu) if end else (html, "")


def put_back(html: str, menu: str) -> str:
    """The page with its menu in its place, repaired, without the template's room between its lines."""
    close = re.sub(r"\s*\n\s*", "\n", menu.replace(STOP, ""))
    return html.replace(PLACE, UNIT_GAP.sub("\u00a0", close), 1)
