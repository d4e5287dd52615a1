"""Build the site: MkDocs turns Markdown into pages, one pass fills the interactive parts, and the
engine (Python for the page) is copied beside them.

Everything of ours stands outside the theme and its plugins, so that the generator can be changed.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from urllib.parse import urlsplit

from bs4 import BeautifulSoup, NavigableString, Tag
from mkdocs.commands.build import build as build_pages
from mkdocs.config import load_config
from mkdocs.exceptions import Abort, ConfigurationError

from calc import composition
from calc.data_file import DataFileError
from docs.build_error import BuildError
from docs.course import STILL
from docs.demo_pages import write_demo_pages
from docs.engine_files import copy_engine
from docs.everyone import mend
from docs.for_files import SERVER, name_files
from docs.offline_list import make_installable, write_worker
from docs.parts import PARTS
from docs.parts.html import write
from docs.policy import secure
from docs.scripts import copy_scripts, order_scripts
from docs.search import improve, more_words
from exercises.publish.html import UNIT_GAP

ROOT = Path(__file__).resolve().parent.parent
CONFIG = ROOT / "site_config.yml"
HERE = ROOT / "docs"
SITE = ROOT / ".site"

# Source maps, search in other languages, a second picture for the tab, and a sitemap without addresses.
UNUSED = (
    "assets/javascripts/**/*.map",
    "assets/stylesheets/*.map",
    "assets/javascripts/lunr",
    "assets/images/favicon.png",
    "sitemap.xml*",
)


VERBATIM = ["code", "pre", "textarea", "script", "style"]


def build_site(site: Path = SITE, address: str = "", for_files: bool = False) -> Path:
    """Build the whole site into a folder and return it. Raises BuildError.

    `address` is where it will stand; only the page for wrong addresses needs it, and only where that
    is not a host's own start. With `for_files` its links also work from a disk.
    """
    if site.is_dir() and any(site.iterdir()) and not (site / "assets" / "javascripts").is_dir():
        # MkDocs empties the folder that it writes into.
        raise BuildError(f"{site}: other files are in this folder. Name a new folder for the site.")
    try:
        composition.table()
    except DataFileError as error:
        raise BuildError(str(error)) from None
    try:
        config = load_config(str(CONFIG), site_dir=str(site), site_url=address or None)
    except ConfigurationError as error:
        raise BuildError(f"{CONFIG.name}: {error}\nIndent each line like its neighbours.") from None
    try:
        build_pages(config)
    except Abort as error:
        raise BuildError(f"MkDocs: {error}. Its warnings above name the pages.") from None
    words: list[tuple[str, str]] = []
    for page in sorted(site.rglob("*.html")):
        soup = fill(page, root_from(page, site, urlsplit(address).path))
        words += more_words(soup, PARTS | STILL, page.relative_to(site))
    improve(site, words)
    drop_unused(site)
    copy_scripts(site)
    copy_engine(site / "engine")
    # They have a policy of their own, stricter than a page's.
    write_demo_pages(site)
    shutil.copyfile(HERE / "local_server.py", site / SERVER)
    if for_files:
        name_files(site)
    # Last, because it lists every file.
    write_worker(site)
    return site


def root_from(page: Path, site: Path, start: str = "") -> str:
    """The way from a page to the site's start; a host shows its error page at any address."""
    if page.name == "404.html":
        return start.rstrip("/") + "/"
    return "../" * len(page.parent.relative_to(site).parts)


def drop_unused(site: Path) -> None:
    """Remove what the theme brings and no page asks for. The empty sitemap bears the time, too."""
    for pattern in UNUSED:
        for path in sorted(site.glob(pattern)):
            shutil.rmtree(path) if path.is_dir() else path.unlink()


def fill(page: Path, root: str = "") -> BeautifulSoup:
    """Fill a page's interactive parts with what they show before any script runs; give it its policy.

    `root` leads from the page to the site's start: a part's links name pages from there.
    """
    soup = BeautifulSoup(page.read_text("utf-8"), "html.parser")
    known = PARTS | STILL
    parts = soup.find_all(list(known))
    for part in parts:
        try:
            attributes = {name: str(text) for name, text in part.attrs.items()}
            filled = write(*known[part.name].build(attributes))
        except (ValueError, LookupError, OSError) as error:
            raise BuildError(f"{page}: <{part.name}> {error}") from error
        part.clear()
        part.append(BeautifulSoup(filled, "html.parser"))
        _unwrap(part)
    for link in soup.select("a[data-site]"):
        link["href"] = root + link["data-site"]
    keep_units(soup)
    mend(soup)
    make_installable(soup, root)
    order_scripts(soup, root)
    # After the scripts, so that it stands before them.
    try:
        secure(soup)
    except ValueError as error:
        raise BuildError(f"{page}: {error}") from error
    page.write_text(str(soup), "utf-8")
    return soup


def keep_units(soup: BeautifulSoup) -> None:
    """Keep a number and its unit on one line, in text; code and attributes stay as they are."""
    for text in soup.find_all(string=UNIT_GAP):
        if type(text) is NavigableString and text.find_parent(VERBATIM) is None:
            text.replace_with(UNIT_GAP.sub("\u00a0", text))


def _unwrap(part: Tag) -> None:
    """Markdown puts an element it does not know in a paragraph; a form cannot stand in one."""
    parent = part.parent
    if parent is not None and parent.name == "p":
        parent.unwrap()
