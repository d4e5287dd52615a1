"""The exercise page in a real browser, and the same answers at the terminal."""

import json
import re

import pytest
from bs4 import BeautifulSoup
from playwright.sync_api import expect

from calc.units import PLAIN, Style
from docs.parts.shared.problem import form as problem_form
from exercises.cli import main
from exercises.draws import draw
from exercises.handin import read_handin, unpack
from exercises.problems import load
from exercises.publish.html import write
from tests.site.conftest import at_problem, open_page

STUDENT = "Ada Invented"


@pytest.fixture
def practice(page, address):
    """The exercise page with the student's numbers."""
    open_page(page, address + "practice/first-swaps/")
    page.get_by_label("Your name").fill(STUDENT)
    page.get_by_label("Your name").press("Tab")
    expect(page.locator("problem-set .dw-status")).to_contain_text("These are your numbers")
    return page


problem = at_problem


def drawn(problem_id):
    problem_set = load("first-swaps")
    return draw(problem_set, problem_set.problem(problem_id), STUDENT)


def answer(page, problem_id, **answers):
    form = problem(page, problem_id)
    for step, text in answers.items():
        form.locator(f'input[name="{step}"]').fill(text)
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback > *")).not_to_have_count(0)
    return form


def test_the_page_draws_the_numbers_the_terminal_draws(practice):
    for each in load("first-swaps").problems:
        story = problem(practice, each.id).locator("p").first.inner_text().replace("\u00a0", " ")
        assert story == " ".join(drawn(each.id).story.split())


def test_marks_right_wrong_and_follow_through(practice):
    working = drawn("yogurt-loaf").working
    right = working.weighed("liquid")
    expect(answer(practice, "yogurt-loaf", liquid=right)).to_contain_text("2 of 2 marks")
    said = answer(
        practice,
        "yogurt-loaf",
        water="100 g",
        liquid=f"{100 / working.values()['water content']:.1f} g",
    )
    expect(said).to_contain_text("1 of 2 marks")
    expect(said).to_contain_text("right from your own figure")


def test_names_the_mistake_and_links_the_lesson(practice, address):
    values = drawn("yogurt-loaf").working.values()
    said = answer(practice, "yogurt-loaf", liquid=f"{values['water']:.0f} g")
    expect(said).to_contain_text("gram for gram")
    link = said.get_by_role("link", name="Read again").first
    link.click()
    expect(practice.get_by_role("heading", name="Gram for gram")).to_be_in_viewport()


def test_what_cannot_be_read_costs_no_try_and_is_kept(practice):
    said = answer(practice, "small-batch", liquid="128 ml")
    expect(said).to_contain_text("measures volume")
    assert (
        problem(practice, "small-batch").locator('input[name="liquid"]').input_value() == "128 ml"
    )
    expect(said).not_to_contain_text("Tries left")
    for left in (2, 1):
        said = answer(practice, "small-batch", liquid=f"{left}000 g")
        expect(said).to_contain_text(f"Tries left before the worked solution: {left}")
    expect(answer(practice, "small-batch", liquid="5 g")).to_contain_text("The worked solution")


def test_hints_open_one_after_the_other(practice):
    form = problem(practice, "yogurt-loaf")
    relation = form.get_by_text("water needed ÷ water content").first
    expect(relation).to_be_hidden()
    form.get_by_text("Hint: a question").nth(1).click()
    form.get_by_text("More: the size check").nth(1).click()
    expect(form.get_by_text("It must come to more than your figure").first).to_be_visible()
    form.get_by_text("More: the relation").nth(1).click()
    expect(relation).to_be_visible()


def test_how_an_answer_is_read_is_told_before_it_is_marked(practice):
    form = problem(practice, "milk-in-the-dough")
    form.locator('[name="hydration"]').press_sequentially("0.62")
    said = form.locator('[data-read="hydration"]')
    expect(said).to_have_text("Read as 62 %, not 0.62 %.")
    expect(form.locator(".dw-marks")).to_have_count(0)
    form.locator('[name="hydration"]').fill("62 %")
    expect(said).to_have_text("")
    form.locator('[name="water"]').fill("100 × 0.88 = 89 g")
    expect(form.locator('[data-read="water"]')).to_contain_text("Your sum gives 88, not 89.")


def test_lines_of_working_are_marked_kept_and_praised(practice):
    """At level 3 no box names a step; the lines are typed as on paper."""
    form = problem(practice, "fat-comes-along")
    expect(form.locator("input")).to_have_count(1)
    working = drawn("fat-comes-along").working
    lines = [working.sentence(key) for key in working.steps]
    form.locator("textarea").press_sequentially("\n".join(["17 × 23 = 391", lines[0]]))
    form.get_by_role("button", name="Mark my answer").click()
    said = form
    expect(said).to_contain_text("1 of 4 marks")
    expect(said).to_contain_text("3 steps of the plan are not shown yet.")
    expect(said).to_contain_text("“17 × 23 = 391” leads to nothing that this problem needs.")
    form.locator("textarea").fill("\n".join(reversed(lines)))
    form.get_by_role("button", name="Mark my answer").click()
    expect(said).to_contain_text("4 of 4 marks")
    expect(said).to_contain_text("Well done: you compared with the flour")
    practice.reload()
    expect(problem(practice, "fat-comes-along").locator("textarea")).to_have_value(
        "\n".join(reversed(lines))
    )


def test_another_with_new_numbers_is_one_press_away(practice):
    said = answer(practice, "salt-check", weight=drawn("salt-check").working.weighed("weight"))
    story = drawn("salt-check").story
    said.get_by_role("link", name="Another with new numbers").click()
    form = practice.locator('study-plan form[data-problem="salt-check"]')
    expect(form).to_be_visible()
    expect(form).not_to_contain_text(" ".join(story.split()))
    expect(form.get_by_role("heading")).to_be_focused()


def test_answers_survive_a_reload(practice):
    answer(practice, "salt-check", weight="31 g")
    practice.reload()
    box = problem(practice, "salt-check").locator('input[name="weight"]')
    expect(box).to_have_value("31 g")


def test_the_handin_file_gets_the_same_marks_at_the_terminal(practice, tmp_path, capsys):
    for each in load("first-swaps").problems[:4]:
        working = drawn(each.id).working
        key = working.answer.key
        expect(answer(practice, each.id, **{key: working.weighed(key)})).to_contain_text(
            "marks" if len(working.steps) > 1 else "1 of 1"
        )
    total = practice.locator("[data-total]").inner_text()
    with practice.expect_download() as waiting:
        practice.get_by_role("button", name="Save hand-in file").click()
    path = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(path)
    assert json.loads(path.read_text("utf-8"))["student"] == STUDENT
    assert main(["mark", str(path)]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith(f"{STUDENT}: First swaps")
    assert total in printed
    assert total != "Marks: 0 of 19"


def test_the_copied_text_gets_the_same_marks_at_the_terminal(practice, context, tmp_path, capsys):
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    right = drawn("yogurt-loaf").working.weighed("liquid")
    expect(answer(practice, "yogurt-loaf", liquid=right)).to_contain_text("2 of 2 marks")
    practice.get_by_role("button", name="Copy as text").click()
    expect(practice.locator("problem-set .dw-status")).to_contain_text("Copied")
    # The page says so before the clipboard has it.
    read = practice.wait_for_function("() => navigator.clipboard.readText()")
    path = tmp_path / "pasted.txt"
    path.write_text(read.json_value(), "utf-8")
    assert main(["mark", str(path)]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith(f"{STUDENT}: First swaps")
    assert "Marks: 2 of 19" in printed


def test_where_the_clipboard_is_refused_the_text_is_shown(page, address):
    page.add_init_script("navigator.clipboard.writeText = () => Promise.reject(new Error('no'))")
    open_page(page, address + "practice/first-swaps/")
    page.get_by_label("Your name").fill(STUDENT)
    page.get_by_role("button", name="Copy as text").click()
    box = page.get_by_label("Your hand-in as text")
    expect(box).to_be_visible()
    assert unpack(box.input_value()).student == STUDENT


def test_a_handin_without_a_name_asks_for_it(page, address):
    open_page(page, address + "practice/first-swaps/")
    page.get_by_role("button", name="Save hand-in file").click()
    expect(page.locator("problem-set .dw-complaint")).to_contain_text("Write your name")


def test_a_name_is_only_text(page, address):
    open_page(page, address + "practice/first-swaps/")
    page.get_by_label("Your name").fill("<img src=x onerror=alert(1)>")
    page.get_by_label("Your name").press("Tab")
    expect(page.locator("problem-set .dw-status")).to_contain_text("your numbers")
    assert page.locator("problem-set img").count() == 0


def test_a_store_that_is_denied_does_not_stop_the_marking(context, address):
    page = context.new_page()
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('denied'); }})"
    )
    open_page(page, address + "practice/first-swaps/")
    form = problem(page, "water-for-rolls")
    form.locator("input").fill("1 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 1")


def test_choices_orders_and_tables_in_the_page(page, address):
    open_page(page, address + "practice/what-rides-along/")
    page.get_by_label("Your name").fill(STUDENT)
    page.get_by_label("Your name").press("Tab")
    status = page.locator("problem-set .dw-status")
    expect(status).to_contain_text("These are your numbers")
    rides = load("what-rides-along")

    why = problem(page, "why-heavier")
    why.get_by_label("more than 325 g").check()
    why.get_by_label("the acid takes up water").check()
    why.get_by_role("button", name="Mark my answer").click()
    expect(why.locator(".dw-feedback")).to_contain_text("1 of 2 marks")
    expect(why).to_contain_text("The acid changes the feel")

    order = problem(page, "most-needed-first")
    names = ["heavy cream", "half and half", "evaporated milk", "buttermilk"]
    for place, name in enumerate(names, 1):
        order.get_by_label(f"Place {place}").select_option(label=name)
    order.get_by_role("button", name="Mark my answer").click()
    expect(order.locator(".dw-feedback")).to_contain_text("3 of 4 marks")

    table = problem(page, "whole-formula")
    working = draw(rides, rides.problem("whole-formula"), STUDENT).working
    for key in working.steps:
        table.locator(f'input[name="{key}"]').fill(working.weighed(key))
    table.get_by_text("Hint: a question").first.click()
    table.get_by_text("More: the size check").first.click()
    table.get_by_text("More: the relation").first.click()
    table.get_by_text("More: the numbers put in").first.click()
    table.get_by_role("button", name="Mark my answer").click()
    expect(table.locator(".dw-feedback")).to_contain_text("6.5 of 7 marks (hints took 0.5)")

    page.reload()
    expect(why.get_by_label("more than 325 g")).to_be_checked()
    expect(order.get_by_label("Place 1")).to_have_value(re.compile("[a-d]"))


def test_an_answer_sent_while_the_numbers_come_is_marked_where_it_is_seen(page, address):
    """A name that is typed and left by a click on the button asks for numbers and marks at once."""
    open_page(page, address + "practice/first-swaps/")
    page.get_by_label("Your name").press_sequentially("Ada Invented")
    page.keyboard.press("Tab")
    box = page.locator('form[data-problem="water-for-rolls"] input[name="water"]')
    box.focus()
    page.keyboard.type("5 g")
    page.keyboard.press("Enter")
    expect(page.locator('form[data-problem="water-for-rolls"]')).to_contain_text("0 of 1 mark")
    expect(box).to_be_focused()
    expect(box).to_have_value("5 g")


@pytest.mark.usefixtures("newcomer")
def test_both_ways_to_hand_in_tell_when_it_was_saved(page, address, tmp_path):
    page.add_init_script("navigator.clipboard.writeText = () => Promise.reject(new Error('no'))")
    page.clock.install(time=1_790_000_000)
    open_page(page, address + "practice/first-swaps/")
    page.get_by_label("Your name").fill(STUDENT)
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save hand-in file").click()
    path = tmp_path / "saved.json"
    waiting.value.save_as(path)
    page.get_by_role("button", name="Copy as text").click()
    box = page.get_by_label("Your hand-in as text")
    expect(box).to_be_visible()
    for text in (path.read_text("utf-8"), box.input_value()):
        assert 1_790_000_000 <= read_handin(text).saved < 1_790_003_600


@pytest.mark.parametrize(
    ("style", "to"), [(PLAIN, "to the gram"), (Style(decimal=",", mass="oz"), "to 0,1 oz")]
)
def test_the_answers_box_says_to_what_to_round_and_the_heading_its_level(style, to):
    problem_set = load("first-swaps")
    drawn = draw(problem_set, problem_set.problem("yogurt-loaf"), "Ada")
    form = BeautifulSoup(write(problem_form("first", 1, drawn, style)), "html.parser")
    first, last = (
        label.get_text().replace("\u00a0", " ") for label in form.select(".dw-answer-box > label")
    )
    assert last.endswith(f"(the answer, {to})")
    assert "(" not in first
    assert form.find("small").get_text().startswith(f"level {drawn.problem.level}, ")
