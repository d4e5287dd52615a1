"""Build the site: MkDocs turns Markdown into pages, one pass fills the interactive parts, and the
engine (Python for the page) is copied beside them.

Everything of ours is outside the theme and its plugins, so that the generator can be changed.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from urllib.parse import urlsplit

from mkdocs.commands.build import build as build_pages
from mkdocs.config import load_config
from mkdocs.exceptions import Abort, ConfigurationError

from calc import composition
from calc.data_file import DataFileError
from docs.build import serve
from docs.build.demo_pages import write_demo_pages
from docs.build.elements import ELEMENTS
from docs.build.error import BuildError
from docs.build.fill import fill
from docs.build.from_disk import SERVER, name_files
from docs.build.nav import with_lessons
from docs.build.program import write_program
from docs.build.scripts import copy_scripts
from docs.build.search import improve, more_words, write_liquids
from docs.engine.files import copy_engine
from docs.offline.file_list import write_worker

ROOT = Path(__file__).resolve().parents[2]
CONFIG = ROOT / "site_config.yml"
PAGES = ROOT / "docs" / "pages"
SITE = ROOT / ".site"

# Source maps, search in other languages, a second picture for the tab, and a sitemap without addresses.
UNUSED = (
    "assets/javascripts/**/*.map",
    "assets/stylesheets/*.map",
    "assets/javascripts/lunr",
    "assets/images/favicon.png",
    "sitemap.xml*",
)


def build_site(site: Path = SITE, address: str = "", for_files: bool = False) -> Path:
    """Build the whole site into a folder and return it. Raises BuildError.

    `address` is where it will be; only the page for wrong addresses needs it, and only where that
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
    config.nav = with_lessons(config.nav)
    try:
        build_pages(config)
    except Abort as error:
        raise BuildError(f"MkDocs: {error}. Its warnings above name the pages.") from None
    words: list[tuple[str, str]] = []
    for page in sorted(site.rglob("*.html")):
        root = root_from(page, site, urlsplit(address).path)
        soup = fill(page, root, source_of(page.relative_to(site)))
        words += more_words(soup, ELEMENTS, page.relative_to(site))
    improve(site, words)
    write_liquids(site)
    drop_unused(site)
    copy_scripts(site)
    copy_engine(site / "engine")
    # They have a policy of their own, stricter than a page's.
    write_demo_pages(site)
    shutil.copyfile(Path(serve.__file__), site / SERVER)
    write_program(site)
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


def source_of(page: Path) -> Path | None:
    """The Markdown that a page of the site was made from, by MkDocs's own rule; None for its error page."""
    folder = page.parent
    found = PAGES / f"{folder}.md" if folder.name else PAGES / "index.md"
    return found if found.is_file() else None


def drop_unused(site: Path) -> None:
    """Remove what the theme brings and no page asks for. The empty sitemap bears the time, too."""
    for pattern in UNUSED:
        for path in sorted(site.glob(pattern)):
            shutil.rmtree(path) if path.is_dir() else path.unlink()
