"""A whole set as a link: what goes in comes out, whatever mail does to it; nothing hostile comes in.

DEFLATE's bound is tried with what it can hide: a few thousand letters that hold 200 million noughts.
"""

import base64
import re
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exercises import problems, set_link
from exercises.set_link import LinkError
from exercises.setfile import LARGEST_SET, SetError
from tests.exercises.set_texts import EVERY_KIND as SET
from tests.hostile import EVERY, LINKS

SITE = "https://school.example/dough/"


@pytest.mark.parametrize("key", problems.set_keys())
def test_each_of_our_sets_comes_back_the_same(key):
    given_text = set_link.to_give(problems.text_of_ours(key), f"{key}.yml")
    back = problems.read_set(set_link.unpack(set_link.link(SITE, given_text)), "link", 0)
    assert problems.is_ours(back)
    assert [one.id for one in back.problems] == [one.id for one in problems.load(key).problems]


def test_a_given_set_keeps_its_key_and_loses_its_notes():
    text = set_link.to_give("# for me: Ada needs more time\n" + SET, "Monday (1).yml")
    assert "Ada" not in text
    assert problems.read_set(text, "anything else.yml").key == "monday"
    assert set_link.to_give(text, "another.yml") == text


@given(st.text(max_size=400))
def test_any_text_comes_back(text):
    text = text.encode("utf-8", "replace").decode()
    assert set_link.unpack(set_link.link(SITE, text)) == text


@pytest.mark.parametrize(
    "mailed",
    [
        lambda link: f"Here it is: {link}\nSee you on Monday, everyone!",
        lambda link: "\n".join(link[n : n + 60] for n in range(0, len(link), 60)),
        lambda link: "> " + "\n> ".join(link[n : n + 70] for n in range(0, len(link), 70)),
        lambda link: "=\n".join(re.findall(".{1,70}", link.replace("=", "=3D"))),
        lambda link: link.replace("#set=", "#set%3D"),
        lambda link: link[:-1],  # a mail program takes the last sign for the sentence's
        lambda link: f"<{link}>.",
    ],
)
def test_a_link_survives_mail(mailed):
    text = set_link.to_give(SET, "monday.yml")
    assert set_link.unpack(mailed(set_link.link(SITE, text))) == text


def test_a_broken_link_says_how_it_is_broken():
    link = set_link.link(SITE, set_link.to_give(SET, "monday.yml"))
    start = link.index("1.") + 2
    for end in range(start, len(link) - 1):
        with pytest.raises(LinkError, match="cut short"):
            set_link.unpack(link[:end])
    other = "A" if link[start + 9] != "A" else "B"
    with pytest.raises(LinkError):
        set_link.unpack(link[: start + 9] + other + link[start + 10 :])
    with pytest.raises(LinkError, match="another version"):
        set_link.unpack(link.replace("#set=1.", "#set=2."))
    with pytest.raises(LinkError, match="too long"):
        set_link.unpack("x" * (set_link.LONGEST_LINK + 1))
    with pytest.raises(LinkError, match="no set in this"):
        set_link.unpack(SITE)


def test_no_small_link_becomes_a_flood():
    flood = zlib.compressobj(9, zlib.DEFLATED, -15)
    packed = bytes(4) + flood.compress(bytes(200_000_000)) + flood.flush()
    code = base64.urlsafe_b64encode(packed).decode()
    assert len(code) < set_link.LONGEST_LINK
    with pytest.raises(LinkError, match="too large"):
        set_link.unpack(f"#set=1.{code}")


@pytest.mark.parametrize("hostile", [*LINKS, *EVERY])
def test_hostile_links_are_refused(hostile):
    with pytest.raises((LinkError, SetError)):
        problems.read_set(set_link.unpack(hostile), "link")
    with pytest.raises((LinkError, SetError)):
        problems.read_set(set_link.unpack(set_link.link(SITE, hostile)), "link")


def test_the_largest_set_fits():
    assert set_link.unpack(set_link.link(SITE, "é" * LARGEST_SET)) == "é" * LARGEST_SET
    with pytest.raises(SetError, match="larger"):
        problems.read_set(set_link.unpack(set_link.link(SITE, "x" * (LARGEST_SET + 1))), "link")


def test_only_ours_bears_the_name_of_ours():
    theirs = problems.text_of_ours("first-swaps").replace("First swaps", "Other swaps")
    with pytest.raises(SetError, match="One of our sets"):
        set_link.to_give(theirs, "first-swaps.yml")
