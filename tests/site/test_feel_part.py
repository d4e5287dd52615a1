"""Acidity and feel in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_ready


@pytest.fixture
def feel(page, address):
    """The page, with Python running in it."""
    return open_ready(page, address + "feel/")


def field(page, label):
    return page.locator("acidity-and-feel").get_by_label(label, exact=True)


def order(page, heading):
    section = page.locator("acidity-and-feel section", has_text=heading)
    return section.locator("ol > li").all_inner_texts()


def test_orders_the_doughs_and_says_usually(feel):
    tight = feel.locator("acidity-and-feel section", has_text="How tight the dough is")
    expect(tight.locator("ol > li")).to_have_count(4)
    feel.locator('[name="liquid5"]').select_option("water")
    expect(tight.locator("ol > li")).to_have_count(5)
    feel.locator('[name="liquid5"]').select_option("buttermilk")
    expect(tight.locator("ol > li", has_text="buttermilk")).to_have_count(1)
    lines = order(feel, "How tight the dough is")
    assert "half and half" in lines[-1]
    assert "usually the loosest" in lines[-1]
    assert all("usually" in line for line in lines)
    assert "a tie" in lines[0]
    assert "lactose" in feel.locator("acidity-and-feel").text_content()


def test_both_sides_are_told_and_cited_under_each_order(feel):
    sections = feel.locator("acidity-and-feel .dw-scales section")
    expect(sections).to_have_count(4)
    for number in range(4):
        expect(sections.nth(number).locator(".dw-evidence li").first).to_contain_text("Dose:")
    tight = sections.first
    tight.get_by_text(re.compile("Published tests:")).click()
    expect(tight.locator(".dw-evidence")).to_be_visible()
    for doi in ("10.3390/foods9060828", "10.1002/cche.10050", "10.1007/s00217-003-0747-7"):
        expect(tight.locator(".dw-evidence")).to_contain_text(doi)


def test_nothing_is_advised_from_ph_alone(feel):
    """Coffee is near buttermilk in pH; a mashed potato's acid nobody told us."""
    feel.locator('[name="liquid5"]').select_option("coffee")
    feel.locator('[name="liquid6"]').select_option("mashed-potato")
    acid = feel.locator(".dw-table", has_text="How much acid comes along")
    expect(acid.locator("tr", has_text="mashed potato")).to_contain_text("not known")
    choices = feel.locator("acidity-and-feel .dw-table", has_text="The second and third choice")
    expect(choices.locator("tr", has_text="coffee")).to_have_count(0)
    expect(feel.locator("acidity-and-feel")).to_contain_text("pH alone does not tell")


def test_salt_decides_and_the_fat_that_is_there_counts(feel):
    feel.locator('[name="liquid5"]').select_option("sour-cream")
    choices = feel.locator("acidity-and-feel .dw-table", has_text="The second and third choice")
    expect(choices.locator("tr", has_text="sour cream")).to_contain_text("its fat is enough")
    field(feel, "Salt").fill("0 %")
    tight = feel.locator("acidity-and-feel section", has_text="How tight the dough is")
    expect(tight.locator("ol > li", has_text="orange juice")).to_contain_text("Without salt")


def test_the_choices_follow_the_flour_the_part_and_the_units(feel):
    choices = feel.locator("acidity-and-feel .dw-table", has_text="The second and third choice")
    row = choices.locator("tr", has_text="orange juice")
    # 500 g of flour: 5 % of it is 25 g of water (common practice).
    expect(row).to_contain_text(re.compile(r"\+25\sg"))
    field(feel, "Part of the water").fill("40 %")
    expect(row).to_contain_text(re.compile(r"\+10\sg"))
    field(feel, "Flour").fill("1 kg")
    expect(row).to_contain_text(re.compile(r"\+20\sg"))
    feel.get_by_text("Grams or ounces, decimal mark").click()
    field(feel, "Decimal mark").select_option(",")
    field(feel, "Hydration").fill("62,5 %")
    expect(row).to_contain_text(re.compile(r"to 64,5\s%"))


def test_state_stands_in_the_address_and_cautions_before_the_result(feel, context):
    for number in range(1, 5):
        feel.locator(f'[name="liquid{number}"]').select_option("")
    feel.locator('[name="liquid1"]').select_option("almond-drink")
    expect(feel.locator("acidity-and-feel .dw-caution").first).to_contain_text("Tree nuts")
    again = context.new_page()
    again.goto(feel.url)
    expect(again.locator("acidity-and-feel .dw-caution").first).to_contain_text("Tree nuts")
    before = feel.evaluate(
        """() => {
          const find = (s) => document.querySelector('acidity-and-feel ' + s);
          return find('.dw-caution').compareDocumentPosition(find('.dw-answer'));
        }"""
    )
    assert before & 4  # DOCUMENT_POSITION_FOLLOWING


@pytest.mark.parametrize(
    ("label", "typed", "says"),
    [
        ("Flour", "", "Give the flour a weight"),
        ("Hydration", "wet", "cannot read a number"),
        ("Part of the water", "0 %", "above 0 % and at most 100 %"),
    ],
)
def test_bad_input_is_told_beside_its_field(feel, label, typed, says):
    field(feel, label).fill(typed)
    expect(field(feel, label)).to_have_attribute("aria-invalid", "true")
    expect(feel.locator("acidity-and-feel .dw-complaint", has_text=says)).to_be_visible()
    assert field(feel, label).input_value() == typed


def test_opens_in_python(feel):
    feel.get_by_text("In Python: the exact call").click()
    cell = feel.locator("acidity-and-feel python-cell")
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-printed")).to_contain_text(
        "kefir acid, mmol for 100 g of flour: (6.57"
    )
    expect(cell.locator(".dw-printed")).to_contain_text("usually the loosest")
