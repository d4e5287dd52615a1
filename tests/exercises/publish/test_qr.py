"""A link as a QR code, read back by another library: zxing-cpp."""

import re

import numpy
import pytest
import zxingcpp

from exercises import set_link
from exercises.publish import qr
from tests.exercises.set_texts import EVERY_KIND

SITE = "https://school.example/dough/"


def pixels(made, scale=3):
    """A code's picture as a camera would have it: grey values, each square some points wide."""
    dark = numpy.pad(numpy.array([list(row) for row in made.matrix]), 4)
    return numpy.kron(1 - dark, numpy.ones((scale, scale))).astype(numpy.uint8) * 255


@pytest.mark.parametrize("length", [20, 300, 700, 1200])
def test_a_code_is_read_by_another_library(length):
    letters = set_link.pack(str(range(length * 9)) * 3 + "x" * length)
    link = (set_link.link(SITE, "") + letters * length)[:length]
    [found] = zxingcpp.read_barcodes(pixels(qr.code(link)))
    assert found.text == link


def test_a_set_is_read_from_the_picture_of_its_code():
    """The path in the SVG is drawn again, square for square."""
    text = set_link.to_give(EVERY_KIND, "monday.yml")
    drawn = qr.picture(qr.code(set_link.link(SITE, text)))
    side = int(drawn.find("rect").get("width"))
    picture = numpy.full((side, side), 255, numpy.uint8)
    for x, y, width in re.findall(r"M(\d+) (\d+)h(\d+)v1", drawn.find("path").get("d")):
        picture[int(y), int(x) : int(x) + int(width)] = 0
    [found] = zxingcpp.read_barcodes(numpy.kron(picture, numpy.ones((3, 3), numpy.uint8)))
    assert set_link.unpack(found.text) == text


def test_a_link_that_is_too_long_for_a_code_is_told():
    for length in (1_400, 20_000):
        with pytest.raises(qr.TooLong):
            qr.code("x" * length)
