"""Pass the tests: ``python -m tests``. Finds two browsers, or installs Debian's Chromium and Firefox, first.

With ``--quick`` only what needs neither a browser nor a built site, and is not slow. With further
arguments, such as ``tests/calc -k swap``, only those tests run, as pytest takes them.
"""

from __future__ import annotations

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from docs.engine.files import make_engine, pyodide_package
from tests.browsers import install_missing

ROOT = Path(__file__).resolve().parents[1]
# A browser test also waits for its page, so two cores have work for three workers; a fourth costs more than it
# does. A worker that is done takes tests from the others.
WORKERS = ["-n", str((3 * (os.cpu_count() or 1) + 1) // 2), "--dist", "worksteal"]
QUICK = ["-n", "auto", "-m", "not site and not slow", "tests/calc", "tests/exercises", "tests/docs", "tests/words"]  # fmt: skip


def main() -> int:
    """Run ruff, then the tests."""
    asked = sys.argv[1:]
    quick = asked == ["--quick"]
    keep_bytecode()
    if quick:
        lint()
        return pytest.main([*QUICK, f"--rootdir={ROOT}"])
    # What needs no browser gets ready while the browsers come.
    with ThreadPoolExecutor(1) as aside:
        browsers = aside.submit(install_missing)
        lint()
        pyodide_package()  # once, before two workers would both install it
        if not asked:
            make_engine()
        browsers.result()
    return pytest.main([*(asked or [*WORKERS, str(ROOT / "tests")]), f"--rootdir={ROOT}"])


def keep_bytecode() -> None:
    """Let what Python compiles, and pytest rewrites, serve the other workers and the next run, whatever this shell says."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    sys.dont_write_bytecode = False


def lint() -> None:
    """Run ruff; stop where it complains."""
    for command in (["check", "."], ["format", "--check", "."]):
        subprocess.run([sys.executable, "-m", "ruff", *command], check=True, cwd=ROOT)


if __name__ == "__main__":
    sys.exit(main())
