"""The liquid swap in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from docs.parts import liquid_swap
from docs.parts.shared.fields import FieldErrors
from tests.site.conftest import open_ready, tells_bad_input


@pytest.fixture
def swap(page, address):
    """The swap page, with Python running in it."""
    return open_ready(page, address + "swap/")


def field(page, label):
    return page.locator("liquid-swap").get_by_label(label, exact=True)


def answer(page):
    return page.locator("liquid-swap .dw-answer").first


def test_converts_a_formula_and_keeps_it_in_the_address(swap, context, address):
    # Common practice, no source: 95 g of water is 128 or 129 g of a liquid at 74 %.
    field(swap, "Flour").fill("140 g")
    field(swap, "Liquid: weight or % of flour").fill("68 %")
    swap.locator('[name="becomes"]').select_option("own")
    field(swap, "Water content").fill("74 %")
    expect(answer(swap)).to_contain_text("Weigh 129")
    expect(swap.locator(".dw-steps")).to_contain_text("0.74")
    assert "own-water=74" in swap.url
    again = context.new_page()
    again.goto(swap.url)
    expect(answer(again)).to_contain_text("Weigh 129")
    assert field(again, "Flour").input_value() == "140 g"


def test_announces_an_allergen_before_the_result(swap):
    swap.locator('[name="becomes"]').select_option("coconut-milk")
    caution = swap.locator("liquid-swap .dw-caution").first
    expect(caution).to_contain_text("Allergen added: coconut")
    before = swap.evaluate(
        """() => {
          const find = (s) => document.querySelector('liquid-swap ' + s);
          return find('.dw-caution').compareDocumentPosition(find('.dw-answer'));
        }"""
    )
    assert before & 4  # DOCUMENT_POSITION_FOLLOWING


def test_reads_and_writes_ounces_and_decimal_commas(swap):
    swap.get_by_text("Grams or ounces, decimal mark, scale").click()
    field(swap, "Weights in").select_option("oz")
    field(swap, "Decimal mark").select_option(",")
    field(swap, "Flour").fill("17,5 oz")
    field(swap, "Liquid: weight or % of flour").fill("65 %")
    swap.locator('[name="becomes"]').select_option("whole-milk")
    expect(answer(swap)).to_contain_text("12,9")
    expect(answer(swap)).to_contain_text("oz")


def test_bad_input_is_told_beside_its_field_and_nothing_is_lost(swap):
    tells_bad_input(
        swap.locator("liquid-swap"),
        field,
        [
            ("Flour", "", "Give the flour a weight"),
            ("Flour", "0 g", "Give the flour a weight"),
            ("Flour", "-500 g", "cannot be less than nothing"),
            ("Flour", "a lot", "cannot read a number"),
            ("Flour", "3 eggs", "Eggs are not bread flour"),
            ("Liquid: weight or % of flour", "", "Give the liquid a weight"),
            ("Part to swap: % or weight", "0 %", "above 0 % and at most 100 %"),
            ("Part to swap: % or weight", "120 %", "above 0 % and at most 100 %"),
        ],
    )


def test_an_impossible_water_content_is_told(swap):
    swap.locator('[name="becomes"]').select_option("own")
    box = field(swap, "Water content")
    for typed in ("", "0 %", "130 %", "wet"):
        box.fill("74 %")
        expect(box).not_to_have_attribute("aria-invalid", "true")
        expect(answer(swap)).to_contain_text("your liquid")
        box.fill(typed)
        expect(box).to_have_attribute("aria-invalid", "true")


def test_an_unknown_liquid_in_the_address_is_told(page, address):
    page.goto(address + "swap/?becomes=unicorn-milk&flour=300+g")
    expect(field(page, "Flour")).to_have_value("300 g")
    expect(page.locator("liquid-swap .dw-complaint", has_text="Choose one")).to_be_visible()


def test_text_from_the_address_stays_text(page, address):
    page.goto(address + "swap/?flour=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E")
    expect(page.locator("liquid-swap .dw-complaint", has_text="<img")).to_be_visible()
    assert page.locator("liquid-swap img").count() == 0


def test_works_by_keyboard_alone(swap):
    field(swap, "Flour").focus()
    swap.keyboard.press("Control+A")
    swap.keyboard.type("1000 g")
    expect(answer(swap)).to_contain_text("Weigh")
    expect(swap.locator("liquid-swap .dw-sheet")).to_contain_text("1000")
    for _ in range(40):
        swap.keyboard.press("Tab")
        if swap.evaluate("document.activeElement.textContent") == "Start again":
            break
    swap.keyboard.press("Enter")
    expect(field(swap, "Flour")).not_to_have_value("1000 g")


def test_opens_the_calculation_in_python(swap):
    swap.get_by_text("In Python: the exact call").click()
    cell = swap.locator("liquid-swap python-cell")
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-printed")).to_contain_text("new weight: 360.59")
    cell.get_by_label("Python code").fill("print(6 * 7)\n1 / 0")
    cell.get_by_label("Python code").press("Control+Enter")
    expect(cell.locator(".dw-printed")).to_contain_text("42")
    expect(cell.locator(".dw-printed")).to_contain_text("line 2: ZeroDivisionError")
    assert "code=" not in swap.url


def test_one_slip_is_told_once():
    """A liquid as a percentage is not at fault where the flour cannot be read."""
    given = liquid_swap.PART.fields({})
    with pytest.raises(FieldErrors) as told:
        liquid_swap.PART.result(given | {"flour": "much", "liquid": "65 %"})
    assert list(told.value.messages) == ["flour"]
    with pytest.raises(FieldErrors) as told:
        liquid_swap.PART.result(given | {"flour": "", "liquid": ""})
    assert list(told.value.messages) == ["flour", "liquid"]


# What is typed, and the ingredient that is offered first: order, idle words, plurals, joined words.
FOUND_FIRST = {
    "plain yoghurt": "plain yogurt (whole milk)", "free-range eggs": "whole egg",
    "tin of evaporated milk": "evaporated milk", "butter milk": "buttermilk",
    "mashed sweet potatoes": "sweet potato", "long life milk": "whole milk", "oat milk": "oat drink",
}  # fmt: skip


def test_a_name_as_bakers_type_it_is_found_first(swap):
    find = swap.locator("liquid-swap .dw-find").filter(has=swap.locator("select[name=becomes]"))
    for typed, name in FOUND_FIRST.items():
        find.get_by_role("combobox").fill(typed)
        expect(find.get_by_role("option").first).to_contain_text(name)
    find.get_by_role("combobox").fill("hemp milk")
    expect(find.get_by_role("option")).to_have_count(0)


def test_a_screen_reader_hears_each_ingredient_that_is_found(swap):
    """Never an id twice: one that is drawn again under its old id is not told again (tried with a screen reader)."""
    box = field(swap, "New liquid")
    box.fill("")
    told = ["none yet"]
    for press, says in (
        ("m", ""),
        ("i", ""),
        ("l", ""),
        ("k", "milk"),
        ("ArrowDown", "2\xa0% milk"),
    ):
        box.press(press)
        another = re.compile(rf"^(?!({'|'.join(told)})$).+")
        expect(box).to_have_attribute("aria-activedescendant", another)
        told.append(box.get_attribute("aria-activedescendant"))
        expect(swap.locator(f"#{told[-1]}")).to_contain_text(says)
    box.press("Enter")
    assert box.get_attribute("aria-activedescendant") is None
    expect(box).to_have_value("2\xa0% milk")
