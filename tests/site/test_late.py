"""A slow device: the page is there long before its scripts, and they long before Python. What a reader does meanwhile counts.

Nothing here waits for time: scripts and questions are held back until the test lets them go.
"""

import json
import re

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.marking import right_answers
from exercises.problems import load
from tests.site.conftest import AWAKE, at_problem, open_page

PHONE = {"width": 360, "height": 740}
SCRIPTS = re.compile(r"/page/(joined|every-page)\.js")
STUDENT = "Ada Invented"
OWN = [{"key": f"own-{name}", "name": name, "water": "80 %"} for name in ("whey one", "whey two")]

# Questions to Python wait in the page until they are let go; each answer that came is counted.
HELD = """
const waiting = [];
let held = false;
window.asked = window.came = 0;
// The visitor's pages share a worker, each by a port of its own.
const {postMessage} = MessagePort.prototype;
MessagePort.prototype.postMessage = function (...given) {
  if (given[0]?.id === undefined) return postMessage.apply(this, given);
  window.asked += 1;
  this.heard ??= this.addEventListener('message', ({data}) => { window.came += 'answer' in data ? 1 : 0; }) ?? true;
  if (!held) return postMessage.apply(this, given);
  waiting.push([this, given]);
};
window.hold = () => { held = true; };
window.waiting = () => waiting.length;
window.letGo = () => {
  held = false;
  for (const [port, given] of waiting.splice(0)) postMessage.apply(port, given);
};
"""


@pytest.fixture
def page(page):
    page.set_viewport_size(PHONE)
    page.add_init_script(HELD)
    return page


class Asleep:
    """A page whose scripts have not come yet."""

    def __init__(self, page, address):
        self.page = page
        self.held = []
        page.route(SCRIPTS, lambda route: self.held.append(route))
        page.goto(address, wait_until="commit")
        page.wait_for_function("() => document.readyState !== 'loading'")

    def wake(self):
        for each in self.held:
            each.continue_()
        self.page.unroute(SCRIPTS)


def hold(page):
    page.evaluate("hold()")


def let_go(page, questions=1):
    """Let Python answer so many questions, as soon as they wait for it; done when the page has heard them all."""
    page.wait_for_function("(many) => waiting() >= many", arg=questions)
    page.evaluate("letGo()")
    answered(page)


def answered(page):
    """Wait until Python has answered all that it was asked."""
    page.wait_for_function("() => came === asked && !waiting()")


# Before the scripts.


def test_an_answer_that_is_written_and_pressed_before_the_script_is_marked(page, address):
    for where in ("practice/first-swaps/", "lessons/finding-the-water/"):
        asleep = Asleep(page, address + where)
        at = page.url
        form = page.locator(".dw-step:visible form, form[data-problem]").first
        box = form.locator("input").first
        box.fill("123 g")
        form.locator("summary").first.click()
        form.get_by_role("button", name=re.compile("^(Mark my answer|Check)$")).click()
        asleep.wake()
        expect(form.locator("[data-said]").first).not_to_be_empty()
        expect(box).to_have_value("123 g")
        assert page.url == at


def test_the_problem_one_writes_in_stays_when_the_script_comes(page, address):
    asleep = Asleep(page, address + "practice/first-swaps/")
    box = page.locator('form[data-problem="salt-check"] input').first
    box.fill("3")
    asleep.wake()
    expect(page.locator('form[data-problem="small-batch"]')).to_be_hidden()
    expect(box).to_be_focused()
    expect(box).to_be_in_viewport()
    expect(box).to_have_value("3")


# In a page that its parts wake in, nothing above these goes or comes: the last field of each, and a button or link below it.
STAND = {
    "swap/": "liquid-swap [data-form-acts]",
    "balance/": "balance-formula [name=hold-fat]",
    "blends/": "preferment-form [name=ahead]",
    "side-by-side/": "side-by-side [name=liquid1]",
    "desk/print/": "set-printer [name=names]",
    "desk/mark/": "class-marker [name=scale]",
    "desk/": "desk-shelf [data-kept]",
    "practice/given/": "given-set .dw-note",
    "lessons/finding-the-water/": ".dw-step .dw-check >> nth=2",
    "reference/ingredients/": "ingredient-table [name=find]",
}


def test_nothing_moves_when_the_scripts_come(page, address):
    for where, selector in STAND.items():
        asleep = Asleep(page, address + where)
        page.evaluate("() => document.fonts.ready")
        stands = page.locator(selector).first
        before = stands.bounding_box()["y"] + page.evaluate("scrollY")
        asleep.wake()
        page.wait_for_function(AWAKE)
        assert stands.bounding_box()["y"] + page.evaluate("scrollY") == pytest.approx(
            before, abs=2
        ), where


def test_what_is_pressed_before_the_script_counts_once(page, address):
    asleep = Asleep(page, address + "practice/study/")
    for _ in range(2):
        page.get_by_role("button", name="Give me a problem").click()
    page.evaluate("hold()")
    asleep.wake()
    let_go(page, questions=2)
    expect(page.locator("study-plan form[data-problem] h3")).to_be_visible()
    kept = page.evaluate("localStorage.getItem('doughwater/study/problem')")
    assert json.loads(kept)["draw"]


def test_a_desk_takes_what_was_chosen_and_typed_before_its_script(page, address):
    asleep = Asleep(page, address + "desk/mark/")
    page.get_by_label("The set in hand").select_option("finding-the-water")
    page.locator("class-marker").get_by_label("Names, one a line").fill(STUDENT)
    page.get_by_label("Keep this class’s names").check()
    asleep.wake()
    page.wait_for_function("() => localStorage.getItem('doughwater/class/list')")
    assert STUDENT in page.evaluate("localStorage.getItem('doughwater/class/list')")
    assert "finding-the-water" in page.evaluate("localStorage.getItem('doughwater/set-in-hand')")
    expect(page.get_by_label("The set in hand")).to_have_value("finding-the-water")


def test_an_ingredient_is_kept_that_was_sent_before_the_script(page, address):
    asleep = Asleep(page, address + "ingredients/")
    form = page.locator("own-ingredients form")
    form.get_by_label("Name", exact=True).fill("whey one")
    form.get_by_label("none of these").check()
    form.get_by_label("Water", exact=True).fill("93 %")
    form.get_by_label("Water", exact=True).press("Enter")
    asleep.wake()
    expect(page.locator("own-ingredients [data-output]")).to_contain_text("whey one")


def test_a_set_is_opened_that_was_pasted_before_the_script(page, address):
    asleep = Asleep(page, address + "practice/given/")
    page.get_by_label("Paste the link").fill("no set at all")
    page.get_by_role("button", name="Open it").click()
    asleep.wake()
    expect(page.locator("given-set > .dw-status")).to_contain_text("Not opened")


def test_the_table_is_searched_for_what_was_typed_before_the_script(page, address):
    asleep = Asleep(page, address + "reference/ingredients/")
    page.locator("ingredient-table input[type=search]").fill("kefir")
    page.locator("ingredient-table input[type=search]").press("Enter")
    asleep.wake()
    expect(page.locator("ingredient-table tbody tr:visible").first).to_contain_text("efir")
    expect(
        page.locator("ingredient-table tbody tr:visible", has_text="whole milk (3.7")
    ).to_have_count(0)


def test_a_tool_computes_what_was_sent_before_the_script(page, address):
    asleep = Asleep(page, address + "swap/")
    page.get_by_label("Flour", exact=True).first.fill("1234 g")
    page.get_by_label("Flour", exact=True).first.press("Enter")
    answer = page.locator("liquid-swap .dw-answer").first
    first = answer.inner_text()
    asleep.wake()
    expect(answer).not_to_have_text(first)
    expect(page).to_have_url(re.compile(r"swap/\?flour=1234\+g$"))


def test_a_result_of_the_bake_is_kept_that_was_typed_before_the_script(page, address):
    asleep = Asleep(page, address + "side-by-side/")
    box = page.locator(".dw-loaves input").first
    box.fill("312")
    asleep.wake()
    page.wait_for_function(
        "() => Object.keys(localStorage).some((key) => key.startsWith('doughwater/side-by-side/'))"
    )
    expect(box).to_have_value("312")


# Before Python answers.


def test_what_is_written_over_a_marked_answer_has_no_verdict(page, address):
    open_page(page, address + "lessons/finding-the-water/")
    form = page.locator(".dw-step:visible form").first
    box = form.locator("input").first
    box.fill("1 g")
    hold(page)
    form.get_by_role("button", name="Check", exact=True).click()
    box.fill("2 g")
    let_go(page)
    expect(form.locator("[data-said]").first).not_to_be_empty()
    expect(box).not_to_have_attribute("data-verdict")
    expect(box).to_be_focused()
    # The same after a reload: what is kept is no verdict on it either.
    open_page(page, page.url)
    expect(box).to_have_value("2 g")
    expect(box).not_to_have_attribute("data-verdict")


def test_a_marking_takes_nobody_away_from_what_is_begun_since(page, address):
    open_page(page, address + "practice/first-swaps/")
    page.locator("[data-show-all]").click()
    swaps = load("first-swaps")
    sample = draw(swaps, swaps.problem("salt-check"), "")
    form = at_problem(page, "salt-check")
    for name, answer in right_answers(sample).items():
        form.locator(f'[name="{name}"]').fill(answer)
    hold(page)
    form.get_by_role("button", name="Mark my answer").click()
    box = page.locator("form[data-problem] input").first
    box.focus()
    page.keyboard.insert_text("3")
    let_go(page)
    expect(form.locator(".dw-onward-button").first).to_be_attached()
    expect(box).to_be_focused()
    expect(box).to_be_in_viewport()


def test_a_name_brings_numbers_and_leaves_what_is_written_and_unfolded(page, address):
    open_page(page, address + "practice/first-swaps/")
    page.get_by_text("About this set and your name").click()
    hold(page)
    page.get_by_label("Your name").fill(STUDENT)
    page.get_by_label("Your name").blur()
    page.locator('[data-tick="milk-in-the-dough"]').click()
    form = page.locator('form[data-problem="milk-in-the-dough"]')
    hints = form.locator("summary", has_text="Hint: a question")
    hints.first.click()
    box = form.get_by_role("textbox").nth(1)
    box.fill("68")
    box.evaluate("box => box.setSelectionRange(1, 1)")
    let_go(page)
    expect(page.locator("problem-set")).to_have_attribute("data-named", "")
    folds = form.locator("details", has=page.locator("summary", has_text="Hint: a question"))
    expect(folds.first).to_have_attribute("open", "")
    expect(folds.nth(1)).not_to_have_attribute("open")
    expect(box).to_be_focused()
    assert box.evaluate("box => box.selectionStart") == 1
    page.keyboard.insert_text("1")
    expect(box).to_have_value("618")


def test_of_problems_asked_for_twice_one_comes_and_stays(page, address):
    open_page(page, address + "practice/study/")
    expect(page.locator("[data-counted]")).to_have_text("0 attempts")
    hold(page)
    for _ in range(2):
        page.get_by_role("button", name="Give me a problem").click()
    page.evaluate(
        "() => { window.shown = 0; new MutationObserver(() => { shown += 1; })"
        ".observe(document.querySelector('study-plan [data-output]'), {childList: true}); }"
    )
    let_go(page, questions=2)
    expect(page.locator("study-plan form[data-problem] h3")).to_be_visible()
    assert page.evaluate("shown") == 1


def test_a_button_that_is_pressed_while_the_answer_comes_is_pressed(page, address):
    open_page(page, address + "practice/study/")
    expect(page.locator("[data-counted]")).to_have_text("0 attempts")
    page.get_by_role("button", name="Give me a problem").click()
    form = page.locator("study-plan form[data-problem]")
    expect(form).to_be_visible()
    hold(page)
    form.get_by_role("button", name="Mark my answer").click()
    button = page.get_by_role("button", name="Practise: ").first
    button.scroll_into_view_if_needed()
    button.hover()
    page.mouse.down()
    let_go(page)
    asked = page.evaluate("asked")
    page.mouse.up()
    page.wait_for_function("(before) => asked > before", arg=asked)


def test_an_answered_question_leaves_what_is_written_to_the_next(page, address):
    open_page(page, address + "swap/")
    page.locator("details.dw-fold > summary").first.click()
    page.get_by_label("A recipe, as it is written").fill("500 g flour\n1,300 g water\nsalt\nbutter")
    part = page.locator("recipe-text")
    weights = part.get_by_label("or how much it is")
    expect(weights).to_have_count(2)
    hold(page)
    weights.first.fill("10 g")
    weights.first.blur()
    weights.nth(1).focus()
    page.keyboard.insert_text("2")
    let_go(page)
    expect(weights).to_have_count(2)
    expect(weights.nth(1)).to_have_value("2")
