"""The browsers that the tests need: where they are, and how Debian gets them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

from exercises.publish.pdf import browser

# Chromium without its window. Not every system has such a package; without it the tests only take longer.
WINDOWLESS = "chromium-headless-shell"


def firefox() -> str | None:
    """The path of a Firefox on this machine, if there is one."""
    return shutil.which("firefox-esr") or shutil.which("firefox")


def windowless() -> str | None:
    """The path of a Chromium in which a page opens in a third of the time, if there is one."""
    return shutil.which(WINDOWLESS) or browser()


def install_missing() -> None:
    """Install Debian's packages of the browsers; stop with what to do where that cannot work."""
    missing = [
        name for name, found in (("chromium", browser()), ("firefox-esr", firefox())) if not found
    ]
    if missing and not shutil.which("apt-get"):
        sys.exit(
            "The tests need Chromium and Firefox on the PATH. Install them, then run them again."
        )
    # Nobody is asked for a password only to save time.
    faster = shutil.which("apt-get") and os.geteuid() == 0 and not shutil.which(WINDOWLESS)
    if missing or faster:
        _apt_get("update", "-qq", must=bool(missing))
    if missing:
        _apt_get("install", "-y", "-qq", *missing)
    if faster:
        _apt_get("install", "-y", "-qq", WINDOWLESS, must=False)


def _apt_get(*arguments: str, must: bool = True) -> None:
    sudo = [] if os.geteuid() == 0 else ["sudo"]
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run([*sudo, "apt-get", *arguments], check=must, env=environment)
