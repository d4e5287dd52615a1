"""The pictures, by the page that each is for. They decorate: whatever they show, the page says in words."""

from __future__ import annotations

from collections.abc import Callable
from xml.etree.ElementTree import Element

from docs.course.pictures import hands as h
from docs.course.pictures import kitchen as k
from docs.course.pictures.shapes import ink, line, moved, oval, shape

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
def no_loaf_on_the_rack() -> Marks:
    crumbs = "M16 96h.1M27 96h2M96 95h.1M104 96h1"
    return [
        bench(),
        moved(k.loaf_to_come(), 60, 90, 0.84),
        moved(k.rack(), 60, 92, 0.94),
        line(crumbs),
    ]


@scene("loaf")
def whole_loaf() -> Marks:
    return [bench(), moved(k.loaf(), 60, BENCH, 0.84)]


@scene("first-swaps")
def pouring() -> Marks:
    return [
        bench(),
        moved(k.bowl(), 82, BENCH, 0.62),
        moved(h.poured(60, 62), 40, 52, 0.54),
    ]


@scene("at-the-bench")
def weighing() -> Marks:
    return [
        bench(),
        moved(k.scale(), 52, BENCH, 0.8),
        moved(k.flour_heap(26, 13), 48, BENCH - 42),
        line("M48 46v2M45 40v3M51 39v3"),
        moved(h.pinch(), 47, 35, 0.62, turn=-4),
    ]


@scene("the-whole-job", "bakes")
def folding() -> Marks:
    return [
        bench(),
        moved(k.folded_dough(), 56, BENCH),
        moved(h.pinch(), 62, 55, 0.62),
        moved(k.hand(), 30, BENCH - 22, 0.62),
    ]


@scene("study", "sets")
def writing() -> Marks:
    return [
        bench(),
        moved(k.sheet(), 42, BENCH, 1.2),
        moved(h.pencil(), 40, 68),
        moved(h.pinch(), 52, 52, 0.68),
    ]


@scene("given", "school-system")
def phone_in_hand() -> Marks:
    return [moved(h.holding(k.phone()), 56, 74, 0.94)]


@scene("skills")
def growing() -> Marks:
    return [
        bench(),
        moved(k.dough(14, 13), 20, BENCH),
        moved(k.dough(19, 26), 54, BENCH),
        moved(k.dough(20, 44), 95, BENCH),
    ]


@scene("finish")
def bringing_a_loaf() -> Marks:
    return [moved(h.carried(k.loaf()), 60, 76, 0.56)]


@scene("own-shelf")
def place_on_the_shelf() -> Marks:
    return [
        moved(k.plank(112), 60, 92),
        moved(k.bottle(56), 22, 92, 0.72),
        moved(k.jar_to_come(), 61, 92, 0.62),
        moved(k.bottle_to_come(), 100, 92, 0.66),
    ]


@scene("sets-to-come")
def place_for_sets() -> Marks:
    return [
        moved(k.plank(112), 60, 92),
        moved(k.sheet_to_come(), 68, 92, 0.68),
        moved(k.sheet_to_come(), 100, 92, 0.4),
        moved(k.sheet(), 27, 92, 0.86),
        moved(h.pencil(), 26, 64, 0.7),
    ]


@scene("formulas-to-come")
def place_for_formulas() -> Marks:
    return [bench(), moved(k.sheet_to_come(), 50, BENCH, 1.2), moved(h.pencil(), 50, 68)]


@scene("print")
def laying_down_a_sheet() -> Marks:
    return [
        bench(),
        moved(k.sheet_to_come(), 34, BENCH - 4, 1.1),
        moved(k.sheet(), 46, BENCH - 14, 1.1),
        moved(h.pinch(), 70, 44, 0.54, turn=8),
    ]


@scene("mark")
def marking() -> Marks:
    ticks = "M30 48l5 5 9 -11M30 66l5 5 9 -11"
    return [
        bench(),
        moved(k.sheet(0), 44, BENCH, 1.3),
        moved([ink(ticks), ink("M50 46h18M50 64h12M30 84h38M30 93h26", thin=True)], 0, 0),
        moved(h.pencil(), 44, 72),
        moved(h.pinch(), 56, 56, 0.66),
    ]


@scene("term-plan")
def weeks_on_the_wall() -> Marks:
    weeks = "".join(f"M{x} {y}h.1" for y in (52, 64, 76, 88) for x in (34, 47, 60, 73, 86))
    return [
        shape("M22 98V24H98V98Z", "flour"),
        shape("M22 40V24H98V40Z", "cloth"),
        ink("M36 30V16M84 30V16"),
        ink(weeks),
        shape(oval(60, 64, 8, 7.5), "none"),
    ]


@scene("bake-to-come")
def two_slices_to_come() -> Marks:
    return [
        bench(),
        moved(k.slice_to_come(), 32, BENCH, 0.56),
        moved(k.slice_to_come(), 88, BENCH, 0.56),
    ]


@scene("sandwich-loaf")
def bread_in_its_tin() -> Marks:
    return [bench(), moved(k.tin_loaf(), 60, BENCH)]


@scene("soft-rolls")
def three_rolls() -> Marks:
    return [
        bench(),
        moved(k.roll(), 60, BENCH - 22),
        moved(k.roll(), 34, BENCH),
        moved(k.roll(), 86, BENCH),
    ]


@scene("brioche")
def brioche_in_its_mould() -> Marks:
    return [bench(), moved(k.brioche(), 60, BENCH)]


@scene("focaccia")
def dimpled_bread() -> Marks:
    return [bench(), moved(k.focaccia(), 60, BENCH)]


@scene("rye-blend")
def dark_loaf() -> Marks:
    return [bench(), moved(k.rye_loaf(), 60, BENCH)]


@scene("sweet-buns")
def two_buns() -> Marks:
    return [bench(), moved(k.bun(), 32, BENCH, 0.9), moved(k.bun(), 88, BENCH, 0.9, mirrored=True)]


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
