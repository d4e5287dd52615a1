"""What people call an ingredient: names made plain, so that spellings of one name are one.

The names themselves are in the table's column ``also``. Nothing here knows an ingredient.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

# One spelling for words that are spelt in several ways (UK, US, Canada, India, Australia).
SPELT = {
    **dict.fromkeys(("yoghurt", "yogourt", "yoghourt", "joghurt"), "yogurt"),
    **dict.fromkeys(("soya", "soja"), "soy"),
    **dict.fromkeys(("tinned", "tin", "can"), "canned"),
    **dict.fromkeys(("skimmed", "skimed"), "skim"),
    **dict.fromkeys(("wholewheat", "wholegrain"), "whole wheat"),
    **dict.fromkeys(("homogenised", "homogenized"), "homogenised"),
    **dict.fromkeys(("powdered", "dried", "dry"), "dry"),
    **dict.fromkeys(("nonfat", "fatfree"), "fat free"),
    "flavoured": "flavored", "flavouring": "flavoring", "raising": "rising", "sirup": "syrup",
    "lowfat": "low fat", "applesauce": "apple sauce", "percent": "%", "pct": "%", "and": "&", "pureed": "puree",
}  # fmt: skip
# Words that say how it comes, not what it is.
IDLE = {
    "a", "an", "the", "of", "some", "my", "our", "fresh", "freshly", "organic", "bio", "homemade",
    "home", "made", "cold", "chilled", "warm", "lukewarm", "room", "temperature", "good", "quality",
    "pure", "natural", "plain", "store", "bought", "bottled", "carton", "pasteurised", "pasteurized",
    "uht", "real", "squeezed", "canned", "ripe", "raw", "melted", "softened", "chopped", "sliced",
    "diced", "peeled", "grated", "shredded", "beaten", "sifted", "large", "medium", "small", "brewed",
    "leftover", "frozen", "cube", "cubed", "crumbled", "boiling", "hot", "fine", "coarse", "soft", "barista", "filtered",
    "long", "life", "shelf", "stable",
}  # fmt: skip
IDLE_PHRASES = ("free range",)
# “one percent milk”: a number in words counts as one only before a per cent.
_NUMBERS = {
    "zero": "0",
    "one": "1",
    "two": "2",
    "three": "3",
    "four": "4",
    "five": "5",
    "ten": "10",
}
_SPOKEN = re.compile(rf"\b(?:{'|'.join(_NUMBERS)})\b(?= (?:%|per ?cent|pct)(?!\w))")
# Words that say what a food is free of: never a slip of another word (plant milk is no plain yogurt).
_NO_SLIPS = {"plant", "vegan", "eggless", "dairyfree", "nondairy", "milkless"}
# How alike two words must be for one to be a slip of the other.
_SLIP = 0.8


def plain(text: str) -> str:
    """A name in small letters without accents and marks, each word in one spelling and singular.

    >>> plain("Crème fraîche") == plain("creme  fraiche")
    True
    >>> plain("Non-fat Yoghurts") == plain("nonfat yogurt")
    True
    """
    letters = unicodedata.normalize("NFKD", text.casefold()).casefold()
    letters = "".join(each for each in letters if not unicodedata.combining(each))
    letters = re.sub(r"['’`]", "", letters).replace("%", " % ")
    # A mark between figures is a decimal point; elsewhere marks part words.
    letters = re.sub(r"(?<=\d),(?=\d)", ".", letters)
    letters = re.sub(r"[^\w%&.]+|_|(?<!\d)\.|\.(?!\d)", " ", letters)
    letters = re.sub(r"\bper cent\b", "%", letters)
    letters = re.sub(r"\bnon fat\b|\bno fat\b", "fat free", letters)
    letters = re.sub(rf"\b(?:{'|'.join(IDLE_PHRASES)})\b", "", letters)
    letters = _SPOKEN.sub(lambda spoken: _NUMBERS[spoken[0]], letters)
    return " ".join(_one_spelling(SPELT.get(word, word)) for word in letters.split())


def _one_spelling(word: str) -> str:
    singular = word
    if len(word) > 4 and word.endswith(("oes", "shes", "ches")):
        singular = word[:-2]
    elif len(word) > 4 and word.endswith("ies"):
        singular = f"{word[:-3]}y"
    elif len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        singular = word[:-1]
    return SPELT.get(singular, singular)


def bare(name: str) -> str:
    """A `plain` name without the words that say only how it comes; as it is, where nothing is left."""
    return " ".join(word for word in name.split() if word not in IDLE) or name


def forms(text: str) -> tuple[str, ...]:
    """The `plain` forms of what was typed, to look up one after the other: the whole first.

    Then without idle words, then as one word (butter milk).
    """
    whole = plain(text)
    return tuple(dict.fromkeys((whole, bare(whole), whole.replace(" ", ""))))


_PERCENT = re.compile(r"(\d+(?:\.\d+)?) %")


def percentage(name: str) -> tuple[float, str] | None:
    """The number of per cent in a `plain` name, and the name without it; None where there is not one."""
    found = _PERCENT.findall(name)
    rest = " ".join(_PERCENT.sub(" ", name).split())
    return (float(found[0]), rest) if len(found) == 1 and rest else None


def any_order(name: str) -> str:
    """A `plain` name's words in the order of the alphabet: “milk, 2 %” is “2 % milk”."""
    return " ".join(sorted(set(name.split())))


def differ(one: str, other: str) -> bool:
    """Whether each of two `plain` names has a word that the other lacks, however they are joined."""
    words, others = set(one.split()), set(other.split())
    joined = one.replace(" ", "") == other.replace(" ", "")
    return not (words <= others or others <= words or joined)


def fits(asked: str, name: str) -> float:
    """How well a `plain` name answers what was asked (also plain): a share, 0 not at all, 1 the same.

    Every word that was asked must be in the name, or be a slip or the beginning of a word of it:
    what is left out may be what matters. So “hemp milk” fits no other milk.
    """
    words = name.split()
    each = []
    for word in asked.split():
        each.append(max((_alike(word, other) for other in words), default=0.0))
        if not each[-1]:
            return 0.0
    if not each:
        return 0.0
    return sum(each) / len(each) * (0.5 + 0.5 * len(each) / max(len(words), len(each)))


@lru_cache(maxsize=4_000)
def _alike(word: str, other: str) -> float:
    """How alike two words are; a name is put to every row, and the rows share most of their words."""
    if word == other:
        return 1.0
    if len(word) > 2 and other.startswith(word):
        return 0.9
    # Few people miss the first letter; many words differ in it alone (goat, oat).
    if len(word) < 4 or word[0] != other[0] or word in _NO_SLIPS:
        return 0.0
    ratio = difflib.SequenceMatcher(None, word, other).ratio()
    return ratio * 0.9 if ratio >= _SLIP else 0.0


def best(asked: str, names: Iterable[str]) -> float:
    """How well the best of several `plain` names answers what was asked: a share, as `fits` gives it."""
    return max((fits(asked, name) for name in names), default=0.0)
