"""The sources of the ingredient table, in words, from the table of sources itself."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc.composition import sources
from calc.words import capital
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A definition list: each source has its key as id, so that the table can link to it."""
    made = element("dl")
    for key, source in sources().items():
        name = capital(source["short"])
        facts = "; ".join(
            filter(None, (source["publisher"], source["year"], source["licence_or_status"]))
        )
        made.append(element("dt", element("strong", name), f": {source['title']}", id=key))
        made.append(element("dd", f"{capital(facts)}. {source['note']}"))
    return [made]
