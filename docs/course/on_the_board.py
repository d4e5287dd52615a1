"""A lesson as screens to show to a class: a picture and a sentence, or one question whose answer is uncovered.

All of it is taken from the lesson's own page, as the build filled it: its steps, drawings, worked examples,
questions and cautions. Nothing is written a second time for the board.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import takewhile
from xml.etree.ElementTree import Element

from calc.words import capital
from docs.build.tree import Tag, classes, tags
from docs.course import lesson_figure
from docs.course.kitchen_picture import picture
from docs.course.step_answers import left_blank
from docs.parts.check_question import Asked, asked_of
from exercises.lessons import LESSONS

# What shows a step's idea, so that no sentence need tell it.
SEEN = ("lesson-figure", "worked-example")
# A tool is for a reader's own hands.
HANDS_ON = "try-it"
# So many vessels are large enough for the back row.
VESSELS = 3
CARE = "safe-handling"
ASIDE = ("check-question", "worked-example", "details", "form", "table")


@dataclass(frozen=True)
class Screen:
    """One screen: where in the lesson it is, what it says, its picture; what is uncovered, and takes the place of what.

    `until` the answer comes are shown what it `gives` an answer to: the “givens” of a sum, “lines” to fill, “choices”.
    """

    step: str
    words: tuple[str, ...]
    picture: Element | None = None
    until: tuple[str, ...] = ()
    answer: tuple[str, ...] = ()
    gives: str = ""
    is_drawing: bool = False


def screens(lesson: str, page: Tag) -> Iterator[Screen]:
    """The screens of a lesson, from its page as the build filled it."""
    steps = [each for each in tags(page, "section") if "dw-step" in classes(each)]
    yield Screen(LESSONS[lesson], (_plain(steps[0].find("p")),), picture(lesson, "board"))
    for step in steps:
        yield from _of_step(lesson, step)


def _of_step(lesson: str, step: Tag) -> Iterator[Screen]:
    heading, shown = (
        _plain(step.find("h2")),
        [each for each in tags(step, *_MADE) if _is_shown(each)],
    )
    is_seen = any(each.tag in SEEN for each in shown)
    if step.get("aria-labelledby") == HANDS_ON:
        shown = [each for each in shown if each.tag == "div"]
    elif (texts := _texts(step)) and not is_seen:
        yield Screen(heading, (_sentence(_plain(texts[0])),), picture(lesson, "board"))
    for each in shown:
        yield from _MADE[each.tag](lesson, heading, each)


def _is_shown(tag: Tag) -> bool:
    return tag.tag != "div" or "warning" in classes(tag)


def _drawn(lesson: str, heading: str, figure: Tag) -> Iterator[Screen]:
    for given in _few_at_a_time(dict(figure.attrib)):
        [drawing] = lesson_figure.build(given)
        words = drawing.findtext("figcaption")
        yield Screen(heading, (words,), drawing.find("svg"), is_drawing=True)


def _few_at_a_time(given: dict[str, str]) -> Iterator[dict[str, str]]:
    """A drawing's givens, with no more vessels than are large enough for the back row."""
    names = given.get("liquids", "").split(";")
    if len(names) <= VESSELS:
        yield given
        return
    for first in range(0, len(names), VESSELS):
        yield {**given, "liquids": ";".join(names[first : first + VESSELS])}


def _example(lesson: str, heading: str, example: Tag) -> Iterator[Screen]:
    (given,) = example.find_class("dw-givens")
    givens = " · ".join(
        " ".join(filter(None, map(str.strip, each.itertext()))) for each in given.iterfind("div")
    )
    lines = [_plain(each) for each in example.find_class("dw-numbers")]
    relations = [_plain(each).partition(" = ")[0] for each in example.find_class("dw-relation")]
    answer = tuple(f"{capital(name)}: {sum_}" for name, sum_ in zip(relations, lines, strict=True))
    # The numbers are in the sums, too.
    yield Screen(heading, (_told(example),), picture(lesson, "board"), (givens,), answer, "givens")


def _question(lesson: str, heading: str, question: Tag) -> Iterator[Screen]:
    asked = asked_of(dict(question.attrib))
    key = question.get("problem").split("/")[-2]
    head = question.get("label") or heading
    drawn = picture(key if key in LESSONS else lesson, "board")
    story = " ".join(asked.variant.story.split())
    if not asked.variant.boxes:
        told, until, answer = _sum_to_fill(asked)
        yield Screen(head, (story, *told), drawn, until, answer, "lines")
        return
    for box, answer in zip(asked.variant.boxes, left_blank(asked), strict=True):
        choices = tuple(f"{letter}. {option.text}" for letter, option in box.lettered())
        said = answer.removeprefix(box.label).strip(" :")
        yield Screen(head, (story, capital(box.label)), drawn, choices, (said,), "choices")


def _sum_to_fill(asked: Asked) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """A sum of which the lesson shows some lines: those before the first blank; the rest with a “?”; the rest worked."""
    if not asked.worked:
        return (), (), tuple(map(capital, left_blank(asked)))
    steps = list(asked.variant.working.steps.values())
    worked = tuple(
        f"{capital(each.label)}: {asked.variant.working.sentence(each.key)}" for each in steps
    )
    # A line after a blank is a result alone: its sum would tell what goes into the blank.
    told = (f"{capital(each.label)}: {asked.worked.get(each.key, '?')}" for each in steps)
    first = min(map(steps.index, asked.blanks))
    return worked[:first], tuple(told)[first:], worked[first:]


def _caution(lesson: str, heading: str, box: Tag) -> Iterator[Screen]:
    (title,) = box.find_class("admonition-title")
    lines = tags(box, "li") or [each for each in tags(box, "p") if each is not title]
    yield Screen(
        _plain(title), tuple(_sentence(_plain(each), 2) for each in lines), picture(CARE, "board")
    )


_MADE = {
    "lesson-figure": _drawn,
    "worked-example": _example,
    "check-question": _question,
    "div": _caution,
}


def _told(example: Tag) -> str:
    """The text that leads to an example: what asks for it, or the last one before it."""
    step = next(example.iterancestors("section"))
    texts = _texts(step)
    before = takewhile(lambda each: each is not example, tags(step, "p", "li", example.tag))
    near = [*takewhile(lambda each: each.tag != example.tag, [*before][::-1])]
    told = [each for each in near if each in texts] or texts
    asking = [each for each in told if "?" in each.text_content()]
    return _plain([*asking, *told][0])


def _texts(step: Tag) -> list[Tag]:
    """What a step says itself under its heading, without its questions, examples and boxes."""
    said = (each for child in step.find("h2").itersiblings() for each in _lines_of(child))
    return [
        each
        for each in said
        if not each.get("class") and next(each.iterancestors(*ASIDE), None) is None
    ]


def _lines_of(tag: Tag) -> list[Tag]:
    return [tag] if tag.tag == "p" else tags(tag, "p", "li")


def sentences(text: str) -> list[str]:
    """The sentences of a text.

    >>> sentences("Bake it at 1.5 times. Then cool it.")
    ['Bake it at 1.5 times.', 'Then cool it.']
    """
    return re.split(r"(?<=[.?!]) (?=[A-Z“])", text)


def _sentence(text: str, count: int = 1) -> str:
    return " ".join(sentences(text)[:count])


def _plain(tag: Tag) -> str:
    return " ".join(tag.text_content().replace("¶", "").replace("\N{NO-BREAK SPACE}", " ").split())
