"""A long page is short first: its headings, each of which opens to what is under it.

A glossary is folded by letter: its list of letters becomes the list of its words, a letter a line. On any other page, what follows a rule (``---``) is to look up: in a lesson
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
            _fold(heading, names=start in letters)
        start.drop_tree()


def _fold(heading: Tag, names: bool) -> None:
    """Fold what is under a heading; with `names`, the terms under it are told beside it."""
    under = list(takewhile(lambda each: each.tag != "h2", heading.itersiblings()))
    summary, whole = grown(element("summary")), grown(element("details", class_="dw-section"))
    wrap(heading, summary)
    wrap(summary, whole)
    whole.extend(under)
    if names:
        terms = (" ".join(term.text_content().split()) for term in tags(whole, "dt"))
        summary.append(
            grown(element("span", "\N{NO-BREAK SPACE}· ".join(terms), class_="dw-terms"))
        )
    # A link inside what a press opens is hard to press.
    for link in summary.find_class("headerlink"):
        link.drop_tree()
