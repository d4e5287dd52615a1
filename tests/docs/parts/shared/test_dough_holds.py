"""One order under every answer: hydration in each meaning, what rides along, the working, Python."""

import pytest

from calc import composition
from calc.formula import MEANINGS, Formula, Item
from calc.units import PLAIN
from docs.parts import PARTS
from docs.parts.shared.dough_holds import what_doughs_hold
from exercises.publish.html import element

TOOLS = ("liquid-swap", "balance-formula", "dough-temperature", "scale-formula", "preferment-form")
IN_ORDER = (
    ("Hydration, in each meaning",),
    ("What rides along", "What the dough holds"),
    ("step by step", "The sums, before and after"),
    ("In Python",),
)


def words(shown):
    return " ".join("".join(shown.itertext()).split())


@pytest.mark.parametrize("tool", TOOLS)
def test_every_tool_tells_it_in_one_order(tool):
    shown = element("div", *PARTS[tool].respond(PARTS[tool].fields({}))["elements"])
    heads = [words(each) for each in shown.iter() if each.tag in ("caption", "summary", "h3", "h4")]
    places = [
        next(n for n, head in enumerate(heads) if any(one in head for one in names))
        for names in IN_ORDER
    ]
    assert places == sorted(places), heads
    assert words(next(each for each in shown.iter() if each.get("class") == "dw-answer"))


def test_what_no_source_tells_may_come_on_top():
    unknown = composition.own("a strange drink", 0.9)
    dough = Formula((Item(composition.find("bread-flour"), 500), Item(unknown, 325)))
    assert "or more" in words(what_doughs_hold({"Dough": dough}, PLAIN)[1])


def test_what_a_dough_holds_by_hand():
    """500 g of flour; 40 g of butter at 81.11 % fat (USDA 1001) and 10 g of salt: by hand."""
    dough = Formula(
        tuple(
            Item(composition.find(key), grams)
            for key, grams in (("bread-flour", 500), ("water", 325), ("butter", 40), ("salt", 10))
        )
    )
    meanings, riders = what_doughs_hold({"Dough": dough}, PLAIN)
    assert words(meanings).count("%") >= len(MEANINGS)
    flour, butter = composition.find("bread-flour"), composition.find("butter")
    fat = 500 * flour.fat + 40 * butter.fat
    assert f"{fat:.1f} g" in words(riders).replace("\u00a0", " ").replace("\u202f", " ")
    assert f"{100 * fat / 500:.1f} % of flour" in words(riders)
    assert "10.0 g" in words(riders).replace("\u00a0", " ").replace("\u202f", " ")
