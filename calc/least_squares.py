"""The nearest weights, none below nothing: a small exact least-squares solver.

It is the active-set method of Solving Least Squares Problems (1974), chapter 23 (cited from memory),
with one equation that must hold exactly added to it. It counts in fractions, so no rounding and no
tolerance can decide which weights are nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

# So small that it only chooses between weights that fit equally well. Fractions allow it.
TIE = Fraction(1, 10**30)


def nearest(
    rows: Sequence[Sequence[Fraction]],
    wanted: Sequence[Fraction],
    hard: Sequence[Fraction],
    hard_wanted: Fraction,
    start: Sequence[Fraction],
    scales: Sequence[Fraction],
) -> list[Fraction]:
    """The weights x ≥ 0 with hard·x = `hard_wanted` and the least Σ (row·x − wanted)².

    Of several that fit equally well it gives the ones nearest to `start`, each change counted in
    its own `scales`. `hard` must not hold anything below 0.

    Raises ValueError when no weights can make hard·x as much as is wanted.
    """
    count = range(len(start))
    if hard_wanted < 0 or (hard_wanted > 0 and not any(hard)):
        raise ValueError("no weights give what must hold exactly")
    # The sum to make small is ½ x·curve·x − x·pull, and a constant.
    curve = [
        [
            sum((row[i] * row[j] for row in rows), TIE / scales[i] ** 2 if i == j else Fraction(0))
            for j in count
        ]
        for i in count
    ]
    pull = [
        sum((row[i] * aim for row, aim in zip(rows, wanted, strict=True)), Fraction(0))
        + TIE * start[i] / scales[i] ** 2
        for i in count
    ]
    weights = [Fraction(0)] * len(start)
    free: list[int] = []
    if hard_wanted:
        first = max(count, key=lambda i: hard[i])
        weights[first] = hard_wanted / hard[first]
        free = [first]
    allowed = [i for i in count if hard_wanted or not hard[i]]
    while True:
        price = _settle(weights, free, curve, pull, hard, hard_wanted)
        gain = {
            i: pull[i] - price * hard[i] - sum(curve[i][j] * weights[j] for j in free)
            for i in allowed
            if i not in free
        }
        best = max(gain, key=gain.__getitem__, default=None)
        if best is None or gain[best] <= 0:
            return weights
        free.append(best)


def _settle(
    weights: list[Fraction],
    free: list[int],
    curve: Sequence[Sequence[Fraction]],
    pull: Sequence[Fraction],
    hard: Sequence[Fraction],
    hard_wanted: Fraction,
) -> Fraction:
    """Move the free weights to their best place; those that come to nothing are free no more.

    Gives the price of the hard equation: what one more of it would cost.
    """
    while True:
        aims, price = _best(free, curve, pull, hard, hard_wanted)
        low = [i for i in free if aims[i] <= 0]
        if not low:
            for i in free:
                weights[i] = aims[i]
            return price
        way = min(weights[i] / (weights[i] - aims[i]) for i in low)
        for i in free:
            weights[i] += way * (aims[i] - weights[i])
        free[:] = [i for i in free if weights[i] > 0]


def _best(
    free: Sequence[int],
    curve: Sequence[Sequence[Fraction]],
    pull: Sequence[Fraction],
    hard: Sequence[Fraction],
    hard_wanted: Fraction,
) -> tuple[dict[int, Fraction], Fraction]:
    """The best free weights if they might be below nothing, and the price of the hard equation."""
    square = [[curve[i][j] for j in free] for i in free]
    loose = _solve(square, [pull[i] for i in free])
    price = Fraction(0)
    if any(hard[i] for i in free):
        lean = _solve(square, [hard[i] for i in free])
        over = _dot((hard[i] for i in free), loose) - hard_wanted
        price = over / _dot((hard[i] for i in free), lean)
        loose = [one - price * two for one, two in zip(loose, lean, strict=True)]
    return dict(zip(free, loose, strict=True)), price


def _dot(left: Iterable[Fraction], right: Iterable[Fraction]) -> Fraction:
    return sum((a * b for a, b in zip(left, right, strict=True)), Fraction(0))


def _solve(square: Sequence[Sequence[Fraction]], right: Sequence[Fraction]) -> list[Fraction]:
    """Solve a positive definite system; it needs no exchange of rows."""
    size = len(right)
    rows = [[*line, value] for line, value in zip(square, right, strict=True)]
    for place in range(size):
        for below in range(place + 1, size):
            factor = rows[below][place] / rows[place][place]
            for column in range(place, size + 1):
                rows[below][column] -= factor * rows[place][column]
    solved = [Fraction(0)] * size
    for place in reversed(range(size)):
        rest = _dot(rows[place][place + 1 : size], solved[place + 1 :])
        solved[place] = (rows[place][size] - rest) / rows[place][place]
    return solved
