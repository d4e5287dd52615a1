"""What packages for a school's system are made of: the page, and a list of the site's own files that it needs.

`exercises.publish.scorm` makes the package, at the terminal from the built site's folder and in the page from
the site's files as they come: the same bytes.
"""

from __future__ import annotations

import json
from pathlib import Path

from bs4 import BeautifulSoup

from docs.build.elements import fill_elements
from docs.build.policy import secure
from docs.build.scripts import POLICY, imported
from exercises.publish.html import element, write
from exercises.publish.scorm import ABOUT, HELD, KIT, TITLE

PAGE = "page/package-page.js"
SHUT_IN = "page/shut-in.js"
ELEMENTS = ("parts/school-set.js", "parts/problem-set.js")
ICON = "assets/mark.svg"
# Of the engine all but the script that starts it while a page of the site still loads.
ENGINE, NOT_NEEDED = "engine", "engine/early.js"
TYPE = "assets/type"


def write_kit(site: Path) -> None:
    """Write the kit into a built site."""
    sheets = _sheets(site)
    kit = {"page": _page(sheets), "files": sorted({*sheets, *_scripts(), *_folders(site), ICON})}
    (site / KIT).parent.mkdir(exist_ok=True)
    (site / KIT).write_text(json.dumps(kit, ensure_ascii=False, indent=1), "utf-8")


def _sheets(site: Path) -> list[str]:
    """The style sheets of every page, in their order."""
    start = BeautifulSoup((site / "index.html").read_text("utf-8"), "html.parser")
    return [str(link["href"]) for link in start.select("link[rel=stylesheet]")]


def _scripts() -> set[str]:
    modules = (name for page in (PAGE, *ELEMENTS) for name in imported(page))
    return {POLICY, SHUT_IN, *modules}


def _folders(site: Path) -> list[str]:
    files = [
        file.relative_to(site).as_posix()
        for folder in (ENGINE, TYPE)
        for file in (site / folder).rglob("*")
        if file.is_file()
    ]
    return [name for name in files if name != NOT_NEEDED]


def _page(sheets: list[str]) -> str:
    """The page, with places for a title, some words about the set, and the set itself."""
    made = element(
        "html",
        element(
            "head",
            element("meta", charset="utf-8"),
            element("script", src=POLICY),
            element("script", src=SHUT_IN),
            element("meta", name="viewport", content="width=device-width, initial-scale=1"),
            element("title", TITLE),
            element("link", rel="icon", href=ICON),
            *(element("link", rel="stylesheet", href=sheet) for sheet in sheets),
            element("script", type="module", src=PAGE),
        ),
        element(
            "body",
            element("main", element("div", *_content(), class_="md-content__inner md-typeset"), class_="md-grid dw-package"),
            data_md_color_scheme="default", data_md_color_primary="custom", data_md_color_accent="custom",
        ),
        lang="en",
        data_alone=True,
    )  # fmt: skip
    soup = BeautifulSoup(f"<!DOCTYPE html>\n{write(made)}", "html.parser")
    fill_elements(soup, Path(KIT))
    secure(soup)
    return str(soup)


def _content() -> list:
    return [
        element("h1", TITLE),
        element("noscript", element("p", "Your browser runs no scripts here. To work through this set, allow them for this page.")),
        element(
            "p",
            "The window around this page shuts it in, so nothing can be marked here. ",
            element("a", "Open the set in a window of its own", href="", target="_blank", rel="noopener"),
            ", or show your teacher this line: the frame’s sandbox has to allow scripts and the same origin.",
            hidden=True,
            class_="dw-trouble",
            data_shut_in=True,
        ),
        element("school-set", about=ABOUT, data_held=HELD),
    ]  # fmt: skip
