"""A problem set as a 1EdTech QTI 3.0 package, for a school's own system.

The package is a zip: `imsmanifest.xml`, a test (with names, one a student) and one item for each draw. A draw is a problem with
numbers put in. Two exports of one set give the same bytes.

Source of the elements and of the package's shape: 1EdTech, Question and Test Interoperability 3.0
(final specification, 1 May 2022), and 1EdTech's own published example packages.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import TypeVar
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from exercises.draws import Box, Problem, ProblemSet, Variant, draw
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

T = TypeVar("T")
MOST_DRAWS = 200
# A set has only so many different draws: after this many tries for each one, no more are sought.
_TRIES = 20
# The marks of an order come from a table of all orders, which grows too long beyond this.
_MOST_ORDERED = 5
# How many levels of a file are in lines of their own: indented rules would double a long item.
_DEPTH = 2
# A zip entry carries a time; a fixed one makes two exports give the same bytes.
_FIXED_TIME = (2020, 1, 1, 0, 0, 0)

_ITEM = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
_ITEM_SCHEMA = "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd"
_PACKAGE = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
_PACKAGE_SCHEMA = (
    "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd"
)
_INSTANCE = "http://www.w3.org/2001/XMLSchema-instance"

# What QTI's floating-point response can be; a player that knows masks tells the student at once.
_NUMBER = "-?[0-9]*[.]?[0-9]+"
_NUMBER_WANTED = "Type a number with a decimal point and no unit, such as 171.4."


@dataclass(frozen=True)
class Item:
    """One item: its identifier, how often it may be tried, and its XML."""

    identifier: str
    tries: int
    xml: str

    @property
    def file(self) -> str:
        return f"items/{self.identifier}.xml"


def package(
    problem_set: ProblemSet,
    students: int | Sequence[str] = 10,
    answer_only: bool = False,
    heard: Callable[[int, int], None] = lambda done, whole: None,
) -> bytes:
    """The zip of a package.

    `students` is how many different draws of each problem to write (1 to `MOST_DRAWS`), or the names
    whose draws to write. With a number, the test shows each student one draw of each problem, picked
    by the school's system; with names, there is a test for each name. A problem whose givens
    allow fewer draws gets fewer. `answer_only` asks for the last step alone (not of a table).
    `heard` is told how many of all problems, or of all students, are written.
    Raises ValueError for a number of draws out of range, for no names, and for a set no problem of
    which can be written.
    """
    if isinstance(students, int):
        if not 1 <= students <= MOST_DRAWS:
            raise ValueError(f"Ask for 1 to {MOST_DRAWS} draws of each problem, not {students}.")
        sections = [
            _Section(
                _identifier(problem.id),
                problem.title,
                [
                    _item(problem_set, variant, f"draw-{n}", answer_only)
                    for n, variant in enumerate(_different(problem_set, problem, students), 1)
                ],
                pick_one=True,
            )
            for problem in _told(problem_set.problems, heard)
            if can_write(problem)
        ]
        tests = [_Test("test", problem_set.title, [one for one in sections if one.items])]
    else:
        sections = [
            _Section(
                f"student-{n}",
                student,
                [
                    _item(
                        problem_set,
                        draw(problem_set, problem, student),
                        f"student-{n}",
                        answer_only,
                    )
                    for problem in problem_set.problems
                    if can_write(problem)
                ],
            )
            for n, student in enumerate(_told(students, heard), 1)
        ]
        tests = [
            _Test(f"test-{one.identifier}", f"{problem_set.title}: {one.title}", [one])
            for one in sections
            if one.items
        ]
    if not any(test.sections for test in tests):
        raise ValueError("There is nothing to write: no student, or no problem that QTI can hold.")
    return _zip(problem_set, tests)


def _told(things: Sequence[T], heard: Callable[[int, int], None]) -> Iterator[T]:
    """Each of some things, and how many of them are done."""
    for done, one in enumerate(things):
        heard(done, len(things))
        yield one


def can_write(problem: Problem) -> bool:
    """Whether QTI can hold a problem with the marks this project gives it."""
    return problem.ranking is None or (problem.show or len(problem.items)) <= _MOST_ORDERED


@dataclass(frozen=True)
class _Section:
    identifier: str
    title: str
    items: list[Item]
    pick_one: bool = False


@dataclass(frozen=True)
class _Test:
    """A test a teacher assigns: to the class, or to one student."""

    identifier: str
    title: str
    sections: list[_Section]

    @property
    def file(self) -> str:
        return f"{self.identifier}.xml"

    @property
    def items(self) -> list[Item]:
        return [item for section in self.sections for item in section.items]


def _different(problem_set: ProblemSet, problem: Problem, count: int) -> list[Variant]:
    """Up to `count` draws that a student could tell apart."""
    found: dict[object, Variant] = {}
    for n in range(1, count * _TRIES + 1):
        drawn = draw(problem_set, problem, f"draw {n}")
        orders = tuple(tuple(option.text for option in box.options) for box in drawn.boxes)
        found.setdefault((tuple(drawn.shown.items()), orders), drawn)
        if len(found) == count:
            break
    return list(found.values())


# Items.


def _item(problem_set: ProblemSet, variant: Variant, name: str, answer_only: bool) -> Item:
    identifier = _identifier(f"{problem_set.key}-{variant.problem.id}-{name}")
    return Item(identifier, variant.problem.tries, item_xml(variant, identifier, answer_only))


def item_xml(variant: Variant, identifier: str, answer_only: bool = False) -> str:
    """One draw as a QTI assessment item."""
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
    return _document(
        call(
            "assessment-item",
            *parts.responses(),
            score,
            _outcome("MAXSCORE", "float", str(variant.out_of)),
            *parts.outcomes(),
            call("item-body", *_paragraphs(variant.story), *parts.body()),
            call("response-processing", *rules),
            **_head(identifier, variant.problem.title),
            time_dependent="false",
            adaptive="false",
        )
    )


def _outcome(
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
        call("content-body", element("p", _plain(says))),
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
            yield _outcome(one.verdict)
            if one.asked:
                yield _outcome(one.feedback)
                yield _outcome(one.half, "float", "0")
                yield _outcome(one.point, "integer", "0", many="ordered")
            if not one.is_fixed:
                yield _outcome(one.source, "identifier", Source.NOTHING)
                yield _outcome(one.span, "float", *map(written, one.start), many="ordered")

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
            yield element("p", f"{_plain(label)}: ", entry, unit)
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
            yield _outcome(f"FEEDBACK_{n}")

    def body(self) -> Iterator[Element]:
        for n, box in self.boxes:
            yield call(
                "choice-interaction",
                call("prompt", _plain(box.label)),
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
        yield _outcome("FEEDBACK")

    def body(self) -> Iterator[Element]:
        yield call(
            "order-interaction",
            call("prompt", _plain(self.variant.problem.ranking.asks)),
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
        yield call("simple-choice", _plain(option.text), identifier=letter)


# The package.


def _zip(problem_set: ProblemSet, tests: list[_Test]) -> bytes:
    files = {"imsmanifest.xml": _manifest(problem_set, tests)}
    files |= {test.file: _test(problem_set, test) for test in tests}
    files |= {item.file: item.xml for test in tests for item in test.items}
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as bundle:
        for name, text in files.items():
            entry = zipfile.ZipInfo(name, _FIXED_TIME)
            entry.compress_type, entry.create_system = zipfile.ZIP_DEFLATED, 3
            entry.external_attr = 0o644 << 16
            bundle.writestr(entry, text.encode())
    return made.getvalue()


def _manifest(problem_set: ProblemSet, tests: list[_Test]) -> str:
    items = [item for test in tests for item in test.items]
    return _document(
        element(
            "manifest",
            element(
                "metadata",
                element("schema", "QTI Package"),
                element("schemaversion", "3.0.0"),
            ),
            element("organizations"),
            element(
                "resources",
                *map(_test_resource, tests),
                *(_resource(item.identifier, "imsqti_item_xmlv3p0", item.file) for item in items),
            ),
            identifier=_identifier(f"{problem_set.key}-{problem_set.version}"),
            **_names(_PACKAGE, _PACKAGE_SCHEMA),
        )
    )


def _test_resource(test: _Test) -> Element:
    resource = _resource(test.identifier, "imsqti_test_xmlv3p0", test.file)
    for item in test.items:
        resource.append(element("dependency", identifierref=item.identifier))
    return resource


def _resource(identifier: str, type_: str, file: str) -> Element:
    return element(
        "resource", element("file", href=file), identifier=identifier, type=type_, href=file
    )


def _test(problem_set: ProblemSet, test: _Test) -> str:
    return _document(
        call(
            "assessment-test",
            _outcome("SCORE", "float", "0"),
            call(
                "test-part",
                *map(_section, test.sections),
                identifier="part",
                navigation_mode="nonlinear",
                submission_mode="individual",
            ),
            call(
                "outcome-processing",
                put(
                    "SCORE",
                    call(
                        "sum",
                        call("test-variables", variable_identifier="SCORE", base_type="float"),
                    ),
                ),
            ),
            **_head(_test_identifier(problem_set, test), test.title),
        )
    )


def _test_identifier(problem_set: ProblemSet, test: _Test) -> str:
    key = _identifier(problem_set.key)
    return key if test.identifier == "test" else f"{key}-{test.identifier}"


def _section(section: _Section) -> Element:
    made = call(
        "assessment-section",
        identifier=f"section-{section.identifier}",
        title=_plain(section.title),
        visible="true",
    )
    if section.pick_one:
        made.append(call("selection", select="1"))
    for item in section.items:
        # A test shows no feedback and allows one try unless it says so.
        control = call("item-session-control", max_attempts=str(item.tries), show_feedback="true")
        made.append(
            call(
                "assessment-item-ref", control, identifier=f"ref-{item.identifier}", href=item.file
            )
        )
    return made


# Text and XML.

# XML 1.0 (section 2.2) has no place for these characters, not even escaped.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def _plain(text: str) -> str:
    """Text as XML can hold it, on one line."""
    return " ".join(_NOT_XML.sub(" ", text).split())


def _identifier(text: str) -> str:
    """A name as QTI allows it: ASCII letters, digits, ``.``, ``-`` and ``_`` after a letter."""
    name = re.sub(r"[^A-Za-z0-9._-]+", "-", text)
    return name if re.match("[A-Za-z]", name) else f"set-{name}"


def _paragraphs(story: str) -> Iterator[Element]:
    for paragraph in re.split(r"\n\s*\n", story.strip()):
        yield element("p", _plain(paragraph))


def _names(namespace: str, schema: str) -> dict[str, str]:
    return {
        "xmlns": namespace,
        "xmlns:xsi": _INSTANCE,
        "xsi:schemaLocation": f"{namespace} {schema}",
    }


def _head(identifier: str, title: str) -> dict[str, str]:
    return {
        **_names(_ITEM, _ITEM_SCHEMA),
        "identifier": identifier,
        "title": _plain(title),
        "xml:lang": "en",
    }


def _in_lines(root: Element, depth: int) -> None:
    """Each part on a line, down to that depth; a rule or a paragraph is one line."""
    if not depth or (root.text or "").strip():
        return
    for one in root:
        one.tail = "\n"
        _in_lines(one, depth - 1)
    if len(root):
        root.text = "\n"


def _document(root: Element) -> str:
    _in_lines(root, _DEPTH)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        + ElementTree.tostring(root, encoding="unicode", short_empty_elements=True)
        + "\n"
    )
