"""The cautions of `calc.cautions` as elements: every part that changes a formula shows these first."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from calc.cautions import cautions
from calc.formula import Formula
from exercises.publish.html import element


def caution_list(before: Formula, after: Formula) -> list[Element]:
    """What to say before `after` is shown in place of `before`."""
    return [
        element(
            "p",
            element("strong", f"{caution.title}: "),
            caution.text,
            class_="dw-caution",
            role="note",
        )
        for caution in cautions(before, after)
    ]
