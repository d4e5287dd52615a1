"""The lessons' figures, by name. A module for each lesson that has some; its import enters them here."""

from importlib import import_module
from importlib.util import find_spec

from docs.course.figures.registry import FIGURES
from exercises.lessons import LESSONS

__all__ = ["FIGURES"]

for _key in LESSONS:
    if find_spec(_module := f"{__name__}.{_key.replace('-', '_')}"):
        import_module(_module)
