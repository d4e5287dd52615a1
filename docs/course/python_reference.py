"""The Python reference of `calc`, written from its docstrings."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from xml.etree.ElementTree import Element

from docs.course.python_api import Entry, Module, modules
from exercises.publish.html import Child, element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A list of the modules, then each module with every public name in it."""
    return [_contents(), *(_section(module) for module in modules())]


def anchors() -> list[str]:
    """The id of every public module, name and member: ``calc.units.read``."""
    return list(_known())


@cache
def _known() -> dict[str, None]:
    """Every id; a dict keeps the order."""
    return dict.fromkeys(
        name
        for module in modules()
        for name in (
            module.name,
            *(f"{module.name}.{entry.name}" for entry in _own(module)),
            *(
                f"{module.name}.{entry.name}.{member.name}"
                for entry in _own(module)
                for member in entry.members
            ),
        )
    )


def _own(module: Module) -> list[Entry]:
    return [entry for entry in module.entries if entry.kind != "handed on"]


def _contents() -> Element:
    items = [
        element(
            "div",
            element("dt", element("a", element("code", module.name), href=f"#{module.name}")),
            element("dd", *inline(module.summary, module)),
        )
        for module in modules()
    ]
    return element("nav", element("dl", *items, class_="dw-modules"), aria_label="Modules")


def _section(module: Module) -> Element:
    return element(
        "section",
        folded(
            "h2",
            element("code", module.name),
            module.name,
            *paragraphs(module.doc, module),
            *(_entry(entry, module) for entry in module.entries),
        ),
        class_="dw-module",
    )


def _entry(entry: Entry, module: Module) -> Element:
    name = f"{module.name}.{entry.name}"
    if entry.kind == "handed on":
        return element(
            "div",
            element("p", element("code", entry.name), ": see ", _code(entry.name, module), "."),
            class_="dw-entry",
        )
    members = [
        element(
            "div",
            heading("h4", element("code", f"{entry.name}.{member.name}"), f"{name}.{member.name}"),
            element("pre", element("code", member.signature), tabindex="0"),
            *paragraphs(member.doc, module),
        )
        for member in entry.members
    ]
    return element(
        "div",
        heading("h3", element("code", entry.name), name),
        element("pre", element("code", entry.signature), tabindex="0"),
        *paragraphs(entry.doc, module),
        element("div", *members, class_="dw-members") if members else None,
        class_="dw-entry",
    )


def heading(level: str, words: Child, anchor: str) -> Element:
    """A heading with an id and a link to itself, as the pages' own headings have."""
    link = element("a", "¶", class_="headerlink", href=f"#{anchor}", title="Link to this part")
    return element(level, words, link, id=anchor)


def folded(level: str, words: Child, anchor: str, *body: Child) -> Element:
    """A part that opens at its heading, so that a long page is an index first."""
    summary = element("summary", element(level, words, id=anchor))
    return element("details", summary, *body, class_="dw-section")


def paragraphs(doc: str, module: Module, to: str = "") -> Iterator[Element]:
    """A docstring's paragraphs, lists and examples. `to` leads to the reference's page."""
    for block in doc.split("\n\n"):
        if block.startswith(">>>"):
            yield element("pre", element("code", block), tabindex="0")
        elif block.startswith("- "):
            items = re.split(r"\n?^- ", block, flags=re.MULTILINE)[1:]
            yield element("ul", *(element("li", *inline(item, module, to)) for item in items))
        elif block.strip():
            yield element("p", *inline(block, module, to))


_QUOTED = re.compile(r"``(?P<text>.+?)``|`(?P<name>[^`]+)`", re.DOTALL)


def inline(text: str, module: Module, to: str = "") -> Iterator[Child]:
    """A docstring's line: ``text`` as code, and a `name` as a link to where it is explained."""
    text = " ".join(text.split())
    end = 0
    for quoted in _QUOTED.finditer(text):
        yield text[end : quoted.start()]
        if quoted["text"] is not None:
            yield element("code", quoted["text"])
        else:
            yield _code(quoted["name"], module, to)
        end = quoted.end()
    yield text[end:]


def _code(name: str, module: Module, to: str = "") -> Element:
    first, dot, rest = name.partition(".")
    full = module.knows.get(first, first) + dot + rest
    code = element("code", name)
    if full not in _known():
        return code
    return (
        element("a", code, data_site=f"{to}#{full}") if to else element("a", code, href=f"#{full}")
    )
