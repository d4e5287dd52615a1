"""Balance what rides along with a swapped liquid.

After a swap the dough has the same water, but the new liquid brings its own fat, sugars and salt.
`balance` changes the weights of butter, oil, sugar, salt, milk powder and water so that the dough
again holds what it held. Butter brings its own water and milk powder its own sugars, so all weights
are found together. The water of the whole dough (butter's too) is always held.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from calc import composition
from calc.composition import RIDERS, Ingredient
from calc.expression import Expression, Name, summed
from calc.formula import Formula, FormulaError, Item, fat_given
from calc.least_squares import nearest
from calc.registry import LIQUID_WEIGHT, Slot, quantity
from calc.substitution import swap_working
from calc.words import listed, the
from calc.working import Working

# What a baker can hold beside the water, and what it is called.
PARTS = {part: RIDERS[part] for part in ("fat", "sugars", "salt")} | {"dough": "dough weight"}

# An ingredient may change a part of the dough only if it is at least this share that part. No baker
# adds a kilogram of butter for the trace of sugar in it. Our own choice.
LEVER = 0.05
# A part the dough has little of is counted against this share of the flour. Our own choice.
LEAST_SCALE = 0.01
# What no scale shows, in grams.
NOTHING = 0.001


@dataclass(frozen=True)
class Miss:
    """A part that could not be held: grams too much (below 0: too little), and what that does."""

    part: str
    grams: float
    share_of_flour: float
    reason: str
    effect: str


@dataclass(frozen=True)
class Unknown:
    """An ingredient whose content of a held part no source gives; it counts as nothing.

    `moves` says whether its weight differs before and after: only then can the balance be off.
    """

    ingredient: Ingredient
    part: str
    moves: bool


@dataclass(frozen=True)
class Balance:
    """A formula before the swap, after it, and balanced.

    `after` is the balanced formula; `held` the parts asked for, water not named; `changes` the
    change of each adjuster from the swapped formula, in grams; `misses` the parts that are off by
    more than 1 mg; `checks` the working that adds up each part before and after.
    """

    before: Formula
    swapped: Formula
    after: Formula
    held: tuple[str, ...]
    changes: dict[Ingredient, float]
    misses: tuple[Miss, ...]
    unknown: tuple[Unknown, ...]
    checks: Working


def share_of(ingredient: Ingredient, part: str) -> float:
    """A part's share of an ingredient; all of it is dough; nothing where the table knows nothing."""
    return 1.0 if part == "dough" else getattr(ingredient, part) or 0.0


def amount(formula: Formula, part: str) -> float:
    """Grams of a part in a formula, with nothing for what is unknown."""
    return sum(item.grams * share_of(item.ingredient, part) for item in formula.items)


def may_adjust(ingredient: Ingredient) -> bool:
    """Whether an ingredient is one that bakers balance with: fat, sweetener, salt, milk powder, water."""
    milk_powder = ingredient.group == "dry" and "milk" in ingredient.allergens
    return milk_powder or ingredient.group in ("fat", "sweetener", "salt", "water")


def adjusters_in(formula: Formula) -> tuple[Ingredient, ...]:
    """The usual adjusters of a formula; water is one even where the formula has none yet."""
    found = [item.ingredient for item in formula.items if may_adjust(item.ingredient)]
    return tuple(dict.fromkeys([*found, composition.find("water")]))


def balance(
    before: Formula,
    swapped: Formula,
    hold: Iterable[str],
    adjusters: Iterable[Ingredient] | None = None,
) -> Balance:
    """The formula nearest to `swapped` that holds the water of `before`, and the parts in `hold`.

    `hold` names parts of `PARTS`; `adjusters` are the ingredients that may change (default: the
    usual ones, `adjusters_in`); one that is not in the formula starts from 0 g. The water is held
    exactly. Where not every part can be, the sum of the squared misses is the least there is, each
    miss counted as a share of what the dough held before (or of 1 % of the flour, if that is more).
    Where many formulas fit, the weights change least, each counted as a share of its own weight.

    Where a part is too much even with everything out that brings it, it is let go, and the rest is
    held without it.

    Raises FormulaError for an unknown part, or when nothing that may change can hold the water.
    """
    held = tuple(part for part in PARTS if part in set(hold))
    if set(hold) - set(PARTS):
        raise FormulaError(f"Only these can be held beside the water: {', '.join(PARTS)}.")
    chosen = tuple(dict.fromkeys(adjusters_in(swapped) if adjusters is None else adjusters))
    useful = tuple(each for each in chosen if _is_useful(each, held))
    movable = tuple(part for part in held if _levers(useful, part))
    try:
        settled = _settled(before, swapped, movable, useful)
    except ValueError:
        raise FormulaError(
            "Nothing that may change can hold the water. Let the water, or the new liquid, change."
        ) from None
    after = _with_weights(swapped, settled)
    return Balance(
        before,
        swapped,
        after,
        held,
        {each: settled.get(each, _grams(swapped, each)) - _grams(swapped, each) for each in chosen},
        tuple(_misses(before, after, held, useful)),
        tuple(_unknown(before, after, ("water", *held))),
        checks(before, after, held),
    )


def _is_useful(ingredient: Ingredient, held: tuple[str, ...]) -> bool:
    return ingredient.is_liquid or any(share_of(ingredient, part) >= LEVER for part in held)


def _levers(ingredients: Iterable[Ingredient], part: str) -> tuple[Ingredient, ...]:
    """Those that may change a part."""
    return tuple(each for each in ingredients if share_of(each, part) >= LEVER)


def _settled(
    before: Formula, start: Formula, parts: tuple[str, ...], useful: tuple[Ingredient, ...]
) -> dict[Ingredient, float]:
    """The weights of the useful ingredients, in grams."""
    weights = _nearest_weights(before, start, parts, useful)
    there = _with_weights(start, weights)
    stuck = [
        part
        for part in parts
        if amount(there, part) - amount(before, part) > NOTHING
        and not any(weights[each] for each in _levers(useful, part))
    ]
    if not stuck:
        return weights
    # Without this, all the milk powder would go for its trace of fat.
    out = {each: 0.0 for part in stuck for each in _levers(useful, part)}
    rest = tuple(each for each in useful if each not in out)
    left = tuple(part for part in parts if part not in stuck and _levers(rest, part))
    return out | _settled(before, _with_weights(start, out), left, rest)


def _nearest_weights(
    before: Formula, start: Formula, parts: tuple[str, ...], useful: tuple[Ingredient, ...]
) -> dict[Ingredient, float]:
    """The least squares themselves: one row for each part, in shares of what there was before."""
    floor = LEAST_SCALE * before.flour
    fixed = _with_weights(start, dict.fromkeys(useful, 0.0))
    scales = {part: max(amount(before, part), floor) for part in parts}
    wanted = {part: amount(before, part) - amount(fixed, part) for part in ("water", *parts)}
    grams = [_grams(start, each) for each in useful]
    usual = {each: max(weight, floor) for each, weight in zip(useful, grams, strict=True)}
    # A little plain water is no great change, even where none stood in the formula.
    usual |= {each: amount(before, "water") for each in useful if each.group == "water"}
    weights = nearest(
        [[_exact(share_of(e, part) / scales[part]) for e in useful] for part in parts],
        [_exact(wanted[part] / scales[part]) for part in parts],
        [_exact(e.water) for e in useful],
        _water_wanted(wanted["water"], useful),
        [_exact(weight) for weight in grams],
        [_exact(usual[each]) for each in useful],
    )
    return dict(zip(useful, map(float, weights), strict=True))


def _exact(value: float) -> Fraction:
    """A float as the short decimal number it is written as."""
    return Fraction(repr(float(value)))


def _water_wanted(grams: float, useful: tuple[Ingredient, ...]) -> Fraction:
    """The water the adjusters must bring; a rest that no scale shows is none, if none brings water."""
    if abs(grams) < NOTHING and (grams < 0 or not any(each.water for each in useful)):
        return Fraction(0)
    return _exact(grams)


def _grams(formula: Formula, ingredient: Ingredient) -> float:
    return sum(item.grams for item in formula.items if item.ingredient == ingredient)


def _with_weights(formula: Formula, settled: dict[Ingredient, float]) -> Formula:
    """A formula with some weights replaced; what was not there yet comes last, if it weighs anything."""
    there = dict.fromkeys(item.ingredient for item in formula.items)
    kept = [Item(each, settled.get(each, _grams(formula, each))) for each in there]
    new = [Item(each, grams) for each, grams in settled.items() if each not in there and grams]
    return Formula((*kept, *new))


# What is off, and what that does.

_EFFECTS = {
    ("fat", 1): "The dough is richer. It is usually softer and may rise more slowly.",
    ("fat", -1): "The dough is leaner. The crumb is usually less tender and stales sooner.",
    ("sugars", 1): "The dough holds more sugar. The crust usually browns faster, and much sugar may slow the yeast. "
    "Milk sugar browns, but it is less sweet than table sugar.",
    ("sugars", -1): "The dough holds less sugar. The bread is usually paler and less sweet.",
    ("salt", 1): "The dough is saltier. The yeast usually works more slowly.",
    ("salt", -1): "The dough is less salty. It usually proofs faster and may feel slacker.",
    ("dough", 1): "There is more dough. Each piece is heavier, or there are more pieces.",
    ("dough", -1): "There is less dough. Each piece is lighter, or there are fewer pieces.",
}  # fmt: skip


def effect(part: str, grams: float) -> str:
    """What `grams` too much (above 0) or too little of a part does. Common practice, no source."""
    return _EFFECTS[part, 1 if grams > 0 else -1]


def _misses(before: Formula, after: Formula, held: Iterable[str], useful: Iterable[Ingredient]):
    for part in held:
        grams = amount(after, part) - amount(before, part)
        if abs(grams) > NOTHING:
            reason = _reason(after, part, grams, useful)
            yield Miss(part, grams, grams / before.flour, reason, effect(part, grams))


def _reason(after: Formula, part: str, grams: float, useful: Iterable[Ingredient]) -> str:
    name = PARTS[part]
    levers = [each for each in _levers(useful, part) if part != "dough" or each.water < 1]
    if not levers:
        return f"Nothing that may change in this formula brings {name}."
    names = listed(each.name for each in levers)
    if grams > 0 and not any(_grams(after, each) for each in levers):
        return f"There is no more {names} to take out."
    return f"It goes against another part you hold. More {name} or less of it moves that one too."


def _unknown(before: Formula, after: Formula, parts: Iterable[str]):
    there = dict.fromkeys(item.ingredient for item in (*before.items, *after.items))
    for part in parts:
        for each in there:
            grams = [_grams(formula, each) for formula in (before, after)]
            if any(grams) and part != "dough" and getattr(each, part) is None:
                yield Unknown(each, part, abs(grams[0] - grams[1]) > NOTHING)


# The checks, as a working.


def checks(before: Formula, after: Formula, held: Iterable[str]) -> Working:
    """Each held part added up before and after: ``fat before`` and ``fat after``, in grams."""
    working = Working("What the dough holds, before and after")
    for part in ("water", *(part for part in PARTS if part in set(held))):
        name = PARTS.get(part, part)
        for when, formula in (("before", before), ("after", after)):
            working.step(
                f"{part} {when}",
                f"{name} {when}",
                _sum_of(working, formula, part, when),
                "mass",
                to=0.1,
                why="Add up all weights."
                if part == "dough"
                else f"Add up the {name} that each ingredient brings.",
            )
    return working


def _sum_of(working: Working, formula: Formula, part: str, when: str) -> Expression:
    terms: list[Expression] = []
    for item in formula.items:
        share = share_of(item.ingredient, part)
        if not item.grams or not share:
            continue
        weight = _given(
            working, f"weight of {item.ingredient.key} {when}", item.ingredient.name, item.grams
        )
        if share == 1:
            terms.append(weight)
            continue
        label = f"{PARTS.get(part, part)} content of {item.ingredient.name}"
        terms.append(
            weight * _given(working, f"{part} of {item.ingredient.key}", label, share, "share")
        )
    if not terms:
        flour = formula.items[0]
        none = _given(
            working, f"weight of {flour.ingredient.key} {when}", flour.ingredient.name, flour.grams
        )
        return none * 0
    return summed(terms)


def _given(working: Working, key: str, label: str, value: float, kind: str = "mass") -> Name:
    """A given that several sums use: added once."""
    if key not in working.givens:
        working.given(key, label, value, kind)
    return Name(key)


@quantity(
    "butter to take out",
    "how much of a fat to take out for the fat that a new liquid brings",
    LIQUID_WEIGHT,
    Slot("liquid", "ingredient", needs="fat"),
    Slot("new liquid", "ingredient", needs="fat"),
    Slot("fat", "ingredient", needs="fat"),
    plausible_low=1,
)
def fat_to_take_out(
    liquid_weight: float, liquid: Ingredient, new_liquid: Ingredient, fat: Ingredient
) -> Working:
    """Fat to take out = (fat of the new liquid − fat of the old one) ÷ the fat's own fat content.

    The new liquid is weighed up at the same water. Below 0 g means: put that much in.
    """
    working = swap_working(Item(liquid, liquid_weight), new_liquid)
    working.title = f"{fat.name} out, for the fat of {new_liquid.name}"
    brought = []
    for key, each, weight, content, why in (
        ("new", new_liquid, Name("new"), Name("fat content"), "It comes with the new liquid."),
        (
            "old",
            liquid,
            Name("old"),
            fat_given(working, liquid, "old", "old fat content"),
            "It goes with the old liquid.",
        ),
    ):
        brought.append(
            working.step(
                f"{key} fat", f"fat in {the(each.name)}", weight * content, "mass", why=why
            )
        )
    more = working.step(
        "more fat",
        "fat that is too much",
        brought[0] - brought[1],
        "mass",
        why="The dough gains the one and loses the other.",
    )
    working.step(
        "out",
        f"{fat.name} to take out",
        more / fat_given(working, fat, "fat", "butter fat content"),
        "mass",
        why="Only part of it is fat, so it takes more of it: divide.",
    )
    return working
