"""The project itself as a zip in the site: whoever reads the pages can have the program too."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from pathlib import Path

from exercises.publish.zipped import entry

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = "doughwater.zip"
# The folder that unpacking it makes.
FOLDER = "doughwater"
FOLDERS = ("calc", "exercises", "docs", "tests")
FILES = ("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "site_config.yml")
MADE_BY_TOOLS = ("__pycache__", "node_modules")


def program() -> bytes:
    """The zip. No page needs it, so no device keeps it for use offline."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as made:
        for file in source_files():
            name = f"{FOLDER}/{file.relative_to(ROOT).as_posix()}"
            made.writestr(entry(name), file.read_bytes(), zipfile.ZIP_DEFLATED, 9)
    return packed.getvalue()


def source_files() -> Iterator[Path]:
    """The project's own files in a fixed order, without what tools make beside them."""
    yield from (ROOT / name for name in FILES)
    for folder in FOLDERS:
        yield from sorted(
            path for path in (ROOT / folder).rglob("*") if path.is_file() and _is_ours(path)
        )


def _is_ours(path: Path) -> bool:
    parts = path.relative_to(ROOT).parts
    return not any(part.startswith(".") or part in MADE_BY_TOOLS for part in parts)
