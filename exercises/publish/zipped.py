"""A zip that is the same bytes each time it is made of the same files."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

# An entry carries a time, a system and rights; fixed ones make two zips alike.
FIXED_TIME = (2020, 1, 1, 0, 0, 0)
UNIX, READABLE = 3, 0o644
# What is packed already gets no smaller.
PACKED = (".zip", ".zstd", ".woff2", ".png")


def zipped(files: Mapping[str, bytes]) -> bytes:
    """The zip of some files by their names, in their order."""
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w") as bundle:
        for name, content in files.items():
            method = zipfile.ZIP_STORED if name.endswith(PACKED) else zipfile.ZIP_DEFLATED
            bundle.writestr(entry(name), content, method, 9)
    return made.getvalue()


def entry(name: str) -> zipfile.ZipInfo:
    """An entry that tells nothing of when and where it was made."""
    made = zipfile.ZipInfo(name, FIXED_TIME)
    made.create_system, made.external_attr = UNIX, READABLE << 16
    return made
