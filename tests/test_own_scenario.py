"""The lessons, sets, parts and docstrings work with examples of their own.

Common practice, no source: bakers often tell the division with 140 g of flour at 68 %, which takes
95 g of water, or 105 to 106, 108 and 128 g of liquids that hold 90, 88 and 74 % of water; and they
line up milk, buttermilk, yogurt and sour cream. Tests check against those values. Nothing a reader
sees is made of them.
"""

import html
import re
from itertools import chain, product
from pathlib import Path

import pytest

from calc import composition, units
from docs.parts import PARTS
from docs.parts.shared.form_part import FormPart
from docs.parts.side_by_side import fields_of as bake_fields
from exercises.problems import load, set_keys

ROOT = Path(__file__).parent.parent
KINDS = {".md", ".py", ".js", ".mjs", ".yml", ".html", ".svg"}
FLOUR, HYDRATION, WATER = 140.0, 0.68, 95.2
YOGURT = 0.74
LINE = ("whole-milk", "buttermilk", "plain-yogurt", "sour-cream")

# What may come between two names of one list: “a, b”, “a; b”, “a and b”, [a, "b"], a / b, a | b.
_AND = r"""[\s,;/|"'`*]+(?:(?:and|or)\s+)?(?:plain[\s-])?"""
_ANSWER = r"(?<![\d.,])(10[568]|128) g\b"
PATTERNS = {
    "140 g of flour at 68 %": r"(?<![\d.,])140(?:\.0+)?(?![\d.,]*\d)(?: ?g\b|\W).{0,80}?(?<![\d.,])(?:68 ?%|0[.,]68\b)",
    "68 % of 140 g of flour": r"(?<![\d.,])(?:68 ?%|0[.,]68\b).{0,40}?(?<![\d.,])140 ?g\b",
    "95 g of water": r"(?<![\d.,])95(?:[.,]2)? ?g (?:of )?water\b|\bwater,? 95(?:[.,]2)? ?g\b",
    "95.2 g": r"(?<![\d.,])95[.,]2 ?g\b",
    "yogurt at 74 %": r"\byogh?urt\b(?: is| at| with| holds| that is| of|,|:)*(?: about)? 74 ?%"
    r"|\b74 ?%(?: water)?,? (?:\w+ )?yogh?urt\b",
    "liquids at 90, 88, 74 %": r"(?<!\d)90 ?%.{0,60}?(?<!\d)88 ?%.{0,60}?(?<!\d)74 ?%",
    "two of its answers": rf"{_ANSWER}.{{0,60}}?(?!\1){_ANSWER}",
    "the line of four": rf"\bmilk{_AND}buttermilk{_AND}yogh?urt{_AND}sour[\s-]cream\b",
}


def found(text: str) -> list[str]:
    """The check values that a text holds, paragraph by paragraph."""
    paragraphs = (" ".join(one.split()) for one in re.split(r"\n\s*\n", html.unescape(text)))
    return [
        f"{name}: “{hit[0]}”"
        for paragraph in paragraphs
        for name, pattern in PATTERNS.items()
        for hit in re.finditer(pattern, paragraph.replace("\u00a0", " "), re.IGNORECASE)
    ]


def sources() -> list[Path]:
    folders = (ROOT / name for name in ("docs", "exercises", "calc"))
    inside = chain.from_iterable(folder.rglob("*") for folder in folders)
    return [*sorted(one for one in inside if one.suffix in KINDS), *sorted(ROOT.glob("*.md"))]


@pytest.mark.parametrize(
    "text",
    [
        "A small loaf has 140 g of flour at 68 % hydration.",
        "at 68 % of 140 g of flour",
        "flour: 140 g\n  hydration: 68 %",
        '<worked-example flour="140 g" hydration="68 %">',
        '>>> w.given("flour", "flour", 140, "mass")\n>>> w.given("hydration", "hydration", 0.68, "share")',
        "Bowl A: 95 g of water.",
        "95.2 g ÷ 0.74 = 128.6 g",
        "thick yogurt, 74 % water",
        "The yogurt is\n74 % water.",
        "Yogurt that is about 74 %",
        "90 %, 88 % and 74 %",
        "Two students get 105 g and 106 g.",
        "milk, buttermilk, yogurt and sour cream",
        "[whole-milk, buttermilk, plain-yogurt, sour-cream]",
        "water for milk, buttermilk,\n yoghurt, sour cream, a puree",
    ],
)
def test_the_check_finds_them_however_they_are_written(text):
    assert found(text)


@pytest.mark.parametrize(
    "text",
    [
        "1140 g of flour at 68 %",
        "140 g of butter. Flour 500 g at 62 %.",
        "from 60 g to 140 g\n\nhydration 68 %",
        "68 % × 1000 g = 680 g",
        "295 g of water",
        "Strained yogurt holds 74 to 85 g of water in 100 g.",
        "sour cream that is 74 % water",
        "evaporated milk, 74 %; strained yogurt, 81 %",
        "105 °C; 106 g",
        "108 g, and again 108 g",
        "**Cultured milk is milk.** Buttermilk, yogurt, sour cream and fresh cheese are milk.",
    ],
)
def test_the_check_leaves_other_numbers_alone(text):
    assert not found(text)


@pytest.mark.parametrize("path", sources(), ids=lambda path: str(path.relative_to(ROOT)))
def test_no_source_tells_the_check_values(path):
    assert not found(path.read_text("utf-8"))


def is_the_dough(flour: str, wet: str) -> bool:
    """Whether a flour and its hydration, or its water, make the dough of the check values."""
    try:
        grams = units.read(flour, "mass").value
        share = (
            units.read(wet, "share").value if "%" in wet else units.read(wet, "mass").value / grams
        )
    except units.ReadingError:
        return False
    return abs(grams * share - WATER) < 0.5 and abs(grams - FLOUR) < 0.5


def listed(text: str) -> list[str]:
    """The keys of what a list of liquids names; what is no name of the table is left out.

    What has fewer pieces than the line is none, and is not looked for: an unknown name is put to every row.
    """
    keys, pieces = [], re.split(r"[,;]", text)
    for one in pieces if len(pieces) >= len(LINE) else ():
        try:
            keys.append(composition.find(re.sub(r"\(.*\)", "", one)).key)
        except composition.UnknownIngredient:
            continue
    return keys


def is_the_line(keys: list[str]) -> bool:
    """The four in their order, whatever is between; or the four alone, in any order."""
    return tuple(key for key in keys if key in LINE) == LINE or set(keys) == set(LINE)


_TAG = re.compile(r"<[a-z]+(?:-[a-z]+)+((?:\s+[a-z-]+=\"[^\"]*\")+)\s*/?>")
_ATTRIBUTE = re.compile(r'([a-z-]+)="([^"]*)"')


def test_no_part_of_a_page_is_set_to_the_dough_or_the_line():
    seen = 0
    for page in sorted((ROOT / "docs/pages").rglob("*.md")):
        for tag in _TAG.findall(page.read_text("utf-8")):
            given = {name: html.unescape(value) for name, value in _ATTRIBUTE.findall(tag)}
            seen += 1
            for wet in ("hydration", "liquid", "water"):
                assert not is_the_dough(given.get("flour", ""), given.get(wet, "")), (page, tag)
            for value in given.values():
                assert not is_the_line(listed(value)), (page, tag)
    assert seen > 100


def defaults() -> dict[str, dict[str, str]]:
    """The form of every part as it opens, by the part's name."""
    forms = {name: part.fields({}) for name, part in PARTS.items() if isinstance(part, FormPart)}
    return forms | {"side-by-side": bake_fields({})}


@pytest.mark.parametrize(("name", "values"), defaults().items(), ids=lambda each: str(each)[:30])
def test_no_part_opens_with_the_dough_or_the_line(name, values):
    for wet in ("hydration", "liquid", "water"):
        assert not is_the_dough(values.get("flour", ""), values.get(wet, ""))
    liquids = [values[slot] for slot in sorted(values) if re.fullmatch(r"liquid\d", slot)]
    assert not is_the_line([liquid for liquid in liquids if liquid])


@pytest.mark.parametrize("key", set_keys())
def test_no_set_draws_the_dough_the_line_or_a_yogurt_that_no_shop_sells(key):
    for problem in load(key).problems:
        choices = {name: [one.value for one in given] for name, given in problem.givens.items()}
        wet = product(choices.get("flour", []), choices.get("hydration", []))
        assert (FLOUR, HYDRATION) not in list(wet), problem.id
        pools = [[one.key for one in problem.items]]
        for values in choices.values():
            named = [one for one in values if isinstance(one, composition.Ingredient)]
            pools.append([one.key for one in named])
            for liquid in named:
                assert "yogurt" not in liquid.name or round(liquid.water, 2) > YOGURT + 0.05, liquid
        assert not any(map(is_the_line, pools)), problem.id
