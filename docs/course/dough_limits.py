"""What a dough can bear, in words, from the limits themselves: thresholds, what works, sources."""

from __future__ import annotations

from collections.abc import Mapping
from xml.etree.ElementTree import Element

from calc import units
from calc.limits import LIMITS, Limit
from exercises.publish.html import element


def build(attributes: Mapping[str, str]) -> list[Element]:
    """A definition list: each limit with its thresholds, what works in its place, its source."""
    made = element("dl")
    for limit in LIMITS:
        made.append(element("dt", element("strong", limit.title)))
        made.append(element("dd", f"{_thresholds(limit)} {limit.works} {limit.source}"))
    return [made]


def _thresholds(limit: Limit) -> str:
    warn, stop = (share and units.write_exact(share, "share") for share in (limit.warn, limit.stop))
    stopped = f", and no weight above {stop}" if stop else ""
    return f"Counted: {limit.counted}. A warning above {warn}{stopped}."
