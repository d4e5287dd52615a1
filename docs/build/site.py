"""Build the site: MkDocs turns Markdown into pages, one pass fills the interactive parts, and the
engine (Python for the page) is copied beside them.

Everything of ours is outside the theme and its plugins, so that the generator can be changed.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Collection, Iterator
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

from mkdocs.commands.build import build as build_pages
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, ConfigurationError

from calc import composition
from calc.data_file import DataFileError
from docs.build import serve
from docs.build.boards import board, write_board
from docs.build.cores import aside, begun
from docs.build.demo_pages import MADE_OF as DEMO_MADE_OF
from docs.build.demo_pages import demo_pages, write_demo_pages
from docs.build.elements import ELEMENTS
from docs.build.error import BuildError
from docs.build.fill import fill
from docs.build.from_disk import SERVER, name_files
from docs.build.join import join_files, join_worker, tell_version
from docs.build.kept import Kept
from docs.build.menu import put_aside, put_back
from docs.build.nav import with_lessons
from docs.build.package_kit import lesson_page, write_kit
from docs.build.program import PROGRAM, program
from docs.build.scripts import copy_scripts, import_lists
from docs.build.search import improve, more_words, write_liquids
from docs.build.steps import lesson_of
from docs.build.theme_sheet import lean_sheets
from docs.build.tree import read, written
from docs.engine.files import copy_engine, make_engine
from docs.offline.file_list import NOWHERE, path_of, write_worker
from exercises import problems
from exercises.setfile import SetError

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


def build_site(
    site: Path = SITE, address: str = "", for_files: bool = False, anew: bool = False
) -> Path:
    """Build the whole site into a folder and return it. Raises BuildError.

    `address` is where it will be; only the page for wrong addresses needs it, and only where that
    is not a host's own start. With `for_files` its links also work from a disk. What earlier
    builds made of the same is taken from ``.cache``, unless all is to be made `anew`.
    """
    for _ in building(site, address, for_files, anew):
        pass
    return site


def building(
    site: Path,
    address: str = "",
    for_files: bool = False,
    anew: bool = False,
    first: Collection[str] = (),
    quick: bool = False,
) -> Iterator[Path]:
    """Build as `build_site`, and yield each page as soon as it is done, those in `first` before all others.

    With `quick` the engine is packed less tightly.

    A page is shown with what lies beside it by then: its pictures, styles and scripts, but not yet the engine.
    """
    check_folder(site)
    kept = Kept(anew)
    engine_made = begun(partial(make_engine, quick))
    with aside() as ask:
        # Where the demo class is to be made, code or data changed, so every page is; and pages ask for the sets.
        all_new = not kept.has(DEMO_MADE_OF)
        sets = ask(sets_packed) if all_new else dict
        demo = ask(demo_pages) if all_new else demo_pages
        packed = ask(program)
        config = make_pages(site, address)
        lead_on(site, urlsplit(address).path)
        drop_unused(site)
        lean_sheets(site, config)
        copy_scripts(site)
        join_files(site)
        words: dict[Path, list[tuple[str, str]]] = {}
        packages: dict[str, tuple[str, list[str]]] = {}
        ready = partial(problems.take_packed, sets())
        for page, filled in fill_pages(site, urlsplit(address).path, kept, first, ready):
            words[page] = filled["words"]
            if lesson := filled["lesson"]:
                write_board(site, lesson, filled["board"])
                packages[lesson] = filled["package"]
            yield page
        improve(site, [tuple(each) for page in sorted(words) for each in words[page]])
        write_liquids(site)
        # They have a policy of their own, stricter than a page's.
        write_demo_pages(site, kept, demo)
        (site / PROGRAM).write_bytes(packed())
    engine_made()
    copy_engine(site / "engine", quick)
    tell_version(site)
    join_worker(site)
    shutil.copyfile(Path(serve.__file__), site / SERVER)
    write_kit(site, packages)
    if for_files:
        name_files(site)
    # Last, because it lists every file.
    write_worker(site)
    kept.keep()


def sets_packed() -> dict[str, bytes]:
    """The project's sets, for the processes that fill pages; none if one is broken: its page tells that."""
    try:
        return problems.packed_sets()
    except SetError:
        return {}


def check_folder(site: Path) -> None:
    """Raise BuildError for a folder of other things: MkDocs empties what it writes into."""
    if site.is_dir() and any(site.iterdir()) and not (site / "assets" / "javascripts").is_dir():
        raise BuildError(f"{site}: other files are in this folder. Name a new folder for the site.")


def make_pages(site: Path, address: str) -> MkDocsConfig:
    """Let MkDocs write the pages, with their parts still empty, as its configuration says. Raises BuildError."""
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
    return config


def lead_on(site: Path, start: str) -> None:
    """Make a host's page for wrong addresses of our own: it is shown at any address, so its links name the site's `start`."""
    text = (site / NOWHERE / "index.html").read_text("utf-8")
    leads = re.sub(r'"\.\.(/|(?="))', f'"{start.rstrip("/")}/', text)
    (site / "404.html").write_text(leads, "utf-8")


def fill_pages(
    site: Path,
    start: str,
    kept: Kept,
    first: Collection[str] = (),
    ready: Callable[[], object] | None = None,
) -> Iterator[tuple[Path, dict]]:
    """Fill every page; yield each with what `filled_page` made. What has not changed is not filled again.

    `first` are the addresses of pages, from the site's start; then the long ones come, so that no core waits for one
    at the end. `ready` prepares each process that fills pages.
    """
    scripts = import_lists()
    pages = sorted(site.rglob("*.html"))
    pages.sort(key=lambda page: (path_of(page, site) not in first, -page.stat().st_size))
    asked = [(page, page.relative_to(site), root_from(page, site, start)) for page in pages]
    made_of = [
        ("page", scripts, place.as_posix(), root, page.read_text("utf-8"))
        for page, place, root in asked
    ]
    for page, filled in zip(pages, kept.all(made_of, filled_page, asked, ready), strict=True):
        page.write_text(filled["page"], "utf-8")
        yield page, filled


def filled_page(page: Path, place: Path, root: str) -> dict:
    """A page that MkDocs wrote, filled, and its words for the search; of a lesson also its board, and its page in a package.

    Raises BuildError.
    """
    source = source_of(place)
    text, menu = put_aside(page.read_text("utf-8"))
    tree = read(text)
    fill(tree, page, root, source)
    lesson = lesson_of(source)
    made = {
        "page": put_back(written(tree), menu),
        "words": list(more_words(tree, ELEMENTS, place)),
        "lesson": lesson,
    }
    if lesson:
        made["board"] = board(lesson, tree)
        # Last, because it takes the page apart.
        made["package"] = lesson_page(tree, root)
    return made


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
