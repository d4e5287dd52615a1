"""The package of QTI: its shape, and that its rules give the marks that marking gives.

What is said of 3.0 here holds for 2.1, which spells the same items: see `test_qti_versions.py`.

Checked against the standard: 1EdTech, Question and Test Interoperability 3.0, final specification
(2022): the shape of a package and of an item, and what each expression means (the small interpreter
below follows the information model: NULL spreads, `and` and `or` are three-valued). The schemas
themselves are in no package registry, so `tests/site/test_qti_player.py` also loads items in a
player made elsewhere.
"""

import io
import math
import re
import zipfile
from copy import deepcopy
from functools import cache, partial
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from calc import units
from exercises.cli import main
from exercises.draws import draw
from exercises.marking import Verdict, mark
from exercises.problems import load, read_set
from exercises.publish.qti import package
from exercises.publish.qti_items import describe
from exercises.publish.qti_versions import QTI_3, QTI_21
from tests.exercises.publish.conftest import PROBLEMS

ITEM = "{http://www.imsglobal.org/xsd/imsqtiasi_v3p0}qti-"
MANIFEST = "{http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1}"


def files_of(made: bytes) -> dict[str, str]:
    with zipfile.ZipFile(io.BytesIO(made)) as bundle:
        return {name: bundle.read(name).decode("utf-8") for name in bundle.namelist()}


NUMBERS = [(s, p) for s, p in PROBLEMS if p.quantity]


# A small interpreter of response processing.


class Session:
    """One candidate's attempt at an item: give responses, read outcomes."""

    def __init__(self, root: ElementTree.Element) -> None:
        self.root = root
        self.values: dict[str, object] = {}
        self.types: dict[str, str] = {}

    def answer(self, **responses: object) -> dict[str, object]:
        for one in self.root:
            name = one.get("identifier", "")
            if one.tag == f"{ITEM}response-declaration":
                self.values[name] = responses.get(name)
            elif one.tag == f"{ITEM}outcome-declaration":
                self.values[name] = self.default(one)
        for rule in self.root.find(f"{ITEM}response-processing"):
            self.run(rule)
        return self.values

    @staticmethod
    def default(declared) -> object:
        numeric = declared.get("base-type") == "float"
        texts = [one.text for one in declared.iterfind(f"{ITEM}default-value/{ITEM}value")]
        found = [float(one) if numeric else one for one in texts]
        if declared.get("cardinality") == "ordered":
            return found
        return found[0] if found else 0.0 if numeric else None

    def run(self, rule) -> None:
        match rule.tag.removeprefix(ITEM):
            case "set-outcome-value":
                assert rule.get("identifier") in self.values
                self.values[rule.get("identifier")] = self.compute(rule[0])
            case "response-condition":
                for branch in rule:
                    plain = branch.tag == f"{ITEM}response-else"
                    if plain or self.compute(branch[0]) is True:
                        for inner in branch[0 if plain else 1 :]:
                            self.run(inner)
                        break
            case other:
                raise AssertionError(other)

    def compute(self, part):
        name = part.tag.removeprefix(ITEM)
        if name == "variable":
            return self.values[part.get("identifier")]
        if name == "base-value":
            return {"float": float, "integer": int}.get(part.get("base-type"), str)(part.text)
        found = [self.compute(one) for one in part]
        if name == "is-null":
            return found[0] is None
        if name == "and":
            return False if False in found else None if None in found else True
        if name == "or":
            return True if True in found else None if None in found else False
        if None in found:
            return None
        if name == "divide" and found[1] == 0:
            return None
        return {
            "not": lambda a: not a,
            "match": lambda a, b: a == b,
            **dict.fromkeys(("ordered", "multiple"), lambda *all_: list(all_)),
            "index": lambda container: container[int(part.get("n")) - 1],
            "member": lambda one, container: one in container,
            "lt": lambda a, b: a < b,
            "lte": lambda a, b: a <= b,
            "gt": lambda a, b: a > b,
            "sum": lambda *all_: sum(all_),
            "subtract": lambda a, b: a - b,
            "product": lambda *all_: math.prod(all_),
            "min": lambda *all_: min(all_),
            "max": lambda *all_: max(all_),
            "divide": lambda a, b: a / b,
            "round": lambda a: math.floor(a + 0.5),
        }[name](*found)


def written(step, figure: float) -> tuple[str, float]:
    """A figure on the step's scale: as marking reads it, and as a student types it into the item."""
    unit = units.PLAIN.unit(step.kind)
    factor, offset = (unit.factor, unit.offset) if unit else (1.0, 0.0)
    text = units.digits((figure - offset) / factor, step.to / factor).replace("−", "-")
    return f"{text} {unit.symbol if unit else ''}".strip(), float(text)


# What an item says of wrong answers comes from marking many of them: it is described once for all tests.
described = cache(partial(describe, identifier="one"))


@cache
def item_of(variant, answer_only: bool = False) -> ElementTree.Element:
    """An item as the package has it, read; every one that a test sees is whole."""
    xml = QTI_3.item(deepcopy(described(variant, answer_only=answer_only)))
    item = ElementTree.fromstring(xml)
    assert_whole(item)
    return item


def both(variant, figures: dict[str, float], answer_only: bool = False):
    """The same answers marked here and by the item's rules."""
    answers, responses = {}, {}
    for place, step in enumerate(variant.working.steps.values(), 1):
        if step.key in figures:
            answers[step.key], responses[f"RESPONSE_{place}"] = written(step, figures[step.key])
    outcome = Session(item_of(variant, answer_only)).answer(**responses)
    return mark(variant, answers), outcome


def verdicts(outcome, count: int) -> list[str]:
    return [outcome[f"VERDICT_{n}"] for n in range(1, count + 1)]


# The package.


def test_the_package_has_what_the_standard_asks_for():
    files = files_of(package(load("first-swaps"), 3, version=QTI_3))
    manifest = ElementTree.fromstring(files["imsmanifest.xml"])
    assert manifest.tag == f"{MANIFEST}manifest"
    assert manifest.findtext(f"{MANIFEST}metadata/{MANIFEST}schema") == "QTI Package"
    assert manifest.findtext(f"{MANIFEST}metadata/{MANIFEST}schemaversion") == "3.0.0"
    resources = manifest.findall(f"{MANIFEST}resources/{MANIFEST}resource")
    listed = {one.get("href"): one.get("type") for one in resources}
    assert listed.keys() == files.keys() - {"imsmanifest.xml"}
    assert listed.pop("test.xml") == "imsqti_test_xmlv3p0"
    assert set(listed.values()) == {"imsqti_item_xmlv3p0"}
    names = [one.get("identifier") for one in resources]
    assert len(set(names)) == len(names)
    needed = {one.get("identifierref") for one in manifest.iter(f"{MANIFEST}dependency")}
    assert needed == set(names) - {"test"}
    refs = ElementTree.fromstring(files["test.xml"]).iter(f"{ITEM}assessment-item-ref")
    assert [one.get("href") for one in refs] == list(listed)
    for href in listed:
        item = ElementTree.fromstring(files[href])
        assert_whole(item)
        assert href == f"items/{item.get('identifier')}.xml"


# The schema of QTI 3.0: how many operands an expression takes (None: one or more).
OPERANDS = {
    **dict.fromkeys(("match", "lt", "lte", "gt", "subtract", "divide", "member"), 2),
    **dict.fromkeys(("is-null", "not", "round", "index"), 1),
    **dict.fromkeys(("and", "or", "sum", "product", "min", "max", "ordered", "multiple"), None),
    **dict.fromkeys(("variable", "base-value"), 0),
}
# QTI 3.0 information model, AssessmentItem: its parts, in this order.
ORDER = ["response-declaration", "outcome-declaration", "item-body", "response-processing"]
NAME = re.compile(r"^[A-Za-z_][A-Za-z0-9_.-]*$")


def assert_whole(root) -> None:
    """Its parts, the names that its rules use, and what its expressions take."""
    assert root.tag == f"{ITEM}assessment-item"
    kinds = [one.tag.removeprefix(ITEM) for one in root]
    assert kinds == sorted(kinds, key=ORDER.index)
    declared = {one.get("identifier") for one in root if one.get("cardinality")}
    assert {"SCORE", "MAXSCORE"} <= declared
    for one in root.iter():
        for attribute in ("identifier", "response-identifier", "outcome-identifier"):
            assert NAME.match(one.get(attribute, "x"))
        if one.tag in (f"{ITEM}variable", f"{ITEM}set-outcome-value"):
            assert one.get("identifier") in declared
    for one in root.find(f"{ITEM}response-processing").iter():
        if (kind := one.tag.removeprefix(ITEM)) in OPERANDS:
            wanted = OPERANDS[kind]
            assert len(one) == wanted if wanted is not None else len(one) >= 1
    asked = {one.get("response-identifier") for one in root.iter()} - {None}
    assert asked == {n for n in declared if n.startswith("RESPONSE")}
    shown: dict[str, set[str]] = {}
    for block in root.iter(f"{ITEM}feedback-block"):
        shown.setdefault(block.get("outcome-identifier"), set()).add(block.get("identifier"))
    for rule in root.iter(f"{ITEM}set-outcome-value"):
        if rule.get("identifier").startswith("FEEDBACK") and rule[0].text:
            assert rule[0].text in shown[rule.get("identifier")] | {"BLANK"}


def test_two_exports_give_the_same_bytes():
    one, other = (read_set(FEW, "few.yml") for _ in range(2))
    assert package(one, 2) == package(other, 2)
    names = ["Ada Invented", "Zoë Invented"]
    assert package(one, names) == package(other, names)


def test_a_named_student_gets_their_own_numbers():
    problem_set = load("first-swaps")
    files = files_of(package(problem_set, ["Ada Invented", "Zoë Invented"], version=QTI_3))
    for number, name in enumerate(("Ada Invented", "Zoë Invented"), 1):
        for problem in problem_set.problems:
            root = ElementTree.fromstring(
                files[f"items/first-swaps-{problem.id}-student-{number}.xml"]
            )
            story = "".join(root.find(f"{ITEM}item-body")[0].itertext()).replace("\u00a0", " ")
            assert story == " ".join(draw(problem_set, problem, name).story.split())
        # A test of their own, which shows nobody else's name or numbers.
        test = ElementTree.fromstring(files[f"test-student-{number}.xml"])
        assert test.get("title") == f"First swaps: {name}"
        sections = test.iter(f"{ITEM}assessment-section")
        assert [one.get("title") for one in sections] == [name]
        refs = [one.get("href") for one in test.iter(f"{ITEM}assessment-item-ref")]
        assert len(refs) == len(problem_set.problems)
        assert all(f"-student-{number}.xml" in ref for ref in refs)
    manifest = ElementTree.fromstring(files["imsmanifest.xml"])
    resources = manifest.findall(f"{MANIFEST}resources/{MANIFEST}resource")
    tests = [one for one in resources if one.get("type") == "imsqti_test_xmlv3p0"]
    assert [one.get("href") for one in tests] == ["test-student-1.xml", "test-student-2.xml"]
    assert "test.xml" not in files


FEW = """\
title: Few
version: 1
problems:
  - id: two-loaves
    title: Two loaves
    story: "{flour} at {hydration}"
    ask: water needed
    givens:
      flour: [500 g, 600 g]
      hydration: 65 %
"""


def test_a_problem_with_few_draws_gets_only_those():
    files = files_of(package(read_set(FEW, "few.yml"), 8, version=QTI_3))
    small = [name for name in files if "two-loaves" in name]
    assert len(small) == 2
    assert len({files[name].split("<qti-item-body>")[1] for name in small}) == 2


@pytest.mark.parametrize("students", [0, -1, 201, []])
def test_refuses_what_cannot_be_exported(students):
    with pytest.raises(ValueError, match=r"draws|nothing"):
        package(load("first-swaps"), students)


HOSTILE = """\
title: "</qti-assessment-item><script>alert(1)</script> & \\"quoted\\""
version: 1
problems:
  - id: one-loaf
    title: "]]> <b>bold</b> \\u0007"
    story: "{flour} at {hydration} with {liquid} <script>alert('x')</script> & ]]> <!-- \\u0001 \\u2028"
    ask: new liquid
    givens:
      flour: 500 g
      hydration: 65 %
      liquid: "<img src=x onerror=alert(1)>, 74 % water"
"""


def test_a_story_is_only_text():
    files = files_of(package(read_set(HOSTILE, "a bad/../name é.yml"), 1, version=QTI_3))
    for name, text in files.items():
        assert re.fullmatch(r"[A-Za-z0-9./_-]+", name)
        assert ".." not in name
        root = ElementTree.fromstring(text)
        for one in root.iter():
            assert one.tag.startswith((ITEM, MANIFEST)) or one.tag.endswith(("}p", "}div"))
    (item,) = (text for name, text in files.items() if name.startswith("items/"))
    body = ElementTree.fromstring(item).find(f"{ITEM}item-body")
    assert "<script>alert('x')</script> & ]]> <!--" in "".join(body.itertext())


def test_exports_at_the_terminal(tmp_path, capsys):
    out, own = tmp_path / "set.zip", tmp_path / "few.yml"
    own.write_text(FEW, "utf-8")
    few = read_set(FEW, "few.yml")

    def exported(*asked: str) -> bytes:
        assert main(["export", str(own), "--out", str(out), *asked]) == 0
        return out.read_bytes()

    assert exported("--draws", "1") == package(few, 1)
    for version in (QTI_21, QTI_3):
        made = exported("--draws", "1", "--as", version.key)
        assert made == package(few, 1, version=version)
    names = tmp_path / "names.txt"
    names.write_text("Ada Invented\nZoë Invented\n", "utf-8")
    made = exported("--students", str(names), "--answer-only")
    assert made == package(few, ["Ada Invented", "Zoë Invented"], True)
    for wrong, says in (
        (["--out", str(tmp_path / "set.yml")], "ends in .zip"),
        (["--out", str(out), "--draws", "0"], "1 to 200"),
        (["--out", str(tmp_path / "no" / "set.zip"), "--draws", "1"], "cannot be written"),
    ):
        assert main(["export", "first-swaps", *wrong]) == 1
        assert says in capsys.readouterr().err


# The rules give the marks that marking gives.


@pytest.mark.slow
def test_the_right_answer_earns_every_mark_and_one_slip_costs_one_step(variant):
    item = item_of(variant)
    session = Session(item)
    right = {}
    for one in item.iter(f"{ITEM}response-declaration"):
        texts = [value.text for value in one.iter(f"{ITEM}value")]
        many, numeric = one.get("cardinality") != "single", one.get("base-type") == "float"
        right[one.get("identifier")] = texts if many else float(texts[0]) if numeric else texts[0]
    assert session.answer(**right)["SCORE"] == session.values["MAXSCORE"] == variant.out_of
    assert session.answer()["SCORE"] == 0
    for slip in (0.9, 1.2) if variant.problem.quantity else ():
        one_slip_costs_one_step(variant, slip)


def one_slip_costs_one_step(variant, slip):
    """What a student honestly goes on to from a wrong first figure follows, whatever its sign."""
    first, *others = variant.working.steps.values()
    figures = {first.key: variant.working.values()[first.key] * slip + first.to}
    for step in others:
        if (own := from_own(variant, step, figures)) > 0:
            figures[step.key] = own
    marked, outcome = both(variant, figures)
    assert verdicts(outcome, len(marked.steps)) == [one.verdict.name for one in marked.steps]
    assert all(one.verdict.earns for one in marked.steps[1:] if one.step.key in figures)


def from_own(variant, step, figures: dict[str, float]) -> float:
    """What a student comes to who goes on from the figures shown; 0 where that divides by zero."""
    steps = variant.working.steps
    readings = {
        key: units.read(written(steps[key], figure)[0], steps[key].kind)
        for key, figure in figures.items()
        if key != step.key
    }
    usable = {key: read for key, read in readings.items() if read.value >= steps[key].to}
    try:
        ends = variant.working.attainable(usable)[step.key]
    except ZeroDivisionError:
        return 0
    return (ends.low + ends.high) / 2


def test_what_follows_from_a_scale_in_steps_of_five_is_as_narrow_as_in_marking():
    """A figure on a scale of 0.05 g is known to 0.01 g: its half step is no freedom for what follows."""
    problem_set = load("scaling-and-rounding")
    problem = problem_set.problem("yeast-on-a-scale")
    drawn = (draw(problem_set, problem, f"draw {n}") for n in range(1, 12))
    fives = [variant for variant in drawn if variant.working.steps["half"].to == 0.05]
    assert fives
    tried = set()
    for variant in fives:
        half, error = variant.working.steps.values()
        for own in (half.to * 3, half.to * 5):
            after = from_own(variant, error, {half.key: own})
            for n in range(-60, 61, 4):
                figures = {half.key: own, error.key: after * (1 + n / 100)}
                marked, outcome = both(variant, figures)
                told = [one.verdict.name for one in marked.steps]
                assert verdicts(outcome, 2) == told
                tried.add(told[1])
    assert tried >= {"FOLLOWS", "WRONG"}


# Each example marks a whole item; making a failing one smaller would take minutes.
SLOW = settings(
    max_examples=100,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
)


@st.composite
def variants(draw_):
    problem_set, problem = draw_(st.sampled_from(NUMBERS))
    return draw(problem_set, problem, f"draw {draw_(st.integers(1, 30))}")


def figure(draw_, variant, key) -> float:
    """A number a student might write: near the right one, a known mistake's, or any."""
    step, right = variant.working.steps[key], variant.working.values()[key]
    near = right + draw_(st.integers(-3, 3)) * step.to
    wrong = right * draw_(
        st.sampled_from([0.01, 0.5, 0.74, 0.88, 1.12, 1 / 0.74, 2, 10, 100, 1000])
    )
    anything = draw_(st.integers(0, 3000)) * step.to
    return draw_(st.sampled_from([near, near, wrong, anything]))


@pytest.mark.slow
@SLOW
@given(st.data())
def test_the_last_step_alone_is_marked_the_same(data):
    """With only the answer shown, in either form of item: the same marks, the same sentence."""
    variant = data.draw(variants())
    key = variant.working.answer.key
    figures = {key: figure(data.draw, variant, key)}
    assume(figures[key] >= 0)
    place = len(variant.working.steps)
    for answer_only in (False, True):
        marked, outcome = both(variant, figures, answer_only)
        assert outcome["SCORE"] == marked.marks
        assert verdicts(outcome, place) == [one.verdict.name for one in marked.steps]
        blocks = item_of(variant, answer_only).iter(f"{ITEM}feedback-block")
        shown = [
            "".join(block.itertext()).strip().replace("\u00a0", " ")
            for block in blocks
            if outcome[block.get("outcome-identifier")] == block.get("identifier")
        ]
        named = [one.says for one in marked.steps if one.findings]
        assert len(shown) == 1
        assert all(says in shown[0] for says in named)


@pytest.mark.slow
@SLOW
@given(st.data())
def test_with_every_step_shown_the_marks_are_the_same(data):
    """Right figures, and what follows from the student's own: the same verdict for each step."""
    variant = data.draw(variants())
    steps = variant.working.steps
    figures = {key: figure(data.draw, variant, key) for key in steps}
    own = data.draw(st.booleans())
    if own and len(steps) > 1:
        # Go on from the figures shown, as a student does.
        for key in list(steps)[1:]:
            figures[key] = from_own(variant, steps[key], figures) or figures[key]
    assume(all(0 <= value < 1e7 for value in figures.values()))
    marked, outcome = both(variant, figures)
    assert verdicts(outcome, len(steps)) == [one.verdict.name for one in marked.steps]
    assert outcome["SCORE"] == marked.marks


@pytest.mark.slow
@SLOW
@given(st.data())
def test_with_some_steps_shown_no_mark_is_given_that_marking_would_not(data):
    """A mistake in a step left out is not sought from a student's own figures: see the docs."""
    variant = data.draw(variants())
    figures = {
        key: figure(data.draw, variant, key)
        for key in variant.working.steps
        if data.draw(st.booleans())
    }
    assume(all(value >= 0 for value in figures.values()))
    marked, outcome = both(variant, figures)
    assert outcome["SCORE"] <= marked.marks
    if not any(one.verdict is Verdict.WRONG or one.findings for one in marked.steps):
        assert outcome["SCORE"] == marked.marks


@pytest.mark.slow
@SLOW
@given(st.data())
def test_the_tolerance_is_that_of_marking(data):
    """Numbers finer than the scale, close to the ends of what is right."""
    variant = data.draw(variants())
    step = variant.working.answer
    unit = units.PLAIN.unit(step.kind)
    factor = unit.factor if unit else 1.0
    right = variant.working.attainable({})[step.key].widened(step.to / 2)
    end = data.draw(st.sampled_from([right.low, right.high]))
    typed = round(end / factor + data.draw(st.integers(-200, 200)) / 100 * step.to / factor, 3)
    assume(typed > 0)
    marked = mark(variant, {step.key: f"{typed} {unit.symbol if unit else ''}"})
    place = len(variant.working.steps)
    outcome = Session(item_of(variant)).answer(**{f"RESPONSE_{place}": typed})
    is_right = marked.steps[-1].verdict is Verdict.RIGHT
    assert (outcome[f"VERDICT_{place}"] == "RIGHT") == is_right
