"""A lesson done to its end by keyboard alone, on a phone and on a laptop: step by step, each question answered in its place."""

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.problems import load
from tests.site.conftest import open_page
from tests.site.keys import Keys

LESSON = "lessons/divide-by-the-water-content/"
SIZES = {"phone": {"width": 360, "height": 740}, "laptop": {"width": 1280, "height": 800}}
# On average: a Tab for each link, box and hint of a step, and what marks and goes on.
PRESSES_A_STEP = 15
# Whether the box that was typed in and the first of its verdict are in the window together, under nothing.
TOGETHER = """(form) => {
  const seen = (each) => {
    const {left, right, top, bottom} = each.getBoundingClientRect();
    const there = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    return top >= 0 && bottom <= innerHeight && (there === each || each.contains(there) || there?.contains(each));
  };
  const box = form.querySelector('input[type=text], input:checked');
  return seen(box) && seen(form.querySelector('.dw-verdicts .dw-sign'));
}"""
HEIGHT = "() => document.querySelector('.dw-step:not([hidden])').getBoundingClientRect().height"


def right_answers(question):
    """What to type or choose in a question, from the set that it names."""
    name, drawn, blank = (question.get_attribute(key) or "" for key in ("problem", "draw", "blank"))
    key, _, problem_id = name.rpartition("/")
    variant = draw(load(key), load(key).problem(problem_id), drawn)
    if variant.boxes:
        return {
            box.key: next(letter for letter, one in box.lettered() if one.right)
            for box in variant.boxes
        }
    steps = list(variant.working.steps)
    asked = [steps[int(blank) - 1]] if blank else steps
    return {step: variant.working.weighed(step) for step in asked}


def answer(keys, question):
    for name, text in right_answers(question).items():
        box = question.locator(f'[name="{name}"]')
        if box.first.get_attribute("type") == "radio":
            keys.tab_to(question.locator(f'[name="{name}"][value="{text}"]'))
            keys.press("Space")
        else:
            keys.tab_to(box)
            keys.page.keyboard.type(text)
    keys.press("Enter")
    expect(question.locator(".dw-verdicts li").first).to_be_visible()
    form = question.locator("form")
    assert form.evaluate(TOGETHER), question.get_attribute("problem")
    expect(question.locator(".dw-sign").first).to_have_text("✓")


def welcomed_back(page, address, says):
    """The list of lessons says how far one is, and Start leads into a lesson that is not read to its end."""
    open_page(page, address + "lessons/")
    expect(page.locator('[data-lesson="divide-by-the-water-content"]')).to_contain_text(says)
    start = open_page(page, address).locator("go-on p")
    if says.startswith("step"):
        expect(start).to_contain_text(
            f"Go on with the lesson Divide by the water content You were at {says}"
        )
    else:
        expect(start).to_be_hidden()


@pytest.mark.parametrize("size", SIZES)
def test_a_lesson_is_done_to_its_end_by_keyboard(page, address, size):
    page.set_viewport_size(SIZES[size])
    keys = Keys(open_page(page, address + LESSON))
    page.locator(".dw-step-list a").first.focus()
    steps = page.locator("section.dw-step").count()
    assert steps == page.locator(".dw-step-list a").count() >= 6
    for number in range(1, steps + 1):
        step = page.locator("section.dw-step:not([hidden])")
        expect(step).to_have_count(1)
        expect(step.locator(".dw-step-number")).to_have_text(f"Step {number} of {steps}")
        expect(page.locator(".dw-step-list [aria-current=step]")).to_contain_text(f"{number}.")
        assert page.evaluate(HEIGHT) <= 3 * 740
        for question in step.locator("check-question").all():
            answer(keys, question)
        if number < steps:
            keys.tab_to(step.get_by_role("link", name="Next:"))
            keys.press("Enter")
            expect(page.locator("section.dw-step:not([hidden]) h2")).to_be_focused()
            expect(page.locator(".dw-step-list")).to_be_in_viewport()
    assert keys.presses <= PRESSES_A_STEP * steps
    # Each step is an address: the browser's Back leads to the step before, and a new visit goes on.
    last = page.locator("section.dw-step").nth(steps - 1)
    page.go_back()
    expect(last).to_be_hidden()
    end = last.locator("h2").get_attribute("id")
    welcomed_back(page, address, f"step {steps - 1} of {steps}.")
    open_page(page, address + LESSON + "#" + end)
    expect(last).to_be_visible()
    welcomed_back(page, address, "Read to its end.")
    open_page(page, address + LESSON)
    expect(last).to_be_visible()
    assert last.locator("[data-verdict=right]").count() >= 5
    # A mistake's heading is folded below the steps; a link to it opens the fold.
    page.goto(address + LESSON + "#gram-for-gram")
    expect(page.locator("#gram-for-gram")).to_be_in_viewport()
    page.get_by_role("button", name="Show all").click()
    expect(page.locator("section.dw-step:visible")).to_have_count(steps)
    last.get_by_role("link", name="Practise:").click()
    expect(page).to_have_url(address + "practice/divide-by-the-water-content/")
