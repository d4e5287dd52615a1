"""A glossary folded by letter: a long page is its letters first, and each opens."""

from __future__ import annotations

from bs4 import BeautifulSoup, Tag


def fold_letters(soup: BeautifulSoup) -> None:
    """Put what follows each letter of a page with a list of letters into a part that opens."""
    tags = soup.find_all(True)
    letters = next((tag for tag in tags if "dw-letters" in tag.get("class", ())), None)
    if letters is None:
        return
    for heading in letters.find_next_siblings("h2"):
        _fold(soup, heading)


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
