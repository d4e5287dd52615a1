"""The lessons' figures, by name. A module for each lesson; its import enters its figures here."""

from docs.course.figures import (
    acidity_and_feel,
    bakers_percentage,
    divide_by_the_water_content,
    dough_temperature,
    finding_the_water,
    part_swaps_blends_eggs,
    preferments,
    safe_handling,
    scaling_and_rounding,
    side_by_side_bake,
    what_hydration_means,
    what_rides_along,
)
from docs.course.figures.drawing import FIGURES

__all__ = [
    "FIGURES",
    "acidity_and_feel",
    "bakers_percentage",
    "divide_by_the_water_content",
    "dough_temperature",
    "finding_the_water",
    "part_swaps_blends_eggs",
    "preferments",
    "safe_handling",
    "scaling_and_rounding",
    "side_by_side_bake",
    "what_hydration_means",
    "what_rides_along",
]
