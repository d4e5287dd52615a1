"""Wrong methods, written from what students do, apart from the catalogue in `calc.mistakes`.

Each function below is one quantity. It gets the numbers of a problem, in calc's units, and yields what a
student gets who goes wrong in one way: the family of the slip, the number, and the step it is for (none: the
last). It is plain arithmetic, from no working: what the catalogue knows must not decide what is asked of it.

Source: common practice of the trade and of teaching it; no list was copied. It was written before anybody
looked at the catalogue; `FRESH` and `THIRD` at the end are later.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Wrong:
    """One wrong method in one draw: its family, the number it gives, and for which step ("": the last)."""

    family: str
    value: float
    step: str = ""


Methods = Callable[..., Iterator[tuple]]
LISTED: dict[str, tuple[Methods, dict[str, str]]] = {}
FRESH: dict[str, tuple[Methods, dict[str, str]]] = {}
THIRD: dict[str, tuple[Methods, dict[str, str]]] = {}


def of(*quantities: str, into: dict = LISTED, **keys: str) -> Callable[[Methods], Methods]:
    """The wrong methods of these quantities; `keys` says which given each argument is."""

    def known(methods: Methods) -> Methods:
        into.update(dict.fromkeys(quantities, (methods, keys)))
        return methods

    return known


def wrong(quantity: str, givens: Mapping[str, float], listed: Mapping = LISTED) -> Iterator[Wrong]:
    """Every wrong method of a quantity, with these givens; a given that is not there is left out."""
    if quantity not in listed:
        return
    methods, keys = listed[quantity]
    wanted = {name: keys.get(name, name) for name in inspect.signature(methods).parameters}
    numbers = {name: givens[key] for name, key in wanted.items() if key in givens}
    for found in methods(**numbers):
        yield Wrong(*found)


# The water that a dough needs, and the liquid that brings it.


@of("water needed", F="flour", h="hydration")
def water_needed(F, h):
    yield "divided for multiplied", F / h
    yield "on the whole dough", F * h / (1 + h)
    yield "the part that is not water", F * (1 - h)
    yield "flour and water together", F * (1 + h)
    yield "doubled", 2 * F * h
    yield "halved", F * h / 2


@of("new liquid", F="flour", h="hydration", w="water content")
def new_liquid(F, h, w):
    yield "gram for gram", F * h
    yield "multiplied for divided", F * h * w
    yield "added the missing share", F * h * (2 - w)
    yield "solids for water", F * h / (1 - w)
    yield "solids for water", F * h * (1 - w)
    yield "forgot the hydration", F / w
    yield "forgot the hydration", F * w
    yield "on the whole dough", F * h / (1 + h) / w
    yield "divided for multiplied", F / h / w
    yield "only the difference", F * h / w - F * h
    yield "doubled", 2 * F * h / w


@of("liquid for liquid", L="old", w1="old-content", w2="new-content")
def liquid_for_liquid(L, w2, w1=None):
    yield "gram for gram", L
    if w1 is None:
        yield "multiplied for divided", L * w2
        yield "added the missing share", L * (2 - w2)
        yield "solids for water", L / (1 - w2)
        yield "solids for water", L * (1 - w2)
        yield "only the difference", L / w2 - L
        return
    yield "ratio upside down", L * w2 / w1
    yield "stopped at the water", L * w1
    yield "multiplied for divided", L * w1 * w2
    yield "old liquid as water", L / w2
    yield "old liquid as water", L * w2
    yield "divided by the old content", L / w1
    yield "added the difference of contents", L * (1 + w1 - w2)
    yield "solids for water", L * (1 - w1) / (1 - w2)
    yield "solids for water", L * w1 / (1 - w2)
    yield "solids for water", L * (1 - w1) / w2
    yield "only the difference", abs(L * w1 / w2 - L)
    yield "doubled", 2 * L * w1 / w2


@of("part swap", L="old", p="part", w1="old-content", w2="new-content")
def part_swap(L, p, w2, w1=None):
    yield "gram for gram", L * p
    yield "forgot the part", L * (w1 or 1) / w2
    yield "the part that stays", L * (1 - p) * (w1 or 1) / w2
    yield "multiplied for divided", L * p * (w1 or 1) * w2
    yield "solids for water", L * p * (w1 or 1) / (1 - w2)
    yield "solids for water", L * p * (w1 or 1) * (1 - w2)
    yield "added the missing share", L * p * (w1 or 1) * (2 - w2)
    yield "divided for multiplied", L / p / w2
    yield "doubled", 2 * L * p * (w1 or 1) / w2
    if w1 is not None:
        yield "ratio upside down", L * p * w2 / w1
        yield "stopped at the water", L * p * w1
        yield "old liquid as water", L * p / w2
        yield "divided by the old content", L * p / w1
    else:
        yield "part of the new liquid taken again", L * p * p / w2


@of("hydration", F="flour", L="liquid weight", other="other ingredients", w="water content")
def hydration(F, L, w, other=0):
    yield "liquid as water", L / F
    yield "ratio upside down", F / (L * w)
    yield "ratio upside down", F / L
    yield "divided for multiplied", L / w / F
    yield "solids for water", L * (1 - w) / F
    yield "on flour and liquid", L * w / (F + L)
    yield "on flour and water", L * w / (F + L * w)
    yield "on flour and liquid", L / (F + L)
    if other:
        yield "on the whole dough", L * w / (F + L + other)
        yield "others in the flour", L * w / (F + other)
        yield "others counted as liquid", (L + other) * w / F


@of("hydration after gram for gram", F="flour", h="hydration", w="water content")
def after_gram_for_gram(F, h, w):
    yield "as planned", h
    yield "divided for multiplied", h / w
    yield "solids for water", h * (1 - w)
    yield "on flour and liquid", h * w / (1 + h)
    yield "on flour and water", h * w / (1 + h * w)
    yield "took the missing share off the hydration", h - (1 - w)
    yield "the water content alone", w
    yield "ratio upside down", 1 / (h * w)


@of("water in a liquid", L="liquid weight", w="water content")
def water_in_liquid(L, w):
    yield "divided for multiplied", L / w
    yield "solids for water", L * (1 - w)
    yield "liquid as water", L
    yield "added the missing share", L * (2 - w)
    yield "halved", L * w / 2
    yield "doubled", L * w * 2


@of("fat brought", F="flour", h="hydration", w="water content", f="fat content")
@of("sugar brought", F="flour", h="hydration", w="water content", f="sugar content")
@of("salt brought", F="flour", h="hydration", w="water content", f="salt content")
def brought(F, h, w, f):
    right = h / w * f
    yield "gram for gram", h * f
    yield "multiplied for divided", h * w * f
    yield "water taken as what rides along", h
    yield "ratio upside down", 1 / right
    yield "on flour and liquid", right / (1 + h / w)
    yield "the content alone", f
    yield "forgot the hydration", f / w
    yield "divided for multiplied", h / w / f
    yield "of the liquid, not of the flour", f * F * h / w / (F * h)
    yield "on flour and water", right / (1 + h)
    yield "solids for water", h / (1 - w) * f
    yield "solids for water", h / w * (1 - w)
    yield "doubled", 2 * right


@of(
    "salt left to add",
    F="flour",
    h="hydration",
    w="water content",
    f="salt content",
    p="salt percentage",
)
@of(
    "sugar left to add",
    F="flour",
    h="hydration",
    w="water content",
    f="sugar content",
    p="sugar percentage",
)
def left_to_add(F, h, w, f, p):
    liquid = F * h / w
    yield "forgot what the liquid brings", F * p
    yield "gave what the liquid brings", liquid * f
    yield "added for taken away", F * p + liquid * f
    yield "gram for gram", F * p - F * h * f
    yield "multiplied for divided", F * p - F * h * w * f
    yield "took the percentages from each other", F * (p - f)
    yield "percentage of the liquid", liquid * p
    yield "percentage of flour and liquid", (F + liquid) * p - liquid * f
    yield "content of the flour", F * p - F * f
    yield "solids for water", F * p - F * h / w * (1 - w)
    yield "taken the wrong way round", liquid * f - F * p


@of(
    "converted formula",
    F="flour", h="hydration", w="water content", s="salt percentage", y="yeast percentage",
    u="sugar percentage", b="butter percentage",
)  # fmt: skip
def converted_formula(F, h, w, s, y, u, b):
    liquid, salt, butter = F * h / w, F * s, F * b
    dough = F + liquid + salt + F * y + F * u + butter
    yield "gram for gram", F * h, "liquid"
    yield "multiplied for divided", F * h * w, "liquid"
    yield "added the missing share", F * h * (2 - w), "liquid"
    yield "solids for water", F * h / (1 - w), "liquid"
    yield "divided for multiplied", F / h, "water"
    yield "the part that is not water", F * (1 - h), "water"
    yield "percentage of flour and liquid", (F + liquid) * s, "salt"
    yield "percentage of the liquid", liquid * s, "salt"
    yield "another percentage", F * b, "salt"
    yield "another percentage", F * s, "butter"
    yield "percentage of flour and liquid", (F + liquid) * b, "butter"
    yield "percentage of the liquid", liquid * b, "butter"
    yield "gram for gram", dough - liquid + F * h
    yield "both liquids counted", dough + F * h
    yield "left one out", dough - salt
    yield "left one out", dough - butter
    yield "left one out", dough - F
    yield "left one out", dough - liquid
    yield "multiplied for divided", dough - liquid + F * h * w
    yield "added the salt twice, no butter", dough + salt - butter


# Baker's percentages.


@of("weight from baker's percentage", F="flour", p="percentage")
def weight_from_percentage(F, p):
    yield "divided for multiplied", F / p
    yield "of flour and itself", F * p / (1 + p)
    yield "what is left of the flour", F * (1 - p)
    yield "added to the flour", F * (1 + p)
    yield "doubled", 2 * F * p
    yield "halved", F * p / 2


@of("baker's percentage", F="flour", W="weight", other="other ingredients")
def bakers_percentage(F, W, other):
    yield "on the whole dough", W / (F + W + other)
    yield "on the other ingredients", W / other
    yield "ratio upside down", F / W
    yield "on flour and itself", W / (F + W)
    yield "on flour and others", W / (F + other)
    yield "on all but the flour", W / (W + other)
    yield "doubled", 2 * W / F


@of("percentage on total flour", F="flour", F2="second flour", W="weight")
def on_total_flour(F, F2, W):
    yield "one flour only", W / F
    yield "one flour only", W / F2
    yield "ratio upside down", (F + F2) / W
    yield "on the whole dough", W / (F + F2 + W)
    yield "took one flour from the other", W / abs(F - F2)
    yield "left one out", F, "total flour"
    yield "doubled", 2 * W / (F + F2)


@of("flour from a percentage", W="weight", p="percentage")
def flour_from_percentage(W, p):
    yield "multiplied for divided", W * p
    yield "divided by what is left", W / (1 - p)
    yield "taken off", W / p - W
    yield "weight times one and the percentage", W * (1 + p)
    yield "halved", W / p / 2
    yield "doubled", 2 * W / p


@of(
    "weights from percentages",
    F="flour", q="second flour percentage", w="water percentage", s="salt percentage", y="yeast percentage",
)  # fmt: skip
def weights_from_percentages(F, q, w, s, y):
    first, water, salt, yeast = F * (1 - q), F * w, F * s, F * y
    dough = F + water + salt + yeast
    yield "on the first flour only", first * w, "water"
    yield "on the first flour only", first * s, "salt"
    yield "on the first flour only", first * y, "yeast"
    yield "on the second flour only", F * q * w, "water"
    yield "on the second flour only", F * q * s, "salt"
    yield "kept the whole flour", F, "first flour"
    yield "the other flour's share", F * (1 - q), "second flour"
    yield "the other flour's share", F * q, "first flour"
    yield "added for taken away", F * (1 + q), "first flour"
    yield "another percentage", F * y, "salt"
    yield "another percentage", F * s, "yeast"
    yield "divided for multiplied", F / w, "water"
    yield "flour counted twice", dough + F
    yield "flour counted twice", dough + F * q
    yield "left one out", dough - salt
    yield "left one out", dough - yeast
    yield "left one out", dough - water
    yield "left one out", dough - F * q


@of("flour for a dough weight", D="dough", h="hydration", others="others")
def flour_for_dough(D, h, others):
    total = 1 + h + others
    yield "multiplied for divided", D * total
    yield "forgot a percentage", D / (1 + h)
    yield "forgot a percentage", D / (1 + others)
    yield "forgot the flour's 100 %", D / (h + others)
    yield "took the percentages off", D * (1 - h - others)
    yield "took one percentage off", D * (1 - h)
    yield "took one percentage off", D * (1 - h) / (1 + others)
    yield "multiplied for divided", D * h
    yield "gave the water", D * h / total
    yield "gave what is not flour", D - D / total
    yield "divided by the hydration", D / h


# Preferments.


@of("flour and liquid in a preferment", P="preferment", h="preferment hydration", w="content")
def in_a_preferment(P, h, w=None):
    if w is None:
        flour = P / (1 + h)
        yield "half and half", P / 2, "flour"
        yield "divided by the hydration alone", P / h, "flour"
        yield "hydration of the whole", P * (1 - h), "flour"
        yield "hydration of the whole", P * h, "flour"
        yield "multiplied for divided", P * (1 + h), "flour"
        yield "flour for water", P - flour, "flour"
        yield "hydration of the whole", P * h, "liquid"
        yield "half and half", P / 2, "liquid"
        yield "flour for water", flour, "liquid"
        yield "kept the whole preferment", P, "flour"
        return
    ratio = h / w
    flour = P / (1 + ratio)
    yield "multiplied for divided", h * w, "ratio"
    yield "gram for gram", h, "ratio"
    yield "solids for water", h / (1 - w), "ratio"
    yield "gram for gram", P / (1 + h), "flour"
    yield "half and half", P / 2, "flour"
    yield "divided by the hydration alone", P / ratio, "flour"
    yield "hydration of the whole", P * h, "liquid"
    yield "flour for water", flour, "liquid"
    yield "liquid as water", P - flour, "water"
    yield "divided for multiplied", (P - flour) / w, "water"
    yield "gram for gram", P - P / (1 + h), "water"


@of("total flour with a preferment", F="final flour", P="preferment", h="preferment hydration")
def total_flour(F, P, h):
    yield "forgot the preferment", F
    yield "whole preferment as flour", F + P
    yield "half and half", F + P / 2
    yield "flour for water", F + P - P / (1 + h)
    yield "hydration of the whole", F + P * (1 - h)
    yield "hydration of the whole", F + P * h
    yield "divided by the hydration alone", F + P / h
    yield "multiplied for divided", F + P * (1 + h)
    yield "taken away for added", F - P / (1 + h)
    yield "gave the preferment's flour", P / (1 + h)


@of(
    "baker's percentage with a preferment",
    F="final flour", P="preferment", h="preferment hydration", p="percentage",
)  # fmt: skip
def percentage_with_preferment(F, P, h, p):
    inside = P / (1 + h)
    yield "forgot the preferment", F * p
    yield "whole preferment as flour", (F + P) * p
    yield "half and half", (F + P / 2) * p
    yield "flour for water", (F + P - inside) * p
    yield "hydration of the whole", (F + P * (1 - h)) * p
    yield "hydration of the whole", (F + P * h) * p
    yield "only the preferment's flour", inside * p
    yield "taken away for added", (F - inside) * p
    yield "divided for multiplied", (F + inside) / p
    yield "divided by the hydration alone", (F + P / h) * p


@of("prefermented flour", F="final flour", P="preferment", h="preferment hydration")
def prefermented_flour(F, P, h):
    inside = P / (1 + h)
    yield "on the final flour only", inside / F
    yield "ratio upside down", (F + inside) / inside
    yield "whole preferment as flour", P / (F + P)
    yield "whole preferment over the final flour", P / F
    yield "half and half", (P / 2) / (F + P / 2)
    yield "flour for water", (P - inside) / (F + P - inside)
    yield "on the whole dough", inside / (F + P)
    yield "gave the rest", F / (F + inside)
    yield "hydration of the whole", P * (1 - h) / (F + P * (1 - h))
    yield "hydration of the whole", P * h / (F + P * h)


@of(
    "preferment for a share of the flour",
    F="total flour", s="share", h="preferment hydration",
)  # fmt: skip
def preferment_for_share(F, s, h):
    yield "forgot the preferment's water", F * s
    yield "gave the preferment's water", F * s * h
    yield "divided for multiplied", F * s / (1 + h)
    yield "doubled", F * s * 2
    yield "forgot the share", F * (1 + h)
    yield "hydration of the whole", F * s / (1 - h)
    yield "divided for multiplied", F * s / h
    yield "the rest of the flour", F * (1 - s) * (1 + h)
    yield "divided for multiplied", F / s * (1 + h)


@of(
    "overall hydration with a preferment",
    F="final flour", L="final liquid", w="content of liquid", P="preferment", h="preferment hydration",
)  # fmt: skip
def overall_hydration(F, L, P, h, w=None):
    inside = P / (1 + h)
    flour, water = F + inside, L * (w or 1) + P - inside
    yield "forgot the preferment", L * (w or 1) / F
    yield "ratio upside down", flour / water
    yield "on the final flour only", water / F
    yield "forgot the preferment's water", L * (w or 1) / flour
    yield "whole preferment as water", (L * (w or 1) + P) / F
    yield "whole preferment as flour", L * (w or 1) / (F + P)
    yield "half and half", (L * (w or 1) + P / 2) / (F + P / 2)
    yield "on the whole dough", water / (flour + water)
    yield "flour for water", (L * (w or 1) + inside) / (F + P - inside)
    yield "mean of the hydrations", (L * (w or 1) / F + h) / 2
    yield "hydrations added", L * (w or 1) / F + h
    yield "hydration of the whole", (L * (w or 1) + P * h) / (F + P * (1 - h))
    if w:
        yield "liquid as water", (L + P - inside) / flour
        yield "divided for multiplied", (L / w + P - inside) / flour
        yield "solids for water", (L * (1 - w) + P - inside) / flour


@of(
    "liquid left for the final dough",
    F="total flour", H="hydration", P="preferment", h="preferment hydration", w="content of liquid",
)  # fmt: skip
def liquid_left(F, H, P, h, w=None):
    inside = P / (1 + h)
    water = P - inside
    c = w or 1
    yield "forgot the preferment's water", F * H / c
    yield "half and half", (F * H - P / 2) / c
    yield "whole preferment as water", (F * H - P) / c
    yield "flour for water", (F * H - inside) / c
    yield "hydration of the whole", (F * H - P * h) / c
    yield "added for taken away", (F * H + water) / c
    yield "hydration of the final flour only", (F - inside) * H / c
    yield "divided by the hydration alone", (F * H - (P - P / h)) / c
    if w:
        yield "gram for gram", F * H - water
        yield "multiplied for divided", (F * H - water) * w
        yield "solids for water", (F * H - water) / (1 - w)
        yield "divided too soon", F * H / w - water
        yield "added the missing share", (F * H - water) * (2 - w)


# Several liquids.


@of("blend water", a="weight0", b="weight1", wa="content0", wb="content1")
def blend_water(a, b, wa, wb):
    yield "plain mean", (wa + wb) / 2
    yield "contents swapped", (a * wb + b * wa) / (a + b)
    yield "contents added", wa + wb
    yield "left one out", a * wa / (a + b)
    yield "left one out", b * wb / (a + b)
    yield "solids for water", 1 - (a * wa + b * wb) / (a + b)
    yield "ratio upside down", (a + b) / (a * wa + b * wb)
    yield "one weight for the whole", (a * wa + b * wb) / a
    yield "one weight for the whole", (a * wa + b * wb) / b
    yield "left one out", a * wa, "water"
    yield "contents swapped", a * wb + b * wa, "water"
    yield "contents multiplied", wa * wb


@of(
    "hydration with two liquids",
    F="weight0", a="weight1", b="weight2", wa="content1", wb="content2",
)  # fmt: skip
def two_liquids(F, a, b, wa, wb):
    water = a * wa + b * wb
    yield "liquid as water", (a + b) / F
    yield "left one out", a * wa / F
    yield "left one out", b * wb / F
    yield "contents swapped", (a * wb + b * wa) / F
    yield "on the whole dough", water / (F + a + b)
    yield "on flour and water", water / (F + water)
    yield "ratio upside down", F / water
    yield "divided for multiplied", (a / wa + b / wb) / F
    yield "solids for water", (a * (1 - wa) + b * (1 - wb)) / F
    yield "one liquid as water", (a + b * wb) / F
    yield "one liquid as water", (a * wa + b) / F
    yield "one content for both", (a + b) * wa / F
    yield "one content for both", (a + b) * wb / F
    yield "taken away for added", abs(a * wa - b * wb) / F


def _enriched(F, parts, right, rest=()):
    """What goes wrong where some of the ingredients' water counts; `parts` and `rest` hold weight and content."""
    water = sum(a * w for a, w in parts)
    whole = F + sum(a for a, _ in (*parts, *rest))
    if right == "water":
        yield "liquid as water", sum(a for a, _ in parts) / F
        yield "solids for water", sum(a * (1 - w) for a, w in parts) / F
        for a, w in parts:
            if w < 1:
                yield "one liquid as water", (water - a * w + a) / F
            yield "left one out", (water - a * w) / F
        for a, w in rest:
            yield "counted one too many", (water + a * w) / F
        yield "on the whole dough", water / whole
        yield "on flour and water", water / (F + water)
        yield "ratio upside down", F / water


@of(
    "hydration of an enriched dough",
    F="weight0", a="weight1", b="weight2", c="weight3", wa="content1", wb="content2", wc="content3",
)  # fmt: skip
def enriched(F, a, b, c, wa, wb, wc):
    yield from _enriched(F, [(a, wa), (b, wb)], "water", [(c, wc)])
    yield "the weight of the fat too", (a * wa + b * wb + c) / F
    yield "contents swapped", (a * wb + b * wa) / F
    yield "liquid as water", (a + b + c) / F


@of(
    "hydration by weight of the liquids",
    F="weight0", a="weight1", b="weight2", c="weight3", wa="content1", wb="content2", wc="content3",
)  # fmt: skip
def by_weight(F, a, b, c, wa, wb, wc):
    yield "water for weight", (a * wa + b * wb) / F
    yield "counted one too many", (a + b + c) / F
    yield "counted one too many", (a * wa + b * wb + c * wc) / F
    yield "left one out", a / F
    yield "left one out", b / F
    yield "ratio upside down", F / (a + b)
    yield "on the whole dough", (a + b) / (F + a + b + c)
    yield "on flour and liquid", (a + b) / (F + a + b)


@of(
    "hydration with all added water",
    F="weight0", a="weight1", b="weight2", c="weight3", wa="content1", wb="content2", wc="content3",
)  # fmt: skip
def all_added(F, a, b, c, wa, wb, wc):
    yield from _enriched(F, [(a, wa), (b, wb), (c, wc)], "water")


@of(
    "hydration with the flour's moisture",
    F="weight0", a="weight1", b="weight2", c="weight3",
    wf="content0", wa="content1", wb="content2", wc="content3",
)  # fmt: skip
def with_moisture(F, a, b, c, wf, wb, wc, wa=1.0):
    water = F * wf + a * wa + b * wb + c * wc
    yield "forgot the flour's water", (water - F * wf) / F
    yield "left one out", (water - c * wc) / F
    yield "left one out", (water - b * wb) / F
    yield "left one out", (water - a * wa) / F
    yield "one liquid as water", (water - b * wb + b) / F
    yield "one liquid as water", (water - c * wc + c) / F
    yield "on dry flour", water / (F * (1 - wf))
    yield "on the whole dough", water / (F + a + b + c)
    yield "ratio upside down", F / water
    yield "liquid as water", (F * wf + a + b + c) / F
    yield "solids for water", (water - F * wf + F * (1 - wf)) / F


@of(
    "hydration in each meaning",
    F="weight0", a="weight1", b="weight2", c="weight3",
    wf="content0", wa="content1", wb="content2", wc="content3",
)  # fmt: skip
def each_meaning(F, a, b, c, wf, wa, wb, wc):
    liquids, fat, own = a * wa + b * wb, c * wc, F * wf
    yield "another meaning", (a + b) / F, "water"
    yield "another meaning", (liquids + fat) / F, "water"
    yield "another meaning", liquids / F, "liquid"
    yield "counted one too many", (a + b + c) / F, "liquid"
    yield "left one out", a / F, "liquid"
    yield "another meaning", liquids / F, "all-water"
    yield "left one out", a * wa / F, "water"
    yield "left one out", (a * wa + fat) / F, "all-water"
    yield "another meaning", (liquids + fat) / F, "flour-moisture"
    yield "on dry flour", (liquids + fat + own) / (F * (1 - wf)), "flour-moisture"
    yield "left one out", (liquids + own) / F, "flour-moisture"
    yield "ratio upside down", F / liquids, "water"
    yield "on the whole dough", liquids / (F + a + b + c), "water"


@of(
    "liquid beside another",
    F="flour", h="hydration", A="first", wa="first-content", w="content",
)  # fmt: skip
def beside_another(F, h, A, wa, w=None):
    c = w or 1
    yield "first liquid as water", (F * h - A) / c
    yield "forgot the first liquid", F * h / c
    yield "added for taken away", (F * h + A * wa) / c
    yield "solids for water", (F * h - A * (1 - wa)) / c
    yield "divided for multiplied", (F * h - A / wa) / c
    yield "gave the first liquid's water", A * wa
    if w:
        yield "gram for gram", F * h - A * wa
        yield "multiplied for divided", (F * h - A * wa) * w
        yield "divided too soon", F * h / w - A
        yield "divided too soon", F * h / w - A * wa
        yield "contents swapped", (F * h - A * w) / wa
        yield "one content for both", (F * h - A * w) / w
        yield "one content for both", (F * h - A * wa) / wa
        yield "solids for water", (F * h - A * wa) / (1 - w)
        yield "added the missing share", (F * h - A * wa) * (2 - w)


@of(
    "blend in place of water",
    F="flour", h="hydration", p="part", wa="content1", wb="content2",
)  # fmt: skip
def blend_for_water(F, h, p, wa, wb):
    blend = F * h / (p * wa + (1 - p) * wb)
    yield "plain mean", (wa + wb) / 2, "content"
    yield "contents swapped", p * wb + (1 - p) * wa, "content"
    yield "left one out", p * wa, "content"
    yield "left one out", (1 - p) * wb, "content"
    yield "contents added", wa + wb, "content"
    yield "contents multiplied", wa * wb, "content"
    yield "gram for gram", F * h, "blend"
    yield "multiplied for divided", F * h * (p * wa + (1 - p) * wb), "blend"
    yield "plain mean", F * h / ((wa + wb) / 2), "blend"
    yield "contents swapped", F * h / (p * wb + (1 - p) * wa), "blend"
    yield "one content for both", F * h / wa, "blend"
    yield "one content for both", F * h / wb, "blend"
    yield "gram for gram", F * h * p, "first"
    yield "the part that stays", blend * (1 - p), "first"
    yield "halved", blend / 2, "first"
    yield "forgot the part", F * h / wa, "first"
    yield "each part swapped by itself", F * h * p / wa, "first"
    yield "gram for gram", F * h * (1 - p)
    yield "the part that stays", blend * p
    yield "kept the whole blend", blend
    yield "taken from the water", F * h - blend * p
    yield "each part swapped by itself", F * h * (1 - p) / wb


@of(
    "most that fits under a fat limit",
    L="old", w1="old-content", w2="new-content", f="fat content", F="flour", limit="limit",
    other="other fat", f1="old fat content",
)  # fmt: skip
def under_fat_limit(L, w2, f, F, limit, other=0, w1=1.0, f1=None):
    new = L * w1 / w2
    if f1 is None:
        room = F * limit - other
        yield "gram for gram", room / (L * f)
        yield "ratio upside down", new * f / room
        yield "forgot the other fat", F * limit / (new * f)
        yield "added for taken away", (F * limit + other) / (new * f)
        yield "multiplied for divided", room / (L * w2 * f)
        yield "limit of the liquid", (L * limit - other) / (new * f)
        yield "solids for water", room / (L / (1 - w2) * f)
        return
    gained, now = new * f - L * f1, other + L * f1
    room = F * limit - now
    yield "forgot the fat of the old liquid", (F * limit - other) / (new * f)
    yield "forgot the fat of the old liquid", (F * limit - other) / gained
    yield "forgot the fat of the old liquid", room / (new * f)
    yield "forgot the other fat", (F * limit - L * f1) / gained
    yield "gram for gram", room / (L * (f - f1))
    yield "ratio upside down", gained / room
    yield "added for taken away", (F * limit + now) / gained
    yield "forgot what is there", F * limit / gained
    yield "old liquid as water", room / (L / w2 * f - L * f1)
    yield "ratio upside down", room / (L * w2 / w1 * f - L * f1)


@of(
    "butter to take out",
    L="old", w1="old-content", w2="new-content", f="fat content", f1="old fat content", b="butter fat content",
)  # fmt: skip
def butter_out(L, w2, f, b, w1=1.0, f1=None):
    new = L * w1 / w2
    old_fat = L * (f1 or 0)
    yield "forgot the butter's fat content", new * f - old_fat
    yield "multiplied for divided", (new * f - old_fat) * b
    yield "solids for water", (new * f - old_fat) / (1 - b)
    if f1 is not None:
        yield "gram for gram", L * (f - f1) / b
        yield "forgot the fat of the old liquid", new * f / b
        yield "added for taken away", (new * f + old_fat) / b
        yield "old liquid as water", (L / w2 * f - old_fat) / b
        yield "ratio upside down", (L * w2 / w1 * f - old_fat) / b
        yield "contents swapped", abs(new * f1 - L * f) / b
        yield "divided only one", new * f - old_fat / b
        yield "divided only one", new * f / b - old_fat
        yield "same weight of both", new * (f - f1) / b
        yield "solids for water", (new * (1 - w2) - L * (1 - w1)) / b
    else:
        yield "gram for gram", L * f / b
        yield "ratio upside down", L * w2 * f / b


# Scaling.


@of("dough for pieces", n="pieces", m="piece", l="loss", a="allowance")
def dough_for_pieces(n, m, l=None, a=None):  # noqa: E741
    if l is None:
        yield "divided for multiplied", m / n
        yield "added for multiplied", n + m
        yield "doubled", 2 * n * m
        yield "halved", n * m / 2
        return
    after = 1 - (a or 0)
    yield "forgot a loss", n * m / after
    yield "loss on top", n * m * (1 + l) / after
    yield "loss taken off", n * m * (1 - l) / after
    yield "loss for what is left", n * m / l / after
    if a is None:
        yield "loss of the baked pieces", n * m * l
        yield "one piece only", m / (1 - l)
        yield "divided by one and the loss", n * m / (1 + l)
        return
    yield "forgot a loss", n * m / (1 - l)
    yield "both losses forgotten", n * m
    yield "losses added", n * m / (1 - l - a)
    yield "losses on top", n * m * (1 + l + a)
    yield "losses on top", n * m * (1 + l) * (1 + a)
    yield "loss on top", n * m / (1 - l) * (1 + a)
    yield "losses taken off", n * m * (1 - l) * (1 - a)
    yield "loss taken off", n * m / (1 - l) * (1 - a)
    yield "loss for what is left", n * m / l / a


@of("scaling factor", old="old", new="new")
def scaling_factor(old, new):
    yield "ratio upside down", old / new
    yield "the difference", new - old
    yield "growth for factor", new / old - 1
    yield "added for divided", new + old
    yield "growth for factor", new / old + 1


@of("dough for a tin", V="volume", r="ratio")
def tin(V, r):
    yield "divided for multiplied", V / r
    yield "millilitres for grams", V
    yield "the part that is left", V * (1 - r)
    yield "doubled", 2 * V * r
    yield "halved", V * r / 2


@of("weight of a volume", V="volume", r="density")
def weight_of_volume(V, r):
    yield "divided for multiplied", V / r
    yield "millilitres for grams", V
    yield "taken off", V * (2 - r)
    yield "halved", V * r / 2


@of("error of a reading", s="step", W="weight")
def error_of_reading(s, W):
    yield "whole step", s / W
    yield "ratio upside down", 2 * W / s
    yield "ratio upside down", W / s
    yield "doubled", 2 * s / W
    yield "a quarter step", s / W / 4
    yield "whole step", s, "half"


# Temperatures.


@of("water temperature", T="wanted", F="flour", R="room", f="friction", P="preferment")
def water_temperature(T, F, R, f, P=None):
    n = 3 if P is None else 4
    rest = F + R + (P or 0)
    yield "one too few", T * (n - 1) - rest - f
    yield "one too many", T * (n + 1) - rest - f
    yield "not multiplied", T - rest - f
    yield "twice only", T * 2 - rest - f
    yield "forgot the friction", T * n - rest
    yield "added the friction", T * n - rest + f
    yield "left one out", T * n - (rest - R) - f
    yield "left one out", T * n - (rest - F) - f
    yield "added for taken away", T * n + rest + f
    yield "gave the sum", rest + f
    yield "divided at the end", (T * n - rest - f) / n
    yield "plain mean", (T + rest + f) / (n + 1)
    yield "counted one twice", T * n - rest - R - f
    if P is not None:
        yield "left one out", T * n - (rest - P) - f


@of("friction factor", D="dough", F="flour", R="room", W="water", P="preferment")
def friction_factor(D, F, R, W, P=None):
    n = 3 if P is None else 4
    rest = F + R + W + (P or 0)
    yield "one too few", D * (n - 1) - rest
    yield "one too many", D * (n + 1) - rest
    yield "not multiplied", D - rest
    yield "divided at the end", (D * n - rest) / n
    yield "against the mean", D - rest / n
    yield "left one out", D * n - (rest - R)
    yield "left one out", D * n - (rest - W)
    yield "left one out", D * n - (rest - F)
    yield "added for taken away", D * n + rest
    yield "dough against one other", D - W
    yield "gave the sum", rest
    yield "taken the wrong way round", rest - D * n


@of("ice needed", L="water", T="tap", W="wanted")
def ice_needed(L, T, W):
    yield "ice by 80 alone", L * (T - W) / 80
    yield "the wanted for the tap", L * (T - W) / (80 + W)
    yield "forgot the melting", L * (T - W) / T
    yield "only the tap's degrees", L * T / (80 + T)
    yield "only the wanted degrees", L * W / (80 + T)
    yield "added for taken away", L * (T + W) / (80 + T)
    yield "taken away for added", L * (T - W) / (80 - T)
    yield "ratio upside down", L * (80 + T) / (T - W)
    yield "divided by the difference too", L * (T - W) / (80 + T - W)
    yield "gave the rest", L - L * (T - W) / (80 + T)
    yield "wrong side", L * W / T


@of(
    "dough temperature by heat",
    A="flour weight", ca="flour capacity", ta="flour celsius",
    B="liquid weight", cb="liquid capacity", tb="liquid celsius", f="friction",
)  # fmt: skip
def by_heat(A, ca, ta, B, cb, tb, f):
    mix = (A * ca * ta + B * cb * tb) / (A * ca + B * cb)
    yield "plain mean", (ta + tb) / 2 + f
    yield "no heat capacities", (A * ta + B * tb) / (A + B) + f
    yield "forgot the friction", mix
    yield "took the friction off", mix - f
    yield "heat capacities swapped", (A * cb * ta + B * ca * tb) / (A * cb + B * ca) + f
    yield "temperatures swapped", (A * ca * tb + B * cb * ta) / (A * ca + B * cb) + f
    yield "no weights", (ca * ta + cb * tb) / (ca + cb) + f
    yield "plain mean", (ta + tb) / 2
    yield "no heat capacities", (A * ta + B * tb) / (A + B), "mix"
    yield "plain mean", (ta + tb) / 2, "mix"
    yield "no heat capacities", A * ta, "flour heat"
    yield "left out the temperature", A * ca, "flour heat"


@of(
    "liquid temperature by heat",
    T="wanted", f="friction", A="flour weight", ca="flour capacity", ta="flour celsius",
    B="liquid weight", cb="liquid capacity",
)  # fmt: skip
def liquid_by_heat(T, f, A, ca, ta, B, cb):
    before = T - f
    heat = A * ca * (before - ta)
    warmer = heat / (B * cb)
    yield "forgot the friction", T + A * ca * (T - ta) / (B * cb)
    yield "added the friction", T + f + A * ca * (T + f - ta) / (B * cb)
    yield "no heat capacities", before + A * (before - ta) / B
    yield "stopped at the mix", before
    yield "taken away for added", before - warmer
    yield "plain mean", 2 * before - ta
    yield "gave the difference", warmer
    yield "added to the wanted", T + warmer
    yield "upside down", before + (before - ta) * B * cb / (A * ca)
    yield "added for taken away", T + f, "before"
    yield "no heat capacities", A * (before - ta), "heat"
    yield "no heat capacities", heat / B, "warmer"
    yield "heat of the flour as it is", A * ca * ta, "heat"


# Measuring.


@of("water by drying", a="before", b="after", d="dish")
def by_drying(a, b, d=0):
    yield "solids for water", (b - d) / (a - d)
    yield "on the dry weight", (a - b) / (b - d)
    yield "ratio upside down", (a - d) / (b - d)
    yield "ratio upside down", (a - d) / (a - b)
    if d:
        yield "dish not taken off", 1 - b / a
        yield "dish taken off one only", 1 - b / (a - d)
        yield "dish taken off one only", 1 - (b - d) / a
        yield "solids with the dish", b / a
        yield "dish added", 1 - (b + d) / (a + d)
        yield "dish not taken off", a, "sample"
        yield "dish not taken off", b, "solids"
        yield "dish taken off one only", (b - d) / a, "stays"
    else:
        yield "halved", (a - b) / a / 2
    yield "doubled", 2 * (a - b) / (a - d)


@of(
    "water from a pack",
    n="amount", fat="fat", protein="protein", carb="carbohydrate", fibre="fibre", salt="salt", m="minerals",
)  # fmt: skip
def from_pack(n, fat, protein, carb, salt, fibre=0, m=0):
    solids = fat + protein + carb + salt + fibre
    yield "solids for water", solids / n + m
    yield "solids for water", solids / n
    yield "left one out", 1 - (solids - fat) / n - m
    yield "left one out", 1 - (solids - protein) / n - m
    yield "left one out", 1 - (solids - carb) / n - m
    yield "left one out", solids - fat, "solids"
    yield "left one out", solids - protein, "solids"
    yield "fat only", 1 - fat / n
    if fibre:
        yield "left one out", 1 - (solids - fibre) / n - m
    if m:
        yield "forgot the minerals", 1 - solids / n
        yield "added for taken away", 1 - solids / n + m


@of(
    "water from a US pack",
    n="amount", fat="fat", protein="protein", carb="carbohydrate", sodium="sodium", m="minerals",
)  # fmt: skip
def from_us_pack(n, fat, protein, carb, sodium, m=0):
    salt = 2.5 * sodium
    solids = fat + protein + carb + salt
    yield "serving as 100 g", 1 - solids / 100 - m
    yield "solids for water", solids / n + m
    yield "solids for water", solids / n
    yield "left one out", 1 - (solids - fat) / n - m
    yield "left one out", 1 - (solids - protein) / n - m
    yield "left one out", 1 - (solids - carb) / n - m
    yield "sodium for salt", sodium, "salt"
    yield "divided for multiplied", sodium / 2.5, "salt"
    yield "milligrams for grams", 1 - (fat + protein + carb + 2500 * sodium) / n - m
    yield "left one out", solids - carb, "solids"
    if m:
        yield "forgot the minerals", 1 - solids / n


# The side-by-side bake.


@of("bake loss", a="before", b="after")
def bake_loss(a, b):
    yield "on the weight after", (a - b) / b
    yield "what is left", b / a
    yield "ratio upside down", a / b
    yield "ratio upside down", a / (a - b)
    yield "on both weights", (a - b) / (a + b)
    yield "on the mean", (a - b) / ((a + b) / 2)
    yield "halved", (a - b) / a / 2


@of("specific volume", V="volume", W="after")
def specific_volume(V, W):
    yield "ratio upside down", W / V
    yield "the difference", V - W
    yield "multiplied for divided", V * W
    yield "doubled", 2 * V / W
    yield "halved", V / W / 2


@of("mean of three loaves", a="first", b="second", c="third")
def mean_of_three(a, b, c):
    yield "gave the sum", a + b + c
    yield "divided by two", (a + b + c) / 2
    yield "left one out", (a + b) / 2
    yield "left one out", (b + c) / 2
    yield "left one out", (a + b) / 3
    yield "left one out", (b + c) / 3
    yield "left one out", a + b, "sum"
    yield "middle for mean", sorted((a, b, c))[1]
    yield "first and last only", (max(a, b, c) + min(a, b, c)) / 2
    yield "divided by four", (a + b + c) / 4


@of("gap that two means need", s="spread", b="bar")
def gap_needed(s, b):
    yield "divided for multiplied", s / b
    yield "divided for multiplied", b / s
    yield "gave the spread", s
    yield "added for multiplied", s + b


# Time, acidity.


@of("time left out of the cold", n="limit", a="mixing", b="the first rise", c="shaping", d="baking")
def time_left(n, a, b, c, d):
    yield "gave the time used", a + b + c + d
    yield "left one out", n - b - c - d
    yield "left one out", n - a - c - d
    yield "left one out", n - a - b - c
    yield "added for taken away", n + a + b + c + d
    yield "left one out", a + b + c, "used"
    yield "left one out", b + c + d, "used"
    yield "counted one twice", n - 2 * a - b - c - d
    yield "taken away once only", n - b
    yield "mean of the times", n - (a + b + c + d) / 4


@of("raised hydration for a sour liquid", h="hydration", most="most", p="part")
def raised_hydration(h, most, p):
    yield "forgot the part", h + most
    yield "gave the raise", most * p
    yield "taken away for added", h - most * p
    yield "as per cent of the hydration", h * (1 + most * p)
    yield "the part that is not sour", h + most * (1 - p)
    yield "added the part itself", h + p
    yield "the whole rise of the hydration", h * (1 + most)
    yield "divided for multiplied", h + most / p


@of("extra water for a sour liquid", F="flour", h="hydration", most="most", p="part")
def extra_water(F, h, most, p):
    yield "forgot the part", F * most
    yield "of the water", F * h * most * p
    yield "the part that is not sour", F * most * (1 - p)
    yield "gave all the water", F * (h + most * p)
    yield "part of the flour", F * p
    yield "divided for multiplied", F * most / p
    yield "gave the water before", F * h
    yield "part of the water", F * h * p


@of("sour part of the water", A="weight0", w="content0", B="plain")
def sour_part(A, w, B):
    yield "liquid as water", A / (A + B)
    yield "liquid as water", A / (A * w + B)
    yield "solids for water", A * (1 - w) / (A * (1 - w) + B)
    yield "the plain water only", A * w / B
    yield "ratio upside down", (A * w + B) / (A * w)
    yield "gave the rest", B / (A * w + B)
    yield "divided for multiplied", A / w / (A / w + B)


@of("acid in a dough", F="flour", L="liquid", a="acid")
def acid_in_dough(F, L, a):
    yield "ratio upside down", a * F / L
    yield "of the whole dough", a * L / (F + L)
    yield "gave the share", L / F
    yield "divided for multiplied", L / F / a


@of(
    "softener for a sour dough",
    F="flour", most="most", p="part", f="fat content", w="content", t="there",
)  # fmt: skip
def softener(F, most, p, f, w, t):
    fat = F * most * p - t
    yield "forgot the fat that is there", F * most * p / f * w
    yield "forgot the part", (F * most - t) / f * w
    yield "multiplied for divided", fat * f * w
    yield "fat taken for the softener", fat * w
    yield "gave the softener", fat / f
    yield "gave the fat", fat
    yield "solids for water", fat / f * (1 - w)
    yield "divided for multiplied", fat / f / w
    yield "the part that is not sour", (F * most * (1 - p) - t) / f * w
    yield "water for fat", fat / w
    yield "water for fat", fat / w, "softener"
    yield "multiplied for divided", fat * f, "softener"
    yield "forgot the part", F * most, "wanted"
    yield "fat of the whole", (F * p - t) / f * w


def about_every_number(right: float) -> Iterator[Wrong]:
    """What goes wrong with any answer at all: the decimal point by one place."""
    yield Wrong("decimal point", right * 10)
    yield Wrong("decimal point", right / 10)


# A second list, written after the catalogue had been mended: what was first measured with it
# (`python -m tests.bench.diagnosis fresh`) was not tuned for.


@of("water needed", into=FRESH, F="flour", h="hydration")
def fresh_water_needed(F, h):
    yield "divided by what is left", F / (1 - h)
    yield "only the difference", F - F * h
    yield "decimal point", F * h * 10


@of("new liquid", into=FRESH, F="flour", h="hydration", w="water content")
def fresh_new_liquid(F, h, w):
    yield "added to the flour", F * (1 + h) / w
    yield "the part that is not water", F * (1 - h) / w
    yield "multiplied for divided", F / h * w
    yield "halved", F * h / w / 2
    yield "decimal point", F * h / w / 10


@of("liquid for liquid", into=FRESH, L="old", w1="old-content", w2="new-content")
def fresh_liquid_for_liquid(L, w2, w1=None):
    yield "halved", L * (w1 or 1) / w2 / 2
    yield "both liquids counted", L + L * (w1 or 1) / w2
    if w1 is not None:
        yield "one content for both", L * w1 / w1
        yield "plain mean", L / ((w1 + w2) / 2)
        yield "added the missing share", L * w1 * (2 - w2)


@of("part swap", into=FRESH, L="old", p="part", w1="old-content", w2="new-content")
def fresh_part_swap(L, p, w2, w1=1.0):
    yield "the part that stays", L * (1 - p)
    yield "halved", L * p * w1 / w2 / 2
    yield "added to the flour", L * (1 + p) * w1 / w2
    yield "forgot the part", L


@of("hydration", into=FRESH, F="flour", L="liquid weight", w="water content")
def fresh_hydration(F, L, w):
    yield "doubled", 2 * L * w / F
    yield "decimal point", L * w / F / 10
    yield "gave the rest", 1 - L * w / F


@of("fat brought", into=FRESH, F="flour", h="hydration", w="water content", f="fat content")
@of("sugar brought", into=FRESH, F="flour", h="hydration", w="water content", f="sugar content")
@of("salt brought", into=FRESH, F="flour", h="hydration", w="water content", f="salt content")
def fresh_brought(F, h, w, f):
    yield "decimal point", h / w * f * 10
    yield "added the missing share", h * (2 - w) * f
    yield "gave the rest", 1 - h / w * f


@of(
    "salt left to add",
    into=FRESH,
    F="flour",
    h="hydration",
    w="water content",
    f="salt content",
    p="salt percentage",
)
@of(
    "sugar left to add",
    into=FRESH,
    F="flour",
    h="hydration",
    w="water content",
    f="sugar content",
    p="sugar percentage",
)
def fresh_left_to_add(F, h, w, f, p):
    yield "forgot the hydration", F * p - F / w * f
    yield "added the missing share", F * p - F * h * (2 - w) * f
    yield "decimal point", (F * p - F * h / w * f) * 10
    yield "halved", (F * p - F * h / w * f) / 2


@of("baker's percentage", into=FRESH, F="flour", W="weight", other="other ingredients")
def fresh_percentage(F, W, other):
    yield "halved", W / F / 2
    yield "decimal point", W / F * 10
    yield "gave the rest", 1 - W / F


@of("flour for a dough weight", into=FRESH, D="dough", h="hydration", others="others")
def fresh_flour_for_dough(D, h, others):
    yield "divided by one percentage", D / (1 + h - others)
    yield "halved", D / (1 + h + others) / 2
    yield "decimal point", D / (1 + h + others) * 10
    yield "took one percentage off", D * (1 - others)


@of(
    "total flour with a preferment",
    into=FRESH,
    F="final flour",
    P="preferment",
    h="preferment hydration",
)
def fresh_total_flour(F, P, h):
    yield "flour for water", F + P * h / (1 + h)
    yield "counted one twice", 2 * F + P / (1 + h)
    yield "decimal point", (F + P / (1 + h)) / 10


@of("prefermented flour", into=FRESH, F="final flour", P="preferment", h="preferment hydration")
def fresh_prefermented(F, P, h):
    yield "forgot the flour's 100 %", P / h / (F + P / h)
    yield "doubled", 2 * (P / (1 + h)) / (F + P / (1 + h))
    yield "taken away for added", P / (1 + h) / (F - P / (1 + h))


@of(
    "overall hydration with a preferment", into=FRESH,
    F="final flour", L="final liquid", w="content of liquid", P="preferment", h="preferment hydration",
)  # fmt: skip
def fresh_overall(F, L, P, h, w=1.0):
    inside = P / (1 + h)
    yield "forgot the flour's 100 %", (L * w + P - P / h) / (F + P / h)
    yield "left one out", (P - inside) / (F + inside)
    yield "decimal point", (L * w + P - inside) / (F + inside) / 10


@of(
    "liquid left for the final dough", into=FRESH,
    F="total flour", H="hydration", P="preferment", h="preferment hydration", w="content of liquid",
)  # fmt: skip
def fresh_liquid_left(F, H, P, h, w=1.0):
    water = P - P / (1 + h)
    yield "forgot the hydration", (F - water) / w
    yield "taken the wrong way round", (water - F * H) / w
    yield "gave the preferment's water", water
    yield "halved", (F * H - water) / w / 2


@of("blend water", into=FRESH, a="weight0", b="weight1", wa="content0", wb="content1")
def fresh_blend(a, b, wa, wb):
    yield "taken away for added", abs(a * wa - b * wb) / (a + b)
    yield "one liquid as water", (a + b * wb) / (a + b)
    yield "one liquid as water", (a * wa + b) / (a + b)
    yield "decimal point", (a * wa + b * wb) / (a + b) / 10


@of(
    "hydration with two liquids",
    into=FRESH,
    F="weight0",
    a="weight1",
    b="weight2",
    wa="content1",
    wb="content2",
)
def fresh_two_liquids(F, a, b, wa, wb):
    yield "on flour and liquid", (a * wa + b * wb) / (F + a)
    yield "counted one twice", (2 * a * wa + b * wb) / F
    yield "halved", (a * wa + b * wb) / F / 2


@of(
    "liquid beside another",
    into=FRESH,
    F="flour",
    h="hydration",
    A="first",
    wa="first-content",
    w="content",
)
def fresh_beside(F, h, A, wa, w=1.0):
    yield "forgot the hydration", (F - A * wa) / w
    yield "counted one twice", (F * h - 2 * A * wa) / w
    yield "taken the wrong way round", (A * wa - F * h) / w
    yield "decimal point", (F * h - A * wa) / w * 10


@of("dough for pieces", into=FRESH, n="pieces", m="piece", l="loss", a="allowance")
def fresh_pieces(n, m, l=None, a=None):  # noqa: E741
    yield "decimal point", n * m / (1 - (l or 0)) / (1 - (a or 0)) * 10
    if l is not None:
        yield "doubled", 2 * n * m / (1 - l) / (1 - (a or 0))
        yield "gave what is lost", n * m / (1 - l) * l


@of("water temperature", into=FRESH, T="wanted", F="flour", R="room", f="friction", P="preferment")
def fresh_water_temperature(T, F, R, f, P=None):
    n = 3 if P is None else 4
    rest = F + R + (P or 0)
    yield "taken the wrong way round", rest + f - T * n
    yield "counted one twice", T * n - rest - 2 * f
    yield "counted one twice", T * n - rest - F - f


@of("friction factor", into=FRESH, D="dough", F="flour", R="room", W="water", P="preferment")
def fresh_friction(D, F, R, W, P=None):
    n = 3 if P is None else 4
    rest = F + R + W + (P or 0)
    yield "twice only", D * 2 - rest
    yield "counted one twice", D * n - rest - W
    yield "added for taken away", D * n - (rest - 2 * W)


@of("ice needed", into=FRESH, L="water", T="tap", W="wanted")
def fresh_ice(L, T, W):
    yield "doubled", 2 * L * (T - W) / (80 + T)
    yield "decimal point", L * (T - W) / (80 + T) / 10
    yield "added on top", L * (1 + (T - W) / (80 + T))


@of("water by drying", into=FRESH, a="before", b="after", d="dish")
def fresh_drying(a, b, d=0):
    yield "decimal point", (a - b) / (a - d) / 10
    yield "on both weights", (a - b) / (a + b - 2 * d)


@of("bake loss", into=FRESH, a="before", b="after")
def fresh_loss(a, b):
    yield "doubled", 2 * (a - b) / a
    yield "decimal point", (a - b) / a / 10
    yield "added for taken away", (a + b) / a


@of("time left out of the cold", into=FRESH, n="limit", a="mixing", b="the first rise", c="shaping", d="baking")  # fmt: skip
def fresh_time(n, a, b, c, d):
    yield "taken the wrong way round", a + b + c + d - n
    yield "halved", (n - a - b - c - d) / 2
    yield "taken away for added", n - (a - b + c + d)


@of("mean of three loaves", into=FRESH, a="first", b="second", c="third")
def fresh_mean(a, b, c):
    yield "decimal point", (a + b + c) / 30
    yield "left one out", (a + c) / 2


@of("raised hydration for a sour liquid", into=FRESH, h="hydration", most="most", p="part")
def fresh_raised(h, most, p):
    yield "doubled", h + 2 * most * p
    yield "decimal point", h + most * p / 10
    yield "multiplied for added", h * most * p


# A third list, written from what students do before the catalogue was widened once more by the same hand, with
# what both lists missed in view: `python -m tests.bench.diagnosis third`. So neither is fresh any longer: for a
# measure of what nobody tuned for, write another.


@of("water needed", into=THIRD, F="flour", h="hydration")
def third_water_needed(F, h):
    yield "gave what is not flour", F + F * h
    yield "on the whole dough", F * h / (1 + h)
    yield "halved", F * h / 2


@of("new liquid", into=THIRD, F="flour", h="hydration", w="water content")
def third_new_liquid(F, h, w):
    yield "divided for multiplied", F / h * w
    yield "the part that is not water", F * (1 - h) * w
    yield "added the missing share", F * (h + 1 - w)
    yield "forgot the flour's part", F * w
    yield "on the whole dough", F / (1 + h) / w


@of("liquid for liquid", into=THIRD, L="old", w1="old-content", w2="new-content")
def third_liquid_for_liquid(L, w2, w1=None):
    yield "counted one twice", L + L * (w1 or 1) / w2
    if w1 is not None:
        yield "added the difference of contents", L + L * abs(w1 - w2)
        yield "taken the wrong way round", L * (1 - (w1 - w2))
        yield "solids for water", L * (1 - w2) / (1 - w1)
        yield "divided for multiplied", L / w1 / w2


@of("part swap", into=THIRD, L="old", p="part", w1="old-content", w2="new-content")
def third_part_swap(L, p, w2, w1=1.0):
    yield "kept the whole", L - L * p + L * p * w1 / w2
    yield "the part that stays", L * (1 - p) / w2
    yield "divided for multiplied", L / p * w1 / w2
    yield "multiplied for divided", L * p * w1 * w2
    yield "forgot the part", L / w2


@of("hydration", into=THIRD, F="flour", L="liquid weight", w="water content")
def third_hydration(F, L, w):
    yield "solids for water", L * (1 - w) / (F + L * (1 - w))
    yield "divided for multiplied", L / w / F
    yield "added percentages", L / F + w
    yield "gave the rest", 1 - L * w / F
    yield "took the missing share off the hydration", L / F - (1 - w)


@of("hydration after gram for gram", into=THIRD, F="flour", h="hydration", w="water content")
def third_after(F, h, w):
    yield "added the missing share", h * (1 + 1 - w)
    yield "gave the rest", h - h * w
    yield "added percentages", (h + w) / 2


@of("butter to take out", into=THIRD, L="old", w1="old-content", w2="new-content", f1="old fat content", f2="fat content", b="butter fat content")  # fmt: skip
def third_butter(L, w2, f2, b, w1=1.0, f1=0.0):
    new = L * w1 / w2
    yield "forgot the butter's fat content", new * f2 - L * f1
    yield "multiplied for divided", (new * f2 - L * f1) * b
    yield "gram for gram", L * (f2 - f1) / b
    yield "forgot the fat of the old liquid", new * f2 / b
    yield "added for taken away", (new * f2 + L * f1) / b
    yield "halved", (new * f2 - L * f1) / b / 2


@of("water from a pack", into=THIRD, a="amount", f="fat", p="protein", c="carbohydrate", s="salt", m="minerals", fibre="fibre")  # fmt: skip
def third_pack(a, f, p, c, s=0.0, m=0.0, fibre=0.0):
    c += fibre
    if m:
        yield "forgot the minerals", 1 - (f + p + c + s) / a
    yield "left one out", 1 - (f + c + s) / a - m
    yield "left one out", 1 - (f + p + s + fibre) / a - m
    yield "solids for water", (f + p + c + s) / a + m
    if m:
        yield "added for taken away", 1 - (f + p + c + s) / a + m


@of("water by drying", into=THIRD, b="before", a="after", d="dish")
def third_drying(b, a, d=0.0):
    yield "gave what is left", (a - d) / (b - d)
    yield "on the weight after", (b - a) / (a - d)
    yield "ratio upside down", (b - d) / (a - d)


@of("baker's percentage", into=THIRD, F="flour", w="weight", other="other ingredients")
def third_percentage(F, w, other=0.0):
    yield "ratio upside down", F / w
    yield "on flour and itself", w / (F + w)
    yield "gave the rest", 1 - w / F
    if other:
        yield "on the whole dough", w / (F + other + w)


@of("flour from a percentage", into=THIRD, w="weight", p="percentage")
def third_flour(w, p):
    yield "multiplied for divided", w * p
    yield "gave what is not flour", w / p - w
    yield "divided by what is left", w / (1 - p)
    yield "added on top", w * (1 + p)
    yield "divided by one and the percentage", w / (1 + p)


@of("weights from percentages", into=THIRD, F="flour", p="second flour percentage", h="water percentage", s="salt percentage", y="yeast percentage")  # fmt: skip
def third_weights(F, h, s, y, p=0.0):
    dough = F * (1 + h + s + y)
    yield "forgot a percentage", dough - F * y, "dough"
    yield "forgot the flour", dough - F, "dough"
    yield "divided for multiplied", F / h, "water"
    yield "counted one twice", dough + F * p, "dough"
    yield "on the first flour only", F * (1 - p) * s, "salt"


@of("flour for a dough weight", into=THIRD, D="dough", h="hydration", o="others")
def third_dough_flour(D, h, o=0.0):
    yield "forgot a percentage", D / (1 + h)
    yield "took the percentages off", D * (1 - h)
    yield "multiplied for divided", D * (1 + h + o)
    yield "divided by the hydration", D / h
    yield "divided by what is left", D / (1 - h)


@of("water temperature", into=THIRD, W="wanted", f="flour", r="room", x="friction", p="preferment")
def third_water_temperature(W, f, r, x, p=None):
    n, known = (3, f + r) if p is None else (4, f + r + p)
    yield "forgot the friction", n * W - known
    yield "added the friction", n * W - known + x
    yield "not multiplied", W - (f + r - W)
    yield "left out the temperature", n * W - known + r - x
    yield "left out the temperature", n * W - known + f - x


@of("friction factor", into=THIRD, W="dough", f="flour", r="room", w="water", p="preferment")
def third_friction(W, f, r, w, p=0.0):
    n = 4 if p else 3
    yield "left out the temperature", n * W - f - r - p
    yield "left out the temperature", n * W - f - w - p
    yield "one too few", (n - 1) * W - f - r - w - p
    yield "one too many", (n + 1) * W - f - r - w - p
    yield "against the mean", W - (f + r + w + p) / n


@of("ice needed", into=THIRD, w="water", t="tap", g="wanted")
def third_ice(w, t, g):
    yield "ice by 80 alone", w * (t - g) / 80
    yield "only the tap", w * t / (80 + t)
    yield "wrong side", w * (t - g) / (80 + g)
    yield "only the wanted degrees", w * g / (80 + t)
    yield "forgot the melting", w * (t - g) / t
    yield "divided by the difference", w * (t - g) / (80 + t - g)
    yield "latent heat in joules", w * (t - g) / (334 + t)


@of("dough temperature by heat", into=THIRD, F="flour weight", cf="flour capacity", tf="flour celsius", L="liquid weight", cl="liquid capacity", tl="liquid celsius", x="friction")  # fmt: skip
def third_heat(F, cf, tf, L, cl, tl, x):
    mix = (F * cf * tf + L * cl * tl) / (F * cf + L * cl)
    yield "no heat capacities", (F * tf + L * tl) / (F + L) + x
    yield "forgot the friction", mix
    yield "plain mean", (tf + tl) / 2 + x
    yield "temperatures swapped", (F * cf * tl + L * cl * tf) / (F * cf + L * cl) + x
    yield "no weights", (cf * tf + cl * tl) / (cf + cl) + x


@of("liquid temperature by heat", into=THIRD, W="wanted", x="friction", F="flour weight", cf="flour capacity", tf="flour celsius", L="liquid weight", cl="liquid capacity")  # fmt: skip
def third_liquid_heat(W, x, F, cf, tf, L, cl):
    yield "forgot the friction", W + F * cf * (W - tf) / (L * cl)
    yield "no heat capacities", W - x + F * (W - x - tf) / L
    yield "gave the difference", F * cf * (W - x - tf) / (L * cl)
    yield "taken away for added", (W - x) - F * cf * (W - x - tf) / (L * cl)
    yield "added the friction", W + x + F * cf * (W + x - tf) / (L * cl)


@of("dough for pieces", into=THIRD, n="pieces", p="piece", loss="loss", more="allowance")
def third_pieces(n, p, loss=0.0, more=0.0):
    if loss and not more:
        yield "loss on top", n * p * (1 + loss)
        yield "divided by one and the loss", n * p / (1 + loss)
        yield "loss for what is left", n * p / loss
        yield "gave the weight lost", n * p / (1 - loss) - n * p
        yield "loss taken off", n * p * (1 - loss)


@of("dough for a tin", into=THIRD, v="volume", r="ratio")
def third_tin(v, r):
    yield "divided for multiplied", v / r
    yield "gave the rest", v - v * r
    yield "forgot the share", v


@of("weight of a volume", into=THIRD, v="volume", d="density")
def third_volume(v, d):
    yield "millilitres for grams", v
    yield "divided for multiplied", v / d
    yield "added percentages", v + d


@of("error of a reading", into=THIRD, s="step", w="weight")
def third_error(s, w):
    yield "whole step", s / w
    yield "ratio upside down", w / (s / 2)
    yield "gave the rest", 1 - s / 2 / w


@of("scaling factor", into=THIRD, o="old", n="new")
def third_factor(o, n):
    yield "upside down", o / n
    yield "growth for factor", (n - o) / o
    yield "gave the rest", (n - o) / n


@of("bake loss", into=THIRD, b="before", a="after")
def third_loss(b, a):
    yield "on the weight after", (b - a) / a
    yield "what is left", a / b
    yield "ratio upside down", b / a
    yield "gave the sum", (b + a) / b


@of("specific volume", into=THIRD, v="volume", a="after")
def third_specific(v, a):
    yield "ratio upside down", a / v
    yield "multiplied for divided", v * a


@of("mean of three loaves", into=THIRD, a="first", b="second", c="third")
def third_mean(a, b, c):
    yield "gave the sum", a + b + c
    yield "divided by two", (a + b + c) / 2
    yield "divided only one", a + b + c / 3
    yield "left one out", (a + c) / 3
    yield "first and last only", (a + c) / 2


@of("time left out of the cold", into=THIRD, t="limit", m="mixing", r="the first rise", s="shaping", b="baking", p="proof")  # fmt: skip
def third_time(t, m=0.0, r=0.0, s=0.0, b=0.0, p=0.0):
    for one in (m, r, s, b, p):
        if one:
            yield "left one out", t - (m + r + s + b + p) + one
    yield "taken away once only", t - r


@of("flour and liquid in a preferment", into=THIRD, P="preferment", h="preferment hydration", w="content")  # fmt: skip
def third_preferment(P, h, w=1.0):
    yield "hydration of the whole", P * (1 - h), "flour"
    yield "hydration of the whole", P * h, "liquid"
    yield "divided by the hydration", P / h, "flour"
    yield "multiplied for divided", P * (1 + h), "flour"
    if h != 1.0:
        yield "half and half", P / 2, "flour"


@of("liquid left for the final dough", into=THIRD, F="total flour", h="hydration", P="preferment", hp="preferment hydration", w="content of liquid")  # fmt: skip
def third_left(F, h, P, hp, w=1.0):
    inside = P - P / (1 + hp)
    yield "whole preferment as water", (F * h - P) / w
    yield "flour for water", (F * h - P / (1 + hp)) / w
    yield "forgot the preferment", F * h / w
    yield "added for taken away", (F * h + inside) / w
    yield "hydration of the whole", (F * h - P * hp) / w
    yield "half and half", (F * h - P / 2) / w


@of("total flour with a preferment", into=THIRD, F="final flour", P="preferment", h="preferment hydration")  # fmt: skip
def third_total(F, P, h):
    yield "whole preferment as flour", F + P
    yield "hydration of the whole", F + P * (1 - h)
    yield "taken away for added", F - P / (1 + h)
    yield "multiplied for divided", F + P * (1 + h)


@of("overall hydration with a preferment", into=THIRD, F="final flour", L="final liquid", w="content of liquid", P="preferment", h="preferment hydration")  # fmt: skip
def third_overall(F, L, P, h, w=1.0):
    flour = P / (1 + h)
    yield "forgot the preferment", L * w / F
    yield "liquid as water", (L + P - flour) / (F + flour)
    yield "forgot the preferment's water", L * w / (F + flour)
    yield "whole preferment over the final flour", (L * w + P) / F
    yield "on the whole dough", (L * w + P - flour) / (F + L + P)
    yield "ratio upside down", (F + flour) / (L * w + P - flour)
    yield "mean of the hydrations", (L * w / F + h) / 2


@of("preferment for a share of the flour", into=THIRD, F="total flour", s="share", h="preferment hydration")  # fmt: skip
def third_size(F, s, h):
    yield "divided for multiplied", F * s / (1 + h)
    yield "gave the flour alone", F * s
    yield "half and half", F * s * 2
    yield "forgot the flour's 100 %", F * s * h
    yield "the rest of the flour", F * (1 - s) * (1 + h)


@of("blend water", into=THIRD, a="weight0", b="weight1", x="content0", y="content1")
def third_blend(a, b, x, y):
    yield "plain mean", (x + y) / 2
    yield "contents swapped", (a * y + b * x) / (a + b)
    yield "divided by two", (a * x + b * y) / 2 / (a + b)
    yield "liquid as water", (a + b * y) / (a + b)
    yield "gave the rest", 1 - (a * x + b * y) / (a + b)


@of("liquid beside another", into=THIRD, F="flour", h="hydration", a="first", x="first-content", y="content")  # fmt: skip
def third_beside(F, h, a, x, y=1.0):
    yield "first liquid as water", (F * h - a) / y
    yield "added for taken away", (F * h + a * x) / y
    yield "forgot the first liquid", F * h / y
    yield "solids for water", (F * h - a * (1 - x)) / y
    yield "divided for multiplied", (F * h - a / x) / y
    if y != 1.0:
        yield "multiplied for divided", (F * h - a * x) * y
        yield "gram for gram", F * h - a * x


@of("fat brought", into=THIRD, F="flour", h="hydration", w="water content", f="fat content")
@of("sugar brought", into=THIRD, F="flour", h="hydration", w="water content", f="sugar content")
@of("salt brought", into=THIRD, F="flour", h="hydration", w="water content", f="salt content")
@of("protein brought", into=THIRD, F="flour", h="hydration", w="water content", f="protein content")
def third_brought(F, h, w, f):
    yield "gram for gram", h * f
    yield "multiplied for divided", h * w * f
    yield "divided for multiplied", h / w / f
    yield "of the whole dough", h / w * f / (1 + h / w)
    yield "of the liquid", f


@of("salt left to add", into=THIRD, F="flour", h="hydration", w="water content", c="salt content", p="salt percentage")  # fmt: skip
@of("sugar left to add", into=THIRD, F="flour", h="hydration", w="water content", c="sugar content", p="sugar percentage")  # fmt: skip
def third_to_add(F, h, w, c, p):
    yield "forgot what the liquid brings", F * p
    yield "added for taken away", F * p + F * h / w * c
    yield "gram for gram", F * p - F * h * c
    yield "multiplied for divided", F * p - F * h * w * c
    yield "gave what the liquid brings", F * h / w * c


@of("hydration with scalded milk", into=THIRD, F="flour", b="before", a="after", w="content")
def third_scalded(F, b, a, w):
    yield "after as before", a * w / F
    yield "forgot a loss", b * w / F
    yield "liquid as water", a / F
    yield "added for taken away", (b * w + b - a) / F
    yield "solids for water", (b * (1 - w) - (b - a)) / F


@of("acid in a dough", into=THIRD, L="liquid", F="flour", a="acid")
def third_acid(L, F, a):
    yield "ratio upside down", a * F / L
    yield "of the whole dough", a * L / (F + L)
    yield "gave the share", L / F


@of("raised hydration for a sour liquid", into=THIRD, h="hydration", m="most", p="part")
def third_raised(h, m, p):
    yield "the whole rise of the hydration", h + m
    yield "as per cent of the hydration", h * (1 + m * p)
    yield "taken away for added", h - m * p
    yield "stopped at the rise", m * p


@of("extra water for a sour liquid", into=THIRD, F="flour", h="hydration", m="most", p="part")
def third_extra(F, h, m, p):
    yield "forgot the share", F * m
    yield "of the water", F * h * m * p
    yield "gave the water", F * (h + m * p)
    yield "not sour for sour", F * m * (1 - p)
