"""DEVELOPERS.md tells the truth: its map names every module, and its commands are there."""

import re
import subprocess

import pytest

from docs.build.site import ROOT

TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
MAP = TEXT.partition("## The map")[2].partition("## How a page works")[0]
# What every Python package has, and what nobody looks for on a map.
UNNAMED = {"__init__", "__main__"}


def tracked(*patterns):
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", *patterns],
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout.split()  # fmt: skip
    return [ROOT / name for name in listed if (ROOT / name).exists()]


CODE = tracked("calc/*.py", "exercises/*.py", "docs/*.py", "docs/*.js", "docs/*.mjs")
LESSON_FIGURES = ROOT / "docs/course/figures"
# A part and the elements of the course are known by the element's name, which the map need not list
# one by one where it says the folder's rule.
PARTS = ROOT / "docs/parts"


def by_rule(path):
    return path.parent == PARTS or (path.parent == LESSON_FIGURES and path.stem != "registry")


@pytest.mark.parametrize(
    "path", [path for path in CODE if not by_rule(path)], ids=lambda path: path.relative_to(ROOT).as_posix()
)  # fmt: skip
def test_the_map_names_every_module(path):
    if path.stem not in UNNAMED:
        assert re.search(rf"(?<![\w-]){re.escape(path.stem)}(?![\w-])", MAP), (
            f"{path.name} is not on the map"
        )


@pytest.mark.parametrize(
    "path", [path for path in CODE if path.parent == PARTS], ids=lambda path: path.name
)
def test_a_part_is_a_pair_with_the_name_of_its_element(path):
    from docs.parts import PARTS as LISTED

    if path.stem not in UNNAMED:
        assert path.stem.replace("_", "-") in LISTED


def test_the_map_names_nothing_that_is_gone():
    stems = {path.stem for path in tracked()} | {path.name for path in tracked()}
    for name in re.findall(r"\b[a-z]+(?:[-_][a-z]+)*\.(?:py|js|mjs)\b", TEXT):
        assert name in stems or name in (
            "x.py",
            "test_x.py",
            "test_x_topic.py",
            "x.js",
            "x_y.py",
            "x-y.js",
            "serve.py",
            "limits.js",
            "names.js",
            "no-hits.js",
        ), name


def test_every_path_in_the_text_is_there():
    for path in re.findall(r"`((?:calc|docs|exercises|tests)/[\w./-]+)`", TEXT):
        if not re.search(r"\bx\b|x[._-]|\*", path):
            assert (ROOT / path).exists(), path


@pytest.mark.parametrize("module", sorted(set(re.findall(r"python -m (tests\.[\w.]+)", TEXT))))
def test_every_command_is_there(module):
    path = ROOT / module.replace(".", "/")
    assert path.with_suffix(".py").exists() or (path / "__main__.py").exists()


# Modules without a test file of their name, and what tests them. Of docs, the folder build has such
# files; what else is on a page is tried in a browser, in tests/site. The rules of calc/mistakes are
# tested together, by what the diagnosis makes of them.
TESTED_ELSEWHERE = {
    "calc/acid": "calc/test_feel",
    "calc/pack_kinds": "calc/test_label",
    "calc/panel_doubts": "calc/test_label",
    "calc/recipe_lines": "calc/test_recipe_text",
    "calc/recipe_names": "calc/test_recipe_text",
    "calc/size_check": "exercises/test_marking",
    "calc/written": "calc/test_answers",
    "exercises/lessons": "site/test_course",
    "exercises/publish/html": "site/test_safe_page",
    "exercises/publish/page": "exercises/publish/test_report",
    "exercises/publish/qti_items": "exercises/publish/test_qti",
    "exercises/publish/qti_rules": "exercises/publish/test_qti",
    "exercises/publish/qti_steps": "exercises/publish/test_qti",
}
MIRRORED = {
    path.relative_to(ROOT).with_suffix("").as_posix()
    for path in tracked("calc/*.py", "exercises/*.py", "docs/build/*.py", "docs/writing/*.py")
    if path.stem not in UNNAMED and path.parent.name != "mistakes"
}


@pytest.mark.parametrize("module", sorted(MIRRORED))
def test_a_module_is_tested_by_a_file_of_its_name(module):
    folder, _, name = module.rpartition("/")
    named = list((ROOT / "tests" / folder).glob(f"test_{name}.py"))
    assert bool(named) != (module in TESTED_ELSEWHERE)


@pytest.mark.parametrize(("module", "test"), TESTED_ELSEWHERE.items())
def test_what_is_tested_elsewhere_is_there(module, test):
    assert module in MIRRORED
    assert (ROOT / "tests" / test).with_suffix(".py").exists()


def test_no_file_holds_the_marks_of_a_merge_half_done():
    for path in tracked("*.py", "*.js", "*.md", "*.yml", "*.css", "*.csv"):
        assert not re.search(r"^(<{7} |={7}$|>{7} )", path.read_text("utf-8"), re.MULTILINE), (
            path.name
        )
