"""A phone of 360 px, what buttons tell, and a part printed alone."""

import io
import json
from unicodedata import normalize

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from tests.site.conftest import open_page

ROW = {"key": "own-my-yogurt", "name": "My yogurt", "kind": "liquid", "water": 74, "fat": 10}
FORM_TOOLS = {
    "swap/": "liquid-swap", "balance/": "balance-formula", "pack/": "pack-reader",
    "temperature/": "dough-temperature", "scale/": "scale-formula", "feel/": "acidity-and-feel",
    "side-by-side/": "side-by-side",
}  # fmt: skip
IN_THE_WINDOW = """(element) => {
  const box = element.getBoundingClientRect();
  return box.left >= 0 && box.right <= innerWidth && box.height > 0;
}"""


@pytest.fixture
def phone(page):
    page.set_viewport_size({"width": 360, "height": 740})
    return page


def test_own_ingredients_and_their_buttons_fit_a_phone(phone, address):
    phone.goto(address + "ingredients/")
    phone.evaluate(
        "(rows) => localStorage.setItem('doughwater/ingredients', rows)", json.dumps([ROW])
    )
    phone.reload()
    for name in ("Change My yogurt", "Remove My yogurt"):
        button = phone.get_by_role("button", name=name)
        expect(button).to_be_visible()
        assert button.evaluate(IN_THE_WINDOW)
    assert phone.locator("own-ingredients .dw-table").evaluate("(e) => e.scrollWidth <= e.clientWidth")  # fmt: skip


def test_the_skills_map_fits_a_phone_and_its_print_is_short(phone, address):
    open_page(phone, address + "practice/skills/")
    boxes = phone.locator("skills-map .dw-table")
    assert boxes.evaluate_all("(all) => all.every((e) => e.scrollWidth <= e.clientWidth)")
    fold = phone.locator("skills-map td details").first
    hidden = fold.evaluate("(e) => e.lastChild.textContent")
    assert not fold.evaluate("(e) => e.open")
    sheets = PdfReader(io.BytesIO(phone.pdf())).pages
    printed = "".join(sheet.extract_text() for sheet in sheets)
    # A PDF has its ligatures as letters of their own. How many mistakes a problem trains is printed, and
    # their names, which filled fifty sheets, are not.
    plain = "".join(normalize("NFKC", printed).split())
    assert "".join(fold.locator("summary").text_content().split()) in plain
    assert "".join(hidden.split())[:40] not in plain
    assert len(sheets) <= 20


@pytest.mark.parametrize(
    "name",
    [
        "teachers/term-plan/",
        "teachers/curricula/",
        "teachers/assess/",
        "teachers/lessons/preferments/",
    ],
)
def test_long_tables_fit_a_phone(phone, address, name):
    phone.goto(address + name)
    boxes = phone.locator("article :is(.dw-table, .md-typeset__scrollwrap)")
    # The theme's script, which comes after the paint, makes them.
    expect(boxes).not_to_have_count(0)
    assert boxes.evaluate_all("(all) => all.every((e) => e.scrollWidth <= e.clientWidth)")


def test_a_box_that_scrolls_shows_it_at_its_edge(phone, address):
    # At 360 px all of this table fits; a phone with large text has no more room than this.
    phone.set_viewport_size({"width": 250, "height": 640})
    phone.goto(address + "scale/")
    box = phone.locator(".dw-sheet").first
    assert box.evaluate("(e) => e.scrollWidth > e.clientWidth")
    style = box.evaluate("(e) => [getComputedStyle(e).backgroundImage, getComputedStyle(e).backgroundAttachment]")  # fmt: skip
    assert style[0].count("linear-gradient") == 4
    assert style[1] == "local, local, scroll, scroll"
    assert box.get_attribute("tabindex") == "0"


@pytest.mark.parametrize("name", FORM_TOOLS)
def test_a_copied_link_is_told_in_sight(page, address, name):
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto(address + name)
    part = page.locator(FORM_TOOLS[name]).first
    told = part.locator(".dw-did").first
    for width in (1280, 360):
        page.set_viewport_size({"width": width, "height": 800})
        told.evaluate("(e) => { e.textContent = ''; scrollTo({top: 0, behavior: 'instant'}); }")
        part.get_by_role("button", name="Copy a link to this").click()
        expect(told).to_have_text("The link is copied.")
        expect(told).to_be_in_viewport(ratio=1)
        expect(told).to_have_attribute("role", "status")
        assert told.evaluate("(e) => e.getBoundingClientRect().width > 50")


@pytest.mark.parametrize(
    ("name", "part"),
    [
        ("swap/", "liquid-swap"),
        ("scale/", "scale-formula"),
        ("lessons/divide-by-the-water-content/#try-it", "one-swap"),
    ],
)
def test_print_this_sheet_prints_the_part_alone_on_the_whole_width(page, address, name, part):
    page.add_init_script("window.print = () => {}")
    page.goto(address + name)
    page.locator(part).get_by_role("button", name="Print this sheet").click()
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 1400, "height": 900})
    shown = page.locator(f"{part} .dw-answer").first
    expect(shown).to_be_visible()
    expect(page.locator("h1")).to_be_hidden()
    expect(page.locator(".md-content__inner .admonition").first).to_be_hidden()
    assert page.locator(f"{part} .dw-output").evaluate("(e) => e.clientWidth") > 1200
    sheets = PdfReader(io.BytesIO(page.pdf())).pages
    text = " ".join(sheet.extract_text() for sheet in sheets)
    assert "How to fill it in" not in text
    assert len(sheets) <= 4
    # When the printer is done, the page is whole again.
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    expect(page.locator("h1")).to_be_visible()
