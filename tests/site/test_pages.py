"""Every page, as a reader first meets it."""

import re

import lxml.html
import pytest
import yaml

from docs.build.elements import ELEMENTS
from docs.build.nav import with_lessons
from docs.build.site import ROOT, SITE
from docs.build.theme_sheet import COSTLY, SHOWN_BY


def _pages(nav):
    """The addresses of a nav's pages, from the site's start."""
    for entry in nav:
        for place in entry.values():
            if isinstance(place, list):
                yield from _pages(place)
            else:
                yield re.sub(r"(^|/)index/$", r"\1", place.replace(".md", "/"))


NAV = with_lessons(yaml.safe_load((ROOT / "site_config.yml").read_text("utf-8"))["nav"])
PAGES = list(_pages(NAV))


# An old address that leads on to the page's new one.
MOVED = {"write-a-set": "../desk/write/"}
# Where addresses that are nowhere lead to.
NOWHERE = "nowhere"


def test_every_page_stands_in_the_nav(site):
    built = {path.parent.relative_to(site).as_posix() for path in site.rglob("index.html")}
    assert built - {*MOVED, NOWHERE} == {page.rstrip("/") or "." for page in PAGES}
    for old, new in MOVED.items():
        assert f'href="{new}"' in (site / old / "index.html").read_text("utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_a_page_has_one_heading_a_language_and_every_part_filled_before_any_script(site, name):
    page = lxml.html.parse(site / name / "index.html").getroot()
    assert page.get("lang") == "en"
    assert len(page.findall(".//h1")) == 1
    ids = page.xpath("//@id")
    assert len(ids) == len(set(ids))
    for named in page.xpath("//label/@for"):
        assert named in ids or named.startswith("__"), named
    for part in page.iter(*ELEMENTS):
        # A drawing decorates: what it shows is said beside it. What only this device knows is hidden until it is read.
        waits = all("hidden" in child.attrib for child in part)
        said = "".join(map(str.strip, part.itertext()))
        assert len(said) > 40 or part.find(".//svg") is not None or waits, part.tag


def test_right_numbers_stand_there_without_scripts(without_scripts, address):
    page = without_scripts
    page.goto(address + "lessons/divide-by-the-water-content/")
    example = page.locator("worked-example").first.inner_text()
    assert "220 g × 0.63 = 138.6 g" in example.replace("\u00a0", " ")
    assert "172" in page.locator("one-swap .dw-answer").inner_text()
    page.goto(address + "practice/first-swaps/")
    assert page.locator("form.dw-problem").count() >= 6


def test_every_page_has_its_own_title(site):
    pages = ((site / name / "index.html").read_text("utf-8") for name in PAGES)
    titles = {re.search(r"<title>(.+?)</title>", page, re.DOTALL)[1] for page in pages}
    assert len(titles) == len(PAGES)


def test_no_page_shows_what_the_themes_sheets_lost(site):
    lost = re.compile("|".join(SHOWN_BY.values()))
    sheets = [file.read_text("utf-8") for file in (site / "assets" / "stylesheets").glob("*.css")]
    assert len(sheets) == 2
    for sheet in sheets:
        assert sheet.count("{") == sheet.count("}") > 0
        assert not lost.search(sheet)
        assert not COSTLY.search(sheet)
    for page in site.rglob("*.html"):
        classes = {
            each
            for names in re.findall(r'class="([^"]*)"', page.read_text("utf-8"))
            for each in names.split()
        }
        assert not [each for each in classes if lost.search(f".{each}")], page


def test_the_known_mistakes_point_at_lessons_that_exist(site):
    from calc.mistakes import CATALOGUE

    for mistake in CATALOGUE:
        page = site / "lessons" / mistake.lesson / "index.html"
        assert f'id="{mistake.key}"' in page.read_text("utf-8"), mistake.key


def test_the_engine_is_in_the_site_and_nothing_more(site):
    names = {path.name for path in (site / "engine" / "pyodide").iterdir()}
    assert names == {
        "pyodide.js",
        "pyodide.asm.js",
        "pyodide.asm.wasm.zstd",
        "python_stdlib.zip",
    }
    assert SITE.name == ".site"
