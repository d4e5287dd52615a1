"""The set in hand on the teacher's desk: one of ours, or the text of a teacher's own."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from xml.etree.ElementTree import Element

from calc.words import capital
from docs.parts.shared.fields import FieldErrors, choice_field
from exercises import problems
from exercises.draws import ProblemSet
from exercises.problems import read_set
from exercises.publish.html import element
from exercises.roster import NamesError, read_names

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


def level_field(prefix: str) -> Element:
    """The whole set, or the problems of one level."""
    levels = [(str(level), f"level {level}", "") for level in problems.LEVELS]
    return choice_field(prefix, "level", "Problems", "", [("", "the whole set", ""), *levels])


def names_field(prefix: str, label: str, note: str = "") -> Element:
    """A box for names, one a line; `names_in` reads it."""
    name = f"{prefix}-names"
    return element(
        "div",
        element("label", label, for_=name),
        element(
            "textarea", id=name, name="names", rows=4, autocomplete="off", spellcheck="false",
            aria_describedby=f"{name}-note" if note else None,
        ),
        element("p", note, id=f"{name}-note", class_="dw-note") if note else None,
        element("span", class_="dw-complaint", data_for="names"),
        class_="dw-field",
    )  # fmt: skip


def names_in(fields: Mapping[str, str]) -> list[str]:
    """The names of `names_field`; none where it is empty. Raises FieldErrors."""
    text = fields.get("names", "").strip()
    try:
        return read_names(text) if text else []
    except NamesError as error:
        raise FieldErrors({"names": capital(str(error))}) from None


def asked_part(fields: Mapping[str, str]) -> ProblemSet:
    """The set in hand, or those of its problems that have the chosen level."""
    problem_set, level = set_of(fields), asked_level(fields)
    if level is None:
        return problem_set
    part = problem_set.of_level(level)
    if not part.problems:
        raise FieldErrors({"level": f"“{problem_set.title}” has no problem of level {level}."})
    return part


def asked_level(fields: Mapping[str, str]) -> int | None:
    """The chosen level; None for the whole set."""
    level = fields.get("level", "")
    return int(level) if level in {str(each) for each in problems.LEVELS} else None


@lru_cache(maxsize=4)
def _own(text: str, file: str) -> ProblemSet:
    """A press asks about the same text again and again; reading it is most of the work."""
    return read_set(text, file)
