"""A pasted recipe cut into pieces: lines, what a comma or a bullet parts, and one ingredient with its amounts each.

Every letter and figure of the text is in one piece; between pieces are only spaces and marks. What a
piece is worth is told by `calc.recipe_text`. Time goes with the length of the text, which is bounded.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import takewhile

from calc import units
from calc.recipe_amounts import Amount, Token, amounts, is_unit, tokens
from calc.recipe_names import (
    A_TOTAL,
    Part,
    about_the_recipe,
    called,
    ferments,
    heading,
    is_note,
    is_preparation,
    is_step,
    is_total,
)

LONGEST_PASTE = 8_000
MOST_LINES = 150
# No recipe has more ingredients; each costs a look into the table.
MOST_PIECES = 120
# A line without an amount is a name up to so many words; above, a sentence.
LONGEST_NAME = 6
LONGEST_LINE = 400


@dataclass(frozen=True)
class Piece:
    """A piece of a recipe's text, from `start` to `end` in it.

    `said` tells why a piece is no ingredient; of an ingredient it is empty, and `words` (`head`: before a comma),
    `notes` (in brackets) and `amounts` are what is written. `sums` are amounts that are added up (1 cup plus 2 tbsp).
    """

    text: str
    start: int
    end: int
    part: Part
    said: str = ""
    words: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    amounts: tuple[Amount, ...] = ()
    sums: tuple[Amount, ...] = ()

    @property
    def name(self) -> str:
        """The words outside brackets."""
        return " ".join(self.words)


DOUGH = Part("", "dough")
_BULLET = re.compile(r"^[\s\-*•·▢☐☑✓✔□◦‣▪●○–—>+|]*(?:\[[ xX]?\]\s*)?")
_NUMBERED = re.compile(
    r"^\d{1,2}\s?[.)]\s+(?=\S)|^\(\d{1,2}\)\s+|^(?:step|part|stage)\s+\d{1,2}\s?[:.)–-]?\s*(?=\S)",
    re.IGNORECASE,
)
_INLINE_HEADING = re.compile(r"^(?P<name>[^:\d(]{2,40})(?:\([^()]{0,40}\)\s*)?:\s+(?=\S)")
_COLUMNS = {
    "g": "g", "gram": "g", "grams": "g", "weight": "g", "weights": "g", "kg": "kg", "oz": "oz", "ounces": "oz",
    "lb": "lb", "%": "%", "percent": "%", "percentage": "%", "ml": "ml",
}  # fmt: skip
_HEADS = {
    "ingredient",
    "ingredients",
    "amount",
    "quantity",
    "item",
    "name",
    "unit",
    "baker's",
    "bakers",
    "baker’s",
}


def pieces(text: str) -> list[Piece]:
    """Every piece of a text, in its order; what is beyond the bounds is one piece, and said to be.

    A recipe that names its amounts only within its steps is read from those.
    """
    made = _cut(text, _Cutter())
    if any(not piece.said and piece.amounts for piece in made):
        return made
    prose = _cut(text, _Cutter(is_prose=True))
    return prose if any(piece.amounts for piece in prose) else made


def _cut(text: str, cutter: _Cutter) -> list[Piece]:
    made: list[Piece] = []
    at = number = 0
    for raw in re.split(r"(\r\n?|\n)", text[:LONGEST_PASTE]):
        if raw.strip() and number < MOST_LINES and len(made) < MOST_PIECES:
            number += 1
            made += cutter.line(raw, at)
        elif raw.strip():
            break
        at += len(raw)
    made = made[:MOST_PIECES]
    rest = made[-1].end if made and (len(made) == MOST_PIECES) else at
    if text[rest:].strip():
        too_long = f"too long: {MOST_LINES} lines and {MOST_PIECES} ingredients are read"
        made.append(_piece(text, rest, len(text), DOUGH, too_long))
    return made


def _piece(text: str, start: int, end: int, part: Part, said: str) -> Piece:
    """A piece without the spaces around it."""
    whole = text[start:end]
    start += len(whole) - len(whole.lstrip())
    return Piece(whole.strip(), start, start + len(whole.strip()), part, said)


class _Line:
    """One line, with its letters made plain: ½ is 1/2; and where each of them is in the text."""

    def __init__(self, raw: str, at: int) -> None:
        plain, places = [], []
        for place, letter in enumerate(raw):
            letters = units.plain_letters(f"x{letter}x")[1:-1]
            plain.append(letters)
            places += [at + place] * len(letters)
        self.text, self.raw, self.at = "".join(plain), raw, at
        self.places = [*places, at + len(raw)]

    def cut(self, start: int, end: int, part: Part, said: str = "") -> Piece:
        """The piece from one place of the plain line to another."""
        first = self.places[start] - self.at
        # A letter that became several (½) goes to the piece of its last one.
        last = self.places[end] - self.at if end > start else first
        return replace(
            _piece(self.raw, first, last, part, said),
            start=self.at + first + _leading(self.raw[first:last]),
            end=self.at + first + len(self.raw[first:last].rstrip()),
        )


def _joined(found: list[Token]) -> list[Token]:
    """Without the marks between a table's numbers and their units in the next column."""
    return [
        token
        for number, token in enumerate(found)
        if not (
            token.text in ("|", ";")
            and 0 < number < len(found) - 1
            and found[number - 1].kind == "number"
            and (found[number + 1].kind == "percent" or is_unit(found[number + 1].text))
        )
    ]


def _before_amounts(found: Sequence[Token]) -> list[str]:
    """The words before the first number, and the first two of them: a name, where they are one."""
    words = [token.text for token in takewhile(lambda token: token.kind == "word", found)]
    return [" ".join(words), " ".join(words[:2])]


def _amount(found: Sequence[Token]) -> bool:
    """Whether there is an amount that can be weighed, or a pinch at the start."""
    kinds = [(one.kind, one.start) for one in amounts(found)]
    return any(
        kind not in ("other", "vague") or (kind, start) == ("vague", 0) for kind, start in kinds
    )


def _leading(text: str) -> int:
    return len(text) - len(text.lstrip())


class _Cutter:
    """Cuts line after line; knows the part that the last heading began, and the columns of a table."""

    def __init__(self, is_prose: bool = False) -> None:
        self.part = DOUGH
        self.columns: list[str] = []
        self.is_first, self.is_prose = True, is_prose

    def line(self, raw: str, at: int) -> Iterator[Piece]:
        line = _Line(raw, at)
        start = _BULLET.match(line.text).end()
        numbered = _NUMBERED.match(line.text[start:])
        start += numbered.end() if numbered else 0
        rest = line.text[start:]
        first, self.is_first = self.is_first, False
        if not re.search(r"[^\W_]", line.text):
            return
        said = self._no_ingredient(rest, first)
        if said.startswith("a step") and self.is_prose and _amount(tokens(rest)):
            yield from self._ingredients(line, 0, 0, is_prose=True)
            return
        if said:
            yield line.cut(0, len(line.text), self.part, said)
            return
        inline = _INLINE_HEADING.match(rest)
        part = self._inline_part(inline["name"], rest[inline.end() :]) if inline else None
        if inline and part:
            self.part = part
            yield line.cut(0, start + inline.end(), part, "a heading")
            start += inline.end()
        yield from self._ingredients(line, start, start if inline and part else 0)

    def _inline_part(self, name: str, rest: str) -> Part | None:
        """“Poolish: 150 g flour, 150 g water”; “Starter: 100 g” is an ingredient."""
        found = None if called(name).meant else heading(name)
        words = [token for token in tokens(rest) if token.kind == "word" and len(token.text) > 2]
        return found if found and amounts(tokens(rest)) and words else None

    def _no_ingredient(self, text: str, first: bool) -> str:
        """Why a line names no ingredient; a heading begins its part. Nothing where it may name one."""
        found = tokens(text[:LONGEST_LINE])
        words = [token.text for token in found if token.kind == "word"]
        part = heading(text)
        if part and not called(part.name).meant:
            self.part = part
            return "a heading"
        if self._is_header(text):
            return "the heading of a table"
        if self.part.kind == "method":
            return "a step or a note, no ingredient"
        about = about_the_recipe(text)
        if about and not called(*_before_amounts(found)).meant:
            return about
        leads = bool(found) and found[0].kind == "number"
        if not leads and (is_step(words) or (len(words) > 9 and text.rstrip().endswith("."))):
            return "a step, no ingredient"
        if len(text) > LONGEST_LINE and len(words) > 60 and "," not in text:
            return "a long text, no ingredient"
        bare = re.sub(r"\([^()]*\)", " ", text)
        named = any(called(one.strip()).meant for one in [bare, *bare.split(",")[:9]])
        if first and not named and not _amount(tokens(bare[:LONGEST_LINE])):
            return "" if ferments(bare) else "the title"
        return ""

    def _is_header(self, text: str) -> bool:
        """Whether a line is the heading of a table: it says what the numbers under it are."""
        cells = [cell.strip() for cell in re.split(r"[\t|;]", text.strip("| \t"))]
        known = [self._column(cell) for cell in cells]
        if len(cells) < 2 or re.search(r"\d", text) or not any(unit is not None for unit in known):
            return False
        if not all(unit is not None for unit in known[1:]):
            return False
        self.columns = [unit or "" for unit in known]
        return True

    def _column(self, cell: str) -> str | None:
        """The unit that a table's heading names; nothing where it names none, None where it is no heading."""
        words = re.findall(r"%|[^\W\d_][\w'’]*", cell.casefold())
        named = [_COLUMNS[word] for word in words if word in _COLUMNS]
        if named:
            return named[-1]
        return "" if any(word in _HEADS for word in words) else None

    # Ingredients.

    def _ingredients(
        self, line: _Line, start: int, begin: int, is_prose: bool = False
    ) -> Iterator[Piece]:
        """The pieces of a line from `start` on; the first one's text begins at `begin`."""
        found = [
            replace(token, start=token.start + start, end=token.end + start)
            for token in tokens(line.text[start:])
        ]
        found = _joined(self._with_columns(found, line.text, start))
        runs = _Runs(found, is_prose).all()
        if not runs:
            yield line.cut(
                begin, len(line.text), self.part, "no words and no amount of an ingredient"
            )
            return
        ends = [run.tokens[0].start for run in runs[1:]]
        for run, first, end in zip(runs, [begin, *ends], [*ends, len(line.text)], strict=True):
            whole = line.cut(first, end, self.part)
            text = line.raw[whole.start - line.at : whole.end - line.at].strip(" \t,;•·|").strip()
            if len(runs) > 1 and is_total(text):
                yield replace(whole, text=text, said=A_TOTAL)
                continue
            yield replace(
                whole, text=text, words=run.words, head=run.head or run.words, notes=run.notes, amounts=tuple(run.amounts), sums=tuple(run.sums)
            )  # fmt: skip

    def _with_columns(self, found: list[Token], text: str, start: int) -> list[Token]:
        """A table's numbers alone get the unit of their column."""
        if not self.columns or not re.search(r"[\t|;]", text):
            return found
        cells = [
            mark.start()
            for mark in re.finditer(r"[\t|;]", text.rstrip("| \t"))
            if mark.start() >= start
        ]
        made: list[Token] = []
        for number, token in enumerate(found):
            made.append(token)
            column = sum(place < token.start for place in cells)
            after = found[number + 1] if number + 1 < len(found) else None
            alone = after is None or after.text in "|;" or "\t" in text[token.end : after.start]
            unit = self.columns[column] if column < len(self.columns) else ""
            if token.kind == "number" and alone and unit:
                kind = "percent" if unit == "%" else "word"
                made.append(Token(kind, unit, token.end, token.end))
        return made


@dataclass
class _Run:
    """One ingredient of a line: its tokens, words, what is in brackets, amounts."""

    tokens: list[Token] = field(default_factory=list)
    words: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    amounts: list[Amount] = field(default_factory=list)
    sums: list[Amount] = field(default_factory=list)
    is_closed: bool = False

    @property
    def is_noted(self) -> bool:
        """Whether it has no word but of how an ingredient comes."""
        return is_note(" ".join(self.words))

    def take(self, other: _Run) -> None:
        """Take in what belongs to this one."""
        self.tokens += other.tokens
        if other.is_noted:
            # How it comes is no part of its name.
            other.words, other.notes = (), (*other.notes, *other.words)
        self.head = self.head or self.words
        self.words += other.words
        self.notes += other.notes
        self.amounts += other.amounts
        self.sums += other.sums


_JOINS = {"plus", "and", "+", "&"}
_ALTERNATIVE = {"or", "/", "=", "≈"}
_OPEN, _CLOSE = "([{", ")]}"


class _Runs:
    """A line's tokens, parted into one run for each ingredient."""

    def __init__(self, found: Sequence[Token], is_prose: bool) -> None:
        self.found, self.is_prose = found, is_prose

    def all(self) -> list[_Run]:
        made: list[_Run] = []
        for block in self._blocks(";•·", self.found):
            made += self._of_block(block)
        return made

    def _blocks(self, marks: str, found: Sequence[Token]) -> list[list[Token]]:
        """Tokens between marks, those in brackets left together."""
        blocks: list[list[Token]] = [[]]
        depth = 0
        for token in found:
            depth = max(0, depth + (token.text in _OPEN) - (token.text in _CLOSE))
            if depth == 0 and token.kind == "mark" and token.text in marks:
                blocks.append([])
            else:
                blocks[-1].append(token)
        return [block for block in blocks if block]

    def _of_block(self, block: Sequence[Token]) -> list[_Run]:
        """What commas part, put together again where it is a note on what was before."""
        made: list[_Run] = []
        for segment in self._blocks(",", block):
            for run in _segment(segment, self.is_prose):
                if made and self.is_prose and not run.amounts:
                    made[-1].tokens += run.tokens
                elif made and self._belongs(made[-1], run):
                    made[-1].take(run)
                else:
                    made.append(run)
        return made

    def _belongs(self, before: _Run, run: _Run) -> bool:
        """Whether what follows a comma tells more of what was before it."""
        together = " ".join((*before.words, *run.words))
        if run.is_noted:
            return True
        if (run.amounts and before.amounts) or ferments(" ".join(run.words)):
            return False
        if called(together).meant:
            return True
        alone = bool(called(" ".join(run.words)).meant)
        if not run.amounts and not before.amounts and not is_preparation(run.words):
            return not called(" ".join(before.words)).meant
        if run.amounts:
            # “Salt, 2 eggs” are two; “flour, strong, 500 g” is one.
            return not alone and not called(" ".join(before.words)).meant
        return not alone


# In a step, what follows these is no longer an ingredient’s name.
_STEP_GOES_ON = {
    "into",
    "in",
    "to",
    "then",
    "until",
    "till",
    "for",
    "with",
    "and",
    "on",
    "over",
    "by",
}


def _segment(found: Sequence[Token], is_prose: bool = False) -> list[_Run]:
    """The runs of some tokens that no comma parts: “flour 500 g water 320 g” holds two.

    In prose an amount comes before its name.
    """
    made = [_Run()]
    inside: list[Token] = []
    depth = at = 0
    outside = _outside(found)
    leads = is_prose or _leads(found, outside)
    while at < len(found):
        token = found[at]
        run = made[-1]
        if token.text in _OPEN and token.kind == "mark":
            depth += 1
        elif token.text in _CLOSE and token.kind == "mark":
            depth = max(0, depth - 1)
            if not depth:
                _note(run, inside)
                inside = []
        elif depth:
            inside.append(token)
        elif at in outside:
            amount = outside[at]
            at = amount.end
            made += _next_run(made, found, amount, leads, outside)
            _add(made[-1], found, amount)
            made[-1].tokens += found[amount.start : amount.end]
            continue
        elif is_prose and (not run.amounts or token.word in _STEP_GOES_ON or run.is_closed):
            run.is_closed = bool(run.amounts)
        elif _is_word(found, at) and not _is_join(found, at, outside):
            run.words += (token.text,)
        run.tokens.append(token)
        at += 1
    _note(made[-1], inside)
    return [run for run in made if run.words or run.amounts or run.notes]


def _outside(found: Sequence[Token]) -> dict[int, Amount]:
    """The amounts outside brackets, by their first token."""
    depths, depth = [], 0
    for token in found:
        depth += token.kind == "mark" and token.text in _OPEN
        depths.append(depth)
        depth = max(0, depth - (token.kind == "mark" and token.text in _CLOSE))
    return {one.start: one for one in amounts(found) if not depths[one.start]}


def _leads(found: Sequence[Token], outside: dict[int, Amount]) -> bool:
    """Whether an amount comes before the first word."""
    first = next((n for n, token in enumerate(found) if token.kind == "word"), len(found))
    return any(start <= first and amount.kind != "other" for start, amount in outside.items())


def _is_word(found: Sequence[Token], at: int) -> bool:
    """A word, or a number that says which flour."""
    return found[at].kind == "word" or found[at].kind == "number"


def _is_join(found: Sequence[Token], at: int, outside: dict[int, Amount]) -> bool:
    return found[at].word in (*_JOINS, "or", "with") and at + 1 in outside


def _next_run(
    made: list[_Run], found: Sequence[Token], amount: Amount, leads: bool, outside: dict[int, Amount]
) -> list[_Run]:  # fmt: skip
    """A new run, where an amount is the next ingredient's; where names lead, it takes its name along."""
    run = made[-1]
    before = found[amount.start - 1].word if amount.start else ""
    if amount.kind in ("other", "share") or not run.amounts or before in _ALTERNATIVE:
        return []
    if leads:
        later = [token for token in found[amount.end :] if token.kind == "word"]
        words = " ".join(token.text for token in later)
        return [_Run()] if not run.is_noted and later and not is_note(words) else []
    last = max((each.end for each in outside.values() if each.start < amount.start), default=0)
    since = [t for t in found[last : amount.start] if t.kind == "word" and t.word not in _JOINS]
    if is_note(" ".join(token.text for token in since)):
        return []
    kept = len(run.words) - len(since)
    fresh = _Run(
        tokens=[t for t in run.tokens if t.start >= since[0].start], words=run.words[kept:]
    )
    run.words = run.words[:kept]
    run.tokens = [token for token in run.tokens if token.start < since[0].start]
    return [fresh]


def _add(run: _Run, found: Sequence[Token], amount: Amount) -> None:
    before = found[amount.start - 1].word if amount.start else ""
    if before in _JOINS and run.amounts and amount.kind in ("mass", "volume"):
        run.sums.append(amount)
    elif amount.kind != "other":
        run.amounts.append(amount)


def _note(run: _Run, inside: Sequence[Token]) -> None:
    """What brackets hold: amounts too, and words."""
    if not inside:
        return
    found = amounts(inside)
    taken = {place for one in found for place in range(one.start, one.end)}
    run.amounts += [replace(one, note="in brackets") for one in found if one.kind != "other"]
    run.notes += tuple(
        token.text for n, token in enumerate(inside) if n not in taken and token.kind == "word"
    )
    run.tokens += inside
