"""The bank: every problem of ours, to be looked through and taken into a set of one's own."""

from __future__ import annotations

from functools import cache
from xml.etree.ElementTree import Element

from calc.quantities import REGISTRY
from calc.words import capital, counted
from exercises import problems
from exercises.draws import PLACEHOLDER, draw, plain_name
from exercises.lessons import LESSONS
from exercises.publish.html import element
from exercises.set_edit import entries
from exercises.setfile import Entry
from exercises.skills import Exercise, exercises, trained


@cache
def example_of(asked: str) -> Exercise | None:
    """A problem of ours that asks for something, the one with the shortest story."""
    asking = [each for each in exercises().values() if _asked(each) == asked]
    return min(asking, key=lambda each: len(each.problem.story), default=None)


@cache
def question_of(asked: str) -> str:
    """A story of ours that asks for something, with sample numbers in it."""
    example = example_of(asked)
    return _sample(example) if example else ""


def written_as(exercise: Exercise) -> Entry:
    """A problem of ours as its set's text says it."""
    listed = entries(problems.text_of_ours(exercise.problem_set.key)).part("problems").value
    return next(each for each in listed if each.part("id").text == exercise.problem.id)


def _sample(exercise: Exercise) -> str:
    story = draw(exercise.problem_set, exercise.problem, "").story
    questions = (box.label for box in exercise.problem.questions)
    return " ".join(PLACEHOLDER.sub("…", " ".join((story, *questions))).split())


def _asked(exercise: Exercise) -> str:
    problem = exercise.problem
    if problem.quantity:
        return problem.quantity.name
    return "order" if problem.ranking else "choice"


def what_to_ask() -> list[Element]:
    """Each thing that a problem may ask for, with an example and a button to add such a problem."""
    made = []
    for skill in trained():
        names = [name for name in REGISTRY if name in skill.asked]
        if names:
            made.append(
                _skill(capital(skill.name), [(name, REGISTRY[name].means) for name in names])
            )
    plain = [
        ("choice", "the right answer out of several, with its reason"),
        ("order", "ingredients in an order: the wettest first, the fattest first"),
    ]
    return [*made, _skill("Without numbers", plain)]


def _skill(name: str, asks: list[tuple[str, str]]) -> Element:
    rows = [
        element(
            "li",
            element("strong", capital(means)),
            element("p", question_of(asked), class_="dw-note"),
            element(
                "button", "Add", type="button", class_="dw-button dw-quiet", data_do="add", data_at=asked,
                aria_label=f"Add a problem that asks for {asked}",
            ),
        )
        for asked, means in asks
    ]  # fmt: skip
    return element("details", element("summary", name), element("ul", *rows, class_="dw-asks"))


def bank() -> list[Element]:
    """Filters, and a row for each problem of ours with a box to tick."""
    rows = [_row(each) for each in exercises().values()]
    skills = [(skill.key, capital(skill.name)) for skill in trained()]
    return [
        element(
            "div",
            _filter("lesson", "Lesson", list(LESSONS.items())),
            _filter("skill", "Skill", skills),
            _filter("level", "Level", [(str(n), f"level {n}") for n in problems.LEVELS]),
            element(
                "div",
                element("label", "Words", for_="bank-words"),
                element("input", id="bank-words", type="search", autocomplete="off", data_filter="words"),
                class_="dw-field",
            ),
            class_="dw-row",
        ),
        element("p", f"{counted(len(rows), 'problem')}.", role="status", class_="dw-note", data_found=True),
        element("ul", *rows, class_="dw-bank"),
        element(
            "div",
            element("button", "Take in what is ticked", type="button", class_="dw-button", data_do="take", data_at=""),
            class_="dw-buttons dw-bank-foot",
        ),
    ]  # fmt: skip


def _filter(name: str, label: str, choices: list[tuple[str, str]]) -> Element:
    options = [element("option", words, value=value) for value, words in choices]
    return element(
        "div",
        element("label", label, for_=f"bank-{name}"),
        element("select", element("option", "all", value=""), *options, id=f"bank-{name}", data_filter=name),
        class_="dw-field",
    )  # fmt: skip


def _row(exercise: Exercise) -> Element:
    problem, problem_set = exercise.problem, exercise.problem_set
    drawn = draw(problem_set, problem, "")
    story = _sample(exercise)
    box = f"bank-{exercise.key.replace('/', '-')}"
    facts = f"{_asked(exercise)}, level {problem.level}, {counted(drawn.out_of, 'mark')}, from “{problem_set.title}”"
    return element(
        "li",
        element("input", type="checkbox", id=box, value=exercise.key),
        element("label", problem.title, for_=box),
        element("small", f" {facts}"),
        element("p", story, class_="dw-note"),
        data_lesson=problem_set.lesson,
        data_skill=exercise.skill.key,
        data_level=problem.level,
        data_words=plain_name(f"{problem.title} {facts} {story}"),
    )
