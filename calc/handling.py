"""Time out of the cold: how much of a limit is used, and how much is left for the proof.

The limit comes from your local food code, or from the problem; it is never this module's. Minutes.
"""

from __future__ import annotations

from calc.expression import summed
from calc.registry import Slot, quantity
from calc.working import Working

_SPELL = ("time", 1, 1440)


@quantity(
    "time left out of the cold",
    "how long a perishable dough may proof, if it must be baked within a limit that is given",
    Slot("limit", "time", 30, 1440),
    Slot("mixing", *_SPELL),
    Slot("first rise", *_SPELL),
    Slot("shaping", *_SPELL),
    Slot("baking", *_SPELL),
    plausible_low=5,
    plausible_high=1440,
)
def time_left(
    limit: float, mixing: float, first_rise: float, shaping: float, baking: float
) -> Working:
    """Time left = limit − (mixing + first rise + shaping + baking), all in minutes.

    The oven counts: under the US FDA Food Code 2022, 3-501.19(B)(3), such food is cooked and served
    within the limit, from when it leaves the cold (read in Minnesota's and Wisconsin's adoptions).
    """
    working = Working("Time left out of the cold")
    most = working.given("limit", "limit", limit, "time")
    spells = [
        working.given(name, f"time for {name}", minutes, "time")
        for name, minutes in (
            ("mixing", mixing),
            ("the first rise", first_rise),
            ("shaping", shaping),
            ("baking", baking),
        )
    ]
    used = working.step(
        "used", "time used", summed(spells), "time", to=1.0,
        why="Every minute from the cold to the end of the bake counts.",
    )  # fmt: skip
    working.step(
        "left", "time left for the proof", most - used, "time", to=1.0,
        why="Take the time used off what the limit allows.",
    )  # fmt: skip
    return working
