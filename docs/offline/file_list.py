"""A built site as an app: its manifest in every page, and the service worker's list of every file.

The worker's own code is sw.js, beside this file. The version's name is made from the files, so a build
that changes nothing is the same version.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from urllib.parse import quote

from docs.build.policy import integrity
from docs.build.program import PROGRAM
from docs.build.tree import Tag, grown
from exercises.publish.html import element

TEMPLATE = Path(__file__).resolve().parent / "sw.js"
WORKER = "sw.js"
# Service workers belong at the site's start, or only in the authors' own server.
WORKERS = (WORKER, "remove.js")
VERSION = "offline/version.js"
# The page for an address that is nowhere. Hosts show it as 404.html, with links from their start; the service worker
# leads to it, for it knows where the site is. The program is large, and taken once.
NOWHERE = "nowhere/"
NOT_KEPT = ("404.html", WORKER, PROGRAM)


def make_installable(page: Tag, root: str) -> None:
    """Name the manifest and the home screen's icon in a page. `root` leads to the site's start."""
    head = page.find("head")
    if head is not None:
        head.append(grown(element("link", rel="manifest", href=f"{root}manifest.webmanifest")))
        icon = element("link", rel="apple-touch-icon", href=f"{root}assets/icon-180.png")
        head.append(grown(icon))


def write_worker(site: Path) -> None:
    """Write the service worker into a finished site, and the version that its pages are of."""
    files = {path_of(file, site): file.read_bytes() for file in files_of(site)}
    files.pop(VERSION, None)
    hashes = {path: integrity(content) for path, content in files.items()}
    version = hashlib.sha256(json.dumps(hashes).encode()).hexdigest()[:16]
    size = sum(map(len, files.values()))
    module = (
        "// Written by the build: the version that this page is of, and the bytes of the whole site.\n"
        f"export const VERSION = '{version}';\nexport const SIZE = {size};\n"
    )
    (site / VERSION).write_text(module, "utf-8")
    hashes[VERSION] = integrity(module.encode())
    (site / WORKER).write_text(
        f"const VERSION = '{version}';\nconst NOWHERE = '{NOWHERE}';\nconst FILES = {json.dumps(hashes, indent=0)};\n\n"
        + TEMPLATE.read_text("utf-8"),
        "utf-8",
    )


def files_of(site: Path) -> list[Path]:
    """The files that are kept offline, in a fixed order."""
    return sorted(
        file
        for file in site.rglob("*")
        if file.is_file() and file.relative_to(site).as_posix() not in NOT_KEPT
    )


def path_of(file: Path, site: Path) -> str:
    """A file's address from the site's start: a page is asked for by its folder."""
    path = file.relative_to(site).as_posix()
    return quote(path.removesuffix("index.html") if file.name == "index.html" else path)
