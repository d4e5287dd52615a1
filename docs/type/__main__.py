"""``python -m docs.type`` cuts the site's typefaces again; run it when a typeface or a sign changes.

It reads the npm packages of ``package-lock.json`` and writes ``docs/pages/assets/type``: for each face a
file of what English needs and one of accented letters, asked for only where they are used; a file of signs
that neither face has; and ``type.css``, which names them and shapes the device's own typefaces to the same
widths and heights, so that nothing moves when ours arrive. Needs ``pip install .[type]``.
"""

from __future__ import annotations

import shutil
from io import BytesIO
from pathlib import Path

import uharfbuzz as hb
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

from docs.engine.npm import installed

HOME = Path(__file__).resolve().parent
TARGET = HOME.parent / "pages" / "assets" / "type"

# Which letters each file holds, as CSS writes it.
RANGES = {
    "latin": "U+0000-00FF,U+0131,U+0152-0153,U+02C6,U+02DA,U+02DC,U+2000-2027,U+202F-206F,U+20AC,U+2122,U+2212",
    "latin-ext": "U+0100-0130,U+0132-0151,U+0154-024F,U+0300-036F,U+1E00-1EFF,U+2020-2021",
}
# Face, package, the weights that pages use.
FACES = (("Vollkorn", "vollkorn", (500, 800)), ("Asap", "asap", (400, 700)))
SIGNS = "⅓⅔→←≈≤≥√∞▲▼₂"
# Neither face nor the one the signs are from has a tick or a cross; each is drawn in thousandths.
TICK = ((70, 330), (150, 400), (260, 265), (520, 640), (605, 575), (265, 95))
CROSS = (
    (90, 170), (255, 335), (90, 500), (160, 570), (325, 405), (490, 570),
    (560, 500), (395, 335), (560, 170), (490, 100), (325, 265), (160, 100),
)  # fmt: skip
DRAWN = {"✓": TICK, "✗": CROSS}
# The device's own that a face falls back to: for which weights, measured at which, its names on devices, and a
# file of the same metrics.
FALLBACKS = {
    "Asap": (
        ("Arial", "400", 400, ("Arial", "Helvetica Neue", "Helvetica", "Liberation Sans"), ("@fontsource/arimo", "files/arimo-latin-400-normal.woff2")),
        ("Roboto", "400", 400, ("Roboto", "Roboto Regular"), ("@fontsource/roboto", "files/roboto-latin-400-normal.woff2")),
        ("DejaVu", "400", 400, ("DejaVu Sans", "Verdana"), ("dejavu-fonts-ttf", "ttf/DejaVuSans.ttf")),
    ),
    "Vollkorn": (
        ("Georgia", "500 600", 500, ("Georgia", "Gelasio"), ("@fontsource/gelasio", "files/gelasio-latin-400-normal.woff2")),
        ("Georgia", "700 800", 700, ("Georgia Bold", "Gelasio Bold"), ("@fontsource/gelasio", "files/gelasio-latin-700-normal.woff2")),
        ("Times", "500 600", 500, ("Times New Roman", "Liberation Serif", "Noto Serif"), ("@fontsource/tinos", "files/tinos-latin-400-normal.woff2")),
        ("Times", "700 800", 700, ("Times New Roman Bold", "Liberation Serif Bold", "Noto Serif Bold"), ("@fontsource/tinos", "files/tinos-latin-700-normal.woff2")),
        ("DejaVu Serif", "500 600", 500, ("DejaVu Serif",), ("dejavu-fonts-ttf", "ttf/DejaVuSerif.ttf")),
        ("DejaVu Serif", "700 800", 700, ("DejaVu Serif Bold",), ("dejavu-fonts-ttf", "ttf/DejaVuSerif-Bold.ttf")),
    ),
}  # fmt: skip


def main() -> None:
    """Write all files of `TARGET` anew."""
    shutil.rmtree(TARGET, ignore_errors=True)
    TARGET.mkdir()
    rules = []
    for name, package, weights in FACES:
        for part, letters in RANGES.items():
            font = opened(package, part, weights)
            lining(font)
            file = f"{package}-{part}.woff2"
            keep(font, code_points(letters), TARGET / file)
            rules.append(face(name, file, letters, f"{weights[0]} {weights[1]}"))
        rules += [like(name, package, *other) for other in FALLBACKS[name]]
        licence = installed(HOME, f"@fontsource-variable/{package}") / "LICENSE"
        shutil.copyfile(licence, TARGET / f"{package}-license.txt")
    rules.insert(0, signs())
    (TARGET / "type.css").write_text(
        "/* Written by python -m docs.type: the typefaces, and the device's own in their measure. */\n"
        + "".join(rules),
        "utf-8",
    )


def opened(package: str, part: str, weights: float | tuple[float, float]) -> TTFont:
    """A package's upright file for a part of its letters, in these weights only."""
    folder = installed(HOME, f"@fontsource-variable/{package}") / "files"
    font = TTFont(folder / f"{package}-{part}-wght-normal.woff2")
    font = instantiateVariableFont(font, {"wght": weights})
    # Subsetting wants the tables as a file has them.
    written = BytesIO()
    font.save(written)
    return TTFont(written)


def code_points(letters: str) -> set[int]:
    """What a CSS range such as “U+0000-00FF,U+0131” holds."""
    ends = [one.removeprefix("U+").split("-") for one in letters.split(",")]
    return {point for end in ends for point in range(int(end[0], 16), int(end[-1], 16) + 1)}


def lining(font: TTFont) -> None:
    """Give digits their lining form outright: in a recipe they are read, not woven into a line."""
    for feature in font["GSUB"].table.FeatureList.FeatureRecord:
        if feature.FeatureTag == "lnum":
            for number in feature.Feature.LookupListIndex:
                for table in font["GSUB"].table.LookupList.Lookup[number].SubTable:
                    table = getattr(table, "ExtSubTable", table)
                    for cmap in font["cmap"].tables:
                        for digit in range(0x30, 0x3A):
                            found = cmap.cmap.get(digit)
                            if found in table.mapping:
                                cmap.cmap[digit] = table.mapping[found]
            return


def keep(font: TTFont, points: set[int], file: Path) -> None:
    """Write of a font what these characters need, and of its features what text uses unasked, tables and fractions."""
    options = Options(flavor="woff2", layout_features=["kern", "liga", "ccmp", "locl", "mark", "tnum", "frac"])  # fmt: skip
    options.name_IDs = [0, 1, 2, 13, 14]
    cutter = Subsetter(options)
    cutter.populate(unicodes=points)
    cutter.subset(font)
    font.flavor = "woff2"
    font.save(file)


def face(name: str, file: str, letters: str, weights: str) -> str:
    """The rule for a file. What has not come for the first paint waits for the next page: lines never break anew."""
    return (
        f'@font-face {{ font-family: "{name}"; src: url("{file}") format("woff2"); font-weight: {weights}; '
        f"font-display: optional; unicode-range: {letters}; }}\n"
    )


def signs() -> str:
    """Write the file of signs; its rule. One weight, which is between those of text."""
    font, shapes = (opened("ysabeau-office", part, 560) for part in ("math", "symbols"))
    for sign in SIGNS:
        found = shapes.getBestCmap().get(ord(sign))
        if found and ord(sign) not in font.getBestCmap():
            take(font, sign, shapes["glyf"][found], shapes["hmtx"][found][0])
    for sign, outline in DRAWN.items():
        pen = TTGlyphPen(None)
        pen.moveTo(outline[0])
        for point in outline[1:]:
            pen.lineTo(point)
        pen.closePath()
        take(font, sign, pen.glyph(), 660)
    held = [sign for sign in SIGNS + "".join(DRAWN) if ord(sign) in font.getBestCmap()]
    keep(font, {ord(sign) for sign in held}, TARGET / "signs.woff2")
    licence = installed(HOME, "@fontsource-variable/ysabeau-office") / "LICENSE"
    shutil.copyfile(licence, TARGET / "signs-license.txt")
    return face("Doughwater Signs", "signs.woff2", ",".join(f"U+{ord(sign):04X}" for sign in held), "400 700")  # fmt: skip


def take(font: TTFont, sign: str, glyph: object, width: int) -> None:
    """Put a glyph into a font under a character."""
    name = f"sign{ord(sign):04X}"
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = glyph
    font["hmtx"][name] = (width, getattr(glyph, "xMin", 0))
    for cmap in font["cmap"].tables:
        if cmap.isUnicode():
            cmap.cmap[ord(sign)] = name


def like(name: str, package: str, device: str, weights: str, at: float, local: tuple[str, ...], file: tuple[str, str]) -> str:  # fmt: skip
    """The rule that gives a device's typeface the width and height of ours."""
    ours = opened(package, "latin", at)
    lining(ours)
    scale = width(ours) / width(TTFont(installed(HOME, file[0]) / file[1]))
    em, lines = ours["head"].unitsPerEm, ours["hhea"]
    sources = ", ".join(f'local("{one}")' for one in local)
    return (
        f'@font-face {{ font-family: "{name} on {device}"; src: {sources}; font-weight: {weights}; size-adjust: {scale:.2%}; '
        f"ascent-override: {lines.ascent / em / scale:.2%}; descent-override: {-lines.descent / em / scale:.2%}; "
        f"line-gap-override: {lines.lineGap / em / scale:.2%}; }}\n"
    )


def width(font: TTFont) -> float:
    """How long the project's own prose is, in ems, with its kerning."""
    font.flavor = None
    written = BytesIO()
    font.save(written)
    prose = hb.Buffer()
    prose.add_str(" ".join((HOME.parent / "pages" / "lessons.md").read_text("utf-8").split()))
    prose.guess_segment_properties()
    hb.shape(hb.Font(hb.Face(written.getvalue())), prose)
    return sum(letter.x_advance for letter in prose.glyph_positions) / font["head"].unitsPerEm


main()
