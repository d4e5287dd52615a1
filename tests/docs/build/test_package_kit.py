"""What a package for a school's system is made of, without a site: a lesson's page, cut out of the site's.

A school's system plays whole packages in tests/site/test_school.py.
"""

import pytest
from bs4 import BeautifulSoup

from docs.build.modules import EARLY_ACTS, FIRST_STEP
from docs.build.package_kit import PRACTISE, lesson_page
from docs.build.scripts import NAMES_MODULE
from docs.build.steps import into_steps
from docs.build.tree import read

KEY = "divide-by-the-water-content"
PAGE = """<head><link rel="stylesheet" href="../../assets/style.css"></head>
<body><article class="md-content__inner md-typeset"><h1 id="t">Title</h1><p>Opening.</p>
<p class="dw-also">Words for the search</p>
<h2 id="one">One<a class="headerlink" href="#one">¶</a></h2>
<p>As <a href="../other/">another lesson</a> says, see <a href="#two">the next step</a>.</p>
<h2 id="two">Two</h2><p><a class="dw-button" href="../../swap/">Go to the tool</a></p></article></body>"""


@pytest.fixture(scope="module")
def made():
    page = read(PAGE)
    into_steps(page, KEY)
    text, files = lesson_page(page, "../../")
    return BeautifulSoup(text, "html.parser"), files


def test_the_set_is_the_last_step(made):
    page, _ = made
    steps = page.select("school-set section.dw-step")
    assert [step.h2["id"] for step in steps] == ["one", "two", PRACTISE]
    assert steps[-1].select_one("[data-set]")
    assert not page.select("lesson-steps .dw-step-end")


def test_what_leads_into_the_site_is_words_alone(made):
    page, _ = made
    lesson = page.find("school-set")
    assert "another lesson" in lesson.get_text()
    assert "Go to the tool" not in lesson.get_text()
    assert "Words for the search" not in lesson.get_text()
    assert all(link["href"].startswith("#") for link in lesson.select("a[href]"))
    assert not lesson.select(".headerlink")


def test_its_addresses_begin_at_the_package(made):
    page, files = made
    assert [link["href"] for link in page.select("link[rel=stylesheet]")] == ["assets/style.css"]
    assert page.find("script", src=FIRST_STEP)
    assert page.find("script", src=EARLY_ACTS)
    assert {FIRST_STEP, NAMES_MODULE} <= set(files)
    assert not [name for name in files if name.startswith((".", "/"))]
