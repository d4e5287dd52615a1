"""A problem set as a package of 1EdTech's QTI, 2.1 or 3.0, for a school's own system.

The package is a zip: `imsmanifest.xml`, a test (with names, one a student) and one item for each draw. A draw is a problem with
numbers put in. Two exports of one set give the same bytes.

Sources: those of `qti_versions`, and 1EdTech's own published example packages.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar
from xml.etree.ElementTree import Element

from exercises.draws import Problem, ProblemSet, Variant, draw
from exercises.publish.html import element
from exercises.publish.qti_items import as_identifier, can_write, describe, head, outcome, plain
from exercises.publish.qti_rules import call, put
from exercises.publish.qti_versions import USUAL, Version
from exercises.publish.zipped import zipped

T = TypeVar("T")
MOST_DRAWS = 200
# A set has only so many different draws: after this many tries for each one, no more are sought.
_TRIES = 20


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
    version: Version = USUAL,
) -> bytes:
    """The zip of a package.

    `students` is how many different draws of each problem to write (1 to `MOST_DRAWS`), or the names
    whose draws to write. With a number, the test shows each student one draw of each problem, picked
    by the school's system; with names, there is a test for each name. A problem whose givens
    allow fewer draws gets fewer. `answer_only` asks for the last step alone (not of a table).
    `heard` is told how many of all problems, or of all students, are written; `version` spells it all.
    Raises ValueError for a number of draws out of range, for no names, and for a set no problem of
    which can be written.
    """

    def written(variant: Variant, name: str) -> Item:
        return _item(problem_set, variant, name, answer_only, version)

    if isinstance(students, int):
        if not 1 <= students <= MOST_DRAWS:
            raise ValueError(f"Ask for 1 to {MOST_DRAWS} draws of each problem, not {students}.")
        sections = [
            _Section(
                as_identifier(problem.id),
                problem.title,
                [
                    written(variant, f"draw-{n}")
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
                    written(draw(problem_set, problem, student), f"student-{n}")
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
    return _zip(problem_set, tests, version)


def _told(things: Sequence[T], heard: Callable[[int, int], None]) -> Iterator[T]:
    """Each of some things, and how many of them are done."""
    for done, one in enumerate(things):
        heard(done, len(things))
        yield one


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


# The package.


def _item(
    problem_set: ProblemSet, variant: Variant, name: str, answer_only: bool, version: Version
) -> Item:
    identifier = as_identifier(f"{problem_set.key}-{variant.problem.id}-{name}")
    xml = version.item(describe(variant, identifier, answer_only))
    return Item(identifier, variant.problem.tries, xml)


def _zip(problem_set: ProblemSet, tests: list[_Test], version: Version) -> bytes:
    files = {"imsmanifest.xml": version.manifest(_manifest(problem_set, tests, version))}
    files |= {test.file: version.item(_test(problem_set, test)) for test in tests}
    files |= {item.file: item.xml for test in tests for item in test.items}
    return zipped({name: text.encode() for name, text in files.items()})


def _manifest(problem_set: ProblemSet, tests: list[_Test], version: Version) -> Element:
    schema, schema_version = version.profile
    return element(
        "manifest",
        element(
            "metadata",
            element("schema", schema),
            element("schemaversion", schema_version),
        ),
        element("organizations"),
        element(
            "resources",
            *(_test_resource(test, f"imsqti_test_{version.resources}") for test in tests),
            *(
                _resource(item.identifier, f"imsqti_item_{version.resources}", item.file)
                for test in tests
                for item in test.items
            ),
        ),
        identifier=as_identifier(f"{problem_set.key}-{problem_set.version}"),
    )


def _test_resource(test: _Test, type_: str) -> Element:
    resource = _resource(test.identifier, type_, test.file)
    for item in test.items:
        resource.append(element("dependency", identifierref=item.identifier))
    return resource


def _resource(identifier: str, type_: str, file: str) -> Element:
    return element(
        "resource", element("file", href=file), identifier=identifier, type=type_, href=file
    )


def _test(problem_set: ProblemSet, test: _Test) -> Element:
    scores = call("test-variables", variable_identifier="SCORE", base_type="float")
    return call(
        "assessment-test",
        outcome("SCORE", "float", "0"),
        call(
            "test-part",
            *map(_section, test.sections),
            identifier="part",
            navigation_mode="nonlinear",
            submission_mode="individual",
        ),
        call("outcome-processing", put("SCORE", call("sum", scores))),
        **head(_test_identifier(problem_set, test), test.title),
    )


def _test_identifier(problem_set: ProblemSet, test: _Test) -> str:
    key = as_identifier(problem_set.key)
    return key if test.identifier == "test" else f"{key}-{test.identifier}"


def _section(section: _Section) -> Element:
    made = call(
        "assessment-section",
        identifier=f"section-{section.identifier}",
        title=plain(section.title),
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
