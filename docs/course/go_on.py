"""The way back into the set or the lesson that was left last; the page's script knows which, and shows it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from exercises import problems
from exercises.lessons import LESSONS
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A line that stays hidden until a set or a lesson was begun on this device."""
    sets = {key: problems.load(key).title for key in problems.set_keys()}
    link = element("a", "Go on", href="#", class_="dw-button")
    return [element("p", link, hidden=True, data_sets=_json(sets), data_lessons=_json(LESSONS))]


def _json(titles: Mapping[str, str]) -> str:
    return json.dumps(dict(titles), ensure_ascii=False)
