"""Known wrong methods, each one change to one step (`rule` says what a rule is).

The catalogue is made of what students do: `liquids`, `percentages`, `sums`, `bench`, `figures`. Which of them
explains a number is sought in `calc.diagnosis`.
"""

from calc.mistakes import bench, figures, liquids, percentages, sums
from calc.mistakes.rule import BY_KEY, CATALOGUE, Changed, Mistake

__all__ = [
    "BY_KEY", "CATALOGUE", "Changed", "Mistake", "bench", "figures", "liquids", "percentages", "sums",
]  # fmt: skip
