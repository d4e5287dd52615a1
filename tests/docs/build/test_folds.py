"""A glossary folded by letter."""

from bs4 import BeautifulSoup

from docs.build.folds import fold_letters

PAGE = """<h1>Words</h1><p class="dw-letters"><a href="#a">A</a></p>
<h2 id="a">A<a class="headerlink" href="#a">¶</a></h2><dl><dt>Acid</dt></dl><p>Sour.</p>
<h2 id="b">B</h2><dl><dt>Bran</dt></dl>"""


def test_each_letter_opens_to_its_words():
    soup = BeautifulSoup(PAGE, "html.parser")
    fold_letters(soup)
    first, second = soup.find_all("details")
    assert first.summary.h2["id"] == "a"
    assert first.summary.get_text() == "A"
    assert first.get_text(" ", strip=True) == "A Acid Sour."
    assert second.get_text(" ", strip=True) == "B Bran"


def test_a_page_without_letters_stays_as_it_is():
    soup = BeautifulSoup("<h2>A</h2><p>b</p>", "html.parser")
    fold_letters(soup)
    assert str(soup) == "<h2>A</h2><p>b</p>"
