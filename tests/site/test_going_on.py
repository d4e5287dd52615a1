"""Going on from one tool to the next, in a real browser: nothing is typed twice, and links open for a friend."""

import json
import re
from urllib.parse import parse_qs, urlsplit

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from tests.site.conftest import open_ready, settled, visitor

TOOLS = ("swap", "balance", "temperature", "scale", "side-by-side")
# Two liquids to compare, and a dough that has only flour and water.
TO_FEEL = ("swap", "balance")
FROM_FEEL = {"side-by-side", "swap", "balance"}
YOGURT = {
    "key": "own-my-yogurt", "name": "My yogurt", "kind": "liquid", "water": 74, "fat": 10,
    "sugars": 3.6, "salt": 0.12, "allergens": ["egg"], "perishable": True,
}  # fmt: skip


def holds(text):
    return re.compile(re.escape(text))


def values(page, *names):
    return [page.locator(f"form [name='{name}']").first.input_value() for name in names]


def keep(page, address, row):
    """Put a row of the reader's own on this device."""
    page.goto(address + "ingredients/")
    page.evaluate(
        "(rows) => localStorage.setItem('doughwater/ingredients', rows)", json.dumps([row])
    )


def onward_of(site, tool):
    """The pages that a tool leads to, and the links."""
    soup = BeautifulSoup((site / tool / "index.html").read_text("utf-8"), "html.parser")
    links = [link["href"] for link in soup.select(".dw-onward a")]
    return {link.removeprefix("../").partition("/")[0] for link in links}, links


def test_liquids_that_were_compared_go_on_to_a_bake(page, address, site):
    assert onward_of(site, "feel")[0] == FROM_FEEL
    open_ready(
        page, address + "feel/?flour=400&hydration=70&liquid1=kefir&liquid2=&liquid3=&liquid4="
    )
    onward = page.locator(".dw-onward")
    expect(onward.get_by_role("link", name="Swap a liquid")).to_have_attribute(
        "href", holds("becomes=kefir")
    )
    bake = onward.get_by_role("link", name="Plan a side-by-side bake")
    # The page's own example leads on, too: this is Python's answer to the address.
    expect(bake).to_have_attribute("href", holds("flour=400"))
    bake.click()
    expect(page.locator("form [name='flour']").first).to_have_value("400 g")
    assert values(page, "flour", "liquid", "was", "liquid1", "liquid2", "liquid3", "with1") == [
        "400 g", "70 %", "water", "water", "kefir", "", "salt",
    ]  # fmt: skip


# An answer that is asked for after the others comes after them.
ANSWERED = """async (start) => {
  const {engine} = await import(`${start}engine/engine.js`);
  await engine.ask({part: 'liquid-swap', fields: {}, own: '', linked: ''});
}"""


def test_a_slow_press_on_a_link_is_heard_though_an_answer_comes_meanwhile(page, address):
    """Whoever presses a link leaves the box; its number gets its unit there, and Python answers to that."""
    open_ready(page, address + "feel/")
    salt = page.get_by_label("Salt", exact=True)
    salt.fill("21")
    settled(page, "salt=21")
    page.locator(".dw-onward").get_by_role("link", name="Plan a side-by-side bake").hover()
    page.mouse.down()
    expect(salt).to_have_value("21 g")
    page.evaluate(ANSWERED, address)
    page.mouse.up()
    expect(page).to_have_url(re.compile("/side-by-side/"))


def test_a_swap_goes_on_to_its_feel(page, address):
    open_ready(page, address + "swap/?flour=600+g&liquid=60+%25&becomes=sour-cream&with1=&amount1=")
    link = page.locator(".dw-onward").get_by_role("link", name="Compare acidity and feel")
    expect(link).to_have_attribute("href", holds("liquid2=sour-cream"))
    link.click()
    expect(page.locator("acidity-and-feel .dw-answer")).to_contain_text("sour cream")
    assert values(page, "flour", "part", "liquid1", "liquid2", "liquid3") == [
        "600 g", "100 %", "water", "sour-cream", "",
    ]  # fmt: skip


@pytest.mark.parametrize("tool", TOOLS)
def test_each_tool_leads_to_the_others_before_any_script(site, tool):
    pages, links = onward_of(site, tool)
    assert pages == set(TOOLS) - {tool} | ({"feel"} if tool in TO_FEEL else set())
    asked = parse_qs(urlsplit(links[0]).query, keep_blank_values=True)
    # Yield hands on the dough that it scaled.
    assert asked["flour"] == ["632 g" if tool == "scale" else "500 g"]
    # The next page's own example must not show through.
    assert asked["with6"] == [""]


def test_a_swap_goes_on_to_balance_and_its_new_dough_to_the_temperature(page, address):
    page.goto(address + "swap/?flour=600+g&liquid=60+%25&with3=&amount3=")
    onward = page.locator(".dw-onward").get_by_role("link", name="Balance what rides along")
    expect(onward).to_have_attribute("href", holds("flour=600"))
    page.locator('[name="becomes"]').select_option("plain-yogurt")
    expect(onward).to_have_attribute("href", holds("becomes=plain-yogurt"))
    onward.click()
    expect(page.locator("balance-formula .dw-answer")).to_contain_text("plain yogurt")
    assert values(page, "flour", "liquid", "was", "becomes", "with3") == [
        "600 g", "60 %", "water", "plain-yogurt", "",
    ]  # fmt: skip
    page.locator(".dw-onward").get_by_role("link", name="Dough temperature").click()
    expect(page.locator("dough-temperature .dw-sheet tbody")).to_contain_text("plain yogurt")
    assert values(page, "flour", "was") == ["600 g", "plain-yogurt"]
    # 360 g of water, of which the balance holds a part elsewhere; never the old liquid's weight.
    assert values(page, "liquid") != ["60 %"]


def test_a_pack_goes_on_with_its_fat_sugars_and_salt(page, address):
    open_ready(page, address + "pack/")
    pack = page.locator("pack-reader")
    pack.get_by_label("Panel", exact=True).select_option("eu-g")
    for label, text in (
        ("Total fat", "10,0"), ("Carbohydrate", "3,6"), ("Fibre", ""), ("Sugars", "3,6"),
        ("Protein", "3,2"), ("Salt", "0,12"),
    ):  # fmt: skip
        pack.get_by_label(label, exact=True).fill(text)
    settled(page, "salt=0%2C12")
    expect(pack.locator(".dw-answer")).to_contain_text("82.2")
    pack.get_by_role("link", name="Keep it as my ingredient").click()
    own = page.locator("own-ingredients")
    expect(own.locator(".dw-status")).to_contain_text("Give it a name")
    own.get_by_label("Name", exact=True).fill("My quark")
    own.get_by_label("milk", exact=True).check()
    own.get_by_role("button", name="Keep this ingredient").click()
    expect(own.locator("tbody tr")).to_contain_text("10")
    page.goto(address + "swap/?becomes=own-my-quark")
    riders = page.locator("liquid-swap .dw-table", has_text="What rides along")
    expect(riders).to_contain_text("39")
    expect(riders).not_to_contain_text("not known")
    expect(page.locator("liquid-swap .dw-bounds")).to_contain_text("as you wrote")


def test_a_link_carries_an_own_ingredient_to_a_friend(page, address, chromium):
    keep(page, address, YOGURT)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(address + "swap/?becomes=own-my-yogurt")
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text("439")
    page.get_by_role("button", name="Copy a link to this").click()
    expect(page.locator("liquid-swap .dw-did")).to_contain_text("carries your own")
    with visitor(chromium) as friends:
        friend = friends.new_page()
        friend.goto(page.evaluate("navigator.clipboard.readText()"))
        swap = friend.locator("liquid-swap")
        expect(swap.locator(".dw-answer")).to_contain_text("of My yogurt")
        expect(swap.locator(".dw-caution").first).to_contain_text("Egg")
        # And it goes on to the next tool; the friend's device keeps nothing of it.
        friend.locator(".dw-onward").get_by_role("link", name="Yield and scaling").click()
        expect(friend.locator("scale-formula .dw-sheet")).to_contain_text("My yogurt")
        assert friend.evaluate("localStorage.getItem('doughwater/ingredients')") is None


def test_a_link_without_the_row_says_so_and_shows_no_other_result(page, address):
    page.goto(address + "swap/?becomes=own-my-yogurt")
    swap = page.locator("liquid-swap")
    expect(swap.locator(".dw-complaint", has_text="only its sender’s device has")).to_be_visible()
    expect(swap.locator(".dw-output")).to_be_hidden()
    swap.locator('[name="becomes"]').select_option("whole-milk")
    expect(swap.locator(".dw-answer")).to_contain_text("whole milk")
    expect(swap.locator(".dw-complaint", has_text="only its sender’s")).to_have_count(0)


HOSTILE = (
    "[" * 1900,
    json.dumps([{**YOGURT, "water": 900}]),
    json.dumps([{**YOGURT, "key": {"a": 1}}, None, 7]),
    json.dumps([{**YOGURT, "name": "x" * 5000}]),
)


@pytest.mark.parametrize("row", HOSTILE, ids=("deep", "impossible", "strange", "long"))
def test_a_hostile_row_in_a_link_breaks_nothing(page, address, row):
    page.goto(address + "swap/")
    page.evaluate("(row) => location.assign('?' + new URLSearchParams({own: row, flour: '600 g'}))", row)  # fmt: skip
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text("Weigh 433")


def test_a_link_never_changes_the_readers_own_row(page, address):
    keep(page, address, YOGURT)
    linked = json.dumps([{**YOGURT, "water": 50, "allergens": []}])
    page.evaluate(
        "(row) => location.assign('../swap/?' + new URLSearchParams({becomes: 'own-my-yogurt', own: row}))",
        linked,
    )
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text("439")
    expect(page.locator("liquid-swap .dw-caution").first).to_contain_text("Egg")
