"""What the course shows and the build alone writes: figures, bench sheets, the lists of sets,
skills, formulas and sources, the ingredient table, the Python reference.

Unlike the parts (`docs/parts`), none of this runs in the page, so none of it is in the page's Python.
"""

from docs.course import (
    bench_sheet,
    formula_list,
    host_headers,
    ingredient_table,
    lesson_figure,
    lesson_list,
    python_reference,
    set_list,
    skills_map,
    source_list,
    what_to_ask,
)

BUILD_ONLY = {
    "bench-sheet": bench_sheet,
    "formula-list": formula_list,
    "host-headers": host_headers,
    "ingredient-table": ingredient_table,
    "lesson-figure": lesson_figure,
    "python-reference": python_reference,
    "lesson-list": lesson_list,
    "set-list": set_list,
    "skills-map": skills_map,
    "source-list": source_list,
    "what-to-ask": what_to_ask,
}
