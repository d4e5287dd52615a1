"""When a set is due: what a teacher writes, and how late a hand-in says that it was saved.

A time bears its distance from UTC, so that it means the same moment on every device. Nobody checks the
clock of a student's device: what is told of it is told as the student's own.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

WANTED = (
    "“due” is a date, a time and how far its clock is from UTC, such as 2030-03-06 18:00 +01:00 "
    "(or 18:00 UTC)."
)
_PARTS = re.compile(r"(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d)(?::00)? ?(UTC|Z|[+-]\d\d:?\d\d)", re.ASCII)
_MINUTE, _HOUR, _DAY = 60, 3600, 86_400


@dataclass(frozen=True)
class Due:
    """A moment, in seconds since 1970 (UTC), and the words for it on the teacher's clock."""

    at: int
    words: str

    def late(self, saved: int) -> str:
        """What to tell of a hand-in saved at `saved` (seconds since 1970; 0 for unknown); empty in time."""
        if not saved or saved <= self.at:
            return ""
        return (
            f"Saved {_lasted(saved - self.at)} after it was due, by the clock of the student's own device: "
            "nobody has checked that clock."
        )


def read(text: str) -> Due:
    """The moment that a teacher wrote. Raises ValueError with what to write instead."""
    found = _PARTS.fullmatch(text.strip())
    if not found:
        raise ValueError(WANTED)
    day, time, zone = found.groups()
    zone = "+00:00" if zone in ("UTC", "Z") else zone
    try:
        moment = datetime.fromisoformat(f"{day}T{time}{zone}")
        at = int(moment.timestamp())
    except (ValueError, OverflowError):
        raise ValueError(f"There is no such day or time. {WANTED}") from None
    return Due(at, f"{moment:%A}, {moment.day} {moment:%B %Y, %H:%M} ({moment.tzname()})")


def _lasted(seconds: int) -> str:
    """A length of time as one says it, to its two largest parts."""
    if seconds < _MINUTE:
        return "less than a minute"
    days, rest = divmod(seconds, _DAY)
    hours, minutes = rest // _HOUR, rest % _HOUR // _MINUTE
    parts = [(days, "d"), (hours, "h"), (minutes, "min")]
    said = [f"{number} {unit}" for number, unit in parts if number][:2]
    return " ".join(said)
