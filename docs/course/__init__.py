"""What the course shows and the build alone writes: figures, bench sheets and their clock, the lists of sets,
skills, formulas and sources, the ingredient table, the Python reference.

Unlike the parts (`docs/parts`), none of this runs in the page, so none of it is in the page's Python.
"""

from docs.parts.shared.part import Part, parts_of

BUILD_ONLY: dict[str, Part] = parts_of(
    __name__,
    "bake-card",
    "bench-plan",
    "bench-sheet",
    "curriculum-map",
    "dough-limits",
    "food-kinds",
    "formula-list",
    "go-on",
    "host-headers",
    "ingredient-table",
    "kitchen-picture",
    "lesson-clock",
    "lesson-figure",
    "lesson-list",
    "lesson-outcomes",
    "look-gallery",
    "paper-test",
    "python-reference",
    "set-list",
    "skills-map",
    "source-list",
    "step-answers",
    "term-plan",
    "what-to-ask",
)
