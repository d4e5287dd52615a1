"""What the course shows and the build alone writes: figures, bench sheets, the list of sets, the skills map.

Unlike the parts (`docs/parts`), none of this runs in the page, so none of it is in the page's Python.
"""

from docs.course import bench_sheet, lesson_figure, set_list, skills_map

STILL = {
    "bench-sheet": bench_sheet,
    "lesson-figure": lesson_figure,
    "set-list": set_list,
    "skills-map": skills_map,
}
