"""The shelf of one's own formulas, and the dough in hand: nothing typed is lost on the way."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from playwright.sync_api import expect

from docs.parts import PARTS, formula_shelf
from docs.parts.shared.fields import FieldErrors
from tests.hostile import SCRIPTS
from tests.site.conftest import open_ready, settled

ROLLS = {"name": "Rolls", "fields": {"flour": "600 g", "with1": "salt", "amount1": "2 %"}}

# The file. No browser.


def saved(*formulas):
    return formula_shelf.respond({"action": "save", "store": json.dumps(formulas)})["file"]


def read(text):
    return formula_shelf.respond({"action": "read", "file": text})["formulas"]


def test_a_file_brings_back_what_was_saved():
    assert read(saved(ROLLS, ROLLS | {"name": "Semmel, süß"})) == [
        ROLLS,
        ROLLS | {"name": "Semmel, süß"},
    ]


@pytest.mark.parametrize(
    "text",
    [
        "", "no JSON", "[", "[" * 5_000, "{}", "[]", "7", "null", '{"formulas": {}}', json.dumps([7]),
        json.dumps([{"name": "x"}]), json.dumps([{"name": " ", "fields": {}}]),
        json.dumps([ROLLS, ROLLS | {"fields": {"flour": 600}}]),
        json.dumps([ROLLS | {"fields": {"flour": "6" * 5_000}}]),
        json.dumps([ROLLS] * 201), json.dumps(ROLLS) + " " * 400_000,
    ],
    ids=lambda text: text[:12] or "empty",
)  # fmt: skip
def test_a_file_that_is_none_of_ours_is_refused_whole(text):
    with pytest.raises(FieldErrors) as told:
        read(text)
    assert list(told.value.messages) == ["shelf-file"]


def test_fields_that_no_form_has_are_left_out():
    assert read(json.dumps([ROLLS | {"fields": ROLLS["fields"] | {"__proto__": "x"}}])) == [ROLLS]


@given(st.recursive(st.none() | st.text() | st.integers(), lambda some: st.lists(some) | st.dictionaries(st.text(), some)))  # fmt: skip
def test_no_json_does_more_than_be_refused(held):
    try:
        found = read(json.dumps({"formulas": held}))
    except FieldErrors:
        return
    assert read(saved(*found)) == found


def test_every_field_of_a_kept_formula_is_one_of_the_swaps_form():
    assert set(formula_shelf.FIELDS) <= set(PARTS["liquid-swap"].fields({}))


# In the page.


def shelf(page):
    return page.locator("formula-shelf")


def keep(page, name):
    if not shelf(page).locator("details[open]").count():
        shelf(page).locator("summary").click()
    shelf(page).get_by_label("Its name").fill(name)
    page.keyboard.press("Enter")


def kept(page):
    return [box.input_value() for box in shelf(page).locator("li input").all()]


def test_formulas_are_kept_renamed_copied_deleted_and_brought_back(page, address, tmp_path):
    open_ready(page, address + "swap/?flour=640+g")
    keep(page, SCRIPTS[1])
    expect(shelf(page).locator("li")).to_have_count(1)
    assert shelf(page).locator("img").count() == 0
    name = shelf(page).locator("li input")
    name.fill("Rolls")
    name.press("Enter")
    expect(shelf(page).get_by_role("button", name="Open Rolls")).to_be_visible()
    shelf(page).get_by_role("button", name="Copy Rolls").click()
    shelf(page).get_by_role("button", name="Delete Rolls", exact=True).click()
    expect(shelf(page).locator("li")).to_have_count(1)
    page.keyboard.press("Enter")  # “Bring it back” has the focus
    expect(shelf(page).locator("li")).to_have_count(2)
    assert kept(page) == ["Rolls", "Rolls (2)"]
    with page.expect_download() as waiting:
        shelf(page).get_by_role("button", name="Save all to a file").click()
    file = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(file)
    shelf(page).get_by_role("button", name="Delete Rolls (2)").click()
    shelf(page).locator("input[type=file]").set_input_files(file)
    expect(shelf(page).get_by_role("status")).to_contain_text("2 formulas. 1 of them are new here")
    assert kept(page) == ["Rolls", "Rolls (2)"]
    # A kept formula opens in another tool; what was there comes back with one press.
    open_ready(page, address + "temperature/?flour=300+g")
    shelf(page).locator("summary").click()
    shelf(page).get_by_role("button", name="Open Rolls", exact=True).click()
    flour = page.get_by_label("Flour", exact=True).last
    expect(flour).to_have_value("640 g")
    page.get_by_role("button", name="Undo").click()
    expect(flour).to_have_value("300 g")


def test_two_tabs_lose_nothing(page, address, context):
    open_ready(page, address + "swap/?flour=640+g")
    other = open_ready(context.new_page(), address + "balance/?flour=850+g")
    keep(page, "Rolls")
    keep(other, "Buns")
    expect(shelf(page).locator("li")).to_have_count(2)
    # Both change the same formula: both are there afterwards.
    shelf(other).get_by_role("button", name="Open Rolls").click()
    expect(other.get_by_label("Flour", exact=True)).to_have_value("640 g")
    other.get_by_label("Flour", exact=True).fill("900 g")
    shelf(other).get_by_role("button", name="Keep this formula").click()
    page.get_by_label("Flour", exact=True).fill("700 g")
    shelf(page).get_by_role("button", name="Keep this formula").click()
    expect(shelf(page).locator("li")).to_have_count(3)
    assert kept(page) == ["Buns", "Rolls", "Rolls (2)"]


def test_the_dough_in_hand_goes_along_by_the_menu_and_a_lesson_keeps_its_example(page, address):
    open_ready(page, address + "swap/")
    page.get_by_label("Flour", exact=True).fill("740")
    settled(page, "flour=740")
    page.goto(address + "lessons/what-hydration-means/")
    expect(page.locator("[name=flour]").first).not_to_have_value("740 g")
    open_ready(page, address + "scale/")
    flour = page.get_by_label("Flour", exact=True)
    expect(flour).to_have_value("740 g")
    settled(page, "flour=740")
    page.get_by_role("button", name="Undo").click()
    expect(flour).to_have_value("500 g")
    # A link says what it says; a link to a liquid alone brings that liquid to the dough in hand.
    page.goto(address + "swap/?flour=740+g")
    settled(page, "flour=740")
    page.goto(address + "swap/?becomes=kefir")
    expect(page.locator("liquid-swap .dw-answer")).to_contain_text("kefir")
    expect(flour).to_have_value("740 g")
    page.goto(address + "swap/?flour=400+g")
    expect(flour).to_have_value("400 g")


def test_the_printed_sheet_says_where_it_is_opened_again(page, address):
    open_ready(page, address + "swap/?flour=740+g")
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    line = page.locator("liquid-swap .dw-link-on-paper")
    expect(line).to_be_visible()
    expect(line).to_contain_text(page.url)
    # What opens on the screen is open on paper.
    expect(page.get_by_text("may carry germs. Wash hands")).to_be_visible()
