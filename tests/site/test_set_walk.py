"""A set from its first problem to its hand-in, by keyboard, on a phone and on a laptop."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.marking import right_answers
from exercises.problems import load
from tests.site.conftest import at_problem, open_page, visitor

KEY = "first-swaps"
STUDENT = "Ada Invented"
SIZES = {"phone": {"width": 360, "height": 740}, "laptop": {"width": 1280, "height": 800}}

# What a wrong answer costs: its boxes once more, and Enter.
SLIP = 8
# Between the header and the hand-in bar.
SEEN = """places => places.every(place => {
  const {top, bottom} = place.getBoundingClientRect();
  const header = document.querySelector('.md-header').getBoundingClientRect().bottom;
  return top >= header && bottom <= document.querySelector('.dw-handin').getBoundingClientRect().top;
})"""


class Walk:
    """A student who uses the keyboard alone; what is typed is not counted, each other key is."""

    def __init__(self, page):
        self.page = page
        self.presses = 0

    def press(self, key):
        self.page.keyboard.press(key)
        self.presses += 1

    def to(self, name):
        """Tab to the next box of a name."""
        for _ in range(12):
            if self.page.evaluate("document.activeElement.name ?? ''") == name:
                return
            self.press("Tab")
        raise AssertionError(f"no way to {name} by Tab")

    def answer(self, form, answers):
        """Write the answers, and mark them with Enter in the last box."""
        for name, text in answers.items():
            self.to(name)
            self.page.keyboard.press("Control+A")
            self.page.keyboard.insert_text(text)
        self.press("Enter")
        expect(form.locator(".dw-marks")).to_be_visible()


def answers_of(drawn):
    if not drawn.is_free:
        return right_answers(drawn)
    lines = "\n".join(drawn.working.sentence(key) for key in drawn.working.steps)
    key = drawn.working.answer.key
    return {"working": lines, key: drawn.working.weighed(key)}


def in_sight(form, key):
    """Whether a box and its verdict are in the window together."""
    box, said = form.locator(f'[name="{key}"]'), form.locator(f'[data-said="{key}"]')
    expect(said.locator("li")).to_have_count(1)
    return form.page.evaluate(SEEN, [box.element_handle(), said.element_handle()])


@pytest.mark.parametrize("size", SIZES)
def test_a_set_is_done_to_its_hand_in_by_keyboard(chromium, address, size):
    with visitor(chromium, viewport=SIZES[size]) as context:
        page = open_page(context.new_page(), f"{address}practice/{KEY}/")
        walk, problems = Walk(page), load(KEY).problems
        page.get_by_label("Your name").focus()
        page.keyboard.type("Ada  Invented")
        expect(page.locator("[data-whose]")).to_have_text(f"These are your numbers, {STUDENT}.")
        walk.press("Enter")
        boxes = 0
        for number, each in enumerate(problems, 1):
            form = page.locator(f'form[data-problem="{each.id}"]')
            expect(form.locator("h3")).to_be_focused()
            expect(page.locator("form[data-problem]:visible")).to_have_count(1)
            answers = answers_of(draw(load(KEY), each, STUDENT))
            last = list(answers)[-1]
            if number == 2:
                walk.answer(form, answers | {last: "7 %"})
                expect(form.locator(f'[data-said="{last}"] .dw-sign')).to_have_text("✗")
                assert in_sight(form, last)
                answers = {last: answers[last]}
            walk.answer(form, answers)
            onward = form.locator(".dw-onward-button")
            expect(onward).to_be_focused()
            expect(onward).to_be_in_viewport(ratio=1)
            assert in_sight(form, last)
            tick = page.locator(f'[data-tick="{each.id}"]')
            expect(tick).to_have_attribute("aria-label", f"Problem {number}, {each.title}: right")
            boxes += len(answers)
            walk.press("Enter")
        # To each box a Tab, past its hint another; one Enter marks, one goes on; Control+A is a press too.
        assert walk.presses <= 3 * boxes + 2 * len(problems) + SLIP
        finish = page.locator("[data-finish]")
        expect(finish.locator("h3")).to_be_focused()
        expect(finish).to_contain_text("Marks: 19 of 19")
        expect(finish).to_contain_text("You can now")
        assert page.locator(".dw-handin").bounding_box()["height"] <= 44
        assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size]["width"]
        with page.expect_download() as waiting:
            while page.evaluate("document.activeElement.dataset.action") != "hand-in":
                walk.press("Tab")
            walk.press("Enter")
        handed = json.loads(Path(waiting.value.path()).read_text("utf-8"))
        assert set(handed["answers"]) == {each.id for each in problems}
        page.go_back()
        expect(page.locator(f'form[data-problem="{problems[-1].id}"]')).to_be_visible()
        welcomed_back(page, address)
        tabs_keep_each_others_work(context, address)


def welcomed_back(page, address):
    """The list of sets knows how far one is; a set that is all right is not offered again."""
    open_page(page, address + "practice/")
    expect(page.locator(f'[data-standing="{KEY}"]')).to_have_text(
        "✓ 19 of 19 marks, 9 of 9 problems tried"
    )
    open_page(page, address)
    expect(page.locator("go-on p")).to_be_hidden()


def tabs_keep_each_others_work(context, address):
    """Two tabs on one set: what is typed and marked in one is in the other, and stays."""
    tabs = [open_page(context.new_page(), f"{address}practice/at-the-bench/") for _ in range(2)]
    numbers = [
        each.id for each in load("at-the-bench").problems if each.quantity and each.level < 3
    ]
    for tab, key in zip(tabs, numbers[:2], strict=True):
        expect(tab.locator("[data-whose]")).to_contain_text(STUDENT)
        form = at_problem(tab, key)
        form.locator("input").last.fill("1 g")
        form.get_by_role("button", name="Mark my answer").click()
        expect(form.locator(".dw-marks")).to_be_visible()
    tabs[0].reload()
    for tab in tabs:
        for key in numbers[:2]:
            tick = tab.locator(f'[data-tick="{key}"]')
            expect(tick).to_have_attribute("data-state", re.compile("wrong|partly"))
            box = tab.locator(f'form[data-problem="{key}"] input').last
            expect(box).to_have_value("1 g")
    open_page(tabs[0], address).locator("go-on a").click()
    expect(tabs[0].locator("form[data-problem]:visible")).to_have_count(1)
