"""The typefaces are there with their licences, small, named right, and hold what the pages write."""

import json
import re

import pytest

from docs.build.policy import DIRECTIVES
from docs.build.site import CONFIG, PAGES, ROOT

TYPE = PAGES / "assets" / "type"
CSS = (TYPE / "type.css").read_text("utf-8")
RULES = [dict(re.findall(r"([a-z-]+): (.+?);", rule)) for rule in CSS.split("@font-face")[1:]]
FILES = [rule for rule in RULES if "url(" in rule["src"]]
# What the brief of the look asks for: fractions, signs of sums, accented names.
NEEDED = "½¼¾÷×−°≈≤≥→±%–—“”’…·✓✗ÀéñöøßČřŽşłőğİ"


def file_of(rule):
    return TYPE / re.search(r'url\("(.+?)"\)', rule["src"])[1]


def held(rule):
    ends = (each.strip().removeprefix("U+").split("-") for each in rule["unicode-range"].split(","))
    return {point for end in ends for point in range(int(end[0], 16), int(end[-1], 16) + 1)}


def test_each_file_is_named_once_and_stays_on_the_site():
    assert sorted(file_of(rule).name for rule in FILES) == sorted(
        path.name for path in TYPE.glob("*.woff2")
    )
    assert "//" not in CSS
    assert DIRECTIVES["font-src"] == "'self'"
    assert "assets/type/type.css" in CONFIG.read_text("utf-8")


@pytest.mark.parametrize("rule", FILES, ids=lambda rule: file_of(rule).name)
def test_a_file_is_web_type_small_and_nothing_moves_when_it_comes(rule):
    content = file_of(rule).read_bytes()
    assert content[:4] == b"wOF2"
    assert len(content) < 36_000
    assert rule["font-display"] == "optional"


@pytest.mark.parametrize("family", ['"Vollkorn"', '"Asap"'])
def test_a_face_with_the_signs_holds_what_is_written(family):
    points = set().union(
        *(held(rule) for rule in FILES if rule["font-family"] in (family, '"Doughwater Signs"'))
    )
    assert [sign for sign in NEEDED if ord(sign) not in points] == []


def test_every_package_has_an_open_licence_that_is_served():
    lock = json.loads((ROOT / "docs" / "type" / "package-lock.json").read_text("utf-8"))
    faces = {name: each for name, each in lock["packages"].items() if "-variable/" in name}
    assert {each["license"] for each in faces.values()} == {"OFL-1.1"}
    for name in ("vollkorn", "asap", "signs"):
        text = (TYPE / f"{name}-license.txt").read_text("utf-8")
        assert "SIL Open Font License, Version 1.1" in text


def test_the_devices_own_faces_are_given_the_measure_of_ours():
    style = (PAGES / "assets" / "style.css").read_text("utf-8")
    for rule in RULES:
        if "local(" in rule["src"]:
            assert rule["font-family"] in style
            assert 75 < float(rule["size-adjust"].rstrip("%")) < 125
            assert {"ascent-override", "descent-override", "line-gap-override"} <= set(rule)
