"""What a dough can bear: where a liquid cannot make bread, why, and what works in its place.

A `Limit` measures one thing in a dough. Above `warn` it is said before any number; above `stop`
no number is given at all. Every threshold is here, with where it comes from.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from calc.composition import OWN_LIQUID, Ingredient
from calc.formula import Formula
from calc.words import listed

# A sour liquid whose acid nobody states is taken to hold what vinegar holds. Grams in 1 g.
USUAL_ACID = 0.05
# Up to this pH a liquid is a condiment, such as lemon juice; other fruit juices lie above it.
CONDIMENT_PH = 3.0
# Vinegars lie below this. Wine may too, but it has alcohol and little else to 100 g.
VINEGAR_PH = 3.4
# Words of names of what holds its water in a curd.
CURDS = frozenset(
    ["cheese", "curd", "mascarpone", "okara", "paneer", "quark", "ricotta", "skyr", "tofu"]
)  # fmt: skip


def alcohol(ingredient: Ingredient) -> float:
    """Its alcohol, a share of its weight."""
    return ingredient.alcohol or 0.0


def vinegar_acid(ingredient: Ingredient) -> float:
    """Acetic acid, a share: the rest to 100 g in a vinegar, and in a reader's liquid that is as sour."""
    own = ingredient.group == OWN_LIQUID and _is_sour(ingredient, VINEGAR_PH)
    if ingredient.group != "acid" and not (own and ingredient.carbohydrate is not None):
        return 0.0
    parts = ("water", "protein", "fat", "carbohydrate", "ash", "alcohol")
    return max(0.0, 1 - sum(getattr(ingredient, part) or 0.0 for part in parts))


def fruit_acid(ingredient: Ingredient) -> float:
    """Citric acid of lemon juice and the like, a share: carbohydrate that is no sugar and no fibre."""
    if not _is_sour(ingredient, CONDIMENT_PH) or vinegar_acid(ingredient):
        return 0.0
    known = (ingredient.carbohydrate, ingredient.sugars, ingredient.fibre)
    return max(0.0, known[0] - known[1] - known[2]) if None not in known else USUAL_ACID


def _is_sour(ingredient: Ingredient, ph: float) -> bool:
    return ingredient.ph is not None and ingredient.ph.high <= ph


def added_sugar(ingredient: Ingredient) -> float:
    """Its sugars, a share; all of its carbohydrate where a sweetener's sugars are not known."""
    if ingredient.is_flour:
        return 0.0
    unknown = ingredient.carbohydrate if ingredient.group == "sweetener" else 0.0
    return (ingredient.sugars if ingredient.sugars is not None else unknown) or 0.0


def salt(ingredient: Ingredient) -> float:
    """Its salt, a share of its weight."""
    return ingredient.salt or 0.0


def held_water(ingredient: Ingredient) -> float:
    """Water that sits in curd or in the cells of a puree, a share of its weight."""
    words = set(ingredient.name.lower().replace("(", " ").split())
    holds = ingredient.group in ("puree", "fruit") or words & CURDS
    return ingredient.water if holds else 0.0


def _flour(dough: Formula) -> float:
    return dough.flour


def _water(dough: Formula) -> float:
    """Water in all liquids, grams."""
    return sum(
        item.grams * item.ingredient.water for item in dough.items if item.ingredient.is_liquid
    )


@dataclass(frozen=True)
class Limit:
    """A part of a dough, what it is counted on, and from which shares it is too much.

    `part` gives a share of an ingredient's weight, `base` grams of a dough. `warns`, `stops` and
    `works` are sentences; `yeast` says whether it matters only to a dough that yeast raises.
    """

    key: str
    title: str
    part: Callable[[Ingredient], float]
    base: Callable[[Formula], float]
    counted: str
    warn: float
    stop: float | None
    warns: str
    stops: str
    works: str
    source: str
    yeast: bool = True


LIMITS = (
    Limit(
        "vapour", "Alcohol and the oven", alcohol, _flour, "alcohol, of the flour", 0.03, 0.05,
        "in the oven its alcohol becomes vapour that can burn, several times what an ordinary dough "
        "gives off. Keep the oven's vent open, open its door slowly, and keep flames away.",
        "in the oven its alcohol becomes vapour that can catch fire: more than ten times what an "
        "ordinary dough gives off. So much alcohol slows or stops the yeast, too.",
        "Beer can take the place of all the water, wine of about a third. Brush spirit on bread that "
        "is cold.",
        "Ethanol vapour burns from 3.3 % of the air (a fire engineer's page on distilleries). "
        "Ordinary bread gives off about 0.28 % of its weight (EPA-453/R-92-017, as a method for "
        "small bakeries works it). The two lines are ours: about seven and twelve times that.",
        yeast=False,
    ),
    Limit(
        "vinegar", "Vinegar and yeast", vinegar_acid, _water, "acetic acid, of the water", 0.003, 0.006,
        "so much vinegar slows the yeast, and the bread tastes of it.",
        "yeast does not work in so much vinegar, and nobody would eat the bread.",
        "A spoonful in a loaf is what bakers use. For a sour bread take buttermilk, yogurt or a "
        "sourdough.",
        "Baker's yeast stops at about 0.6 % acetic acid (a study of 2001 on acids and yeast, from memory). "
        "In a test of eight other yeasts, more than 0.8 % stopped all, and 0.2 to 0.4 % some "
        "(a study of 1990, its summary). How much it bears hangs on the pH: in a test at a milder pH baker's "
        "yeast still grew in 0.9 %, a third slower (PLOS ONE 2013, 8(9), e73936, table 3).",
    ),
    Limit(
        "sour-juice", "Sour juice and yeast", fruit_acid, _water, "fruit acid, of the water", 0.008, 0.0125,
        "so much acid slows the yeast, and the bread tastes of it.",
        "yeast hardly works in so much acid.",
        "Use its grated rind for the taste, and a spoonful of juice. For a sour bread take "
        "buttermilk, yogurt or a sourdough.",
        "For lactic acid, the least that stopped yeasts in a test was 12.5 mg/ml (doi "
        "10.1111/jfpp.12679, its summary), in broth. We found no test with lemon juice and take the same. It is a "
        "careful line: flour and milk take up acid, so a dough with as much lactic acid from yogurt rises.",
    ),
    Limit(
        "syrup", "Sugar and yeast", added_sugar, _flour, "sugars, of the flour", 0.25, 0.5,
        "so much sugar draws water out of the yeast: the dough may rise for hours. Yeast that is "
        "made for sweet doughs bears more.",
        "so much sugar draws the water out of the yeast, and the dough stays flat.",
        "Use it as the sweetener, and water or milk as the liquid. Most sweet doughs have 10 to 25 % "
        "sugar.",
        "Sugar slows yeast from about 5 % of the flour. Doughs of 20 to 50 % need yeast bred for "
        "them (a handbook chapter on baker's yeast, read in a public copy that does not name the "
        "book).",
    ),
    Limit(
        "salt", "Salt and yeast", salt, _flour, "salt, of the flour", 0.03, None,
        "so much salt slows the yeast, and the bread tastes of it.",
        "",
        "Most doughs have 1.5 to 2.3 % salt. Weigh less of it where cheese or brine brings some.",
        "Salt draws water out of yeast as sugar does (the same chapter), and too much slows or stops it (a yeast "
        "maker's lessons on ingredients, without a figure). "
        "A treatise on baking salts bread with 1 to 2 %. The line is ours: half as much again as the usual 2 %.",
    ),
    Limit(
        "curd", "Water held fast", held_water, _water, "the water that curd and puree hold", 0.5, None,
        "most of this dough's water is held in curd or in the cells of a puree. It wets the flour "
        "slowly, and the dough may stay crumbs.",
        "",
        "Let it bring at most half of the water, and mash or blend it smooth. Or wait half an hour "
        "before you judge the dough.",
        "Common practice, no source.",
        yeast=False,
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Finding:
    """A limit that a dough passes: the share it has, and the ingredients that bring the most."""

    limit: Limit
    share: float
    brought_by: tuple[Ingredient, ...]

    @property
    def stops(self) -> bool:
        """Whether this dough cannot make bread."""
        return self.limit.stop is not None and self.share > self.limit.stop

    @property
    def reason(self) -> str:
        """Why, in a sentence that starts with what brings it."""
        names = listed(each.name for each in self.brought_by)
        return f"{names}: {self.limit.stops if self.stops else self.limit.warns}"

    @property
    def text(self) -> str:
        """The reason, and what works."""
        return f"{self.reason} {self.limit.works}"


def findings(dough: Formula) -> list[Finding]:
    """The limits that a dough passes, those that stop it first."""
    found = [_finding(limit, dough) for limit in LIMITS if not limit.yeast or by_yeast(dough)]
    passed = [each for each in found if each and each.share > each.limit.warn]
    return sorted(passed, key=lambda each: not each.stops)


def stopped(dough: Formula) -> Finding | None:
    """The first reason why a dough cannot make bread, if there is one."""
    return next((each for each in findings(dough) if each.stops), None)


def by_yeast(dough: Formula) -> bool:
    """Whether yeast raises it: unless it has baking powder or soda and no yeast."""
    groups = {item.ingredient.group for item in dough.items if item.grams}
    return "yeast" in groups or "leavening" not in groups


def _finding(limit: Limit, dough: Formula) -> Finding | None:
    base = limit.base(dough)
    brought = {item.ingredient: item.grams * limit.part(item.ingredient) for item in dough.items}
    if not base or not any(brought.values()):
        return None
    most = max(brought.values())
    chief = tuple(each for each, grams in brought.items() if grams >= most / 2)
    return Finding(limit, sum(brought.values()) / base, chief)


def most_that_works(swapped: Callable[[float], Formula], limit: Limit) -> int:
    """The largest whole percentage for which `swapped` (of a share) stays below a limit's warning."""
    works, too_much = 0, 100
    while too_much - works > 1:
        middle = (works + too_much) // 2
        found = _finding(limit, swapped(middle / 100))
        if found and found.share > limit.warn:
            too_much = middle
        else:
            works = middle
    return works
