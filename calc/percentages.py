"""Baker's percentages both ways: from weights, to weights, back to the flour, with two flours.

A baker's percentage is an ingredient's weight ÷ the total flour: common practice, no source.
"""

from __future__ import annotations

from calc.composition import Ingredient
from calc.expression import Name
from calc.registry import FLOUR, FLOUR_KIND, HYDRATION, INGREDIENT, OTHERS, SALT, Slot, quantity
from calc.working import Working

WEIGHT = Slot("weight", "mass", 0.5, 50_000)
SECOND_KIND = Slot("second kind", "ingredient", needs="is_flour")


def _percentage_step(working: Working, weight: Name, flour: Name, name: str, share: float) -> Name:
    """The last step of a percentage; below 50 % it is read to a tenth, as a bench sheet shows it."""
    return working.step(
        "percentage",
        f"baker's percentage of {name}",
        weight / flour,
        "share",
        to=0.001 if share < 0.5 else 0.01,
        why="Compare the ingredient with the flour, not with the whole dough.",
    )


@quantity(
    "baker's percentage",
    "an ingredient's baker's percentage from its weight",
    FLOUR,
    INGREDIENT,
    WEIGHT,
    OTHERS,
    plausible_low=0.002,
    plausible_high=1.5,
)
def bakers_percentage(
    flour: float, ingredient: Ingredient, weight: float, other_ingredients: float = 0.0
) -> Working:
    """Percentage = ingredient ÷ flour: grams, a share.

    `other_ingredients` are in the bowl and do not count.
    """
    working = Working("Baker's percentage")
    base = working.given("flour", "flour", flour, "mass", role="flour")
    part = working.given("weight", ingredient.name, weight, "mass", role="ingredient")
    if other_ingredients:
        working.given(
            "other ingredients", "other ingredients", other_ingredients, "mass", role="ingredient"
        )
    _percentage_step(working, part, base, ingredient.name, weight / flour)
    return working


@quantity(
    "percentage on total flour",
    "an ingredient's baker's percentage in a dough with two flours",
    FLOUR,
    FLOUR_KIND,
    Slot("second flour", "mass", 5, 50_000),
    SECOND_KIND,
    INGREDIENT,
    WEIGHT,
    plausible_low=0.002,
    plausible_high=1.5,
)
def percentage_on_total_flour(
    flour: float,
    flour_kind: Ingredient,
    second_flour: float,
    second_kind: Ingredient,
    ingredient: Ingredient,
    weight: float,
) -> Working:
    """Percentage = ingredient ÷ (flour + second flour): grams, a share."""
    working = Working("Baker's percentage with two flours")
    one = working.given("flour", flour_kind.name, flour, "mass", role="flour")
    two = working.given("second flour", second_kind.name, second_flour, "mass", role="flour")
    part = working.given("weight", ingredient.name, weight, "mass", role="ingredient")
    total = working.step(
        "total flour",
        "total flour",
        one + two,
        "mass",
        to=1.0,
        role="flour",
        why="All flours together are the 100 %.",
    )
    _percentage_step(working, part, total, ingredient.name, weight / (flour + second_flour))
    return working


@quantity(
    "flour from a percentage",
    "the flour in a dough, from one ingredient's weight and its baker's percentage",
    WEIGHT,
    INGREDIENT,
    Slot("percentage", "share", 0.005, 1.5),
    plausible_low=20,
)
def flour_from_percentage(weight: float, ingredient: Ingredient, percentage: float) -> Working:
    """Flour = ingredient ÷ its baker's percentage: grams, a share."""
    working = Working("Flour from a baker's percentage")
    part = working.given("weight", ingredient.name, weight, "mass", role="ingredient")
    share = working.given(
        "percentage",
        f"baker's percentage of {ingredient.name}",
        percentage,
        "share",
        role="baker's percentage",
    )
    working.step(
        "flour",
        "flour",
        part / share,
        "mass",
        to=1.0,
        why="The flour is the 100 %, and you know a part of it: divide by that part's percentage.",
    )
    return working


@quantity(
    "weights from percentages",
    "every weight of a dough with two flours, from its baker's percentages",
    FLOUR,
    FLOUR_KIND,
    Slot("second share", "share", 0.02, 0.9),
    SECOND_KIND,
    HYDRATION,
    SALT,
    Slot("yeast", "share", 0.002, 0.05),
    plausible_low=100,
    cells=True,
)
def weights_from_percentages(
    flour: float,
    flour_kind: Ingredient,
    second_share: float,
    second_kind: Ingredient,
    hydration: float,
    salt: float,
    yeast: float,
) -> Working:
    """The weigh-up of a water dough; `flour` is the total, `second_share` the second flour's part.

    Weights in grams; percentages are shares of the total flour.
    """
    working = Working("Weights from baker's percentages")
    total = working.given("flour", "total flour", flour, "mass", role="flour")
    percentages = {
        "second flour": (second_kind.name, second_share, "baker's percentage"),
        "water": ("water", hydration, "hydration"),
        "salt": ("salt", salt, "baker's percentage"),
        "yeast": ("yeast", yeast, "baker's percentage"),
    }
    weights = {}
    for key, (name, share, role) in percentages.items():
        percentage = working.given(
            f"{key} percentage", f"baker's percentage of {name}", share, "share", role=role
        )
        weights[key] = working.step(
            key,
            f"weight of {name}",
            total * percentage,
            "mass",
            role="one flour" if key == "second flour" else "",
            why="A baker's percentage counts on the total flour, so multiply that by it.",
        )
        if key == "second flour":
            working.step(
                "first flour",
                f"weight of {flour_kind.name}",
                total - weights[key],
                "mass",
                to=1.0,
                role="one flour",
                why="The two flours together are the total: take the second away.",
            )
    working.step(
        "dough",
        "weight of the dough",
        total + weights["water"] + weights["salt"] + weights["yeast"],
        "mass",
        to=1.0,
        why="Add up everything in the bowl. The total flour holds both flours already.",
    )
    return working
