"""What a student sees of a set that came from outside: the same marking as ours, and nothing but text."""

import json
from urllib.parse import unquote

import pytest

from docs.parts import respond as answer_page
from docs.parts.given_set import respond
from docs.parts.own_ingredients import respond as respond_with_shelf
from docs.parts.problem_set import respond as respond_as_set
from docs.parts.shared.fields import FieldErrors
from exercises import set_link
from exercises.draws import draw
from exercises.handin import read_handin
from exercises.problems import load, read_set, text_of_ours
from exercises.publish.html import write
from tests.exercises.set_texts import EVERY_KIND
from tests.exercises.test_set_ingredients import MINE
from tests.hostile import LINKS, SCRIPTS

SITE = "https://school.example/"
STUDENT = "Ada Invented"


def opened(text: str, file: str = "") -> dict:
    return respond({"text": text, "file": file})


def test_a_link_a_text_and_a_file_open_the_same_set():
    given = set_link.to_give(EVERY_KIND, "monday.yml")
    ways = [
        opened(f"Dear class, {set_link.link(SITE, given)} Good luck!"),
        opened(given),
        opened(EVERY_KIND, "Monday (2).yml"),
    ]
    assert len({(way["key"], way["content"], way["packed"]) for way in ways}) == 1
    shown = [write(*way["elements"]) for way in ways]
    assert shown[0] == shown[1]
    assert "came by a link, from outside this site" in shown[0]
    assert "came from a file" in shown[2]


def test_it_is_marked_and_handed_in_as_any_set():
    packed = opened(set_link.link(SITE, set_link.to_give(EVERY_KIND, "monday.yml")))["packed"]
    given = read_set(EVERY_KIND, "monday.yml")
    why = given.problems[0]
    right = {
        box.key: next(letter for letter, option in box.lettered() if option.right)
        for box in draw(given, why, STUDENT).boxes
    }
    work = {"packed": packed, "student": STUDENT, "answers": json.dumps({why.id: right})}
    marked = respond_as_set(work | {"action": "mark", "problem": why.id, "now": "1"})
    assert "2 of 2 marks" in write(*marked["elements"])
    assert "practice/study" not in write(*marked["elements"])
    handed = respond_as_set(work | {"action": "hand-in"})
    handin = read_handin(handed["file"])
    assert (handin.set_key, handin.content) == (given.key, given.content)
    assert handin.given[why.id] == draw(given, why, STUDENT).shown


def test_one_of_ours_that_came_by_link_is_ours():
    ours = set_link.link(SITE, set_link.to_give(text_of_ours("first-swaps"), "first-swaps.yml"))
    answer = opened(ours)
    assert answer["content"] == load("first-swaps").content
    assert "the same as ours" in write(*answer["elements"])


@pytest.mark.parametrize("script", SCRIPTS)
def test_what_a_set_says_is_only_text(script):
    """The page's own elements are all that is there, whatever the set says."""
    quoted = json.dumps(script.replace("\x00", "").replace("\x0b", "").replace("\x1b", ""))
    hostile = EVERY_KIND.replace("title: Every kind", f"title: {quoted}\nabout: {quoted}", 1)
    try:
        answer = opened(set_link.link(SITE, hostile))
    except FieldErrors:
        return
    plain = opened(EVERY_KIND.replace("title: Every kind", "title: x\nabout: y", 1), "every.yml")
    tags = [each.tag for one in answer["elements"] for each in one.iter()]
    assert tags == [each.tag for one in plain["elements"] for each in one.iter()]


@pytest.mark.parametrize("hostile", [*LINKS, "", "problems:", "problems: [", "PK\x03\x04problems:"])
def test_what_is_no_set_is_told_in_words(hostile):
    with pytest.raises(FieldErrors) as refused:
        opened(hostile, "x.yml")
    assert refused.value.messages["text"].endswith((".", "”", "…”.", ")"))
    asked = {"part": "given-set", "fields": {"text": hostile, "file": ""}}
    assert "complaints" in json.loads(answer_page(json.dumps(asked)))


def test_a_set_with_slips_is_for_the_teacher():
    with pytest.raises(FieldErrors, match="only its teacher"):
        opened(EVERY_KIND.replace("ask: choice", "ask: chioce"), "monday.yml")


def test_a_class_gets_its_schools_ingredients_with_the_set():
    """To look at, and as a link that the page of one's own ingredients reads."""
    shown = write(*opened(MINE)["elements"])
    assert "Ingredients of this set: school kefir, mill flour" in shown
    shelf = unquote(shown.partition("ingredients/#shelf=")[2].partition('"')[0])
    offered = respond_with_shelf({"action": "arrive", "file": shelf})
    assert offered["says"] == "This link brings “Our kefir”: 2 ingredients."
    assert "Ingredients of this set" not in write(*opened(EVERY_KIND)["elements"])
