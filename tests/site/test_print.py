"""A lesson on paper: read back from the PDF that the browser prints, by `pypdf`.

Outside the project: Chromium lays out and prints, `pypdf` reads; paper sizes from ISO 216 (A4)
and ANSI Y14.1 (Letter), in points of 1/72 inch.
"""

import io
import re
from functools import cache
from unicodedata import normalize

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from exercises.codes import code_of
from exercises.draws import draw
from exercises.problems import load
from tests.site.conftest import open_page, visitor
from tests.site.test_pages import PAGES

LESSONS = [page for page in PAGES if page.startswith("lessons/") and page != "lessons/"]
PAPER = {"A4": (210 / 25.4 * 72, 297 / 25.4 * 72), "Letter": (8.5 * 72, 11 * 72)}
NAVIGATION = (
    "Skip to content",
    "Search",
    "Back to top",
    "Next:",
    "Practise on your own",
    "Use the dark page",
)

# What is in the page, as the reader's browser has it.
READ = """() => {
  const text = (element) => element.textContent.replace(/\\s+/g, ' ').trim();
  const article = document.querySelector('.md-content__inner');
  const questions = [...article.querySelectorAll('.dw-step > details:not([class])')];
  const inQuestion = (element) => questions.some((question) => question.contains(element)) || element.closest('.dw-look-up, check-question > details');
  const all = (selector) => [...article.querySelectorAll(selector)].filter((one) => !inQuestion(one));
  return {
    title: text(article.querySelector('h1')).replace('¶', ''),
    questions: questions.map((question) => text(question.querySelector('summary'))),
    asked: all('check-question form > p:not(.dw-eyebrow), check-question legend').map(text),
    lesson: all('p, li, h2, h3, td, th, text').map(text).join(' '),
    answers: questions.flatMap((question) => [...question.querySelectorAll('p, li')].filter((p) => !p.closest('summary')).map(text)),
    examples: all('worked-example').map((one) => [one.querySelector('.dw-steps .dw-numbers'), one.querySelector('.dw-answer')].map(text)),
    headings: all('h2, h3').filter((one) => one.checkVisibility()).map((one) => text(one).replace('¶', '')),
    cautions: all('.admonition.warning li, .admonition.warning > p:not(.admonition-title)').map(text),
    tools: [...article.querySelectorAll('button, .dw-form .dw-note')].map(text).filter((words) => words.length > 30),
  };
}"""


def plain(text):
    """Text without what line breaks and fonts change: gaps, and letters joined in one sign."""
    return re.sub(r"[\s\u00ad]+", "", normalize("NFKC", text))


@pytest.fixture(scope="module")
def paper(chromium, address):
    """Prints a page of the site: what the page holds, and the PDF."""
    look = {"viewport": {"width": 1280, "height": 900}, "color_scheme": "dark"}
    with visitor(chromium, **look) as context:
        page = context.new_page()

        @cache
        def printed(name, size="A4"):
            open_page(page, address + name)
            held = page.evaluate(READ)
            return held, PdfReader(io.BytesIO(page.pdf(format=size)))

        yield printed


@pytest.mark.parametrize("name", LESSONS)
def test_a_lesson_is_a_clean_handout_with_what_belongs_together_on_one_sheet(paper, address, name):
    held, pdf = paper(name)
    # To read the sheets takes as long as to print them.
    sheets = [sheet.extract_text() for sheet in pdf.pages]
    is_a_clean_handout(held, sheets)
    keeps_together(held, sheets, foot=plain(f"{address}{name}"))


def is_a_clean_handout(held, sheets):
    whole = plain(" ".join(sheets))
    assert plain(held["title"]) in whole
    assert len(sheets) <= 4
    for question in [*held["questions"], *held["asked"]]:
        assert plain(question) in whole, question
    for answer in held["answers"]:
        # A short answer ("Yes."), or a step shown before, may be in the lesson too.
        if len(answer) > 40 and answer not in held["lesson"]:
            assert plain(answer) not in whole, answer
    assert sum(sheet.count("Worked example") for sheet in sheets) == len(held["examples"])
    for caution in held["cautions"]:
        assert plain(caution) in whole, caution
    for words in (*NAVIGATION, *held["tools"]):
        assert plain(words) not in whole, words


def keeps_together(held, printed, foot):
    sheets = []
    for number, text in enumerate(map(plain, printed), start=1):
        assert foot in text
        assert f"{number}/{len(printed)}" in text
        sheets.append(text.replace(foot, "").replace("Doughwater", ""))
    for first_step, answer in held["examples"]:
        assert any(plain(first_step) in sheet and plain(answer) in sheet for sheet in sheets), (
            answer
        )
    for sheet in sheets:
        ends = re.sub(r"^\d+/\d+|\d+/\d+$", "", sheet)
        assert not any(ends.endswith(plain(heading)) for heading in held["headings"]), ends[-60:]


@pytest.mark.parametrize("size", PAPER)
def test_a_lesson_fits_the_paper(paper, size):
    _, pdf = paper("lessons/divide-by-the-water-content/", size)
    for sheet in pdf.pages:
        assert [float(sheet.mediabox.width), float(sheet.mediabox.height)] == pytest.approx(
            PAPER[size], abs=1
        )


ALONE = {
    "teachers/assess/": "paper-test",
    "teachers/lessons/scaling-and-rounding/": "bench-sheet",
    "teachers/lessons/what-rides-along/": "paper-test",
}


def test_a_sheet_printed_alone_is_all_there_and_nothing_else(page, address):
    """A test in its fold, a bench sheet, an exit ticket: from the top of the first sheet, none of them blank."""
    for name, tag in ALONE.items():
        page.goto(address + name)
        page.evaluate("window.print = () => {}")
        part = page.locator(tag).first
        part.evaluate(
            "part => { const fold = part.closest('details'); if (fold) fold.open = true; }"
        )
        held = part.evaluate(
            "part => [...part.querySelectorAll('p, li, td, h3')].map((one) => one.textContent)"
        )
        for size in PAPER:
            part.get_by_role("button", name=re.compile("alone$")).click()
            sheets = printed(page, size, foot=plain(f"{address}{name}"))
            whole = "".join(sheets)
            assert all(plain(words) in whole for words in held), (name, size)
            assert all(len(sheet) > 60 for sheet in sheets), (name, size)
            title = page.locator("h1").text_content().replace("¶", "")
            assert plain(title) not in whole, (name, size)
            assert len(sheets) <= (2 if name == "teachers/assess/" else 1), (name, size)


def printed(page, size, foot):
    """The texts of the sheets, without what the browser writes at their feet."""
    pdf = PdfReader(io.BytesIO(page.pdf(format=size)))
    return [plain(sheet.extract_text()).replace(foot, "") for sheet in pdf.pages]


@pytest.mark.parametrize("name", ["practice/given/", "desk/mark/", "nowhere/"])
def test_a_short_page_ends_on_its_own_sheet(page, address, name):
    page.goto(address + name)
    assert len(PdfReader(io.BytesIO(page.pdf(format="A4"))).pages) == 1


def test_nothing_dark_is_printed(page, address):
    """A reader who likes the dark page still prints black on white."""
    page.emulate_media(color_scheme="dark")
    page.goto(f"{address}lessons/divide-by-the-water-content/")
    expect(page.locator("body")).not_to_have_css("background-color", "rgb(255, 255, 255)")
    page.emulate_media(media="print")
    expect(page.locator("body")).to_have_css("background-color", "rgb(255, 255, 255)")
    expect(page.locator("h1")).to_have_css("color", "rgb(0, 0, 0)")


def test_a_printed_practice_page_bears_name_and_code_and_can_be_solved(page, address):
    """With the code a teacher marks what is written on it; an order's items are there to be chosen."""
    name, key = "Ada Invented", "divide-by-the-water-content"
    problem_set = load(key)
    orders = [each for each in problem_set.problems if each.ranking]
    assert orders
    open_page(page, f"{address}practice/{key}/")
    page.get_by_label("Your name").fill(name)
    page.get_by_label("Your name").press("Tab")
    expect(page.locator(".dw-whose")).to_contain_text(name)
    whole = "".join(printed(page, "A4", foot=""))
    assert plain(f"Name: {name}. Code: {code_of(problem_set, name)}") in whole
    for each in orders:
        for letter, option in draw(problem_set, each, name).boxes[0].lettered():
            assert plain(f"{letter}: {option.text}").casefold() in whole.casefold()
    assert plain("Mark my answer") not in whole
