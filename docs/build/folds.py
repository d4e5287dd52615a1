"""A long page is short first: its headings, each of which opens to what is under it.

A glossary is folded by letter. On any other page, what follows a rule (``---``) is to look up: in a lesson
docs/build/steps.py folds it, elsewhere this pass does. docs/page/open-fold.js opens what an address names.
"""

from __future__ import annotations

from bs4 import BeautifulSoup, Tag

from docs.build.tree import tags


def fold_headings(soup: BeautifulSoup) -> None:
    """Put what follows each heading below a list of letters, or below a rule, into a part that opens."""
    letters = next((tag for tag in tags(soup) if "dw-letters" in tag.attrs.get("class", ())), None)
    rule = next((tag for tag in tags(soup) if tag.name == "hr" and _is_top(tag)), None)
    for start in filter(None, (letters, rule)):
        for heading in start.find_next_siblings("h2"):
            _fold(soup, heading)
    if rule is not None:
        rule.decompose()


def _is_top(tag: Tag) -> bool:
    return "md-content__inner" in tag.parent.get("class", ())


def _fold(soup: BeautifulSoup, heading: Tag) -> None:
    whole = soup.new_tag("details", attrs={"class": "dw-section"})
    heading.insert_before(whole)
    while (following := whole.next_sibling) is not None:
        if isinstance(following, Tag) and following.name == "h2" and following is not heading:
            break
        whole.append(following)
    summary = soup.new_tag("summary")
    heading.wrap(summary)
    # A link inside what a press opens is hard to press.
    for link in summary.select(".headerlink"):
        link.decompose()
