"""Blind codes for loaves, and the orders of tasting, mixing and baking.

A taster who knows which loaf is which tastes what is expected, so loaves carry three-digit codes.
What is tasted first, or right after a sour loaf, is judged otherwise, so the orders are balanced.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from hashlib import sha256

# Blind codes have three figures, so none looks like a place in an order.
FIRST_CODE, LAST_CODE = 100, 999


def blind_codes(word: str, loaves: Sequence[str]) -> tuple[int, ...]:
    """A three-digit code for each loaf, no code twice.

    `word` is what the codes are drawn from: the same word and the same loaf names give the same
    codes on every device, by SHA-256. A loaf added at the end leaves the earlier codes as they are.

    Raises ValueError when a name appears twice or there are more loaves than codes.
    """
    if len(set(loaves)) != len(loaves):
        raise ValueError("Two loaves have the same name.")
    if len(loaves) > LAST_CODE - FIRST_CODE + 1:
        raise ValueError("There are more loaves than three-digit codes.")
    codes: list[int] = []
    for loaf in loaves:
        draw = 0
        while (code := _code(word, loaf, draw)) in codes:
            draw += 1
        codes.append(code)
    return tuple(codes)


def _code(word: str, loaf: str, draw: int) -> int:
    digest = sha256(f"{word}\n{loaf}\n{draw}".encode()).digest()
    return FIRST_CODE + int.from_bytes(digest, "big") % (LAST_CODE - FIRST_CODE + 1)


def serving_orders(samples: int) -> tuple[tuple[int, ...], ...]:
    """Orders of 0 … `samples` − 1, one for each taster, in which no place and no neighbour is favoured.

    Over all the orders every sample is equally often in every place, and comes equally often
    right after every other sample. An even number of samples needs as many orders; an odd number
    twice as many. Source: “Experimental designs balanced for the estimation of residual effects of
    treatments”, Australian Journal of Scientific Research A 2 (1949), 149–168; the first order runs from both ends inward, each next one adds 1 (from memory).

    >>> serving_orders(4)
    ((0, 1, 3, 2), (1, 2, 0, 3), (2, 3, 1, 0), (3, 0, 2, 1))
    """
    if samples < 2:
        raise ValueError("An order needs at least two samples.")
    first = [0]
    for step in range(1, samples):
        first.append((samples - step // 2) % samples if step % 2 == 0 else step // 2 + 1)
    rows = [tuple((place + add) % samples for place in first) for add in range(samples)]
    if samples % 2:
        rows += [row[::-1] for row in rows]
    return tuple(rows)


def balanced_tasters(samples: int, replicates: int = 1) -> int:
    """The smallest number of tasters for whom all is balanced; so is each multiple of it.

    With one replicate: the samples' places and neighbours. With several: each loaf's place too.
    """
    return len(serving_orders(samples)) * replicates


def serving(samples: int, replicates: int, taster: int) -> tuple[tuple[int, int], ...]:
    """What one taster tastes, in order: pairs of (sample, replicate), all counted from 0.

    A taster tastes one loaf of every sample, all of one round, so that a round's loaves stand in
    every place equally often whatever the number of tasters. The rounds take turns; where their
    turn and that of the orders would always meet alike, the turn moves on by one.
    """
    orders = serving_orders(samples)
    turn = taster + taster // math.lcm(len(orders), replicates)
    return tuple((sample, turn % replicates) for sample in orders[taster % len(orders)])


# Mixing and baking: a round makes one loaf of each sample.


def mixing_orders(samples: int, rounds: int) -> tuple[tuple[int, ...], ...]:
    """In which order each round mixes its doughs.

    From two rounds on, the places that a sample has had add up to the same for all samples, or
    differ by one: none is the early one, and none the late one.
    """
    williams = serving_orders(samples)
    orders = list(_three_orders(samples)) if rounds % 2 and rounds > 1 else []
    pairs = iter(williams * rounds)
    while len(orders) < rounds:
        order = next(pairs)
        orders += [order, order[::-1]]
    return tuple(orders[:rounds])


def _three_orders(samples: int) -> tuple[tuple[int, ...], ...]:
    """Three orders in which every sample's places add up to the same, or differ by one."""
    half, last = (samples - 1) // 2, samples - 1
    every = range(samples)
    second = [last - one // 2 if one % 2 else half - one // 2 for one in every]
    third = sorted(every, key=lambda one: one + second[one], reverse=True)
    return tuple(every), tuple(sorted(every, key=second.__getitem__)), tuple(third)


def oven_places(samples: int, rounds: int) -> tuple[tuple[int, ...], ...]:
    """For each round, each sample's place in the oven, from 0.

    No sample has a place twice before it has had all the others, or before the rounds end.
    """
    step = max(1, samples // rounds)
    return tuple(
        tuple((sample + number * step) % samples for sample in range(samples))
        for number in range(rounds)
    )
