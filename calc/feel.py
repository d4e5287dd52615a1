"""How sour a dough's liquid is, and what that and the rest of a liquid usually does to the dough.

Two kinds of thing stand here. The share of sour water, the raised hydration and the softening fat
are workings. The orders (tightness, crust colour, softness, proof time) are simple scores of
composition: their weights are ours, chosen to agree with common practice (no source), and they say
"usually". `EVIDENCE` says where published work agrees and where it does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc import units
from calc.composition import OWN_LIQUID, Ingredient, find
from calc.expression import Expression, Name, Number
from calc.formula import Formula, FormulaError, Item, counts, hydration
from calc.interval import Interval
from calc.registry import Slot, quantity, ranking
from calc.units import PLAIN, Style
from calc.working import PART_OF_A_WHOLE, Working

# Common practice, no source: a liquid near the first pH counts as fully sour, one at the second
# (milk) as not sour.
SOUR_PH = 4.5
MILD_PH = 6.5
# Common practice, no source: hydration may rise by this much when all the liquid is fully sour.
MOST_RAISE = 0.05
# From memory, no source: fat, as a share of the flour, that softens a dough of fully sour liquid.
SOFTENING_FAT = 0.03


# How sour the liquid is.


def liquids(formula: Formula) -> tuple[Item, ...]:
    """The items whose water counts as the dough's liquid."""
    return tuple(item for item in formula.items if item.grams and counts(item, "water"))


def sour_share(parts: Sequence[Item]) -> Working:
    """The share of the liquid's water that is sour; the last step, ``share``, is a fraction.

    Each liquid's pH is placed between `MILD_PH` (counts 0) and `SOUR_PH` (counts 1), in a straight
    line, and weighed by its water. Reason for a straight line: in a buffered food each step of pH
    takes about as much acid as the last. It leaves out how much acid a liquid holds at its pH, what
    the flour takes up and what yeast makes, and it does not tell lemon juice from buttermilk. It is
    an index and no pH. The bounds carry each liquid's pH range; a liquid of unknown pH may be
    anything.

    Raises FormulaError when there is no liquid with water.
    """
    parts = [item for item in parts if item.grams and item.ingredient.water]
    if not parts:
        raise FormulaError("There is no liquid in this dough. Give it one with water in it.")
    working = Working("How much of the liquid's water is sour")
    waters, sour = [], []
    for number, item in enumerate(parts):
        water = _water(working, number, item)
        sourness = _sourness(working, number, item.ingredient)
        waters.append(water)
        sour.append(water * sourness)
    if len(parts) == 1:
        return working
    working.step(
        "share",
        "sour share of the water",
        _sum(sour) / _sum(waters),
        "share",
        why="Each liquid counts by its water.",
    )
    return working


def _water(working: Working, number: int, item: Item) -> Name:
    name = item.ingredient.name
    weight = working.given(f"weight{number}", name, item.grams, "mass", role="ingredient")
    if item.ingredient.water == 1:
        return weight
    content = working.given(
        f"content{number}",
        f"water content of {name}",
        item.ingredient.water,
        "share",
        item.ingredient.water_range,
        role="water content",
        of=item.ingredient.key,
    )
    return working.step(
        f"water{number}",
        f"water in the {name}",
        weight * content,
        "mass",
        to=1.0,
        role="water",
        why="Only this part of it is water.",
    )


def _sourness(working: Working, number: int, ingredient: Ingredient) -> Name:
    known = ingredient.ph or Interval(SOUR_PH, MILD_PH)
    unknown = "" if ingredient.ph else ", not known"
    ph = working.given(
        f"ph{number}",
        f"pH of {ingredient.name}, counted from {SOUR_PH} to {MILD_PH}{unknown}",
        _counted((known.low + known.high) / 2),
        "number",
        Interval(_counted(known.low), _counted(known.high)),
    )
    return _how_sour(working, number, ingredient, ph)


def _how_sour(working: Working, number: int, ingredient: Ingredient, ph: Name) -> Name:
    return working.step(
        f"sour{number}",
        f"how sour {ingredient.name} is",
        (Number(MILD_PH) - ph) / (Number(MILD_PH) - Number(SOUR_PH)),
        "share",
        why=f"pH {MILD_PH} counts as not sour, pH {SOUR_PH} as fully sour, with a straight line between.",
    )


def _counted(ph: float) -> float:
    return min(MILD_PH, max(SOUR_PH, ph))


def sourness(formula: Formula) -> tuple[float, Interval]:
    """The sour share of a formula's liquid, and its bounds. Raises as `sour_share`."""
    working = sour_share(liquids(formula))
    key = working.answer.key
    # A share that rounding in the last bit, or bounds that are too wide, carry over the whole.
    share = min(1.0, working.values()[key])
    return share, working.bounds()[key].intersection(Interval(0.0, 1.0))


def ph_bounds(parts: Sequence[Item]) -> Interval | None:
    """Between which pH values the mixed liquid lies; None when a part's pH is not known.

    A mixture's pH lies between the lowest and the highest of its parts: each part takes up more
    acid the lower the pH, so the mixture's charge balance changes sign between the two. How much
    nearer to which end depends on their buffers, which the table does not know. The flour is left
    out, and so is what yeast makes.
    """
    ranges = [item.ingredient.ph for item in parts if item.grams]
    if not ranges or None in ranges:
        return None
    return Interval(min(one.low for one in ranges), max(one.high for one in ranges))


def _sum(names: list[Expression]) -> Expression:
    return sum(names[1:], names[0])


@quantity(
    "sour part of the water",
    "how much of the dough's water counts as sour when plain water brings the rest",
    Slot("liquid", "ingredient"),
    Slot("ph", "number", SOUR_PH, MILD_PH),
    Slot("liquid weight", "mass", 20, 50_000),
    Slot("water weight", "mass", 20, 50_000),
    least=0.02,
    most=1.0,
)
def sour_part(liquid: Ingredient, ph: float, liquid_weight: float, water_weight: float) -> Working:
    """`sour_share` for one liquid whose pH is told, and plain water, which counts as not sour.

    Weights in grams; `ph` from `SOUR_PH` to `MILD_PH`. The answer is a fraction.
    """
    working = Working("How much of the water is sour")
    water = _water(working, 0, Item(liquid, liquid_weight))
    told = working.given("ph0", f"pH of {liquid.name}", ph, "number")
    sourness = _how_sour(working, 0, liquid, told)
    plain = working.given("plain", "plain water", water_weight, "mass", role="ingredient")
    total = working.step("total", "water in all", water + plain, "mass", why="Add it up.")
    working.step(
        "share",
        "sour part of the water",
        water * sourness / total,
        "share",
        role=PART_OF_A_WHOLE,
        why="Only the liquid's water is sour, and only as far as its pH says. Compare it with all the water.",
    )
    return working


# The choices: raise the water, or soften. To keep the water needs no calculation.

_HYDRATION = Slot("hydration", "share", 0.40, 1.20)
_PART = Slot("part", "share", 0.05, 1.0)


def _raise(
    working: Working, wetness: float, sour: float, sour_range: Interval | None = None
) -> tuple[Name, Name]:
    """Add the hydration and the raise that the sour part asks for; gives both."""
    base = working.given("hydration", "hydration", wetness, "share", role="hydration")
    most = working.given(
        "most", "raise when all the liquid is sour (common practice)", MOST_RAISE, "share"
    )
    part = working.given(
        "part", "part of the water that is sour", sour, "share", sour_range, role="part"
    )
    return base, working.step(
        "raise",
        "raise in hydration",
        most * part,
        "share",
        to=0.001,
        role="points",
        why="Less of the water is sour, so the raise is less, in proportion.",
    )


def _raised(working: Working, base: Name, points: Name) -> None:
    working.step(
        "raised",
        "raised hydration",
        base + points,
        "share",
        to=0.001,
        why="A baker counts hydration in points: add them to the percentage.",
    )


def _extra(working: Working, flour: float, points: Name) -> None:
    weight = working.given("flour", "flour", flour, "mass", role="flour")
    working.step(
        "extra",
        "water to add",
        weight * points,
        "mass",
        why="Points of hydration count on the flour, so multiply the flour by them.",
    )


@quantity(
    "raised hydration for a sour liquid",
    "the hydration after the common raise for a liquid near pH 4.5",
    _HYDRATION,
    _PART,
    least=0.4,
    most=1.3,
)
def raised_hydration(hydration: float, part: float) -> Working:
    """Hydration + 5 points × the part of the water that is sour (common practice, no source)."""
    working = Working("Raised hydration for a sour liquid")
    _raised(working, *_raise(working, hydration, part))
    return working


@quantity(
    "extra water for a sour liquid",
    "the water to add for the common raise for a liquid near pH 4.5",
    Slot("flour", "mass", 50, 50_000),
    _HYDRATION,
    _PART,
    least=1,
)
def water_to_add(flour: float, hydration: float, part: float) -> Working:
    """`extra_water`, in grams, as problem sets ask for it: without the raised hydration."""
    working = Working("Extra water for a sour liquid")
    _, points = _raise(working, hydration, part)
    _extra(working, flour, points)
    return working


def extra_water(
    flour: float, hydration: float, part: float, part_range: Interval | None = None
) -> Working:
    """Flour × the raise of `raised_hydration`, in grams, and the raised hydration on the way.

    `hydration` is a share, `part` the share of the water that is sour, `part_range` what it may be.
    """
    working = Working("Extra water for a sour liquid")
    base, points = _raise(working, hydration, part, part_range)
    _raised(working, base, points)
    _extra(working, flour, points)
    return working


@quantity(
    "softener for a sour dough",
    "the fat or yolk that softens a sour dough, and the water it brings",
    Slot("flour", "mass", 50, 50_000),
    _PART,
    Slot("softener", "ingredient", needs="fat"),
    least=0.5,
)
def softening(flour: float, part: float, softener: Ingredient) -> Working:
    """How much fat or yolk softens a sour dough, and the water it brings (to take off the liquid).

    Weights in grams; `part` is the part of the water that is sour. The last step is the
    softener's water, if it has any. Raises FormulaError when the softener has no fat.
    """
    if not softener.fat:
        raise FormulaError(f"{softener.name} has no fat that we know of, so it cannot soften.")
    working = Working(f"Softening with {softener.name}")
    weight = working.given("flour", "flour", flour, "mass", role="flour")
    most = working.given(
        "most", "fat when all the liquid is sour (from memory)", SOFTENING_FAT, "share"
    )
    sour = working.given("part", "part of the water that is sour", part, "share", role="part")
    fat = working.step(
        "fat",
        "fat to add",
        weight * most * sour,
        "mass",
        why="The less of the water is sour, the less fat it takes.",
    )
    content = working.given(
        "fat content", f"fat content of {softener.name}", softener.fat, "share", role="fat content"
    )
    softens = working.step(
        "softener",
        softener.name,
        fat / content,
        "mass",
        why="Only this part of it is fat: divide.",
    )
    if softener.water:
        water = working.given(
            "content",
            f"water content of {softener.name}",
            softener.water,
            "share",
            softener.water_range,
            role="water content",
        )
        working.step(
            "water",
            f"water in that {softener.name}",
            softens * water,
            "mass",
            to=0.1,
            why="Take this off the liquid, so that the dough's water stays the same.",
        )
    return working


# The orders.


@dataclass(frozen=True)
class Weight:
    """How much one point of something counts on a scale, and why."""

    of: str
    counts: float
    why: str


@dataclass(frozen=True)
class Scale:
    """One order: what comes first, what comes last, and what it is reckoned from.

    Scores (in the scale's own points) closer than `tie` are told as a tie. `rising`: the highest score comes first.
    """

    key: str
    name: str
    first: str
    last: str
    weights: tuple[Weight, ...]
    tie: float
    rising: bool = False
    note: str = ""


# What is counted, in points (hundredths of the flour), and how it is told.
FEATURES = {
    "sour": "points of hydration that the acid asks for",
    "held": "of those points, what the fat does not undo (0.3 a point of fat)",
    "water": "points of water",
    "fat": "points of fat",
    "sugars": "points of sugars",
    "left": "points of sugars left for the crust (all lactose, half of the others)",
    "protein": "points of protein beside the flour’s",
    "salt": "points of salt",
    "alcohol": "points of alcohol",
}
# Ours: how many of the acid's points one point of fat undoes while the dough rises.
_FAT_UNDOES = 0.3

# The orders, each with what it counts.
SCALES = (
    Scale(
        "tightness",
        "How tight the dough is",
        "the tightest",
        "the loosest",
        (
            Weight("sour", 1, "A sour liquid usually makes a dough tighter (common practice)."),
            Weight("water", -1, "More water makes a dough looser."),
            Weight("fat", -0.1, "Fat usually makes a dough a little looser."),
        ),
        0.5,
    ),
    Scale(
        "crust colour",
        "How brown the crust is",
        "the brownest",
        "the dullest",
        (
            Weight("left", 1, "Bread yeast usually cannot eat lactose, so all of it is left for the crust; of other sugars it eats a part."),
            Weight("protein", 0.25, "Protein browns together with sugar."),
        ),
        0.2,
        note="Acid may slow browning. This score leaves that out, and so it leaves out the oven.",
    ),
    Scale(
        "softness",
        "How soft the dough and the crumb are",
        "the softest",
        "the firmest",
        (
            Weight("fat", 1, "Fat usually softens most."),
            Weight("sugars", 0.5, "Sugar usually softens too, but less."),
            Weight("sour", -0.6, "A dough tight with acid may stay firmer; in the crumb it shows less."),
        ),
        1.0,
    ),
    Scale(
        "proof time",
        "How soon it has risen",
        "the first to rise",
        "the last to rise",
        (
            Weight("held", 1, "Acid may slow a dough; fat lets it give way to the gas. Common practice: up to about half an hour more when all the liquid is sour and lean."),
            Weight("fat", 0.03, "Much fat may slow a dough (common practice)."),
            Weight("sugars", 0.2, "Much sugar takes water from the yeast, and may slow it."),
            Weight("salt", 2, "Much salt may slow yeast."),
            Weight("alcohol", 1, "Alcohol may slow yeast."),
        ),
        1.0,
        rising=True,
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Variant:
    """A formula with a name to call it by."""

    name: str
    formula: Formula


@dataclass(frozen=True)
class Place:
    """Where a variant stands: `rank` from 1, or 0 when a figure is missing; `says` in words.

    `score` is in the scale's own points, None when a figure is missing.
    """

    variant: Variant
    rank: int
    tied: bool
    score: float | None
    says: str
    reason: str


def features(formula: Formula) -> dict[str, float | None]:
    """What the scores count, in points (hundredths of the flour); None where the table has no figure.

    An unknown figure of anything but a liquid counts as nothing: it is in every variant alike.
    """
    sour = 100 * MOST_RAISE * sourness(formula)[0]
    fat = _points(formula, "fat")
    lactose = _points(formula, "lactose")
    sugars = _points(formula, "sugars")
    return {
        "sour": sour,
        "held": None if fat is None else max(0.0, sour - _FAT_UNDOES * fat),
        "water": 100 * hydration(formula).values()["hydration"],
        "fat": fat,
        "sugars": sugars,
        "left": None if None in (sugars, lactose) else lactose + (sugars - lactose) / 2,
        "protein": _points(formula, "protein"),
        "salt": _points(formula, "salt"),
        "alcohol": _points(formula, "alcohol"),
    }


def _points(formula: Formula, part: str) -> float | None:
    grams = 0.0
    for item in formula.items:
        share = _share(item.ingredient, part)
        if item.ingredient.is_flour or not item.grams:
            continue
        if share is None and counts(item, "water"):
            return None
        grams += item.grams * (share or 0.0)
    return 100 * grams / formula.flour


def _share(ingredient: Ingredient, part: str) -> float | None:
    """A part's share; milk's unstated sugars are lactose, and what no source gives has no alcohol."""
    share = getattr(ingredient, part)
    if share is None and part == "alcohol":
        return 0.0
    if share is None and part == "lactose":
        return ingredient.sugars if "milk" in ingredient.allergens else 0.0
    return share


def score(found: dict[str, float | None], scale: Scale) -> float | None:
    """A scale's score from `features`, in the scale's own points; None when a figure is missing."""
    values = [found[weight.of] for weight in scale.weights]
    if None in values:
        return None
    return sum(weight.counts * value for weight, value in zip(scale.weights, values, strict=True))


def order(variants: Sequence[Variant], scale: Scale, style: Style = PLAIN) -> list[Place]:
    """The variants on a scale, first to last, with the reason for each; ties share a rank.

    A variant with a missing figure comes last, with rank 0. Raises as `sour_share`.
    """
    found = {variant: features(variant.formula) for variant in variants}
    scores = {variant: score(found[variant], scale) for variant in variants}
    known = [variant for variant in variants if scores[variant] is not None]
    known.sort(key=lambda variant: scores[variant], reverse=not scale.rising)
    groups: list[list[Variant]] = []
    for variant in known:
        if not groups or abs(scores[variant] - scores[groups[-1][0]]) >= scale.tie:
            groups.append([])
        groups[-1].append(variant)
    places: list[Place] = []
    for number, group in enumerate(groups):
        rank, says = len(places) + 1, _says(scale, number, len(groups), len(group) > 1)
        for variant in group:
            reason = _reason(found[variant], scale, style)
            places.append(Place(variant, rank, len(group) > 1, scores[variant], says, reason))
    for variant in variants:
        if scores[variant] is None:
            reason = _missing(found[variant], scale)
            places.append(Place(variant, 0, False, None, "not placed", reason))
    return places


def _says(scale: Scale, number: int, groups: int, tied: bool) -> str:
    if groups == 1:
        return "usually much the same, a tie" if tied else "the only one here"
    end = scale.first if number == 0 else scale.last if number == groups - 1 else "in between"
    return f"usually {end}" + (", a tie" if tied else "")


def _reason(found: dict[str, float | None], scale: Scale, style: Style) -> str:
    # What the fat holds of the acid is told as the fat itself.
    counted = list(
        dict.fromkeys("fat" if weight.of == "held" else weight.of for weight in scale.weights)
    )
    told = []
    if "sour" in counted or "fat" in counted:
        share = found["sour"] / (100 * MOST_RAISE)
        told.append(f"{units.write(share, 'share', style)} of the water is sour")
    shares = [
        f"{_SHORT.get(of, of)} {units.write(found[of] / 100, 'share', style, step=0.001)}"
        for of in counted
        if of != "sour" and not (of == "alcohol" and not found[of])
    ]
    return "; ".join([*told, f"{', '.join(shares)} of the flour"])


def _missing(found: dict[str, float | None], scale: Scale) -> str:
    parts = {"left": "sugars", "held": "fat"}
    missing = [weight.of for weight in scale.weights if found[weight.of] is None]
    return f"We do not know its {' and '.join(dict.fromkeys(parts.get(m, m) for m in missing))}."


_SHORT = {"left": "sugars left for the crust"}


# What a problem set may ask to order liquids by: one plain dough, all its water from the liquid.

_DOUGH_FLOUR = 500.0
_DOUGH_HYDRATION = 0.65


def _register(scale: Scale) -> None:
    asks = f"{scale.first[0].upper()}{scale.first[1:]} first, as a dough at the same water."

    def tells(liquid: Ingredient, style: Style) -> str:
        return _reason(_features_of_dough(liquid), scale, style)

    @ranking(scale.key, asks, tells, same=scale.tie)
    def _(liquid: Ingredient) -> float:
        found = score(_features_of_dough(liquid), scale)
        if found is None:
            raise ValueError(f"The table does not know enough of {liquid.name}. Choose another.")
        return -found if scale.rising else found


def _features_of_dough(liquid: Ingredient) -> dict[str, float | None]:
    if not liquid.water:
        raise ValueError(f"{liquid.name} holds no water. Choose a liquid.")
    water = Item(replace(liquid, group=OWN_LIQUID), _DOUGH_FLOUR * _DOUGH_HYDRATION / liquid.water)
    return features(Formula((Item(find("bread-flour"), _DOUGH_FLOUR), water)))


for _scale in SCALES:
    _register(_scale)


# What published work says.


@dataclass(frozen=True)
class Evidence:
    """One published study: what it reports, on which side it stands, and what of it we read."""

    citation: str
    doi: str
    says: str
    side: str
    read: str = "abstract"


# Published studies on acid, dairy and dough, on whichever side they stand.
EVIDENCE = (
    Evidence(
        "Cereal Chemistry, “Effect of organic acids and NaCl on the rheological properties of dough prepared using Pembina and Harvest CWRS wheat cultivars”",
        "10.1002/cche.10050",
        "Over all, acetic, citric and lactic acid made dough stiffer. Fumaric acid did the opposite. "
        "One of the two wheats became a little stiffer with acid, the other softer. Every acid made the dough stickier.",
        "mixed",
    ),
    Evidence(
        "Foods 2020, 9(6), 828, “Impact of Dairy Ingredients on Wheat Flour Dough Rheology and Bread Properties”",
        "10.3390/foods9060828",
        "Dough with milk was more elastic than dough with water, dough with acid whey less elastic. Up to 25 % acid whey the "
        "dough resisted more; above 25 % milk it resisted less. Bread with either was firmer and smaller, "
        "so the authors advise less than 25 %.",
        "mixed",
    ),
    Evidence(
        "Foods 2020, 9(10), 1465, on sea salt, dry sourdough and fermented sugar in place of salt",
        "",
        "Dry sourdough weakened the dough in mixing and stretching tests, and the dough made more gas.",
        "against",
    ),
)
