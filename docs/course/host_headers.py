"""The headers that a host may add, as our own server sends them."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from docs.build.policy import HEADERS, PAGE_HEADERS, SCRIPT_HEADERS
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """No attributes. A line a header, with the files that get it."""
    files = {
        "every file": HEADERS,
        "pages (.html)": PAGE_HEADERS,
        "scripts (.js)": SCRIPT_HEADERS,
    }
    lines = [
        element("li", f"{which}: ", element("code", f"{name}: {value}"))
        for which, headers in files.items()
        for name, value in headers.items()
    ]
    return [element("ul", *lines)]
