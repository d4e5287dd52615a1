"""A site that also reads as plain files, from a stick with no server: links name the files in folders.

Browsers open ``swap/index.html`` from a disk, but show the folder's list for ``swap/``. They also load
no modules from a disk, so nothing computes there: each page says so, and a script that does run (from
a server) takes the line away.
"""

from __future__ import annotations

import re
from pathlib import Path

from docs.build.tree import grown, put_first, read, tags, written
from exercises.publish.html import element

SERVER = "serve.py"
NOTICE = (
    "You have this page as a file: it reads and prints. To compute, to mark and to search, start "
    f"{SERVER} in the site’s folder."
)
_SCHEME = re.compile(r"[a-z][a-z0-9+.-]*:|//", re.IGNORECASE)


def name_files(site: Path) -> None:
    """Change every page of a built site."""
    for file in sorted(site.rglob("*.html")):
        page = read(file.read_text("utf-8"))
        for link in tags(page, "a"):
            if "href" in link.attrib:
                link.set("href", to_file(link.get("href")))
        content = page.find(".//article")
        if content is not None:
            put_first(content, grown(element("p", NOTICE, class_="dw-as-files")))
        file.write_text(written(page), "utf-8")


def to_file(link: str) -> str:
    """A link to a folder names the page in it; others stay.

    >>> to_file("../swap/?flour=500#result")
    '../swap/index.html?flour=500#result'
    """
    path, rest = re.fullmatch(r"([^?#]*)(.*)", link, re.DOTALL).groups()
    if _SCHEME.match(link) or not path:
        return link
    if path.rsplit("/", 1)[-1] in (".", ".."):
        path += "/"
    return f"{path}index.html{rest}" if path.endswith("/") else link
