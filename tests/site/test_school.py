"""A package played in a school's system that no one here wrote (`scorm-again`, see tests/site/schools.py), on a host
that sends wrong types, from a sub-folder, with a query in the address and a strict policy of its own.
"""

import io
import posixpath
import re
import zipfile
from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from docs.build.join import asked_for
from docs.build.modules import element_modules
from docs.build.tree import read, tags
from docs.parts.set_giver import KINDS
from exercises import set_link
from exercises.cli import main
from exercises.draws import draw
from exercises.handin import read_handin
from exercises.marking import right_answers
from exercises.problems import load
from exercises.publish.scorm import Edition, Item, course, package, read_kit
from tests.exercises.set_texts import EVERY_KIND
from tests.site.conftest import open_ready, visitor
from tests.site.in_firefox import visited
from tests.site.schools import School

STUDENT = "Zoë Invented"
ABOUT = {
    "scorm12": {"core": {"student_name": "Invented, Zoë", "student_id": "s-17"}},
    "scorm2004": {"learner_name": "Invented, Zoë", "learner_id": "s-17"},
}
# A package has to pass a school's limits for files.
MOST_BYTES = 15_000_000


@pytest.fixture
def school(tmp_path):
    made = School(tmp_path)
    yield made
    made.stop()


FILL_AND_MARK = """async (set, right) => {
  for (const [id, answers] of Object.entries(right)) {
    const form = set.querySelector(`form[data-problem="${id}"]`);
    for (const [name, text] of Object.entries(answers)) {
      const boxes = [...form.querySelectorAll(`[name="${name}"]`)];
      const box = boxes.find(({type, value}) => type !== 'radio' || value === text);
      if (box?.type === 'radio') box.checked = true;
      else if (box) box.value = text;
      box?.dispatchEvent(new Event('input', {bubbles: true}));
    }
    form.requestSubmit();
    while (!form.querySelector('.dw-marks')) await new Promise(requestAnimationFrame);
  }
}"""


class Seat:
    """A student's browser with the package open."""

    def __init__(self, context, school) -> None:
        self.page = context.new_page()
        self.errors: list[str] = []
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))
        self.page.goto(f"{school.address}play")
        self.frame = self.page.frame_locator("iframe")
        self.status = self.frame.locator("school-set > .dw-status")

    def form(self, problem):
        tick = self.frame.locator(f'[data-tick="{problem.id}"]')
        tick.click()
        return self.frame.locator(f'problem-set form[data-problem="{problem.id}"]')

    def fill(self, problem_set, problem) -> None:
        form = self.form(problem)
        for key, text in right_answers(draw(problem_set, problem, STUDENT)).items():
            boxes = form.locator(f'[name="{key}"]')
            # Of some problems only the last step is asked.
            if not boxes.count():
                continue
            kind = boxes.first.evaluate("(box) => box.type")
            if kind == "radio":
                form.locator(f'[name="{key}"][value="{text}"]').check()
            elif kind.startswith("select"):
                boxes.select_option(text)
            else:
                boxes.fill(text)

    def answer_whole_set(self, problem_set) -> None:
        """All of it at once: to click and type each answer takes the browser ten times as long."""
        right = {each.id: right_answers(draw(problem_set, each, STUDENT)) for each in problem_set.problems}  # fmt: skip
        self.frame.locator("problem-set").evaluate(FILL_AND_MARK, right)
        marked = self.frame.locator("problem-set form[data-problem]:has(.dw-marks:not(:empty))")
        expect(marked).to_have_count(len(right))

    def mark(self, problem) -> None:
        form = self.form(problem)
        form.get_by_role("button", name="Mark my answer").click()
        expect(form.locator(".dw-marks")).to_be_visible()

    def ready(self) -> None:
        expect(self.frame.locator("problem-set[data-named]")).to_be_attached()
        expect(self.frame.locator("html")).to_have_attribute("data-engine", "ready")

    def wait_until(self, heard: Callable[[], bool]) -> None:
        """Until the system has heard it."""
        for _ in range(600):
            if heard():
                return
            self.page.wait_for_timeout(100)
        raise AssertionError("the system never heard it")

    def leave(self) -> None:
        self.page.goto("about:blank")
        assert self.errors == []


def standing(kept: dict) -> tuple:
    """Score, completion and success as a school's system has them."""
    if core := kept.get("core"):
        return float(core["score"]["raw"]), core["lesson_status"]
    return float(kept["score"]["scaled"]), kept["completion_status"], kept["success_status"]


def score_of(kept: dict) -> str:
    core = kept.get("core")
    return core["score"]["raw"] if core else kept["score"]["scaled"]


def standing_words(kept: dict) -> str:
    core = kept.get("core")
    return core["lesson_status"] if core else kept["completion_status"]


def answer_all(place) -> None:
    """Write something into each question of a lesson that is in a place, and have it marked."""
    place.evaluate(
        """(place) => {
          for (const form of place.querySelectorAll('form.dw-check')) {
            for (const box of form.querySelectorAll('input:not([type=radio]), textarea')) box.value ||= '7 g';
            for (const list of form.querySelectorAll('select')) list.selectedIndex = list.options.length - 1;
            const names = new Set([...form.querySelectorAll('input[type=radio]')].map(({name}) => name));
            for (const name of names) form.querySelector(`input[name="${name}"]`).checked = true;
            (form.querySelector('input, select, textarea')).dispatchEvent(new Event('input', {bubbles: true}));
            form.requestSubmit();
          }
        }"""
    )


DONE = {"scorm12": (100.0, "passed"), "scorm2004": (1.0, "completed", "passed")}


@pytest.mark.parametrize("edition", ABOUT)
def test_a_student_begins_leaves_goes_on_elsewhere_and_passes(chromium, site, school, edition):
    level = 2
    problem_set = load("first-swaps").of_level(level)
    first, second, *others = problem_set.problems
    school.take(edition, package([Item(problem_set, "", level)], site, Edition(edition), 60))
    school.about = ABOUT[edition]
    with visitor(chromium) as context:
        seat = Seat(context, school)
        seat.ready()
        expect(seat.frame.locator('[name="student"]')).to_have_value(STUDENT)
        expect(seat.status).to_contain_text("by itself")
        seat.fill(problem_set, first)
        seat.mark(first)
        expect(seat.status).to_contain_text("Saved in your school’s system")
        out_of = sum(draw(problem_set, each, STUDENT).out_of for each in problem_set.problems)
        earned = draw(problem_set, first, STUDENT).out_of
        score, status, *_ = standing(school.kept)
        assert score == pytest.approx(
            earned / out_of * (100 if edition == "scorm12" else 1), abs=0.01
        )
        assert status == "incomplete"
        told = list(school.kept["interactions"].values())
        assert [one["result"] for one in told].count("correct") == earned
        assert len(told) == out_of
        # What is only typed goes along when the page goes.
        seat.fill(problem_set, second)
        before = school.heard
        seat.leave()
        # What a page tells as it goes may come after it has gone.
        seat.wait_until(lambda: school.heard > before)
    # On another computer, whose store is empty.
    with visitor(chromium) as context:
        seat = Seat(context, school)
        seat.ready()
        for problem in (first, second):
            for key, text in right_answers(draw(problem_set, problem, STUDENT)).items():
                box = seat.form(problem).locator(f'[name="{key}"]')
                expect(box).to_have_value(text)
        expect(seat.form(first).locator(".dw-marks")).to_be_visible()
        school.failing = True
        seat.mark(second)
        expect(seat.status).to_contain_text(
            "did not take your work (it says: General Exception, 101)"
        )
        expect(seat.frame.get_by_role("button", name="Save hand-in file").first).to_be_visible()
        with seat.page.expect_download() as saved:
            seat.frame.get_by_role("button", name="Save hand-in file").first.click()
        handin = read_handin(saved.value.path().read_text("utf-8"))
        assert handin.student == STUDENT
        assert handin.answers[second.id] == right_answers(draw(problem_set, second, STUDENT))
        school.failing = False
        seat.frame.get_by_role("button", name="Send my work again").click()
        expect(seat.status).to_contain_text("Saved in your school’s system")
        for problem in others:
            seat.fill(problem_set, problem)
            seat.mark(problem)
        expect(seat.status).to_contain_text("Saved in your school’s system")
        seat.leave()
        assert standing(school.kept) == DONE[edition]
    school.close()
    with visitor(chromium) as context:
        seat = Seat(context, school)
        seat.ready()
        expect(seat.status).to_contain_text("Nothing is changed, and nothing is sent")
        form = seat.form(second)
        expect(form.get_by_role("button", name="Mark my answer")).to_be_disabled()
        expect(form.locator("input").first).to_be_disabled()
        seat.leave()
    # Its end is the system's own; what it keeps is as it was.
    assert standing(school.kept) == DONE[edition]


def test_firefox_begins_leaves_goes_on_elsewhere_and_passes(site, school):
    level = 1
    problem_set = load("first-swaps").of_level(level)
    answers = {
        problem.id: right_answers(draw(problem_set, problem, STUDENT))
        for problem in problem_set.problems
    }
    school.take("scorm12", package([Item(problem_set, "", level)], site, Edition.SCORM_12, 60))
    school.about = ABOUT["scorm12"]
    told = [{"id": problem, "answers": typed} for problem, typed in answers.items()]
    seen = visited("at-school.mjs", school.address, told)
    assert "by itself" in seen["begun"]
    assert seen["back"] == list(answers.values())[:2]
    assert "Nothing is changed, and nothing is sent" in seen["closed"]
    assert seen["open"] == 0
    assert standing(school.kept) == DONE["scorm12"]
    assert seen["troubles"] == []


def test_without_a_system_it_is_a_page_and_shut_in_it_says_so(chromium, site, school):
    """A teacher's own set. A sandbox without the page's origin lets no module load: only words are left."""
    given = set_link.to_give(EVERY_KIND, "monday.yml")
    own = set_link.read_packed(set_link.pack(given))
    made = package([Item(own, set_link.pack(given))], site, Edition.SCORM_12)
    assert len(made) < MOST_BYTES
    school.take("scorm12", made)
    with visitor(chromium) as context:
        page = context.new_page()
        asked = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(f"{school.address}{school.folder}/set.html")
        expect(page.locator("school-set > .dw-status")).to_contain_text("save a hand-in file")
        page.get_by_label("Your name").fill(STUDENT)
        expect(page.locator("problem-set[data-named]")).to_be_visible()
        expect(page.locator("[data-whose]")).to_have_text("These are your numbers.")
        # No other page of the site is in the package, so no link leads to one.
        assert page.locator("a[data-site]").count() == 0
        assert all(url.startswith((school.address, "data:", "blob:")) for url in asked)
        # Each large file is asked for once.
        large = [url for url in asked if url.endswith((".zstd", ".zip"))]
        assert len(large) == len(set(large))
        school.sandbox = "allow-scripts"
        page.goto(f"{school.address}play")
        frame = page.frame_locator("iframe")
        expect(frame.get_by_text("The window around this page shuts it in")).to_be_visible()
        school.sandbox = "allow-scripts allow-same-origin allow-forms"
        page.goto(f"{school.address}play")
        expect(frame.locator("school-set > .dw-status")).to_contain_text("by itself")
        expect(frame.get_by_text("The window around this page shuts it in")).to_have_count(0)


# What a file of the site names beside itself: a style sheet's pictures and type, a script's modules, workers and data.
NAMED = re.compile(
    r"""url\("?(?!data:)([^)"#]+)|^import .* from '(\.[^']+)'|import\('(\.[^']+)'\)|new URL\('(\w[^']*\.\w+)'""",
    re.MULTILINE,
)
# The search and what keeps the site offline are in its own pages alone, though the modules that ask for them come in the
# file of most modules (docs/build/join.py).
OF_THE_SITE = {"page/no-hits.js", "offline/offline.js", "offline/version.js"}


def test_the_course_leads_to_nothing_that_is_not_in_its_zip(site):
    """A crawl of the whole package: links, scripts, style sheets, and what those name."""
    made = package(course(), site, Edition.SCORM_2004)
    assert len(made) < MOST_BYTES
    with zipfile.ZipFile(io.BytesIO(made)) as zipped:
        files = {name: zipped.read(name) for name in zipped.namelist()}
    pages = [each.page for each in course()]
    seen, waiting = set(OF_THE_SITE), list(pages)
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        assert name in files, name
        folder = posixpath.dirname(name)
        if name.endswith((".css", ".js")):
            named = [next(filter(None, found)) for found in NAMED.findall(files[name].decode())]
            # Who is not in a package is in the list of what may be there (page/elements.js).
            waiting += [posixpath.normpath(posixpath.join(folder, each)) for each in named]
        elif name.endswith(".html"):
            page = tags(read(files[name].decode()))
            ids = {tag.get("id") for tag in page}
            elements = {tag.tag for tag in page}
            assert {"svg", "check-question", "school-set"} <= elements
            for to in (tag.get("href", tag.get("src", "")) for tag in page):
                # The one empty link opens the page itself in a window of its own.
                if to.startswith("#"):
                    assert to[1:] in ids, (name, to)
                elif to:
                    waiting.append(to)
            # The lesson's elements have their modules along.
            listed = read_kit(site, name.removesuffix(".html")).files
            modules = element_modules()
            asked = asked_for(*(modules[one] for one in elements if one in modules))
            assert set(asked) <= listed.keys()


@pytest.mark.parametrize("edition", ABOUT)
def test_the_course_is_played_lesson_by_lesson(chromium, site, school, edition):
    """Each lesson is an item with a score of its own; its questions count for completion, its set gives the score."""
    key, other = "bakers-percentage", "finding-the-water"
    problem_set = load(key)
    school.take(edition, package(course(), site, Edition(edition), 60))
    school.about, school.open = ABOUT[edition], f"{key}.html"
    with visitor(chromium) as context:
        seat = Seat(context, school)
        seat.ready()
        expect(seat.status).to_contain_text("by itself")
        steps = seat.frame.locator("section.dw-step")
        expect(steps.nth(0)).to_be_visible()
        seat.frame.get_by_role("link", name="Next: ").locator("visible=true").click()
        expect(steps.nth(1)).to_be_visible()
        question = steps.nth(1).locator("check-question").first
        answer_all(question)
        expect(question.locator("[data-verdict]").first).to_be_attached()
        expect(seat.status).to_contain_text("Saved in your school’s system")
        # A lesson that was begun has no score yet.
        assert standing_words(school.kept) == "incomplete"
        assert score_of(school.kept) == ""
        typed = question.locator("input, select").first
        said = typed.evaluate("(box) => [box.value, box.checked]")
        seat.leave()
    # On another computer, where nothing is kept.
    with visitor(chromium) as context:
        seat = Seat(context, school)
        seat.ready()
        steps = seat.frame.locator("section.dw-step")
        expect(steps.nth(1)).to_be_visible()
        expect(steps.nth(0)).to_be_hidden()
        typed = steps.nth(1).locator("check-question").first.locator("input, select").first
        assert typed.evaluate("(box) => [box.value, box.checked]") == said
        seat.frame.locator(".dw-step-list a").last.click()
        seat.answer_whole_set(problem_set)
        expect(seat.status).to_contain_text("Saved in your school’s system")
        # The set is done, the lesson's questions are not. That it is saved stood there after the first problem already.
        whole = 100 if edition == "scorm12" else 1
        seat.wait_until(lambda: float(score_of(school.kept)) == whole)
        assert standing_words(school.kept) == "incomplete"
        answer_all(seat.frame.locator("lesson-steps"))
        unmarked = seat.frame.locator("check-question:not(:has([data-verdict]))")
        expect(unmarked).to_have_count(0)
        seat.wait_until(lambda: standing(school.kept) == DONE[edition])
        seat.leave()
        assert standing(school.kept) == DONE[edition]
    # The next lesson is another item, and nothing of the first counts in it.
    school.open = f"{other}.html"
    with visitor(chromium) as context:
        seat = Seat(context, school)
        seat.ready()
        expect(seat.frame.locator("section.dw-step").nth(0)).to_be_visible()
        seat.leave()
    assert standing_words(school.kept) == "incomplete"
    assert standing(school.all_kept[f"{key}.html"]) == DONE[edition]


def test_the_desk_makes_the_terminals_package(site, page, address, tmp_path):
    open_ready(page, f"{address}desk/give/#package")
    page.get_by_label("Kind of package").select_option(label=KINDS[1][1])
    expect(page.get_by_label("Draws of each problem")).to_be_hidden()
    page.get_by_label("Mark to pass").fill("60 %")
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save the package").click()
    key = saved.value.suggested_filename.removesuffix("-scorm2004.zip")
    out = tmp_path / "terminal.zip"
    export = ["export", key, "--as", "scorm2004", "--pass", "60", "--site", str(site)]
    assert main([*export, "--out", str(out)]) == 0
    assert saved.value.path().read_bytes() == out.read_bytes()
    assert out.stat().st_size < MOST_BYTES
    page.get_by_label("It holds").select_option("course")
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save the package").click()
    assert saved.value.suggested_filename == "course-scorm2004.zip"
    assert main(["export", "course", *export[2:], "--out", str(out)]) == 0
    assert saved.value.path().read_bytes() == out.read_bytes()
    page.get_by_label("Kind of package").select_option("qti3")
    expect(page.get_by_label("Mark to pass")).to_be_hidden()
    expect(page.get_by_label("Draws of each problem")).to_be_visible()
