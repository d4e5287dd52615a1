"""A set from its first problem to its hand-in, by keyboard, on a phone and on a laptop."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.free_working import WORKING
from exercises.marking import right_answers
from exercises.problems import load
from tests.site.conftest import at_problem, open_page
from tests.site.keys import Keys

STUDENT = "Ada Invented"
# A size, and a set: between them they ask in every way there is.
VISITS = {
    "phone": ({"width": 360, "height": 740}, "bakers-percentage"),
    "laptop": ({"width": 1280, "height": 800}, "at-the-bench"),
}
# What is sure to be wrong: a weight that no dough has.
NO_ANSWER = "7 g"
# Between the header and the hand-in bar.
SEEN = """places => places.every(place => {
  const {top, bottom} = place.getBoundingClientRect();
  const header = document.querySelector('.md-header').getBoundingClientRect().bottom;
  return top >= header && bottom <= document.querySelector('.dw-handin').getBoundingClientRect().top;
})"""
HINTS = "(form, open) => form.querySelectorAll('details.dw-hint:not(.dw-instead)').forEach(each => { each.open = open && !each.textContent.includes('takes'); })"


class Walk(Keys):
    def at(self, what):
        return self.page.evaluate(f"document.activeElement.{what} ?? ''")

    def to(self, what, wanted):
        """Tab to the next thing that is so."""
        for _ in range(14):
            if self.at(what) == wanted:
                return
            self.press("Tab")
        raise AssertionError(f"no way to {wanted} by Tab")

    def write(self, name, text):
        """Write in a box, or go to an option by the arrows."""
        self.to("name", name)
        if self.at("type") in ("text", "textarea"):
            self.press("Control+A")
            self.page.keyboard.insert_text(text)
            return
        if self.at("type") == "radio" and self.at("value") == text:
            self.press("Space")
        said = "value"
        if self.at("type") == "select-one":
            self.press("Home")
            said = "selectedOptions[0].label"
        for _ in range(8):
            if self.at(said) == text:
                return
            self.press("ArrowDown")
        raise AssertionError(f"no way to the option {text} by the arrows")

    def mark(self, form):
        """Enter marks; in a list it would unfold the list."""
        if self.at("type") == "select-one":
            self.to("type", "submit")
        self.press("Enter")
        expect(form.locator(".dw-marks")).to_be_visible()


def answers_of(drawn):
    if not drawn.is_free:
        return right_answers(drawn)
    lines = "\n".join(drawn.working.sentence(key) for key in drawn.working.steps)
    key = drawn.working.answer.key
    return {WORKING: lines, key: drawn.working.weighed(key)}


def slip_of(drawn, answers):
    """A wrong answer for each box: an order that begins with its second, another option, another weight."""
    if drawn.problem.ranking:
        return dict(
            zip(answers, [*list(answers.values())[1:], *list(answers.values())[:1]], strict=True)
        )
    if drawn.boxes:
        return {name: "b" if letter == "a" else "a" for name, letter in answers.items()}
    return {name: NO_ANSWER for name in answers if name != WORKING}


def in_sight(form, key):
    """Whether a box and its verdict are in the window together; of options the one that is chosen."""
    box, said = form.locator(f'[name="{key}"]'), form.locator(f'[data-said="{key}"]')
    expect(said.locator("li")).not_to_have_count(0)
    chosen = form.locator(f'[name="{key}"]:checked')
    box = chosen if box.first.get_attribute("type") == "radio" else box
    return form.page.evaluate(SEEN, [box.element_handle(), said.element_handle()])


def text_and_first_box_in_sight(form):
    seen = [form.locator(each).first for each in ("h3", "p", "input, select, textarea")]
    return form.page.evaluate(SEEN, [each.element_handle() for each in seen])


def slips(walk, form, answers):
    """Write what is wrong. However many hints are open, the first wrong box and its verdict are in sight."""
    for name, text in answers.items():
        box = form.locator(f'[name="{name}"]')
        if box.first.get_attribute("type") == "radio":
            form.locator(f'[name="{name}"][value="{text}"]').check()
        elif box.evaluate("each => each.localName") == "select":
            box.select_option(text)
        else:
            box.fill(text)
    tick = walk.page.locator(f'[data-tick="{form.get_attribute("data-problem")}"]')
    expect(tick).to_have_attribute("data-state", "begun")
    form.evaluate(HINTS, True)
    form.get_by_role("button", name="Mark my answer").focus()
    walk.page.keyboard.press("Enter")
    told = form.locator("[data-said]:has(.dw-wrong, .dw-out-of-order, .dw-unread)").first
    assert in_sight(form, told.get_attribute("data-said")), "wrong"
    form.evaluate(HINTS, False)
    form.locator("input, select, textarea").first.focus()


@pytest.mark.parametrize("kind", VISITS)
def test_a_set_is_done_to_its_hand_in_by_keyboard(context, page, address, kind):
    size, key = VISITS[kind]
    page.set_viewport_size(size)
    open_page(page, f"{address}practice/{key}/")
    walk, problems = Walk(page), load(key).problems
    # The first problem is there to be read and answered before anything is scrolled.
    assert text_and_first_box_in_sight(page.locator("form[data-problem]").first)
    page.get_by_label("Your name").focus()
    page.keyboard.type("Ada  Invented")
    expect(page.locator("[data-whose]")).to_have_text("These are your numbers.")
    walk.press("Enter")
    allowed = 0
    for number, each in enumerate(problems, 1):
        form = page.locator(f'form[data-problem="{each.id}"]')
        expect(form.locator("h3")).to_be_focused()
        expect(page.locator("form[data-problem]:visible")).to_have_count(1)
        assert text_and_first_box_in_sight(form), each.id
        drawn = draw(load(key), each, STUDENT)
        answers = answers_of(drawn)
        slips(walk, form, slip_of(drawn, answers))
        for name, text in answers.items():
            walk.write(name, text)
        walk.mark(form)
        onward = form.locator(".dw-onward-button")
        expect(onward).to_be_focused()
        expect(onward).to_be_in_viewport(ratio=1)
        assert in_sight(form, list(answers)[-1]), f"{each.id}, right"
        tick = page.locator(f'[data-tick="{each.id}"]')
        expect(tick).to_have_attribute("aria-label", f"Problem {number}, {each.title}: right")
        # To each box a Tab, past its hints two, and Control+A; to an option an arrow each. One Enter
        # marks, one goes on.
        allowed += 3 + 4 * len(answers) + sum(len(box.options) for box in drawn.boxes)
        # A focus that rests here tells the browser which page may be next: the way on stays what it is.
        expect(onward).to_have_attribute("data-ahead", "")
        walk.press("Enter")
    assert walk.presses <= allowed + 2
    finish = page.locator("[data-finish]")
    expect(finish.locator("h3")).to_be_focused()
    marks = sum(draw(load(key), each, STUDENT).out_of for each in problems)
    expect(finish).to_contain_text(f"Marks: {marks} of {marks}")
    expect(finish).to_contain_text("You can now")
    assert page.locator(".dw-handin").bounding_box()["height"] <= 44
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    with page.expect_download() as waiting:
        while page.evaluate("document.activeElement.dataset.action") != "hand-in":
            walk.press("Tab")
        walk.press("Enter")
    handed = json.loads(Path(waiting.value.path()).read_text("utf-8"))
    assert set(handed["answers"]) == {each.id for each in problems}
    page.go_back()
    expect(page.locator(f'form[data-problem="{problems[-1].id}"]')).to_be_visible()
    welcomed_back(
        page,
        address,
        key,
        f"✓ {marks} of {marks} marks, {len(problems)} of {len(problems)} problems tried",
    )
    if kind == "phone":
        tabs_keep_each_others_work([page, context.new_page()], address)


def welcomed_back(page, address, key, standing):
    """The list of sets knows how far one is; a set that is all right is not offered again."""
    open_page(page, address + "practice/")
    expect(page.locator(f'[data-standing="{key}"]')).to_have_text(standing)
    open_page(page, address)
    expect(page.locator("go-on p")).to_be_hidden()


def tabs_keep_each_others_work(tabs, address):
    """Two tabs on one set: what is typed and marked in one is in the other, and stays."""
    for tab in tabs:
        open_page(tab, f"{address}practice/at-the-bench/")
    numbers = [
        each.id for each in load("at-the-bench").problems if each.quantity and each.level < 3
    ]
    for tab, key in zip(tabs, numbers[:2], strict=True):
        expect(tab.locator("[data-whose]")).to_have_text("These are your numbers.")
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
