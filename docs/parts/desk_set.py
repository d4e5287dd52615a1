"""The head of each page of the teacher's desk: the jobs of a week, and the set that they are about."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from xml.etree.ElementTree import Element

from exercises import problems
from exercises.lessons import LESSONS
from exercises.publish.html import element

# Each job, by the name of its page; its word, and what it is for.
JOBS = {
    "": "The desk",
    "write": "Write",
    "give": "Give out",
    "print": "Print",
    "mark": "Mark",
}


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``job`` names the page that it heads: one of `JOBS`; empty on the desk's first page."""
    job = attributes.get("job", "")
    if job not in JOBS:
        raise ValueError(f"knows no job “{job}”: one of {', '.join(filter(None, JOBS))}")
    return [
        element(
            "nav",
            element("ol", *(_job(name, name == job) for name in JOBS), class_="dw-jobs"),
            aria_label="The desk's jobs",
        ),
        element(
            "form",
            element(
                "div",
                element("label", "The set in hand", for_="set-in-hand"),
                element("select", *_ours(), id="set-in-hand", name="set"),
                element("button", "Open a set file", type="button", class_="dw-button dw-quiet"),
                class_="dw-field",
            ),
            class_="dw-form dw-set-in-hand",
        ),
        element("p", class_="dw-status", role="status"),
    ]


def _job(name: str, here: bool) -> Element:
    link = element("a", JOBS[name], data_site=f"desk/{name}/" if name else "desk/")
    if here:
        link.set("aria-current", "page")
    return element("li", link)


def _ours() -> list[Element]:
    """The sets that come with the project: those of the lessons in teaching order, then the others."""
    keys = problems.set_keys()
    lessons = [key for key in LESSONS if key in keys]
    others = [key for key in keys if key not in LESSONS]
    return [
        element("optgroup", *map(_option, group), label=label)
        for label, group in (("Sets of the lessons", lessons), ("Mixed sets", others))
    ]


def _option(key: str) -> Element:
    return element("option", _title(key), value=key)


@cache
def _title(key: str) -> str:
    return problems.load(key).title
