"""Dough temperature in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from docs.parts import PARTS
from exercises.publish.html import write
from tests.site.conftest import open_ready, settled, tells_bad_input


@pytest.fixture
def warmth(page, address):
    """The temperature page, with Python running in it."""
    return open_ready(page, address + "temperature/")


def field(page, label):
    return page.locator("dough-temperature").get_by_label(label, exact=True)


def answer(page):
    return page.locator("dough-temperature .dw-answer")


def sheet(page):
    return page.locator("dough-temperature .dw-sheet")


def test_the_answer_stands_there_without_scripts(without_scripts, address):
    without_scripts.goto(address + "temperature/")
    expect(answer(without_scripts)).to_contain_text(re.compile(r"Have the water at \d+"))
    expect(sheet(without_scripts)).to_contain_text("sour cream")


def test_ice_when_the_water_would_be_too_cold_and_the_address_keeps_it(warmth, context):
    warmth.locator('[name="was"]').select_option("water")
    field(warmth, "Liquid: weight or % of flour").fill("65 %")
    field(warmth, "The liquid may be").select_option("free")
    field(warmth, "Liquid, as it stands").fill("12 °C")
    field(warmth, "Wanted dough temperature").fill("20 °C")
    field(warmth, "Rise by mixing").fill("14 °C")
    settled(warmth, "friction=14")
    expect(answer(warmth)).to_contain_text("as ice")
    expect(sheet(warmth)).to_contain_text("−18 °C")
    again = context.new_page()
    again.goto(warmth.url)
    expect(answer(again)).to_contain_text("as ice")


def test_a_cold_thick_liquid_alone_asks_the_flour_and_says_what_cannot_be(warmth):
    warmth.locator('[name="with1"]').select_option("")
    field(warmth, "Amount 1").fill("")
    field(warmth, "Liquid: weight or % of flour").fill("350 g")
    field(warmth, "Rise by mixing").fill("1 °C")
    expect(answer(warmth)).to_contain_text("cannot come to 26 °C")
    expect(answer(warmth)).to_contain_text("Warm the bread flour to 40 °C")
    part = warmth.locator("dough-temperature")
    expect(part).to_contain_text("bring the sour cream itself to")
    before = warmth.evaluate(
        """() => {
          const find = (s) => document.querySelector('dough-temperature ' + s);
          return find('.dw-caution').compareDocumentPosition(find('.dw-answer'));
        }"""
    )
    assert before & 4  # DOCUMENT_POSITION_FOLLOWING


def test_reads_and_writes_fahrenheit_ounces_and_commas(warmth):
    warmth.get_by_text("Grams or ounces, decimal mark, °C or °F").click()
    field(warmth, "Temperatures in").select_option("°F")
    field(warmth, "Weights in").select_option("oz")
    field(warmth, "Decimal mark").select_option(",")
    field(warmth, "Wanted dough temperature").fill("78,8")
    expect(answer(warmth)).to_contain_text("°F")
    expect(sheet(warmth)).to_contain_text("79 °F")
    expect(sheet(warmth)).to_contain_text("17,6")


def test_bad_input_is_told_beside_its_field_and_nothing_is_lost(warmth):
    tells_bad_input(
        warmth.locator("dough-temperature"),
        field,
        [
            ("Liquid, as it stands", "-3 °C", "colder than 0 °C is ice"),
            ("Wanted dough temperature", "99 °C", "from 5 °C to 45 °C"),
            ("Room", "warm", "cannot read a number"),
            ("Flour", "20 g", "does not fit here"),
        ],
    )


def test_opens_the_calculation_in_python(warmth):
    warmth.get_by_text("In Python: the exact call").first.click()
    cell = warmth.locator("dough-temperature python-cell")
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-printed")).to_contain_text("enough: True")


def test_the_rise_stands_in_both_units_and_egg_is_named_only_where_it_is():
    plain = write(*PARTS["dough-temperature"].build({})).replace("\u00a0", " ")
    assert "by hand 1 to 3 °C (2 to 5 °F)" in plain
    assert "raw egg" not in plain
    eggs = write(*PARTS["dough-temperature"].build({"with": "egg 50 g"}))
    assert "Raw flour and raw egg may carry germs" in eggs
