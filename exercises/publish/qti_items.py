"""The items of a QTI package: what each shows, takes, and says, and the rules of its marks.

A draw is described once, in the names of QTI 3.0; `qti_versions` writes it in each version's.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import permutations
from xml.etree.ElementTree import Element

from exercises.draws import Box, Problem, Variant
from exercises.marking import mark
from exercises.publish.html import element
from exercises.publish.qti_rules import (
    Rule,
    any_of,
    call,
    choose,
    is_,
    number,
    put,
    value,
    variable,
    written,
)
from exercises.publish.qti_steps import Source, steps_of

# The marks of an order come from a table of all orders, which grows too long beyond this.
_MOST_ORDERED = 5
# What QTI's floating-point response can be; a player that knows masks tells the student at once.
_NUMBER = "-?[0-9]*[.]?[0-9]+"
_NUMBER_WANTED = "Type a number with a decimal point, not a comma, and no unit, such as 171.4."


def can_write(problem: Problem) -> bool:
    """Whether QTI can hold a problem with the marks this project gives it."""
    return problem.ranking is None or (problem.show or len(problem.items)) <= _MOST_ORDERED


def describe(variant: Variant, identifier: str, answer_only: bool = False) -> Element:
    """One draw as an assessment item, for a `qti_versions.Version` to write."""
    if variant.problem.ranking is not None:
        parts = _Order(variant)
    elif variant.boxes:
        parts = _Choices(variant)
    else:
        parts = _Numbers(variant, answer_only)
    rules = list(parts.rules())
    score = call(
        "outcome-declaration",
        call("default-value", call("value", "0")),
        identifier="SCORE",
        cardinality="single",
        base_type="float",
        normal_minimum="0",
        normal_maximum=str(variant.out_of),
    )
    return call(
        "assessment-item",
        *parts.responses(),
        score,
        outcome("MAXSCORE", "float", str(variant.out_of)),
        *parts.outcomes(),
        call("item-body", *_paragraphs(variant.story), *parts.body()),
        call("response-processing", *rules),
        **head(identifier, variant.problem.title),
        time_dependent="false",
        adaptive="false",
    )


def outcome(
    identifier: str, base_type: str = "identifier", *default: str, many: str = "single"
) -> Element:
    given = [call("default-value", *(call("value", one) for one in default))] if default else []
    return call(
        "outcome-declaration",
        *given,
        identifier=identifier,
        cardinality=many,
        base_type=base_type,
    )


def _response(
    identifier: str, base_type: str, right: Iterable[str], many: str = "single"
) -> Element:
    return call(
        "response-declaration",
        call("correct-response", *(call("value", text) for text in right)),
        identifier=identifier,
        cardinality=many,
        base_type=base_type,
    )


def _feedback(outcome: str, identifier: str, says: str) -> Element:
    """A paragraph that is shown while an outcome holds that word."""
    return call(
        "feedback-block",
        call("content-body", element("p", plain(says))),
        outcome_identifier=outcome,
        identifier=identifier,
        show_hide="show",
    )


def _add_marks(condition: Element, marks: float) -> Rule:
    return choose((condition, [put("SCORE", call("sum", variable("SCORE"), number(float(marks))))]))


class _Numbers:
    """Steps to compute, each with a box for a number."""

    def __init__(self, variant: Variant, answer_only: bool) -> None:
        self.variant = variant
        self.steps = steps_of(variant, answer_only)
        self.asked = [one for one in self.steps if one.asked]
        # The rules are made first: they say what feedback there is.
        self._rules = [rule for one in self.steps for rule in one.rules()]

    def responses(self) -> Iterator[Element]:
        values = self.variant.working.values()
        for one in self.asked:
            yield _response(one.response, "float", [one.typed(values[one.step.key])])

    def outcomes(self) -> Iterator[Element]:
        for one in self.steps:
            yield outcome(one.verdict)
            if one.asked:
                yield outcome(one.feedback)
                yield outcome(one.half, "float", "0")
                yield outcome(one.point, "integer", "0", many="ordered")
            if not one.is_fixed:
                yield outcome(one.source, "identifier", Source.NOTHING)
                yield outcome(one.span, "float", *map(written, one.start), many="ordered")

    def body(self) -> Iterator[Element]:
        several = len(self.asked) > 1 and not self.variant.problem.quantity.cells
        last = " You may leave out every number but the last." if several else ""
        yield element("p", f"{_NUMBER_WANTED} The unit is beside the box.{last}")
        for one in self.asked:
            entry = call(
                "text-entry-interaction",
                response_identifier=one.response,
                expected_length="10",
                pattern_mask=_NUMBER,
                class_="qti-input-width-10",
                data_patternmask_message=_NUMBER_WANTED,
            )
            unit = f" {one.unit.symbol}" if one.unit else ""
            to = self.variant.told(one.step)
            label = f"{one.step.label} ({to})" if to else one.step.label
            yield element("p", f"{plain(label)}: ", entry, unit)
            for identifier, says in one.says.items():
                yield _feedback(one.feedback, identifier, says)

    def rules(self) -> Iterator[Rule]:
        yield from self._rules
        for one in self.steps:
            earned = (is_(one.verdict, word) for word in ("RIGHT", "FOLLOWS", "NOT_NEEDED"))
            yield _add_marks(any_of(*earned), self.variant.problem.marks_per_step)


class _Choices:
    """Questions with options to choose from."""

    def __init__(self, variant: Variant) -> None:
        self.variant = variant
        self.boxes = list(enumerate(variant.boxes, 1))

    def responses(self) -> Iterator[Element]:
        for n, box in self.boxes:
            yield _response(f"RESPONSE_{n}", "identifier", [self._right(box)])

    def outcomes(self) -> Iterator[Element]:
        for n, _ in self.boxes:
            yield outcome(f"FEEDBACK_{n}")

    def body(self) -> Iterator[Element]:
        for n, box in self.boxes:
            yield call(
                "choice-interaction",
                call("prompt", plain(box.label)),
                *_simple_choices(box),
                response_identifier=f"RESPONSE_{n}",
                max_choices="1",
                shuffle="false",
            )
            for letter, option in box.lettered():
                verdict = "Right." if option.right else "Not right yet."
                yield _feedback(f"FEEDBACK_{n}", letter, f"{verdict} {option.because}".strip())

    def rules(self) -> Iterator[Rule]:
        for n, box in self.boxes:
            answer = variable(f"RESPONSE_{n}")
            yield choose(
                (
                    call("not", call("is-null", answer)),
                    [
                        put(f"FEEDBACK_{n}", answer),
                        _add_marks(
                            is_(f"RESPONSE_{n}", self._right(box)),
                            self.variant.problem.marks_per_step,
                        ),
                    ],
                )
            )

    @staticmethod
    def _right(box: Box) -> str:
        return next(letter for letter, option in box.lettered() if option.right)


class _Order:
    """Items to put in order; each order's marks come from marking."""

    def __init__(self, variant: Variant) -> None:
        self.variant = variant
        self.box = variant.boxes[0]
        self.marks: dict[float, list[tuple[str, ...]]] = {}
        names = dict(self.box.lettered())
        for letters in permutations(names):
            answers = zip(variant.boxes, letters, strict=True)
            earned = mark(variant, {box.key: letter for box, letter in answers}).marks
            self.marks.setdefault(earned, []).append(letters)

    def responses(self) -> Iterator[Element]:
        yield _response("RESPONSE", "identifier", self.marks[self.variant.out_of][0], "ordered")

    def outcomes(self) -> Iterator[Element]:
        yield outcome("FEEDBACK")

    def body(self) -> Iterator[Element]:
        yield call(
            "order-interaction",
            call("prompt", plain(self.variant.problem.ranking.asks)),
            *_simple_choices(self.box),
            response_identifier="RESPONSE",
            shuffle="false",
        )
        yield _feedback("FEEDBACK", "RIGHT", "Right.")
        yield _feedback("FEEDBACK", "NOT_YET", "They are not all in the right order yet.")

    def rules(self) -> Iterator[Rule]:
        for earned, orders in sorted(self.marks.items(), reverse=True):
            same = (
                call("match", variable("RESPONSE"), call("ordered", *map(value, letters)))
                for letters in orders
            )
            word = "RIGHT" if earned == self.variant.out_of else "NOT_YET"
            yield choose(
                (any_of(*same), [put("SCORE", number(float(earned))), put("FEEDBACK", word)])
            )


def _simple_choices(box: Box) -> Iterator[Element]:
    for letter, option in box.lettered():
        yield call("simple-choice", plain(option.text), identifier=letter)


# Text.

# XML 1.0 (section 2.2) has no place for these characters, not even escaped.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def plain(text: str) -> str:
    """Text as XML can hold it, on one line."""
    return " ".join(_NOT_XML.sub(" ", text).split())


def as_identifier(text: str) -> str:
    """A name as QTI allows it: ASCII letters, digits, ``.``, ``-`` and ``_`` after a letter."""
    name = re.sub(r"[^A-Za-z0-9._-]+", "-", text)
    return name if re.match("[A-Za-z]", name) else f"set-{name}"


def _paragraphs(story: str) -> Iterator[Element]:
    for paragraph in re.split(r"\n\s*\n", story.strip()):
        yield element("p", plain(paragraph))


def head(name: str, title: str) -> dict[str, str]:
    """The attributes that an item and a test have alike."""
    return {"identifier": name, "title": plain(title), "xml:lang": "en"}
