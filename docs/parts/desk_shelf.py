"""The desk's own page: the sets that this device keeps, all of it in one file and back, and forgetting."""

from __future__ import annotations

import re
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.parts.shared.desk_file import (
    FILE,
    LARGEST_DESK,
    LONGEST_FILE_NAME,
    DeskFileError,
    Kept,
    read,
    write,
)
from docs.parts.shared.desk_files import given, made
from docs.parts.shared.fields import FieldErrors, quiet_button
from exercises import untrusted
from exercises.problems import key_of
from exercises.publish.html import element

card = True
_NAME = re.compile(r"^name:.*$", re.MULTILINE)
# What a YAML file may begin with before its first line of content.
_BEFORE = re.compile(r"\A(?:%.*\n)*(?:---[ \t]*\n)?")


def build(attributes: Mapping[str, str]) -> list[Element]:
    """What is here before a teacher has kept anything."""
    return [
        element(
            "form",
            element("ul", class_="dw-shelf", data_sets=True),
            element(
                "div",
                element(
                    "p",
                    "The sets that you write or open have their place here. ",
                    element("a", "Write the first one", href="#", data_site="desk/write/"),
                    ".",
                ),
                class_="dw-empty-place",
                data_picture="sets-to-come",
                data_empty=True,
            ),
            element(
                "div",
                quiet_button("Everything into one file", "save"),
                quiet_button("Read such a file", "read"),
                quiet_button("Forget everything", "forget"),
                class_="dw-buttons",
            ),
            element("p", class_="dw-note", data_kept=True),
            class_="dw-form",
            novalidate=True,
        ),
        element("p", class_="dw-status", role="status"),
    ]


def respond(fields: Mapping[str, str]) -> dict[str, object]:
    """Answer the page. ``action`` is ``write``, ``read``, ``rename`` or ``duplicate``."""
    actions = {"write": _write, "read": _read, "rename": _rename, "duplicate": _duplicate}
    return actions[fields["action"]](fields)


def _write(fields: Mapping[str, str]) -> dict[str, object]:
    kept = Kept(untrusted.strings(fields["sets"]), untrusted.strings(fields["settings"]))
    (made(fields) / FILE).write_text(write(kept), "utf-8")
    return {"made": [FILE], "says": f"{counted(len(kept.sets), 'set')} saved in {FILE}."}


def _read(fields: Mapping[str, str]) -> dict[str, object]:
    """The first file that came along."""
    path = next(path for path in given(fields).rglob("*") if path.is_file())
    with path.open("rb") as file:
        raw = file.read(LARGEST_DESK + 1)
    try:
        kept = read(raw.decode("utf-8"))
    except UnicodeDecodeError:
        raise FieldErrors(
            {"desk": "This is not the file of a desk: it is no UTF-8 text."}
        ) from None
    except DeskFileError as error:
        raise FieldErrors({"desk": str(error)}) from None
    return {"sets": kept.sets, "settings": kept.settings}


def _rename(fields: Mapping[str, str]) -> dict[str, object]:
    """Another file name, and the same numbers: a set without a name of its own gets the one it had."""
    file, text = fields["file"], fields["text"].lstrip("\ufeff")
    to = _file_name(fields["to"])
    if not _NAME.search(text) and key_of(to) != key_of(file):
        text = _named(text, key_of(file))
    return {"file": to, "text": text, "says": f"{file} is now {to}. Every student’s numbers stay."}


def _duplicate(fields: Mapping[str, str]) -> dict[str, object]:
    """A set like this one under a name of its own, which gives it other numbers."""
    taken = set(untrusted.strings(fields["taken"]))
    stem = re.sub(r"\.ya?ml$", "", fields["file"], flags=re.IGNORECASE)[: LONGEST_FILE_NAME - 12]
    file = next(name for n in range(2, 1000) if (name := f"{stem}-{n}.yml") not in taken)
    says = f"{file} is a copy. It has a name of its own, so it gives students other numbers."
    return {
        "file": file,
        "text": _named(fields["text"].lstrip("\ufeff"), key_of(file)),
        "says": says,
    }


def _file_name(typed: str) -> str:
    name = " ".join(re.sub(r"[/\\:*?\"<>|\x00-\x1f]", " ", typed).split())[:LONGEST_FILE_NAME]
    if not name.strip("."):
        raise FieldErrors({"to": "Write a name for the file."})
    return name if re.search(r"\.ya?ml$", name, re.IGNORECASE) else f"{name}.yml"


def _named(text: str, name: str) -> str:
    """The set's text with this name in it."""
    line = f"name: {name}"
    if _NAME.search(text):
        return _NAME.sub(line, text, count=1)
    start = _BEFORE.match(text).end()
    return f"{text[:start]}{line}\n{text[start:]}"
