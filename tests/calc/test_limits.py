"""What a dough can bear."""

import pytest

from calc import composition
from calc.composition import find
from calc.formula import Formula, Item
from calc.limits import LIMITS, findings, fruit_acid, most_that_works, stopped, vinegar_acid
from calc.substitution import swap

BASE = Formula(
    tuple(
        Item(find(key), grams)
        for key, grams in (("bread-flour", 500), ("water", 325), ("salt", 10), ("instant-yeast", 5))
    )
)
BY_KEY = {limit.key: limit for limit in LIMITS}


def with_liquid(key: str, part: float = 1.0) -> Formula:
    return swap(BASE, "water", find(key), part).after


def passed(dough: Formula) -> list[str]:
    return [each.limit.key for each in findings(dough)]


@pytest.mark.parametrize(
    ("key", "limit"),
    [
        ("spirit", "vapour"), ("red-wine", "vapour"), ("sweet-wine", "vapour"),
        ("white-vinegar", "vinegar"), ("balsamic-vinegar", "vinegar"), ("lemon-juice", "sour-juice"),
        ("honey", "syrup"), ("condensed-milk", "syrup"), ("maple-syrup", "syrup"),
    ],
)  # fmt: skip
def test_liquids_that_cannot_make_bread_are_stopped(key, limit):
    assert stopped(with_liquid(key)).limit.key == limit


@pytest.mark.parametrize("key", ["cottage-cheese", "quark", "ricotta", "pumpkin-puree", "banana"])
def test_curd_and_puree_alone_are_warned_of(key):
    assert passed(with_liquid(key)) == ["curd"]
    assert passed(with_liquid(key, 0.5)) == []


@pytest.mark.parametrize(
    "key",
    ["whole-milk", "buttermilk", "plain-yogurt", "sour-cream", "beer", "orange-juice", "egg",
     "heavy-cream", "coconut-milk", "coffee", "oat-drink", "tomato-juice", "grape-juice"],
)  # fmt: skip
def test_liquids_that_bakers_use_pass(key):
    assert passed(with_liquid(key)) == []


def test_usual_doughs_pass():
    """A spoon of vinegar, a brioche of 15 % sugar, honey at 10 %: common practice."""
    extra = [("white-vinegar", 10), ("sugar", 75), ("honey", 50), ("butter", 200)]
    for key, grams in extra:
        assert passed(Formula((*BASE.items, Item(find(key), grams)))) == []


def test_the_alcohol_lines_are_far_above_what_bread_gives_off():
    """US EPA, EPA-453/R-92-017: 0.95 Y + 0.195 t + 1.90 lb a ton of bread; with 2 % yeast and 9 h,
    5.6 lb (the example of a method for small bakeries). Bread: 1.45 g for 1 g of flour."""
    usual = (0.95 * 2 + 0.195 * 9 + 1.90) / 2000 * 1.45
    assert BY_KEY["vapour"].stop > 10 * usual
    assert BY_KEY["vapour"].warn > 5 * usual
    # 3.3 % of the air is the lower limit at which ethanol vapour burns; an oven holds about 0.1 m³.
    ethanol = next(x.grams for x in with_liquid("spirit").items if x.ingredient.alcohol) * 0.334
    litres = ethanol / 46.07 * 24.5
    assert litres / 0.033 / 1000 > 10 * 0.1


def test_acid_in_the_table_is_what_vinegar_and_lemon_hold():
    """Vinegar: at least 4 g in 100 ml in the US (FDA CPG 525.825, from memory); lemon juice: 5 to 6 g
    of citric acid (from memory)."""
    assert vinegar_acid(find("white-vinegar")) == pytest.approx(0.05, abs=0.002)
    assert 0.05 <= fruit_acid(find("lemon-juice")) <= 0.06
    assert fruit_acid(find("orange-juice")) == vinegar_acid(find("buttermilk")) == 0


def test_yeast_s_limits_do_not_concern_a_soda_bread():
    soda = Formula((*with_liquid("lemon-juice").items[:2], Item(find("baking-soda"), 8)))
    assert passed(soda) == []
    strong = Formula((*with_liquid("spirit").items[:2], Item(find("baking-soda"), 8)))
    assert passed(strong) == ["vapour"]


@pytest.mark.parametrize("key", ["spirit", "white-vinegar", "lemon-juice", "honey", "red-wine"])
def test_the_part_that_works_works_and_one_more_is_warned_of(key):
    limit = stopped(with_liquid(key)).limit
    most = most_that_works(lambda part: with_liquid(key, part), limit)
    assert passed(with_liquid(key, most / 100)) == []
    assert passed(with_liquid(key, (most + 1) / 100)) == [limit.key]


def test_every_finding_says_why_and_what_works():
    for each in composition.table().values():
        # What may hold no water is refused in words of its own.
        if each.water_range.low > 0 and not each.is_flour:
            for found in findings(with_liquid(each.key)):
                assert each.name in found.reason
                assert found.limit.works in found.text
                assert found.limit.source


@pytest.mark.parametrize(("grams", "warned"), [(12.5, []), (20, ["salt"]), (100, ["salt"])])
def test_too_much_salt_is_told(grams, warned):
    """4 % is twice what public formulas have (US Armed Forces TM 10-412: 1.2 to 2.8 %); 20 % is 2 % with a slip."""
    dough = Formula((*BASE.items[:2], Item(find("salt"), grams), BASE.items[3]))
    assert passed(dough) == warned


def test_salt_that_cheese_brings_counts():
    """Feta: 1116 mg of sodium in 100 g (USDA SR NDB 1019), so 2.8 % salt; 588 g bring 16 g beside the 10 g."""
    assert "salt" in passed(with_liquid("feta"))
    assert passed(with_liquid("ayran")) == []
