"""Pass the tests: ``python -m tests``. Finds two browsers, or installs Debian's Chromium and Firefox, first.

With arguments, such as ``tests/calc -k swap``, only those tests run, as pytest takes them.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from docs.engine_files import pyodide_package
from exercises.publish.pdf import browser


def firefox() -> str | None:
    """The path of a Firefox on this machine, if there is one."""
    return shutil.which("firefox-esr") or shutil.which("firefox")


def install(*packages: str) -> None:
    """Install Debian's packages; stop with what to do where that cannot work."""
    if not shutil.which("apt-get"):
        sys.exit(
            "The tests need Chromium and Firefox on the PATH. Install them, then run them again."
        )
    sudo = [] if os.geteuid() == 0 else ["sudo"]
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    for arguments in (["update", "-qq"], ["install", "-y", "-qq", *packages]):
        subprocess.run([*sudo, "apt-get", *arguments], check=True, env=environment)


def main() -> int:
    """Run ruff, then every test."""
    missing = [
        name for name, found in (("chromium", browser()), ("firefox-esr", firefox())) if not found
    ]
    if missing:
        install(*missing)
    root = Path(__file__).resolve().parent.parent
    for command in (["check", "."], ["format", "--check", "."]):
        subprocess.run([sys.executable, "-m", "ruff", *command], check=True, cwd=root)
    pyodide_package()  # once, before two workers would both install it
    everything = [] if sys.argv[1:] else ["-n", "auto", "--dist", "loadfile", str(root / "tests")]
    return pytest.main([*everything, *sys.argv[1:], f"--rootdir={root}"])


if __name__ == "__main__":
    sys.exit(main())
