"""Hands at work, each about what it holds (0, 0), to be put into pictures beside the things of the kitchen."""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from docs.course.pictures.shapes import (
    Point,
    below,
    ink,
    limbs,
    line,
    moved,
    patch,
    rotated,
    shape,
    straight,
)


def fist() -> list[Element]:
    """A right hand round an upright handle at (0, 0), its arm off to the right."""
    fingers = [
        (f"M13 {y}L{tip} {y + 1}", 10) for y, tip in ((-15, -5), (-5, -8), (5, -8), (14.5, -5))
    ]
    back, arm = ("M18 -7L18 8", 25), ("M22 0L66 0", 22)
    thumb = ("M18 -15C12 -25 4 -27 -4 -24", 10)
    return [
        *limbs([arm, thumb, back, *fingers]),
        *(ink(f"M-7 {y}H9", thin=True) for y in (-9.5, 0.5, 10)),
        *_sleeve(50, 84, 15),
    ]


def pinch() -> list[Element]:
    """A right hand whose finger and thumb hold something at (0, 0), its arm off to the upper right."""
    arm, palm = ("M46 -34L72 -55", 21), ("M37 -34L41 -24", 26)
    curled = [("M38 -18L29 -8", 10), ("M46 -17L39 -5", 10)]
    finger, thumb = ("M31 -42C13 -45 2 -26 1 -5", 10), ("M32 -22C22 -20 13 -12 5 -3", 9.5)
    return [
        *limbs([arm, palm, *curled, finger, thumb]),
        ink("M35 -8L40 -14", thin=True),
        ink("M24 -27C28 -28 32 -28 35 -26", thin=True),
        shape("M54 -59L71 -37L97 -58L80 -80Z", "water"),
        ink("M60 -64L77 -42", thin=True),
    ]


def _sleeve(near: float, far: float, half: float) -> list[Element]:
    """A sleeve round an arm that lies along the bench's line."""
    return [
        shape(f"M{near} {-half}L{far} {-half - 3}V{half + 3}L{near} {half}Z", "water"),
        ink(f"M{near + 7} {-half}V{half}", thin=True),
    ]


JUG = [(-27.0, -78.0), (-24.0, 0.0), (24.0, 0.0), (27.0, -78.0)]


def poured(turn: float, fall: float, of: str = "water") -> list[Element]:
    """A jug (as `kitchen.jug`) turned to pour over its lip, a stream `fall` long, and the hand on its handle."""
    wall = rotated(JUG, turn)
    lip_x, lip_y = wall[-1]
    handle = rotated([(-25.5, -60), (-52, -64), (-50, -16), (-24.5, -20)], turn)
    [(hold_x, hold_y)] = rotated([(-43, -40)], turn)
    spout = rotated([(27, -78), (32, -84)], turn)
    return [
        patch(straight(wall), "glass"),
        patch(straight(below(wall, lip_y + 1)), of),
        shape(_stream(lip_x, lip_y, fall), of),
        line(f"M{_along(handle[:1])}C{_along(handle[1:])}M{_along([*wall, spout[1]], 'L')}"),
        moved(fist(), hold_x, hold_y, mirrored=True, turn=turn - 24),
    ]


def _along(points: Iterable[Point], between: str = " ") -> str:
    return between.join(f"{x:.1f} {y:.1f}" for x, y in points)


def _stream(x: float, y: float, fall: float) -> str:
    """What runs over a lip at a point and falls."""
    return f"M{x - 5:.1f} {y:.1f}Q{x + 6:.1f} {y:.1f} {x + 6:.1f} {y + 12:.1f}V{y + fall:.1f}H{x:.1f}V{y + 14:.1f}Q{x:.1f} {y + 6:.1f} {x - 6:.1f} {y + 5:.1f}Z"


def pencil() -> list[Element]:
    """A pencil whose point is at (0, 0), its end to the upper right; a `pinch` holds it at (12, -16)."""
    return [
        shape("M0 0L2 -9L8 -5Z", "crumb"),
        shape("M2 -9L36 -56L42 -52L8 -5Z", "gold"),
    ]


def holding(thing: list[Element]) -> list[Element]:
    """A left hand round something flat, 40 wide and 76 high, that stands at (0, 0), its arm from below."""
    tips = [(f"M24 {y}L17 {y - 1}", 9) for y in (-45, -34, -23)]
    return [
        *limbs([("M2 8L12 34", 24), ("M2 -16L4 2", 36), *tips]),
        *thing,
        *limbs([("M-20 -6C-28 -20 -22 -30 -14 -38", 11), *tips]),
        patch("M-21 -4L-24 -12L-15 -18V-2Z", "flour"),
        shape("M-3 26L26 20L32 44L2 50Z", "water"),
        ink("M-1 33L28 27", thin=True),
    ]


def carried(thing: list[Element]) -> list[Element]:
    """Something 130 wide at (0, 0) that two hands bring, thumbs in front."""
    return [*_side_hand(False), *_side_hand(True), *thing, *_thumb(False), *_thumb(True)]


def _side_hand(mirrored: bool) -> list[Element]:
    arm, palm = ("M60 4L84 30", 21), ("M50 -12L58 0", 26)
    sleeve = [shape("M72 30L90 12L112 36L92 56Z", "water"), ink("M78 36L96 18", thin=True)]
    return [moved([*limbs([arm, palm]), *sleeve], 0, 0, mirrored=mirrored)]


def _thumb(mirrored: bool) -> list[Element]:
    return [moved(limbs([("M60 -2C54 -12 50 -20 46 -24", 11)]), 0, 0, mirrored=mirrored)]
