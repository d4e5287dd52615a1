"""A worked example: the givens, then each step with its reason, relation and numbers."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import composition, units
from calc.quantities import REGISTRY
from calc.registry import Quantity
from calc.units import PLAIN, Style
from calc.words import capital
from calc.working import Working
from docs.parts import python_cell
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``ask`` names a quantity; its slots are the other attributes, hyphens for spaces.

    Raises ValueError with a message for the lesson's author.
    """
    quantity, working = asked(attributes)
    answer = working.answer
    return [
        element("p", "Worked example", class_="dw-eyebrow"),
        given_list(working),
        steps(working),
        element(
            "p",
            f"{capital(answer.label)}: ",
            element("strong", working.weighed(answer.key)),
            class_="dw-answer",
        ),
        python_cell.folded(_python(quantity, attributes)),
    ]


def asked(attributes: Mapping[str, str]) -> tuple[Quantity, Working]:
    """What an example's attributes ask for, and its working.

    Raises ValueError with a message for the lesson's author.
    """
    quantity = REGISTRY.get(attributes.get("ask", ""))
    if quantity is None:
        raise ValueError(f"“ask” must be one of: {', '.join(REGISTRY)}")
    values = {}
    for slot in quantity.slots:
        text = attributes.get(slot.name.replace(" ", "-"))
        if text is None and not slot.optional:
            raise ValueError(f"“{quantity.name}” needs the attribute {slot.name.replace(' ', '-')}")
        if text is not None:
            is_name = slot.kind == "ingredient"
            values[slot.name] = (
                composition.read(text) if is_name else units.read(text, slot.kind).value
            )
    return quantity, quantity.working(values)


def _python(quantity: Quantity, attributes: Mapping[str, str]) -> str:
    """The exact call behind the example."""
    given = []
    for slot in quantity.slots:
        text = attributes.get(slot.name.replace(" ", "-"))
        if text is not None:
            call = (
                f'ingredient("{text}")'
                if slot.kind == "ingredient"
                else f'read("{text}", "{slot.kind}").value'
            )
            given.append(f'    "{slot.name}": {call},')
    return "\n".join(
        (
            "from calc.composition import read as ingredient",
            "from calc.quantities import REGISTRY",
            "from calc.units import read",
            "",
            f'working = REGISTRY["{quantity.name}"].working({{',
            *given,
            "})",
            "for step in working.steps:",
            '    print(step, "=", working.sentence(step), " bounds:", working.bounds()[step])',
            "",
        )
    )


def given_list(working: Working, style: Style = PLAIN) -> Element:
    """The givens that the steps use, each with its value."""
    used = {name for step in working.steps.values() for name in step.uses}
    made = element("dl", class_="dw-givens")
    for given in working.givens.values():
        if given.key in used:
            pair = element(
                "div", element("dt", given.label), element("dd", working.stated(given.key, style))
            )
            made.append(pair)
    return made


def steps(working: Working, style: Style = PLAIN) -> Element:
    """Each step: what it finds, its numbers, and why."""
    made = element("ol", class_="dw-steps")
    for step in working.steps.values():
        made.append(
            element(
                "li",
                element(
                    "span", f"{step.label} = {working.relation(step.key)}", class_="dw-relation"
                ),
                element("span", working.sentence(step.key, style), class_="dw-numbers"),
                element("span", step.why, class_="dw-why"),
            )
        )
    return made
