"""One page after MkDocs: its elements filled, its words kept together, its scripts and policy in place."""

from __future__ import annotations

from pathlib import Path

from bs4 import BeautifulSoup, NavigableString

from docs.build.accessibility import repair
from docs.build.elements import fill_elements
from docs.build.error import BuildError
from docs.build.folds import fold_headings
from docs.build.illustrate import illustrate
from docs.build.policy import secure
from docs.build.scripts import order_scripts
from docs.build.search import speak
from docs.build.steps import into_steps, lesson_of
from docs.build.texts import texts
from docs.build.tree import tags
from docs.offline.file_list import make_installable
from exercises.publish.html import UNIT_GAP

VERBATIM = ["code", "pre", "textarea", "script", "style"]


def fill(soup: BeautifulSoup, page: Path, root: str = "", source: Path | None = None) -> None:
    """Fill a page's interactive parts with what they show before any script runs, and give it its policy.

    `root` leads from the page to the site's start: a part's links name pages from there. `source` is the
    Markdown that the page was made from, for complaints. Raises BuildError.
    """
    fill_elements(soup, page, source)
    illustrate(soup, source)
    if key := lesson_of(source):
        into_steps(soup, key)
    for link in tags(soup):
        if link.name == "a" and "data-site" in link.attrs:
            link["href"] = root + link["data-site"]
    keep_units(soup)
    fold_headings(soup)
    repair(soup)
    speak(soup)
    make_installable(soup, root)
    order_scripts(soup, root)
    # After the scripts, so that it comes before them.
    try:
        secure(soup)
    except ValueError as error:
        raise BuildError(f"{page}: {error}") from error


def keep_units(soup: BeautifulSoup) -> None:
    """Keep a number and its unit on one line, in text; code and attributes stay as they are."""
    for text in list(texts(soup, lambda tag: tag.name in VERBATIM)):
        if type(text) is NavigableString and UNIT_GAP.search(text):
            text.replace_with(UNIT_GAP.sub("\u00a0", text))
