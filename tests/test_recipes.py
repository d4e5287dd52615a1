"""The recipes of DEVELOPERS.md, followed to the letter in a copy of the project.

Each adds one thing in as many places as its recipe names. Then the copy builds, and the project's own
tests of what was added pass there.
"""

import csv
import os
import re
import shutil
import subprocess
import sys

import pytest
from bs4 import BeautifulSoup

from docs.build.join import JOINED
from docs.build.site import ROOT
from docs.engine.files import CACHE

# The project's tests that a recipe points at, and those that its additions could upset.
CONCERNED = [
    "tests/calc/test_composition.py", "tests/calc/test_registry.py", "tests/exercises/test_study.py",
    "tests/site/test_course.py", "tests/docs/build/test_elements.py",
]  # fmt: skip

CALCULATION = '''"""Zest: a calculation that only a test adds."""

from calc.registry import Slot, quantity
from calc.working import Working


@quantity("grated zest", "Find the zest for the oranges.", Slot("oranges", "mass", 50, 5_000), Slot("share", "share", 0.01, 0.5))
def zest(oranges: float, share: float) -> Working:
    """The zest of some oranges, in grams; `share` of their weight is zest."""
    working = Working("The zest of the oranges")
    fruit = working.given("oranges", "oranges", oranges, "mass")
    part = working.given("share", "share of zest", share, "share")
    working.step("zest", "grated zest", fruit * part, "mass", to=0.1, why="Zest is a share of the fruit.")
    return working
'''
MISTAKE = """

@in_the_step(
    "zest-halved",
    "used half of the oranges only",
    "Grate every orange in the bowl.",
    "a-test-lesson",
)
def _zest_halved(working: Working, step: Step, flat: Expression) -> Iterator[Expression]:
    match step.expression:
        case Operation("×", Name("oranges"), right):
            yield Name("oranges") / Number(2) * right
"""
SET = """# A set that only a test adds.
title: A test lesson
version: 1
lesson: a-test-lesson
about: Problems on zest.

problems:
"""
PROBLEM = """  - id: zest-{n}
    title: Zest {n}
    level: {level}
    ask: grated zest
    story: |
      The demo school grates {{oranges}} of oranges. Of that weight {{share}} is zest. How much zest?
    givens:
      oranges: {{from: 400 g, to: 900 g, step: 10 g}}
      share: [2 %, 3 %, 4 %]
"""
PART = '''"""The zest of some oranges: a part that only a test adds."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from docs.parts.shared.fields import FieldReader, style_of, text_field
from docs.parts.shared.form_part import FormPart
from exercises.publish.html import element


def fields_of(attributes: Mapping[str, str]) -> dict[str, str]:
    return {"oranges": attributes.get("oranges", "500 g")}


def result(values: Mapping[str, str]) -> float:
    reader = FieldReader(values, style_of(values))
    oranges = reader.quantity("oranges", "mass", 0.0, 10_000)
    reader.finish()
    return oranges * 0.03


def form(values: Mapping[str, str], prefix: str) -> Element:
    return element("form", text_field(prefix, "oranges", "Oranges", values["oranges"]), class_="dw-form")


def headline(zest: float) -> str:
    return f"Grate {units.write(zest, 'mass')} of zest."


def view(zest: float) -> list[Element]:
    return [element("p", headline(zest), class_="dw-answer")]


PART = FormPart("zest", fields_of, form, result, view, headline)
'''
SCRIPT = """// <zest-finder>: the zest of some oranges.

import {FormPart} from './shared/form-part.js';

customElements.define('zest-finder', class extends FormPart {});
"""


def add_line(file, before, line):
    """Put one line before another: all that a recipe may ask of a file that is there already."""
    text = file.read_text("utf-8")
    assert text.count(before) == 1, before
    file.write_text(text.replace(before, f"{line}\n{before}"), "utf-8")


def add_liquid(copy):
    table = copy / "calc/data/ingredients.csv"
    with table.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    row = next(row for row in rows if row["key"] == "kefir") | {
        "key": "demo-drink", "name": "demo drink", "also": "", "source": "memory",
    }  # fmt: skip
    row |= {name: "memory" for name in row if name.endswith("_source") and row[name]}
    with table.open("a", encoding="utf-8", newline="") as file:
        csv.DictWriter(file, row, lineterminator="\n").writerow(row)


def add_calculation(copy):
    (copy / "calc/zest.py").write_text(CALCULATION, "utf-8")
    add_line(
        copy / "calc/quantities.py",
        '    "percentages": "Baker\'s percentages",',
        '    "zest": "Zest",',
    )
    skill = (
        '    Skill("zest", "find the zest of oranges", "lessons/a-test-lesson/", ("grated zest",)),'
    )
    add_line(copy / "exercises/skills.py", '    Skill(\n        "percentages",', skill)


def add_mistake(copy):
    rules = copy / "calc/mistakes/bench.py"
    rules.write_text(rules.read_text("utf-8") + MISTAKE, "utf-8")


def add_lesson(copy):
    """One line, and its own files: those of another lesson with its own title, key and set."""
    add_line(
        copy / "exercises/lessons.py",
        '    "safe-handling": ',
        '    "a-test-lesson": "A test lesson",',
    )
    model, title = "preferments", "Preferments and starters"
    for folder in ("lessons", "practice", "teachers/lessons"):
        pages = copy / "docs/pages" / folder
        text = (pages / f"{model}.md").read_text("utf-8")
        text = text.replace(title, "A test lesson").replace(model + ".md", "a-test-lesson.md")
        text = text.replace(f'name="{model}"', 'name="a-test-lesson"')
        text = text.replace(f"set={model}", "set=a-test-lesson")
        text = text.replace(f'lesson="{model}"', 'lesson="a-test-lesson"')
        if folder == "lessons":
            text += '\n### Zest {#zest-halved}\n\n<zest-finder oranges="600 g"></zest-finder>\n'
        if folder == "teachers/lessons":
            text += "".join(f"\n- Zest {n}: what a student shows by it" for n in range(9))
        (pages / "a-test-lesson.md").write_text(text, "utf-8")
    benches = copy / "docs/course/demonstrations"
    kit, _, outcomes = (benches / f"{model}.yml").read_text("utf-8").partition("outcomes:\n")
    shown = re.sub(r"- \[.*\]", "- [zest-0]", outcomes)
    (benches / "a-test-lesson.yml").write_text(f"{kit}outcomes:\n{shown}", "utf-8")
    problems = (PROBLEM.format(n=n, level=1 + n % 3) for n in range(9))
    (copy / "exercises/sets/a-test-lesson.yml").write_text(SET + "\n".join(problems), "utf-8")


def add_part(copy):
    (copy / "docs/parts/zest_finder.py").write_text(PART, "utf-8")
    (copy / "docs/parts/zest-finder.js").write_text(SCRIPT, "utf-8")
    add_line(copy / "docs/parts/__init__.py", '    "worked-example",', '    "zest-finder",')


@pytest.fixture(scope="module")
def copy(tmp_path_factory):
    """A copy of the project with everything added."""
    folder = tmp_path_factory.mktemp("recipes") / "copy"
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.splitlines()  # fmt: skip
    for name in listed:
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, folder / name)
    packages = ROOT / "docs/engine/node_modules"
    if packages.exists():
        (folder / "docs/engine/node_modules").symlink_to(packages, target_is_directory=True)
    # What is made of Pyodide alone is the same in the copy.
    lean = CACHE / "lean"
    if lean.exists():
        shutil.copytree(lean, folder / lean.relative_to(ROOT))
    for add in (add_liquid, add_calculation, add_mistake, add_part, add_lesson):
        add(folder)
    return folder


def run(copy, *arguments):
    environment = {name: text for name, text in os.environ.items() if not name.startswith("PYTEST")}
    done = subprocess.run(
        [sys.executable, *arguments], cwd=copy, capture_output=True, text=True,
        env=environment | {"PYTHONPATH": str(copy)},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-4000:]
    return done.stdout


# What packs the engine tightly is not the copy's own, and takes as long as the pages.
BUILD = """
import sys; from pathlib import Path
from docs.build.site import building
for page in building(Path(sys.argv[1]), quick=True): pass
"""


@pytest.mark.slow
def test_the_copy_builds_shows_what_was_added_and_passes_the_projects_own_tests(copy, tmp_path):
    site = tmp_path / "site"
    run(copy, "-c", BUILD, str(site))
    ran = run(
        copy, "-m", "pytest", "-p", "no:xdist", "-p", "no:cacheprovider", "--assert=plain", f"--site={site}",
        *CONCERNED,
    )  # fmt: skip
    assert "[100%]" in ran

    def page(address):
        return BeautifulSoup((site / address / "index.html").read_text("utf-8"), "html.parser")

    assert page("swap").select('option[value="demo-drink"]')
    assert "demo drink" in page("reference/ingredients").get_text()
    assert page("reference/formulas").find(id=re.compile("grated-zest"))
    lesson = page("lessons/a-test-lesson")
    assert (
        lesson.select_one("zest-finder.dw-part.dw-card .dw-answer").get_text()
        == "Grate 18\u00a0g of zest."
    )
    assert "12. A test lesson" in page("lessons").get_text()
    assert page("teachers/term-plan").find("a", string="A test lesson")
    # The list of elements is one of the modules that come in one file.
    assert '"zest-finder": () => import("../parts/zest-finder.js")' in (site / JOINED).read_text(
        "utf-8"
    )


@pytest.mark.slow
def test_the_new_mistake_is_named(copy):
    program = (
        "from exercises.marking import mark\nfrom exercises.problems import load\nfrom exercises.draws import draw\n"
        "problems = load('a-test-lesson')\none = draw(problems, problems.problems[0], 'Somebody')\n"
        "zest = one.working.values()['zest']\n"
        "print(mark(one, {'zest': f'{zest / 2:.3g} g'}))"
    )
    assert "zest-halved" in run(copy, "-c", program)
