"""Reading a pack and drying a sample, in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_ready, settled, tells_bad_input


@pytest.fixture
def pack(page, address):
    """The pack page, with Python running in it."""
    return open_ready(page, address + "pack/")


def field(page, label, part="pack-reader"):
    return page.locator(part).get_by_label(label, exact=True)


def answer(page, part="pack-reader"):
    return page.locator(f"{part} .dw-answer").first


def fill(page, **texts):
    for label, text in texts.items():
        field(page, label.replace("_", " ")).fill(text)


def test_reads_an_eu_pack_and_hands_its_water_to_the_swap(pack):
    """Outside check: USDA 1077, whole milk, 88.32 % water, printed as the EU guidance rounds it."""
    field(pack, "Panel").select_option("eu-g")
    field(pack, "Kind of food").select_option("dairy")
    expect(field(pack, "Sodium")).to_be_hidden()
    fill(
        pack,
        Total_fat="3,3 g",
        Carbohydrate="4.5",
        Fibre="<0.5 g",
        Sugars="",
        Protein="3.2",
        Salt="0.10",
    )
    settled(pack, "salt=0.10")
    expect(answer(pack)).to_contain_text("Water: 88.")
    assert "panel=eu-g" in pack.url
    pack.locator("pack-reader").get_by_role("link", name="Use it in a swap").click()
    swap = pack.locator("liquid-swap")
    expect(swap.get_by_label("Water content", exact=True)).to_have_value("88.0 %")
    expect(swap.locator(".dw-answer").first).to_contain_text("your liquid")
    expect(swap.locator(".dw-complaint:visible")).to_have_count(0)


def test_the_example_follows_the_panel_and_nothing_is_complained_of(pack):
    for panel, label, value in (
        ("eu-g", "Salt", "0.11 g"),
        ("us", "Sodium", "110 mg"),
        ("eu-ml", "Salt", "0.12 g"),
    ):
        field(pack, "Panel").select_option(panel)
        expect(field(pack, label)).to_have_value(value)
        settled(pack, f"panel={panel}" if panel != "us" else "pack/")
        expect(answer(pack)).to_contain_text("Water: 87.")
        expect(pack.locator("pack-reader .dw-complaint:visible")).to_have_count(0)


def test_a_readers_own_figures_stay_when_the_panel_changes(pack):
    fill(pack, Total_fat="9 g", Sodium="100")
    field(pack, "Panel").select_option("eu-g")
    expect(field(pack, "Total fat")).to_have_value("9 g")
    expect(field(pack, "Salt")).to_have_value("100 mg sodium")
    expect(pack.locator("pack-reader .dw-remark", has_text="× 2.5")).to_be_visible()


PASTED = """Nutrition Facts
about 8 servings per container
Serving size 2/3 cup (170g)
Calories 120
Total Fat 3.5g 5%
Sodium 65mg 3%
Total Carbohydrate 7g 3%
Protein 15g
Glow factor 7"""


def test_a_pasted_panel_fills_the_fields_and_what_was_not_understood_is_shown(pack):
    part = pack.locator("pack-reader")
    part.get_by_text("Paste the panel’s text").click()
    part.get_by_label("The panel as text, US or EU").fill(PASTED)
    part.get_by_role("button", name="Fill in the fields").click()
    for label, value in (("One serving", "2/3 cup (170g)"), ("Total fat", "3.5g"), ("Sodium", "65mg"),
                         ("Sugars", ""), ("Energy", "120 kcal")):  # fmt: skip
        expect(field(pack, label)).to_have_value(value)
    expect(part.get_by_text("Glow factor 7")).to_be_visible()
    expect(answer(pack)).to_contain_text("Water: 8")


def test_the_energy_finds_a_lost_decimal_point_and_says_where_to_look(pack):
    fill(pack, Total_fat="80 g", Energy="150")
    part = pack.locator("pack-reader")
    expect(part.locator(".dw-caution", has_text="8 g of fat")).to_be_visible()
    expect(part.locator('.dw-complaint[data-for="fat"]')).to_contain_text("Look at this figure")
    field(pack, "Total fat").fill("8 g")
    expect(part.locator(".dw-caution", has_text="The energy does not fit")).to_have_count(0)


def test_keeps_the_panel_in_the_address_and_the_second_part_apart(pack, context):
    fill(pack, Protein="less than 1 g")
    expect(pack.locator("pack-reader .dw-steps")).to_contain_text("less than 1 g")
    field(pack, "Dish with fresh sample", "dry-sample").fill("80.4 g")
    expect(answer(pack, "dry-sample")).to_contain_text("93.")
    assert "dry.before=80.4" in pack.url
    again = context.new_page()
    again.goto(pack.url)
    expect(again.locator("pack-reader .dw-steps")).to_contain_text("less than 1 g")
    expect(answer(again, "dry-sample")).to_contain_text("93.")


def test_an_impossible_panel_is_told_beside_its_field_and_nothing_is_lost(pack):
    tells_bad_input(
        pack.locator("pack-reader"),
        field,
        [
            ("Total fat", "", "Write the fat"),
            ("Protein", "some", "cannot read a figure"),
            ("One serving", "one cup", "Write a weight"),
            ("Sugars", "40 g", "cannot be more than the carbohydrate"),
            ("Carbohydrate", "300 g", "That cannot be"),
        ],
    )


def test_dries_a_sample_in_ounces_and_says_when_it_is_not_dry(pack):
    part = pack.locator("dry-sample")
    part.get_by_text("Grams or ounces, decimal mark").click()
    field(pack, "Weights in", "dry-sample").select_option("oz")
    for label, text in (("Empty dish", ""), ("Dish with fresh sample", "4 oz"),
                        ("Dish with dry sample", "1,5 oz"), ("The same, half an hour later", "1 oz")):  # fmt: skip
        field(pack, label, "dry-sample").fill(text)
    expect(answer(pack, "dry-sample")).to_contain_text("Water: 75.0")
    expect(part.locator(".dw-caution")).to_contain_text("not dry yet")
    field(pack, "Dish with dry sample", "dry-sample").fill("5 oz")
    field(pack, "The same, half an hour later", "dry-sample").fill("")
    expect(part.locator(".dw-complaint", has_text="cannot gain weight")).to_be_visible()


def test_the_allergen_caution_stands_before_the_answer(pack):
    parts = pack.locator("pack-reader .dw-output > *")
    assert "Allergens" in parts.first.inner_text()


def test_opens_both_calculations_in_python(pack):
    for part, says in (("pack-reader", "water: 0.8"), ("dry-sample", "water = 1 − 0.104")):
        pack.locator(part).get_by_text("In Python: the exact call").click()
        cell = pack.locator(f"{part} python-cell")
        cell.get_by_role("button", name="Run").click()
        expect(cell.locator(".dw-printed")).to_contain_text(says)
