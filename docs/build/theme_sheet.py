"""The theme's style sheets without what the site's configuration leaves off, or what styles a whole page anew.

Whenever something in a page changes, a browser asks the selectors of every sheet which elements it may concern.
A third of the theme's are for what the site never shows: tabs, footnotes, a blog, other colours, other alphabets.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig

# What shows it, as the configuration calls it: an extension of Markdown, a feature or plugin of the theme's, a key.
SHOWN_BY = {
    "announce.dismiss": r"\.md-banner",
    "blog": r"\.md-(?:author|content--post|draft|meta|pagination|post|profile|sidebar--post)",
    "content.code.annotate": r"\.md-annotation",
    "content.code.copy": r"\.md-(?:clipboard|code__)",
    "content.tooltips": r"\.md-tooltip",
    "consent": r"\.md-consent",
    "alternate": r"\.md-select",
    "analytics": r"\.md-feedback",
    "footnotes": r"\.footnote",
    "navigation.instant.progress": r"\.md-progress",
    "navigation.path": r"\.md-path",
    "navigation.top": r"\.md-top",
    "pymdownx.arithmatex": r"\.(?:arithmatex|katex)",
    "pymdownx.critic": r"\.critic",
    "pymdownx.emoji": r"\.(?:twemoji|emojione|gemoji)",
    "pymdownx.highlight": r"\.(?:highlight|linenos|linenodiv)",
    "pymdownx.keys": r"\.key(?:s\b|-)",
    "pymdownx.superfences": r"\.mermaid",
    "pymdownx.tabbed": r"\.tabbed-",
    "pymdownx.tasklist": r"\.task-list",
    "repo_url": r"\.md-(?:source|header__source|nav__source)",
    "search.suggest": r"\.md-search__suggest",
    "social": r"\.md-social",
    "status": r"\.md-status",
    "tags": r"\.md-tag",
    "toc.integrate": r"\.md-nav--integrated",
    "version": r"\.md-version",
}
# These change in a page, or are found in each, and what they concern is every element below.
COSTLY = re.compile(
    r"\[data-md-color-switching]|table:not\(\[class]\)(?:\+\*| t[dh]>:(?:first|last)-child)"
)
# Attributes of the whole page: each of these says the same from its start to its end.
_SAID = re.compile(r"(?<!not\()\[(dir|data-md-color-(?:primary|accent))=([\w-]+)]")
_RULE = re.compile(r"([^{};]+)\{([^{}]*)\}")
_EMPTY = re.compile(r"@[^{};]+\{}")
_SELECTOR = re.compile(r"(?:[^,()\[\]]|\((?:[^()]|\([^()]*\))*\)|\[[^\]]*\])+")


def lean_sheets(site: Path, config: MkDocsConfig) -> None:
    """Write the theme's sheets anew, in a site as MkDocs wrote it."""
    on = switched_on(config)
    page = (site / "index.html").read_text("utf-8")
    for sheet in sorted((site / "assets" / "stylesheets").glob("*.css")):
        sheet.write_text(lean(sheet.read_text("utf-8"), on, page), "utf-8")


def switched_on(config: MkDocsConfig) -> set[str]:
    """What a configuration switches on: extensions, features, the theme's plugins by their short names, its own keys."""
    plugins = (name.removeprefix("material/") for name in config.plugins)
    keys = (key for key, value in config.items() if value)
    return {
        *config.markdown_extensions,
        *config.theme.get("features", ()),
        *plugins,
        *config.extra,
        *keys,
    }


def lean(sheet: str, on: Collection[str], page: str) -> str:
    """A minified sheet with the rules that a site can need, where `on` is switched on and `page` is one of its pages."""
    off = re.compile("|".join(pattern for name, pattern in SHOWN_BY.items() if name not in on))

    def needed(selector: str) -> bool:
        said = all(f'{name}="{value}"' in page for name, value in _SAID.findall(selector))
        return said and not off.search(selector) and not COSTLY.search(selector)

    def rule(found: re.Match) -> str:
        kept = ",".join(filter(needed, _SELECTOR.findall(found[1])))
        return f"{kept}{{{found[2]}}}" if kept else ""

    return _EMPTY.sub("", _RULE.sub(rule, sheet))
