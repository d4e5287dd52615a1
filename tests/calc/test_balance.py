"""What rides along is balanced: the solver against scipy.optimize, the formula against its sums."""

import numpy
import pytest
import scipy
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import composition
from calc.balance import (
    LEVER,
    NOTHING,
    PARTS,
    adjusters_in,
    amount,
    balance,
    effect,
    fat_to_take_out,
    share_of,
)
from calc.formula import Formula, FormulaError, Item
from calc.substitution import swap

TABLE = list(composition.table().values())
LIQUIDS = [each for each in TABLE if each.is_liquid and each.water > 0.2]
FLOURS = [each for each in TABLE if each.is_flour]
OTHERS = [each for each in TABLE if each.group in ("fat", "sweetener", "salt", "dry", "yeast")]
MILLIGRAM = 0.001


def formula_of(**grams: float) -> Formula:
    return Formula(
        tuple(Item(composition.find(key.replace("_", "-")), g) for key, g in grams.items())
    )


@st.composite
def swaps(draw):
    """A formula and the same one with another liquid in it."""
    weight = st.floats(1, 2000)
    others = draw(st.lists(st.sampled_from(OTHERS), max_size=5, unique_by=lambda each: each.key))
    items = [
        Item(draw(st.sampled_from(FLOURS)), draw(st.floats(100, 5000))),
        Item(draw(st.sampled_from(LIQUIDS)), draw(weight)),
        *(Item(each, draw(weight)) for each in others),
    ]
    before = Formula(tuple(items))
    new = draw(st.sampled_from(LIQUIDS))
    return before, swap(before, items[1].ingredient.key, new, draw(st.floats(0.1, 1))).after


holds = st.sets(st.sampled_from(list(PARTS)))


@settings(deadline=None)
@given(swaps(), holds)
def test_the_water_is_always_held(pair, hold):
    before, after = pair
    made = balance(before, after, hold)
    assert amount(made.after, "water") == pytest.approx(amount(before, "water"), abs=MILLIGRAM)
    assert all(item.grams >= 0 for item in made.after.items)


@settings(deadline=None)
@given(swaps(), holds)
def test_what_can_be_held_is_held(pair, hold):
    """Outside check: scipy.optimize.linprog says whether any weights at all hold every part."""
    before, after = pair
    made = balance(before, after, hold)
    usable = [
        each
        for each in adjusters_in(after)
        if each.is_liquid or any(share_of(each, part) >= LEVER for part in hold)
    ]
    fixed = [item for item in after.items if item.ingredient not in usable]
    parts = ["water", *(part for part in PARTS if part in hold)]
    wanted = [
        amount(before, part) - sum(i.grams * share_of(i.ingredient, part) for i in fixed)
        for part in parts
    ]
    rows = [[share_of(each, part) for each in usable] for part in parts]
    possible = scipy.optimize.linprog(
        numpy.zeros(len(usable)), A_eq=rows, b_eq=wanted, bounds=(0, None), method="highs"
    )
    movable = all(any(share_of(e, part) >= LEVER for e in usable) for part in hold)
    if possible.status == 0 and movable:
        assert made.misses == ()
        for part in parts:
            assert amount(made.after, part) == pytest.approx(amount(before, part), abs=MILLIGRAM)
    if not made.misses:
        for part in parts:
            assert amount(made.after, part) == pytest.approx(amount(before, part), abs=MILLIGRAM)
        if movable:
            assert possible.status == 0


@settings(deadline=None)
@given(swaps(), holds)
def test_every_miss_is_told_with_its_size_and_effect(pair, hold):
    before, after = pair
    made = balance(before, after, hold)
    told = {miss.part: miss.grams for miss in made.misses}
    for part in hold:
        off = amount(made.after, part) - amount(before, part)
        assert told.get(part, 0.0) == pytest.approx(off, abs=NOTHING)
    assert all(miss.reason and miss.effect == effect(miss.part, miss.grams) for miss in made.misses)


def test_each_adjusters_change_leads_from_the_swapped_formula_to_the_balanced_one():
    before = formula_of(bread_flour=500, whole_milk=325, butter=100, sugar=50, salt=10)
    after = swap(before, "whole-milk", composition.find("sour-cream")).after
    made = balance(before, after, {"fat", "sugars", "salt"})
    for formula_item in made.after.items:
        each = formula_item.ingredient
        was = sum(item.grams for item in after.items if item.ingredient == each)
        assert formula_item.grams == pytest.approx(was + made.changes.get(each, 0.0))


def test_a_formula_that_cannot_be_balanced_is_scipys_nearest():
    """Outside check: scipy.optimize.minimize (SLSQP) finds the same weights.

    The whey brings more sugar and salt than sugar and whey powder can give back, and the dough may
    not grow: the parts pull against each other.
    """
    before = formula_of(bread_flour=500, water=325, sugar=5, salt=2, whey_powder=20)
    after = swap(before, "water", composition.find("sweet-whey")).after
    made = balance(before, after, {"sugars", "salt", "dough"})
    keys = ["sugar", "salt", "whey-powder", "water"]
    each = [composition.find(key) for key in keys]
    fixed = [item for item in after.items if item.ingredient.key not in keys]

    def total(x, part):
        return sum(i.grams * share_of(i.ingredient, part) for i in fixed) + sum(
            grams * share_of(e, part) for grams, e in zip(x, each, strict=True)
        )

    live = [part for part in ("sugars", "salt", "dough") if _is_live(made, part)]
    theirs = scipy.optimize.minimize(
        lambda x: sum(
            ((total(x, p) - amount(before, p)) / max(amount(before, p), 5)) ** 2 for p in live
        ),
        [sum(i.grams for i in after.items if i.ingredient == e) for e in each],
        bounds=[(0, 0) if _is_emptied(made, e) else (0, None) for e in each],
        constraints={"type": "eq", "fun": lambda x: total(x, "water") - amount(before, "water")},
        options={"ftol": 1e-15, "maxiter": 1000},
    )
    ours = [sum(i.grams for i in made.after.items if i.ingredient == e) for e in each]
    for part in live:
        assert total(ours, part) == pytest.approx(total(theirs.x, part), abs=0.05)
    assert made.misses


def _is_live(made, part):
    """Whether something that brings the part is left, so that the part still counts."""
    return any(share_of(i.ingredient, part) >= LEVER and i.grams for i in made.after.items)


def _is_emptied(made, ingredient):
    return made.changes[ingredient] < 0 and not any(
        i.grams for i in made.after.items if i.ingredient == ingredient
    )


def test_milk_for_sour_cream_takes_butter_out():
    """Common practice, no source: take butter out for the cream's fat; the water stays.

    Worked by hand from the table: butter out = fat gained ÷ butter's fat; its water goes back in.
    """
    milk, cream, butter = (composition.find(k) for k in ("whole-milk", "sour-cream", "butter"))
    before = formula_of(bread_flour=500, whole_milk=325, butter=100, sugar=50, salt=10)
    made = balance(before, swap(before, "whole-milk", cream).after, {"fat"})
    fresh = 325 * milk.water / cream.water
    out = (fresh * cream.fat - 325 * milk.fat) / butter.fat
    assert made.changes[butter] == pytest.approx(-out)
    assert made.changes[composition.find("water")] == pytest.approx(out * butter.water)
    assert not made.misses
    assert fat_to_take_out(325, milk, cream, butter).values()["out"] == pytest.approx(out)


def test_more_fat_than_there_is_butter():
    before = formula_of(
        bread_flour=500, whole_milk=325, butter=40, sugar=50, salt=10, milk_powder=20
    )
    after = swap(before, "whole-milk", composition.find("sour-cream")).after
    made = balance(before, after, {"fat", "sugars", "salt"})
    assert made.changes[composition.find("butter")] == -40
    (miss,) = made.misses
    assert miss.part == "fat"
    assert miss.grams == pytest.approx(amount(made.after, "fat") - amount(before, "fat"))
    assert miss.share_of_flour == pytest.approx(miss.grams / 500)
    assert "no more butter" in miss.reason
    assert "usually softer" in miss.effect
    # The milk powder does not go for its trace of fat.
    assert made.changes[composition.find("milk-powder")] > 0


def test_nothing_that_brings_a_part_is_told():
    before = formula_of(bread_flour=500, whole_milk=325, butter=40)
    after = swap(before, "whole-milk", composition.find("soy-drink")).after
    made = balance(before, after, {"sugars"})
    (miss,) = made.misses
    assert miss.grams < 0
    assert "Nothing that may change" in miss.reason
    assert made.changes[composition.find("butter")] == 0


def test_an_unknown_content_is_named_and_counts_as_nothing():
    before = formula_of(bread_flour=500, whole_milk=325, sugar=50, instant_yeast=5)
    after = swap(before, "whole-milk", composition.find("beer")).after
    made = balance(before, after, {"sugars"})
    told = {(one.ingredient.key, one.part): one.moves for one in made.unknown}
    assert told == {("beer", "sugars"): True, ("instant-yeast", "sugars"): False}


def test_the_checks_are_the_sums():
    before = formula_of(bread_flour=500, water=300, butter=50)
    after = swap(before, "water", composition.find("whole-milk")).after
    made = balance(before, after, {"fat"})
    values = made.checks.values()
    assert values["fat before"] == pytest.approx(amount(before, "fat"))
    assert values["fat after"] == pytest.approx(values["fat before"])
    assert values["water after"] == pytest.approx(values["water before"])
    assert "50 g × 0.825" in made.checks.sentence("fat before")


def test_of_many_formulas_that_fit_the_least_changed_is_taken():
    """Outside check: scipy.optimize.minimize (SLSQP) with what is held as constraints."""
    before = formula_of(bread_flour=500, water=300, butter=60, olive_oil=30)
    after = swap(before, "water", composition.find("whole-milk")).after
    each = [composition.find(key) for key in ("butter", "olive-oil", "water")]
    starts = numpy.array([60.0, 30.0, 0.0])
    # Each change beside what there was; that of plain water beside all water of the dough.
    usual = numpy.array([60.0, 30.0, amount(before, "water")])
    made = balance(before, after, {"fat"})
    off = {p: amount(before, p) - amount(after, p) for p in ("water", "fat")}
    theirs = scipy.optimize.minimize(
        lambda d: float(numpy.sum((d / usual) ** 2)),
        [0.0, 0.0, 1.0],
        bounds=[(-s, None) for s in starts],
        constraints=[
            {"type": "eq", "fun": lambda d, p=p: d @ [share_of(e, p) for e in each] - off[p]}
            for p in off
        ],
    )
    assert [made.changes[e] for e in each] == pytest.approx(list(theirs.x), abs=0.01)


@pytest.mark.parametrize(
    ("hold", "adjusters", "says"),
    [
        ({"taste"}, None, "Only these can be held"),
        ({"fat"}, [composition.find("olive-oil")], "Let the water, or the new liquid, change"),
    ],
)
def test_says_what_to_do(hold, adjusters, says):
    before = formula_of(bread_flour=500, water=300, olive_oil=30)
    after = formula_of(bread_flour=500, water=280, olive_oil=30)
    with pytest.raises(FormulaError, match=says):
        balance(before, after, hold, adjusters)
