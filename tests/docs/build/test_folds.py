"""A glossary folded by letter, and a page folded by heading."""

from bs4 import BeautifulSoup

from docs.build.folds import fold_headings
from docs.build.tree import read, written

PAGE = """<h1>Words</h1><p class="dw-letters"><a href="#a">A</a></p>
<h2 id="a">A<a class="headerlink" href="#a">¶</a></h2><dl><dt>Acid</dt><dt>Ash</dt></dl><p>Sour.</p>
<h2 id="b">B</h2><dl><dt>Bran</dt></dl>"""


def folded(markup):
    page = read(f"<body>{markup}</body>")
    fold_headings(page)
    return BeautifulSoup(written(page), "html.parser").body


def test_each_letter_opens_to_its_words():
    first, second = folded(PAGE).find_all("details")
    assert first.summary.h2["id"] == "a"
    assert first.summary.h2.get_text() == "A"
    assert first.get_text(" ", strip=True) == "A Acid\u00a0· Ash Acid Ash Sour."
    assert second.get_text(" ", strip=True) == "B Bran Bran"
    assert not first.parent.select(".dw-letters")


def test_a_page_without_letters_stays_as_it_is():
    assert folded("<h2>A</h2><p>b</p>").decode_contents() == "<h2>A</h2><p>b</p>"


def test_what_follows_a_rule_is_folded_by_heading_and_the_rule_goes():
    soup = folded(
        '<article class="md-content__inner"><h2>Read</h2><p>a</p><hr/>'
        '<h2 id="x">Look up<a class="headerlink" href="#x">¶</a></h2><p>b</p><hr/><h3>c</h3></article>'
    )
    assert not soup.find_all("hr", recursive=False)
    (fold,) = soup.find_all("details")
    assert fold.summary.get_text() == "Look up"
    assert fold.get_text(" ", strip=True) == "Look up b c"
    assert fold.find_previous("p").get_text() == "a"
