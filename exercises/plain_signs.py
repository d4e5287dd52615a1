"""Output for a terminal, or a file in its place, whose encoding lacks some of our signs.

On Windows what is sent into a file (``> marks.txt``) is written in the country's old encoding, which has
no minus sign of ours and no other country's letters. Python would stop there, half-way through a class.
"""

from __future__ import annotations

import codecs
import io
import sys

# What a cook would type for a sign that the keyboard lacks; any other letter is a question mark.
_TYPED = {"−": "-", "×": "x", "÷": "/", "–": "-", "…": "...", "“": '"', "”": '"', "’": "'"}


def _as_typed(error: UnicodeError) -> tuple[str, int]:
    missing = error.object[error.start : error.end]
    return "".join(_TYPED.get(sign, "?") for sign in missing), error.end


codecs.register_error("as-typed", _as_typed)


def never_stop_at_a_sign() -> None:
    """From now on what is printed is written as near as the encoding of the output allows."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="as-typed")
