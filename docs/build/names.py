"""What people call each ingredient, told to the page in a module of its own: a reader types any of the names."""

from __future__ import annotations

import json

from calc import composition
from calc.names import IDLE, IDLE_PHRASES, SPELT


def names_module() -> str:
    """The module's text: each ingredient's other names by its key, and the one spelling of some words, and the idle words."""
    others = {each.key: each.also for each in composition.table().values() if each.also}
    return (
        "// Written by the build (docs/build/names.py): what people call each ingredient.\n"
        f"export const NAMES = {json.dumps(others, ensure_ascii=False)};\n"
        f"export const SPELT = {json.dumps(SPELT, ensure_ascii=False)};\n"
        f"export const IDLE = {json.dumps([*IDLE_PHRASES, *sorted(IDLE)])};\n"
    )
