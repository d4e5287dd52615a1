"""One page after MkDocs: its elements filled, its words kept together, its scripts and policy in place."""

from __future__ import annotations

from pathlib import Path

from lxml import etree

from docs.build.accessibility import repair
from docs.build.elements import fill_elements
from docs.build.error import BuildError
from docs.build.folds import fold_headings
from docs.build.illustrate import illustrate
from docs.build.policy import secure
from docs.build.scripts import order_scripts
from docs.build.search import speak
from docs.build.steps import into_steps, lesson_of
from docs.build.tree import Tag, tags
from docs.build.wide_tables import name_columns
from docs.offline.file_list import make_installable
from exercises.publish.html import UNIT_GAP, VERBATIM

# Texts in which a gap follows a figure, but for those that stay as they are.
_FIGURE_AND_GAP = etree.XPath(
    "//text()[contains(translate(., '123456789\n', '000000000 '), '0 ')]"
    f"[not({' or '.join(f'ancestor::{name}' for name in (*VERBATIM, 'script', 'style'))})]"
)


def fill(page: Tag, file: Path, root: str = "", source: Path | None = None) -> None:
    """Fill a page's interactive parts with what they show before any script runs, and give it its policy.

    `root` leads from the page to the site's start: a part's links name pages from there. `source` is the
    Markdown that the page was made from, for complaints. Raises BuildError.
    """
    fill_elements(page, file, source)
    illustrate(page, source)
    if key := lesson_of(source):
        into_steps(page, key)
    for link in tags(page, "a"):
        if "data-site" in link.attrib:
            link.set("href", root + link.get("data-site"))
    keep_units(page)
    name_columns(page)
    fold_headings(page)
    repair(page)
    speak(page)
    make_installable(page, root)
    order_scripts(page, root)
    # After the scripts, so that it comes before them.
    try:
        secure(page)
    except ValueError as error:
        raise BuildError(f"{file}: {error}") from error


def keep_units(page: Tag) -> None:
    """Keep a number and its unit on one line, in text; code and attributes stay as they are."""
    for text in _FIGURE_AND_GAP(page):
        tag = text.getparent()
        if text.is_tail:
            tag.tail = UNIT_GAP.sub("\u00a0", tag.tail)
        else:
            tag.text = UNIT_GAP.sub("\u00a0", tag.text)
