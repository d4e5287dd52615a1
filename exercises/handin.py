"""A hand-in: what one student answered to one set, as a JSON file or as a short text to paste.

It holds answers, when they were saved and, for the teacher's eye, the numbers the student was given. Marks are always
recomputed from the answers: a hand-in cannot carry its own marks.

The text form is for a school system that takes no files: a plain first line, then the same content
packed by zlib (RFC 1950) and written in base32 (RFC 4648), which survives changed line breaks,
quote marks and capitals. Its checksum (CRC-32) finds damage; it is no seal against a forger.
"""

from __future__ import annotations

import base64
import binascii
import json
import re
import textwrap
import unicodedata
import zlib
from dataclasses import dataclass, field

from exercises import untrusted
from exercises.draws import ProblemSet, draw

FORMAT = "doughwater hand-in 1"
LARGEST_HANDIN = 1_000_000
LONGEST_NAME = 200

# What is around a packed hand-in.
START, END = "DW1<<", ">>DW1"
LINE = 60
# More texts than a class pastes at once.
MOST_PASTED = 300
# The year 9999 ends there, and with it what Python can tell of a time.
LATEST = 253_402_214_400

# In bytes: file systems take 255 for a whole file name.
LONGEST_IN_FILE_NAME = 120


class HandinError(ValueError):
    """The file is not a hand-in that can be marked; the message says what to do."""


class NoHandinError(HandinError):
    """The text has nothing of a hand-in."""


@dataclass(frozen=True)
class Handin:
    """Answers by problem and step, as the student wrote them.

    `saved` is the time on the student's device, in seconds since 1970 (UTC); 0 where none is told.
    `content` tells which text of the set it was made from; empty where that is not told.
    """

    set_key: str
    version: int
    student: str
    answers: dict[str, dict[str, str]]
    given: dict[str, dict[str, str]] = field(default_factory=dict)
    hints: dict[str, dict[str, int]] = field(default_factory=dict)
    saved: int = 0
    content: str = ""


def new_handin(
    problem_set: ProblemSet,
    student: str,
    answers: dict[str, dict[str, str]],
    hints: dict[str, dict[str, int]] | None = None,
    saved: int = 0,
) -> Handin:
    """The hand-in of a student's answers, with the numbers the student was given."""
    given = {
        problem.id: draw(problem_set, problem, student).shown for problem in problem_set.problems
    }
    return Handin(
        problem_set.key,
        problem_set.version,
        student,
        answers,
        given,
        hints or {},
        saved,
        problem_set.content,
    )


def write_handin(
    problem_set: ProblemSet,
    student: str,
    answers: dict[str, dict[str, str]],
    hints: dict[str, dict[str, int]] | None = None,
    saved: int = 0,
) -> str:
    """The text of a hand-in file, as JSON."""
    data = _data(new_handin(problem_set, student, answers, hints, saved))
    return json.dumps(data, ensure_ascii=False, indent=2)


def file_name(problem_set: ProblemSet, student: str) -> str:
    """What a student's file is called, so that those of a class can lie in one folder."""
    name = name_for_file(student)
    return f"{name}-{problem_set.key}.json" if name else f"{problem_set.key}.json"


def name_for_file(student: str) -> str:
    """A student's name as the start of a file's name: letters of every script, their marks and numbers."""
    kept = (c if unicodedata.category(c)[0] in "LMN" else " " for c in student)
    name = "-".join(unicodedata.normalize("NFC", "".join(kept)).split())
    return name.encode()[:LONGEST_IN_FILE_NAME].decode("utf-8", "ignore").rstrip("-")


def _data(handin: Handin) -> dict[str, object]:
    return {
        "format": FORMAT,
        "set": handin.set_key,
        "version": handin.version,
        **({"content": handin.content} if handin.content else {}),
        "student": handin.student,
        "given": handin.given,
        "answers": handin.answers,
        "hints": handin.hints,
        **({"saved": handin.saved} if handin.saved else {}),
    }


def pack(handin: Handin) -> str:
    """A hand-in as a short text to paste. Boxes left empty are left out."""
    essentials = {name: value for name, value in _data(handin).items() if value != {}}
    essentials["answers"] = {
        problem: filled
        for problem, steps in handin.answers.items()
        if (filled := {step: text for step, text in steps.items() if text.strip()})
    }
    plain = json.dumps(essentials, ensure_ascii=False, separators=(",", ":")).encode()
    packed = zlib.crc32(plain).to_bytes(4) + zlib.compress(plain, 9)
    code = base64.b32encode(packed).decode().rstrip("=")
    who = " ".join(handin.student.split())
    return "\n".join(
        [f"Doughwater hand-in: {handin.set_key}, {who}", START, *textwrap.wrap(code, LINE), END, ""]
    )


_DAMAGED = "This pasted hand-in is damaged: a part is missing or changed. Ask for it again."
_TORN = f"A pasted hand-in runs from {START} to {END}, and a part of this one is lost. Ask for all of it."
_MARKUP = re.compile(r"<[^<>]{0,200}>|&[a-z]{2,8};")
# A line or an end of a packed hand-in, whose start is lost.
_REMAINS = re.compile(
    rf"^Doughwater hand-in: |^[A-Z2-7]{{{LINE}}}\r?$|(>>|&gt;&gt;)DW1", re.MULTILINE
)
_NO_CODE = re.compile(r"[^A-Z2-7]")
_DIGEST = re.compile(r"[0-9a-f]{1,64}")


def is_packed(text: str) -> bool:
    """Whether a text holds a packed hand-in, whole or not."""
    return START in text or "DW1&lt;&lt;" in text


def _is_torn(text: str) -> bool:
    """Whether a text is what is left of a packed hand-in whose start is lost."""
    return not text.startswith("{") and bool(_REMAINS.search(text))


def unpack(text: str) -> Handin:
    """Read a pasted hand-in; text around it is passed over. Raises HandinError."""
    text = text.replace("&lt;", "<").replace("&gt;", ">")
    _, start, rest = text.rpartition(START)
    code, end, _ = rest.partition(END)
    if not start or not end:
        raise HandinError(_TORN)
    code = _NO_CODE.sub("", _MARKUP.sub("", code).upper())
    try:
        packed = base64.b32decode(code + "=" * (-len(code) % 8))
        opener = zlib.decompressobj()
        # A few thousand letters can hold gigabytes of noughts: stop at what a hand-in may be.
        plain = opener.decompress(packed[4:], LARGEST_HANDIN)
    except (binascii.Error, zlib.error):
        raise HandinError(_DAMAGED) from None
    if opener.unconsumed_tail:
        raise HandinError("This is far too large for a hand-in. Ask the student for it again.")
    if not opener.eof or zlib.crc32(plain).to_bytes(4) != packed[:4]:
        raise HandinError(_DAMAGED)
    return _from_json(plain.decode("utf-8", "replace"))


def read_handin(text: str) -> Handin:
    """Read a hand-in, a JSON file or pasted text. Raises HandinError with the reason."""
    if len(text) > LARGEST_HANDIN:
        raise HandinError(
            "This file is far too large for a hand-in. Ask the student to save it again."
        )
    text = text.lstrip("\ufeff \r\n\t")
    if is_packed(text) and not text.startswith("{"):
        return unpack(text)
    if _is_torn(text):
        raise HandinError(_TORN)
    if not text.startswith("{"):
        raise NoHandinError(
            "This is not a hand-in: it is neither the file that the exercise page saves, nor the text "
            "to paste."
        )
    return _from_json(text)


def read_handins(text: str) -> list[Handin | HandinError]:
    """The hand-ins of a text: several pasted one after the other, or one alone; each, or why it cannot be read."""
    found: dict[str, Handin | HandinError] = {}
    for piece in _pieces(text):
        try:
            # A text that is quoted again is the same.
            found[piece] = read_handin(piece)
        except HandinError as error:
            found[piece] = error
    told: list[Handin | HandinError] = []
    for one in found.values():
        if isinstance(one, HandinError) or one not in told:
            told.append(one)
    return told


def _pieces(text: str) -> list[str]:
    """The text cut after each end of a packed hand-in."""
    if len(text) > LARGEST_HANDIN or text.lstrip("\ufeff \r\n\t").startswith("{"):
        return [text]
    text = text.replace("&gt;&gt;DW1", END)
    *whole, rest = text.split(END)
    if not whole:
        return [text]
    pieces = [piece + END for piece in whole[:MOST_PASTED]]
    # What is left over is a greeting, or the start of a text that is cut off.
    left = len(whole) > MOST_PASTED or is_packed(rest)
    return [*pieces, START] if left else pieces


def _from_json(text: str) -> Handin:
    try:
        data = untrusted.read_json(text)
    except json.JSONDecodeError as error:
        raise HandinError(
            f"line {error.lineno}, column {error.colno}: this is not complete JSON. "
            "The file may be cut short: ask the student to save it again."
        ) from None
    except ValueError:
        raise HandinError(
            "This is not a hand-in file: it is nested too deeply, or holds an endless number."
        ) from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise HandinError(f"This is not a hand-in file: it does not say “{FORMAT}”.")
    answers = data.get("answers")
    shaped = (
        isinstance(data.get("set"), str)
        and isinstance(data.get("student"), str)
        and isinstance(data.get("version"), int)
        and _is_table(answers, str)
    )
    if not shaped:
        raise HandinError(
            "A hand-in needs “set”, “version”, “student” and “answers”, as the exercise page saves them."
        )
    name = data["student"]
    if len(name) > LONGEST_NAME or not _is_unicode(name):
        raise HandinError("The student's name is too long, or is not text.")
    given, hints = data.get("given"), data.get("hints")
    return Handin(
        data["set"],
        data["version"],
        name,
        answers,
        given if _is_table(given, str) else {},
        hints if _is_table(hints, int) else {},
        _time(data.get("saved")),
        _digest(data.get("content")),
    )


def _digest(content: object) -> str:
    """What a hand-in tells of its set's text; empty for what is none. Older hand-ins tell none."""
    return content if isinstance(content, str) and _DIGEST.fullmatch(content) else ""


def _time(saved: object) -> int:
    """The seconds of a time; 0 for what is none. Older hand-ins tell none."""
    return saved if type(saved) is int and 0 < saved < LATEST else 0


def _is_table(data: object, cell: type) -> bool:
    """Whether this is a value by problem and step."""
    return isinstance(data, dict) and all(
        isinstance(steps, dict) and all(isinstance(value, cell) for value in steps.values())
        for steps in data.values()
    )


def _is_unicode(text: str) -> bool:
    """JSON can carry half of a surrogate pair, which no file can hold."""
    return not any("\ud800" <= letter <= "\udfff" for letter in text)
