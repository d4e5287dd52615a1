"""The strokes that every picture is made of: flat colour with an inked edge, as on a printed label.

A shape's colour is what it is made of (`dough`, `crust`, `crumb`, `water`, `metal`, `flour`, `cloth`, `gold`,
`sour`): a class in `assets/pictures.css`, so that each picture has a light, a dark and a paper form.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Sequence
from functools import cache
from xml.etree.ElementTree import Element

from exercises.publish.html import element

Point = tuple[float, float]


def shape(path: str, of: str = "none") -> Element:
    """A closed or open outline, inked, filled with what it is made of."""
    return element("path", d=path, class_=f"dw-ink dw-of-{of}")


def patch(path: str, of: str) -> Element:
    """Colour without an edge: what lies inside something."""
    return element("path", d=path, class_=f"dw-of-{of}")


def ink(path: str, thin: bool = False) -> Element:
    """A line on something."""
    return element("path", d=path, class_="dw-ink dw-thin" if thin else "dw-ink")


def line(path: str) -> Element:
    """An edge with nothing behind it but the page, such as a jug's handle: light on a dark page."""
    return element("path", d=path, class_="dw-ink dw-on-page")


def to_come(path: str) -> Element:
    """The outline of what is not there yet, in an empty place."""
    return element("path", d=path, class_="dw-ink dw-on-page dw-to-come")


def smooth(points: Sequence[Point], closed: bool = True) -> str:
    """A curve through points (Catmull and Rom's, written as Bézier's)."""
    count = len(points)
    at = (lambda i: points[i % count]) if closed else (lambda i: points[min(max(i, 0), count - 1)])
    path = f"M{points[0][0]:.1f} {points[0][1]:.1f}"
    for i in range(count if closed else count - 1):
        before, start, end, after = at(i - 1), at(i), at(i + 1), at(i + 2)
        first = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        second = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        path += "C" + " ".join(f"{x:.1f} {y:.1f}" for x, y in (first, second, end))
    return path + ("Z" if closed else "")


def oval(x: float, y: float, wide: float, high: float) -> str:
    """An ellipse round a point, by its half axes."""
    return f"M{x - wide:.1f} {y:.1f}a{wide:.1f} {high:.1f} 0 1 0 {2 * wide:.1f} 0a{wide:.1f} {high:.1f} 0 1 0 {-2 * wide:.1f} 0Z"


def limbs(lines: Iterable[tuple[str, float]]) -> list[Element]:
    """Round-ended strokes that grow together, such as a hand's fingers: all edges first, then all fillings."""
    lines = list(lines)
    edges = [_stroke(path, width + 5, "dw-limb-edge") for path, width in lines]
    return edges + [_stroke(path, width, "dw-limb-flour") for path, width in lines]


def _stroke(path: str, width: float, class_: str) -> Element:
    return element("path", d=path, class_=f"dw-limb {class_}", stroke_width=f"{width:g}")


def moved(marks: Iterable[Element], x: float, y: float, scale: float = 1, mirrored: bool = False, turn: float = 0) -> Element:  # fmt: skip
    """Some marks as a group in another place, `turn` degrees clockwise about their own zero."""
    across = -scale if mirrored else scale
    turned = f" rotate({turn:g})" if turn else ""
    return element("g", *marks, transform=f"translate({x:g} {y:g}){turned} scale({across:g} {scale:g})")  # fmt: skip


def straight(points: Sequence[Point]) -> str:
    """A closed outline of straight lines."""
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + "Z"


def rotated(points: Sequence[Point], degrees: float) -> list[Point]:
    """Points turned clockwise about zero."""
    turn = math.radians(degrees)
    across, down = math.cos(turn), math.sin(turn)
    return [(x * across - y * down, x * down + y * across) for x, y in points]


def below(points: Sequence[Point], level: float) -> list[Point]:
    """What of an outline is under a level: how far a liquid in it reaches."""
    kept: list[Point] = []
    for (x, y), (to_x, to_y) in zip(points, [*points[1:], points[0]], strict=True):
        if y >= level:
            kept.append((x, y))
        if (y >= level) != (to_y >= level):
            kept.append((x + (to_x - x) * (level - y) / (to_y - y), level))
    return kept


def holes(inside: Sequence[Point], count: int, largest: float, seed: int) -> list[Element]:
    """Crumb: round to oval holes that do not touch, the large ones in the middle of an outline of points."""
    return [patch(each, "hole") for each in _ovals(tuple(inside), count, largest, seed)]


@cache
def _ovals(inside: tuple[Point, ...], count: int, largest: float, seed: int) -> list[str]:
    """The outlines of the holes: many pages show the same slice."""
    chance = random.Random(seed)
    middle_x = sum(x for x, _ in inside) / len(inside)
    middle_y = sum(y for _, y in inside) / len(inside)
    reach = max(math.dist((middle_x, middle_y), point) for point in inside)
    left, right = min(x for x, _ in inside), max(x for x, _ in inside)
    top, bottom = min(y for _, y in inside), max(y for _, y in inside)
    edge = _dense(inside)
    made: list[tuple[float, float, float]] = []
    for _ in range(count * 40):
        if len(made) == count:
            break
        x, y = chance.uniform(left, right), chance.uniform(top, bottom)
        near = 1 - math.dist((x, y), (middle_x, middle_y)) / reach
        size = largest * (0.22 + 0.78 * max(0.0, near) * chance.random() ** 1.6)
        clear = all(math.dist((x, y), (a, b)) > size + other + 1.4 for a, b, other in made)
        if clear and _far(edge, x, y, size + 3) and _holds(inside, x, y):
            made.append((x, y, size))
    return [
        _turned(x, y, size, size * chance.uniform(0.6, 0.85), chance.uniform(-40, 40))
        for x, y, size in made
    ]


def _far(edge: Sequence[Point], x: float, y: float, least: float) -> bool:
    return all(math.dist((x, y), point) > least for point in edge)


def _turned(x: float, y: float, wide: float, high: float, degrees: float) -> str:
    turn = math.radians(degrees)
    dx, dy = wide * math.cos(turn), wide * math.sin(turn)
    arc = f"a{wide:.1f} {high:.1f} {degrees:.0f} 1 0"
    return f"M{x - dx:.1f} {y - dy:.1f}{arc} {2 * dx:.1f} {2 * dy:.1f}{arc} {-2 * dx:.1f} {-2 * dy:.1f}Z"


def _dense(points: Sequence[Point]) -> list[Point]:
    """The outline's points and some between them."""
    return [
        (a[0] + (b[0] - a[0]) * part / 12, a[1] + (b[1] - a[1]) * part / 12)
        for a, b in zip(points, [*points[1:], points[0]], strict=True)
        for part in range(12)
    ]


def _holds(points: Sequence[Point], x: float, y: float) -> bool:
    """Whether a point is inside an outline (an odd number of its edges are to the right)."""
    edges = zip(points, [*points[1:], points[0]], strict=True)
    return bool(
        sum(
            (a[1] > y) != (b[1] > y) and x < (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) + a[0]
            for a, b in edges
        )
        % 2
    )
