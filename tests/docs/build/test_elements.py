"""What an author writes in a page is filled, or told with its place: nothing of it is lost in silence."""

import re

import pytest

from docs.build.elements import ELEMENTS, fill_elements
from docs.build.error import BuildError
from docs.build.tree import read
from tests.docs.build.bodies import body

GOOD = '<worked-example ask="water needed" flour="900 g" hydration="65 %"></worked-example>'


def filled(tmp_path, html):
    source = tmp_path / "lesson.md"
    source.write_text(html, "utf-8")
    page = read(f"<body>{html}</body>")
    fill_elements(page, tmp_path / "index.html", source)
    return page


@pytest.mark.parametrize(
    ("html", "says"),
    [
        ("<worked-exampel></worked-exampel>", "nothing is called <worked-exampel>. Did you mean “worked-example”?"),
        ("<liquidswap></liquidswap>", "Did you mean “liquid-swap”?"),
        ("<my-own-thing></my-own-thing>", "nothing is called <my-own-thing>. Known here: acidity-and-feel, "),
        ('<liquid-swap flower="900 g"></liquid-swap>', "does not read “flower”. Did you mean “flour”?"),
        ('<liquid-swap becomess="egg"></liquid-swap>', "does not read “becomess”. Did you mean “becomes”?"),
        (GOOD.replace("hydration", "hydratoin"), "hydration"),
        (GOOD.replace("ask", "also='x' ask"), "does not read “also”."),
        ('<worked-example ask="water neded"></worked-example>', "“ask” must be one of"),
        ('<lesson-figure draw="nothing-such"></lesson-figure>', "lesson-figure"),
        ('<skills-map of="all"></skills-map>', "does not read “of”."),
    ],
)  # fmt: skip
def test_a_slip_stops_the_build_at_its_line(tmp_path, html, says):
    with pytest.raises(BuildError, match=re.escape(says)) as told:
        filled(tmp_path, f"{GOOD}\n\n{html}\n")
    assert "lesson.md:3: <" in str(told.value) or "lesson.md:3: nothing" in str(told.value)


@pytest.mark.parametrize("name", sorted(ELEMENTS))
def test_no_element_takes_an_attribute_that_it_does_not_read(tmp_path, name):
    with pytest.raises(BuildError, match=rf"<{name}> .+"):
        filled(tmp_path, f'<{name} no-such-thing="1"></{name}>')


def test_what_html_allows_everywhere_is_allowed(tmp_path):
    page = filled(tmp_path, GOOD.replace(" ask", ' id="one" class="wide" data-note="x" ask'))
    assert page.find(".//*[@id='one']").get("class") == "wide dw-part"


def test_elements_of_html_and_of_the_theme_are_left_alone(tmp_path):
    html = (
        "<header><nav><svg><path></path></svg></nav></header><main><figure>A dough</figure></main>"
    )
    assert body(filled(tmp_path, html)) == html
