"""Things of the kitchen, each drawn once about its own foot (0, 0), to be put into pictures."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from docs.course.pictures.shapes import (
    holes,
    ink,
    limbs,
    line,
    oval,
    patch,
    shape,
    smooth,
    to_come,
)


def jug(level: float, above: float = 0, on_top: str = "gold") -> list[Element]:
    """A measuring jug 60 wide and 80 high, filled with water to `level`; `above` of something rides on top."""
    wall = "M-27 -78L-24 -4Q-24 0 -20 0H20Q24 0 24 -4L27 -78"
    marks = [patch("M-27 -78L-24 -4Q-24 0 -20 0H20Q24 0 24 -4L27 -78Z", "glass")]
    lean = 3 * level / 78
    marks.append(patch(f"M{-24 - lean:.1f} {-level:.1f}L-24 -4Q-24 0 -20 0H20Q24 0 24 -4L{24 + lean:.1f} {-level:.1f}Z", "water"))  # fmt: skip
    if above:
        top, wide = level + above, 3 * (level + above) / 78
        marks.append(patch(f"M{-24 - wide:.1f} {-top:.1f}L{-24 - lean:.1f} {-level:.1f}H{24 + lean:.1f}L{24 + wide:.1f} {-top:.1f}Z", on_top))  # fmt: skip
        marks.append(ink(f"M{-24 - lean:.1f} {-level:.1f}H{24 + lean:.1f}", thin=True))
    marks.append(ink(f"M{-24 - 3 * (level + above) / 78:.1f} {-level - above:.1f}H{24 + 3 * (level + above) / 78:.1f}", thin=True))  # fmt: skip
    for number, high in enumerate(range(14, 74, 10)):
        marks.append(ink(f"M{25 + high / 26 - 1:.1f} {-high}h{-13 if number % 2 else -8}", thin=True))  # fmt: skip
    marks.append(line("M-25.500 -60C-48 -62 -46 -18 -24.500 -20"))
    marks.append(line(wall + "L32 -84M-27 -78L-29 -82"))
    return marks


def bowl(of: str = "cloth") -> list[Element]:
    """A bowl 110 wide and 50 high, with a foot."""
    return [
        shape("M-18 0L-15 -7H15L18 0Z", of),
        shape("M-55 -50C-52 -20 -34 -6 -15 -6H15C34 -6 52 -20 55 -50Z", of),
        ink("M-47 -38C-43 -24 -35 -15 -26 -12", thin=True),
        shape("M-58 -54H58Q60 -49 56 -48H-56Q-60 -49 -58 -54Z", of),
    ]


def dough(wide: float = 50, high: float = 42) -> list[Element]:
    """A ball of dough on the bench, with its light, its shade and a fold."""
    outline = [(-wide * 0.84, 0), (-wide * 0.99, -high * 0.2), (-wide * 0.86, -high * 0.64), (-wide * 0.42, -high * 0.96), (wide * 0.1, -high), (wide * 0.62, -high * 0.85), (wide * 0.96, -high * 0.42), (wide * 0.97, -high * 0.12), (wide * 0.84, 0)]  # fmt: skip
    body = smooth(outline, closed=False) + "Z"
    shade = [(-wide * 0.6, -1), (wide * 0.2, -high * 0.13), (wide * 0.72, -high * 0.36), (wide * 0.92, -high * 0.46), (wide * 0.93, -high * 0.14), (wide * 0.8, -1)]  # fmt: skip
    light = [(-wide * 0.72, -high * 0.5), (-wide * 0.5, -high * 0.76), (-wide * 0.14, -high * 0.9), (-wide * 0.3, -high * 0.7), (-wide * 0.58, -high * 0.42)]  # fmt: skip
    return [
        patch(body, "dough"),
        patch(smooth(shade), "shade"),
        patch(smooth(light), "crumb"),
        shape(body),
        ink(smooth([(-wide * 0.02, -high * 0.66), (wide * 0.2, -high * 0.7), (wide * 0.44, -high * 0.6)], False), thin=True),
    ]  # fmt: skip


SLICE = [(-40, -4), (-42, -26), (-47, -42), (-44, -58), (-30, -69), (-10, -74), (12, -74), (32, -68), (45, -57), (47, -42), (42, -26), (40, -4), (34, 0), (-34, 0)]  # fmt: skip


def bread_slice(count: int, largest: float, seed: int, squash: float = 1) -> list[Element]:
    """A slice 94 wide; its crumb is open or tight, its rise is squashed where the dough was stiff."""
    outer = [(x, y * squash) for x, y in SLICE]
    inner = [(x * 0.88, y * 0.9 * squash - 3) for x, y in SLICE]
    return [
        shape(smooth(outer[-1:] + outer[:-1], closed=False) + "Z", "crust"),
        patch(smooth(inner), "crumb"),
        *holes(inner, count, largest, seed),
    ]


def loaf() -> list[Element]:
    """A loaf 130 wide with three cuts, its crust torn open."""
    outline = [(-58, 0), (-66, -10), (-65, -28), (-50, -49), (-20, -60), (16, -61), (47, -51), (64, -29), (66, -10), (58, 0)]  # fmt: skip
    body = smooth(outline, closed=False) + "Z"
    marks = [patch(body, "crust"), patch(smooth([(-40, -1), (20, -9), (50, -20), (62, -24), (62, -11), (54, -1)]), "bark"), shape(body)]  # fmt: skip
    for x in (-34, -2, 30):
        marks.append(shape(smooth([(x - 9, -16), (x - 4, -34), (x + 6, -50), (x + 12, -52), (x + 8, -36), (x + 1, -20), (x - 6, -13)]), "crumb"))  # fmt: skip
    return [*marks, ink("M-54 -12Q-56 -24 -48 -34", thin=True), ink("M56 -14Q56 -22 52 -30", thin=True)]  # fmt: skip


def scale(weight: str = "") -> list[Element]:
    """A bench scale 120 wide, its pan at 52 above the bench."""
    return [
        shape("M-46 0L-38 -34Q-37 -38 -33 -38H33Q37 -38 38 -34L46 0Z", "metal"),
        shape("M-20 -30H20V-12H-20Z", "flour"),
        ink("M-13 -17V-22M-6.500 -17V-25M0 -17V-22M6.500 -17V-25M13 -17V-22", thin=True),
        shape("M-8 -38H8V-46H-8Z", "metal"),
        shape("M-58 -52H58Q57 -46 48 -46H-48Q-57 -46 -58 -52Z", "metal"),
    ]


def flour_heap(wide: float = 46, high: float = 34) -> list[Element]:
    """A heap of flour."""
    outline = [(-wide, 0), (-wide * 0.7, -high * 0.32), (-wide * 0.36, -high * 0.72), (-wide * 0.06, -high), (wide * 0.2, -high * 0.88), (wide * 0.48, -high * 0.5), (wide * 0.8, -high * 0.2), (wide, 0)]  # fmt: skip
    return [
        shape(smooth(outline, closed=False) + "Z", "flour"),
        ink(smooth([(-wide * 0.1, -high * 0.7), (wide * 0.08, -high * 0.5), (wide * 0.3, -high * 0.34)], False), thin=True),
        ink(smooth([(-wide * 0.45, -high * 0.3), (-wide * 0.25, -high * 0.22)], False), thin=True),
    ]  # fmt: skip


def hand() -> list[Element]:
    """A left hand that presses down, the arm from above; the finger tips are at about (0, 0), 46 wide."""
    fingers = [("M-15 -34L-20 -12", 11), ("M-5 -37L-7 -6", 11.5), ("M6 -37L7 -5", 11.5), ("M17 -34L20 -12", 10.5)]  # fmt: skip
    thumb = ("M17 -52C27 -46 31 -40 33 -29", 11.5)
    palm, arm = ("M0 -52L0 -44", 42), ("M-3 -60L-12 -112", 27)
    marks = limbs([arm, palm, thumb, *fingers])
    # Between the fingers and across the knuckles, where the strokes have grown together.
    marks += [ink("M-9.500 -27V-38", thin=True), ink("M.5 -26V-39", thin=True), ink("M11.500 -27V-38", thin=True)]  # fmt: skip
    marks += [ink("M-22 -14q2.500 2 5 0", thin=True), ink("M-9.500 -9q2.500 2 5 0", thin=True), ink("M5 -8q2.500 2 5 0", thin=True), ink("M18 -14q2.500 2 5 0", thin=True)]  # fmt: skip
    sleeve = shape("M-31 -87L13 -94L6 -142L-41 -136Z", "water"), ink("M-32 -95L11 -102", thin=True)
    return [*marks, *sleeve]


def drop(size: float) -> list[Element]:
    """A drop of water, its tip up, its foot at 0."""
    s = size
    return [
        shape(f"M0 {-2 * s:.1f}C{0.5 * s:.1f} {-1.4 * s:.1f} {0.8 * s:.1f} {-s:.1f} {0.8 * s:.1f} {-0.72 * s:.1f}A{0.8 * s:.1f} {0.8 * s:.1f} 0 0 1 {-0.8 * s:.1f} {-0.72 * s:.1f}C{-0.8 * s:.1f} {-s:.1f} {-0.5 * s:.1f} {-1.4 * s:.1f} 0 {-2 * s:.1f}Z", "water"),
        ink(f"M{-0.42 * s:.1f} {-0.8 * s:.1f}A{0.45 * s:.1f} {0.45 * s:.1f} 0 0 0 {-0.1 * s:.1f} {-0.32 * s:.1f}", thin=True),
    ]  # fmt: skip


def bottle(level: float = 0) -> list[Element]:
    """A milk bottle 44 wide and 104 high."""
    body = "M-22 -4Q-22 0 -18 0H18Q22 0 22 -4V-52C22 -68 12 -70 12 -84V-92H-12V-84C-12 -70 -22 -68 -22 -52Z"
    return [
        patch(body, "glass"),
        patch(f"M-22 {-level:g}V-4Q-22 0 -18 0H18Q22 0 22 -4V{-level:g}Z", "flour") if level else ink(""),
        line(body),
        ink(f"M-22 {-level:g}H22", thin=True) if level else ink(""),
        shape("M-14 -92H14V-102Q14 -104 12 -104H-12Q-14 -104 -14 -102Z", "cloth"),
        ink("M-14 -46V-14", thin=True),
    ]  # fmt: skip


def carton() -> list[Element]:
    """A carton 50 wide and 100 high, its panel of figures on the front."""
    return [
        shape("M-25 0V-70L-14 -92H14L25 -70V0Z", "cloth"),
        shape("M-14 -92H14V-100H-14Z", "cloth"),
        ink("M-25 -70H25"),
        shape("M-17 -58H17V-12H-17Z", "flour"),
        *[ink(f"M-12 {y}H{x}M9 {y}H12", thin=True) for y, x in ((-50, 2), (-42, -2), (-34, 3), (-26, 0), (-18, -3))],
    ]  # fmt: skip


def jar() -> list[Element]:
    """A jar 56 wide with a starter that has risen above its ring."""
    body = "M-28 -6Q-28 0 -22 0H22Q28 0 28 -6V-72H-28Z"
    rise = smooth([(-27, -52), (-14, -58), (0, -60), (14, -57), (27, -53)], closed=False)
    return [
        patch(body, "glass"),
        patch(rise + "L27 -4Q27 0 22 0H-22Q-27 0 -27 -4Z", "dough"),
        *[patch(oval(x, y, r, r * 0.9), "hole") for x, y, r in ((-15, -44, 4.5), (-2, -50, 3), (11, -42, 5), (-6, -34, 5.5), (17, -26, 4), (6, -22, 5), (-18, -24, 3.5), (-9, -14, 4.5), (8, -9, 3), (20, -12, 2.5), (-19, -8, 2.5), (19, -49, 2.5))],
        ink(rise, thin=True),
        line(body),
        shape("M-31 -72H31V-80H-31Z", "metal"),
        shape("M-30 -34H30V-29H-30Z", "sour"),
    ]  # fmt: skip


def thermometer() -> list[Element]:
    """A probe that points down into a dough: its tip at (0, 0), its dial 84 above."""
    return [
        shape("M-2.500 -70H2.500V-6L0 2L-2.500 -6Z", "metal"),
        shape(oval(0, -84, 22, 22), "flour"),
        *[ink(path, thin=True) for path in ("M-15 -84h4", "M15 -84h-4", "M0 -99v4", "M-10.500 -94.500l2.500 2.500", "M10.500 -94.500l-2.500 2.500")],
        ink("M0 -84L9 -92"),
        patch(oval(0, -84, 3, 3), "ink"),
    ]  # fmt: skip


def egg(of: str = "crumb") -> list[Element]:
    """A whole egg, 32 wide and 42 high."""
    return [
        shape("M0 -42C10 -42 16 -25 16 -15A16 15 0 0 1 -16 -15C-16 -25 -10 -42 0 -42Z", of),
        ink("M-9 -20C-9 -26 -6 -31 -3 -34", thin=True),
    ]


def open_egg() -> list[Element]:
    """Half a shell with its yolk, 38 wide."""
    return [
        shape(oval(0, -24, 12, 11), "gold"),
        shape("M-19 -22L-13 -17L-8 -23L-2 -16L4 -23L10 -17L15 -22L19 -19C19 -8 11 0 0 0C-11 0 -19 -8 -19 -22Z", "crumb"),
    ]  # fmt: skip


def butter() -> list[Element]:
    """A block of butter, cut once, 64 wide."""
    return [
        shape("M-34 0H34V-5H-34Z", "metal"),
        shape("M-28 -5V-22L-18 -30H26V-13L18 -5Z", "gold"),
        ink("M-28 -22H18V-5M18 -22L26 -30"),
        ink("M-12 -22V-5M-12 -22L-3 -30", thin=True),
    ]


def lemon() -> list[Element]:
    """Half a lemon, its cut side forward, 56 wide."""
    spokes = (
        (0, -17),
        (14.700, -8.500),
        (14.700, 8.500),
        (0, 17),
        (-14.700, 8.500),
        (-14.700, -8.500),
    )
    return [
        shape(oval(0, -26, 27, 26), "gold"),
        patch(oval(0, -26, 23.5, 22.5), "flour"),
        patch(oval(0, -26, 20, 19.5), "sour"),
        *[ink(f"M0 -26l{x} {y}", thin=True) for x, y in spokes],
    ]  # fmt: skip


def scraper() -> list[Element]:
    """A bench scraper that stands on its blade, 52 wide."""
    return [
        shape("M-26 0V-34H26V0Z", "metal"),
        shape("M-30 -34H30V-46Q30 -50 26 -50H-26Q-30 -50 -30 -46Z", "crust"),
        ink("M-18 -8H-2", thin=True),
    ]


def cloth() -> list[Element]:
    """A cloth over a bowl, its fold in front; goes on a `bowl`."""
    return [
        shape("M-62 -50C-60 -66 -34 -76 0 -76C34 -76 60 -66 62 -50C58 -44 54 -48 50 -40C44 -46 40 -34 34 -40C20 -50 -20 -50 -34 -40C-40 -34 -44 -46 -50 -40C-54 -48 -58 -44 -62 -50Z", "flour"),
        ink("M-40 -56C-34 -64 -22 -68 -10 -69", thin=True),
        ink("M46 -54C42 -60 34 -64 26 -66", thin=True),
        ink("M-46 -47C-20 -56 20 -56 46 -47", thin=True),
    ]  # fmt: skip


def sheet(lines: int = 4, of: str = "flour") -> list[Element]:
    """A written sheet of paper that stands upright, 50 wide and 64 high."""
    return [
        shape("M-25 0V-64H25V0Z", of),
        *(ink(f"M-17 {-52 + 12 * n}h{(30, 34, 24, 32)[n % 4]}", thin=True) for n in range(lines)),
    ]


def phone() -> list[Element]:
    """A phone with a problem on it, 40 wide and 76 high."""
    return [
        shape("M-20 -6V-70Q-20 -76 -14 -76H14Q20 -76 20 -70V-6Q20 0 14 0H-14Q-20 0 -20 -6Z", "ink"),
        patch("M-15 -67H15V-10H-15Z", "flour"),
        ink("M-10 -58H8M-10 -51H4", thin=True),
        shape("M-10 -42H10V-31H-10Z", "crumb"),
        patch("M-10 -24H3V-16H-10Z", "water"),
    ]


def plank(wide: float) -> list[Element]:
    """A shelf's board: its top is at 0."""
    return [shape(f"M{-wide / 2:g} 0H{wide / 2:g}V6H{-wide / 2:g}Z", "crust")]


def tin_loaf() -> list[Element]:
    """A sandwich loaf risen out of its tin, 100 wide."""
    return [
        shape(
            "M-46 -34C-56 -44 -50 -66 -30 -66C-10 -70 10 -70 30 -66C50 -66 56 -44 46 -34Z", "crust"
        ),
        ink("M-34 -56C-14 -60 10 -60 26 -58", thin=True),
        shape("M-50 -36H50L44 0H-44Z", "metal"),
        ink("M-41 -24L-39 -10", thin=True),
    ]


def roll() -> list[Element]:
    """A soft roll, baked, 48 wide and 26 high."""
    return [
        shape("M-24 0C-30 -18.2 -16.8 -26 0 -26C16.8 -26 30 -18.2 24 0Z", "crust"),
        ink("M-16.8 -14.3Q-9.6 -21.32 0 -20.8", thin=True),
    ]


def brioche() -> list[Element]:
    """A brioche with its small head, in a fluted mould 84 wide at the rim."""
    return [
        shape("M-40 -34C-46 -58 -24 -66 0 -66C24 -66 46 -58 40 -34Z", "crust"),
        shape("M-15 -62C-22 -84 -8 -90 0 -90C8 -90 22 -84 15 -62Q0 -56 -15 -62Z", "crust"),
        shape(
            "M-44 -36L-30 0H30L44 -36L33 -32L22 -37L11 -32L0 -37L-11 -32L-22 -37L-33 -32Z", "metal"
        ),
        ink("M-22 -34L-15 -5M0 -34V-5M22 -34L15 -5", thin=True),
    ]


def focaccia() -> list[Element]:
    """A flat dimpled bread, 108 wide, with oil and leaves of rosemary."""
    dimples = ((-33, -13), (-18, -21), (-9, -12), (3, -23), (12, -14), (24, -22), (34, -13))
    return [
        shape(
            "M-54 -6C-54 2 -44 0 0 0C44 0 54 2 54 -6C54 -22 34 -30 0 -30C-34 -30 -54 -22 -54 -6Z",
            "crust",
        ),
        patch("M-49 -10C-49 -21 -30 -27 0 -27C30 -27 49 -21 49 -10C40 -4 -40 -4 -49 -10Z", "gold"),
        *(patch(oval(x, y, 4, 2.2), "crust") for x, y in dimples),
        *(
            ink(path, thin=True)
            for path in ("M-27 -18l6 3", "M-5 -18l5 -2", "M18 -9l6 -2", "M-20 -8l5 1")
        ),
    ]


def rye_loaf() -> list[Element]:
    """A round dark loaf, floured and cut crosswise, 112 wide."""
    return [
        shape("M-50 0C-62 -18 -52 -52 0 -54C52 -52 62 -18 50 0Z", "bark"),
        patch(
            "M-34 -28C-30 -42 -12 -49 0 -49C12 -49 30 -42 34 -28C14 -38 -14 -38 -34 -28Z", "crust"
        ),
        shape("M-24 -26Q0 -44 26 -40Q8 -30 -24 -26Z", "crumb"),
        ink("M-44 -8Q-48 -18 -42 -28", thin=True),
    ]


def bun() -> list[Element]:
    """A sweet bun, rolled into a snail, 60 wide, sugar on it."""
    return [
        shape("M-28 0C-36 -18 -24 -38 0 -38C24 -38 36 -18 28 0Z", "crust"),
        ink(
            "M4 -14C-2 -20 -12 -14 -8 -6M4 -14C12 -6 20 -16 14 -24C6 -34 -16 -32 -20 -18C-22 -12 -21 -6 -18 -1"
        ),
        *(
            patch(oval(x, y, 2, 2), "flour")
            for x, y in ((-10, -28), (2, -31), (18, -27), (-24, -14), (2, -22), (23, -12), (-2, -9))
        ),
    ]


def folded_dough() -> list[Element]:
    """A slab of dough, 100 wide, its right side drawn up to be laid over: a `pinch` holds it at (8, -48)."""
    return [
        shape("M-46 0C-54 -6 -52 -20 -40 -22C-20 -26 0 -24 22 -22C44 -20 54 -8 46 0Z", "dough"),
        patch("M-36 -2C-10 -8 20 -6 44 -10C46 -6 46 -2 44 -1Z", "shade"),
        shape(
            "M47 -5C58 -30 40 -54 10 -54C3 -54 2 -46 8 -44C30 -42 32 -28 16 -21C32 -22 43 -14 47 -5Z",
            "dough",
        ),
        patch("M40 -20C42 -36 30 -48 14 -49C32 -44 36 -32 30 -22Z", "crumb"),
    ]


def bottle_to_come() -> list[Element]:
    """Where a bottle will be: the outline of `bottle`."""
    return [
        to_come(
            "M-22 -4Q-22 0 -18 0H18Q22 0 22 -4V-52C22 -68 12 -70 12 -84V-100H-12V-84C-12 -70 -22 -68 -22 -52Z"
        )
    ]


def jar_to_come() -> list[Element]:
    """Where a jar will be: the outline of `jar`."""
    return [to_come("M-28 -6Q-28 0 -22 0H22Q28 0 28 -6V-72H-28ZM-31 -72V-80H31V-72")]


def sheet_to_come() -> list[Element]:
    """Where a sheet will be."""
    return [to_come("M-25 0V-64H25V0Z")]


def loaf_to_come() -> list[Element]:
    """Where a loaf will be: the outline of `loaf`."""
    return [
        to_come(
            "M-58 0C-68 -8 -68 -24 -60 -38C-46 -58 -20 -62 2 -62C28 -62 50 -54 62 -34C70 -20 66 -6 58 0Z"
        )
    ]


def slice_to_come() -> list[Element]:
    """Where a slice will be."""
    return [
        to_come(
            "M-34 0C-44 -2 -38 -14 -42 -26C-56 -44 -46 -74 0 -74C46 -74 56 -44 42 -26C38 -14 44 -2 34 0Z"
        )
    ]


def rack() -> list[Element]:
    """A wire rack, 112 wide, its top at 0."""
    return [line("M-56 0H56M-48 0V8M48 0V8M-24 0V3M0 0V3M24 0V3")]
