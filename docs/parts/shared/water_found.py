"""A water content that was found: how it is said, and the link that hands it to the swap."""

from __future__ import annotations

import math
from urllib.parse import urlencode
from xml.etree.ElementTree import Element

from calc import units
from calc.interval import Interval
from calc.units import Style
from exercises.publish.html import element

SWAP_PAGE = "swap/"
# Water is told in tenths of a per cent; bounds are rounded outwards.
_STEP = 0.001


def sentence(value: float, bounds: Interval, style: Style) -> str:
    """The water content and its bounds in one sentence."""
    low, high = _outward(bounds)
    ends = (units.write(end, "share", style, step=_STEP) for end in (low, high))
    return "Water: {}. It can be from {} to {}.".format(
        units.write(value, "share", style, step=_STEP), *ends
    )


def swap_link(value: float, bounds: Interval) -> Element | None:
    """A link that opens the swap with this water content; None when there is no water to swap."""
    value = round(value / _STEP) * _STEP
    if value <= 0:
        return None
    low, high = _outward(bounds)
    query = {
        "becomes": "own",
        "own-water": _percent(value),
        "own-low": _percent(max(low, _STEP)),
        "own-high": _percent(high),
    }
    link = element(
        "a", "Use it in a swap", data_site=f"{SWAP_PAGE}?{urlencode(query)}", class_="dw-button"
    )
    return element("p", link)


def water_in_100_g(value: float, bounds: Interval) -> dict[str, float]:
    """The water and its bounds in grams, as the form for one's own ingredients names them."""
    low, high = _outward(bounds)
    return {"water": 100 * value, "water_low": 100 * low, "water_high": 100 * high}


def _outward(bounds: Interval) -> tuple[float, float]:
    low = math.floor(bounds.low / _STEP + 1e-6) * _STEP
    return low, min(1.0, math.ceil(bounds.high / _STEP - 1e-6) * _STEP)


def _percent(share: float) -> str:
    return f"{share * 100:.1f} %"
