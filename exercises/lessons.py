"""The course: the keys of its lessons."""

# The course, in teaching order. A lesson's page, its set and its teaching page share this key.
LESSONS = (
    "bakers-percentage",
    "what-hydration-means",
    "finding-the-water",
    "divide-by-the-water-content",
    "part-swaps-blends-eggs",
    "what-rides-along",
    "acidity-and-feel",
    "preferments",
    "dough-temperature",
    "scaling-and-rounding",
    "side-by-side-bake",
    "safe-handling",
)
