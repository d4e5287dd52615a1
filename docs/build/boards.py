"""Each lesson's screens as a page that stands alone, to show to a class: ``board/x.html``.

Without its script it is a sequence of screens, one below another, and on paper a handout.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import ceil
from pathlib import Path
from xml.etree.ElementTree import Element

from docs.build.policy import secure
from docs.build.scripts import preload_type
from docs.build.tree import Tag, grown, written
from docs.course.on_the_board import Screen, screens, sentences
from exercises.lessons import LESSONS
from exercises.publish.html import element

FOLDER = "board"
STYLES = ("assets/type/type.css", "assets/style.css", "assets/pictures.css", "assets/board.css")
SCRIPTS = ("page/policy.js", "page/board.js")
# The types, by how many times the size of the smallest each is; assets/board.css has the same.
SIZES = {"largest": 1.8, "larger": 1.5, "large": 1.3, "medium": 1.15, "plain": 1.0}
# What does not fit in this type is told on several screens.
READ = SIZES["large"]
# In the smallest type so many letters make a line, beside a picture and without one, and so many lines a screen.
LETTERS = {True: 56.0, False: 86.0}
LINES = 16.0
# A heading's letters are larger, the lesson's title has a size of its own, and room is left under each paragraph,
# less under each line of an answer.
HEADING, TITLE, AFTER_HEADING, AFTER, AFTER_ANSWER = 1.4, 2.4, 0.6, 0.42, 0.25
# The button that uncovers the answer.
BUTTON = 1.8
# A drawing that is so many times as wide as high goes under its words.
WIDE = 1.9


def write_board(site: Path, lesson: str, text: str) -> None:
    """Write a lesson's page for the board into the site."""
    folder = site / FOLDER
    folder.mkdir(exist_ok=True)
    (folder / f"{lesson}.html").write_text(text, "utf-8")


def board(lesson: str, page: Tag) -> str:
    """A lesson's whole page for the board, from the lesson's page as the build filled it."""
    shown = [part for screen in screens(lesson, page) for part in _large(screen)]
    title = LESSONS[lesson]
    made = grown(element("html", _head(title), _body(lesson, shown), lang="en"))
    secure(made)
    return written(made)


def _head(title: str) -> Element:
    return element(
        "head",
        element("meta", charset="utf-8"),
        *(
            element("script", src=f"../{name}", data_root="../", defer=name != SCRIPTS[0])
            for name in SCRIPTS
        ),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("title", f"On the board: {title}"),
        *preload_type("../"),
        element("link", rel="icon", href="../assets/mark.svg"),
        *(element("link", rel="stylesheet", href=f"../{name}") for name in STYLES),
    )


def _body(lesson: str, shown: list[Screen]) -> Element:
    made = (_section(number, one) for number, one in enumerate(shown, 1))
    return element(
        "body",
        element("main", *made),
        _bar(lesson, shown),
        class_="dw-board",
        data_md_color_scheme="default",
    )


def _section(number: int, screen: Screen) -> Element:
    """One screen; the first bears the lesson's title."""
    return element(
        "section",
        element(
            "div",
            element("h1" if number == 1 else "h2", screen.step),
            *_said(screen),
            class_="words",
        ),
        *([_picture(screen)] if _has_room(screen) else []),
        class_=" ".join(_classes(screen)),
        id=f"screen-{number}",
        tabindex="-1",
    )


def _picture(screen: Screen) -> Element:
    return element(
        "div", screen.picture, class_="picture dw-drawing" if screen.is_drawing else "picture"
    )


def _has_room(screen: Screen) -> bool:
    """Whether a picture costs the words nothing, or leaves them large enough."""
    beside = _size(screen, beside=True)
    return screen.is_drawing or beside >= READ or beside >= _size(screen, beside=False)


def _size(screen: Screen, beside: bool) -> float:
    """The largest type in which a screen fits; 0 where none does."""
    return next((size for size in SIZES.values() if _fits(screen, size, beside)), 0.0)


def _fits(screen: Screen, size: float, beside: bool = False) -> bool:
    """Whether a screen fits in a type so many times the smallest, its answer covered and uncovered."""
    letters = LETTERS[beside] / size

    def lines(texts: Iterable[str], after: float = AFTER) -> float:
        return sum(ceil(len(each) / letters) + after for each in texts)

    times = TITLE / size if screen.step in LESSONS.values() else HEADING
    heading = times * ceil(times * len(screen.step) / letters) + AFTER_HEADING
    below = max(
        lines(screen.until) + (BUTTON if screen.answer else 0), lines(screen.answer, AFTER_ANSWER)
    )
    return heading + lines(screen.words) + below <= LINES / size


def _large(screen: Screen) -> Iterator[Screen]:
    """A screen, or the several that tell the same in letters for the back row.

    A story has a screen before what it asks; of a long sum or list each has as many lines as fit.
    """
    if screen.is_drawing or _fits(screen, READ):
        yield screen
        return
    story, *others = screen.words
    asks = others or sentences(story)[1:][-1:]
    if screen.answer and asks:
        is_told = screen.gives == "givens"
        yield replace(screen, until=screen.until if is_told else (), words=(story,), answer=())
        screen = replace(screen, until=() if is_told else screen.until, words=tuple(asks))
    yield from _pieces(screen)


def _pieces(screen: Screen) -> Iterator[Screen]:
    """A screen, or its lines (its answer's, if it has one) on as many as they need; each goes on from the last line."""
    part = "answer" if screen.answer else "words"
    lines = getattr(screen, part)
    parts = {part, "until"} if screen.gives == "lines" else {part}

    def cut(place: slice) -> Screen:
        return replace(screen, **{name: getattr(screen, name)[place] for name in parts})

    most = range(len(lines), 1, -1)
    count = next((n for n in most if _fits(cut(slice(n)), READ)), 1)
    yield cut(slice(count))
    if count == len(lines):
        return
    rest = cut(slice(count, None))
    yield from _pieces(replace(rest, words=lines[count - 1 : count]) if screen.answer else rest)


def _classes(screen: Screen) -> list[str]:
    largest = _size(screen, beside=_has_room(screen))
    size = next((name for name, size in SIZES.items() if size == largest), "plain")
    if not screen.is_drawing:
        return ["screen", size, "asks" if screen.answer else "says"]
    _, _, width, height = map(float, screen.picture.get("viewBox").split())
    return ["screen", "drawing", "wide" if width > WIDE * height else "high"]


def _said(screen: Screen) -> list[Element]:
    made = [element("p", each) for each in screen.words]
    if screen.gives == "choices" and screen.until:
        choices = (element("li", each) for each in screen.until)
        made.append(element("ul", *choices, class_="until"))
    else:
        made += [element("p", each, class_="until") for each in screen.until]
    if screen.answer:
        answer = (element("p", each) for each in screen.answer)
        made.append(element("details", element("summary", "The answer"), *answer))
    return made


def _bar(lesson: str, shown: list[Screen]) -> Element:
    """What a teacher works it with; hidden until the script is there, but for the way back."""
    options = (
        element("option", f"{number}. {one.step}", value=number)
        for number, one in enumerate(shown, 1)
    )
    return element(
        "footer",
        element("a", "Teaching page", href=f"../teachers/lessons/{lesson}/"),
        element(
            "div",
            _button("back", "Back"),
            element("select", *options, aria_label="Screen"),
            _button("next", "Next"),
            _button("full", "Full screen"),
            _button("dark", "Light, dark"),
            hidden=True,
        ),
    )


def _button(does: str, says: str) -> Element:
    return element("button", says, type="button", data_does=does)
