"""A teacher writes a set in the page: by filling in, from ours, as text."""

import re

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.problems import read_set
from tests.site.conftest import open_page


@pytest.fixture
def writer(page, address):
    return open_page(page, address + "desk/write/")


def field(page, name):
    return page.locator(f'set-writer [name="{name}"]')


def says(page, words):
    expect(page.locator("set-writer > .dw-status")).to_contain_text(words)


def text(page):
    return page.get_by_label("The set as text")


def press(page, name):
    page.get_by_role("button", name=name, exact=True).click()


def saved(page, folder):
    with page.expect_download() as waiting:
        press(page, "Save as a file")
    path = folder / waiting.value.suggested_filename
    waiting.value.save_as(path)
    return path


def test_a_set_of_four_problems_by_filling_in_and_taking(writer, tmp_path):
    field(writer, "title").fill("Rolls and loaves")
    field(writer, "problems/0/title").fill("Tuesday's loaf")
    says(writer, "Good: 2 problems.")
    # A new problem is added by what it asks; its story is changed where the caret is.
    writer.locator("summary", has_text="Add a new problem").click()
    writer.locator("summary", has_text="Swap one liquid for another").click()
    press(writer, "Add a problem that asks for liquid for liquid")
    expect(field(writer, "problems/2/title")).to_be_focused()
    writer.keyboard.type("Kefir for milk")
    story = field(writer, "problems/2/story")
    story.fill("Take  away {liquid} ({water content of liquid}), put in {new liquid}.")
    story.evaluate("it => it.setSelectionRange(5, 5)")
    press(writer, "{liquid weight}")
    expect(story).to_have_value(re.compile(r"^Take \{liquid weight\} away"))
    field(writer, "problems/2/givens/liquid weight/from").fill("225 g")
    complaint = writer.locator('[data-for="problems/2/givens/liquid weight/step"]')
    expect(complaint).to_contain_text("never reaches")
    field(writer, "problems/2/givens/liquid weight/from").fill("220 g")
    expect(complaint).to_be_empty()
    says(writer, "Good: 3 problems.")
    # Beside it is what students see, the key, and what they can get.
    seen = writer.locator("set-writer [data-output]")
    expect(seen).to_contain_text("The key to these numbers")
    expect(seen).to_contain_text("answers from")
    # One of ours comes along; then its numbers are changed.
    writer.locator("summary", has_text="Take problems from ours").click()
    writer.get_by_label("Words", exact=True).fill("tray of rolls")
    expect(writer.locator("[data-found]")).to_have_text("2 problems.")
    writer.locator(".dw-bank").get_by_label("One tray of rolls").check()
    press(writer, "Take in what is ticked")
    says(writer, "1 taken in. Good: 4 problems.")
    writer.get_by_role("button", name=re.compile("^4. One tray of rolls")).click()
    field(writer, "problems/3/givens/flour/how").select_option("fixed")
    field(writer, "problems/3/givens/flour").fill("250 g")
    says(writer, "Good: 4 problems.")
    # Undo takes it back, redo brings it again; the text says the same; the notes are where they were.
    press(writer, "Undo")
    expect(field(writer, "problems/3/givens/flour")).to_have_value(re.compile("220 g"))
    press(writer, "Redo")
    expect(field(writer, "problems/3/givens/flour")).to_have_value("250 g")
    press(writer, "Text")
    expect(text(writer)).to_have_value(re.compile(r"^# Everything after a #[^$]*flour: 250 g"))
    # It is kept, under its own name, however soon the page is left; and saved.
    press(writer, "Form")
    field(writer, "title").fill("Rolls and buns")
    writer.reload()
    expect(field(writer, "title")).to_have_value("Rolls and buns")
    says(writer, "Good: 4 problems.")
    field(writer, "title").fill("Rolls, buns and loaves")
    writer.get_by_role("link", name="Give out", exact=True).click()
    expect(writer.get_by_label("The set in hand")).to_contain_text("Rolls, buns and loaves")
    writer.get_by_role("link", name="Write", exact=True).click()
    says(writer, "Good: 4 problems.")
    path = saved(writer, tmp_path)
    assert path.name == "rolls-and-loaves.yml"
    mine = read_set(path.read_text("utf-8"), "Downloads (7).yml")
    assert mine.key == "rolls-and-loaves"
    titles = ["Tuesday's loaf", "The wettest first", "Kefir for milk", "One tray of rolls"]
    assert [each.title for each in mine.problems] == titles
    # The page shows a student the very numbers that the file gives.
    writer.get_by_label("See it as this student").fill("Ada")
    form = writer.locator('form[data-problem="morning-loaf"]')
    for number in draw(mine, mine.problems[0], "Ada").shown.values():
        shown = re.compile(re.escape(number).replace("\\ ", r"\s"))
        expect(form).to_contain_text(shown)
    form.locator('input[name="liquid"]').fill("1 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 2 marks")


def test_text_and_form_are_two_views_and_a_slip_is_found_in_both(writer):
    writer.set_viewport_size({"width": 1280, "height": 800})
    press(writer, "Text")
    notes = "# a note\n" * 50
    text(writer).fill(
        notes + text(writer).input_value().replace("ask: new liquid", "ask: new liqid")
    )
    slip = writer.locator(".dw-slips li").first
    expect(slip).to_contain_text("Did you mean “new liquid”?")
    slip.get_by_role("button").click()
    selected = text(writer).evaluate("t => t.value.slice(t.selectionStart, t.selectionEnd)")
    assert selected == "new liqid"
    line = text(writer).evaluate("t => t.value.slice(0, t.selectionStart).split('\\n').length")
    seen = text(writer).evaluate(
        """(t, line) => { const style = getComputedStyle(t);
          const y = t.getBoundingClientRect().top - t.scrollTop + (line - 0.5) * parseFloat(style.lineHeight);
          return y > 100 && y < innerHeight - 20; }""",
        line,
    )
    assert seen
    press(writer, "Form")
    expect(writer.locator('[data-for="problems/0/ask"]')).to_contain_text(
        "Did you mean “new liquid”?"
    )
    field(writer, "problems/0/ask").select_option("new liquid")
    says(writer, "Good: 2 problems.")
    press(writer, "Text")
    expect(text(writer)).to_have_value(re.compile("^# a note\n"))
    # What is no YAML at all has no form, and loses nothing.
    broken = text(writer).input_value().replace("title: My set", "title: 'My mother's set'")
    text(writer).fill(broken)
    expect(writer.locator(".dw-slips li").first).to_contain_text("The apostrophe ends the quotes")
    press(writer, "Form")
    expect(writer.locator("[data-form]")).to_contain_text("The apostrophe ends the quotes")
    expect(text(writer)).to_have_value(broken)


def test_files_copies_and_several_sets(writer, tmp_path):
    """A file keeps its numbers under any name; a document is refused; one of ours is copied."""
    old = tmp_path / "week two (1).yml"
    old.write_bytes("title: Müllers Übung\nversion: 1\nproblems: []\n".encode("cp1252"))
    document = tmp_path / "homework.docx"
    document.write_bytes(b"PK\x03\x04\x14\0")
    for path, words in (
        (document, "copy the set, and paste it here"),
        (old, "read as Windows-1252"),
    ):
        with writer.expect_file_chooser() as waiting:
            press(writer, "Open a set file")
        waiting.value.set_files(path)
        expect(writer.locator("desk-set > .dw-status")).to_contain_text(words)
    expect(field(writer, "title")).to_have_value("Müllers Übung")
    expect(field(writer, "name")).to_have_value("week-two")
    writer.get_by_label("The set in hand").select_option(label="Preferments and starters")
    expect(field(writer, "name")).to_have_value("my-preferments")
    field(writer, "title").fill("Our poolish week")
    hand = writer.get_by_label("The set in hand")
    expect(hand).to_have_value("own:my-preferments.yml")
    hand.select_option("own:week two (1).yml")
    expect(field(writer, "title")).to_have_value("Müllers Übung")
    press(writer, "New set")
    says(writer, "A new set.")
    expect(field(writer, "name")).to_have_value("my-set")
