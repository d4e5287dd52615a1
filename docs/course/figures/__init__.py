"""The lessons' figures, by name. A module for each lesson; its import enters its figures here."""

from docs.course.figures import divide_by_the_water_content
from docs.course.figures.drawing import FIGURES

__all__ = ["FIGURES", "divide_by_the_water_content"]
