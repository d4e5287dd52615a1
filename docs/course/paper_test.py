"""A short written test or an exit ticket, to print, and its key.

``<paper-test lesson="preferments">`` is the lesson's exit ticket, ``<paper-test of="unit-1" form="B">``
a test in one of its forms; with ``show="key"`` it is the key.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

from calc.words import capital, counted
from docs.course.kit import WrittenTest, ticket_of, written_tests
from exercises.draws import Variant
from exercises.marking import solution
from exercises.publish.html import element

card = True
BLANKS = ("Name", "Date")
# Room for a sum under each problem that has more than one step.
ROOM = 3


def build(attributes: Mapping[str, str]) -> list[Element]:
    """Raises ValueError for a test or a lesson that nobody knows."""
    form = attributes.get("form", "A")
    wanted = _wanted(attributes)
    made = _key if attributes.get("show") == "key" else _test
    return [
        *made(wanted, wanted.drawn(form), form),
        element("button", "Print this alone", type="button", class_="dw-button dw-quiet dw-screen-only"),
    ]  # fmt: skip


def _wanted(attributes: Mapping[str, str]) -> WrittenTest:
    if "lesson" in attributes:
        return ticket_of(attributes["lesson"])
    key = attributes.get("of", "")
    if key not in written_tests():
        raise ValueError(f"No test is called “{key}”. There are {', '.join(written_tests())}.")
    return written_tests()[key]


def _test(test: WrittenTest, drawn: list[Variant], form: str) -> Iterator[Element]:
    yield element("p", element("strong", f"{test.title}, form {form}"), f" · {_marks(drawn)}")
    yield element("p", *(element("span", f"{blank}:") for blank in BLANKS), class_="dw-blanks")
    for number, variant in enumerate(drawn, 1):
        story = " ".join(variant.story.split())
        yield element("p", element("strong", _headed(number, variant)), f" {story}")
        yield from _places(variant)


def _headed(number: int, variant: Variant) -> str:
    title = variant.problem.title
    return f"{number}. {title}" if title.endswith("?") else f"{number}. {title}."


def _places(variant: Variant) -> Iterator[Element]:
    for box in variant.boxes:
        yield element("p", capital(box.label))
        options = (element("li", f"{letter}: {option.text}") for letter, option in box.lettered())
        yield element("ul", *options)
        yield _blank("Letter")
    if len(variant.working.steps) > 1:
        yield from (_blank("Working" if line == 0 else "") for line in range(ROOM))
    if variant.working.steps:
        yield from (_blank(capital(step.label)) for step in variant.asked)


def _blank(label: str) -> Element:
    return element("p", element("span", f"{label}:" if label else "\N{NO-BREAK SPACE}"), class_="dw-blanks")  # fmt: skip


def _key(test: WrittenTest, drawn: list[Variant], form: str) -> Iterator[Element]:
    yield element("p", element("strong", f"Key: {test.title}, form {form}"), f" · {_marks(drawn)}")
    for number, variant in enumerate(drawn, 1):
        yield element(
            "p",
            element("strong", _headed(number, variant)),
            f" ({counted(variant.out_of, 'mark')})",
        )
        yield element("ul", *(element("li", capital(line)) for line in solution(variant)))


def _marks(drawn: list[Variant]) -> str:
    return (
        f"{counted(sum(variant.out_of for variant in drawn), 'mark')}, one for each line of the key"
    )
