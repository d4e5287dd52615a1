"""A set's file as text, in whatever letters it was saved; what is no text is told."""

from __future__ import annotations

import io

from exercises import letters, yaml_slips
from exercises.setfile import Complaint, SetError


def decoded(raw: bytes, file: str) -> tuple[str, str]:
    """A file's text, and the name of the encoding it was read as.

    Raises SetError for what is no text: a document, a picture, a zip.
    """
    document = yaml_slips.document(raw[:100].decode("latin-1"))
    if document:
        raise SetError([Complaint(file, 1, 1, document)])
    found = letters.encoding_of(io.BytesIO(raw))
    # What is UTF-8 but for a letter or two was put together from two files.
    for encoding in (found, letters.WINDOWS) if found == letters.UTF8 else (found,):
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text, letters.NAMES[encoding]
    says = "This is no text. Open a file that was saved as plain text, such as the one that this page saves."
    raise SetError([Complaint(file, 1, 1, says)])
