"""A demonstration by the clock: what is seen when, what is done before, what to weigh and to buy.

``<bench-plan lesson="preferments">`` takes all of it from the lesson's demonstration; the weights are those of
the bench sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from xml.etree.ElementTree import Element

from calc.composition import Ingredient, find
from calc.words import capital
from docs.course.bench_sheet import bowls_of, written
from docs.course.benches import Bench, bench_of, setting, to_buy
from exercises.publish.html import Child, table


def build(attributes: Mapping[str, str]) -> list[Element]:
    """``lesson`` is its key. Raises ValueError with those there are."""
    return list(_plan(bench_of(attributes["lesson"])))


def _plan(bench: Bench) -> Iterator[Element]:
    seen = [[_since(minutes), text] for minutes, text in bench.see.items()]
    yield table("What may be seen (common practice)", ["After", "What"], seen)
    yield _minutes("Before class", bench.before)
    for lesson, rows in zip(("first", "second"), bench.two, strict=False):
        yield _minutes(f"Over two lessons: the {lesson}", rows)
    heads = ["Ingredient", "One group", _whole(bench.groups), "Buy (usual packs)"]
    yield table("What to weigh", heads, list(_weights(bench)))


def _since(minutes: int) -> str:
    return f"{minutes}\N{NO-BREAK SPACE}min"


def _minutes(title: str, rows: tuple[tuple[int, str], ...]) -> Element:
    return table(title, ["Minutes", "What"], [[_long(minutes), what] for minutes, what in rows])


def _long(minutes: int) -> str:
    return (
        f"{minutes // 60}\N{NO-BREAK SPACE}h"
        if minutes >= 120 and minutes % 60 == 0
        else str(minutes)
    )


def _whole(groups: int) -> str:
    return f"{groups} groups of {setting('students')}" if groups > 1 else "The class"


def _weights(bench: Bench) -> Iterator[list[Child]]:
    group, whole = group_weights(bench), class_weights(bench)
    for ingredient, grams in whole.items():
        mine = written(group[ingredient]) if ingredient in group else "–"
        name = capital(ingredient.name)
        yield [name, mine, written(grams), to_buy(ingredient, grams)]


def group_weights(bench: Bench) -> Mapping[Ingredient, float]:
    """Grams of each ingredient in all the bowls of one group."""
    items = [item for bowl in bowls_of(bench.sheet) for item in bowl.dough.items]
    weights: Counter[Ingredient] = Counter()
    for item in items:
        weights[item.ingredient] += item.grams
    for key, grams in bench.for_group.items():
        weights[find(key)] += grams
    return weights


def class_weights(bench: Bench) -> Mapping[Ingredient, float]:
    """Grams of each ingredient for all groups, and for what the teacher shows once."""
    weights = Counter({one: bench.groups * grams for one, grams in group_weights(bench).items()})
    for key, grams in bench.for_class.items():
        weights[find(key)] += grams
    return weights
