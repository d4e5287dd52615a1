"""Names that are nearly alike, as a class list and the hand-ins beside it have them.

`pairs` says whom a name may mean, and why. It only ever suggests: two students can bear two such names.
"""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from exercises.draws import plain_name

SAME_LETTERS = "only accents, capitals or apostrophes differ"
OTHER_ORDER = "the names are in another order"
ONE_MORE = "one has a name more"
SLIP = "a letter or two differ"

# Slips are looked for letter by letter, so not between any number of names; the other differences are.
MOST_PAIRS = 40_000
# Below these lengths one slip, or two, make another name: Ann and Ana, Jan Ek and Jon Elk.
ONE_SLIP, TWO_SLIPS = 5, 9

# Letters that Unicode does not take apart (UAX 15), as people write them without a special key.
_ALONE = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"}
)
_SILENT = "'’‘ʼ`´."


@dataclass(frozen=True)
class Near:
    """A name that may mean another one; `why` says what differs."""

    name: str
    other: str
    why: str

    @property
    def says(self) -> str:
        return f"{self.name} may be {self.other} ({self.why})"


@lru_cache(maxsize=4_000)
def folded(name: str) -> str:
    """A name in small plain letters: no accents or apostrophes, single spaces."""
    plain = unicodedata.normalize("NFKD", name).casefold().translate(_ALONE)
    kept = (c if c.isalnum() else "" if c in _SILENT or unicodedata.combining(c) else " " for c in plain)  # fmt: skip
    return " ".join("".join(kept).split())


def pairs(names: Sequence[str], others: Sequence[str]) -> list[Near]:
    """Each of the names that may mean one of the others, with the likeliest; at most one each.

    A name that is one of the others to the letter (capitals and spaces aside) means that one, and is left out.
    """
    plain, ordered = _by(folded, others), _by(_ordered, others)
    exact = {plain_name(other) for other in others}
    by_slips = others if len(names) * len(others) <= MOST_PAIRS else ()
    found = []
    for name in names:
        if plain_name(name) in exact:
            continue
        near = (
            _near(name, plain.get(folded(name)), SAME_LETTERS)
            or _near(name, ordered.get(_ordered(name)), OTHER_ORDER)
            or _by_slips(name, by_slips)
        )
        if near:
            found.append(near)
    return found


def of_a_list(unlisted: Sequence[str], missing: Sequence[str], listed: Sequence[str]) -> list[Near]:
    """Those not on a list who may be one who is: one of the missing, else one who is there already."""
    found = pairs(unlisted, missing)
    named = {near.name for near in found}
    return found + pairs([name for name in unlisted if name not in named], listed)


def among(names: Sequence[str]) -> list[Near]:
    """Names that may mean one before them; none of more names than a class has."""
    if len(names) ** 2 > MOST_PAIRS:
        return []
    return [near for n, name in enumerate(names) for near in pairs([name], names[:n])]


def _by(key: Callable[[str], str], names: Sequence[str]) -> dict[str, str]:
    return {key(name): name for name in reversed(names)}


def _ordered(name: str) -> str:
    return " ".join(sorted(folded(name).split()))


def _near(name: str, other: str | None, why: str) -> Near | None:
    return Near(name, other, why) if other else None


def _by_slips(name: str, others: Sequence[str]) -> Near | None:
    """The other name with the fewest slips; else one that has all of this one's names, or the other way."""
    own = folded(name)
    found = [(slips, other) for other in others for slips in _slips_to(own, other)]
    if found:
        return Near(name, min(found, key=lambda one: one[0])[1], SLIP)
    parts = set(own.split())
    for other in others:
        more = set(folded(other).split())
        if min(len(parts), len(more)) > 1 and (parts < more or more < parts):
            return Near(name, other, ONE_MORE)
    return None


def _slips_to(own: str, other: str) -> Iterator[int]:
    """The slips from a name to another one, in whichever order its names are; nothing where there are too many."""
    for one, two in ((own, folded(other)), (_ordered(own), _ordered(other))):
        shorter = min(len(one), len(two))
        most = (shorter >= ONE_SLIP) + (shorter >= TWO_SLIPS)
        # Each slip changes two letters of the heap of letters at most.
        if most and _unlike(one, two) <= 2 * most and (slips := distance(one, two)) <= most:
            yield slips


def _unlike(one: str, two: str) -> int:
    mine, yours = Counter(one), Counter(two)
    return (mine - yours).total() + (yours - mine).total()


def distance(one: str, two: str) -> int:
    """How many slips lead from one text to the other: a letter more, less, other, or two changed round.

    The optimal string alignment distance (Damerau 1964, Communications of the ACM 7, 171–176; the citation is from memory).
    """
    before, row = [], list(range(len(two) + 1))
    for i, letter in enumerate(one, 1):
        older, before, row = before, row, [i]
        for j, other in enumerate(two, 1):
            best = min(row[j - 1] + 1, before[j] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == two[j - 2] and one[i - 2] == other:
                best = min(best, older[j - 2] + 1)
            row.append(best)
    return row[-1]
