"""Figures of the lesson “What the flour does”: drawn by hand, each told in words."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Mapping, Sequence
from xml.etree.ElementTree import Element

from calc import composition, units
from docs.course.figures.registry import figure
from docs.course.pictures.shapes import moved, oval, smooth
from docs.parts.shared.drawing import WIDTH, Drawing, bar, line, text
from exercises.publish.html import element

Marks = list[Element]
Point = tuple[float, float]


def _thread(points: Sequence[Point]) -> Element:
    """A strand of protein."""
    return element("path", d=smooth(points, closed=False), class_="dw-stroke")


def _filled(path: str, of: str) -> Element:
    return element("path", d=path, class_=f"dw-{of}")


def _dots(of: str, count: int, size: float, seed: int, wide: float = 92) -> Marks:
    """Grains or drops, strewn over a panel."""
    chance = random.Random(seed)
    places = [(chance.uniform(6, wide - 6), chance.uniform(6, 70)) for _ in range(count)]
    return [_filled(oval(x, y, size, size), of) for x, y in places]


def _panels(names: Sequence[str], drawn: Sequence[Marks], wide: float) -> Marks:
    """Panels side by side, each with its name below."""
    gap = (WIDTH - wide * len(drawn)) / max(1, len(drawn) - 1)
    marks: Marks = []
    for number, (name, panel) in enumerate(zip(names, drawn, strict=True)):
        x = number * (wide + gap)
        marks += [moved(panel, x, 6), text(x + wide / 2, 100, name, "middle", "dw-small")]
    return marks


def _coils() -> Marks:
    """Short strands that lie apart."""
    chance = random.Random(5)
    made = []
    for row in range(4):
        for column in range(3):
            x, y = 16 + column * 30 + chance.uniform(-5, 5), 12 + row * 18 + chance.uniform(-3, 3)
            made.append(_thread([(x - 7, y), (x - 3, y - 5), (x + 1, y + 4), (x + 6, y - 2)]))
    return made


def _tangle() -> Marks:
    """Longer strands that lie across each other, without order."""
    chance = random.Random(11)
    made = []
    for number in range(11):
        turn, x, y = chance.uniform(0, math.pi), 14 + 6.5 * number, 14 + 17 * (number % 4)
        made.append(
            _thread(
                [
                    (x + far * math.cos(turn) + bend, y + 0.5 * far * math.sin(turn) - bend)
                    for far, bend in ((-24, 0), (-9, 4), (6, -4), (21, 2))
                ]
            )
        )
    return made


def _net(wide: int = 92) -> Marks:
    """Long strands side by side, joined here and there."""
    waves = [
        [(x, 10 + row * 14 + 4 * math.sin(x / 11 + row * 1.7)) for x in range(0, wide + 1, 6)]
        for row in range(5)
    ]
    across = [
        line(waves[row][at], waves[row + 1][at])
        for row in range(4)
        for at in range(1 + row % 3, len(waves[0]), 4)
    ]
    return [*map(_thread, waves), *across]


@figure("gluten-net")
def gluten_net(attributes: Mapping[str, str]) -> Drawing:
    """From single proteins to a net: in flour just wet, mixed, kneaded."""
    bubbles = [
        _filled(oval(x, y, 9, 6.5), "water") for x, y in ((24, 24), (62, 38), (34, 55), (74, 66))
    ]
    panels = [
        [*_dots("flour", 14, 4, 1), *_coils()],
        [*_dots("flour", 14, 4, 2), *_tangle()],
        [*_dots("flour", 10, 4, 3), *bubbles, *_net()],
    ]
    return Drawing(
        "Three stages of a dough, much enlarged. Wet: short strands of protein lie apart between grains of starch. "
        "Mixed: the strands have joined to longer ones that lie across each other. Kneaded and rested: long strands "
        "side by side, joined here and there, hold grains of starch and bubbles of gas between them.",
        "Lines: protein. Rings: starch. Ovals: gas. A sketch, no photograph.",
        106,
        tuple(_panels(("wet", "mixed", "kneaded, rested"), panels, 92)),
    )  # fmt: skip


@figure("protein-of-flours")
def protein_of_flours(attributes: Mapping[str, str]) -> Drawing:
    """How much protein 100 g of each flour hold; ``flours``, with semicolons, a note in brackets."""
    marks, told = [], []
    for number, one in enumerate(attributes["flours"].split(";")):
        name, note = re.fullmatch(r"\s*([\w-]+)\s*(?:\((.+)\))?\s*", one).groups()
        flour = composition.find(name)
        grams = units.digits(100 * flour.protein, 0.1)
        says = f"{flour.name}: {grams} g" + (f" ({note})" if note else "")
        told.append(says)
        top = number * 38
        marks += [text(0, top + 13, says), bar(0, top + 18, flour.protein * 1800, "protein", 12)]
    return Drawing(
        f"Bars for the protein in 100 g of flour. {'; '.join(told)}.",
        "Protein in 100 g of flour.",
        38 * len(told) - 4,
        tuple(marks),
    )


@figure("fat-early-late")
def fat_early_late(attributes: Mapping[str, str]) -> Drawing:
    """Fat worked in before the net is there, and after."""
    chance = random.Random(4)
    short = [(22 + 36 * column, 14 + 18 * row) for column in range(4) for row in range(4)]
    early: Marks = []
    for x, y in short:
        x, y = x + chance.uniform(-6, 6), y + chance.uniform(-3, 3)
        early += [_filled(oval(x, y, 11, 6.5), "fat"), _thread([(x - 8, y), (x - 3, y - 3), (x + 3, y + 3), (x + 8, y)])]  # fmt: skip
    late = [*_dots("fat", 12, 5, 8, 146), *_net(150)]
    return Drawing(
        "Two doughs, much enlarged. Fat first: each short strand of protein has a coat of fat and lies alone. "
        "Fat last: a net of long strands is there already, and drops of fat lie in its meshes.",
        "Left: the fat was there before the net. Right: the net was there before the fat.",
        106,
        tuple(_panels(("fat first", "fat last"), [early, late], 150)),
    )


def _ragged(wide: float, high: float, rough: float, seed: int) -> str:
    """The outline of a lump on the bench at 80, more or less rough."""
    chance = random.Random(seed)
    rim = []
    for degrees in range(180, -1, -12):
        turn, far = math.radians(degrees), 1 + chance.uniform(-rough, rough)
        rim.append((38 + wide * math.cos(turn) * far, 80 - high * math.sin(turn) * far))
    return smooth(rim, closed=False) + "Z"


@figure("kneading-stages")
def kneading_stages(attributes: Mapping[str, str]) -> Drawing:
    """Four looks of a dough while it is kneaded."""
    bench = line((0, 80), (76, 80), class_="dw-faint")
    sheet = "M6 34C14 30 20 44 24 46L52 46C56 44 62 30 70 34L74 62C66 68 58 58 52 60L24 60C18 58 10 68 2 62Z"
    panels = [
        [bench, _filled(_ragged(30, 30, 0.22, 3), "flour"), *(_filled(oval(x, 78, 2, 2), "flour") for x in (3, 9, 70, 75))],
        [bench, _filled(_ragged(34, 34, 0.09, 6), "flour"), _thread([(20, 62), (30, 56), (36, 64)]), _thread([(44, 52), (52, 58), (58, 52)])],
        [bench, _filled(_ragged(33, 44, 0.0, 1), "flour"), _thread([(22, 54), (32, 45), (44, 43)])],
        [_filled(sheet, "flour"), *[line((x, 49), (x, 58), class_="dw-faint") for x in (30, 38, 46)]],
    ]  # fmt: skip
    return Drawing(
        "Four stages of kneading. One, ragged: a rough lump, with crumbs beside it. Two, sticky: one piece with an uneven skin. "
        "Three, smooth: a high, round ball. Four, a thin sheet: a piece stretched between two hands, thin in its middle.",
        "Stages of kneading, as a baker sees them.",
        106,
        tuple(_panels(("1 ragged", "2 sticky", "3 smooth", "4 thin sheet"), panels, 76)),
    )  # fmt: skip


def _dented(wide: float, high: float, deep: float) -> str:
    """A proofed piece on the bench at 80, with a dent in its top."""
    rim = []
    for degrees in range(180, -1, -6):
        turn = math.radians(degrees)
        x = wide * math.cos(turn)
        dent = deep * math.exp(-((x / 10) ** 2))
        rim.append((46 + x, 80 - high * math.sin(turn) ** 0.7 + dent))
    return smooth(rim, closed=False) + "Z"


@figure("proof-dents")
def proof_dents(attributes: Mapping[str, str]) -> Drawing:
    """What a finger's dent does in three stages of the proof."""
    bench = line((0, 80), (92, 80), class_="dw-faint")
    up = [line((46, 26), (46, 10)), line((41, 16), (46, 10), (51, 16))]
    panels = [
        [bench, _filled(_dented(30, 44, 4), "flour"), *up],
        [bench, _filled(_dented(39, 58, 13), "flour")],
        [bench, _filled(_dented(46, 38, 24), "flour")],
    ]
    return Drawing(
        "A floured finger has pressed into three pieces of dough. Too early: a small, high piece, and the dent springs back at once. "
        "Ready: a large, round piece with a shallow dent that fills slowly. Too late: a wide, flat piece, and the deep dent stays.",
        "The same dent in a dough too early, ready, and too late.",
        106,
        tuple(_panels(("springs back", "fills slowly", "stays"), panels, 92)),
    )  # fmt: skip
