"""The pictures, by the page that each is for. They decorate: whatever they show, the page says in words."""

from __future__ import annotations

from collections.abc import Callable
from xml.etree.ElementTree import Element

from docs.course.pictures import kitchen as k
from docs.course.pictures.shapes import line, moved

Marks = list[Element]
# A small picture's box; the bench is at 104.
SIZE = 120.0
BENCH = 104.0
SCENES: dict[str, Callable[[], Marks]] = {}


def scene(*names: str) -> Callable[[Callable[[], Marks]], Callable[[], Marks]]:
    """Enter a small picture under the keys of lessons and tools that it is for."""

    def enter(draw: Callable[[], Marks]) -> Callable[[], Marks]:
        SCENES.update(dict.fromkeys(names, draw))
        return draw

    return enter


def bench(width: float = SIZE, y: float = BENCH) -> Element:
    """The bench's edge, not quite from side to side."""
    return line(f"M4 {y}H{width - 4}")


@scene("bakers-percentage", "formulas")
def flour_on_the_scale() -> Marks:
    return [bench(), moved(k.scale(), 60, BENCH), moved(k.flour_heap(44, 38), 60, BENCH - 52)]


@scene("what-hydration-means", "liquids")
def water_into_dough() -> Marks:
    return [
        bench(),
        moved(k.dough(46, 42), 60, BENCH),
        moved(k.drop(13), 60, 50),
        moved(k.drop(8), 36, 46),
        moved(k.drop(8), 84, 46),
    ]


@scene("finding-the-water", "pack")
def carton_and_glass() -> Marks:
    return [
        bench(),
        moved(k.carton(), 30, BENCH, 0.92),
        moved(k.jug(54), 82, BENCH, 0.86, mirrored=True),
    ]


@scene("divide-by-the-water-content", "swap")
def two_jugs() -> Marks:
    return [
        bench(),
        moved(k.jug(50), 38, BENCH, 0.7),
        moved(k.jug(50, above=14), 84, BENCH, 0.7, mirrored=True),
    ]


@scene("part-swaps-blends-eggs", "blends")
def eggs_and_jug() -> Marks:
    return [
        bench(),
        moved(k.jug(26, above=18, on_top="flour"), 34, BENCH, 0.9),
        moved(k.egg(), 76, BENCH),
        moved(k.open_egg(), 101, BENCH, 0.9),
    ]


@scene("what-rides-along", "balance")
def butter_on_top() -> Marks:
    return [
        bench(),
        moved(k.jug(40, above=22), 34, BENCH, 0.9),
        moved(k.butter(), 87, BENCH, 0.86),
    ]


@scene("acidity-and-feel", "feel")
def lemon_and_bowl() -> Marks:
    return [
        bench(),
        moved(k.dough(38, 30), 58, BENCH - 40),
        moved(k.bowl(), 58, BENCH, 0.84),
        moved(k.lemon(), 98, BENCH, 0.66),
    ]


@scene("preferments")
def starter() -> Marks:
    return [bench(), moved(k.jar(), 44, BENCH, 1.1), moved(k.flour_heap(24, 20), 93, BENCH)]


@scene("dough-temperature", "temperature")
def probe() -> Marks:
    return [bench(), moved(k.dough(52, 44), 60, BENCH), moved(k.thermometer(), 66, 76, 0.72)]


@scene("scaling-and-rounding", "scale")
def pieces() -> Marks:
    return [
        bench(),
        moved(k.dough(22, 26), 27, BENCH),
        moved(k.dough(22, 26), 93, BENCH, mirrored=True),
        moved(k.scraper(), 60, BENCH, 0.94),
    ]


@scene("side-by-side-bake", "side-by-side")
def two_slices() -> Marks:
    return [
        bench(),
        moved(k.bread_slice(34, 6.5, 7), 31, BENCH, 0.6),
        moved(k.bread_slice(60, 2.8, 3, 0.8), 89, BENCH, 0.6),
    ]


@scene("safe-handling")
def covered_bowl() -> Marks:
    return [bench(), moved(k.bowl(), 60, BENCH, 0.9), moved(k.cloth(), 60, BENCH, 0.9)]


@scene("what-the-flour-does")
def flour_water_dough() -> Marks:
    return [
        bench(),
        moved(k.flour_heap(26, 24), 30, BENCH),
        moved(k.drop(9), 30, 72),
        moved(k.dough(32, 34), 82, BENCH),
    ]


@scene("ingredients")
def own_jar() -> Marks:
    return [bench(), moved(k.bottle(56), 36, BENCH, 0.9), moved(k.flour_heap(34, 26), 84, BENCH)]


@scene("nothing-here")
def empty_bowl() -> Marks:
    return [bench(), moved(k.bowl(), 52, BENCH, 0.84), moved(k.flour_heap(12, 7), 106, BENCH)]


@scene("loaf")
def whole_loaf() -> Marks:
    return [bench(), moved(k.loaf(), 60, BENCH, 0.84)]


def hands_in_dough() -> Marks:
    """The picture of the first page, 420 wide and 190 high: the liquid, the dough, two hands."""
    floor = 172
    return [
        moved(k.bottle(48), 36, floor, 1.12),
        moved(k.jug(48, above=13), 104, floor, 1.12, mirrored=True),
        moved(k.dough(92, 70), 262, floor),
        moved(k.hand(), 222, floor - 34, 1.12),
        moved(k.hand(), 302, floor - 34, 1.12, mirrored=True),
        moved(k.bread_slice(46, 6.5, 11), 386, floor, 0.64),
        bench(420, floor),
    ]
