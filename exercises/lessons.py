"""The course: its lessons in teaching order."""

# A lesson's key and its title. Its page, its figures, its set, the set's page and its teaching page have
# the key as their name; the menu and the lists take the title from here, and a test compares the pages'.
LESSONS: dict[str, str] = {
    "bakers-percentage": "Baker's percentage and total flour",
    "what-hydration-means": "What hydration means",
    "finding-the-water": "Find the water in a liquid",
    "divide-by-the-water-content": "Divide by the water content",
    "part-swaps-blends-eggs": "Part swaps, blends, eggs and purees",
    "what-rides-along": "What rides along",
    "acidity-and-feel": "Acidity and feel",
    "preferments": "Preferments and starters",
    "dough-temperature": "Dough temperature with cold liquids",
    "scaling-and-rounding": "Scaling, rounding and error",
    "side-by-side-bake": "Plan and read a side-by-side bake",
    "safe-handling": "Allergens, perishable dough and safe handling",
    "what-the-flour-does": "What the flour does",
}
