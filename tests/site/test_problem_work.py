"""A student's way through a set in a real browser: name, answers, marks, the next day, hand-in."""

import re

import pytest
from playwright.sync_api import expect

from exercises.draws import draw
from exercises.marking import right_answers
from exercises.problems import load
from tests.site.conftest import at_problem, open_page

STUDENT = "Ada Invented"
PHONE = {"width": 360, "height": 640}


problem = at_problem


def mark(form, **answers):
    """Write answers, have them marked, and give what is said."""
    for step, text in answers.items():
        form.locator(f'[name="{step}"]').fill(text)
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback > *")).not_to_have_count(0)
    return form


def status(page):
    return page.locator("problem-set .dw-handin .dw-status")


def name(page, student):
    page.get_by_label("Your name").fill(student)
    page.get_by_label("Your name").press("Tab")
    expect(status(page)).to_have_text(
        "These are your numbers." if student else "These are sample numbers."
    )


def opened(page, address, key="first-swaps", student=STUDENT):
    open_page(page, f"{address}practice/{key}/")
    if student:
        name(page, student)
    return page


def test_sample_numbers_say_that_they_cannot_be_handed_in_and_come_back(page, address):
    opened(page, address, student="")
    form, who = problem(page, "water-for-rolls"), page.get_by_label("Your name")
    said = mark(form, water="5 g")
    expect(said).to_contain_text("you cannot hand them in")
    said.get_by_role("link", name="Write your name").click()
    expect(who).to_be_focused()
    expect(who).to_be_in_viewport()
    beside = page.locator("[data-samples]")
    expect(beside).to_be_empty()
    name(page, STUDENT)
    expect(beside).to_contain_text("Empty the name to see them again")
    expect(form.locator("input")).to_have_value("")
    expect(said.locator(".dw-feedback")).to_be_empty()
    expect(mark(form, water="6 g")).to_contain_text("0 of 1 mark")
    expect(said).not_to_contain_text("hand them in")
    name(page, "")
    expect(beside).to_be_empty()
    expect(form.locator("input")).to_have_value("5 g")
    expect(said).to_contain_text("0 of 1 mark")


def test_a_marking_is_there_the_next_day_and_the_same_answer_costs_no_try(page, address):
    opened(page, address)
    form = problem(page, "water-for-rolls")
    left = "Tries left before the worked solution: "
    expect(mark(form, water="5")).to_contain_text(f"{left}2")
    page.reload()
    said, box = form, form.locator("input")
    expect(said).to_contain_text("0 of 1 mark")
    expect(said).to_contain_text(f"{left}2")
    expect(box).to_have_value("5")
    expect(box).to_have_attribute("data-verdict", "wrong")
    for again in ("5", "5 g", "0.005 kg"):
        mark(form, water=again)
        expect(box).to_have_attribute("data-verdict", "wrong")
        expect(said).to_contain_text(f"{left}2")
    expect(mark(form, water="6 g")).to_contain_text(f"{left}1")
    expect(mark(form, water="lots")).to_contain_text("cannot read a number")
    expect(said).not_to_contain_text("The worked solution")
    expect(mark(form, water="7 g")).to_contain_text("The worked solution")


def test_what_was_changed_after_its_marking_has_no_verdict_after_a_reload(page, address):
    opened(page, address)
    form = problem(page, "yogurt-loaf")
    expect(mark(form, water="5 g", liquid="600 g")).to_contain_text("0 of 2 marks")
    form.locator('[name="liquid"]').fill("7 g")
    page.reload()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 2 marks")
    expect(form.locator('[name="liquid"]')).to_have_value("7 g")
    expect(form.locator('[name="water"]')).to_have_attribute("data-verdict", "wrong")
    assert form.locator('[name="liquid"]').get_attribute("data-verdict") is None


@pytest.mark.parametrize("size", [PHONE, {"width": 1280, "height": 900}], ids=["phone", "desk"])
def test_a_handin_is_called_after_the_student_and_says_what_is_empty_beside_the_button(
    page, context, address, size
):
    page.set_viewport_size(size)
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    opened(page, address)
    save = page.get_by_role("button", name="Save hand-in file")
    if size is PHONE:
        page.get_by_role("button", name="Hand in", exact=True).click()
    page.mouse.wheel(0, 600)
    with page.expect_download() as waiting:
        save.click()
    assert waiting.value.suggested_filename == "Ada-Invented-first-swaps.json"
    expect(status(page)).to_have_text("The hand-in file is saved. All 9 problems are empty.")
    expect(status(page)).to_be_in_viewport(ratio=1)
    expect(mark(problem(page, "water-for-rolls"), water="5 g")).to_contain_text("0 of 1 mark")
    page.get_by_role("button", name="Copy as text").click()
    expect(status(page)).to_contain_text("8 of 9 problems are empty.")
    expect(status(page)).to_contain_text("Copied. Paste it")
    expect(status(page)).to_be_in_viewport(ratio=1)
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= size["width"]


def test_without_a_name_the_reason_stands_beside_the_button(page, address):
    opened(page, address, student="")
    page.get_by_role("button", name="Save hand-in file").click()
    expect(status(page)).to_contain_text("Not handed in yet. Write your name")
    expect(status(page)).to_be_in_viewport(ratio=1)
    expect(page.get_by_label("Your name")).to_be_focused()


def test_right_answers_stand_where_the_others_stand(page, address):
    opened(page, address)
    drawn = draw(load("first-swaps"), load("first-swaps").problem("yogurt-loaf"), STUDENT)
    said = mark(problem(page, "yogurt-loaf"), **right_answers(drawn))
    expect(said).to_contain_text("2 of 2 marks")
    for line in (said.locator(".dw-marks"), said.locator(".dw-verdicts li").first):
        expect(line).to_have_css("text-align", "start")
    page.goto(address + "teachers/mark/")
    expect(page.locator("td.dw-cell-center").first).to_have_css("text-align", "center")


def test_a_ranking_speaks_of_order_and_its_solution_gives_the_figures(page, address):
    student = "Mia Invented"
    opened(page, address, "divide-by-the-water-content", student)
    ours = load("divide-by-the-water-content")
    drawn = draw(ours, ours.problem("most-of-it-first"), student)
    right = list(right_answers(drawn).values())
    form = problem(page, "most-of-it-first")
    for place, item in enumerate([*right[1:], right[0]], 1):
        form.get_by_label(f"Place {place}").select_option(label=item)
    said = mark(form)
    expect(said).to_contain_text("These are in the right order")
    expect(said).to_contain_text("belongs before", ignore_case=True)
    expect(said).not_to_contain_text("right.")
    for place in range(1, 5):
        form.get_by_label(f"Place {place}").select_option(label=right[0])
    expect(mark(form)).to_contain_text("is chosen 4 times")
    expect(said).to_contain_text("0 of 4 marks")
    for place, item in enumerate(right, 1):
        form.get_by_label(f"Place {place}").select_option(label=item)
    expect(mark(form)).to_contain_text("4 of 4 marks")
    said.get_by_text("The worked solution").click()
    expect(said.locator("ol li").first).to_have_text(re.compile(rf"^{right[0]}: [\d.]+\s% water$"))


def test_the_list_of_sets_says_once_what_is_invented(page, address):
    page.goto(address + "practice/")
    assert page.locator("article").inner_text().count("invented") == 1


def test_on_a_phone_what_the_marking_says_comes_into_sight_above_the_bar(page, address):
    page.set_viewport_size(PHONE)
    opened(page, address)
    form = problem(page, "water-for-rolls")
    button = form.get_by_role("button", name="Mark my answer")
    form.locator("input").fill("5 g")
    # The button is at the end of the window, just above the bar.
    bar = page.locator(".dw-handin").bounding_box()
    page.evaluate("y => scrollBy(0, y)", button.bounding_box()["y"] + 50 - bar["y"])
    button.press("Enter")
    marks = form.locator(".dw-marks")
    expect(marks).to_have_text("0 of 1 mark")
    page.wait_for_function(
        """() => document.querySelector('.dw-verdicts li').getBoundingClientRect().bottom
           < document.querySelector('.dw-handin').getBoundingClientRect().top"""
    )
