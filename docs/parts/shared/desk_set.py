"""The set in hand on the teacher's desk: one of ours, or the text of a teacher's own."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from exercises import problems
from exercises.draws import ProblemSet
from exercises.problems import read_set

LONGEST_FILE_NAME = 100


def set_of(fields: Mapping[str, str]) -> ProblemSet:
    """The set that a question is about: ``set`` is the key of one of ours, else ``text`` and ``file``.

    Raises SetError with what is to be put right in a teacher's own, ValueError where there is none.
    """
    if key := fields.get("set", ""):
        if key not in problems.set_keys():
            raise ValueError(f"no set of ours is called “{key[:80]}”")
        return problems.load(key)
    return _own(fields.get("text", ""), fields.get("file", "")[:LONGEST_FILE_NAME])


@lru_cache(maxsize=4)
def _own(text: str, file: str) -> ProblemSet:
    """A press asks about the same text again and again; reading it is most of the work."""
    return read_set(text, file)
