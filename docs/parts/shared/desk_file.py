"""Everything that a teacher's desk keeps on a device, as one file to take to another.

What is read back is anyone's: it is bounded, then checked, and what has another shape is left out.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field

from exercises import untrusted
from exercises.setfile import LARGEST_SET

FORMAT = "doughwater desk 1"
FILE = "doughwater-desk.json"
LARGEST_DESK = 5_000_000
MOST_SETS = 200
LONGEST_FILE_NAME = 100
LARGEST_SETTING = 300_000
MOST_SETTINGS = 300


class DeskFileError(ValueError):
    """The file is none that a desk saved; the message says what to do."""


@dataclass(frozen=True)
class Kept:
    """The teacher's sets (each a text, by the name of its file), and settings as the page keeps them."""

    sets: dict[str, str] = field(default_factory=dict)
    settings: dict[str, str] = field(default_factory=dict)


def write(kept: Kept) -> str:
    """The text of the file."""
    return json.dumps({"format": FORMAT, **asdict(kept)}, ensure_ascii=False, indent=1)


def read(text: str) -> Kept:
    """What a file holds, so far as a desk can take it. Raises DeskFileError."""
    try:
        found = untrusted.read_json(text.lstrip("\ufeff"), LARGEST_DESK)
    except ValueError:
        raise DeskFileError(
            "This file cannot be read: it is cut short, too large, or no file of a desk."
        ) from None
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise DeskFileError(
            f"This is not the file of a desk: it does not say “{FORMAT}”. A set file is opened with “Open a set file”."
        )
    return Kept(
        _texts(found.get("sets"), MOST_SETS, LONGEST_FILE_NAME, LARGEST_SET),
        _texts(found.get("settings"), MOST_SETTINGS, LONGEST_FILE_NAME, LARGEST_SETTING),
    )


def _texts(found: object, most: int, longest_name: int, longest: int) -> dict[str, str]:
    if not isinstance(found, dict):
        return {}
    fits = (
        (name, text)
        for name, text in found.items()
        if isinstance(text, str) and 0 < len(name) <= longest_name and len(text) <= longest
    )
    return dict(list(fits)[:most])
