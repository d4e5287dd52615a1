"""Going on from one tool to the next: each setting arrives, for all pairs of tools. No browser."""

from urllib.parse import parse_qsl, urlsplit

import pytest

from docs.parts import PARTS, side_by_side
from docs.parts.shared.onward import STYLE_FIELDS
from exercises.publish.html import element

TOOLS = {
    "swap/": "liquid-swap",
    "balance/": "balance-formula",
    "temperature/": "dough-temperature",
    "scale/": "scale-formula",
    "side-by-side/": "side-by-side",
    "feel/": "acidity-and-feel",
}
# What a reader sets, each other than its default, and what no computation changes on the way.
SETTINGS = {
    "flour": "740 g", "flour-kind": "whole-wheat-flour", "liquid": "62 %", "was": "oat-drink",
    "with1": "egg", "amount1": "90 g", "with2": "rye-flour", "amount2": "185 g", "mass": "oz", "decimal": ",", "scale": "5 g",
    "becomes": "kefir", "part": "50 %",
}  # fmt: skip
ROWS = {"with1", "amount1", "with2", "amount2"}
# Where a tool goes on with the dough that it made, and not with the one that was typed.
MADE = {
    "liquid-swap": {"flour", "liquid", "was", *ROWS, "becomes", "part"},
    "balance-formula": {"flour", "liquid", "was", *ROWS, "becomes", "part"},
    "scale-formula": {"flour", "liquid", *ROWS},
    "acidity-and-feel": set(SETTINGS),
}


def fields_of(tool):
    return side_by_side.fields_of({}) if tool == "side-by-side" else PARTS[tool].fields({})


def typed(tool):
    """A tool's form with every setting of ours that it has."""
    given = fields_of(tool)
    return given | {
        name: text for name, text in SETTINGS.items() if name in given or name == "scale"
    }


def links(tool):
    """Where a tool leads, by the next tool, with the fields that its address carries."""
    shown = element("div", *PARTS[tool].respond(typed(tool))["elements"])
    found = {}
    for link in shown.iterfind(".//nav[@class='dw-onward']//a"):
        place = urlsplit(link.get("data-site"))
        found[TOOLS[place.path]] = dict(parse_qsl(place.query, keep_blank_values=True))
    return found


PAIRS = [(tool, following) for tool in TOOLS.values() for following in links(tool)]


def test_the_tools_are_joined():
    assert {following for _, following in PAIRS} == set(TOOLS.values())
    assert len(PAIRS) >= 20


@pytest.mark.parametrize(("tool", "following"), PAIRS)
def test_a_setting_arrives(tool, following):
    carried, has = links(tool)[following], fields_of(following)
    for name in SETTINGS:
        shared = name in typed(tool) and (name in has or name == "scale")
        if shared and name not in MADE.get(tool, ()):
            assert carried.get(name) == SETTINGS[name], name
    for name in STYLE_FIELDS:
        if name in SETTINGS:
            assert carried[name] == SETTINGS[name], name


@pytest.mark.parametrize(("tool", "following"), PAIRS)
def test_a_second_flour_arrives(tool, following):
    carried, has = links(tool)[following], fields_of(following)
    if "with1" in has and tool != "acidity-and-feel":
        assert "rye-flour" in [carried[name] for name in has if name.startswith("with")]


@pytest.mark.parametrize(("tool", "following"), PAIRS)
def test_what_arrives_can_be_computed(tool, following):
    said = PARTS[following].respond(fields_of(following) | links(tool)[following])
    assert said["says"]
