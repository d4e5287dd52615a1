"""How hard a problem is, and how well it tells students apart: from running sums alone.

Difficulty is the share of its marks that the class earned. Discrimination is the corrected
item-total correlation: Pearson's correlation of the marks on a problem with the marks on all the
others together (Educational and Psychological Measurement 13, 1953, 87–93). With x the
marks on the problem, T the total and R = T − x::

    r = cov(x, R) ÷ √(var x × var R),  cov(x, R) = cov(x, T) − var x,
                                       var R = var T + var x − 2 cov(x, T)

Its 95 % interval is Fisher's: tanh(artanh r ± 1.96 ÷ √(n − 3)) (Metron 1, 1921, 3–32; the
citation is from memory, the formula is checked against SciPy).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

# Two-sided 95 % of the normal distribution.
NORMAL_95 = 1.959963984540054
# Fisher's interval needs more than three students.
FEWEST = 4


@dataclass
class Item:
    """The running sums of one problem over the students counted. Marks as they are given."""

    n: int = 0
    earned: float = 0
    out_of: float = 0
    total: float = 0
    earned_squared: float = 0
    total_squared: float = 0
    earned_by_total: float = 0

    def add(self, earned: float, out_of: float, total: float) -> None:
        """Count a student: marks on this problem, its marks at most, and marks on the whole set."""
        self.n += 1
        self.earned += earned
        self.out_of += out_of
        self.total += total
        self.earned_squared += earned * earned
        self.total_squared += total * total
        self.earned_by_total += earned * total

    @property
    def difficulty(self) -> float | None:
        """The share of its marks that was earned, 0 to 1; None before anyone is counted."""
        return self.earned / self.out_of if self.out_of else None

    @property
    def discrimination(self) -> float | None:
        """The corrected item-total correlation, −1 to 1; None where marks do not vary."""
        own = self.n * self.earned_squared - self.earned**2
        whole = self.n * self.total_squared - self.total**2
        both = self.n * self.earned_by_total - self.earned * self.total
        rest = whole + own - 2 * both
        # What is left of rounding when every student has the same marks is no variance.
        noise = 1e-9 * max(1.0, self.n * self.total_squared)
        if own <= noise or rest <= noise:
            return None
        return max(-1.0, min(1.0, (both - own) / math.sqrt(own * rest)))

    @property
    def interval(self) -> tuple[float, float] | None:
        """The 95 % interval of the discrimination; None where it cannot be said."""
        r = self.discrimination
        if r is None or self.n < FEWEST:
            return None
        if abs(r) == 1.0:
            return r, r
        reach = NORMAL_95 / math.sqrt(self.n - 3)
        return math.tanh(math.atanh(r) - reach), math.tanh(math.atanh(r) + reach)

    @property
    def says(self) -> str:
        """What the discrimination means for the teacher, and what it cannot say."""
        if self.discrimination is None:
            return "Nothing: all students have the same marks here, or on the rest."
        if self.interval is None:
            return f"Nothing: {self.n} students are too few."
        low, high = self.interval
        if low <= 0 <= high:
            return f"Too little: with {self.n} students this may be chance."
        if high < 0:
            return (
                "Look at this problem: who did well on the rest did worse here. Is its text clear?"
            )
        return "Who did well on the rest did well here."
