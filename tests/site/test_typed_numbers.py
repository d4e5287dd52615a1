"""The numbers that a page's author typed: sums come out, and a wrong way ends where `calc` says it does."""

import re

import pytest
from bs4 import BeautifulSoup

from calc.diagnosis import outcomes, rewritten
from calc.mistakes import BY_KEY
from docs.build.site import ROOT
from docs.parts.worked_example import asked
from exercises.lessons import LESSONS

PAGES = ROOT / "docs" / "pages"
# A space groups the digits of a large number, as in 32 500; the minus is the typographer's.
FIGURE = r"−?\d{1,3}(?: \d{3})+|−?\d+(?:\.\d+)?"
UNIT = r"\s?(?:%|kg|g|°C|J|cm)(?![A-Za-z])"
TERM = rf"\(*(?:{FIGURE})(?:{UNIT})?\)*"
SUM = re.compile(rf"(?P<sum>\(*{TERM}(?: [×÷+−] {TERM})+) = (?P<result>(?:{FIGURE})(?:{UNIT})?)")

# What a section starts from where no worked example of its lesson does: the attributes of one that would.
WATER = {
    "ask": "weight from baker's percentage",
    "flour": "500 g",
    "percentage": "65 %",
    "ingredient": "water",
}
ICE = {
    "ask": "ice needed",
    "water-weight": "3400 g",
    "tap-temperature": "18 °C",
    "water-temperature": "4 °C",
}
RAISED = {"ask": "raised hydration for a sour liquid", "hydration": "65 %", "part": "100 %"}
STARTS = {
    "divided-by-percentage": WATER,
    "percent-for-fraction": WATER,
    "percentage-on-top": WATER,
    "rest-of-percentage": WATER,
    "forgot-percentage": WATER,
    "wrong-weight": {
        "ask": "baker's percentage", "flour": "500 g", "weight": "9 g", "ingredient": "salt",
        "other-ingredients": "325 g",
    },
    "forgot-the-flour": {
        "ask": "flour and liquid in a preferment", "preferment-weight": "480 g", "preferment-hydration": "125 %",
        "liquid": "water",
    },
    "one-flour-only": {
        "ask": "weights from percentages", "flour": "1000 g", "flour-kind": "bread-flour", "second-share": "10 %",
        "second-kind": "rye-flour", "hydration": "65 %", "salt": "2 %", "yeast": "1 %",
    },
    "sodium-for-salt": {
        "ask": "water from a US pack", "serving": "170 g", "fat": "9 g", "protein": "15 g",
        "carbohydrate": "7 g", "sodium": "85 mg", "other-minerals": "0.8 %",
    },
    "on-the-dry-weight": {"ask": "water by drying", "before": "60.9 g", "after": "47.1 g", "dish": "42.9 g"},
    "dish-not-taken-off": {"ask": "water by drying", "before": "62.6 g", "after": "46.5 g", "dish": "42.9 g"},
    "wrong-way-round": {
        "ask": "time left out of the cold", "limit": "240 min", "mixing": "14 min", "first-rise": "60 min",
        "shaping": "10 min", "baking": "40 min",
    },
    "contents-upside-down": {
        "ask": "liquid for liquid", "liquid-weight": "520 g", "liquid": "light-cream", "new-liquid": "whole-milk",
    },
    "only-the-extra": {"ask": "new liquid", "flour": "400 g", "hydration": "70 %", "liquid": "buttermilk"},
    "subtracted-for-multiplied": {
        "ask": "hydration after gram for gram", "flour": "500 g", "hydration": "64 %", "liquid": "half-and-half",
    },
    "added-percentages": {
        "ask": "blend water", "liquid": "heavy-cream", "liquid-weight": "200 g",
        "second-liquid": "buttermilk", "second-weight": "300 g",
    },
    "divided-one-part": {
        "ask": "liquid beside another", "flour": "1500 g", "hydration": "64 %", "first-liquid": "a yolk, 52 % water",
        "first-weight": "120 g", "liquid": "buttermilk",
    },
    "solids-for-fat": {"ask": "fat brought", "flour": "500 g", "hydration": "64.8 %", "liquid": "half-and-half"},
    "divided-by-fat-content": {
        "ask": "fat brought", "flour": "475 g", "hydration": "64.8 %", "liquid": "half-and-half",
    },
    "forgot-fat-content": {
        "ask": "butter to take out", "liquid-weight": "381 g", "liquid": "whole-milk",
        "new-liquid": "half-and-half", "fat": "butter",
    },
    "averaged-temperatures": {
        "ask": "water temperature", "dough-temperature": "26 °C", "flour-temperature": "20 °C",
        "room-temperature": "22 °C", "friction-factor": "5 °C",
    },
    "ice-by-80": ICE,
    "losses-added": {
        "ask": "dough for pieces", "pieces": "24", "piece-weight": "70 g", "bake-loss": "12 %", "allowance": "4 %",
    },
    "loss-for-what-is-left": {
        "ask": "dough for pieces", "pieces": "25", "piece-weight": "85 g", "bake-loss": "14 %",
    },
    "forgot-density": {"ask": "weight of a volume", "volume": "350 ml", "ingredient": "plain-yogurt"},
    "subtracted-for-divided": {"ask": "scaling factor", "old-weight": "850 g", "new-weight": "4250 g"},
    "divided-by-both": {"ask": "bake loss", "before": "920 g", "after": "775 g"},
    "wrong-count": {"ask": "mean of three loaves", "first": "10.8 cm", "second": "11 cm", "third": "11 cm"},
    "percent-for-points": RAISED,
    "multiplied-for-added": RAISED,
    "percentage-twice": {
        "ask": "weight from baker's percentage", "flour": "1000 g", "percentage": "2 %", "ingredient": "salt",
    },
    "part-to-rest": {
        "ask": "prefermented flour", "flour": "750 g", "preferment-weight": "500 g", "preferment-hydration": "100 %",
    },
    "joules-for-degrees": ICE,
    "whole-preferment": {
        "ask": "total flour with a preferment", "flour": "1250 g", "preferment-weight": "240 g",
        "preferment-hydration": "50 %",
    },
    "no-heat-capacity": {
        "ask": "dough temperature by heat", "flour": "1600 g", "flour-temperature": "22 °C",
        "flour-heat-capacity": "2.0 J/(g·K)", "liquid-weight": "1000 g", "liquid-temperature": "8 °C",
        "liquid-heat-capacity": "3.9 J/(g·K)", "rise-by-mixing": "5 °C",
    },
    "added-for-multiplied": {"ask": "dough for pieces", "pieces": "40", "piece-weight": "55 g"},
}  # fmt: skip


def text_of(page):
    return page.read_text("utf-8").replace("\u00a0", " ")


def number(typed):
    """What a typed figure means, and half of its last place; both as fractions of 1 where it is in %."""
    figure = re.match(FIGURE, typed)[0].replace(" ", "").replace("−", "-")
    part = 0.01 if "%" in typed else 1.0
    return float(figure) * part, 0.5 * 10.0 ** -len(figure.partition(".")[2]) * part


def worked_out(typed):
    """A typed sum's value. A percentage after a plus is added on top, as a pocket calculator has it."""
    for sign, python in (("×", "*"), ("÷", "/"), (" − ", " - "), ("−", "-")):
        typed = typed.replace(sign, python)
    typed = re.sub(r"(?<=\d) (?=\d{3})", "", typed)
    typed = re.sub(r"^([\d.]+) \+ ([\d.]+)\s?%$", r"\1 * (1 + \2 / 100)", typed)
    return eval(
        re.sub(r"\s?(?:%|kg|g|°C|J|cm)", lambda unit: " / 100" if "%" in unit[0] else "", typed)
    )


SUMS = [
    (page.relative_to(PAGES).as_posix(), found["sum"], found["result"])
    for page in sorted(PAGES.rglob("*.md"))
    for found in SUM.finditer(text_of(page))
]


def test_sums_are_found():
    assert len(SUMS) > 40


@pytest.mark.parametrize(("page", "typed", "result"), SUMS)
def test_a_typed_sum_comes_out(page, typed, result):
    value, half = number(result)
    assert abs(worked_out(typed) - value) <= half * 1.001


def wrong_ways(page):
    """The key and the text of each known mistake that a lesson tells."""
    for section in re.split(r"^### ", text_of(page), flags=re.M)[1:]:
        heading, _, text = re.split(r"^## ", section, flags=re.M)[0].partition("\n")
        key = re.search(r"\{#([\w-]+)\}", heading)
        if key and key[1] in BY_KEY:
            yield key[1], text


WRONG_WAYS = [
    (key, mistake, text)
    for key in LESSONS
    for mistake, text in wrong_ways(PAGES / "lessons" / f"{key}.md")
]


def test_every_known_mistake_is_told():
    assert {mistake for _, mistake, _ in WRONG_WAYS} == set(BY_KEY)


@pytest.mark.parametrize(
    ("lesson", "mistake", "said"),
    [
        (lesson, mistake, said)
        for lesson, mistake, text in WRONG_WAYS
        if re.search(r"\d", said := " ".join(re.findall('"[^"]*"', text)))
    ],
)
def test_a_wrong_way_ends_where_calc_says_it_does(lesson, mistake, said):
    page = BeautifulSoup(text_of(PAGES / "lessons" / f"{lesson}.md"), "html.parser")
    examples = [each.attrs for each in page.find_all("worked-example")]
    ends = [
        end
        for start in ([STARTS[mistake]] if mistake in STARTS else examples)
        for end in ends_of(asked(start)[1], mistake)
    ]
    figure = f"(?:{FIGURE})(?:{UNIT})?"
    typed = [number(each) for each in re.findall(f"= ({figure})", said) or re.findall(figure, said)]
    assert any(abs(end - value) <= half * 1.001 for end in ends for value, half in typed), ends


def ends_of(working, mistake):
    """What the steps of a working come to, one of them done wrongly."""
    return [
        end
        for made, step in enumerate(working.steps)
        for one in rewritten(working, step)
        if one.mistake.key == mistake
        for later in [*working.steps][made:]
        for end in outcomes(working, later, {step: one.expression})
    ]
