"""What the head of a page in Markdown says: its title, its description and more."""

from __future__ import annotations

from pathlib import Path

import yaml

PAGES = Path(__file__).resolve().parents[1] / "pages"


def head_of(page: str) -> dict[str, str]:
    """The fields at the head of a page, such as ``lessons/preferments.md``. Raises OSError, ValueError."""
    _, head, _ = (PAGES / page).read_text("utf-8").split("---\n", 2)
    return yaml.safe_load(head)
