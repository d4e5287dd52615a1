"""The page's own modules: copied into the site, and asked for early by the pages that use them."""

from __future__ import annotations

import re
import shutil
from functools import cache
from pathlib import Path

from bs4 import BeautifulSoup

from docs.offline_list import WORKERS

HERE = Path(__file__).resolve().parent
FOLDERS = ("parts", "engine", "offline")
POLICY = "offline/policy.js"
EARLY = "engine/early.js"
LATE_SEARCH = "parts/late-search.js"
COMMON = "parts/parts.js"
_IMPORT = re.compile(r"^import .* from '(\./|\.\./)([^']+)';$", re.MULTILINE)


def copy_scripts(site: Path) -> None:
    """Copy the page's own modules."""
    for folder in FOLDERS:
        (site / folder).mkdir(exist_ok=True)
        for script in sorted((HERE / folder).glob("*.js")):
            if script.name not in WORKERS:
                shutil.copyfile(script, site / folder / script.name)


def order_scripts(soup: BeautifulSoup, root: str) -> None:
    """Put first what must run before the theme, and let a page load the modules of its parts at once.

    A browser learns what a module imports only when the module is there; a ``modulepreload`` tells it.
    `root` leads to the site's start.
    """
    if soup.head is None:
        return
    # An interactive part has the name of its element.
    elements = {tag.name for tag in soup.find_all(True)}
    scripts = sorted((HERE / "parts").glob("*.js"))
    used = [f"parts/{script.name}" for script in scripts if script.stem in elements]
    first = [POLICY, EARLY, LATE_SEARCH] if used else [POLICY, LATE_SEARCH]
    place = soup.head.find("meta", charset=True) or soup.head.contents[0]
    place.insert_after(*(soup.new_tag("script", src=root + name) for name in first))
    modules = dict.fromkeys(path for name in [COMMON, *used] for path in imported(name))
    for path in modules:
        soup.head.append(soup.new_tag("link", rel="modulepreload", href=root + path))


@cache
def imported(name: str) -> tuple[str, ...]:
    """A module and all that it imports, by their addresses from the site's start."""
    found = [name]
    for module in found:
        for start, path in _IMPORT.findall((HERE / module).read_text("utf-8")):
            address = f"{module.partition('/')[0]}/{path}" if start == "./" else path
            if address not in found:
                found.append(address)
    return tuple(found)
