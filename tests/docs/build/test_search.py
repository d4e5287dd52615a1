"""What of a page goes into the search index, and how much its place counts."""

import json
import re
from pathlib import Path

import pytest

from docs.build.search import INDEX, SEPARATOR, TITLE, boost, improve, more_words
from docs.build.tree import read

PAGE = """<head><meta name="description" content="All on dough."></head>
<h1 id="top">Dough</h1><a-part>Before <button>Run</button><svg><text>drawn</text></svg> all</a-part>
<h2 id="more">More</h2><a-part>10 &lt; 20</a-part><a-part><form>typed</form></a-part>"""


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("How much water is in the milk?", ["water", "milk"]),
        ("5 g of eggs", ["egg"]),
        ("baker’s percentages", ["baker", "percentage"]),
        ("glass of gas", ["glass", "gas"]),
        ("1.5 kg", ["1.5", "kg"]),
    ],
)
def test_small_words_single_signs_and_plurals_are_gaps(typed, words):
    assert [word for word in re.split(SEPARATOR, typed) if word] == words


@pytest.mark.parametrize(
    ("location", "wanted"),
    [
        ("lessons/a/", 3.0),
        ("lessons/", 1.0),
        ("teachers/lessons/a/", 0.4),
        ("lessons/a/#sources", 0.1),
    ],
)
def test_a_lesson_counts_for_more_than_its_teaching_page(location, wanted):
    assert boost(location) == wanted


def test_a_parts_words_are_its_sections_and_a_form_is_left_out():
    found = list(more_words(read(PAGE), ["a-part"], Path("dough/index.html")))
    assert found == [
        ("dough/", "All on dough."),
        ("dough/", "Before all"),
        ("dough/#more", "10 < 20"),
    ]


def test_more_words_join_the_text_of_their_place_as_text(tmp_path):
    file = tmp_path / INDEX
    file.parent.mkdir()
    doc = {"location": "dough/#more", "title": "More", "text": "Old"}
    file.write_text(json.dumps({"config": {"fields": {"title": {}}}, "docs": [doc]}), "utf-8")
    improve(tmp_path, [("dough/#more", "10 < 20"), ("nowhere/", "lost")])
    made = json.loads(file.read_text("utf-8"))
    assert made["docs"] == [doc | {"text": "Old 10 &lt; 20", "boost": 1.0}]
    assert made["config"] == {"fields": {"title": {"boost": TITLE}}, "separator": SEPARATOR}
