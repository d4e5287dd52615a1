"""Pass the tests: ``python -m tests``. Finds two browsers, or installs Debian's Chromium and Firefox, first.

With arguments, such as ``tests/calc -k swap``, only those tests run, as pytest takes them.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from docs.engine.files import pyodide_package
from tests.browsers import install_missing


def main() -> int:
    """Run ruff, then every test."""
    install_missing()
    root = Path(__file__).resolve().parent.parent
    for command in (["check", "."], ["format", "--check", "."]):
        subprocess.run([sys.executable, "-m", "ruff", *command], check=True, cwd=root)
    pyodide_package()  # once, before two workers would both install it
    everything = [] if sys.argv[1:] else ["-n", "auto", "--dist", "loadfile", str(root / "tests")]
    return pytest.main([*everything, *sys.argv[1:], f"--rootdir={root}"])


if __name__ == "__main__":
    sys.exit(main())
