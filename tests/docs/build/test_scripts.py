"""The page's own modules: each element has its own, and a page asks early for those it uses."""

import re

from bs4 import BeautifulSoup

from docs.build import steps
from docs.build.elements import ELEMENTS
from docs.build.join import first_script
from docs.build.modules import element_modules
from docs.build.scripts import copy_scripts, order_scripts
from docs.build.tree import read, written
from docs.parts import PARTS


def test_every_script_named_like_an_element_is_woken_and_no_other(tmp_path):
    copy_scripts(tmp_path)
    woken = dict(
        re.findall(
            r'"(.+)": \(\) => import\("\.\./(.+)"\)',
            (tmp_path / "page/elements.js").read_text("utf-8"),
        )
    )
    assert woken == element_modules()
    # A lesson's steps are written by a pass of the build, not by an author.
    assert set(woken) <= {*ELEMENTS, steps.ELEMENT}
    for name, path in woken.items():
        assert f"customElements.define('{name}'" in (tmp_path / path).read_text("utf-8")
    # Python answers the page only where a script asks.
    answering = {name for name, part in PARTS.items() if hasattr(part, "respond")}
    assert answering <= set(woken)


def test_a_page_asks_early_for_the_modules_of_its_parts_and_no_others():
    page = read(
        '<html><head><meta charset="utf-8"></head><body><pack-reader></pack-reader></body></html>'
    )
    order_scripts(page, "../")
    soup = BeautifulSoup(written(page), "html.parser")
    first = soup.head.find("script")
    assert first["data-root"] == "../"
    assert first.string == first_script()
    asked = {link["href"] for link in soup.select("link[rel=modulepreload]")}
    # Most of what it imports is in one file (test_join.py).
    assert {"../page/joined.js", "../parts/pack-reader.js"} <= asked
    assert "$('page/every-page.js')" in soup.head.find("script", type="module").string
    assert not [each for each in asked if "side-by-side" in each or "/shared/" in each]
