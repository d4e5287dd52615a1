"""Runs in the build's own Pyodide (see make.mjs): picks the page's standard library, and makes a lean copy.

The rule for what the page can import: what Pyodide itself imports as it starts, what our own Python
imports, what `KEPT` names, and whatever those import in turn. `sys.modules` tells it all.
"""

from __future__ import annotations

import importlib
import importlib.util
import marshal
import pickle
import sys
import types
import zipfile
from pathlib import Path

from exercises import problems
from exercises.publish.zipped import zipped

# What a student's own code may well want, and what Python imports only at the moment of use.
KEPT = (
    "array", "base64", "bisect", "calendar", "cmath", "collections", "contextlib", "copy", "csv",
    "dataclasses", "datetime", "decimal", "difflib", "enum", "fractions", "functools", "graphlib",
    "hashlib", "heapq", "html", "inspect", "io", "itertools", "json", "math", "numbers", "operator",
    "pathlib", "pprint", "random", "re", "secrets", "statistics", "string", "struct", "textwrap",
    "time", "timeit", "traceback", "types", "typing", "unicodedata", "uuid", "zlib",
    "_strptime", "_pylong", "linecache", "pickle", "tokenize",
    "encodings.ascii", "encodings.cp1252", "encodings.cp437", "encodings.latin_1", "encodings.utf_16",
    "encodings.utf_8_sig",
)  # fmt: skip


def trim(library: str, folder: str, trimmed_library: str, trimmed_ours: str, packed: str) -> None:
    """Write two zips: the modules of the zip `library` that the rule wants, and those in our `folder`.

    Of ours, all of `calc` and every file of data stay too. The sets that were read for it are written
    to `packed`: to read them leaves a third more memory in use, which a snapshot would have to hold.
    """
    for name in ("docs.parts", *KEPT):
        importlib.import_module(name)
    sets = problems.packed_sets()
    sys.modules["docs.parts"].warm(sets)
    Path(packed).write_bytes(pickle.dumps(sets))
    sys.modules["docs.parts"].import_late()
    wanted = {_path(module) for module in list(sys.modules.values())}
    with zipfile.ZipFile(library) as whole:
        names = [name for name in sorted(whole.namelist()) if f"{library}/{name}" in wanted]
        Path(trimmed_library).write_bytes(zipped({name: whole.read(name) for name in names}))
    ours = {
        name: content
        for name, content in _files(folder)
        if not name.endswith(".py") or name.startswith("calc/") or f"{folder}/{name}" in wanted
    }
    Path(trimmed_ours).write_bytes(zipped(ours))


def _files(folder: str) -> list[tuple[str, bytes]]:
    files = (path for path in sorted(Path(folder).rglob("*")) if path.is_file())
    return [
        (path.relative_to(folder).as_posix(), path.read_bytes())
        for path in files
        if path.suffix != ".pyc"
    ]


def _path(module: types.ModuleType) -> str | None:
    spec = getattr(module, "__spec__", None)
    return spec and spec.origin


def compile_all(source: str, target: str, place: str) -> None:
    """Compile the modules of a zip, which will be at `place`; its other files are taken along."""
    with zipfile.ZipFile(source) as given:
        files = {name: given.read(name) for name in given.namelist()}
    Path(target).write_bytes(
        zipped(dict(_compiled(name, content, place) for name, content in files.items()))
    )


def _compiled(name: str, content: bytes, place: str) -> tuple[str, bytes]:
    """A module without docstrings and line numbers: a snapshot of them is a third smaller."""
    if not name.endswith(".py"):
        return name, content
    code = compile(content, f"{place}/{name}", "exec", dont_inherit=True, optimize=2)
    # A .pyc file, which no time ties to a source.
    return name + "c", importlib.util.MAGIC_NUMBER + bytes(12) + marshal.dumps(_bare(code))


def _bare(code: types.CodeType) -> types.CodeType:
    constants = (_bare(c) if isinstance(c, types.CodeType) else c for c in code.co_consts)
    return code.replace(co_linetable=_no_lines(code), co_consts=tuple(constants))


def _no_lines(code: types.CodeType) -> bytes:
    """A table that says “no line” for each instruction, up to eight with one byte.

    The bytes are those of CPython's InternalDocs/code_objects.md, “Location table”: code 15.
    """
    eights, rest = divmod(len(code.co_code) // 2, 8)
    return b"\xff" * eights + (bytes([0xF8 | rest - 1]) if rest else b"")
