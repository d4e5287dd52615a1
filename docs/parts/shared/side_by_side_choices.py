"""Triangle and paired tests of a side-by-side bake: what to serve, and how many right choices tell."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from calc import forced_choice, units
from calc.forced_choice import PAIRED, TESTS, TRIANGLE, ChoiceTest, Count
from docs.parts.shared.side_by_side_sheets import Plan, print_button, sheet
from exercises.publish.html import element, table

# For the table: so many tasters, and the reader's own number.
FEW, MANY = 5, 20
# A share of tasters that can tell, to say what a test sees.
SOME = 0.5


def choice_tests(plan: Plan) -> Element:
    """Both tests for the first two liquids, folded away: a class of tasters tells two breads apart so."""
    one, other = plan.bake.variants[:2]
    return element(
        "details",
        element("summary", "Two breads only: a triangle test or a paired test"),
        element(
            "p",
            f"To ask whether people can tell {one.name} from {other.name} at all, let each taster choose. "
            "A taster who cannot tell must guess, so the number of right choices says more than scores do. "
            "These are for the first two liquids of the plan; A is ",
            element("strong", one.name),
            ", B is ",
            element("strong", other.name),
            ". Take all slices of A from one loaf, and all of B from one loaf. Ask about allergies first.",
        ),
        _needed(plan),
        *(_served(plan, test) for test in TESTS),
    )


def _needed(plan: Plan) -> Element:
    counts = sorted({*range(FEW, MANY + 1), plan.bake.tasters} - {0})
    rows = [
        [
            f"{tasters} tasters" + (" (yours)" if tasters == plan.bake.tasters else ""),
            *(_bar(tasters, test, plan) for test in TESTS),
        ]
        for tasters in counts
    ]
    half = units.write(SOME, "share", plan.style)
    return element(
        "div",
        table(
            "How many must choose alike",
            [
                "",
                f"triangle: right ({TRIANGLE.source})",
                f"paired: for one of the two ({PAIRED.source})",
            ],
            rows,
            "dw-figures",
        ),
        element(
            "p",
            "Fewer than this come by guessing in more than 5 of 100 tests. In brackets: how often the test shows it when "
            f"{half} of the tasters can really tell. The numbers are sums of the binomial distribution, as in the standards.",
            class_="dw-note",
        ),
    )


def _bar(tasters: int, test: ChoiceTest, plan: Plan) -> str:
    bar = forced_choice.needed(tasters, test)
    if bar is None:
        return "too few tasters"
    sees = units.write(forced_choice.power(SOME, tasters, test), "share", plan.style, step=0.01)
    return f"{bar} ({sees})"


def _served(plan: Plan, test: ChoiceTest) -> Element:
    sheets = [forced_choice.sheet(plan.bake.word, test, n) for n in range(plan.bake.tasters)]
    slips = [
        [str(number), ", ".join(str(code) for _, code in one), ""]
        for number, one in enumerate(sheets, 1)
    ]
    key = [
        [str(number), ", ".join(f"{letter} = {code}" for letter, code in one)]
        for number, one in enumerate(sheets, 1)
    ]
    return element(
        "div",
        sheet(
            test.key,
            f"{test.name}: slips for the tasters",
            element("p", test.asks, " Choose one, even if you must guess."),
            table("Left to right", ["Taster", "Samples", "My choice"], slips, "dw-write-in"),
            element("p", print_button(f"Print the {test.name.lower()}’s slips", test.key)),
        ),
        sheet(
            f"{test.key}-key",
            f"{test.name}: key, for the teacher only",
            table("Which code is which liquid", ["Taster", "Samples"], key),
            element("p", print_button(f"Print the {test.name.lower()}’s key", f"{test.key}-key")),
        ),
    )


def said_of(count: Count, plan: Plan) -> str:
    """What a test that was made shows."""
    test, name = count.test, [variant.name for variant in plan.bake.variants[:2]]
    chance = forced_choice.chance(count.chosen, count.tasters, test)
    bar = forced_choice.needed(count.tasters, test)
    often = units.write(chance, "share", plan.style, step=0.001)
    what = (
        f"{count.chosen} of {count.tasters} found the odd sample" if test is TRIANGLE
        else f"{count.chosen} of {count.tasters} chose {name[0]}, {count.tasters - count.chosen} chose {name[1]}"
    )  # fmt: skip
    guessed = f"Guessing alone gives as much in {often} of such tests"
    if bar is None:
        return f"{test.name}: {what}. So few tasters cannot show a difference, however they choose."
    if chance <= forced_choice.RISK:
        return f"{test.name}: {what}. {guessed}: tasters can tell these two breads apart. Other loaves are another question."
    return f"{test.name}: {what}. {guessed}, and {bar} would have been needed: not shown. That does not make them alike."
