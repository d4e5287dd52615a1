"""Acidity and feel: the index of sour water, the choices, and the orders."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import composition, feel
from calc.composition import Ingredient, find
from calc.feel import SCALES, Variant, features, order, sour_share, sourness
from calc.formula import Formula, FormulaError, Item
from calc.interval import Interval
from calc.quantities import RANKINGS, REGISTRY

SCALE = {scale.key: scale for scale in SCALES}
LIQUIDS = [each for each in composition.table().values() if each.is_liquid and each.water > 0.2]
grams = st.floats(1, 5000)


def liquid(
    name: str, water: float, sugars: float, fat: float, ph: float, protein: float = 0.033
) -> Ingredient:
    """A dairy liquid: all its sugar is lactose, and a trace of salt in each alike."""
    return Ingredient(
        name, name, "cultured", water, Interval.exactly(water), protein=protein, fat=fat,
        sugars=sugars, lactose=sugars, salt=0.001, ph=Interval.exactly(ph), allergens=("milk",),
    )  # fmt: skip


# The four liquids. Waters and proteins are rounded from USDA Standard Reference rows 1079,
# 1088, 1116 and 1056.
FOUR = [
    liquid("milk", 0.89, 0.05, 0.015, 7.0, 0.033),
    liquid("buttermilk", 0.90, 0.05, 0.005, 4.5, 0.033),
    liquid("yogurt", 0.88, 0.04, 0.04, 4.5, 0.035),
    liquid("sour cream", 0.745, 0.04, 0.18, 4.5, 0.021),
]


def dough(new: Ingredient, water: float = 325.0, *more: tuple[str, float]) -> Formula:
    items = [Item(find("bread-flour"), 500), Item(new, water / new.water), Item(find("salt"), 9)]
    return Formula((*items, *(Item(find(key), weight) for key, weight in more)))


def ranks(key: str, liquids=FOUR, *more: tuple[str, float]) -> dict[str, int]:
    variants = [Variant(each.name, dough(each, 325.0, *more)) for each in liquids]
    return {place.variant.name: place.rank for place in order(variants, SCALE[key])}


@pytest.mark.parametrize("more", [(), (("butter", 25),), (("butter", 50), ("sugar", 30))])
def test_common_practice_orders_four_variants(more):
    """Common practice, no source: one formula, the same water, four liquids."""
    tight = ranks("tightness", FOUR, *more)
    assert max(tight, key=tight.get) == "milk"
    assert all(tight[name] < tight["milk"] for name in ("buttermilk", "yogurt", "sour cream"))
    proof = ranks("proof time", FOUR, *more)
    assert {n for n, r in proof.items() if r == 1} == {"milk", "sour cream"}
    assert proof["yogurt"] == proof["buttermilk"] == 3
    soft = ranks("softness", FOUR, *more)
    assert {soft["milk"], soft["sour cream"]} == {1, 2}
    brown = ranks("crust colour", FOUR, *more)
    assert {n for n, r in brown.items() if r == 1} == {"milk", "buttermilk"}
    assert brown["yogurt"] == max(brown.values())


def test_the_two_slow_doughs_take_the_acids_full_points():
    """Common practice: half an hour more; here, at least four of the five points between the pairs."""
    scores = {
        p.variant.name: p.score
        for p in order([Variant(each.name, dough(each)) for each in FOUR], SCALE["proof time"])
    }
    quick, slow = (scores["milk"], scores["sour cream"]), (scores["yogurt"], scores["buttermilk"])
    assert min(slow) - max(quick) > 3
    assert max(slow) - min(slow) < 1
    assert max(quick) - min(quick) < 1


def test_orders_do_not_know_names():
    renamed = [
        Ingredient(
            **{f: getattr(each, f) for f in each.__dataclass_fields__}
            | {"key": f"k{n}", "name": f"liquid {n}"}
        )
        for n, each in enumerate(FOUR)
    ]
    for scale in SCALES:
        assert list(ranks(scale.key).values()) == list(ranks(scale.key, renamed).values())


def test_ties_are_told_as_ties_and_every_place_says_usually():
    twins = [FOUR[0], liquid("the same milk", 0.89, 0.05, 0.015, 7.0), FOUR[1]]
    for scale in SCALES:
        places = order([Variant(each.name, dough(each)) for each in twins], scale)
        by_name = {place.variant.name: place for place in places}
        assert by_name["milk"].rank == by_name["the same milk"].rank
        assert by_name["milk"].tied
        assert by_name["the same milk"].tied
        for place in places:
            assert place.says.startswith("usually")
            assert "tie" in place.says or not place.tied
            assert "%" in place.reason


def test_a_missing_figure_is_said_and_not_guessed():
    places = order([Variant("beer", dough(find("beer"))), Variant("water", dough(find("water")))], SCALE["crust colour"])  # fmt: skip
    assert [(p.variant.name, p.rank) for p in places] == [("water", 1), ("beer", 0)]
    assert places[-1].reason == "We do not know its sugars."


# The index.


@pytest.mark.parametrize(
    ("ph", "sour"), [(2.3, 1), (4.5, 1), (5.0, 0.75), (5.5, 0.5), (6.5, 0), (9.0, 0)]
)
def test_each_liquid_counts_between_its_ends(ph, sour):
    assert sourness(dough(liquid("x", 0.9, 0, 0, ph)))[0] == pytest.approx(sour)


def test_liquids_count_by_their_water():
    sour, plain = liquid("sour", 0.8, 0, 0, 4.5), find("water")
    working = sour_share([Item(plain, 240), Item(sour, 100)])
    assert working.values()["share"] == pytest.approx(80 / 320)
    assert working.answer.key == "share"


def test_a_liquid_of_unknown_ph_may_be_anything():
    value, bounds = sourness(dough(composition.own("mystery", 0.9)))
    assert (bounds.low, bounds.high) == pytest.approx((0, 1))
    assert 0 < value < 1


@given(st.lists(st.tuples(st.sampled_from(LIQUIDS), grams), min_size=1, max_size=4))
def test_the_index_is_a_share_within_its_bounds_and_blind_to_the_batch(parts):
    batch = [Item(find("bread-flour"), 500), *(Item(each, weight) for each, weight in parts)]
    value, bounds = sourness(Formula(tuple(batch)))
    assert value in bounds
    assert 0 <= bounds.low <= bounds.high <= 1
    double = sour_share([Item(item.ingredient, 2 * item.grams) for item in batch[1:]])
    assert double.values()[double.answer.key] == pytest.approx(value)


@given(st.sampled_from(LIQUIDS), st.floats(0.05, 0.95), st.floats(0.01, 0.9))
def test_more_plain_water_never_makes_it_sourer(each, part, less):
    def share(of: float) -> float:
        parts = [Item(find("water"), 300 * (1 - of)), Item(each, 300 * of / each.water)]
        return sour_share(parts).values()["share"]

    assert share(part * less) <= share(part) + 1e-12


def mixed_ph(parts: list[tuple[float, float, float, float]]) -> float:
    """The pH of a mixture of buffered solutions, by charge balance.

    Each part: litres, pH, moles of buffer a litre, its pKa. Strong ions are what makes each part
    have its own pH. Water: pKw 14.0 at 25 °C.
    """

    def charge(ph: float, litres: float, own: float, buffer: float, pka: float) -> float:
        def ions(at: float) -> float:
            acid = buffer / (1 + 10 ** (pka - at))
            return 10**-at - 10 ** (at - 14) - acid

        return litres * (ions(ph) - ions(own))

    low, high = 0.0, 14.0
    for _ in range(200):
        middle = (low + high) / 2
        if sum(charge(middle, *part) for part in parts) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def test_the_reference_mixture_agrees_with_a_handbook_buffer():
    """Outside check: Henderson-Hasselbalch; lactic acid pKa 3.86 (handbook, from memory)."""
    own = 3.86 + math.log10(1)
    assert mixed_ph([(1, own, 0.1, 3.86)]) == pytest.approx(3.86, abs=1e-6)
    # Equal volumes of the same strong buffer meet half way in charge, by Henderson-Hasselbalch.
    shares = [1 / (1 + 10 ** (3.86 - ph)) for ph in (3.4, 4.4)]
    wanted = 3.86 + math.log10(sum(shares) / (2 - sum(shares)))
    assert mixed_ph([(1, 3.4, 1, 3.86), (1, 4.4, 1, 3.86)]) == pytest.approx(wanted, abs=2e-3)


@given(
    st.lists(
        st.tuples(st.floats(0.01, 10), st.floats(3, 8), st.floats(0, 0.2), st.floats(3, 7)),
        min_size=1,
        max_size=4,
    )
)
def test_a_mixtures_ph_lies_between_its_parts(parts):
    """Outside check: the exact charge balance of mixed buffers."""
    items = [Item(liquid("x", 0.9, 0, 0, ph), litres) for litres, ph, _, _ in parts]
    bounds = feel.ph_bounds(items)
    assert bounds.low - 1e-6 <= mixed_ph(parts) <= bounds.high + 1e-6


def test_no_ph_is_claimed_where_one_is_not_known():
    assert feel.ph_bounds([Item(find("spirit"), 10), Item(find("water"), 10)]) is None


# The choices.


def test_raises_five_points_when_all_is_sour_and_less_in_proportion():
    """Common practice, no source: up to about five points when all the liquid is near pH 4.5."""
    raised = REGISTRY["raised hydration for a sour liquid"].working
    assert raised({"hydration": 0.65, "part": 1.0}).values()["raised"] == pytest.approx(0.70)
    assert raised({"hydration": 0.65, "part": 0.4}).values()["raised"] == pytest.approx(0.67)
    extra = feel.extra_water(500, 0.65, 0.4, Interval(0.3, 0.5))
    assert extra.values()["extra"] == pytest.approx(10)
    bounds = extra.bounds()["extra"]
    assert (bounds.low, bounds.high) == pytest.approx((7.5, 12.5))
    assert extra.numbers("raised") == "0.65 + 0.02"
    assert extra.weighed("raised") == "67.0 %"


def test_softening_brings_the_fat_it_says():
    for key in ("egg-yolk", "butter", "olive-oil"):
        softener = find(key)
        found = feel.softening(1000, 0.5, softener).values()
        assert found["softener"] * softener.fat == pytest.approx(1000 * feel.SOFTENING_FAT * 0.5)
    with pytest.raises(FormulaError, match="cannot soften"):
        feel.softening(500, 1, find("water"))


def test_a_dough_without_liquid_is_told():
    with pytest.raises(FormulaError, match="no liquid"):
        features(Formula((Item(find("bread-flour"), 500), Item(find("butter"), 100))))


@pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.key)
def test_problem_sets_order_liquids_by_the_same_scores(scale):
    by = RANKINGS[scale.key].score
    first, last = (
        ("whole-milk", "buttermilk") if scale.key in ("softness", "proof time") else
        ("buttermilk", "water") if scale.key == "tightness" else ("whole-milk", "sour-cream")
    )  # fmt: skip
    assert by(find(first)) > by(find(last))
    with pytest.raises(ValueError, match="holds no water"):
        by(find("lard"))


def test_the_evidence_is_cited_and_says_what_was_read():
    assert {"10.1002/cche.10050", "10.3390/foods9060828"} <= {one.doi for one in feel.EVIDENCE}
    assert all(one.read == "abstract" and one.says and one.side for one in feel.EVIDENCE)
    assert {one.side for one in feel.EVIDENCE} == {"mixed", "against"}


@given(weight=st.floats(20, 5000), plain=st.floats(20, 5000), ph=st.floats(4.5, 6.5))
def test_a_problem_asks_for_the_same_sour_part(weight, plain, ph):
    """`sour_share` of the two liquids, by another way; plain water at pH 7 is not sour."""
    milk = liquid("cultured", 0.9, 0.04, 0.01, ph)
    told = REGISTRY["sour part of the water"].working(
        {"liquid": milk, "ph": ph, "liquid weight": weight, "water weight": plain}
    )
    whole = sour_share((Item(milk, weight), Item(find("water"), plain)))
    assert told.values()["share"] == pytest.approx(whole.values()["share"], abs=1e-9)


def test_the_sour_part_by_hand():
    """By hand: 200 g at 90 % water is 180 g; at pH 5 three quarters count: 135 g of 300 g."""
    half = feel.sour_part(liquid("cultured", 0.9, 0.04, 0.01, 5.0), 5.0, 200, 120)
    assert half.values()["share"] == pytest.approx(135 / 300)
