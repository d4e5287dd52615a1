"""Cautions as elements: every part that weighs a dough shows these before its first number."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from xml.etree.ElementTree import Element

from calc.cautions import Caution, borne, cautions
from calc.formula import Formula
from calc.limits import Finding, most_that_works, stopped
from calc.words import capital
from docs.parts.shared.fields import FieldErrors
from exercises.publish.html import element


def caution_list(before: Formula, *after: Formula) -> list[Element]:
    """What to say before the doughs `after` are shown in place of `before`."""
    said = cautions(before, *after)
    whole = [caution(each) for each in said if each.key not in MARKED]
    return [*whole, *marks(each for each in said if each.key in MARKED)]


def borne_list(dough: Formula) -> list[Element]:
    """What a dough that is not changed bears badly."""
    return [caution(each) for each in borne(dough)]


# What every baker has read before: its title says it, and opens to the rest. Allergens are named.
MARKED = ("allergen", "perishable", "alcohol", "infant", "raw")


def marks(said: Iterable[Caution]) -> list[Element]:
    """Cautions as a row of short marks, each of which opens; nothing where there are none."""
    made = [_mark(each) for each in said]
    return [element("div", *made, class_="dw-caution-marks")] if made else []


def _mark(said: Caution) -> Element:
    named, _, rest = said.text.partition(". ") if said.key == "allergen" else ("", "", said.text)
    title = element("strong", f"{said.title}{':' if named else ''}")
    return element(
        "details",
        element("summary", title, f" {named}." if named else None),
        element("p", capital(rest)),
        class_="dw-caution",
    )


def caution(said: Caution) -> Element:
    """One caution, as every part shows it."""
    return element(
        "p", element("strong", f"{said.title}: "), said.text, class_="dw-caution", role="note"
    )


def must_make_bread(
    values: Mapping[str, str], dough: Formula, part: Callable[[float], Formula] | None = None
) -> None:
    """Raises FieldErrors, at the field that names the cause, when a dough cannot make bread.

    `part` makes the dough with only a share of the new liquid: then the message says how much works.
    """
    found = stopped(dough)
    if found is None:
        return
    most = most_that_works(part, found.limit) if part else 0
    up_to = f"Up to {most} % of the liquid is no trouble. " if most else ""
    reason = capital(found.reason)
    text = f"This cannot make bread. {reason} {up_to}{found.limit.works}"
    raise FieldErrors({_field_of(values, found): text})


def _field_of(values: Mapping[str, str], found: Finding) -> str:
    """The field that chose what brings the most, the new liquid's before the formula's."""
    keys = {each.key for each in found.brought_by}
    names = ("becomes", "was", *values)
    return next((name for name in names if values.get(name) in keys), "was")
