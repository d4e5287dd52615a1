"""A site that also reads as plain files, from a stick with no server: links name the files in folders.

Browsers open ``swap/index.html`` from a disk, but show the folder's list for ``swap/``. They also load
no modules from a disk, so nothing computes there: each page says so, and a script that does run (from
a server) takes the line away.
"""

from __future__ import annotations

import re
from pathlib import Path

from bs4 import BeautifulSoup, Tag

SERVER = "serve.py"
NOTICE = (
    "You have this page as a file: it reads and prints. To compute, to mark and to search, start "
    f"{SERVER} in the site’s folder."
)
_SCHEME = re.compile(r"[a-z][a-z0-9+.-]*:|//", re.IGNORECASE)


def name_files(site: Path) -> None:
    """Change every page of a built site."""
    for page in sorted(site.rglob("*.html")):
        soup = BeautifulSoup(page.read_text("utf-8"), "html.parser")
        for link in soup.select("a[href], link[rel=prev], link[rel=next]"):
            link["href"] = to_file(str(link["href"]))
        content = soup.find("article")
        if isinstance(content, Tag):
            content.insert(0, _notice(soup))
        page.write_text(str(soup), "utf-8")


def _notice(soup: BeautifulSoup) -> Tag:
    line = soup.new_tag("p", attrs={"class": "dw-as-files"})
    line.string = NOTICE
    return line


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
