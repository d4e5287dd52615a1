"""What must be said before a dough is mixed: what it cannot bear, allergens, cold, raw dough …

Usual cautions only. They defer to local codes and to the pack in the hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from calc import composition
from calc.allergens import ALLERGENS, Allergen
from calc.composition import Ingredient
from calc.formula import Formula
from calc.limits import findings
from calc.units import in_both_degrees
from calc.words import listed

# US Food and Drug Administration, Food Code 2022, sections 3-501.14, 3-501.16 and 3-501.19. Read in
# states' adoptions (Delaware, Minnesota, Wisconsin), not in the FDA's own text. Degrees Celsius; hours.
COLD = 5
HOT = 57
HOURS = 4


@dataclass(frozen=True)
class Caution:
    """One caution: `key` says of what kind, `title` in two or three words, `text` what to do."""

    key: str
    title: str
    text: str


def cautions(before: Formula, *after: Formula) -> list[Caution]:
    """What the doughs `after` call for that `before` did not, and what any raw dough calls for.

    Worst first: what a dough cannot bear, then allergens.
    """
    together = Formula(tuple(item for dough in after for item in dough.items))
    had = {item.ingredient for item in before.items if item.grams}
    fresh = dict.fromkeys(item.ingredient for item in together.items if item.grams)
    new = [each for each in fresh if each not in had]
    return [
        *dict.fromkeys(said for dough in after for said in borne(dough)),
        *_allergens(before, together),
        *_unknown(new),
        *_cold([each for each in new if each.perishable]),
        *_alcohol([each for each in new if each.alcohol]),
        *_honey([each for each in new if "honey" in each.key]),
        *_raw(together),
    ]


def on_the_bench(*doughs: Formula) -> list[Caution]:
    """What doughs that are mixed side by side call for, each once; allergens are named apart (`allergens_of`)."""
    together = [item.ingredient for dough in doughs for item in dough.items if item.grams]
    mixed = list(dict.fromkeys(together))
    return [
        *dict.fromkeys(said for dough in doughs for said in borne(dough)),
        *_unknown(mixed),
        *_cold([each for each in mixed if each.perishable]),
        *_alcohol([each for each in mixed if each.alcohol]),
        *_honey([each for each in mixed if "honey" in each.key]),
        *_raw(Formula(tuple(item for dough in doughs for item in dough.items))),
    ]


def allergens_of(dough: Formula) -> str:
    """The allergens of a dough in words; what the table does not know is said, never left out."""
    names = [named(word).name for word in dough.allergens()]
    known = ", ".join(names) if names else "none that our table knows"
    unknown = dict.fromkeys(
        i.ingredient.name for i in dough.items if i.grams and not i.ingredient.source
    )
    packs = [f"what the pack of {name} names{_usually(name)}" for name in unknown]
    return f"{known}; and {' and '.join(packs)}: read it" if packs else known


def _usually(name: str) -> str:
    """“, usually milk”: what a food of that name holds, where most do."""
    words = [named(word).name for word in composition.usual_allergens(name)]
    return f" (usually {', '.join(words)})" if words else ""


def borne(dough: Formula) -> list[Caution]:
    """What a dough cannot bear, or bears badly, and what works in its place (`calc.limits`)."""
    return [Caution(each.limit.key, each.limit.title, each.text) for each in findings(dough)]


def cold_rule(degrees: Callable[[float], str]) -> str:
    """The example of a food code, each temperature written by `degrees` (of °C)."""
    return (
        f"As an example, the US FDA Food Code 2022 keeps such food at {degrees(COLD)} or below, or at "
        f"{degrees(HOT)} or above. Where time takes the place of cold, the bread must be baked and "
        f"served within {HOURS} hours of the dough's leaving the cold. Your local food code decides."
    )


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
        ("EU and UK", [each.eu for each in added]),
    ):
        said = dict.fromkeys(entry for entry in entries if entry)
        if said:
            laws.append(f"{law} law names: {'; '.join(said)}.")
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
    names = [each.name for each in new if not each.allergens_known]
    if not names:
        return []
    shown = listed([f"{name}{_usually(name)}" for name in names])
    return [
        Caution(
            "unknown",
            "Read the pack",
            f"we do not know what allergens {shown} holds, or whether it spoils. Its pack says so.",
        )
    ]


def _cold(new: list[Ingredient]) -> list[Caution]:
    if not new:
        return []
    return [
        Caution(
            "perishable",
            "Keep it cold",
            f"{listed([each.name for each in new])} can spoil, and so can this dough. "
            + cold_rule(in_both_degrees),
        )
    ]


def _alcohol(new: list[Ingredient]) -> list[Caution]:
    if not new:
        return []
    return [
        Caution(
            "alcohol",
            "Alcohol",
            f"{listed([each.name for each in new])} brings alcohol. Some of it may stay after baking. "
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
