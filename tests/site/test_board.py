"""A lesson on the board: each screen fits, and a clicker's two keys work it."""

import re

from playwright.sync_api import expect

from exercises.lessons import LESSONS

ROOMS = [(1280, 720), (1024, 768)]
# Letters for the back row: 32 px on a screen 1280 wide, and as large for its width on others.
LEAST = 32 / 1280
LEAST_IN_A_DRAWING = 21 / 1280
# What is too large for its window, or too small to read, with every answer covered or uncovered.
MISFITS = """([least, leastInDrawing, open]) => {
  const screens = [...document.querySelectorAll('.screen')], page = document.documentElement;
  for (const each of document.querySelectorAll('details')) each.open = open;
  const size = (each) => parseFloat(getComputedStyle(each).fontSize) / innerWidth;
  return screens.filter((screen) => {
    for (const each of screens) each.classList.toggle('shown', each === screen);
    const drawn = screen.querySelector('.drawing svg');
    const scale = drawn ? drawn.getScreenCTM().a : 1;
    return page.scrollHeight > innerHeight || page.scrollWidth > innerWidth
      || [...screen.querySelectorAll('h1, h2, p, li, summary')].some((each) => size(each) < least)
      || [...screen.querySelectorAll('.drawing text')].some((each) => size(each) * scale < leastInDrawing);
  }).map((screen) => screen.id);
}"""


def test_every_screen_of_every_lesson_fits_with_its_answer_uncovered(page, address):
    for lesson in LESSONS:
        page.goto(f"{address}board/{lesson}.html")
        for width, height in ROOMS:
            page.set_viewport_size({"width": width, "height": height})
            page.evaluate("() => document.fonts.ready")
            for uncovered in (False, True):
                asked = [LEAST, LEAST_IN_A_DRAWING, uncovered]
                assert page.evaluate(MISFITS, asked) == [], (lesson, width, uncovered)
        page.set_viewport_size({"width": 360, "height": 740})
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, lesson


def test_a_clicker_goes_on_uncovers_and_goes_back(page, address):
    page.goto(address + "teachers/lessons/divide-by-the-water-content/")
    page.get_by_role("link", name="Show it on the board").click()
    shown = page.locator(".screen.shown")
    expect(shown).to_have_attribute("id", "screen-1")
    for _ in range(2):
        page.keyboard.press("PageDown")
    expect(shown.get_by_role("heading")).to_have_text("From lesson 1")
    answer = shown.locator("details > p").first
    expect(answer).to_be_hidden()
    page.keyboard.press("PageDown")
    expect(answer).to_be_visible()
    page.keyboard.press("ArrowRight")
    expect(shown).to_have_attribute("id", "screen-4")
    page.keyboard.press("PageUp")
    expect(answer).to_be_visible()
    page.keyboard.press("ArrowLeft")
    expect(answer).to_be_hidden()
    page.keyboard.press("End")
    expect(shown.get_by_role("heading")).to_have_text("Question 5")
    page.get_by_label("Screen").select_option("9")
    expect(page).to_have_url(re.compile("#screen-9$"))
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "default")
    page.get_by_role("button", name="Light, dark").click()
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    page.reload()
    expect(shown).to_have_attribute("id", "screen-9")
    page.emulate_media(media="print")
    expect(page.locator("#screen-1, #screen-6")).to_have_count(2)
    expect(page.locator("#screen-6")).to_be_visible()
    expect(page.locator("#screen-6 details > p").first).to_be_hidden()
    page.emulate_media(media="screen")


def test_without_scripts_it_is_one_screen_below_another(without_scripts, address):
    page = without_scripts
    page.goto(address + "board/preferments.html")
    screens = page.locator(".screen")
    assert screens.count() > 20
    expect(screens.last).to_be_visible()
    covered = screens.filter(has=page.locator("details")).first
    covered.locator("summary").click()
    expect(covered.locator("details > p").first).to_be_visible()
