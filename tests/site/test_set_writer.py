"""A teacher writes a set in the page."""

import re

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.problems import read_set
from tests.site.conftest import open_page


@pytest.fixture
def writer(page, address):
    return open_page(page, address + "write-a-set/")


def text(page):
    return page.get_by_label("Your set")


def look(page):
    page.get_by_role("button", name="Look at it").click()


def test_shows_the_set_as_students_see_it_and_marks_it(writer):
    text(writer).fill(text(writer).input_value().replace("Monday's loaf", "Tuesday's loaf"))
    writer.get_by_label("See it as this student").fill("Ada")
    look(writer)
    form = writer.locator('form[data-problem="monday-loaf"]')
    expect(form.get_by_role("heading")).to_contain_text("Tuesday's loaf")
    form.locator('input[name="liquid"]').fill("1 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 2 marks")


def test_names_the_line_of_a_slip_and_leads_to_it(writer):
    text(writer).fill(text(writer).input_value().replace("ask: new liquid", "ask: new liqid"))
    look(writer)
    slip = writer.locator(".dw-slips li")
    expect(slip).to_contain_text("Did you mean “new liquid”?")
    slip.get_by_role("button").click()
    selected = text(writer).evaluate("t => t.value.slice(t.selectionStart, t.selectionEnd)")
    assert selected == "new liqid"


def test_a_set_is_only_text(writer):
    hostile = "<img src=x onerror=alert(1)><script>alert(2)</script>"
    text(writer).fill(text(writer).input_value().replace("A loaf has", hostile + " A loaf has"))
    look(writer)
    story = writer.locator('form[data-problem="monday-loaf"] p').first
    expect(story).to_contain_text("<script>alert(2)</script>")
    assert writer.locator("set-writer img, set-writer script").count() == 0


def test_keeps_what_was_written_and_saves_it_as_a_file(writer, tmp_path):
    text(writer).fill(text(writer).input_value().replace("version: 1", "version: 7"))
    writer.reload()
    expect(text(writer)).to_have_value(re.compile("version: 7"))
    with writer.expect_download() as waiting:
        writer.get_by_role("button", name="Save as a file").click()
    waiting.value.save_as(tmp_path / "my-set.yml")
    assert read_set((tmp_path / "my-set.yml").read_text("utf-8"), "my-set.yml").version == 7
    writer.get_by_role("button", name="Start again").click()
    expect(text(writer)).to_have_value(re.compile("version: 1"))


def test_the_name_of_the_file_gives_the_numbers_that_students_will_get(writer, tmp_path):
    mine = tmp_path / "monday.yml"
    mine.write_text(text(writer).input_value(), "utf-8")
    with writer.expect_file_chooser() as waiting:
        writer.get_by_role("button", name="Open a file").click()
    waiting.value.set_files(mine)
    expect(writer.get_by_label("File name")).to_have_value("monday.yml")
    writer.get_by_label("See it as this student").fill("Ada")
    look(writer)
    monday = read_set(mine.read_text("utf-8"), "monday.yml")
    hers = draw(monday, monday.problems[0], "Ada")
    form = writer.locator('form[data-problem="monday-loaf"]')
    for number in hers.shown.values():
        shown = re.compile(re.escape(number).replace("\\ ", r"\s"))
        expect(form).to_contain_text(shown)
    writer.reload()
    expect(writer.get_by_label("File name")).to_have_value("monday.yml")
    with writer.expect_download() as saving:
        writer.get_by_role("button", name="Save as a file").click()
    assert saving.value.suggested_filename == "monday.yml"


def test_a_slip_far_down_is_brought_into_view(writer):
    writer.set_viewport_size({"width": 1280, "height": 800})
    notes = "# a note\n" * 50
    text(writer).fill(notes + text(writer).input_value().replace("version: 1", "version: x"))
    look(writer)
    slip = writer.locator(".dw-slips li").get_by_role("button")
    expect(slip).to_contain_text("line 53")
    slip.click()
    seen = text(writer).evaluate(
        """t => { const style = getComputedStyle(t);
          const y = t.getBoundingClientRect().top - t.scrollTop + 52.5 * parseFloat(style.lineHeight);
          return y > 100 && y < innerHeight - 20; }"""
    )
    assert seen
