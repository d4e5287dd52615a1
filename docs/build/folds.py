"""A long page is short first: its headings, each of which opens to what is under it.

A glossary is folded by letter. On any other page, what follows a rule (``---``) is to look up: in a lesson
docs/build/steps.py folds it, elsewhere this pass does. docs/page/open-fold.js opens what an address names.
"""

from __future__ import annotations

from itertools import takewhile

from docs.build.tree import Tag, classes, grown, tags, wrap
from exercises.publish.html import element


def fold_headings(page: Tag) -> None:
    """Put what follows each heading below a list of letters, or below a rule, into a part that opens."""
    letters = page.find_class("dw-letters")[:1]
    rules = [rule for rule in tags(page, "hr") if "md-content__inner" in classes(rule.getparent())]
    for start in (*letters, *rules[:1]):
        for heading in list(start.itersiblings("h2")):
            _fold(heading)
    for rule in rules[:1]:
        rule.drop_tree()


def _fold(heading: Tag) -> None:
    under = list(takewhile(lambda each: each.tag != "h2", heading.itersiblings()))
    summary, whole = grown(element("summary")), grown(element("details", class_="dw-section"))
    wrap(heading, summary)
    wrap(summary, whole)
    whole.extend(under)
    # A link inside what a press opens is hard to press.
    for link in summary.find_class("headerlink"):
        link.drop_tree()
