"""Preferments and starters: dough mixed ahead, whose flour and water count in the whole dough.

A preferment (poolish, biga, sponge) is flour, liquid and a little yeast that ferment before the
dough is mixed. A sourdough starter is the same with its own yeasts. Each is a `Formula` here.
Hydrations are water ÷ flour, with all of the preferment counted in.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc import composition, formula
from calc.composition import Ingredient
from calc.expression import Expression, Name
from calc.formula import ONLY_WATER, Formula, FormulaError, Item, liquid_step, water_step
from calc.registry import FLOUR, HYDRATION, INGREDIENT, LIQUID, LIQUID_WEIGHT, Slot, quantity
from calc.substitution import merged, old_liquid
from calc.words import listed
from calc.working import PART_OF_A_WHOLE, Working


@dataclass(frozen=True)
class Kind:
    """A kind of preferment: usual hydration and salt on its flour (shares). Common practice, no source."""

    key: str
    name: str
    low: float
    high: float
    explained: str
    salt: float = 0.0

    @property
    def usual(self) -> float:
        """The middle of its usual hydrations, a share."""
        return (self.low + self.high) / 2


# The usual kinds.
KINDS = (
    Kind("poolish", "poolish", 1.0, 1.0, "equal weights of flour and water, with a little yeast"),
    Kind("biga", "biga", 0.5, 0.6, "a stiff dough of flour, water and a little yeast"),
    Kind("sponge", "sponge", 0.6, 0.65, "a dough of part of the flour, the water and the yeast"),
    Kind("liquid-starter", "liquid sourdough starter", 1.0, 1.25, "as wet as a batter"),
    Kind("stiff-starter", "stiff sourdough starter", 0.5, 0.6, "as stiff as a dough"),
    Kind(
        "old-dough", "old dough", 0.6, 0.7, "a piece of bread dough kept back, with its salt", 0.02
    ),
)


def preferment(
    weight: float,
    hydration: float,
    flour: Ingredient,
    liquid: Ingredient,
    yeast: Item | None = None,
) -> Formula:
    """A preferment of a weight (g) and a hydration (share), yeast on top of that weight.

    Raises FormulaError when the liquid may hold no water, or the numbers are not above 0.
    """
    values = parts_working(weight, hydration, liquid).values()
    items = [Item(flour, values["flour"]), Item(liquid, values["liquid"])]
    return Formula(tuple([*items, yeast] if yeast else items))


def parts_working(weight: float, hydration: float, liquid: Ingredient) -> Working:
    """The flour, liquid and water of a preferment: steps ``flour``, ``liquid`` and ``water``, in grams.

    Flour = weight ÷ (1 + liquid per flour), where the liquid per flour is hydration ÷ water content.

    Raises FormulaError when the liquid may hold no water, or the numbers are not above 0.
    """
    if weight <= 0 or hydration <= 0:
        raise FormulaError("A preferment needs a weight and a hydration above 0.")
    working = Working("What is in the preferment")
    _parts(working, weight, hydration, liquid)
    return working


def _parts(working: Working, weight: float, hydration: float, liquid: Ingredient) -> Name:
    """Add a preferment's flour, liquid and water to a working; gives the water."""
    flour = _flour(working, weight, hydration, liquid)
    rest = working.step(
        "liquid",
        f"{liquid.name} in the preferment",
        Name("preferment") - flour,
        "mass",
        why=f"What is not flour in the preferment is {liquid.name}.",
    )
    if liquid.water == 1:
        return rest
    return working.step(
        "water",
        "water in the preferment",
        rest * Name("content"),
        "mass",
        why=ONLY_WATER,
    )


def _flour(working: Working, weight: float, hydration: float, liquid: Ingredient) -> Name:
    """Add a preferment's weight, hydration and flour to a working; gives the flour."""
    whole = working.given("preferment", "preferment", weight, "mass", role="preferment")
    ratio = working.given(
        "preferment hydration", "hydration of the preferment", hydration, "share", role="hydration"
    )
    if liquid.water < 1:
        ratio = liquid_step(
            working, liquid, ratio, "ratio", "content", "liquid",
            label=f"{liquid.name} for each gram of its flour", kind="share", to=0.001, role="ratio",
        )  # fmt: skip
    return working.step(
        "flour",
        "flour in the preferment",
        whole / (1 + ratio),
        "mass",
        why="To each gram of flour comes that much liquid: together they are the whole weight.",
    )


def overall(final: Formula, *preferments: Formula) -> Formula:
    """The whole dough: the final dough's own items and all of its preferments."""
    items = [item for part in (final, *preferments) for item in part.items]
    return Formula(merged(tuple(items)))


def final_dough(whole: Formula, *preferments: Formula) -> Formula:
    """What is left to weigh for the final dough when the preferments are taken out of the whole.

    Raises FormulaError when a preferment holds more of something than the whole dough does.
    """
    left = {item.ingredient: item.grams for item in merged(whole.items)}
    for item in merged(tuple(i for part in preferments for i in part.items)):
        there = left.get(item.ingredient, 0.0)
        # A whole dough that was added up from its parts may differ in the last figure of a float.
        if item.grams > there + 1e-9:
            raise FormulaError(
                f"The preferment takes {item.grams:.1f} g of {item.ingredient.name}, but the whole dough has only "
                f"{there:.1f} g. Make the preferment smaller, or write the whole dough with it."
            )
        left[item.ingredient] = max(0.0, there - item.grams)
    return Formula(tuple(Item(ingredient, grams) for ingredient, grams in left.items()))


@dataclass(frozen=True)
class Build:
    """A whole dough taken apart: the preferment, what is left for the final dough, and the working."""

    whole: Formula
    ahead: Formula
    final: Formula
    working: Working


def build(
    dough: Formula,
    old: str,
    liquid: Ingredient,
    weight: float,
    hydration: float,
    salt: float = 0.0,
    flour: Ingredient | None = None,
) -> Build:
    """Take a preferment of `flour`, water and `salt` (a share of its flour) out of a whole dough.

    Without `flour` it is made of the one that the dough has most of.

    `old` is the key of the liquid that `dough` is written for; `liquid` is the final dough's, weighed
    up at the water that is left. `weight` is the preferment's, in grams, `hydration` a share.

    Raises FormulaError when the preferment holds more of something than the whole dough does.
    """
    working = build_working(dough, old, liquid, weight, hydration, salt)
    values = working.values()
    flours = [item for item in dough.items if item.ingredient.is_flour]
    milled = flour or max(flours, key=lambda item: item.grams).ingredient
    water, fine = composition.find("water"), composition.find("salt")
    ahead = Formula(
        (
            Item(milled, values["flour"]),
            Item(water, values["water"]),
            Item(fine, values.get("salt", 0.0)),
        )
    )
    if values["left"] < -1e-9:
        raise FormulaError(
            f"The preferment takes {values['water']:.0f} g of water, but the whole dough has only "
            f"{values['left'] + values['water']:.0f} g. Make the preferment smaller or stiffer."
        )
    rest = [i for i in dough.items if i.ingredient.key != old and i not in flours]
    more = max(0.0, values[working.answer.key])
    fresh = [Item(liquid, more), Item(water, values["water"])]
    whole = Formula(merged((*flours, *fresh, *rest)))
    return Build(whole, ahead, final_dough(whole, ahead), working)


def build_working(
    dough: Formula, old: str, liquid: Ingredient, weight: float, hydration: float, salt: float = 0.0
) -> Working:
    """The working of `build`, in grams: ``flour``, ``water`` and ``salt`` ahead; the answer is the final liquid."""
    if weight <= 0 or hydration <= 0:
        raise FormulaError("A preferment needs a weight and a hydration above 0.")
    working = Working("A dough with a preferment")
    whole = working.given("preferment", "preferment", weight, "mass")
    wet = working.given("preferment hydration", "its hydration", hydration, "share")
    parts: Expression = 1 + wet
    if salt:
        salted = working.given("preferment salt", "salt on its flour", salt, "share")
        parts = parts + salted
    flour = working.step(
        "flour", "flour in the preferment", whole / parts, "mass",
        why="To each gram of flour come that much water and salt: together they are the whole weight.",
    )  # fmt: skip
    water = working.step(
        "water", "water in the preferment", flour * wet, "mass", why="Its hydration counts on its flour."
    )  # fmt: skip
    if salt:
        working.step(
            "salt", "salt in the preferment", flour * salted, "mass", why="So does its salt."
        )
    total = _total_water(working, dough, old)
    left = working.step(
        "left", "water left for the final dough", total - water, "mass",
        why="The preferment has brought this water already.",
    )  # fmt: skip
    if liquid.water < 1:
        _final_liquid(working, liquid, left, "liquid")
    return working


def _final_liquid(working: Working, liquid: Ingredient, left: Name, key: str) -> None:
    """Add as step `key` the liquid that brings the water that is left for the final dough."""
    label = f"{liquid.name} for the final dough"
    liquid_step(working, liquid, left, key, "content of liquid", "liquid", label=label)


def _total_water(working: Working, dough: Formula, old: str) -> Name:
    """The water that the whole dough's liquid `old` brings. Raises FormulaError where it has none."""
    item = old_liquid(dough, old)
    label = f"{item.ingredient.name} in the formula"
    weight = working.given("whole liquid", label, item.grams, "mass")
    return water_step(
        working, item.ingredient, weight, "total water", "content of old", "old",
        label="water in all", to=None, why="The water that the whole dough is to have.",
    )  # fmt: skip


def hydrations(final: Formula, *preferments: Formula) -> dict[str, float]:
    """Water in the liquids ÷ flour, as shares: ``final`` sheet alone, each ``preferment N``, and ``overall``."""
    named = {"final": final}
    named |= {f"preferment {n}": each for n, each in enumerate(preferments, 1)}
    named["overall"] = overall(final, *preferments)
    return {name: formula.hydration(each).values()["hydration"] for name, each in named.items()}


def caution(mixed: Formula) -> str:
    """What to say before a preferment that spoils stands for hours; empty when nothing in it does."""
    names = [i.ingredient.name for i in mixed.items if i.grams and i.ingredient.perishable]
    if not names:
        return ""
    return (
        f"This preferment holds {listed(names)}, which spoils. Do not let it stand warm for hours as one would "
        "with water. Ferment it in the refrigerator, or keep it short. Your local food code says how long and how "
        "cold. Do not taste it raw."
    )


# What problems on preferments give.
PREFERMENT = Slot("preferment weight", "mass", 20, 50_000)
PREFERMENT_HYDRATION = Slot("preferment hydration", "share", 0.40, 1.50)


@quantity(
    "flour and liquid in a preferment",
    "what a preferment of a weight and a hydration is made of",
    PREFERMENT,
    PREFERMENT_HYDRATION,
    LIQUID,
    plausible_low=5,
    cells=True,
)
def preferment_parts(
    preferment_weight: float, preferment_hydration: float, liquid: Ingredient
) -> Working:
    """`parts_working`, in grams, as problem sets ask for it: each step is a cell."""
    return parts_working(preferment_weight, preferment_hydration, liquid)


def _total_flour(
    title: str, flour: float, preferment_weight: float, preferment_hydration: float
) -> tuple[Working, Name]:
    """A working up to the total flour: the final dough's and that of a preferment made with water."""
    working = Working(title)
    base = working.given("final flour", "flour in the final dough", flour, "mass", role="flour")
    ahead = _flour(working, preferment_weight, preferment_hydration, composition.find("water"))
    return working, working.step(
        "total flour",
        "flour in all",
        base + ahead,
        "mass",
        role="flour",
        why="The preferment's flour counts too.",
    )


@quantity(
    "total flour with a preferment",
    "all the flour of a dough, its preferment's counted in",
    FLOUR,
    PREFERMENT,
    PREFERMENT_HYDRATION,
    plausible_low=50,
)
def total_flour(flour: float, preferment_weight: float, preferment_hydration: float) -> Working:
    """Flour of the final dough + preferment ÷ (1 + its hydration), in grams."""
    return _total_flour("Flour in all", flour, preferment_weight, preferment_hydration)[0]


@quantity(
    "prefermented flour",
    "the share of all the flour that is in the preferment",
    FLOUR,
    PREFERMENT,
    PREFERMENT_HYDRATION,
    plausible_low=0.02,
    plausible_high=0.95,
)
def prefermented_flour(
    flour: float, preferment_weight: float, preferment_hydration: float
) -> Working:
    """Flour of the preferment ÷ flour in all, a fraction."""
    working, total = _total_flour(
        "Prefermented flour", flour, preferment_weight, preferment_hydration
    )
    working.step(
        "prefermented",
        "prefermented flour",
        Name("flour") / total,
        "share",
        role=PART_OF_A_WHOLE,
        why="Compare the preferment's flour with all the flour.",
    )
    return working


@quantity(
    "baker's percentage with a preferment",
    "the weight of an ingredient from its percentage of all the flour, the preferment's counted in",
    FLOUR,
    PREFERMENT,
    PREFERMENT_HYDRATION,
    Slot("percentage", "share", 0.005, 1.0),
    INGREDIENT,
    plausible_low=1,
)
def percentage_of_all_flour(
    flour: float,
    preferment_weight: float,
    preferment_hydration: float,
    percentage: float,
    ingredient: Ingredient,
) -> Working:
    """(Flour of the final dough + flour of the preferment) × percentage, in grams."""
    name = ingredient.name
    working, total = _total_flour(
        f"How much {name}", flour, preferment_weight, preferment_hydration
    )
    share = working.given(
        "percentage",
        f"baker's percentage of {name}",
        percentage,
        "share",
        role="baker's percentage",
    )
    working.step(
        "ingredient",
        name,
        total * share,
        "mass",
        why="A baker's percentage counts on all the flour, wherever it is.",
    )
    return working


@quantity(
    "preferment for a share of the flour",
    "how much preferment holds a wanted share of all the flour",
    FLOUR,
    Slot("prefermented flour", "share", 0.02, 0.95),
    PREFERMENT_HYDRATION,
    plausible_low=10,
)
def preferment_weight(
    flour: float, prefermented_flour: float, preferment_hydration: float
) -> Working:
    """Flour in all × prefermented flour × (1 + hydration of the preferment), in grams."""
    working = Working("Weight of the preferment")
    total = working.given("total flour", "flour in all", flour, "mass", role="flour")
    share = working.given(
        "share", "prefermented flour", prefermented_flour, "share", role="baker's percentage"
    )
    ratio = working.given(
        "preferment hydration",
        "hydration of the preferment",
        preferment_hydration,
        "share",
        role="hydration",
    )
    ahead = working.step(
        "flour",
        "flour in the preferment",
        total * share,
        "mass",
        why="This share of the flour goes into the preferment.",
    )
    working.step(
        "preferment",
        "preferment",
        ahead * (1 + ratio),
        "mass",
        why="To each gram of flour comes that much water: 1 for the flour, and the hydration.",
    )
    return working


@quantity(
    "overall hydration with a preferment",
    "the hydration of a dough, its preferment of flour and water counted in",
    FLOUR,
    LIQUID,
    LIQUID_WEIGHT,
    PREFERMENT,
    PREFERMENT_HYDRATION,
    plausible_low=0.4,
    plausible_high=1.5,
)
def overall_hydration(
    flour: float,
    liquid: Ingredient,
    liquid_weight: float,
    preferment_weight: float,
    preferment_hydration: float,
) -> Working:
    """(Water of the final dough + water of the preferment) ÷ (its flour + the preferment's).

    `flour`, `liquid` and `liquid_weight` are the final dough's; the preferment is flour and water.
    Weights in grams; both hydrations are shares.
    """
    working = Working("Hydration of the whole dough")
    base = working.given("final flour", "flour in the final dough", flour, "mass", role="flour")
    weight = working.given(
        "final liquid",
        f"{liquid.name} in the final dough",
        liquid_weight,
        "mass",
        role="liquid",
        of="liquid",
    )
    water = water_step(
        working, liquid, weight, "final water", "content of liquid", "liquid",
        label=f"water in that {liquid.name}", to=None,
    )  # fmt: skip
    ahead = _parts(working, preferment_weight, preferment_hydration, composition.find("water"))
    total_flour = working.step(
        "total flour",
        "flour in all",
        base + Name("flour"),
        "mass",
        role="flour",
        why="The preferment's flour counts too.",
    )
    total = working.step(
        "total water",
        "water in all",
        water + ahead,
        "mass",
        why="The preferment's water counts too.",
    )
    working.step(
        "hydration",
        "hydration of the whole dough",
        total / total_flour,
        "share",
        why="Compare all the water with all the flour.",
    )
    return working


@quantity(
    "liquid left for the final dough",
    "how much liquid the final dough still needs when a preferment has brought some of the water",
    FLOUR,
    HYDRATION,
    PREFERMENT,
    PREFERMENT_HYDRATION,
    LIQUID,
    plausible_low=20,
)
def liquid_left(
    flour: float,
    hydration: float,
    preferment_weight: float,
    preferment_hydration: float,
    liquid: Ingredient,
) -> Working:
    """Liquid = (flour × hydration − water of the preferment) ÷ the liquid's water content.

    `flour` and `hydration` are the whole dough's; the preferment is flour and water. Weights in
    grams; both hydrations are shares.
    """
    working = Working(f"{liquid.name} left for the final dough")
    base = working.given("total flour", "flour in all", flour, "mass", role="flour")
    share = working.given(
        "hydration", "hydration of the whole dough", hydration, "share", role="hydration"
    )
    total = working.step(
        "total water",
        "water in all",
        base * share,
        "mass",
        why="Hydration is the water as a share of the flour, so multiply the flour by it.",
    )
    ahead = _parts(working, preferment_weight, preferment_hydration, composition.find("water"))
    left = working.step(
        "water left",
        "water left for the final dough",
        total - ahead,
        "mass",
        why="The preferment has brought this water already.",
    )
    if liquid.water < 1:
        _final_liquid(working, liquid, left, "final liquid")
    return working
