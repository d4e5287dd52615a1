"""Which modules the page's own scripts are, and what each imports."""

from __future__ import annotations

import posixpath
import re
from functools import cache
from pathlib import Path

DOCS = Path(__file__).resolve().parents[1]
FOLDERS = ("page", "parts", "parts/shared", "course", "engine", "offline")
# Where a module has the name of its element.
ELEMENTS = ("parts", "course")
COMMON = "page/every-page.js"
# What runs before all else, in this order, and is no module.
POLICY = "page/policy.js"
FIRST_STEP = "page/first-step.js"
EARLY_ACTS = "page/early-acts.js"
FIRST = (POLICY, "engine/early.js", EARLY_ACTS, "page/late-search.js", FIRST_STEP)
_IMPORT = re.compile(r"^import .* from '(\.[^']+)';$", re.MULTILINE)


@cache
def imported(name: str) -> tuple[str, ...]:
    """A module and all that it imports, by their addresses from the site's start."""
    found = [name]
    for module in found:
        if not (DOCS / module).exists():
            continue  # the build writes it, and it imports nothing
        for path in _IMPORT.findall((DOCS / module).read_text("utf-8")):
            address = posixpath.normpath(posixpath.join(posixpath.dirname(module), path))
            if address not in found:
                found.append(address)
    return tuple(found)


@cache
def element_modules() -> dict[str, str]:
    """The elements that a script brings to life: each one's name, and its module's address."""
    return {
        script.stem: f"{folder}/{script.name}"
        for folder in ELEMENTS
        for script in sorted((DOCS / folder).glob("*.js"))
    }
