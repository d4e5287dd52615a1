"""A page that stands alone: one HTML file, no scripts, nothing from anywhere else."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from xml.etree.ElementTree import Element

from exercises.publish.html import Child, element, write

POLICY = "default-src 'none'; style-src 'unsafe-inline'"

# The site's own colours: a page that stands alone cannot ask its style sheet. A test compares the two.
LIGHT = {
    "paper": "#fdfaf4", "ink": "#24211c", "soft": "#5c554a", "water": "#1f5f80", "good": "#2c6a3f", "bad": "#a3301f",
}  # fmt: skip
DARK = {
    "paper": "#1c1a17", "ink": "#ece6da", "soft": "#b9b09f", "water": "#8cc4e0", "good": "#8fd0a0", "bad": "#f29a87",
}  # fmt: skip


def _names(colours: Mapping[str, str]) -> str:
    return " ".join(f"--{name}: {colour};" for name, colour in colours.items())


STYLE = (
    f"""
:root {{ color-scheme: light dark; {_names(LIGHT)} --line: #cfc4b0; --wash: #f3ece0; }}
@media (prefers-color-scheme: dark) {{ :root {{ {_names(DARK)} --line: #5a5347; --wash: #2b2722; }} }}
"""
    + """\
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 60rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.5 "Avenir Next", "Segoe UI", "Noto Sans", "DejaVu Sans", system-ui, sans-serif;
  overflow-wrap: break-word; }
h1, h2, h3 { font-family: "Iowan Old Style", Palatino, "TeX Gyre Pagella", Georgia, serif;
  line-height: 1.2; break-after: avoid; }
a { color: var(--water); }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; color: var(--soft); padding: 0.3rem 0; }
th, td { text-align: left; vertical-align: top; padding: 0.3rem 0.6rem 0.3rem 0;
  border-bottom: 1px solid var(--line); }
th { font-weight: 600; }
.dw-table { overflow-x: auto; }
.note { color: var(--soft); }
@media print {
  :root { --paper: #fff; --ink: #000; --soft: #444; --line: #999; --water: #000; --good: #000;
    --bad: #000; --wash: #fff; }
  body { max-width: none; padding: 0; font-size: 10.5pt; }
  tr, li, .keep { break-inside: avoid; }
  a { text-decoration: none; }
}
"""
)


def opening(title: str, style: str = "") -> str:
    """The start of a page, up to its body."""
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", http_equiv="Content-Security-Policy", content=POLICY),
        element("title", title),
        element("style", STYLE + style),
    )
    return f'<!doctype html>\n<html lang="en">\n{write(head)}\n<body>\n<main>\n'


CLOSING = "\n</main>\n</body>\n</html>\n"


def page(title: str, body: Iterable[Element], style: str = "") -> str:
    """A whole page."""
    return opening(title, style) + "\n".join(map(write, body)) + CLOSING


def items(tag: str, lines: Iterable[Child], class_: str | None = None) -> Element:
    """A list, ``ul`` or ``ol``."""
    return element(tag, *(element("li", line) for line in lines), class_=class_)
