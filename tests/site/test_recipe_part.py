"""A pasted recipe in the page: each line shown, questions answered, the formula carried to the tools."""

import re
from urllib.parse import parse_qs, urlsplit

from bs4 import BeautifulSoup
from playwright.sync_api import expect

from docs.parts import PARTS
from exercises.publish.html import write
from tests.hostile import SCRIPTS
from tests.site.conftest import open_ready

PART = PARTS["recipe-text"]
POOLISH = "For the poolish:\n150 g bread flour\n150 g water\nDough\n350 g bread flour\n180 g water\n10 g salt"


def shown(text, **fields):
    """What the part shows for a recipe."""
    values = {"text": text, "mass": "g", "decimal": "."} | fields
    return BeautifulSoup(write(*PART.respond(values)["elements"]), "html.parser")


def query(soup, page):
    """The fields of the link to a page."""
    link = next(
        a["data-site"] for a in soup.select("a[data-site]") if a["data-site"].startswith(page)
    )
    return {name: text[0] for name, text in parse_qs(urlsplit(link).query).items()}


def plain(soup):
    return soup.get_text(" ", strip=True).replace("\u00a0", " ")


def test_the_formula_goes_to_the_swap_as_it_was_read():
    fields = query(
        shown("500 g strong flour, 2 eggs, 1 cup buttermilk, 10 g salt, 1½ tsp yeast"), "swap/"
    )
    assert (fields["flour"], fields["flour-kind"]) == ("500 g", "bread-flour")
    # A cup stays a cup: the tool then knows how far off it may be.
    assert (fields["liquid"], fields["was"]) == ("1 cup", "buttermilk")
    assert {fields[f"with{n}"]: fields[f"amount{n}"] for n in (1, 2, 3)} == {
        "egg": "2 eggs", "salt": "10 g", "dry-yeast": "1.5 tsp",
    }  # fmt: skip
    assert fields["becomes"] != "buttermilk"
    swap = PARTS["liquid-swap"]
    assert "in place of the buttermilk" in swap.respond(swap.fields({}) | fields)["says"]


def test_each_tool_can_hold_the_formula():
    soup = shown(
        "400 g flour\n100 g rye flour\n300 g milk\n2 eggs\n50 g butter\n9 g salt\n6 g instant yeast"
    )
    for page, name in (
        ("balance/", "balance-formula"),
        ("temperature/", "dough-temperature"),
        ("scale/", "scale-formula"),
    ):
        part = PARTS[name]
        assert part.respond(part.fields({}) | query(soup, page))["says"]
    fields = query(soup, "swap/")
    assert (fields["flour"], fields["flour-kind"]) == ("400 g", "all-purpose-flour")
    assert (fields["amount1"], fields["with1"]) == ("100 g", "rye-flour")


def test_a_rye_starter_keeps_its_flour():
    soup = shown(
        "Starter:\n80 g rye flour\n80 g water\n\nDough:\n400 g bread flour\n20 g rye flour\n"
        "270 g water\n10 g salt"
    )
    fields = query(soup, "blends/")
    assert fields["pre-flour"] == "rye-flour"
    part = PARTS["preferment-form"]
    cells = part.respond(part.fields({}) | fields)["cells"]
    assert (cells["after flour"], cells["ahead amount1"], cells["after amount1"]) == (
        "400 g",
        "80 g",
        "20 g",
    )


def test_a_poolish_goes_to_its_tool_and_is_counted_in():
    soup = shown(POOLISH)
    fields = query(soup, "blends/")
    assert (fields["kind"], fields["ahead"], fields["pre-hydration"]) == (
        "poolish",
        "300 g",
        "100 %",
    )
    part = PARTS["preferment-form"]
    says = part.respond(part.fields({}) | fields)["says"].replace("\u00a0", " ")
    assert "Mix 300 g of poolish ahead: 30 % of all the flour" in says
    assert "180 g of water" in says
    assert query(soup, "swap/")["liquid"] == "330 g"
    assert "counted in" in plain(soup)


def test_a_liquid_is_chosen_and_questions_are_answered():
    text = "500 g flour\n200 g milk\n120 g water\nsalt\n50 g gooseberry fluff"
    asked = shown(text)
    assert "2 questions open" in plain(asked)
    assert "2 open lines are not in it" in plain(asked)
    done = shown(
        text, liquid="water", **{"weighs salt": "10 g", "pick 50 g gooseberry fluff": "leave"}
    )
    assert "open" not in done.select_one(".dw-answer").text
    fields = query(done, "swap/")
    assert fields["was"] == "water"
    assert "10 g" in fields.values()


def test_percentages_ask_for_the_flour_they_are_of():
    soup = shown("bread flour 100%\nwater 68%\nsalt 2%", flour="1 kg")
    assert soup.select_one("input[name=flour]")["value"] == "1000 g"
    assert query(soup, "swap/")["liquid"] == "680 g"


def test_what_is_no_recipe_is_told():
    for text in ("", "  \n", "hello there", "200 g water", "\x00", *SCRIPTS):
        assert shown(text).select_one(".dw-answer")
        assert not shown(text).select("script, img, svg, iframe")


def test_paste_answer_and_use_by_keyboard(page, address):
    page.set_viewport_size({"width": 360, "height": 740})
    open_ready(page, address + "swap/")
    page.locator("details.dw-fold > summary").press("Enter")
    box = page.get_by_label("A recipe, as it is written")
    box.focus()
    page.keyboard.insert_text("500 g flour\n1 cup buttermilk\n1,300 g water\nsalt")
    part = page.locator("recipe-text")
    expect(part.locator(".dw-answer")).to_contain_text("2 questions open")
    weight = part.get_by_label("or how much it is")
    weight.fill("10 g")
    weight.press("Enter")
    weight.blur()
    expect(part.locator(".dw-answer")).to_contain_text("1 question open")
    part.locator("select[name^='pick 1,300']").select_option("weighs 1300 g")
    expect(part.locator(".dw-answer")).not_to_contain_text("open")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    part.get_by_label("The liquid to change").select_option("buttermilk")
    use = part.get_by_role("link", name="Use this formula")
    expect(use).to_have_attribute("href", re.compile("was=buttermilk"))
    use.press("Enter")
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text("in place of the buttermilk")
    # What was pasted and answered is still there.
    expect(part.locator(".dw-answer")).not_to_contain_text("open")
    expect(part.locator(".dw-answer")).to_contain_text("4 ingredients read")
