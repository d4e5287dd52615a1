"""The course is whole: every lesson has its parts, its set and its teaching page."""

import re
from html import unescape

import pytest
from bs4 import BeautifulSoup

from calc.mistakes import CATALOGUE
from calc.quantities import RANKINGS, REGISTRY
from docs.build.site import ROOT
from docs.course.benches import bench_of
from docs.course.heads import head_of
from docs.course.skills_map import shown_mistakes
from docs.parts import PARTS
from exercises import problems
from exercises.lessons import LESSONS
from exercises.skills import SKILLS, exercises
from tests.site.tags import ids_of

PAGES = ROOT / "docs" / "pages"
MIXED = ("first-swaps", "at-the-bench", "the-whole-job")
# What a reader may set: an example and a bar are only to look at.
LOOKED_AT = {
    "check-question",
    "worked-example",
    "composition-bars",
    "hydration-table",
    "what-to-ask",
    "python-cell",
}


def page(site, address):
    return BeautifulSoup((site / address / "index.html").read_text("utf-8"), "html.parser")


def headings(soup):
    return [h.get_text().replace("¶", "").strip() for h in soup.select("h2, h3")]


FIRST_HEADING = re.compile(r"<h1[^>]*>([^<]+)")


@pytest.mark.parametrize("key", LESSONS)
def test_a_lessons_title_is_the_same_wherever_it_is_written(site, key):
    titles = {
        "lessons": LESSONS[key],
        "practice": f"Practice: {problems.load(key).title}",
        "teachers/lessons": f"Teach: {LESSONS[key]}",
    }
    for folder, title in titles.items():
        assert head_of(f"{folder}/{key}.md")["title"] == title
        html = (site / folder / key / "index.html").read_text("utf-8")
        assert unescape(FIRST_HEADING.search(html)[1]) == title


LINK = re.compile(r"\[([^\]]+)\]\(([^)#]+\.md)\)")


@pytest.mark.parametrize("path", sorted(PAGES.rglob("*.md")), ids=lambda p: p.stem)
def test_a_link_that_names_a_lesson_has_its_title(path):
    """Text that begins small is part of a sentence; text that begins with a capital is a name."""
    for text, target in LINK.findall(path.read_text("utf-8")):
        file = (path.parent / target).resolve()
        if (
            file.parent == PAGES / "lessons"
            and text[0].isupper()
            and not text.startswith("Lesson ")
        ):
            assert text == LESSONS[file.stem]


def test_the_term_plan_has_a_row_for_each_lesson(site):
    links = page(site, "teachers/term-plan").select("term-plan tbody th a")
    assert [link.get_text() for link in links] == list(LESSONS.values())


@pytest.mark.parametrize("key", LESSONS)
def test_a_lesson_has_all_its_parts(site, key):
    soup = page(site, f"lessons/{key}")
    found = headings(soup)
    for wanted in ("What you will be able to do", "What goes wrong", "Check yourself", "Sources"):
        assert wanted in found, wanted
    assert re.search(r"About \d+ minutes: \d+ steps", soup.get_text())
    assert soup.find("worked-example")
    assert soup.find(list(set(PARTS) - LOOKED_AT)), "a part to try"
    assert soup.select("figure svg[role=img][aria-label]"), "a picture, told in words"
    assert soup.select(f'a[href$="practice/{key}/"]'), "a way to its set"
    checks = soup.select('section.dw-step[aria-labelledby^="check-yourself"] check-question')
    assert len(checks) == 5
    opening = soup.select('section.dw-step[aria-labelledby="before-you-start"] check-question')
    recalled = [each["problem"] for each in opening if not each["problem"].startswith("checks/")]
    earlier = list(LESSONS)[: list(LESSONS).index(key)]
    assert len(opening) - len(recalled) == 1, "a prediction"
    assert len(recalled) == (3 if earlier else 0), "questions from earlier lessons"
    assert {name.split("/")[0] for name in recalled} <= set(earlier)


@pytest.mark.parametrize("key", LESSONS)
def test_a_teaching_page_has_all_its_parts(site, key):
    soup = page(site, f"teachers/lessons/{key}")
    found = headings(soup)
    for wanted in (
        "Timing", "Board plan", "What students get wrong", "Bench demonstration",
        "Questions to ask", "After the lesson",
    ):  # fmt: skip
        assert wanted in found, wanted
    assert soup.find("table")
    for job in ("give", "print", "mark"):
        assert soup.find("a", href=re.compile(rf"desk/{job}/\?set={key}$"))
    # A teacher plans by this page: it names each problem of the set.
    told = " ".join(soup.get_text().split())
    assert not [each.title for each in problems.load(key).problems if each.title not in told]


@pytest.mark.parametrize("key", [*LESSONS, *MIXED])
def test_a_set_is_graded_and_stands_on_its_page(site, key):
    problem_set = problems.load(key)
    levels = {problem.level for problem in problem_set.problems}
    assert {1, 2, 3} <= levels | ({3} if key == "first-swaps" else set())
    assert len(problem_set.problems) >= 8
    assert page(site, f"practice/{key}").find("problem-set", attrs={"name": key})
    if key in LESSONS:
        assert problem_set.lesson == key


def test_there_are_a_hundred_problems_that_vary_by_student():
    varying = [
        each
        for each in exercises().values()
        if any(len(choices) > 1 for choices in each.problem.givens.values())
        or each.problem.ranking
        or each.problem.questions
    ]
    assert len(varying) >= 100
    assert set(problems.set_keys()) == {*LESSONS, *MIXED}


def test_every_calculation_and_ranking_is_asked_somewhere():
    asked = {(e.problem.quantity or e.problem.ranking) for e in exercises().values()} - {None}
    assert {one.name for one in asked} == {*REGISTRY, *RANKINGS}


def test_every_calculation_trains_a_named_skill():
    trained = [name for skill in SKILLS for name in skill.asked]
    assert sorted(trained) == sorted({*REGISTRY, *RANKINGS})


def test_every_known_mistake_can_be_made_somewhere():
    shown = {key for each in exercises().values() for key in shown_mistakes(each)}
    assert shown == {mistake.key for mistake in CATALOGUE}


def test_the_skills_map_lists_every_problem_once(site):
    rows = page(site, "practice/skills").select("skills-map tbody tr th a")
    assert len(rows) == len(exercises())
    for link in rows:
        address, _, anchor = link["href"].partition("#")
        path = re.sub(r"^(\.\./)+", "", address)
        assert anchor in ids_of(site / path / "index.html"), link["href"]


def test_a_bench_sheet_says_what_it_does_not_know_of_allergens(site):
    """A liquid of one's own has no row in the table: its pack must be read, on the sheet itself."""
    sheet = page(site, "teachers/lessons/finding-the-water").find("bench-sheet")
    said = sheet.find(class_="dw-bench-weights").get_text()
    assert "the pack of tub yogurt names (usually milk): read it" in said


def test_the_bench_sheet_of_the_division_names_milk(site):
    """Its bowls hold a row of the table, so the sheet itself must name the allergen."""
    sheet = page(site, "teachers/lessons/divide-by-the-water-content").find("bench-sheet")
    allergens = sheet.find("th", string="allergens").find_next_siblings("td")
    assert ["milk" in bowl.get_text() for bowl in allergens] == [False, True, True]
    weighed = sheet.find(class_="dw-bench-weights").get_text().replace("\u00a0", " ")
    for shown in ("139 g half and half (gram for gram)", "172 g half and half", "51 %", "63 %"):
        assert shown in weighed, shown


@pytest.mark.parametrize("path", sorted((PAGES / "teachers").rglob("*.md")), ids=lambda p: p.stem)
def test_a_page_with_commands_leads_to_the_program_and_how_to_make_them_known(path):
    text = path.read_text("utf-8")
    if path.stem == "terminal":
        for known in ("doughwater.zip", "`. .venv/bin/activate`", r"`.venv\Scripts\activate`"):
            assert known in text
    elif re.search(r"^(doughwater|python -m docs) ", text, re.MULTILINE):
        assert "](terminal.md" in text


def test_the_term_plan_has_ready_what_each_bench_sheet_needs():
    for key in LESSONS:
        ready = head_of(f"teachers/lessons/{key}.md")["ready"].lower()
        sheet = bench_of(key).sheet
        bowls = [re.split("[,(]", bowl)[0].strip() for bowl in sheet["bowls"].split(";")]
        also = [re.sub(r" [\d.,]+ %$", "", one.strip()) for one in sheet["also"].split(";")]
        # The plan's first lines name what every week needs.
        for needed in {*bowls, *also} - {"water", "salt"}:
            assert re.split("[ -]", needed)[-1] in ready, f"{key}: {needed}"


@pytest.mark.parametrize("key", LESSONS)
def test_a_bench_sheet_says_what_any_bowl_calls_for_and_each_once(site, key):
    """The first bowl too: a sheet compares bowls that are all mixed, and swaps nothing."""
    sheet = page(site, f"teachers/lessons/{key}").find("bench-sheet")
    text = sheet.get_text()
    assert text.count("Raw flour") == 1
    assert "The first formula" not in text
    words = re.compile("milk|cream|egg|puree|yogurt|half and half|butter", re.IGNORECASE)
    mixed = " ".join(th.get_text() for th in sheet.select(".dw-bench-weights th"))
    assert ("can spoil" in text or "whether it spoils" in text) == bool(words.search(mixed))
    assert all(blank in sheet.find(class_="dw-blanks").get_text() for blank in ("Group", "Date"))
