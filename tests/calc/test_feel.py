"""Acidity and feel: how much acid there is, the choices, and the orders."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import acid, composition, feel
from calc.acid import sour_share, sourness
from calc.composition import Ingredient, find
from calc.feel import GROUNDS, SCALES, STUDIES, Variant, features, order, orders
from calc.formula import Formula, FormulaError, Item
from calc.interval import Interval
from calc.quantities import RANKINGS, REGISTRY

SCALE = {scale.key: scale for scale in SCALES}
LIQUIDS = [
    each
    for each in composition.table().values()
    if each.is_liquid and each.water > 0.2 and acid.of(each)
]
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


@pytest.mark.parametrize("salt", [0, 9])
def test_orders_on_several_scales_are_those_on_each(salt):
    """Without salt one scale may not count what the others do: none changes what the next one reads."""
    plain = (Item(find("bread-flour"), 500), Item(find("salt"), salt))
    known = [Variant(each.name, Formula((*plain, Item(each, 361)))) for each in FOUR]
    assert orders(known, SCALES) == {scale.key: order(known, scale) for scale in SCALES}


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
    assert brown["milk"] == brown["buttermilk"] == 1
    assert [n for n, r in brown.items() if r == max(brown.values())] == ["yogurt"]


def test_the_tables_own_figures_agree_with_practice_too():
    """Common practice, no source: milk and buttermilk brown most, yogurt is the dullest of the four."""
    keys = ("whole-milk", "buttermilk", "plain-yogurt", "sour-cream")
    liquids = [find(key) for key in keys]
    names = dict(zip((each.name for each in liquids), keys, strict=True))
    by = {
        scale.key: {names[name]: rank for name, rank in ranks(scale.key, liquids).items()}
        for scale in SCALES
    }
    brown = by["crust colour"]
    assert brown["whole-milk"] == brown["buttermilk"] == 1
    assert brown["plain-yogurt"] == max(brown.values()) > brown["sour-cream"]
    assert by["tightness"]["whole-milk"] == 4
    assert {k for k, rank in by["proof time"].items() if rank == 1} == {"whole-milk", "sour-cream"}
    assert {by["softness"]["whole-milk"], by["softness"]["sour-cream"]} == {1, 2}
    # And beside water: the trade finds buttermilk bread softer.
    soft = ranks("softness", [find("buttermilk"), find("water")])
    assert soft["buttermilk"] < soft["water"]


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


def test_without_salt_nobody_says_which_way_acid_works():
    """Outside: Schober, Dockery, Arendt 2003: at pH 3.9 gluten is firmer with salt, softer without."""
    for salt, placed in ((9, True), (0, False)):
        items = [Item(find("bread-flour"), 500), Item(FOUR[1], 361), Item(find("salt"), salt)]
        (place,) = order([Variant("bm", Formula(tuple(items)))], SCALE["tightness"])
        assert bool(place.rank) == placed
    assert place.reason == "Without salt, acid may make a dough tighter or softer."
    (milk,) = order([Variant("milk", Formula((Item(find("bread-flour"), 500), Item(FOUR[0], 361))))], SCALE["tightness"])  # fmt: skip
    assert milk.rank


def test_sugar_helps_yeast_before_it_hinders():
    """Outside: a rheofermentometer's curve turns at about 5 % of the flour; lactose is not eaten."""

    def fed(grams, key="sugar"):
        return features(dough(find("water"), 325.0, (key, grams)))["fed"]

    assert fed(0) == 0 > fed(10) > fed(25)
    assert fed(25) < fed(50) < fed(100)
    assert fed(100) > 0
    assert features(dough(FOUR[0]))["fed"] == pytest.approx(0)


def test_fibre_and_protein_stiffen_a_dough():
    puree, white, water = (find(key) for key in ("pumpkin-puree", "egg-white", "water"))
    tight = ranks("tightness", [puree, white, water])
    assert (tight[puree.name], tight[white.name], tight[water.name]) == (1, 2, 3)


# How much acid there is.


@pytest.mark.parametrize(
    ("key", "mmol", "by"),
    [
        # 0.8 to 0.9 % lactic acid, 90.08 g/mol (a public dairy course).
        ("buttermilk", (0.8 / 90.08 * 1000, 0.9 / 90.08 * 1000), 0.1),
        # 12.87 mmol in 100 g of yogurt; 144.4 ml of 0.1 mol/l in a litre of milk (a titration note).
        ("plain-yogurt", (0.9 / 90.08 * 1000, 12.87), 0.1),
        # 0.5 % lactic acid at the least (21 CFR 131.160).
        ("sour-cream", (0.5 / 90.08 * 1000, 9), 0.1),
        # 5.46 g and 4.25 g of 0.1 mol/l base for 5 ml of two orange juices (Chem 13 News 2013).
        ("orange-juice", (8.5 / 1.04, 10.92 / 1.04), 0.1),
        # 5 % acetic acid, 60.05 g/mol, within the range.
        ("white-vinegar", (4 / 60.05 * 1000, 6 / 60.05 * 1000), 1),
    ],
)
def test_acids_are_their_sources_figures(key, mmol, by):
    between = acid.of(find(key)).between
    assert (between.low, between.high) == pytest.approx(mmol, abs=by)


def test_every_acid_has_a_source_that_is_listed():
    for key in acid._measured():
        known = acid.of(find(key))
        assert known.source in composition.sources()
        assert known.mmol in known.between


def test_the_load_by_hand():
    """500 g of flour, 361 g of buttermilk with 9.4 mmol in 100 g: 361 ÷ 500 × 9.4."""
    items = (Item(find("bread-flour"), 500), Item(find("buttermilk"), 361))
    assert acid.load(Formula(items))[0] == pytest.approx(361 / 500 * 9.4)
    told = REGISTRY["acid in a dough"].working({"flour": 500, "liquid weight": 361, "acid": 9.4})
    assert told.values()["load"] == pytest.approx(361 / 500 * 9.4)


def test_no_advice_rests_on_ph_alone():
    """Coffee and pumpkin lie near buttermilk in pH, and bring less acid than yeast itself makes."""
    for key in ("coffee", "tea", "pumpkin-puree"):
        assert find(key).ph.low < 5.5
        assert sourness(dough(find(key)))[0] < 0.05
    assert acid.of(find("mashed-potato")) is None
    assert sourness(dough(find("mashed-potato"))) is None
    juice = Ingredient("x", "x", "juice", 0.9, Interval.exactly(0.9), ph=Interval.exactly(4.0))
    assert sourness(dough(juice)) is None


@pytest.mark.parametrize(("ph", "sour"), [(6.6, 0), (4.5, 1), (7.0, 0)])
def test_soured_milk_is_reckoned_from_its_ph(ph, sour):
    assert sourness(dough(liquid("x", 0.9, 0, 0, ph)))[0] == pytest.approx(sour)


def test_liquids_count_by_their_water():
    sour, plain = liquid("sour", 0.8, 0, 0, 4.5), find("water")
    working = sour_share([Item(plain, 240), Item(sour, 100)])
    assert working.values()["share"] == pytest.approx(80 / 320)
    assert working.answer.key == "share"


def test_a_liquid_of_unknown_acid_is_a_question_mark():
    mystery = Variant("mystery", dough(composition.own("mystery", 0.9)))
    assert sourness(mystery.formula) is None
    (place,) = order([mystery], SCALE["tightness"])
    assert (place.rank, place.reason) == (0, "We do not know its fat and acid.")
    with pytest.raises(FormulaError, match="how much acid"):
        sour_share(acid.liquids(mystery.formula))


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
    bounds = acid.ph_bounds(items)
    assert bounds.low - 1e-6 <= mixed_ph(parts) <= bounds.high + 1e-6


def test_no_ph_is_claimed_where_one_is_not_known():
    assert acid.ph_bounds([Item(find("spirit"), 10), Item(find("water"), 10)]) is None


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


def test_the_softener_counts_the_fat_that_is_there():
    yolk = find("egg-yolk")
    lean, some = (feel.softening(1000, 1, yolk, there).values()["fat"] for there in (0, 12))
    assert lean - some == pytest.approx(12)
    assert feel.fat_short(1000, 1, 170) < 0
    with pytest.raises(FormulaError, match="fat enough"):
        feel.softening(1000, 1, yolk, 170)
    assert feel.fat_in(dough(find("sour-cream"))) > feel.SOFTENING_FAT * 500


def test_a_dough_without_liquid_is_told():
    with pytest.raises(FormulaError, match="no liquid"):
        features(Formula((Item(find("bread-flour"), 500), Item(find("butter"), 100))))


@pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.key)
def test_problem_sets_order_liquids_by_the_same_scores(scale):
    by = RANKINGS[scale.key].score
    first, last = {
        "tightness": ("buttermilk", "water"),
        "crust colour": ("whole-milk", "plain-yogurt"),
        "softness": ("whole-milk", "buttermilk"),
        "proof time": ("whole-milk", "buttermilk"),
    }[scale.key]
    assert by(find(first)) > by(find(last))
    with pytest.raises(ValueError, match="holds no water"):
        by(find("lard"))


def test_each_order_cites_what_speaks_for_and_against_it():
    for study in STUDIES.values():
        assert study.dose
        assert study.says
        assert study.side in ("for", "against", "mixed", "about")
    for scale in SCALES:
        assert len({STUDIES[key].side for key in scale.studies}) > 1
        cited = {key for weight in scale.weights for key in weight.why.studies}
        assert cited <= {*STUDIES}
        assert {weight.why.ground for weight in scale.weights} <= {*GROUNDS}
        for weight in scale.weights:
            assert weight.why.studies or weight.why.ground != "measured"
    assert {key for scale in SCALES for key in scale.studies} == {*STUDIES}


def test_the_sour_part_by_hand():
    """By hand: 200 g at 90 % water is 180 g of 300 g."""
    half = acid.sour_part(liquid("cultured", 0.9, 0.04, 0.01, 4.5), 200, 120)
    assert half.values()["share"] == pytest.approx(180 / 300)
