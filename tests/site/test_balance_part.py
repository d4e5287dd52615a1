"""The balanced formula in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.site.conftest import open_ready


@pytest.fixture
def sheet(page, address):
    """The balance page, with Python running in it."""
    return open_ready(page, address + "balance/")


def part(page):
    return page.locator("balance-formula")


def field(page, label):
    return part(page).get_by_label(label, exact=True)


def box(page, group, label):
    return part(page).get_by_role("group", name=group).get_by_label(label, exact=True)


def test_milk_for_sour_cream_takes_butter_out(sheet):
    """Common practice, no source: take butter out for the cream's fat."""
    expect(part(sheet).locator(".dw-answer")).to_contain_text("less butter")
    expect(part(sheet).locator(".dw-miss")).to_have_count(0)
    sheet.locator('[name="becomes"]').select_option("heavy-cream")
    miss = part(sheet).locator(".dw-miss")
    expect(miss).to_contain_text("Fat is not held")
    expect(miss).to_contain_text("no more butter to take out")


def test_the_boxes_choose_what_is_held_and_stand_in_the_address(sheet, context):
    box(sheet, "Hold, beside the water", "sugar").uncheck()
    box(sheet, "Hold, beside the water", "salt").uncheck()
    answer = part(sheet).locator(".dw-answer")
    expect(answer).not_to_contain_text("sugar")
    expect(answer).not_to_contain_text("salt")
    expect(answer).to_contain_text("more water")
    again = context.new_page()
    again.goto(sheet.url)
    expect(part(again).locator(".dw-answer")).to_have_text(answer.inner_text())
    assert not box(again, "Hold, beside the water", "sugar").is_checked()
    assert box(again, "Hold, beside the water", "fat").is_checked()


def test_where_nothing_may_change_each_miss_is_told(sheet):
    kept = part(sheet).locator(".dw-answer").inner_text()
    group = part(sheet).get_by_role("group", name="What may change")
    ticked = [each for each in group.get_by_role("checkbox").all() if each.is_checked()]
    for each in ticked:
        each.uncheck()
    expect(part(sheet).locator(".dw-answer")).to_contain_text("Nothing else changes")
    expect(part(sheet).locator(".dw-miss")).to_have_count(3)
    expect(part(sheet).locator(".dw-miss").first).to_contain_text("Nothing that may change")
    for each in ticked:
        each.check()
    expect(part(sheet).locator(".dw-answer")).to_have_text(kept)


def test_bad_input_is_told_beside_its_field_and_nothing_is_lost(sheet):
    kept = part(sheet).locator(".dw-answer").inner_text()
    field(sheet, "Flour").fill("a lot")
    expect(field(sheet, "Flour")).to_have_attribute("aria-invalid", "true")
    expect(part(sheet).locator(".dw-complaint", has_text="cannot read a number")).to_be_visible()
    assert part(sheet).locator(".dw-answer").inner_text() == kept


def test_opens_the_calculation_in_python(sheet):
    sheet.get_by_text("In Python: the exact call").click()
    cell = part(sheet).locator("python-cell")
    cell.get_by_role("button", name="Run").click()
    expect(cell.locator(".dw-printed")).to_contain_text("butter changes by -79.39")
