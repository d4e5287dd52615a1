"""A whole nutrition panel as text, pasted from a page or read off a photograph, taken apart.

US and EU layouts, one line or many, several columns. `read_text` gives the texts for the fields of
`label.read_panel`; the figures themselves are read there. What is known but not needed, and what was
not understood, is given back too: nothing is dropped in silence.

Time goes with the length of the text, which is bounded: each line is cut into pieces once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from calc.panel_figures import NAMES

LONGEST_PASTE = 6_000
# No panel has more lines; a page that was pasted whole has.
MOST_LINES = 200

# The lines that fill a field; the water does not need the others.
_LINES = {line: names for line, names in NAMES.items() if line != "saturated"}
# Lines that packs print and the water does not need: parts of other lines, vitamins, minerals.
_NOT_NEEDED = (
    *NAMES["saturated"], "calories from fat", "trans fat", "trans", "monounsaturated fat", "monounsaturates",
    "polyunsaturated fat", "polyunsaturates", "mono-unsaturates", "cholesterol", "cholest", "includes", "incl",
    "added sugars", "added sugar", "sugar alcohols", "sugar alcohol", "polyols", "starch", "soluble fiber", "insoluble fiber",
    "omega-3", "vitamin a", "vitamin b6", "vitamin b12", "vitamin c", "vitamin d", "vitamin e", "vitamin k",
    "calcium", "iron", "potassium", "magnesium", "zinc", "phosphorus", "iodine", "folate", "folic acid", "niacin",
    "thiamin", "thiamine", "riboflavin", "lactose", "glycemic", "caffeine",
)  # fmt: skip
# Words between names and figures that say nothing of their own.
_FILLERS = {
    "of", "which", "per", "the", "a", "an", "and", "as", "sold", "total", "contains", "about", "approx", "ca", "in",
    "by", "vol", "from", "kj", "kcal", "g", "mg", "ml", "dv", "ri", "nrv", "thereof", "with", "x",
}  # fmt: skip
_NOISE = re.compile(
    r"nutrition(?:al)?\s+(?:facts|information|declaration|values?)|typical\s+values|amount\s+per|daily\s+(?:value|intake)"
    r"|reference\s+intake|calories\s+a\s+day|servings?\s+per|per\s+(?:container|package)|not\s+a\s+significant"
    r"|^\d{0,3}\s?servings?\b|servings?\s*:|portions?\s+(?:per|de)|^(?:about|contains)\s+\d+\s+(?:servings|portions)"
    r"|average\s+quantity|^(?:dv|ri|nrv)\b|adult\s*\(|8400\s*kj",
    re.IGNORECASE,
)


def _is_noise(line: str) -> bool:
    """Whether a line is one of those that packs print around the figures."""
    return bool(_NOISE.search(_LEADING.sub("", line)))


_LEADING = re.compile(r"^\W+")
_SERVING = re.compile(r"\b(?:serving|serv\.?|portion)\s+size\b[\s:.]*", re.IGNORECASE)
_PER_SERVING = re.compile(
    r"^per\s+(?!serving|portion)(?P<size>\S.*\(\s*\d[\d.,]*\s*(?:g|ml)\s*\))", re.IGNORECASE
)
_PER_100 = re.compile(r"(?:\b(?:per|pro|par|je)\s+)?\b100\s?(?P<unit>g|ml)\b", re.IGNORECASE)
_COLUMN = re.compile(
    r"\b100\s?(?P<unit>g|ml)\b|\b(?P<other>(?:per\s+)?(?:serving|portion|slice|glass|pot|biscuit|piece|cup|container|bar))\b",
    re.IGNORECASE,
)
# The heading of the column of daily values, which may be beside a figure.
_DAILY = re.compile(r"^(?!\s*\*)(?P<before>.*\d)\s*%\s*(?:daily\s+values?|dv)\b\W*$", re.IGNORECASE)
# A photograph's letter O for a zero.
_LETTER_O = re.compile(r"(?<![\w.,])[Oo](?=\s?m?g\b)")


def _names_pattern() -> str:
    """Every name of a line: of two that both fit, the longer one counts."""
    names = sorted(
        {*_NOT_NEEDED, *(each for line in _LINES.values() for each in line)}, key=len, reverse=True
    )
    return "|".join(re.escape(name).replace(r"\ ", r"\s+") for name in names)


_PIECE = re.compile(
    rf"""(?P<name>(?<![^\W\d_])(?:{_names_pattern()})(?![^\W\d_])\.?)
    |(?P<value>(?:(?:less\s+than|under|[<≤~])\s*)?(?:\d{{1,9}}(?:[.,]\d{{1,9}}){{0,3}}(?:[ ]\d{{3}}(?=\s?(?:kj|kcal|mg)\b))?|[.,]\d{{1,9}})
        \s?(?P<unit>mg|mcg|µg|μg|ug|gm|gr|grams?|g|kj|kcal|cals?|iu|%|proof)?(?![^\W\d_]))
    |(?P<none>\b(?:traces?|nil|none|n/a)\b|(?<=\s)[—–](?=\s|$))
    |(?P<word>[^\W\d_][\w'’.-]*)
    |(?P<other>\S)""",
    re.VERBOSE | re.IGNORECASE,
)
_KEYS = {" ".join(name.split()): key for key, line in _LINES.items() for name in line}


@dataclass
class PanelText:
    """What a text says: `fields` for the panel's reader, and the pieces of it that were left over.

    `basis` is a key of `label.BASES`, or nothing where the text does not tell.
    """

    basis: str = ""
    fields: dict[str, str] = field(default_factory=dict)
    not_needed: list[str] = field(default_factory=list)
    not_understood: list[str] = field(default_factory=list)


@dataclass
class _Line:
    """A line of the panel being read: its name (nothing where it is not one of ours), its pieces."""

    key: str
    known: bool
    text: str
    values: list[str] = field(default_factory=list)
    units: list[str] = field(default_factory=list)

    @property
    def whole(self) -> str:
        return " ".join([self.text, *self.values]).strip()


def read_text(text: str) -> PanelText:
    """Take a pasted panel apart. Of a text that is too long, only the start is read, and the rest is given back."""
    found = PanelText()
    start, rest = text[:LONGEST_PASTE], text[LONGEST_PASTE:].strip()
    written = [" ".join(line.split(" ")).strip() for line in re.split(r"\r\n?|\n", start)]
    columns: list[str] = []
    lines: list[_Line] = []
    waiting = False
    for line in filter(None, written[:MOST_LINES]):
        if waiting:
            found.fields["serving"], waiting = line, False
            continue
        heading = _SERVING.search(line)
        if heading:
            size, after = _size_and_after(line[heading.end() :])
            found.fields["serving"], waiting = size, not size
            line = f"{line[: heading.start()]} {after}".strip()
        if line:
            _read_line(_DAILY.sub(r"\g<before>", line), found, columns, lines)
    _sort_out(lines, columns, found)
    found.basis = _basis(found, columns)
    _settle_salt(found)
    found.not_understood += [each for each in (*written[MOST_LINES:], rest) if each]
    return found


def _size_and_after(text: str) -> tuple[str, str]:
    """A serving's size, to the end of its brackets or up to the next line's name, and what follows."""
    named = next((piece.start() for piece in _PIECE.finditer(text) if piece["name"]), len(text))
    bracket = text.find(")", 0, named) + 1
    end = bracket or named
    return text[:end].strip(), text[end:].strip()


def _read_line(line: str, found: PanelText, columns: list[str], lines: list[_Line]) -> None:
    serving = _PER_SERVING.match(_LEADING.sub("", line))
    if serving and not _PER_100.search(line):
        found.fields.setdefault("serving", serving["size"].strip())
        return
    line = _LETTER_O.sub("0", line)
    heads = [*_COLUMN.finditer(line)]
    named = [*_named(line)]
    if heads and (not named or _PER_100.search(line)):
        columns += [f"100 {head['unit'].lower()}" if head["unit"] else "other" for head in heads]
        line = _PER_100.sub(" ", line)
    if not named and (heads or _is_noise(line) or not re.search(r"\w", line)):
        if re.search(r"\w", line):
            found.not_needed.append(line.strip())
        return
    if _is_noise(line) and line.lstrip().startswith(("*", "†", "%")):
        found.not_needed.append(line.strip())
        return
    _cut(line, lines)


def _named(line: str) -> Iterator[str]:
    yield from (piece["name"] for piece in _PIECE.finditer(line) if piece["name"])


def _cut(line: str, lines: list[_Line]) -> None:
    """The pieces of one line of text: names, and the figures that belong to the last name."""
    strange: list[str] = []
    named = False
    for piece in _PIECE.finditer(line):
        if piece["name"]:
            _close(strange, lines)
            lines.append(_line(piece["name"]))
            named = True
        elif piece["value"] or piece["none"]:
            # Words between a name and its figure are its name in another language.
            if strange and not (named and lines and not lines[-1].values):
                strange.append(piece[0])
            elif lines:
                lines[-1].values.append(" ".join(piece[0].split()))
            else:
                lines.append(_Line("", False, piece[0]))
        elif piece["word"]:
            word = piece["word"].lower().strip("./-")
            if word in ("g", "mg", "kj", "kcal") and lines and not lines[-1].values:
                lines[-1].units.append(word)
            elif strange or word not in _FILLERS:
                strange.append(piece["word"])
    _close(strange, lines)


def _line(name: str) -> _Line:
    plain = " ".join(name.lower().rstrip(".").split())
    return _Line(_KEYS.get(plain, ""), True, name)


def _close(strange: list[str], lines: list[_Line]) -> None:
    if strange:
        lines.append(_Line("", False, " ".join(strange)))
        strange.clear()


def _sort_out(lines: list[_Line], columns: list[str], found: PanelText) -> None:
    """Each line to its field, by the column that counts; the first of two with one name."""
    place = next((n for n, column in enumerate(columns) if column.startswith("100")), 0)
    _deal_out(lines)
    for line in lines:
        if not line.known:
            found.not_understood.append(line.whole)
        elif not line.key:
            found.not_needed.append(line.whole)
        else:
            text = _energy(line, place) if line.key == "energy" else _figure(line, place)
            if not text:
                found.not_understood.append(line.whole)
            elif line.key in found.fields:
                found.not_needed.append(line.whole)
            else:
                found.fields[line.key] = text


def _deal_out(lines: list[_Line]) -> None:
    """All names first and then as many figures: each name gets its own."""
    empty = [line for line in lines if line.known and not line.values]
    last = next((line for line in reversed(lines) if line.values), None)
    if last is None or len(empty) < 2 or lines[-1] is not last:
        return
    names = [*empty, last]
    if lines[-len(names) :] == names and len(last.values) == len(names):
        for line, value in zip(names, [*last.values], strict=True):
            line.values = [value]


def _figure(line: _Line, place: int) -> str:
    """The text for a field: a figure of the column that counts. Daily values are no figures."""
    percent = line.key == "alcohol"
    others = ("kj", "kcal") if percent else ("kj", "kcal", "%")
    usable = [each for each in line.values if not each.lower().endswith(others)]
    if not usable:
        return ""
    text = usable[min(place, len(usable) - 1)]
    return f"{text} {line.units[0]}" if line.units and text[-1:].isdigit() else text


def _energy(line: _Line, place: int) -> str:
    """Kilojoules and kilocalories of the column that counts; a number alone are calories."""

    def of(*units: str) -> list[str]:
        return [each for each in line.values if each.lower().rstrip("s").endswith(units)]

    kilojoules, kilocalories = of("kj"), of("kcal", "cal")
    chosen = [each[min(place, len(each) - 1)] for each in (kilojoules, kilocalories) if each]
    bare = [each for each in line.values if each[-1:].isdigit()]
    units = line.units or (["kcal"] if "cal" in line.text.lower() else [])
    if not chosen and bare and units:
        # “(kJ/kcal) 1046/250”: as many figures in each column as there are units.
        start = min(place, max(0, len(bare) // len(units) - 1)) * len(units)
        chosen = [f"{each} {unit}" for each, unit in zip(bare[start:], units, strict=False)]
    return " / ".join(chosen)


def _basis(found: PanelText, columns: list[str]) -> str:
    hundred = next((column for column in columns if column.startswith("100")), "")
    if hundred:
        size = found.fields.pop("serving", "")
        found.not_needed += [f"serving size {size}"] if size else []
        return "eu-ml" if hundred.endswith("ml") else "eu-g"
    return "us" if "serving" in found.fields or "sodium" in found.fields else ""


def _settle_salt(found: PanelText) -> None:
    """The field that the layout has, filled from the other one where only that is printed."""
    wanted, other = ("sodium", "salt") if found.basis == "us" else ("salt", "sodium")
    instead = found.fields.pop(other, "")
    if instead and wanted not in found.fields:
        found.fields[wanted] = f"{instead} {other}"
    elif instead:
        found.not_needed.append(f"{other} {instead}")
