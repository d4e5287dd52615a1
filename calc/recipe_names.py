"""What the words of a recipe's line name: an ingredient, a part of the recipe, a step, or nothing to weigh.

The names of ingredients are the table's (`calc.composition`). Here are only the words that cooks put
around them: how it comes, what is done with it, where it goes.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile

from calc import composition
from calc.composition import Ingredient
from calc.preferment import KINDS, Kind

# Words that say how an ingredient is prepared or comes, never which it is.
PREPARED = {
    "warmed", "sieved", "lightly", "finely", "roughly", "coarsely", "thinly", "divided", "optional", "extra",
    "more", "packed", "plus", "at", "to", "in", "into", "from", "and", "or", "then", "with", "without", "the",
    "shell", "shells", "shelled", "separated", "drained", "rinsed", "washed", "mashed", "cooled", "tepid", "bloomed",
    "dissolved", "unsifted", "heaped", "level", "approximately", "about", "each", "total", "x", "very", "well",
    "slightly", "just", "your", "choice", "if", "needed", "necessary", "desired", "like", "ice-cold", "room", "temp",
    "temperature", "body", "hand-warm", "free-range", "free", "range", "whisked", "cut", "cubes", "pieces", "quality",
    "it", "weight", "sized", "size", "sachet", "sachets", "can", "cans", "tub", "packet", "packets", "tin", "tins", "carton",
    "in-shell", "of", "melted", "softened", "beaten", "soft", "hot", "warm", "cold", "lukewarm", "boiling", "chilled",
    "diced", "cubed", "instead", "also", "for", "dough", "main", "final", "unbleached", "organic", "stoneground",
    "stone-ground", "fine", "strips", "thick", "handwarm", "blood-warm", "scalded", "fridge", "straight", "off",
    "boil", "minus", "unopened", "approx", "ca", "equals", "amount", "eg", "i.e", "e.g", "good", "style",
    "old-fashioned", "quick-cooking", "small", "medium", "large", "jumbo", "lg", "lrg", "med", "sm", "sml", "s", "m", "l", "xl", "eu", "uk", "us", "a", "an", "stick", "sticks", "note",
}  # fmt: skip
# What is written so does not go into the dough.
_OUTSIDE = re.compile(
    r"\bfor\s+(?:the\s+)?(?:brushing|dusting|greasing|rolling|sprinkling|glazing|frying|topping|serving|decorati\w+|"
    r"garnish\w*|coating|kneading|shaping|work\s*surface|worktop|bench|tin|pan|tray|bowl|egg\s*wash|wash|crust)\b"
    r"|\bto\s+(?:brush|dust|grease|roll|sprinkle|glaze|fry|serve|finish|decorate|garnish|coat|top)\b"
    r"|\b(?:to|for)\s+(?:go\s+)?on\s+top\b|\bas\s+a\s+glaze\b",
    re.IGNORECASE,
)
_NOT_DOUGH = {
    "glaze", "topping", "toppings", "filling", "fillings", "icing", "frosting", "streusel", "crumble", "wash", "garnish",
    "decoration", "finish", "finishing", "serve", "syrup", "brushing", "dusting", "coating", "decorate", "assembly",
    "glazing", "crumb", "sauce", "butter-cream", "buttercream", "custard", "nutrition", "equipment", "tools",
}  # fmt: skip
# Parts of a dough, ferments apart.
_DOUGH = {
    "dough", "ingredients", "ingredient", "final", "main", "bread", "soaker", "tangzhong", "yudane", "roux", "formula", "overall",
    "batter", "recipe", "mix", "scald", "dry", "wet", "buns", "rolls", "loaf", "base", "autolyse", "cake", "pastry", "you",
}  # fmt: skip
_METHOD = {
    "method", "directions", "direction", "instructions", "instruction", "steps", "preparation", "procedure", "process",
    "notes", "note", "tips", "tip", "baking", "schedule", "nutrition", "equipment", "tools", "comments",
}  # fmt: skip
_AHEAD = {
    "poolish": "poolish", "biga": "biga", "sponge": "sponge", "starter": "liquid-starter", "sourdough": "liquid-starter",
    "levain": "liquid-starter", "leaven": "liquid-starter", "mother": "liquid-starter", "preferment": "sponge",
    "pre-ferment": "sponge", "preferments": "sponge", "old-dough": "old-dough", "pre-dough": "sponge",
    "predough": "sponge", "fermentee": "old-dough",
}  # fmt: skip
_AROUND_AHEAD = {
    "sourdough", "starter", "ripe", "active", "fed", "bubbly", "mature", "liquid", "stiff", "wheat", "rye", "my",
    "all", "of", "the", "from", "above", "whole", "young", "refreshed", "culture", "recipe", "made", "day", "before",
    "previous", "night", "recently", "hydration", "at", "old", "dough", "and", "amount", "entire", "step", "for", "white",
    "it", "prepared", "pate", "build", "total", "half", "rest", "remaining", "yesterday", "yesterdays", "cold", "discard", "water", "flour",
}  # fmt: skip
_STEPS = {
    "mix", "add", "knead", "bake", "preheat", "heat", "stir", "combine", "whisk", "place", "put", "leave", "let", "cover",
    "shape", "divide", "turn", "pour", "proof", "prove", "rest", "brush", "dissolve", "beat", "fold", "cut", "cool",
    "serve", "grease", "dust", "make", "remove", "transfer", "allow", "set", "repeat", "once", "when", "after", "rub",
    "tip", "punch", "knock", "score", "sprinkle", "feed", "refrigerate", "work", "slowly", "gradually", "gently", "next",
    "then", "meanwhile", "using", "use", "keep", "store", "freeze", "wrap", "line", "take", "bring", "blend", "sift", "sieve",
    "autolyse", "rise", "ferment", "scale", "form", "finish", "check", "enjoy", "slice", "drain", "squeeze", "retard", "prepare",
}  # fmt: skip
# Steps or ingredients (cream the butter; cream, 50 g): what follows says which.
_STEPS_BEFORE_THE = {"cream", "warm", "melt", "roll", "soak", "chill", "scald", "flour", "butter", "salt", "oil", "boil", "top"}  # fmt: skip
_ABOUT = re.compile(
    r"^\W*(?:makes|serves|servings?|yields?|portions?|prep\w*\s*(?:time)?\s*:|cook\w*\s+time|bake\s+time|total\s+time|time\s*:|source|adapted|"
    r"author|by\s|from\s|hydration|oven|dough\s+(?:temp|weight|hydration)|difficulty|rating|calories|course|cuisine|"
    r"print|photo|date|batch|piece|scaling|https?:|www\.|temperature|ddt|for\s+(?:about\s+)?\d+\s+\w+\s*:?\s*$)"
    r"|\((?:makes|serves|yields?|for\s+\d)",
    re.IGNORECASE,
)
_TOTAL = re.compile(r"^\W*(?:(?:grand\s+|sub)?totals?\b|sum\b|dough\s*(?:weight|total)|in\s+all\b)", re.IGNORECASE)  # fmt: skip
_TO_TASTE = re.compile(r"\bto\s+taste\b|\bas\s+(?:needed|required|you\s+like)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Named:
    """What some words may be: each ingredient they can mean (several where they are unclear)."""

    meant: tuple[Ingredient, ...]
    asked: str = ""


# The trade's shorthand (common practice).
_SHORT = {
    "ap": "all-purpose flour", "apf": "all-purpose flour", "bf": "bread flour", "ww": "whole wheat flour",
    "soda": "baking soda", "wwf": "whole wheat flour", "h2o": "water", "idy": "instant yeast", "ady": "active dry yeast",
}  # fmt: skip
_TYPE = re.compile(r"\b(?:type|typ|tipo)\s*\d+|\bt\d{2,3}\b", re.IGNORECASE)


def called(*attempts: str) -> Named:
    """The ingredients that the first of some wordings means; `asked` is the plainest of them."""
    asked = ""
    for attempt in attempts:
        for wording in _wordings(attempt):
            asked = wording or asked
            meant = composition.called(wording) if wording else ()
            if meant:
                return Named(meant, wording)
    return Named((), asked)


def _wordings(words: str) -> Iterator[str]:
    """As it is written, then without the words that say only how it is prepared."""
    words = words.removeprefix("of ")
    yield words
    yield _unprepared(words.split())
    yield _unprepared(list(takewhile(lambda word: word.casefold() not in _GOES_ON, words.split())))
    if words.casefold() in _SHORT:
        yield _SHORT[words.casefold()]
    kind = _TYPE.search(words)
    if kind:
        yield f"{kind[0]} flour"


# What follows these tells what is done with an ingredient, no longer which it is.
_GOES_ON = {
    "for",
    "plus",
    "to",
    "from",
    "at",
    "until",
    "cut",
    "such",
    "preferably",
    "i",
    "see",
    "about",
    "then",
}


def _unprepared(words: list[str]) -> str:
    return " ".join(word for word in words if word.casefold().strip(".,'’") not in PREPARED)


def without_type(words: str) -> str:
    """A flour’s name without its type (T65), which the table may not have."""
    return " ".join(_TYPE.sub(" ", words).split())


def is_preparation(words: Sequence[str]) -> bool:
    """Whether words after a comma only say what was done with an ingredient: browned, and thinly sliced."""
    return all(
        word.casefold() in PREPARED or word.casefold().endswith(("ed", "ly")) or len(word) < 3
        for word in words
    )


def is_note(words: str) -> bool:
    """Whether nothing is left of some words but how an ingredient comes."""
    return all(each.casefold().strip(".,'’") in PREPARED for each in words.split())


def alternatives(words: str) -> tuple[Ingredient, ...]:
    """“Milk or water”: each of the two, where both are in the table; else none."""
    parts = re.split(r"\s+or\s+|\s*/\s*", words)
    meant = [called(part).meant for part in parts]
    if len(parts) < 2 or not all(len(each) == 1 for each in meant):
        return ()
    found = tuple(dict.fromkeys(each[0] for each in meant))
    return found if len(found) > 1 else ()


# “500 g flour, plus more for dusting”: the amount goes into the dough.
_AND_MORE = re.compile(
    r"\b(?:plus|and|with|\+)\s+(?:a\s+(?:little|bit)\s+)?(?:more|extra|some)\b", re.IGNORECASE
)


def goes_elsewhere(text: str) -> bool:
    """Whether a line says that what it names does not go into the dough: to glaze, for dusting."""
    return bool(_OUTSIDE.search(text)) and not _AND_MORE.search(text)


def to_taste(text: str) -> bool:
    """Whether a line leaves the amount to the cook."""
    return bool(_TO_TASTE.search(text))


A_TOTAL = "a total: it is added up again here"


def is_total(text: str) -> bool:
    """Whether a line is the sum of others."""
    return bool(_TOTAL.match(text))


def about_the_recipe(text: str) -> str:
    """Why a line is about the recipe and names no ingredient; nothing where it may name one."""
    if is_total(text):
        return A_TOTAL
    return "about the recipe, no ingredient" if _ABOUT.match(text) else ""


def is_step(words: list[str]) -> bool:
    """Whether a line's words begin as a step does."""
    first, second = (*(each.casefold() for each in words[:2]), "", "")[:2]
    return first in _STEPS or (
        first in _STEPS_BEFORE_THE and second in ("the", "until", "up", "for")
    )


@dataclass(frozen=True)
class Part:
    """A part of a recipe: its name as written, and what it is: ``dough``, ``ahead``, ``elsewhere``, ``method``.

    `ferments` is the kind of preferment of a part that ferments ahead.
    """

    name: str
    kind: str
    ferments: Kind | None = None


def heading(text: str) -> Part | None:
    """The part that a heading begins; None where a line is no heading."""
    line = re.sub(r"\([^()]*\)", " ", text)
    bare = " ".join(line.strip(" \t#*_=:–—-.•").split())
    words = _words(bare)
    if not words or len(words) > 6 or re.search(r"\d", bare):
        return None
    marked = line.rstrip(" *_").endswith(":") or line.lstrip().startswith(("#", "**", "=="))
    marked = marked or bare.isupper()
    rest = [word for word in words if word not in _AROUND_A_HEADING]
    known = [word for word in rest if word in (*_AHEAD, *_NOT_DOUGH, *_DOUGH, *_METHOD)]
    # “Sweet dough”, “cinnamon filling”: the last word says what it is.
    says = bool(known) and (len(known) == len(rest) or rest[-1] == known[-1])
    if not (words[0] == "for" or marked or says):
        return None
    if not known and not marked and goes_elsewhere(text):
        return Part(bare, "elsewhere")
    return Part(bare, *_kind_of(rest)) if known or marked else None


_AROUND_A_HEADING = {"for", "the", "your", "my", "a", "an", "of", "to", "on", "day", "pate"}


def _kind_of(words: list[str]) -> tuple[str, Kind | None]:
    if "final" in words or "main" in words:
        return "dough", None
    if {"old", "dough"} <= set(words):
        return "ahead", _kind("old-dough")
    ahead = next((_AHEAD[word] for word in words if word in _AHEAD), "")
    if ahead and not (set(words) & {"bread", "dough"} and "sourdough" in words):
        return "ahead", next(kind for kind in KINDS if kind.key == ahead)
    if set(words) & _METHOD:
        return "method", None
    return ("elsewhere" if set(words) & _NOT_DOUGH else "dough"), None


def ferments(words: str) -> Kind | None:
    """The kind of preferment that a line's words name as an ingredient: “ripe sourdough starter”."""
    found = _words(words)
    named = [word for word in found if word in _AHEAD]
    if not named or not all(word in _AHEAD or word in _AROUND_AHEAD for word in found):
        return _kind("old-dough") if {"old", "dough"} <= set(found) else None
    if "stiff" in found and "starter" in found:
        return _kind("stiff-starter")
    return _kind(_AHEAD[next((word for word in named if word != "sourdough"), named[0])])


def _words(text: str) -> list[str]:
    """A text's words in small letters without accents."""
    letters = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(each for each in letters if not unicodedata.combining(each))
    return re.findall(r"[^\W\d_][\w'’-]*", letters)


def _kind(key: str) -> Kind:
    return next(kind for kind in KINDS if kind.key == key)
