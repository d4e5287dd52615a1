"""A package played in a school's system that no one here wrote (`scorm-again`, see tests/site/schools.py), on a host
that sends wrong types, from a sub-folder, with a query in the address and a strict policy of its own.
"""

import pytest
from playwright.sync_api import expect

from docs.parts.set_giver import KINDS
from exercises import set_link
from exercises.cli import main
from exercises.draws import draw
from exercises.handin import read_handin
from exercises.marking import right_answers
from exercises.problems import load
from exercises.publish.scorm import Edition, package, read_kit
from tests.exercises.set_texts import EVERY_KIND
from tests.site.conftest import open_ready, visitor
from tests.site.schools import School

STUDENT = "Zoë Invented"
ABOUT = {
    "scorm12": {"core": {"student_name": "Invented, Zoë", "student_id": "s-17"}},
    "scorm2004": {"learner_name": "Invented, Zoë", "learner_id": "s-17"},
}
# A package has to pass a school's limits for files.
MOST_BYTES = 15_000_000


@pytest.fixture(scope="module")
def kit(site):
    return read_kit(site)


@pytest.fixture
def school(tmp_path):
    made = School(tmp_path)
    yield made
    made.stop()


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
        return self.frame.locator(f'form[data-problem="{problem.id}"]')

    def fill(self, problem_set, problem) -> None:
        form = self.form(problem)
        for key, text in right_answers(draw(problem_set, problem, STUDENT)).items():
            form.locator(f'[name="{key}"]').fill(text)

    def mark(self, problem) -> None:
        form = self.form(problem)
        form.get_by_role("button", name="Mark my answer").click()
        expect(form.locator(".dw-marks")).to_be_visible()

    def ready(self) -> None:
        expect(self.frame.locator("problem-set[data-named]")).to_be_visible()
        expect(self.frame.locator("html")).to_have_attribute("data-engine", "ready")

    def leave(self) -> None:
        self.page.goto("about:blank")
        assert self.errors == []


def standing(kept: dict) -> tuple:
    """Score, completion and success as a school's system has them."""
    if core := kept.get("core"):
        return float(core["score"]["raw"]), core["lesson_status"]
    return float(kept["score"]["scaled"]), kept["completion_status"], kept["success_status"]


DONE = {"scorm12": (100.0, "passed"), "scorm2004": (1.0, "completed", "passed")}


@pytest.mark.parametrize("edition", ABOUT)
def test_a_student_begins_leaves_goes_on_elsewhere_and_passes(chromium, kit, school, edition):
    level = 2
    problem_set = load("first-swaps").of_level(level)
    first, second, *others = problem_set.problems
    school.take(edition, package(problem_set, kit, Edition(edition), "", level, 60))
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
        seat.leave()
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
    # The system has closed the attempt, and shows it.
    school.about = ABOUT[edition] | ({"mode": "review"} if edition == "scorm2004" else {"core": {**ABOUT[edition]["core"], "lesson_mode": "review"}})  # fmt: skip
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


def test_without_a_system_it_is_a_page_and_shut_in_it_says_so(chromium, kit, school):
    """A teacher's own set. A sandbox without the page's origin lets no module load: only words are left."""
    given = set_link.to_give(EVERY_KIND, "monday.yml")
    own = set_link.read_packed(set_link.pack(given))
    made = package(own, kit, Edition.SCORM_12, set_link.pack(given))
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
        large = [url for url in asked if url.endswith((".gzip", ".zip"))]
        assert len(large) == len(set(large))
        school.sandbox = "allow-scripts"
        page.goto(f"{school.address}play")
        frame = page.frame_locator("iframe")
        expect(frame.get_by_text("The window around this page shuts it in")).to_be_visible()
        school.sandbox = "allow-scripts allow-same-origin allow-forms"
        page.goto(f"{school.address}play")
        expect(frame.locator("school-set > .dw-status")).to_contain_text("by itself")
        expect(frame.get_by_text("The window around this page shuts it in")).to_have_count(0)


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
    page.get_by_label("Kind of package").select_option("qti3")
    expect(page.get_by_label("Mark to pass")).to_be_hidden()
    expect(page.get_by_label("Draws of each problem")).to_be_visible()
