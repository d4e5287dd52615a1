"""A lesson's headings become its steps; nothing of the page is lost."""

import pytest
from bs4 import BeautifulSoup

from docs.build.site import PAGES
from docs.build.steps import into_steps, lesson_of, minutes
from docs.build.tree import read, written

KEY = "divide-by-the-water-content"
PAGE = """<article class="md-content__inner md-typeset"><h1 id="t">Title</h1><p>Opening.</p>
<p class="dw-also">Other words</p>
<h2 id="one">One<a class="headerlink">¶</a></h2><p>First idea.</p><details class="dw-python">a</details>
<h2 id="two">Two</h2><p>Second idea.</p><details class="dw-python">b</details>
<hr><h2 id="what-goes-wrong">What goes wrong<a class="headerlink">¶</a></h2><h3 id="slip">A slip</h3><p>Told.</p>
<h2 id="sources">Sources</h2><p>Ours.</p></article>"""


def stepped(markup=PAGE):
    page = read(f"<body>{markup}</body>")
    into_steps(page, KEY)
    return BeautifulSoup(written(page), "html.parser")


def test_each_heading_is_a_step_that_says_where_it_is():
    soup = stepped()
    steps = soup.select("lesson-steps > section.dw-step")
    assert [each.h2["id"] for each in steps] == ["one", "two"]
    assert [each["aria-labelledby"] for each in steps] == ["one", "two"]
    numbers = [each.select_one(".dw-step-number").get_text() for each in steps]
    assert numbers == ["Step 1 of 2", "Step 2 of 2"]
    assert "Opening." in steps[0].get_text()
    assert [link["href"] for link in soup.select(".dw-step-list a")] == ["#one", "#two"]
    assert soup.select_one(".dw-step-on a").get_text() == "Next: Two"


def test_what_follows_the_rule_is_folded_and_keeps_its_anchors():
    soup = stepped()
    folds = soup.select("details.dw-look-up")
    assert [each.summary.h2["id"] for each in folds] == ["what-goes-wrong", "sources"]
    assert folds[0].find(id="slip")
    assert not folds[0].summary.find("a")
    assert not soup.find("hr")


def test_the_last_step_ends_with_one_way_to_the_set():
    first, last = stepped().select("section.dw-step")
    assert not first.select("[data-site]")
    assert [link["data-site"] for link in last.select("a.dw-button[data-site]")] == [
        f"practice/{KEY}/"
    ]


def test_python_is_there_once_after_the_steps_and_so_are_other_words():
    soup = stepped()
    assert not soup.select("lesson-steps .dw-python, lesson-steps .dw-also")
    assert [each.get_text() for each in soup.select(".dw-python")] == ["a"]


def test_a_text_without_headings_stays_as_it_is():
    markup = '<article class="md-content__inner"><h1>Title</h1><p>Text</p></article>'
    assert stepped(markup).body.decode_contents() == markup


def test_what_follows_a_rule_needs_a_heading():
    with pytest.raises(ValueError, match="heading"):
        stepped(PAGE.replace('<hr><h2 id="what', '<hr><p>lost</p><h2 id="what'))


@pytest.mark.parametrize(
    ("words", "questions", "tools", "wanted"), [(150, 0, 0, 5), (900, 6, 1, 20), (1500, 10, 1, 30)]
)
def test_the_time_follows_words_questions_and_tools(words, questions, tools, wanted):
    text = "word " * words + "<check-question><p>not read</p></check-question>" * questions
    assert minutes(read(f"<div>{text}{'<i class=dw-card></i>' * tools}</div>")) == wanted


def test_only_the_lessons_are_stepped():
    assert lesson_of(PAGES / "lessons" / f"{KEY}.md") == KEY
    assert lesson_of(PAGES / "teachers" / "lessons" / f"{KEY}.md") is None
    assert lesson_of(PAGES / "swap.md") is None
    assert lesson_of(None) is None
