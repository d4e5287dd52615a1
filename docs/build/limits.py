"""What Python and the page's scripts must agree on, told to the scripts in a module of its own."""

from __future__ import annotations

import json

from calc.own_ingredient import OWN_PREFIX
from docs.parts.formula_shelf import FIELDS, LONGEST_FILE, MOST_FORMULAS
from docs.parts.own_ingredients import LONGEST_TEXT
from docs.parts.shared.desk_file import LARGEST_DESK
from docs.parts.shared.onward import DOUGH_PAGES, LONGEST_OWN
from docs.parts.shared.side_by_side_files import LARGEST_FILE
from exercises.set_link import LONGEST_LINK
from exercises.setfile import LARGEST_SET
from exercises.study import LARGEST_LOG, MOST_ATTEMPTS

LIMITS = {
    "ownText": LONGEST_TEXT,
    "linkedText": LONGEST_OWN,
    "ownPrefix": OWN_PREFIX,
    "setFile": LARGEST_SET,
    "setLink": LONGEST_LINK,
    "deskFile": LARGEST_DESK,
    "bakeFile": LARGEST_FILE,
    "practiceLog": LARGEST_LOG,
    "attempts": MOST_ATTEMPTS,
    "formulas": MOST_FORMULAS,
    "formulaFile": LONGEST_FILE,
    "formulaFields": FIELDS,
    "doughPages": [page for page, _ in DOUGH_PAGES],
}


def limits_module() -> str:
    """The module's text. A script reads no more than Python will take, so that a large file hangs nothing."""
    return (
        "// Written by the build (docs/build/limits.py): what Python will take, and its names.\n"
        f"export const LIMITS = {json.dumps(LIMITS, indent=2)};\n"
    )
