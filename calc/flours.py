"""What flours bring to a dough: the protein and the water of a blend, and how rich a dough is.

A blend is a weighted mean. How much water a flour takes up is the miller's figure; it is never ours.
"""

from __future__ import annotations

from collections.abc import Sequence

from calc.composition import Ingredient
from calc.expression import Name
from calc.formula import fat_given
from calc.registry import FLOUR, FLOUR_KIND, LIQUID_WEIGHT, Slot, quantity, ranking
from calc.units import Style, write
from calc.working import Working

SECOND_KIND = Slot("second kind", "ingredient", needs="is_flour")
SECOND_FLOUR = Slot("second flour", "mass", 5, 50_000)
ABSORPTION = ("share", 0.45, 0.85)
HOW_MUCH = "Each flour counts for as much as there is of it."


def _protein(working: Working, kind: Ingredient, key: str) -> Name:
    return working.given(
        key,
        f"protein content of {kind.name}",
        kind.protein,
        "share",
        role="protein content",
        of=kind.key,
    )


def _two_flours(
    working: Working, flour: float, second: float, names: tuple[str, str]
) -> list[Name]:
    """Two weights of flour, as givens."""
    return [
        working.given(key, name, grams, "mass", role="flour")
        for key, name, grams in zip(("flour", "second flour"), names, (flour, second), strict=True)
    ]


def _from_both(
    working: Working,
    what: str,
    flours: Sequence[Name],
    contents: Sequence[Name],
    labels: Sequence[str],
    to: float,
    why: str,
) -> Name:
    """All the protein or water (`what`) of two flours, in grams: weight × content of each, added up."""
    parts = [
        working.step(key, label, weight * content, "mass", to=to, why=why)
        for key, label, weight, content in zip(
            (what, f"second {what}"), labels, flours, contents, strict=True
        )
    ]
    total, says = parts[0] + parts[1], f"Add up the {what}."
    return working.step(f"all {what}", f"{what} in all", total, "mass", to=to, why=says)


def _per_flour(
    working: Working, key: str, label: str, whole: Name, flours: list[Name], role: str
) -> None:
    """What two flours have together, as a share of both: the last step."""
    total = working.step(
        "total flour", "total flour", flours[0] + flours[1], "mass", to=1.0, role="flour",
        why="All flours together are the 100 %.",
    )  # fmt: skip
    working.step(key, label, whole / total, "share", to=0.001, role=role, why=HOW_MUCH)


@quantity(
    "protein of two flours",
    "the protein content of two flours mixed",
    FLOUR,
    FLOUR_KIND,
    SECOND_FLOUR,
    SECOND_KIND,
    plausible_low=0.05,
    plausible_high=0.2,
)
def protein_of_two_flours(
    flour: float, flour_kind: Ingredient, second_flour: float, second_kind: Ingredient
) -> Working:
    """(Flour × its protein + second flour × its protein) ÷ total flour: grams, a share."""
    working = Working("Protein of two flours")
    flours = _two_flours(working, flour, second_flour, (flour_kind.name, second_kind.name))
    contents = [
        _protein(working, flour_kind, "protein content"),
        _protein(working, second_kind, "second protein content"),
    ]
    labels = [f"protein in the {kind.name}" for kind in (flour_kind, second_kind)]
    why = "Only this part of the flour is protein."
    protein = _from_both(working, "protein", flours, contents, labels, 0.1, why)
    label = "protein content of the two"
    _per_flour(working, "content", label, protein, flours, "protein content")
    return working


@quantity(
    "strong flour for a wanted protein",
    "how much of the stronger flour brings two flours to a wanted protein content",
    FLOUR,
    FLOUR_KIND,
    SECOND_KIND,
    Slot("wanted protein", "share", 0.06, 0.18),
    plausible_low=5,
)
def strong_flour_for_protein(
    flour: float, flour_kind: Ingredient, second_kind: Ingredient, wanted_protein: float
) -> Working:
    """Total flour × (wanted − weaker) ÷ (stronger − weaker): grams, shares.

    Raises ValueError when the wanted protein does not lie between those of the two flours.
    """
    strong, weak = flour_kind.protein, second_kind.protein
    if not weak < wanted_protein < strong:
        raise ValueError(
            f"The wanted protein must lie between {write(weak, 'share', step=0.001)} ({second_kind.name}) "
            f"and {write(strong, 'share', step=0.001)} ({flour_kind.name})."
        )
    working = Working("Strong flour for a wanted protein")
    total = working.given("flour", "total flour", flour, "mass", role="flour")
    most, least = (
        _protein(working, kind, key)
        for kind, key in ((flour_kind, "strong content"), (second_kind, "weak content"))
    )
    wanted = working.given("wanted protein", "wanted protein content", wanted_protein, "share")
    missing = working.step(
        "missing", f"points missing in {second_kind.name}", wanted - least, "share", to=0.001,
        why="So far is the weaker flour from what you want.",
    )  # fmt: skip
    between = working.step(
        "between", "points between the two flours", most - least, "share", to=0.001,
        why="A whole change of flour would bring as much as that.",
    )  # fmt: skip
    part = working.step(
        "part", f"part that is {flour_kind.name}", missing / between, "share", to=0.001,
        why="Compare what is missing with what a whole change would bring.",
    )  # fmt: skip
    working.step(
        "strong", f"weight of {flour_kind.name}", total * part, "mass", to=1.0,
        why="It is a part of all the flour.",
    )  # fmt: skip
    return working


@quantity(
    "water for two flours",
    "the hydration of two flours mixed, each with the water that it takes up",
    FLOUR,
    Slot("absorption", *ABSORPTION),
    SECOND_FLOUR,
    Slot("second absorption", *ABSORPTION),
    plausible_low=0.45,
    plausible_high=0.85,
)
def water_for_two_flours(
    flour: float, absorption: float, second_flour: float, second_absorption: float
) -> Working:
    """(Flour × its absorption + second flour × its absorption) ÷ total flour: grams, shares.

    A first guess for a dough of the same firmness: the absorption of a blend is nearly, not exactly,
    the weighted mean (common practice).
    """
    working = Working("Water for two flours")
    names = ("first flour", "second flour")
    flours = _two_flours(working, flour, second_flour, names)
    contents = [
        working.given(key, f"absorption of the {name}", share, "share", role="absorption")
        for key, name, share in (
            ("water absorption", names[0], absorption),
            ("second water absorption", names[1], second_absorption),
        )
    ]
    labels = [f"water for the {name}" for name in names]
    why = "Absorption is the water for 100 g of flour."
    water = _from_both(working, "water", flours, contents, labels, 1.0, why)
    _per_flour(working, "hydration", "hydration to begin with", water, flours, "absorption")
    return working


@quantity(
    "fat and sugar of a dough",
    "the fat and the sugar of a dough together, as a baker's percentage",
    FLOUR,
    Slot("liquid", "ingredient", needs="fat"),
    LIQUID_WEIGHT,
    Slot("fat", "ingredient", needs="fat"),
    Slot("fat weight", "mass", 1, 50_000),
    Slot("sugar weight", "mass", 1, 50_000),
    plausible_low=0.02,
    plausible_high=1.0,
)
def fat_and_sugar(
    flour: float,
    liquid: Ingredient,
    liquid_weight: float,
    fat: Ingredient,
    fat_weight: float,
    sugar_weight: float,
) -> Working:
    """(Fat in the liquid + fat in the fat + sugar weighed) ÷ flour: grams, a share.

    Milk sugar is left out: it softens little, and yeast leaves it.
    """
    working = Working("Fat and sugar of a dough")
    base = working.given("flour", "flour", flour, "mass", role="flour")
    poured = working.given("liquid", liquid.name, liquid_weight, "mass", role="liquid", of="liquid")
    weighed = working.given("fat weight", fat.name, fat_weight, "mass", role="ingredient", of="fat")
    sugar = working.given("sugar", "sugar", sugar_weight, "mass", role="ingredient")
    fats = [
        working.step(
            key, f"fat in the {kind.name}", weight * fat_given(working, kind, of, f"{of} fat content"),
            "mass", to=0.1, why="Only this part of it is fat.",
        )
        for key, kind, weight, of in (
            ("fat in liquid", liquid, poured, "liquid"),
            ("fat in fat", fat, weighed, "fat"),
        )
    ]  # fmt: skip
    both = working.step(
        "both", "fat and sugar in all", fats[0] + fats[1] + sugar, "mass", to=0.1,
        why="Both keep a dough soft, so count them together.",
    )  # fmt: skip
    working.step(
        "share", "fat and sugar ÷ flour", both / base, "share", to=0.001,
        why="Compare them with the flour, which is the 100 %.",
    )  # fmt: skip
    return working


def _tells_protein(ingredient: Ingredient, style: Style) -> str:
    return f"{write(ingredient.protein, 'share', style, step=0.001)} protein"


@ranking("protein content", "Most protein first.", _tells_protein, same=0.003)
def by_protein(ingredient: Ingredient) -> float:
    """The share of an ingredient that is protein, whether it makes gluten or not."""
    if ingredient.protein is None:
        raise ValueError(f"The table does not know the protein of {ingredient.name}.")
    return ingredient.protein
