"""A link as a QR code: black on white, with its quiet zone, to show on a board or to print.

The code is ISO/IEC 18004's; the library `segno` makes it. The part after “#” is letters of both cases, so
the whole is in the standard's byte mode.
"""

from __future__ import annotations

from itertools import groupby
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import segno

from exercises.publish.html import element

# 117 squares a side. On a board a metre high each is 9 mm, of which a phone ten metres away sees
# some three of its picture's points: about as little as phones can read.
LARGEST_VERSION = 25
# Above this one stands nearer, or shows it as large as the board is.
DENSE_VERSION = 15
# What the standard asks for around a code, in squares.
_QUIET = 4
_NAMESPACE = "http://www.w3.org/2000/svg"


class TooLong(ValueError):
    """The link does not fit into a code that a phone reads from a distance."""


def code(link: str) -> segno.QRCode:
    """The code of a link: the smallest, at the highest level of correction that makes it no larger.

    Raises TooLong.
    """
    try:
        made = segno.make_qr(link, error="l", mode="byte", encoding="utf-8")
    except segno.DataOverflowError:
        raise TooLong from None
    if int(made.version) > LARGEST_VERSION:
        raise TooLong
    return made


def picture(made: segno.QRCode) -> Element:
    """A code as SVG, one unit a square; its ground is white on dark pages too."""
    side = len(made.matrix) + 2 * _QUIET
    return element(
        "svg",
        element("rect", width=side, height=side, fill="#fff"),
        element("path", d=_squares(made), fill="#000"),
        viewBox=f"0 0 {side} {side}",
        role="img",
        aria_label="The link as a QR code",
        shape_rendering="crispEdges",
    )


def file(made: segno.QRCode) -> str:
    """A code as an SVG file."""
    drawn = picture(made)
    drawn.set("xmlns", _NAMESPACE)
    return ElementTree.tostring(drawn, encoding="unicode", xml_declaration=True) + "\n"


def _squares(made: segno.QRCode) -> str:
    """The dark squares as a path, each run of them in a row one bar."""
    bars = []
    for y, row in enumerate(made.matrix, _QUIET):
        x = _QUIET
        for dark, run in groupby(row):
            width = len(list(run))
            if dark:
                bars.append(f"M{x} {y}h{width}v1h-{width}z")
            x += width
    return "".join(bars)
