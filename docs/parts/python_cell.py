"""A calculation opened in Python: the exact call, to change and run in the page."""

from __future__ import annotations

import contextlib
import io
import traceback
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from exercises.publish.html import element

LONGEST_CODE = 20_000
LONGEST_OUTPUT = 20_000
NAME = "<your code>"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``code`` is what to show; what it prints is computed at build time.

    Raises ValueError when the code fails.
    """
    code = attributes.get("code", "").strip()
    printed, failed = run(code)
    if failed:
        raise ValueError(printed)
    return cell(code, printed)


def folded(code: str) -> Element:
    """A calculation's code behind a summary, for under a result."""
    return element(
        "details",
        element("summary", "In Python: the exact call, to change and run"),
        element("python-cell", *cell(code)),
        class_="dw-python",
    )


def cell(code: str, printed: str = "") -> list[Element]:
    """The editable code, its button and what it printed."""
    lines = str(code.count("\n") + 2)
    return [
        element(
            "form",
            element(
                "textarea", code, name="code", rows=lines, spellcheck="false", aria_label="Python code",
                autocapitalize="off", autocomplete="off", class_="dw-code",
            ),
            element("button", "Run", type="submit", class_="dw-button"),
        ),
        element("pre", printed, class_="dw-printed", data_output=True, tabindex="0", aria_label="What it prints"),
    ]  # fmt: skip


def respond(values: Mapping[str, str]) -> dict[str, object]:
    """Run the code and give what it prints, or Python's own message."""
    printed, failed = run(values.get("code", ""))
    return {"text": printed, "says": "Python reports an error." if failed else "Python has run it."}


def run(code: str) -> tuple[str, bool]:
    """What code prints, and whether it failed."""
    if len(code) > LONGEST_CODE:
        return f"This is longer than {LONGEST_CODE} characters.", True
    out = io.StringIO()
    failed = False
    with contextlib.redirect_stdout(out):
        try:
            exec(compile(code, NAME, "exec"), {"__name__": "__page__"})
        except BaseException as error:  # the reader's code may raise anything, SystemExit too
            failed = True
            out.write(_message(error))
    return out.getvalue()[:LONGEST_OUTPUT], failed


def _message(error: BaseException) -> str:
    """Python's message with the line of the reader's code, without the frames of ours."""
    said = "".join(traceback.format_exception_only(error)).rstrip()
    frames = traceback.extract_tb(error.__traceback__)
    lines = [frame.lineno for frame in frames if frame.filename == NAME]
    return f"line {lines[-1]}: {said}" if lines else said
