"""Time out of the cold: how much of a limit is used, and how much is left.

The limit comes from your local food code, or from the problem; it is never this module's. Minutes.
"""

from __future__ import annotations

from calc.registry import Slot, quantity
from calc.working import Working

_SPELL = ("time", 1, 1440)


@quantity(
    "time left out of the cold",
    "how long a perishable dough may still stand warm, under a limit that is given",
    Slot("limit", "time", 30, 1440),
    Slot("mixing", *_SPELL),
    Slot("first rise", *_SPELL),
    Slot("shaping", *_SPELL),
    least=5,
    most=1440,
)
def time_left(limit: float, mixing: float, first_rise: float, shaping: float) -> Working:
    """Time left = limit − (mixing + first rise + shaping), all in minutes.

    Every spell out of the cold counts, and time in the fridge between two spells gives none of it
    back: common practice where a food code lets time stand in for cold; the code itself decides.
    """
    working = Working("Time left out of the cold")
    most = working.given("limit", "limit", limit, "time")
    spells = [
        working.given(name, f"time for {name}", minutes, "time")
        for name, minutes in (
            ("mixing", mixing),
            ("the first rise", first_rise),
            ("shaping", shaping),
        )
    ]
    used = working.step(
        "used", "time used", spells[0] + spells[1] + spells[2], "time", to=1.0,
        why="Every minute out of the cold counts, whatever the dough does in it.",
    )  # fmt: skip
    working.step(
        "left", "time left", most - used, "time", to=1.0,
        why="What the limit allows, less what is used.",
    )  # fmt: skip
    return working
