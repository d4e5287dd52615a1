"""The build: the same bytes each time, and no link that leads nowhere.

HTML's own rules say what a link is (WHATWG, HTML: links, fragments); reproducible-builds.org says what
must not matter: the folder, the time zone, the order of sets.
"""

import os
import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote, urldefrag, urljoin, urlsplit

import lxml.html
from bs4 import BeautifulSoup

from calc.mistakes import CATALOGUE
from calc.units import BY_SYMBOL
from docs.build.site import ROOT
from docs.parts import PARTS
from docs.parts.shared.form_part import FormPart
from exercises.publish.html import write
from exercises.skills import SKILLS
from tests.site.tags import ids_of, tags_of

START = "https://site.invalid/"
ADDRESSES = ("href", "src", "data-site", "action")


BUILD_TWICE = """
import sys; from pathlib import Path
from docs.build.demo_pages import MADE_OF; from docs.build.kept import Kept; from docs.build.site import build_site
build_site(Path(sys.argv[1]), anew=True); assert Kept().has(MADE_OF); build_site(Path(sys.argv[2]))
"""


def test_every_build_gives_the_same_bytes(site, tmp_path):
    """In another folder, another process with other hash seeds, another time zone, a later second: all made
    anew, then all taken from what that build kept. The first of the three may be either, or some of both.
    """
    anew, kept = tmp_path / "elsewhere" / "deeper", tmp_path / "kept"
    environment = os.environ | {"PYTHONHASHSEED": "77", "TZ": "Pacific/Auckland", "LC_ALL": "C"}
    command = [sys.executable, "-c", BUILD_TWICE, str(anew), str(kept)]
    subprocess.run(command, check=True, cwd=ROOT, env=environment)
    for again in (anew, kept):
        assert different(site, again) == []


def different(one, other):
    """The files that only one of two folders has, or that differ."""
    first, second = files_of(one), files_of(other)
    differ = {
        name
        for name in first.keys() & second.keys()
        if first[name].read_bytes() != second[name].read_bytes()
    }
    return sorted(differ | first.keys() ^ second.keys())


def files_of(folder):
    return {
        file.relative_to(folder).as_posix(): file
        for file in sorted(folder.rglob("*"))
        if file.is_file()
    }


NAMES_PLACES = ("aria-labelledby", "aria-describedby", "aria-controls", "for", "list")


def links_of(page: Path):
    """A page's links; those in an answer's HTML are from the site's start."""
    return {
        START + attributes[name] if name == "data-site" else attributes[name]
        for _, attributes in tags_of(page)
        for name in ADDRESSES
        if name in attributes
    }


def named_in(page: Path):
    """The places that what describes a field must be."""
    return {
        word
        for _, attributes in tags_of(page)
        for name in NAMES_PLACES
        for word in attributes.get(name, "").split()
    }


def wrong(site, page, link):
    """What is wrong with a link of a page; nothing where it leads somewhere."""
    base = START + page.relative_to(site).as_posix()
    address, fragment = urldefrag(urljoin(base, link))
    if not address.startswith(START):
        return "" if urlsplit(address).scheme in ("https", "mailto") else "another scheme"
    target = site / unquote(urlsplit(address).path.lstrip("/"))
    if target.is_dir():
        if not urlsplit(address).path.endswith("/"):
            return "a folder without its slash"
        target /= "index.html"
    if not target.is_file():
        return "no such file"
    if fragment and target.suffix == ".html" and unquote(fragment) not in ids_of(target):
        return "no such place in the page"
    return ""


def test_every_link_and_anchor_leads_somewhere(site):
    troubles = [
        (page.relative_to(site).as_posix(), link, trouble)
        for page in sorted(site.rglob("*.html"))
        for link in sorted(links_of(page))
        if (trouble := wrong(site, page, link))
    ]
    assert troubles == []


def test_what_describes_a_field_is_there(site):
    troubles = [
        (page.relative_to(site).as_posix(), sorted(missing))
        for page in sorted(site.rglob("*.html"))
        # The theme's own switches are outside the pages.
        if (
            missing := {word for word in named_in(page) - ids_of(page) if not word.startswith("__")}
        )
    ]
    assert troubles == []


def answers_links():
    """The links that only the page's Python writes: after an answer, a mistake, or some practice."""
    for skill in SKILLS:
        yield skill.page
    for mistake in CATALOGUE:
        yield f"lessons/{mistake.lesson}/#{mistake.key}"
    for part in PARTS.values():
        if isinstance(part, FormPart):
            made = BeautifulSoup(write(*part.build({})), "html.parser")
            yield from (link["data-site"] for link in made.select("[data-site]"))


def test_links_that_only_answers_hold_lead_somewhere(site):
    links = list(answers_links())
    assert len(links) > len(SKILLS) + len(CATALOGUE)
    page = site / "index.html"
    assert [link for link in links if wrong(site, page, START + link)] == []


def test_nothing_is_in_the_site_that_no_page_asks_for(site):
    names = set(files_of(site))
    assert not [
        name for name in names if name.endswith((".map", ".gz", ".py~")) or "/lunr/" in name
    ]
    assert len(names) == len({name.lower() for name in names})


def test_a_number_and_its_unit_stay_on_one_line(site):
    apart = re.compile(rf"\d[ \n]+(?:{'|'.join(map(re.escape, BY_SYMBOL))})(?!\w)")
    prose = "//text()[not(ancestor::code or ancestor::pre or ancestor::textarea or ancestor::script or ancestor::style)]"
    for page in site.rglob("index.html"):
        texts = lxml.html.fromstring(page.read_bytes()).xpath(prose)
        assert [text for text in texts if apart.search(text)] == [], page
