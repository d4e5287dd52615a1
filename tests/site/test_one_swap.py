"""The start page's one question: right in the build, live in the page, and onward to the whole formula."""

from urllib.parse import parse_qs, urlsplit

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from docs.parts import PARTS
from docs.parts.one_swap import DEFAULTS
from docs.parts.shared.fields import FieldErrors
from exercises.publish.html import write
from tests.site.conftest import open_ready

PART = PARTS["one-swap"]


def answered(**fields):
    """The result of the question with these fields, as text, and its link's fields."""
    shown = BeautifulSoup(write(*PART.respond(DEFAULTS | fields)["elements"]), "html.parser")
    link = shown.select_one("a.dw-button")["data-site"]
    query = {name: text[0] for name, text in parse_qs(urlsplit(link).query).items()}
    return shown.get_text(" ", strip=True).replace("\u00a0", " "), query


def test_what_there_is_and_what_it_replaces():
    """Outside check: USDA 1116 (yogurt 87.90 g of water in 100 g) and 1077 (milk 88.32 g)."""
    text, query = answered(have="300 g", becomes="plain-yogurt", liquid="120 g", was="whole-milk")
    assert "Weigh 121 g of plain yogurt" in text  # 120 × 0.8832 ÷ 0.8790 = 120.6
    assert "holds 264 g of water" in text  # 300 × 0.8790 = 263.7
    assert "takes the place of 299 g of whole milk" in text  # 263.7 ÷ 0.8832 = 298.6
    assert "179 g is left over" in text  # 300 − 120.6 = 179.4
    assert (query["part"], query["liquid"], query["was"]) == ("100 %", "120 g", "whole-milk")


def test_too_little_is_told_with_what_stays():
    text, query = answered(have="100 g", becomes="plain-yogurt", liquid="120 g")
    assert "Use all 100 g of plain yogurt (whole milk), and keep 20 g of the whole milk." in text
    assert query["part"] == "100 g"


def test_a_blank_amount_asks_how_much_is_needed():
    text, _ = answered(have="")
    # USDA 1077 and 12118: 240 × 88.32 ÷ 72.88 = 290.8
    assert "Weigh 291 g of coconut milk" in text
    assert "left over" not in text


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"liquid": "1,5 dl", "decimal": ",", "becomes": "kefir"}, "Weigh 155 g"),
        ({"liquid": "4 1/4 oz", "becomes": "kefir"}, "Weigh 4.3 oz"),
        ({"liquid": "1 cup", "have": "1 cup", "becomes": "buttermilk"}, "Weigh 239 g of buttermilk"),
        ({"have": "3 eggs", "becomes": "egg"}, "Allergen added: egg"),
        ({"becomes": "soy-drink"}, "Allergen added: soy"),
        ({"becomes": "beer", "was": "water"}, "Alcohol"),
        ({"becomes": "heavy-cream"}, "more fat"),
    ],
)  # fmt: skip
def test_measures_cautions_and_what_rides_along(fields, says):
    text, _ = answered(**fields)
    assert says in text


def test_a_number_alone_is_told_as_it_is_read_and_may_be_a_measure():
    answer = PART.respond(DEFAULTS | {"have": "250", "liquid": "1"})
    assert answer["remarks"] == {"have": "Read as 250 g.", "liquid": "Read as 1 g."}
    assert answer["offers"] == {"have": ["250 ml"], "liquid": ["1 cup"]}


def test_a_measure_stays_one_in_the_tool():
    _, query = answered(liquid="1 cup", have="2 eggs", becomes="egg")
    assert (query["liquid"], query["part"]) == ("1 cup", "2 eggs")
    assert "US cup" in PART.respond(DEFAULTS | {"liquid": "1 cup"})["remarks"]["liquid"]


@pytest.mark.parametrize(
    "becomes", ["kefir", "egg", "pumpkin-puree", "sour-cream", "spirit", "aquafaba"]
)
@pytest.mark.parametrize("have", ["", "40 g", "9 kg"])
def test_the_tool_that_opens_can_answer(becomes, have):
    try:
        _, query = answered(becomes=becomes, have=have)
    except FieldErrors:
        return
    swap = PARTS["liquid-swap"]
    fields = (
        swap.fields({})
        | {name: "" for name in swap.fields({}) if name[:4] in ("with", "amou")}
        | query
    )
    assert becomes == "spirit" or "Weigh" in swap.respond(fields)["says"]


@pytest.mark.parametrize(
    ("fields", "name"),
    [({"liquid": ""}, "liquid"), ({"liquid": "65 %"}, "liquid"), ({"have": "some"}, "have"), ({"was": ""}, "was"),
     ({"becomes": "bread-crust"}, "becomes"), ({"have": "-3 g"}, "have"), ({"liquid": "0 g"}, "liquid")],
)  # fmt: skip
def test_what_cannot_be_read_is_told_at_its_field(fields, name):
    with pytest.raises(FieldErrors) as told:
        answered(**fields)
    assert list(told.value.messages) == [name]


def test_the_question_in_the_page_and_on_to_the_tool(page, address):
    page.set_viewport_size({"width": 360, "height": 740})
    open_ready(page, address)
    part = page.locator("one-swap")
    part.get_by_label("I have").fill("100 g")
    expect(part.locator(".dw-answer")).to_contain_text("Use all 100 g of coconut milk")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    part.get_by_role("link", name="Put in the rest of the formula").focus()
    page.keyboard.press("Enter")
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text("Weigh 100 g of coconut milk")
    page.go_back()
    expect(page.locator("one-swap .dw-answer")).to_contain_text("Use all 100 g of coconut milk")
