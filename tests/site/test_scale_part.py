"""Yield and scaling in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_ready, settled, tells_bad_input


@pytest.fixture
def scale(page, address):
    """The scaling page, with Python running in it."""
    return open_ready(page, address + "scale/")


def field(page, label):
    return page.locator("scale-formula").get_by_label(label, exact=True)


def answer(page):
    return page.locator("scale-formula .dw-answer")


def test_the_answer_stands_there_without_scripts(without_scripts, address):
    """By hand: 12 × 80 ÷ 0.88 ÷ 0.98 = 1113.2 g of dough."""
    without_scripts.goto(address + "scale/")
    expect(answer(without_scripts)).to_contain_text("1113")


def test_a_flour_weight_scales_and_the_address_keeps_it(scale, context):
    field(scale, "Make it for").select_option("flour")
    expect(field(scale, "Number of pieces")).to_be_hidden()
    field(scale, "Flour weight").fill("2 kg")
    expect(answer(scale)).to_contain_text("every weight times 4")
    assert "new-flour=2" in scale.url
    again = context.new_page()
    again.goto(scale.url)
    expect(answer(again)).to_contain_text("every weight times 4")
    expect(field(again, "Flour weight")).to_be_visible()


def test_a_tin_says_its_range_until_a_ratio_is_written(scale):
    field(scale, "Make it for").select_option("tin")
    part = scale.locator("scale-formula")
    expect(part.locator(".dw-bounds")).to_contain_text("common practice")
    field(scale, "Dough for each ml (may be blank)").fill("0,36 g/ml")
    expect(part.locator(".dw-bounds")).to_have_count(0)
    expect(part.locator(".dw-steps").first).to_contain_text("540")


def test_rounding_to_a_coarse_scale_shows_its_error(scale):
    scale.get_by_text("My scales, grams or ounces, decimal mark").click()
    field(scale, "My scale shows").select_option("10 g")
    settled(scale, "scale=10")
    rows = scale.locator("scale-formula .dw-table", has_text="each weight rounded alone")
    expect(rows).to_contain_text("points")
    together, alone = (
        float(rows.locator("tr", has_text=text).locator("td").last.inner_text().split()[0])
        for text in ("weights above", "each weight rounded alone")
    )
    assert together <= alone


def test_bad_input_is_told_beside_its_field_and_nothing_is_lost(scale):
    tells_bad_input(
        scale.locator("scale-formula"),
        field,
        [
            ("Number of pieces", "none", "cannot read a number"),
            ("Number of pieces", "0", "from 1 to 5000"),
            ("Bake loss", "90 %", "from 0 % to 40 %"),
            ("Weight of one, baked", "2 cups", "measures volume"),
        ],
    )


def test_ounces_and_commas_and_python(scale):
    scale.get_by_text("My scales, grams or ounces, decimal mark").click()
    field(scale, "Weights in").select_option("oz")
    field(scale, "Decimal mark").select_option(",")
    field(scale, "My scale shows").select_option("0.1 oz")
    settled(scale, "scale=0.1")
    expect(answer(scale)).to_contain_text("Mix 39,")
    scale.locator("scale-formula").get_by_text("In Python: the exact call").click()
    cell = scale.locator("scale-formula python-cell")
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-printed")).to_contain_text("hydration wanted:")
