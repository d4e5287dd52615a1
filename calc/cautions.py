"""What must be said before a changed formula is mixed: allergens, cold, raw dough, alcohol, honey.

Usual cautions only. They defer to local codes and to the pack in the hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from calc.allergens import ALLERGENS, Allergen
from calc.composition import Ingredient
from calc.formula import Formula

# US Food and Drug Administration, Food Code 2022, sections 3-501.16 and 3-501.19. Read in two
# states' adoptions (Delaware, Wisconsin), not in the FDA's own text. Degrees Celsius; hours.
COLD = 5
HOT = 57
HOURS = 4


@dataclass(frozen=True)
class Caution:
    """One caution: `key` says of what kind, `title` in two or three words, `text` what to do."""

    key: str
    title: str
    text: str


def cautions(before: Formula, after: Formula) -> list[Caution]:
    """What `after` calls for that `before` did not, and what any raw dough calls for; worst first."""
    had = {item.ingredient for item in before.items if item.grams}
    new = [i.ingredient for i in after.items if i.grams and i.ingredient not in had]
    made = [
        *_allergens(before, after),
        *_unknown(new),
        *_cold([each for each in new if each.perishable]),
        *_alcohol([each for each in new if each.alcohol]),
        *_honey([each for each in new if "honey" in each.key]),
        *_raw(after),
    ]
    return made


def new_allergens(before: Formula, after: Formula) -> tuple[str, ...]:
    """The table's words for allergens that `before` did not hold."""
    known = set(before.allergens())
    return tuple(word for word in after.allergens() if word not in known)


def named(word: str) -> Allergen:
    """The allergen of one of the table's words; a word no law knows stands for itself."""
    return ALLERGENS.get(word, Allergen(word, word.replace("-", " ")))


def _allergens(before: Formula, after: Formula) -> list[Caution]:
    added = [named(word) for word in new_allergens(before, after)]
    if not added:
        return []
    laws = []
    for law, entries in (
        ("US", [each.us for each in added]),
        ("EU", [each.eu for each in added]),
    ):
        listed = list(dict.fromkeys(entry for entry in entries if entry))
        if listed:
            laws.append(f"{law} law names: {'; '.join(listed)}.")
    notes = dict.fromkeys(each.note for each in added if each.note)
    text = " ".join(
        (
            f"{', '.join(each.name for each in added)}. The first formula did not have it.",
            "Tell everyone who will eat this, read the pack, and follow your local allergen rules.",
            *laws,
            *notes,
        )
    )
    return [Caution("allergen", "Allergen added", text)]


def _unknown(new: list[Ingredient]) -> list[Caution]:
    names = [each.name for each in new if not each.source]
    if not names:
        return []
    return [
        Caution(
            "unknown",
            "Read the pack",
            f"we do not know what allergens {_listed(names)} holds, or whether it spoils. "
            "Its pack says so.",
        )
    ]


def _cold(new: list[Ingredient]) -> list[Caution]:
    if not new:
        return []
    return [
        Caution(
            "perishable",
            "Keep it cold",
            f"{_listed([each.name for each in new])} can spoil, and so can this dough. "
            f"As an example, the US FDA Food Code 2022 keeps such food at {COLD} °C ({_fahrenheit(COLD)} °F) "
            f"or below, or at {HOT} °C ({_fahrenheit(HOT)} °F) or above, and allows {HOURS} hours "
            "without that, on conditions. Your local food code decides.",
        )
    ]


def _alcohol(new: list[Ingredient]) -> list[Caution]:
    if not new:
        return []
    return [
        Caution(
            "alcohol",
            "Alcohol",
            f"{_listed([each.name for each in new])} brings alcohol. Some of it may stay after baking. "
            "Tell people who avoid it.",
        )
    ]


def _honey(new: list[Ingredient]) -> list[Caution]:
    if not new:
        return []
    return [
        Caution(
            "infant",
            "Not for infants",
            "never give honey, baked in too, to a child under one year. It may hold spores that make infants ill.",
        )
    ]


def _raw(after: Formula) -> list[Caution]:
    what = raw([item.ingredient for item in after.items if item.grams])
    return [
        Caution(
            "raw",
            "Do not taste raw dough",
            f"{what} may carry germs. Wash hands and bench, and bake it through.",
        )
    ]


def raw(mixed: Iterable[Ingredient]) -> str:
    """What of these must not be tasted raw; flour is in every dough."""
    egg = any("egg" in each.allergens for each in mixed)
    return "raw flour and raw egg" if egg else "raw flour"


def _listed(names: list[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _fahrenheit(celsius: float) -> int:
    return round(celsius * 9 / 5 + 32)
