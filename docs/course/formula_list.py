"""Every calculation of `calc` as a formula: its givens, its steps, and an example from a problem."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby
from xml.etree.ElementTree import Element

from calc import units
from calc.composition import Ingredient, table
from calc.quantities import CALCULATIONS, RANKINGS, REGISTRY
from calc.registry import Quantity, Ranking, Slot
from calc.words import capital
from docs.course.kitchen_picture import picture
from docs.course.python_api import module_of
from docs.course.python_reference import folded, heading, paragraphs
from docs.course.what_to_ask import allowed
from docs.parts import worked_example
from exercises.draws import Problem, ProblemSet, draw
from exercises.problems import load, set_keys
from exercises.publish.html import element

# The scene beside each module's calculations; a new module has the usual one until it gets its own.
USUAL = "scale"
SHOWN = {
    "percentages": "bakers-percentage", "meanings": "what-hydration-means", "quantities": "swap", "label": "pack",
    "drying": "at-the-bench", "blend": "blends", "balance": "balance", "preferment": "preferments", "acid": "feel",
    "feel": "first-swaps", "temperature": "temperature", "scaling": "scale", "orders": "the-whole-job",
    "loaves": "side-by-side", "handling": "safe-handling", "scalding": "ingredients", "flours": "what-the-flour-does",
}  # fmt: skip
REFERENCE = "reference/python/"
KINDS = {"mass": "weight", "share": "percentage"}
# The examples' numbers are those that a student of this name is given.
SAMPLE = "Sample"


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A list of the calculations, then each of them, by module; then what can be put in order."""
    groups = [(name, list(each)) for name, each in groupby(REGISTRY.values(), _module)]
    return [
        _contents(groups),
        *(_group(name, quantities) for name, quantities in groups),
        _rankings(),
    ]


def anchor(kind: str, name: str) -> str:
    """The id of a calculation (``find``) or an order (``order``)."""
    return f"{kind}-{name.replace(' ', '-').replace(chr(39), '')}"


def _module(quantity: Quantity) -> str:
    return quantity.build.__module__


def _contents(groups: list[tuple[str, list[Quantity]]]) -> Element:
    made = element("ul")
    for name, quantities in groups:
        links = element(
            "ul",
            *(
                element("li", element("a", each.name, href=f"#{anchor('find', each.name)}"))
                for each in quantities
            ),
        )
        title = element("a", _title(name), href=f"#{_key(name)}")
        made.append(
            element("li", picture(SHOWN.get(name.rpartition(".")[2], USUAL), "small"), title, links)
        )
    made.append(element("li", element("a", "To put in order", href="#orders")))
    return element("nav", made, aria_label="Calculations", class_="dw-contents")


def _key(module: str) -> str:
    return f"from-{module.rpartition('.')[2]}"


def _title(module: str) -> str:
    return CALCULATIONS[module.rpartition(".")[2]]


def _group(name: str, quantities: list[Quantity]) -> Element:
    return element(
        "section",
        heading("h2", _title(name), _key(name)),
        *(_formula(each) for each in quantities),
    )


def _formula(quantity: Quantity) -> Element:
    module = module_of(_module(quantity))
    code = quantity.build.__name__
    doc = next(entry.doc for entry in module.entries if entry.name == code)
    call = element(
        "a",
        element("code", f"{module.name}.{code}"),
        data_site=f"{REFERENCE}#{module.name}.{code}",
    )
    body = [
        element("p", f"Finds {quantity.means}."),
        element("div", *paragraphs(doc, module, REFERENCE), class_="dw-says"),
        element(
            "ul",
            *(
                element("li", element("strong", slot.name), f": {_given(slot)}")
                for slot in quantity.slots
            ),
        ),
        *_example(quantity),
        element("p", "The function: ", call, class_="dw-note"),
    ]
    return _folded(quantity.name, anchor("find", quantity.name), body)


def _folded(name: str, place: str, body: list[Element]) -> Element:
    return element("section", folded("h3", capital(name), place, *body), class_="dw-formula")


def _given(slot: Slot) -> str:
    """What a slot takes; a share is a percentage to a baker."""
    if slot.kind == "ingredient":
        return allowed(slot)
    return f"a {KINDS.get(slot.kind, slot.kind)}, {allowed(slot)}"


def _example(quantity: Quantity) -> Iterator[Element]:
    found = next(
        ((s, p) for s, p in _problems() if p.quantity and p.quantity.name == quantity.name), None
    )
    if found is None:
        yield element("p", "No problem in the sets asks for this yet, so there is no example here.")
        return
    yield element("worked-example", *worked_example.build(_attributes(quantity, *found)))
    yield _taken_from(*found)


def _problems() -> Iterator[tuple[ProblemSet, Problem]]:
    for key in set_keys():
        problem_set = load(key)
        for problem in problem_set.problems:
            yield problem_set, problem


def _taken_from(problem_set: ProblemSet, problem: Problem) -> Element:
    return element(
        "p",
        f"A sample of the problem “{problem.title}” in the set “{problem_set.title}”.",
        class_="dw-note",
    )


def _attributes(quantity: Quantity, problem_set: ProblemSet, problem: Problem) -> dict[str, str]:
    """One draw's values, as an author writes them in `worked_example`."""
    shown = draw(problem_set, problem, SAMPLE).shown
    written = {
        name.replace(" ", "-"): _written(choice.value, quantity.slot(name).kind)
        for name, choices in problem.givens.items()
        for choice in choices
        if choice.shown == shown[name]
    }
    return {"ask": quantity.name} | written


def _written(value: float | Ingredient, kind: str) -> str:
    if not isinstance(value, Ingredient):
        return units.write_exact(value, kind)
    if value.key in table():
        return value.name
    return f"{value.name}, {units.write_exact(value.water, 'share')} water"


def _rankings() -> Element:
    return element(
        "section",
        heading("h2", "To put in order", "orders"),
        element(
            "p",
            "A problem may also ask for an order. Each ingredient has a score. Scores that are "
            "close count as equal. The orders of feel, colour, softness and proof say what usually "
            "happens, not what must.",
        ),
        *(_order(each) for each in RANKINGS.values()),
    )


def _order(ranking: Ranking) -> Element:
    found = next(
        ((s, p) for s, p in _problems() if p.ranking and p.ranking.name == ranking.name), None
    )
    example = (
        [element("p", "No problem in the sets asks for this yet, so there is no example here.")]
        if found is None
        else [_in_order(ranking, *found), _taken_from(*found)]
    )
    body = [element("p", ranking.asks), *example]
    return _folded(ranking.name, anchor("order", ranking.name), body)


def _in_order(ranking: Ranking, problem_set: ProblemSet, problem: Problem) -> Element:
    items = sorted(draw(problem_set, problem, SAMPLE).items, key=ranking.score, reverse=True)
    return element("ol", *(element("li", each.name) for each in items))
