"""The demo class in one press: all that a teacher makes from an invented class, as files to take."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.words import counted
from docs.parts.shared.desk_files import made, pack, tell
from exercises import demo, problems
from exercises.collect import files_of
from exercises.publish.html import element

card = True
FOLDER = "demo-class"
ZIP = f"{FOLDER}.zip"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """One button, and what comes of it."""
    return [
        element(
            "form",
            element(
                "div",
                element("button", "Make the demo class", type="submit", class_="dw-button"),
                element(
                    "a",
                    "Try marking it",
                    data_site="desk/mark/?demo",
                    href="#",
                    class_="dw-button dw-quiet",
                ),
                class_="dw-buttons",
            ),
            class_="dw-form",
        ),
        element(
            "p",
            "It is made on this device, in about half a minute: hand-ins, worksheets with a key, marks, a report.",
            class_="dw-note",
        ),
        element("div", class_="dw-output", data_output=True, hidden=True),
        element("p", class_="dw-status", role="status"),
    ]


def respond(fields: Mapping[str, str]) -> dict[str, object]:
    """Make the class as ``doughwater demo`` does, and a zip of all its files."""
    folder = made(fields) / FOLDER
    demo.write_demo(problems.load(demo.DEMO_SET), folder, tell=lambda doing: tell(0, 0, doing))
    files = files_of([folder])
    pack(files, folder.parent, folder.parent / ZIP)
    names = [path.relative_to(folder.parent).as_posix() for path in files]
    return {
        "elements": _list(names),
        "made": [ZIP, *names],
        "says": f"The class is made: {counted(len(names), 'file')}.",
    }


def _list(names: list[str]) -> list[Element]:
    """A button for each file; the many hand-ins are folded away."""
    hand_ins = [name for name in names if f"/{demo.HAND_INS}/" in name]
    others = [name for name in names if name not in hand_ins]
    return [
        element("p", _save(ZIP, "Save all as one zip")),
        element("ul", *(element("li", _save(name)) for name in others), class_="dw-files-made"),
        element(
            "details",
            element("summary", f"The hand-ins ({len(hand_ins)})"),
            element("ul", *(element("li", _save(name)) for name in hand_ins)),
        ),
    ]


def _save(name: str, words: str = "") -> Element:
    shown = words or name.removeprefix(f"{FOLDER}/")
    return element("button", shown, type="button", class_="dw-open", data_save=name)
