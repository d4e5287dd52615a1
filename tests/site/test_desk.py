"""The teacher's desk in a browser: the set in hand, and printing it."""

from playwright.sync_api import expect

from exercises.codes import code_of
from exercises.problems import load
from tests.site.conftest import open_page

NAMES = ["Ada Invented", "Kofi Invented"]


def test_the_set_in_hand_goes_along_and_is_printed(page, address):
    open_page(page, address + "desk/")
    page.get_by_label("The set in hand").select_option("the-whole-job")
    page.get_by_role("link", name="Print", exact=True).click()
    expect(page.get_by_label("The set in hand")).to_have_value("the-whole-job")
    page.get_by_label("Names, one a line").fill("\n".join(NAMES))
    page.get_by_role("button", name="Print the worksheets").click()
    sheets = page.frame_locator("iframe").locator("section.sheet")
    expect(sheets).to_have_count(len(NAMES))
    for name, sheet in zip(NAMES, sheets.all(), strict=True):
        expect(sheet).to_contain_text(code_of(load("the-whole-job"), name))
    # The pages have a style of their own, which the site's policy lets a script adopt.
    room = page.frame_locator("iframe").locator(".room").first
    assert room.evaluate("room => getComputedStyle(room).borderTopWidth") == "1px"
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save as files").click()
    assert waiting.value.suggested_filename.startswith("the-whole-job-")
    page.get_by_label("The set in hand").select_option("first-swaps")
    expect(page.locator("iframe")).to_have_count(0)
