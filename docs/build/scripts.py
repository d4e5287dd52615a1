"""The page's own modules: copied into the site, and asked for early by the pages that use them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from xml.etree.ElementTree import Element

from docs.build.join import JOINED, SHEET, asked_for, first_script
from docs.build.limits import limits_module
from docs.build.modules import COMMON, DOCS, FOLDERS, element_modules, imported
from docs.build.names import names_module
from docs.build.no_hits import no_hits_module
from docs.build.tree import Tag, grown, tags, taken
from docs.offline.file_list import WORKERS
from exercises.publish.html import element

ELEMENT_LIST = "page/elements.js"
LIMITS_MODULE = "page/limits.js"
NAMES_MODULE = "page/names.js"
NO_HITS_MODULE = "page/no-hits.js"
# What every page is written in: asked for before the style sheets are read, so that it is there for the first paint.
TYPE = ("assets/type/asap-latin.woff2", "assets/type/vollkorn-latin.woff2")
# A link that may be followed next, as page/next-page.js tells.
AHEAD = "a[data-ahead]"
# The theme's script, which page/late-theme.js fetches when it may run.
THEME = "assets/javascripts/bundle."


def copy_scripts(site: Path) -> None:
    """Copy the page's own modules."""
    for folder in FOLDERS:
        (site / folder).mkdir(parents=True, exist_ok=True)
        for script in sorted((DOCS / folder).glob("*.js")):
            if script.name not in WORKERS:
                shutil.copyfile(script, site / folder / script.name)
    (site / ELEMENT_LIST).write_text(_element_list(), "utf-8")
    (site / LIMITS_MODULE).write_text(limits_module(), "utf-8")
    (site / NAMES_MODULE).write_text(names_module(), "utf-8")
    (site / NO_HITS_MODULE).write_text(no_hits_module(), "utf-8")


def _element_list() -> str:
    """The module that tells wake.js which module each element has."""
    listed = "".join(
        f'  "{name}": () => import("../{path}"),\n' for name, path in element_modules().items()
    )
    return (
        "// Written by the build: each element that a script brings to life, and how its module comes.\n"
        f"export const ELEMENTS = {{\n{listed}}};\n"
    )


def order_scripts(page: Tag, root: str) -> None:
    """Put first what must run before the theme, and let a page load the modules of its parts at once.

    A browser learns what a module imports only when the module is there; a ``modulepreload`` tells it.
    `root` leads to the site's start.
    """
    head = page.find("head")
    if head is None:
        return
    elements = {tag.tag for tag in tags(page)}
    used = [path for name, path in element_modules().items() if name in elements]
    lesson = page.find(".//lesson-steps")
    themes = [each for each in tags(page, "script") if THEME in each.get("src", "")]
    script = element(
        "script",
        first_script(),
        data_root=root or "./",
        data_asks=bool(used),
        data_lesson=None if lesson is None else lesson.get("lesson"),
        data_theme=taken(themes[0]).get("src") if themes else None,
    )
    place = head.find("meta[@charset]")
    for made in reversed([script, *preload_type(root)]):
        (head[0] if place is None else place).addnext(grown(made))
    sheets = page.findall("head/link[@rel='stylesheet']")
    for sheet in sheets[1:]:
        taken(sheet)
    for sheet in sheets[:1]:
        sheet.set("href", root + SHEET)
    modules = asked_for(COMMON, *used)
    links = [element("link", rel="modulepreload", href=root + path) for path in modules]
    runs = element(
        "script", f"import {{$}} from '{root or './'}{JOINED}';$('{COMMON}');", type="module"
    )
    rules = element("script", _next_pages(root), type="speculationrules")
    head.extend(map(grown, [*links, runs, rules]))


def _next_pages(root: str) -> str:
    """Which pages a browser that can (WICG, Speculation Rules) loads ahead, for a click to show at once.

    The page of a link that the pointer or the focus rests on; of a touch, when the finger is down. A lesson's screens
    are another window's.
    """
    page = {"href_matches": root + "{*/}?"}
    other = {"not": {"selector_matches": "[href^='#'], [href*='board/'], [download], [target]"}}

    def rule(eagerness: str, *where: str) -> dict:
        chosen = [{"selector_matches": selector} for selector in where]
        return {"where": {"and": [page, other, *chosen]}, "eagerness": eagerness}

    rules = [rule("conservative"), rule("immediate", AHEAD)]
    return json.dumps({"prerender": rules})


def preload_type(root: str) -> list[Element]:
    """Ask early for the files of letters. Type is fetched as from another origin, even from this one."""
    return [
        element("link", rel="preload", as_="font", type="font/woff2", crossorigin=True, href=root + name)
        for name in TYPE
    ]  # fmt: skip


def import_lists() -> str:
    """All that pages take from the scripts: which there are, what each imports, and what runs first."""
    lists = {name: imported(name) for name in (COMMON, *element_modules().values())}
    return json.dumps([lists, first_script()])
