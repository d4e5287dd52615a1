"""A set given out from the desk, and opened by a student: one walk from the teacher's page to the hand-in."""

import json
import re

from playwright.sync_api import expect

from exercises import set_link
from exercises.collect import doubts
from exercises.handin import read_handin
from exercises.problems import read_set
from tests.exercises.set_texts import EVERY_KIND
from tests.hostile import SCRIPTS
from tests.site.conftest import at_problem, open_page

FILE = "monday.yml"
STUDENT = "Ada Invented"
HOSTILE = json.dumps(SCRIPTS[1] + SCRIPTS[0])


def test_from_the_desk_to_the_hand_in(page, address):
    text = EVERY_KIND.replace("title: Every kind", f"title: {HOSTILE}", 1)
    open_page(page, address + "desk/give/")
    expect(page.get_by_label("The link to this set")).to_have_value(
        address + "practice/first-swaps/"
    )
    page.evaluate(
        """([file, text]) => {
          localStorage.setItem('doughwater/set/' + file, JSON.stringify(text));
          localStorage.setItem('doughwater/set-in-hand', JSON.stringify({file}));
        }""",
        [FILE, text],
    )
    open_page(page, address + "desk/give/")
    expect(page.get_by_label("The link to this set")).to_have_value(
        set_link.link(address, set_link.to_give(text, FILE))
    )
    expect(page.get_by_role("img", name="QR code")).to_be_visible()
    page.get_by_label("Due, on your clock").fill("2030-03-06T18:00")
    page.get_by_label("Due, on your clock").blur()
    message = page.get_by_label("A message to send with it")
    expect(message).to_have_value(re.compile("6 March 2030, 18:00"))
    link = page.get_by_label("The link to this set").input_value()

    # A student: the fragment is all that there is, the title is text, nothing of it runs.
    page.evaluate("localStorage.clear()")
    page.goto("about:blank")
    open_page(page, link)
    expect(page.get_by_text("from outside this site")).to_be_visible()
    expect(page.get_by_role("heading", name=json.loads(HOSTILE))).to_be_visible()
    expect(page.get_by_text("Due: Wednesday, 6 March 2030")).to_be_visible()
    assert page.evaluate("window.taken") is None
    page.get_by_label("Your name").fill(STUDENT)
    page.get_by_label("Your name").blur()
    expect(page.locator(".dw-whose")).to_have_text(re.compile(STUDENT))
    why = at_problem(page, "why")
    why.get_by_role("radio").first.check()
    why.get_by_role("button", name="Mark my answer").click()
    expect(why.locator("[data-feedback]")).to_contain_text("marks")

    # Later, in the same browser: what was written is still there, and the set is listed.
    open_page(page, address + "practice/given/")
    page.get_by_text("Sets that were opened on this device").click()
    page.get_by_role("button", name="Remove: ").click()
    expect(page.get_by_text("Sets that were opened on this device")).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    page.get_by_text("Sets that were opened on this device").click()
    page.get_by_role("link", name=json.loads(HOSTILE)).click()
    at_problem(page, "why")
    expect(why.get_by_role("radio").first).to_be_checked()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save hand-in file").click()
    handin = read_handin(waiting.value.path().read_text("utf-8"))
    given = read_set(text, FILE)
    assert handin.content == given.content
    assert handin.answers["why"]["question 1"]
    assert not list(doubts(handin, given))

    # A link that mail has cut says so, and loses nothing of what is open.
    page.get_by_text("Open a set", exact=True).click()
    page.get_by_label("Paste the link").fill(link[:-40])
    page.get_by_role("button", name="Open it").click()
    expect(page.locator("given-set > .dw-status")).to_contain_text("cut short")
    expect(why).to_be_visible()


def test_the_finish_of_a_given_set_has_the_picture_of_ours(page, address):
    one = EVERY_KIND[: EVERY_KIND.index("  - id: order")]
    open_page(page, set_link.link(address, set_link.to_give(one, FILE)))
    form = page.locator('form[data-problem="why"]')
    expect(form).to_be_visible()
    for question in form.get_by_role("group").all():
        question.get_by_role("radio").last.check()
    form.get_by_role("button", name="Mark my answer").click()
    form.get_by_role("link", name="Finish the set").click()
    expect(page.locator("[data-finish] h3")).to_be_focused()
    expect(page.locator("[data-finish] > .dw-picture svg")).to_be_visible()
