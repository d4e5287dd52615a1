"""Draws the installed app's icons from the mark: ``python -m docs.build.icons`` (needs ``resvg-py``).

The pictures are kept beside the mark, so that a build needs no drawing program; a test draws them again
and compares.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from exercises.publish.page import LIGHT

ASSETS = Path(__file__).resolve().parents[1] / "pages" / "assets"
MARK = ASSETS / "mark.svg"


@dataclass(frozen=True)
class Icon:
    """A square of `size` pixels; the mark takes up `share` of its side, on paper unless it is bare."""

    size: int
    share: float
    paper: bool = False
    folder: Path = ASSETS


ICONS = {
    "icon-192.png": Icon(192, 0.94),
    "icon-512.png": Icon(512, 0.94),
    # A maskable icon keeps within a circle of 80 % of its side (W3C, Web Application Manifest).
    "icon-maskable-512.png": Icon(512, 0.62, paper=True),
    # Home screens that put a bare icon on black.
    "icon-180.png": Icon(180, 0.74, paper=True),
}


def svg(icon: Icon) -> str:
    """The icon as SVG."""
    side = icon.size * icon.share
    edge = (icon.size - side) / 2
    mark = MARK.read_text("utf-8").replace(
        "<svg ", f'<svg x="{edge}" y="{edge}" width="{side}" height="{side}" ', 1
    )
    paper = f'<rect width="100%" height="100%" fill="{LIGHT["paper"]}"/>' if icon.paper else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{icon.size}" height="{icon.size}">'
        f"{paper}{mark}</svg>"
    )


def draw(name: str) -> bytes:
    """The PNG of an icon."""
    import resvg_py  # a tool for authors: the site itself does without

    return bytes(resvg_py.svg_to_bytes(svg_string=svg(ICONS[name])))


if __name__ == "__main__":
    for name, icon in ICONS.items():
        (icon.folder / name).write_bytes(draw(name))
