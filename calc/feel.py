"""What a liquid usually does to a dough, and what to do about a sour one.

Two kinds of thing are here. The raised hydration and the softening fat are workings. The orders
(tightness, crust colour, softness, proof time) are simple scores of composition that say "usually".
Each thing they count is a `Claim` that says what it rests on: a measurement, common practice, or our
own reckoning. `STUDIES` holds the published tests, for and against, with their doses.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc import acid, units
from calc.composition import OWN_LIQUID, Ingredient, find
from calc.expression import Name
from calc.formula import Formula, FormulaError, Item, counts, hydration
from calc.interval import Interval
from calc.registry import FLOUR, HYDRATION, Slot, quantity, ranking
from calc.units import PLAIN, Style
from calc.words import capital
from calc.working import Working

# Common practice, no source: hydration may rise by this much when all the liquid is fully sour.
MOST_RAISE = 0.05
# From memory, no source: fat, as a share of the flour, that softens a dough of fully sour liquid.
SOFTENING_FAT = 0.03


# The choices: raise the water, or soften. To keep the water needs no calculation.

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
    "the hydration after the common raise for a sour liquid",
    HYDRATION,
    _PART,
    plausible_low=0.4,
    plausible_high=1.3,
)
def raised_hydration(hydration: float, part: float) -> Working:
    """Hydration + 5 points × the part of the water that is sour (common practice, no source)."""
    working = Working("Raised hydration for a sour liquid")
    _raised(working, *_raise(working, hydration, part))
    return working


@quantity(
    "extra water for a sour liquid",
    "the water to add for the common raise for a sour liquid",
    FLOUR,
    HYDRATION,
    _PART,
    plausible_low=1,
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


def fat_short(flour: float, part: float, fat_there: float) -> float:
    """How many grams of fat a sour dough lacks; 0 or less when what is there softens it."""
    return SOFTENING_FAT * flour * part - fat_there


def fat_in(formula: Formula) -> float | None:
    """The fat of a formula beside its flour's, in grams; None when a liquid's is not known."""
    points = _points(formula, "fat")
    return None if points is None else points * formula.flour / 100


@quantity(
    "softener for a sour dough",
    "the fat or yolk that softens a sour dough, and the water it brings",
    FLOUR,
    _PART,
    Slot("softener", "ingredient", needs="fat"),
    Slot("fat there", "mass", 0, 5_000),
    plausible_low=0.5,
)
def softening(flour: float, part: float, softener: Ingredient, fat_there: float = 0.0) -> Working:
    """How much fat or yolk softens a sour dough, and the water it brings (to take off the liquid).

    Weights in grams; `part` is the part of the water that is sour, `fat_there` the fat that the dough
    holds already, beside the flour's. The last step is the softener's water, if it has any. Raises
    FormulaError when the softener has no fat, or when the dough holds enough.
    """
    if not softener.fat:
        raise FormulaError(
            f"{capital(softener.name)} has no fat that we know of, so it cannot soften."
        )
    if fat_short(flour, part, fat_there) <= 0:
        raise FormulaError("This dough holds fat enough to be soft. It needs no more.")
    working = Working(f"Softening with {softener.name}")
    weight = working.given("flour", "flour", flour, "mass", role="flour")
    most = working.given(
        "most", "fat when all the liquid is sour (from memory)", SOFTENING_FAT, "share"
    )
    sour = working.given("part", "part of the water that is sour", part, "share", role="part")
    wanted = working.step(
        "wanted",
        "fat that softens it",
        weight * most * sour,
        "mass",
        why="The less of the water is sour, the less fat it takes.",
    )
    there = working.given("there", "fat that is in the dough already", fat_there, "mass")
    fat = working.step(
        "fat",
        "fat to add",
        wanted - there,
        "mass",
        why="The liquid, butter or egg brought this much: it softens too.",
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

# What a claim may rest on, and how a page says it.
GROUNDS = {
    "measured": "measured",
    "practice": "common practice, no source",
    "ours": "our own reckoning",
}


@dataclass(frozen=True)
class Claim:
    """A sentence, and what it rests on: a key of `GROUNDS`, and keys of `STUDIES`."""

    says: str
    ground: str
    studies: tuple[str, ...] = ()


@dataclass(frozen=True)
class Weight:
    """How much one point of something counts on a scale, and why."""

    of: str
    counts: float
    why: Claim


@dataclass(frozen=True)
class Scale:
    """One order: what comes first, what comes last, and what it is reckoned from.

    Scores (in the scale's own points) closer than `tie` are told as a tie. `rising`: the highest
    score comes first. `studies` are keys of `STUDIES`, for and against.
    """

    key: str
    name: str
    first: str
    last: str
    weights: tuple[Weight, ...]
    tie: float
    studies: tuple[str, ...]
    rising: bool = False
    note: str = ""


# What is counted, in points (hundredths of the flour), and how it is told.
FEATURES = {
    "sour": "points of hydration that the acid asks for",
    "held": "of those points, what the fat does not undo (0.3 a point of fat)",
    "water": "points of water",
    "thick": "points of water that the liquid’s fibre and protein hold (1 and 0.15 a point)",
    "fat": "points of fat",
    "sugars": "points of sugars",
    "left": "points of sugars left for the crust (all lactose, half of the others)",
    "protein": "points of protein beside the flour’s",
    "very sour": "mmol of acid for 100 g of flour, beyond 11 in 100 g of water",
    "fed": "what sugars do to yeast: each point helps 0.1 up to 5, and hinders 0.2 from there",
    "salt": "points of salt",
    "alcohol": "points of alcohol",
}
# Ours: how many of the acid's points one point of fat undoes while the dough rises.
_FAT_UNDOES = 0.3
# Ours: how much water a point of protein holds; fibre holds its own weight here, and more in a farinograph.
_PROTEIN_HOLDS = 0.15
# Ours: below so many mmol in 100 g of the dough's water, acid leaves the crust as it is: the flour takes it up.
_CRUST_BEARS = 11.0
# Sugar stimulates yeast up to about so many points, and slows it from there (study "sugar").
_SUGAR_TURNS = 5.0
# Salt, as a share of the flour, from which the common rule about acid may hold: it is about salted dough.
SALTED = 0.005

# The orders, each with what it counts.
SCALES = (
    Scale(
        "tightness",
        "How tight the dough is",
        "the tightest",
        "the loosest",
        (
            Weight("sour", 1, Claim("In a salted dough a sour liquid usually makes it tighter. Tests agree only in part.", "practice", ("organic-acids", "gluten"))),
            Weight("water", -1, Claim("More water makes a dough looser.", "practice")),
            Weight("thick", 1, Claim("Fibre and milk solids take up water, so a puree or milk makes a dough stiffer than its water says. Whey protein does so only once it was heated; that egg white does is our own reckoning.", "measured", ("fibre", "milk-absorption", "whey"))),
            Weight("fat", -0.1, Claim("Fat usually makes a dough a little looser.", "practice")),
        ),
        0.5,
        ("organic-acids", "gluten", "dairy", "yogurt", "dry-sourdough", "dry-sourdough-salt", "uht", "milk-absorption", "fibre", "whey"),
        note="It takes for granted that all milk was heated alike. Milk that was not heated enough makes a slack dough; the milk of yogurt was heated hot and long.",
    ),
    Scale(
        "crust colour",
        "How brown the crust is",
        "the brownest",
        "the dullest",
        (
            Weight("left", 1, Claim("Bread yeast cannot eat lactose, so all of it is left for the crust; of other sugars it eats a part.", "measured", ("milk-absorption",))),
            Weight("protein", 0.25, Claim("Protein browns together with sugar.", "measured", ("whey",))),
            Weight("very sour", -0.7, Claim("Acid slows browning. A dough takes up some of it: buttermilk’s crust is usually about as brown as milk’s, and yogurt’s dull.", "practice", ("browning",))),
        ),
        0.45,
        ("milk-absorption", "whey", "browning"),
        note="Yogurt has turned more of its milk sugar into acid, and holds more acid than buttermilk: less sugar to brown, and slower browning.",
    ),
    Scale(
        "softness",
        "How soft the dough and the crumb are",
        "the softest",
        "the firmest",
        (
            Weight("fat", 0.5, Claim("Fat usually softens, and a liquid may bring much of it.", "practice", ("yolk",))),
            Weight("sugars", 0.6, Claim("Sugar draws water and becomes syrup, which softens too.", "practice")),
            Weight("thick", -0.3, Claim("Much protein or fibre makes a crumb firmer.", "measured", ("whey", "fibre"))),
            Weight("sour", -0.25, Claim("A dough tight with acid may stay firmer; in the crumb it shows less. Many bakers find buttermilk bread softer than water bread.", "practice", ("dairy",))),
        ),
        0.6,
        ("dairy", "yogurt", "whey", "yolk", "fibre"),
    ),
    Scale(
        "proof time",
        "How soon it has risen",
        "the first to rise",
        "the last to rise",
        (
            Weight("held", 1, Claim("Acid may slow a dough; fat lets it give way to the gas. Up to about half an hour more when all the liquid is sour and lean.", "practice", ("milk-absorption", "acid-and-yeast"))),
            Weight("fat", 0.03, Claim("Much fat may slow a dough.", "practice")),
            Weight("fed", 1, Claim("A little sugar feeds yeast and helps; from about 5 % of the flour on it slows. Lactose does neither: yeast cannot eat it.", "measured", ("sugar", "milk-absorption"))),
            Weight("salt", 2, Claim("Much salt may slow yeast.", "practice")),
            Weight("alcohol", 1, Claim("Alcohol may slow yeast.", "practice")),
        ),
        1.0,
        ("milk-absorption", "acid-and-yeast", "succinic", "dry-sourdough", "sugar"),
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
    """A variant's place: `rank` from 1, or 0 when a figure is missing; `says` in words.

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
    fat, sugars = _points(formula, "fat"), _points(formula, "sugars")
    lactose = _points(formula, "lactose")
    water = 100 * hydration(formula).values()["hydration"]
    sourness_ = acid.sourness(formula)
    sour = None if sourness_ is None else 100 * MOST_RAISE * sourness_[0]
    left = eaten = None
    if sugars is not None and lactose is not None:
        eaten = sugars - lactose
        left = lactose + eaten / 2
    return {
        "sour": sour,
        "held": None if fat is None or sour is None else max(0.0, sour - _FAT_UNDOES * fat),
        "water": water,
        "thick": _points(formula, "fibre", 0.0) + _PROTEIN_HOLDS * _points(formula, "protein", 0.0),
        "fat": fat,
        "sugars": sugars,
        "left": left,
        "protein": _points(formula, "protein"),
        "very sour": _very_sour(formula, water),
        "fed": None if eaten is None else _fed(eaten),
        "salt": _points(formula, "salt"),
        "alcohol": _points(formula, "alcohol"),
    }


def _very_sour(formula: Formula, water: float) -> float | None:
    load = acid.load(formula)
    return None if load is None else max(0.0, load[0] - _CRUST_BEARS * water / 100)


def _fed(sugars: float) -> float:
    """What fermentable sugars do to the time of the rise: they help, then hinder."""
    return -0.1 * min(sugars, _SUGAR_TURNS) + 0.2 * max(0.0, sugars - _SUGAR_TURNS)


def salted(formula: Formula) -> bool:
    """Whether the dough holds salt enough for what bakers say about acid."""
    return formula.flour > 0 and (_points(formula, "salt", 0.0) or 0.0) >= 100 * SALTED


def _points(formula: Formula, part: str, otherwise: float | None = None) -> float | None:
    grams = 0.0
    for item in formula.items:
        share = _share(item.ingredient, part)
        share = otherwise if share is None else share
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


def _counted(
    formula: Formula, found: dict[str, float | None], scale: Scale
) -> dict[str, float | None]:
    """The features as a scale may count them: without salt nobody knows which way acid works."""
    unsalted = scale.key == "tightness" and found["sour"] and not salted(formula)
    return found | {"sour": None} if unsalted else found


def score(found: dict[str, float | None], scale: Scale) -> float | None:
    """A scale's score from `features`, in the scale's own points; None when a figure is missing."""
    values = [found[weight.of] for weight in scale.weights]
    if None in values:
        return None
    return sum(weight.counts * value for weight, value in zip(scale.weights, values, strict=True))


def orders(
    variants: Sequence[Variant], scales: Sequence[Scale], style: Style = PLAIN
) -> dict[str, list[Place]]:
    """The variants on several scales, by the scales' keys: each as `order` has it. Raises as `sour_share`."""
    found = {variant: features(variant.formula) for variant in variants}
    return {scale.key: _order(found, scale, style) for scale in scales}


def order(variants: Sequence[Variant], scale: Scale, style: Style = PLAIN) -> list[Place]:
    """The variants on a scale, first to last, with the reason for each; ties share a rank.

    A variant with a missing figure comes last, with rank 0. Raises as `sour_share`.
    """
    return orders(variants, [scale], style)[scale.key]


def _order(
    variants: Mapping[Variant, dict[str, float | None]], scale: Scale, style: Style
) -> list[Place]:
    found = {each: _counted(each.formula, held, scale) for each, held in variants.items()}
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
            reason = _reason(variant.formula, found[variant], scale, style)
            places.append(Place(variant, rank, len(group) > 1, scores[variant], says, reason))
    for variant in variants:
        if scores[variant] is None:
            reason = _missing(variant.formula, found[variant], scale)
            places.append(Place(variant, 0, False, None, "not placed", reason))
    return places


def _says(scale: Scale, number: int, groups: int, tied: bool) -> str:
    if groups == 1:
        return "usually much the same, a tie" if tied else "the only one here"
    end = scale.first if number == 0 else scale.last if number == groups - 1 else "in between"
    return f"usually {end}" + (", a tie" if tied else "")


# How a reason tells a feature; what is told as another one, or not at all, is not there.
_SHORT = {
    "water": "water", "fat": "fat", "sugars": "sugars", "protein": "protein", "salt": "salt",
    "alcohol": "alcohol", "left": "sugars left for the crust", "thick": "water held by fibre and protein",
}  # fmt: skip
# What a missing feature lacks.
_LACKS = {"left": "sugars", "fed": "sugars", "sour": "acid", "very sour": "acid"}


def _reason(formula: Formula, found: dict[str, float | None], scale: Scale, style: Style) -> str:
    # What the fat holds of the acid is told as the fat itself.
    counted = dict.fromkeys(
        {"held": "fat", "fed": "sugars"}.get(weight.of, weight.of) for weight in scale.weights
    )
    told = []
    if found["sour"] is not None and scale.key != "crust colour":
        share = found["sour"] / (100 * MOST_RAISE)
        told.append(f"{units.write(share, 'share', style)} of the water counts as sour")
    if "very sour" in counted:
        told.append(
            f"{units.digits(acid.load(formula)[0], 0.1, style)} mmol of acid for 100 g of flour"
        )
    shares = [
        f"{_SHORT[of]} {units.write(found[of] / 100, 'share', style, step=0.001)}"
        for of in counted
        if of in _SHORT and not (of in ("alcohol", "thick") and not found[of])
    ]
    return "; ".join([*told, f"{', '.join(shares)} of the flour"])


def _missing(formula: Formula, found: dict[str, float | None], scale: Scale) -> str:
    missing = {weight.of for weight in scale.weights if found[weight.of] is None}
    if "sour" in missing and acid.sourness(formula) is not None:
        return "Without salt, acid may make a dough tighter or softer."
    lacks = [_LACKS.get(one, one) for one in sorted(missing)]
    if "held" in missing:
        lacks = ["acid" if acid.sourness(formula) is None else "fat", *lacks]
    names = dict.fromkeys(one for one in lacks if one != "held")
    return f"We do not know its {' and '.join(names)}."


# What a problem set may ask to order liquids by: one plain dough, all its water from the liquid.

_DOUGH_FLOUR = 500.0
_DOUGH_HYDRATION = 0.65
_DOUGH_SALT = 0.02


def _register(scale: Scale) -> None:
    asks = f"{capital(scale.first)} first, as a dough at the same water."

    def tells(liquid: Ingredient, style: Style) -> str:
        dough = _dough(liquid)
        return _reason(dough, features(dough), scale, style)

    @ranking(scale.key, asks, tells, same=scale.tie)
    def _(liquid: Ingredient) -> float:
        found = score(features(_dough(liquid)), scale)
        if found is None:
            raise ValueError(f"The table does not know enough of {liquid.name}. Choose another.")
        return -found if scale.rising else found


def _dough(liquid: Ingredient) -> Formula:
    if not liquid.water:
        raise ValueError(f"{capital(liquid.name)} holds no water. Choose a liquid.")
    water = Item(replace(liquid, group=OWN_LIQUID), _DOUGH_FLOUR * _DOUGH_HYDRATION / liquid.water)
    salt = Item(find("salt"), _DOUGH_FLOUR * _DOUGH_SALT)
    return Formula((Item(find("bread-flour"), _DOUGH_FLOUR), water, salt))


for _scale in SCALES:
    _register(_scale)


# What published work says.


@dataclass(frozen=True)
class Study:
    """One published work: what it reports, its dose in a baker's units, its side, and what we read.

    `side` is about what bakers commonly say: ``for``, ``against``, ``mixed``, or ``about`` it.
    """

    citation: str
    link: str
    dose: str
    says: str
    side: str
    read: str = "abstract"


# Published works on acid, dairy, sugar and dough, on whichever side they are.
STUDIES = {
    "organic-acids": Study(
        "Cereal Chemistry, “Effect of organic acids and NaCl on the rheological properties of dough prepared using Pembina and Harvest CWRS wheat cultivars”",
        "doi 10.1002/cche.10050",
        "1.2 mmol of acid for 100 g of flour (0.07 to 0.23 % of the flour), about a sixth of a buttermilk dough; salt 0, 1 and 2 %",
        "More salt made doughs stiffer and less sticky. Acetic, citric and lactic acid made dough stiffer over all, fumaric acid did the opposite. "
        "One of the two wheats became a little stiffer with acid, the other softer. Every acid made dough stickier, most of all without salt.",
        "mixed",
    ),
    "gluten": Study(
        "European Food Research and Technology 217 (2003) 235, “Model studies for wheat sourdough systems using gluten, lactate buffer and sodium chloride”",
        "doi 10.1007/s00217-003-0747-7",
        "washed gluten in lactic buffer at pH 3.9, with 3 g of salt in 100 ml or none",
        "With salt, the acid made gluten firmer and more elastic. Without salt it made gluten softer than plain water did. So salt decides.",
        "mixed",
    ),
    "dairy": Study(
        "Foods 2020, 9(6), 828, “Impact of Dairy Ingredients on Wheat Flour Dough Rheology and Bread Properties”",
        "doi 10.3390/foods9060828",
        "milk or acid whey in place of a part of the water",
        "Dough with milk was more elastic than dough with water, dough with acid whey less elastic. Up to 25 % acid whey the "
        "dough resisted more; above 25 % milk it resisted less. Bread with either was firmer and smaller, so the authors advise less than 25 %.",
        "mixed",
    ),
    "yogurt": Study(
        "Applied Sciences 2019, 9(19), 4101, “Wheat Bread with Dairy Products: Technology, Nutritional, and Sensory Properties”",
        "doi 10.3390/app9194101",
        "10 to 70 g of yogurt, or 10 to 83 g of fresh cheese, set against dough with none",
        "The direct test of yogurt in wheat dough: it pulled the doughs after an hour at 30 °C, and baked them. We could read the plan of the test and not its results, so it is on no side here.",
        "about",
        "start of the abstract and one figure’s caption",
    ),
    "dry-sourdough": Study(
        "Foods 2020, 9(10), 1465, “The Effect of Sea Salt, Dry Sourdough and Fermented Sugar as Sodium Chloride Replacers on Rheological Behavior of Wheat Flour Dough”",
        "doi 10.3390/foods9101465",
        "dry sourdough in place of salt; the best mix had 0.5 % of the flour",
        "Dry sourdough weakened the dough in mixing and stretching tests, and the dough made more gas. But it took the place of salt, and sourdough is food for yeast too.",
        "against",
    ),
    "dry-sourdough-salt": Study(
        "Foods 2020, 9(5), 610, by the same group, “The Effect of Sodium Reduction by Sea Salt and Dry Sourdough Addition on the Wheat Flour Dough Rheological Properties”",
        "doi 10.3390/foods9050610",
        "dry sourdough and low-sodium salt in place of salt",
        "Dry sourdough weakened the gluten net, and yet had a significant positive effect on the extension of the dough.",
        "mixed",
    ),
    "uht": Study(
        "Canadian Institute of Food Science and Technology Journal 19 (1986) 231, “Bread Baking Potential of UHT-Milk”",
        "",
        "liquid milk in bread dough, heated in three ways",
        "Dough from unheated milk is slack and gives small loaves. UHT milk gave stronger doughs than pasteurised or scalded milk. So a part of what looks like acid may be heat.",
        "about",
    ),
    "milk-absorption": Study(
        "Understanding Ingredients for the Canadian Baker, chapter “Milk in Bread Baking” (BCcampus, open textbook)",
        "opentextbc.ca/ingredients",
        "skim milk powder, 2 to 8 % of the flour",
        "Milk makes a dough take up more water. Its dough ferments more slowly, as its pH is higher; buttermilk and sour milk need a shorter fermentation. Lactose does not ferment, and browns the crust.",
        "against",
        "chapter",
    ),
    "fibre": Study(
        "Foods 2024, 13(16), 2582, “Technological Evaluation of Fiber Effects in Wheat-Based Dough and Bread”",
        "doi 10.3390/foods13162582",
        "pea, cocoa or apple fibre for 1, 5 and 10 % of the flour",
        "Fibre raised the water that a dough takes up. Up to 5 % the harm was small; at 10 % dough and bread changed much.",
        "for",
    ),
    "whey": Study(
        "University of Mauritius Research Journal, “Effect of Whey Protein Isolate on Dough and Bread Characteristics”",
        "ajol.info, article 134669",
        "whey protein, 1 to 3 % of the flour, heated or not",
        "Not heated, it lowered the water that the flour takes up, weakened the gluten, made the loaf smaller and its crumb firmer, the more of it there was. Heated, it left the crumb soft. Both darkened the crust slightly.",
        "mixed",
    ),
    "yolk": Study(
        "Journal of Cookery Science of Japan 55(6) (2022) 281",
        "",
        "egg yolk, egg white, whole egg or lecithin in bread",
        "Yolk or lecithin gave larger and softer bread than white or no egg did.",
        "for",
        "summary by a reviewer, not the paper",
    ),
    "browning": Study(
        "Journal of Agricultural and Food Chemistry 44 (1996) 594, on glucose and lysine at pH 5.1 to 10.1",
        "",
        "solutions of sugar and amino acid at 40 to 60 °C, no dough",
        "How fast they browned hung on the pH. That browning is slower the lower the pH is told by every textbook of food chemistry (from memory).",
        "about",
    ),
    "acid-and-yeast": Study(
        "Cereal Chemistry 64 (1987) 343, “Chemical Leavening: Effect of pH and Certain Ions on Breadmaking Properties”",
        "",
        "dough at pH 5.5 and 6.75",
        "Yeast bore moderate changes of pH: at 6.75 it was about 90 % as active as at 5.5. A textbook on fermented foods says that it is held back only near pH 4 and below.",
        "against",
    ),
    "succinic": Study(
        "Food Chemistry 136 (2013) 301, on the metabolites of yeast in fermenting dough",
        "doi 10.1016/j.foodchem.2012.08.039",
        "yeasted dough, no sour liquid",
        "Yeast itself makes up to 1.6 mmol of succinic acid for 100 g of flour. A sour liquid counts only beside that.",
        "about",
    ),
    "sugar": Study(
        "A handbook chapter on baker’s yeast and the rheofermentometer, read in a public copy that does not name the book",
        "",
        "table sugar, % of the flour, French baker’s yeast",
        "A little sugar stimulates fermentation and makes it last; from 5 % upwards it is slower and slower.",
        "for",
        "page",
    ),
}  # fmt: skip
