"""Practising alone, in a real browser: the plan, the log on the device, and what can go wrong with it."""

import json
import re
import time

import pytest
from playwright.sync_api import expect

from calc.diagnosis import outcomes, rewritten
from docs.parts.study_plan import respond
from exercises import study
from exercises.marking import right_answers
from exercises.skills import exercises, trained
from tests.site.conftest import at_problem, open_page

STUDENT = "Ada Invented"
LOG = "doughwater/study/log"
DENIED = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('denied'); }})"
FULL = """
Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };
"""


def plan(page):
    return page.locator("study-plan")


def status(page):
    return plan(page).locator(".dw-status").first


def opened(page, address):
    return open_page(page, address + "practice/study/")


def practise(page, skill="swap one liquid for another"):
    """Ask for a problem of a skill."""
    # A skill that is neither tried nor next is folded. The fold that is there in that moment: Python may write another.
    plan(page).evaluate("it => it.querySelector('.dw-fold')?.setAttribute('open', '')")
    plan(page).get_by_role("button", name=f"Practise: {skill}").click()


def give(page, skill="swap one liquid for another"):
    """Ask for a problem of a skill; the form, and the draw that the page shows."""
    practise(page, skill)
    form = plan(page).locator("form[data-problem]")
    expect(status(page)).to_contain_text(f"To practise: {skill}")
    return form


def shown(form):
    """The exercise on the screen."""
    title = form.locator("h3").inner_text()
    return next(
        each
        for each in exercises().values()
        if each.problem.id == form.get_attribute("data-problem") and each.problem.title in title
    )


def gram_for_gram(form, student="", number=1):
    """Answer the swap on the screen gram for gram; the numbers are drawn here too."""
    drawn = study.variant(shown(form), study.draw_name(student, number))
    story = " ".join(form.locator("p").first.inner_text().split())
    assert story == " ".join(drawn.story.split())
    last = drawn.working.answer.key
    slip = next(
        one.expression
        for one in rewritten(drawn.working, last)
        if one.mistake.key == "gram-for-gram"
    )
    answer = f"{outcomes(drawn.working, last, {last: slip})[0]:.1f} g"
    form.locator("input").last.fill(answer)
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-verdicts li")).not_to_have_count(0)
    expect(form).to_contain_text("gram for gram")
    return answer


def answer_rightly(form, drawn):
    """Fill in what is right, in boxes to write in or to choose from."""
    for key, text in right_answers(drawn).items():
        box = form.locator(f'[name="{key}"]')
        if drawn.items:
            box.select_option(label=text)
        else:
            box.fill(text)


def stored(page):
    return json.loads(page.evaluate(f"localStorage.getItem('{LOG}')") or "[]")


def attempt(key, skill, when, right=False, mistakes=()):
    return {
        "id": key, "problem": f"first-swaps/{key}", "skill": skill, "when": when,
        "marks": int(right), "out_of": 1, "mistakes": list(mistakes),
    }  # fmt: skip


def keep(page, text):
    """Have a log on the device before the page opens, once."""
    page.add_init_script(
        f"if (!sessionStorage.once) {{ sessionStorage.once = 1; localStorage.setItem('{LOG}', {json.dumps(text)}); }}"
    )


def test_without_scripts_the_skills_and_their_lessons_stand_there(without_scripts, address):
    page = without_scripts
    page.goto(address + "practice/study/")
    expect(plan(page)).to_contain_text("need scripts")
    plan(page).get_by_text("More skills").click()
    for skill in trained():
        link = plan(page).get_by_role("link", name=f"Read: {skill.name}", exact=True)
        assert page.request.get(link.evaluate("a => a.href")).ok
    assert plan(page).get_by_role("button").count() == 0


def test_the_first_answer_changes_nothing_that_stood_there(page, address):
    page.goto(address + "practice/study/")
    before = plan(page).locator("[data-plan]").inner_text()
    expect(plan(page).locator("[data-counted]")).to_have_text("0 attempts")
    assert plan(page).locator("[data-plan]").inner_text() == before


def test_a_wrong_answer_is_what_to_practise_next_and_stays_over_a_reload(page, address):
    page.add_init_script(f"localStorage.setItem('doughwater/student', '\"{STUDENT}\"')")
    form = give(opened(page, address))
    answer = gram_for_gram(form, STUDENT)
    first = plan(page).locator(".dw-next")
    for _ in range(2):
        expect(first).to_contain_text("Swap one liquid for another")
        expect(first).to_contain_text("wrong in the last 24 hours: you swapped gram for gram")
        assert len(stored(page)) == 1
        page.reload()
        expect(plan(page).locator("form[data-problem] input").last).to_have_value(answer)
        expect(form).to_contain_text("gram for gram")
        expect(form.locator("input").last).to_have_attribute("data-verdict", "wrong")
    assert STUDENT not in json.dumps(stored(page))
    first.get_by_role("link", name="Read first").click()
    expect(page.get_by_role("heading", name="Gram for gram")).to_be_in_viewport()


def test_the_same_numbers_count_once_and_new_numbers_move_on(page, address):
    form = give(opened(page, address))
    gram_for_gram(form)
    form.get_by_role("button", name="Mark my answer").click()
    expect(status(page)).to_contain_text("first try at these numbers counts")
    assert len(stored(page)) == 1
    plan(page).get_by_role("button", name="Give me a problem").click()
    expect(form.locator("h3")).not_to_contain_text(re.compile(r"\d\. "))
    expect(form.locator("h3")).to_be_focused()
    answer_rightly(form, study.variant(shown(form), "#2"))
    form.get_by_role("button", name="Mark my answer").click()
    row = plan(page).locator(".dw-skills li", has_text="Swap one liquid")
    expect(row).to_contain_text("Level 1 of 5. Right in the last 24 hours, due again in 1 day.")
    expect(row).to_contain_text("1 of 2 right")
    assert row.locator(".dw-filled").count() == 1
    expect(plan(page).locator(".dw-next")).to_contain_text("not tried yet")


@pytest.mark.parametrize("key", ["0", "z"])
def test_two_answers_in_one_second_keep_their_order(key):
    """Whatever their ids: the log knows whole seconds only."""
    wrong = attempt("yogurt-loaf", "swap", 1_800_000_000) | {"id": key}
    exercise = exercises()["first-swaps/small-batch"]
    answer = respond(
        {
            "action": "mark", "problem": exercise.key, "draw": "#2", "now": "1800000000",
            "log": json.dumps([wrong]),
            "answers": json.dumps(right_answers(study.variant(exercise, "#2"))),
        }
    )  # fmt: skip
    assert answer["attempts"][0]["when"] > wrong["when"]
    assert "Right in the last 24 hours" in answer["plan"]


def test_it_says_how_long_ago_and_what(page, address):
    old = attempt(
        "salt-check", "percentages", int(time.time()) - 3 * study.DAY - 60, False, ["whole-dough"]
    )
    keep(page, json.dumps([old]))
    expect(plan(opened(page, address)).locator(".dw-next")).to_contain_text(
        "last wrong 3 days ago: you counted on more than the flour"
    )


def test_the_practice_page_counts_too(page, address):
    open_page(page, address + "practice/first-swaps/")
    form = at_problem(page, "water-for-rolls")
    form.locator("input").last.fill("1 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 1")
    assert [each["skill"] for each in stored(page)] == ["hydration"]
    next_one = plan(opened(page, address)).locator(".dw-next")
    expect(next_one).to_contain_text("wrong in the last 24 hours")
    expect(next_one).to_contain_text("Find how wet a dough is")


def test_save_empty_undo_and_read_again(page, address, tmp_path):
    keep(
        page,
        json.dumps([attempt("yogurt-loaf", "swap", 5), attempt("salt-check", "percentages", 9)]),
    )
    row = plan(opened(page, address)).locator(".dw-skills li", has_text="Swap one liquid")
    expect(row).to_contain_text("0 of 1 right")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save the log to a file").click()
    path = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(path)
    assert [each.skill for each in study.read_log(path.read_text("utf-8"))] == [
        "swap",
        "percentages",
    ]

    page.get_by_role("button", name="Empty the log").click()
    expect(plan(page).get_by_role("dialog")).to_contain_text("removes 2 attempts")
    page.get_by_role("button", name="Keep it").click()
    expect(plan(page).get_by_role("dialog")).to_be_hidden()
    assert len(stored(page)) == 2
    page.get_by_role("button", name="Empty the log").click()
    page.get_by_role("button", name="Empty it").click()
    expect(row).to_contain_text("Not tried yet")
    assert stored(page) == []
    page.get_by_role("button", name="Undo").click()
    expect(row).to_contain_text("0 of 1 right")
    assert len(stored(page)) == 2

    page.get_by_role("button", name="Empty the log").click()
    page.get_by_role("button", name="Empty it").click()
    expect(row).to_contain_text("Not tried yet")
    page.get_by_label("Add a saved log").set_input_files(path)
    expect(status(page)).to_contain_text("2 attempts added from the file")
    expect(row).to_contain_text("0 of 1 right")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{", "not complete JSON"),
        (json.dumps({"format": study.FORMAT, "attempts": [attempt("<img src=x onerror=alert(1)>", "swap", 1)]}), "Attempt 1"),
        (" " * 3_000_000, "far too large"),
    ],
)  # fmt: skip
def test_a_bad_file_is_told_beside_its_box_and_adds_nothing(page, address, text, says):
    opened(page, address)
    page.get_by_label("Add a saved log").set_input_files(
        {"name": "log.json", "mimeType": "application/json", "buffer": text.encode()}
    )
    expect(plan(page).locator(".dw-log .dw-complaint")).to_contain_text(says)
    assert stored(page) == []
    assert plan(page).locator("img").count() == 0


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[{"id": "a", "whe', "cannot be read. It starts anew."),
        ('{"id": 5}', "cannot be read. It starts anew."),
        ("9" * 5000, "cannot be read. It starts anew."),
        ('[7, {"id": "<b>", "when": null}]', "2 attempts in the practice log cannot be read."),
    ],
)
def test_a_corrupted_log_is_told_in_a_line_and_practice_goes_on(page, address, text, says):
    keep(page, text)
    page.add_init_script("localStorage.setItem('doughwater/study/problem', '{\"answers\": [[]]}')")
    opened(page, address)
    expect(status(page)).to_contain_text(says)
    practise(page)
    form = plan(page).locator("form[data-problem]")
    expect(form).to_be_visible()
    answer = gram_for_gram(form)
    expect(form.locator("input").last).to_have_value(answer)
    expect(plan(page).locator(".dw-next")).to_contain_text("you swapped gram for gram")
    assert [each["skill"] for each in stored(page) if each.get("skill")] == ["swap"]


@pytest.mark.parametrize("broken", [DENIED, FULL], ids=["denied", "full"])
def test_a_store_that_takes_nothing_loses_no_answer(context, address, broken):
    # The theme itself complains of a denied store, so this page is not watched for errors.
    page = context.new_page()
    page.add_init_script(broken)
    form = give(opened(page, address))
    answer = gram_for_gram(form)
    expect(status(page)).to_contain_text("cannot keep your log now")
    expect(form.locator("input").last).to_have_value(answer)
    expect(plan(page).locator(".dw-next")).to_contain_text("you swapped gram for gram")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save the log to a file").click()
    saved = study.read_log(waiting.value.path().read_text("utf-8"))
    assert [each.mistakes for each in saved] == [("gram-for-gram",)]


def test_a_store_that_is_full_at_last_is_told_on_the_practice_page(page, address):
    page.add_init_script(FULL)
    open_page(page, address + "practice/first-swaps/")
    form = at_problem(page, "water-for-rolls")
    form.locator("input").last.fill("1 g")
    form.get_by_role("button", name="Mark my answer").click()
    expect(form.locator(".dw-feedback")).to_contain_text("0 of 1")
    expect(page.locator("problem-set .dw-status")).to_contain_text("This device keeps nothing")
    expect(form.locator("input")).to_have_value("1 g")


def test_two_tabs_keep_each_others_attempts(page, context, address):
    other = context.new_page()
    forms = [
        give(opened(page, address)),
        give(opened(other, address), "bring a dough to its temperature"),
    ]
    gram_for_gram(forms[0])
    forms[1].locator("input").last.fill("99 °C")
    forms[1].get_by_role("button", name="Mark my answer").click()
    expect(forms[1].locator(".dw-marks")).to_be_visible()
    # The first tab hears of it.
    row = plan(page).locator(".dw-skills li", has_text="Bring a dough")
    expect(row).to_contain_text("0 of 1 right")
    assert sorted(each["skill"] for each in stored(page)) == ["swap", "temperature"]


def test_it_is_used_with_the_keyboard_alone(page, address):
    opened(page, address)
    # The plan that Python writes has buttons of its own.
    expect(page.locator("[data-counted]")).to_have_text("0 attempts")
    page.get_by_role("button", name="Give me a problem").focus()
    page.keyboard.press("Enter")
    heading = plan(page).locator("form[data-problem] h3")
    expect(heading).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.type("1 g")
    page.keyboard.press("Enter")
    expect(plan(page).locator(".dw-marks")).to_contain_text("0 of 1")
