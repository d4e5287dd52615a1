"""What most pages ask for, in few files: a browser takes its time over each request, and a lesson has forty modules.

In the site each of these modules hands out what their file holds, so it is there once, whoever asks for it.
"""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Callable, Collection
from functools import cache
from pathlib import Path

from docs.build.error import BuildError
from docs.build.modules import COMMON, DOCS, FIRST, FOLDERS, element_modules, imported

JOINED = "page/joined.js"
WORKER, IN_WORKER = "engine/worker.js", "engine/python.js"
SHEET = "assets/page.css"
# What a lesson's page wakes.
ELEMENTS = ("lesson-steps", "check-question", "liquid-swap", "formula-shelf", "python-cell")
# The engine is made after all else, and this with it; pages need only its version of it.
APART = "engine/built.js"
_NO_VERSION = "const VERSION = '';"
_IMPORT = re.compile(r"^import \{([^}]*)\} from '(\.[^']+)';$", re.MULTILINE)
_LATER = re.compile(r"""\bimport\((['"])(\.[^'"]+)\1\)""")
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function\*?|class|const) (\w+))", re.MULTILINE)
# What is written in another way would end in no page's script, and nobody would be told.
_OTHERWISE = re.compile(r"^(?:import(?! *\()|export)\b.*", re.MULTILINE)
_BESIDE = re.compile(r"new URL\('([^']*)', import\.meta\.url\)")
# Remarks are for those who read the project.
_REMARK = re.compile(r"^ *//.*\n|/\*\*[\s\S]*?\*/\s*", re.MULTILINE)
_SHEET_REMARK = re.compile(r"/\*[\s\S]*?\*/\n?")
_SHEET_LINK = re.compile(r'<link rel="stylesheet" href="([^"]+)"')
_VERSION = re.compile(r"(?<=export )const VERSION = '[^']*';")
_FILE = re.compile(r'url\("(?!data:)([^"]+)"\)')


@cache
def joined() -> tuple[str, ...]:
    """The modules in the file, by their addresses from the site's start."""
    asked = [COMMON, *(element_modules()[name] for name in ELEMENTS)]
    every = dict.fromkeys(path for name in asked for path in imported(name))
    return tuple(path for path in every if path != APART)


def asked_for(*names: str) -> list[str]:
    """What a browser asks for where these modules are wanted, by addresses from the site's start."""
    every = [path for name in names for path in imported(name)]
    return list(dict.fromkeys(JOINED if path in (*joined(), APART) else path for path in every))


def join_files(site: Path) -> None:
    """Write the files into a site as MkDocs wrote it, with all scripts in it."""
    sheets = _SHEET_LINK.findall((site / "index.html").read_text("utf-8"))
    (site / SHEET).write_text("".join(_sheet(site, path) for path in sheets), "utf-8")
    join_modules(site)


@cache
def first_script() -> str:
    """What runs before all else, as one script: it is written into each page, which would wait for a file."""
    return "".join(_REMARK.sub("", (DOCS / path).read_text("utf-8")) for path in FIRST)


def _sheet(site: Path, path: str) -> str:
    """A style sheet as a part of the one file. Where the focus is seen, the theme leaves to a class that its script gives."""
    text = _SHEET_REMARK.sub("", (site / path).read_text("utf-8"))
    text = text.replace(".focus-visible", ":focus-visible")
    return _FILE.sub(lambda found: f'url("{_way(SHEET, _target(path, found[1]))}")', text)


def join_modules(site: Path) -> None:
    """Write the modules' file into a site that has all of them, and let each of them take from it what it holds."""
    files = [file for folder in FOLDERS for file in sorted((site / folder).glob("*.js"))]
    every = {file.relative_to(site).as_posix(): file.read_text("utf-8") for file in files}
    for path, text in every.items():
        other = _stub(path, text) if path in joined() else _taking(path, text)
        (site / path).write_text(other, "utf-8")
    held = _held_in(JOINED, {path: every[path] for path in joined()}, f"'{APART}': {{VERSION}}")
    (site / JOINED).write_text(
        "// Written by the build: modules of this site, each run when it is first asked for.\n"
        f"{_NO_VERSION}\nexport {held}",
        "utf-8",
    )


def tell_version(site: Path) -> None:
    """Write the version of the engine, which is there by now, into the modules' file."""
    version = _VERSION.search((site / APART).read_text("utf-8"))[0]
    text = (site / JOINED).read_text("utf-8")
    (site / JOINED).write_text(text.replace(_NO_VERSION, version, 1), "utf-8")


def join_worker(site: Path) -> None:
    """Write the engine's worker and what it starts Python with into one file, now that all of it is there."""
    every = {path: (site / path).read_text("utf-8") for path in imported(IN_WORKER)}
    worker = _inside(WORKER, (site / WORKER).read_text("utf-8"), WORKER, every)
    (site / WORKER).write_text(f"{worker}\n{_held_in(WORKER, every)}", "utf-8")
    for path in every:
        if path != APART:
            (site / path).unlink()


def _held_in(place: str, modules: dict[str, str], made: str = "") -> str:
    """What hands out the modules of a file, each run when it is first asked for."""
    held = (*modules, APART)
    wrapped = ",\n".join(
        f"{json.dumps(path)}: {_wrapped(path, text, place, held)}" for path, text in modules.items()
    )
    return (
        "function $(name) {\n  return made[name] ??= modules[name]();\n}\n"
        f"const made = {{{made}}};\nconst modules = {{\n{wrapped}\n}};\n"
    )


def _wrapped(path: str, text: str, place: str, held: Collection[str]) -> str:
    """A module as a function that gives what it exports."""
    names = ", ".join(_EXPORT.findall(text))
    return f"() => {{\n{_inside(path, text, place, held)}\nreturn {{{names}}};\n}}"


def _inside(path: str, text: str, place: str, held: Collection[str]) -> str:
    """A module's text as it stands inside the file at `place`, which holds others."""

    def later(found: re.Match) -> str:
        target = _target(path, found[2])
        if target in held:
            return f"Promise.resolve().then(() => $({json.dumps(target)}))"
        return f"import({found[1]}{_way(place, target)}{found[1]})"

    def beside(found: re.Match) -> str:
        end = "/" if found[1].endswith("/") else ""
        return f"new URL('{_way(place, _target(path, found[1]))}{end}', import.meta.url)"

    for written, here in (
        (_REMARK, ""),
        (_IMPORT, _from_file(path, held)),
        (_LATER, later),
        (_BESIDE, beside),
        (_EXPORT, ""),
    ):
        text = written.sub(here, text)
    if other := _OTHERWISE.search(text):
        raise BuildError(
            f"docs/{path}: “{other[0]}” cannot go into {place}. Write it as the other modules do: "
            "import {name} from './file.js'; on one line, and export before function, class or const."
        )
    return text.strip()


def _stub(path: str, text: str) -> str:
    """What a module of the file is at its own address."""
    names = ", ".join(_EXPORT.findall(text))
    taken = f"$('{path}')"
    return f"{_take(path)}\n{f'export const {{{names}}} = {taken}' if names else taken};\n"


def _taking(path: str, text: str) -> str:
    """A module that is not in the file, with what it imports from there."""
    changed = _IMPORT.sub(_from_file(path, joined()), text)
    return changed if changed == text else f"{_take(path)}\n{changed}"


def _from_file(path: str, held: Collection[str]) -> Callable[[re.Match], str]:
    """How an import of a module that a file holds is written."""

    def written(found: re.Match) -> str:
        target = _target(path, found[2])
        if target not in held:
            return found[0]
        names = found[1].replace(" as ", ": ")
        return f"const {{{names}}} = $('{target}');"

    return written


def _take(path: str) -> str:
    return f"import {{$}} from '{_way(path, JOINED)}';"


def _target(path: str, way: str) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(path), way))


def _way(path: str, target: str) -> str:
    way = posixpath.relpath(target, posixpath.dirname(path))
    return way if way.startswith(".") else f"./{way}"
