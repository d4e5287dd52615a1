"""The look's rules, as far as the style sheets tell: docs/pages/reference/look.md states them."""

import re

import pytest

from docs.build.site import PAGES

SHEETS = [PAGES / "assets" / f"{name}.css" for name in ("style", "frame", "pictures")]
SIZE = re.compile(r"font(?:-size)?:[^;{}]*?(?<![\w.-])(\d*\.?\d+(?:rem|px))")
# Drawings have sizes in their own units, and paper has points.
ELSEWHERE = re.compile(r"\.dw-drawing text|@media print")


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.stem)
def test_every_size_of_type_is_one_of_the_scale(sheet):
    lines = sheet.read_text("utf-8").splitlines()
    named = [line.strip() for line in lines if SIZE.search(line) and not ELSEWHERE.search(line)]
    assert named == []


def test_no_size_of_the_scale_is_under_twelve_pixels():
    """The theme's root is 20 px; the smallest text of a page is the scale's smallest."""
    style = (PAGES / "assets" / "style.css").read_text("utf-8")
    scale = [
        float(size)
        for size in re.findall(r"--dw-(?:text|head|answer|figure)[\w-]*: ([\d.]+)rem", style)
    ]
    assert len(scale) > 8
    assert min(scale) * 20 >= 12
