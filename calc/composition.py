"""What 100 g of an ingredient holds, from the table in ``calc/data``, each figure with its source.

The table keeps grams in 100 g as the sources print them; `Ingredient` gives shares (0.81 for 81 %).
Carbohydrate is by difference and counts fibre in, as the USDA prints it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache, cached_property

from calc import units
from calc.allergens import ALLERGENS
from calc.data_file import (
    INGREDIENTS,
    SOURCES,
    also_called,
    check_ingredients,
    check_sources,
    read_rows,
)
from calc.interval import Interval
from calc.names import any_order, best, differ, forms, percentage, plain

# Sodium to salt: the factor of EU Regulation 1169/2011, annex I.
SALT_PER_SODIUM = 2.5

# The group of a liquid that is no row of the table.
OWN_LIQUID = "other-liquid"
# Groups that a baker counts as the dough's liquid. Butter, honey and yeast hold water too, but it
# counts only when one says "all water".
LIQUID_GROUPS = frozenset(
    [
        "water",
        "dairy",
        "cultured",
        "plant",
        "egg",
        "puree",
        "fruit",
        "juice",
        "alcohol",
        "brew",
        "drink",
        "broth",
        "acid",
    ]
)
OTHER_GROUPS = frozenset(
    [
        "cheese",
        "dry",
        "fat",
        "flour",
        "leavening",
        "nut",
        "other",
        "salt",
        "seasoning",
        "sweetener",
        "yeast",
    ]
)

# What rides along with a liquid's water, and what it is called: every tool, picture and problem
# counts these. Protein changes the feel, so it is told although nobody balances it.
RIDERS = {"fat": "fat", "protein": "protein", "sugars": "sugar", "salt": "salt"}

# A message repeats so much of what was typed: enough to find it again.
LONGEST_ECHO = 80


# How well a row must answer a name that no row has, to be offered for it, and how many are.
_NEAR = 0.6
_MOST_OFFERED = 3


class UnknownIngredient(KeyError):
    """No row of that name, or several; the message offers the nearest ones, with their allergens."""

    def __init__(self, asked: str) -> None:
        offered = ranked(asked, _NEAR)[:_MOST_OFFERED]
        self.near = tuple(each.name for each in offered)
        hint = f" Did you mean {' or '.join(_offer(each) for each in offered)}?" if offered else ""
        called = asked if len(asked) <= LONGEST_ECHO else f"{asked[:LONGEST_ECHO]}…"
        super().__init__(f"There is no ingredient called “{called}” in the table.{hint}")

    def __str__(self) -> str:
        return self.args[0]


def _offer(ingredient: Ingredient) -> str:
    words = [ALLERGENS[word].name for word in ingredient.allergens]
    return f"{ingredient.name} (holds {', '.join(words)})" if words else ingredient.name


@dataclass(frozen=True)
class Ingredient:
    """One ingredient: shares of its weight (g in 1 g), None where no source gives a figure.

    `water_range` is what products of this name hold; `ph` a range; `allergens` are the table's
    words, all there are where `allergens_known`; `source` names the row's source, such as
    ``usda-sr:1077`` (an NDB number), and the other sources those of single figures. `density` is in
    g/ml; `bulk` is what 1 ml of it weighs in a cup or spoon, from loose to packed, for what is not
    poured (g/ml). `also` holds its other names.
    """

    key: str
    name: str
    group: str
    water: float
    water_range: Interval
    protein: float | None = None
    fat: float | None = None
    carbohydrate: float | None = None
    sugars: float | None = None
    lactose: float | None = None
    fibre: float | None = None
    ash: float | None = None
    salt: float | None = None
    alcohol: float | None = None
    density: float | None = None
    bulk: Interval | None = None
    ph: Interval | None = None
    allergens: tuple[str, ...] = ()
    allergens_known: bool = True
    perishable: bool = False
    source: str = ""
    water_range_source: str = ""
    note: str = ""
    sugars_source: str = ""
    density_source: str = ""
    bulk_source: str = ""
    ph_source: str = ""
    also: tuple[str, ...] = ()

    @property
    def is_liquid(self) -> bool:
        """Whether it counts as the dough's liquid: a row of `LIQUID_GROUPS`, or a reader's own."""
        return self.group in LIQUID_GROUPS or self.group == OWN_LIQUID

    @cached_property
    def in_lists(self) -> str:
        """Its name, and the other one that people look for where it shares no more than a word of it."""
        other = self.also[0] if self.also else self.name
        return f"{self.name} – {other}" if differ(plain(self.name), plain(other)) else self.name

    @property
    def is_flour(self) -> bool:
        """Whether it counts in the total flour."""
        return self.group == "flour"


def own(name: str, water: float, water_range: Interval | None = None) -> Ingredient:
    """A reader's own liquid, known by its water share alone.

    Raises ValueError when the share is not above 0 and at most 1.
    """
    if not 0 < water <= 1:
        raise ValueError(
            "The water content must be above 0 % and at most 100 %. "
            "A pack does not print it: it is what is left when fat, protein, carbohydrate and ash are taken from 100 g."
        )
    around = water_range or Interval.exactly(water)
    return Ingredient("own", name, OWN_LIQUID, water, around, allergens_known=False)


def _share(text: str) -> float | None:
    return float(text) / 100 if text else None


def _range(low: str, high: str, scale: float = 1.0) -> Interval | None:
    return Interval(float(low) / scale, float(high) / scale) if low else None


def _salt(row: dict[str, str]) -> float | None:
    """Salt from sodium, a share; of salt itself all that is no water, for the law's factor makes 97 g of 100."""
    if row["group"] == "salt":
        return _share(row["ash"])
    sodium = row["sodium_mg"]
    return float(sodium) * SALT_PER_SODIUM / 100_000 if sodium else None


def _ingredient(row: dict[str, str]) -> Ingredient:
    water = float(row["water"]) / 100
    return Ingredient(
        key=row["key"],
        name=row["name"],
        group=row["group"],
        water=water,
        water_range=_range(row["water_low"], row["water_high"], 100) or Interval.exactly(water),
        **{
            part: _share(row[part])
            for part in (
                "protein",
                "fat",
                "carbohydrate",
                "sugars",
                "lactose",
                "fibre",
                "ash",
                "alcohol",
            )
        },
        salt=_salt(row),
        density=float(row["density"]) if row["density"] else None,
        bulk=_range(row["bulk_low"], row["bulk_high"]),
        ph=_range(row["ph_low"], row["ph_high"]),
        allergens=tuple(row["allergens"].split()),
        perishable=row["perishable"] == "yes",
        source=row["source"],
        water_range_source=row["water_range_source"],
        note=row["note"],
        sugars_source=row["sugars_source"],
        density_source=row["density_source"],
        bulk_source=row["bulk_source"],
        ph_source=row["ph_source"],
        also=tuple(also_called(row)),
    )


@cache
def table() -> dict[str, Ingredient]:
    """Every ingredient, by key, in the table's order. Raises DataFileError."""
    rows = read_rows(INGREDIENTS)
    check_ingredients(rows, LIQUID_GROUPS | OTHER_GROUPS, sources())
    return {row["key"]: _ingredient(row) for row in rows.values()}


@cache
def sources() -> dict[str, dict[str, str]]:
    """The cited sources, by key: short name, title, publisher, year, status, note.

    Raises DataFileError.
    """
    rows = read_rows(SOURCES)
    check_sources(rows)
    return {row["key"]: row for row in rows.values()}


# A reader's own ingredients, known for one request at a time.
_OWN: ContextVar[tuple[Ingredient, ...]] = ContextVar("own ingredients", default=())


@contextmanager
def known(ingredients: Iterable[Ingredient]) -> Iterator[None]:
    """Within this, `find` and `read` know these ingredients too, by key and by name."""
    token = _OWN.set(tuple(ingredients))
    try:
        yield
    finally:
        _OWN.reset(token)


def readers_own() -> tuple[Ingredient, ...]:
    """The reader's own ingredients that are known now."""
    return _OWN.get()


def find(asked: str) -> Ingredient:
    """The ingredient of that key or name, the reader's own too; raises UnknownIngredient.

    A name may be any that the table's column ``also`` gives to one row alone, in any of its
    spellings: “Soya milk” is the soy drink.
    """
    meant = called(asked)
    if len(meant) != 1:
        raise UnknownIngredient(asked)
    return meant[0]


def called(asked: str) -> tuple[Ingredient, ...]:
    """Every ingredient that a key or a name may mean, the reader's own too; none where nothing is called so."""
    wanted = " ".join(asked.strip().lower().split())
    if wanted in table():
        return (table()[wanted],)
    for ingredient in (*table().values(), *_OWN.get()):
        if wanted in (ingredient.key, ingredient.name.lower()):
            return (ingredient,)
    name = asked[:LONGEST_ECHO]
    return tuple(table()[key] for key in _meant(name) or _of_that_fat(name))


def _meant(name: str) -> tuple[str, ...]:
    """The keys of the rows that a name may mean."""
    typed = forms(name)
    called = [_called(str).get(form) for form in typed]
    called += [_turned(form, may_turn=bool(_PARTED.search(name))) for form in typed]
    return next(filter(None, called), ())


# “milk, 2 %”, “puree of pumpkin”: what it is comes first.
_PARTED = re.compile(r"[,;(/]|\bof\b")


def _turned(form: str, may_turn: bool) -> tuple[str, ...]:
    """The rows of a name whose words come in another order: “sugar brown”.

    The last word says what a thing is: milk chocolate is no chocolate milk. So a last word that is
    that of any row's name must be that of the row that is meant, unless a mark says otherwise.
    """
    found = _called(any_order).get(any_order(form), ())
    head = _last_word(form)
    if may_turn or head not in _heads():
        return found
    return tuple(key for key in found if head in map(_last_word, _names_of(key)))


def _last_word(name: str) -> str:
    return name.rpartition(" ")[2]


@cache
def _heads() -> frozenset[str]:
    return frozenset(_last_word(plain(row.name)) for row in table().values())


# How far a fat in a name may be off the row's, in percentage points, or as a part of it.
_FAT_POINTS, _FAT_PART = 0.5, 0.1


def _of_that_fat(name: str) -> tuple[str, ...]:
    """The row of a name with its fat stated: “heavy cream (36 %)”, but not “heavy cream (12 %)”."""
    stated = percentage(plain(name))
    if not stated:
        return ()
    per_cent, rest = stated
    near = max(_FAT_POINTS, _FAT_PART * per_cent)
    return tuple(
        key for key in _meant(rest) if abs(100 * (table()[key].fat or 0) - per_cent) <= near
    )


@cache
def _called(arranged: Callable[[str], str]) -> dict[str, tuple[str, ...]]:
    """The keys of the rows that each plain name, so arranged, may mean; a row's own means it alone."""
    found: dict[str, tuple[str, ...]] = {}
    for row in table().values():
        for name in dict.fromkeys(arranged(plain(one)) for one in row.also):
            found[name] = (*found.get(name, ()), row.key)
    return found | {arranged(plain(row.name)): (row.key,) for row in table().values()}


@cache
def _names_of(key: str) -> tuple[str, ...]:
    row = table()[key]
    return tuple(dict.fromkeys(plain(name) for name in (row.name, *row.also)))


def usual_allergens(name: str) -> tuple[str, ...]:
    """What a food of this name usually holds, by its last word: of a “tub yogurt”, milk.

    The allergens, in the table's words, of at least half of the rows whose names end in the same word.
    It is a reason to ask, and no statement on any pack.
    """
    last = plain(name.partition("(")[0]).rpartition(" ")[2]
    kin = _by_last_word().get(last, ())
    held = Counter(word for row in kin for word in row.allergens)
    return tuple(word for word, rows in held.items() if 2 * rows >= len(kin))


@cache
def _by_last_word() -> dict[str, tuple[Ingredient, ...]]:
    found: dict[str, tuple[Ingredient, ...]] = {}
    for row in table().values():
        names = (plain(name.partition("(")[0]) for name in (row.name, *row.also))
        for last in {name.rpartition(" ")[2] for name in names}:
            found[last] = (*found.get(last, ()), row)
    return found


def ranked(asked: str, least: float = 0.0) -> list[Ingredient]:
    """The table's and the reader's own ingredients that answer a name, the best first.

    None is offered that leaves a word of the name unanswered: a food that shares only “milk” with
    what was asked may hold what that must not hold. `least` is how well it must answer, up to 1.
    """
    typed = forms(asked[:LONGEST_ECHO])
    names = [(row, _names_of(row.key)) for row in table().values()]
    names += [(each, (plain(each.name),)) for each in _OWN.get()]
    # Joined to one word, a name must be right to the letter: likeness would drown a strange word.
    joined = typed[0].replace(" ", "") if " " in typed[0] else ""
    scored = []
    for row, known in names:
        score = max((best(form, known) for form in typed if form != joined), default=0.0)
        # Milk chocolate before chocolate milk: the same words in the order that was asked come first.
        called_so = any(form in known for form in typed)
        scored.append((1.0 if called_so else score, called_so, row))
    scored.sort(key=lambda each: (-each[0], not each[1]))
    return [row for score, _, row in scored if score > least]


_STATED = re.compile(r"^(?P<name>.+?),\s*(?P<water>[\d.,]+\s*%)\s*water$", re.IGNORECASE)


def read(text: str) -> Ingredient:
    """An ingredient by key or name, or one's own as ``goat yogurt, 86 % water``.

    Raises UnknownIngredient, or ValueError when the stated water is impossible.
    """
    stated = _STATED.match(text.strip())
    if stated:
        return own(stated["name"], units.read(stated["water"], "share").value)
    return find(text)
