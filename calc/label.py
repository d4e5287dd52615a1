"""A pack's nutrition panel read backwards: the water content, with bounds.

A panel does not print water. Water is what fat, protein, carbohydrate, fibre, minerals (ash) and
alcohol leave. Each printed figure was rounded by a rule, so it stands for an interval; the bounds
are those intervals carried through. Minerals are not printed: the salt is, and the rest is what
the rows of the composition table in the same group hold.

The two rules:

- US, per serving: 21 CFR 101.9(c), paragraphs (2) fat, (4) sodium, (6) carbohydrate, fibre and
  sugars, (7) protein. Read in public copies of the regulation, not on its own page.
- EU and UK, per 100 g or 100 ml: the European Commission's guidance on tolerances for nutrient
  values declared on a label, December 2012. What may be printed as 0 was read in a public summary;
  the steps of 1, 0.1 and 0.01 g are from memory.

`print_us` and `print_eu` round forwards, as a pack does.
"""

from __future__ import annotations

import math
import re
import statistics
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache

from calc import composition, units
from calc.composition import LIQUID_GROUPS, SALT_PER_SODIUM, Ingredient
from calc.expression import Name
from calc.interval import Interval
from calc.registry import Slot, quantity
from calc.units import ReadingError
from calc.working import Working

# Grams in 1 ml of pure alcohol at 20 °C: OIML R 22, the international alcohol tables (from memory).
ALCOHOL_DENSITY = 0.789
# Floating-point noise in the ends of an interval, in grams.
_NOISE = 1e-12
# Any liquid or puree, for who does not know the kind of food.
ANY = "any"


class PanelError(ValueError):
    """A panel that cannot be read or cannot be true: what is wrong, by field name."""

    def __init__(self, messages: dict[str, str]) -> None:
        super().__init__(" ".join(messages.values()))
        self.messages = messages


# How a pack rounds, and what a printed figure may have been.


@dataclass(frozen=True)
class Rounding:
    """One rule of rounding, in grams.

    `steps` lists (from this amount on, to the nearest). Up to `zero` a figure may be printed as 0,
    or must be if `always_zero`. Up to `less` it may be printed as less than `less` (0: may not).
    """

    steps: tuple[tuple[float, float], ...]
    zero: float
    always_zero: bool = False
    less: float = 0.0

    def printed(self, grams: float, small: str = "zero") -> float | None:
        """The figure printed for an amount; None stands for “less than `less`”.

        `small` says how the pack shows small amounts where it may choose: ``zero``, ``less`` or
        ``plain`` (rounded like any other).
        """
        if small == "less" and self.less and grams < max(self.less, self.zero):
            return None
        if grams < self.zero and (self.always_zero or small == "zero"):
            return 0.0
        step = next(step for start, step in reversed(self.steps) if grams >= start)
        return math.floor(grams / step + 0.5) * step

    def meant_by_less(self, limit: float) -> Interval:
        """What an amount may have been, printed as less than `limit`."""
        # The EU guidance lets up to 0.0125 g of salt be printed as “<0.01 g”.
        return Interval(0.0, max(limit, self.zero) if limit == self.less else limit)

    def meant(self, printed: float, half_figure: float) -> Interval:
        """What an amount may have been, from the figure printed.

        A figure finer than the rule asks for stands for half of its last figure (`half_figure`)
        to either side.
        """
        if printed == 0:
            return Interval(0.0, max(self.zero, self.steps[0][1] / 2))
        ends: list[float] = []
        for number, (start, step) in enumerate(self.steps):
            stop = self.steps[number + 1][0] if number + 1 < len(self.steps) else math.inf
            low, high = max(start, printed - step / 2), min(stop, printed + step / 2)
            if low <= high and abs(printed / step - round(printed / step)) < 1e-6:
                ends += [low, high]
        if not ends:
            ends = [printed - half_figure, printed + half_figure]
        return Interval(max(0.0, min(ends) - _NOISE), max(ends) + _NOISE)


# The rules of rounding, as the module's docstring cites them.
US_FAT = Rounding(steps=((0.5, 0.5), (5.0, 1.0)), zero=0.5, always_zero=True)
US_GRAM = Rounding(steps=((0.0, 1.0),), zero=0.5, less=1.0)
US_SODIUM = Rounding(steps=((0.005, 0.005), (0.140, 0.010)), zero=0.005, always_zero=True)
EU_GRAM = Rounding(steps=((0.0, 0.1), (10.0, 1.0)), zero=0.5, less=0.5)
EU_SALT = Rounding(steps=((0.0, 0.01), (1.0, 0.1)), zero=0.0125, less=0.01)


@dataclass(frozen=True)
class Basis:
    """One way a panel is laid out. `rules` holds the fields and how each is rounded.

    `salt` names the field that tells the salt; carbohydrate counts fibre in unless `fibre_apart`.
    """

    key: str
    name: str
    salt: str
    rules: Mapping[str, Rounding]
    fibre_apart: bool


_US = {"fat": US_FAT, "sodium": US_SODIUM, "carbohydrate": US_GRAM, "fibre": US_GRAM,
       "sugars": US_GRAM, "protein": US_GRAM}  # fmt: skip
_EU = {"fat": EU_GRAM, "carbohydrate": EU_GRAM, "sugars": EU_GRAM, "fibre": EU_GRAM,
       "protein": EU_GRAM, "salt": EU_SALT}  # fmt: skip
# What a panel is for: a US serving, or the 100 g or 100 ml of EU and UK.
BASES = {
    "us": Basis("us", "US, per serving", "sodium", _US, fibre_apart=False),
    "eu-g": Basis("eu-g", "EU or UK, per 100 g", "salt", _EU, fibre_apart=True),
    "eu-ml": Basis("eu-ml", "EU or UK, per 100 ml", "salt", _EU, fibre_apart=True),
}
_EU_AMOUNT = {"eu-g": "100 g", "eu-ml": "100 ml"}


# What the kind of food usually holds: read from the composition table, never typed here.


@dataclass(frozen=True)
class Usual:
    """What the table's rows of one group hold of something (a share, or g/ml): the middle row, and low to high."""

    value: float
    range: Interval


def _other_minerals(row: Ingredient) -> float | None:
    return None if row.ash is None or row.salt is None else row.ash - row.salt


@cache
def _usual(group: str, measure: Callable[[Ingredient], float | None]) -> Usual | None:
    groups = LIQUID_GROUPS if group == ANY else {group}
    rows = [row for row in composition.table().values() if row.group in groups]
    found = [value for value in map(measure, rows) if value is not None]
    if not found:
        return None
    return Usual(statistics.median(found), Interval(min(found), max(found)))


def _fibre_of(row: Ingredient) -> float | None:
    return row.fibre


def _density_of(row: Ingredient) -> float | None:
    return row.density


def other_minerals(group: str) -> Usual:
    """Ash without salt, as a share of the food, in a group of the composition table or `ANY`.

    Below zero where some of the sodium is not salt. Raises KeyError for a group without figures.
    """
    found = _usual(group, _other_minerals)
    if found is None:
        raise KeyError(f"The table has no minerals for the group “{group}”.")
    return found


@cache
def groups() -> tuple[str, ...]:
    """The table's groups that a panel can be read with, in the table's order."""
    seen = dict.fromkeys(row.group for row in composition.table().values())
    return tuple(group for group in seen if _usual(group, _other_minerals))


# Reading a panel.


@dataclass(frozen=True)
class Figure:
    """A figure as printed: its text, its value and what it may have been, in calc's unit."""

    text: str
    value: float
    range: Interval


@dataclass(frozen=True)
class Panel:
    """A panel that was read and can be true. Make one with `read_panel`.

    `amount` is what the panel is for: grams, or millilitres if `by_volume`. `figures` are grams in
    that amount. `alcohol` is a share of the volume; `density` is in g/ml.
    """

    basis: Basis
    group: str
    amount: Figure
    by_volume: bool
    figures: Mapping[str, Figure]
    density: Figure | None = None
    alcohol: Figure | None = None
    printed: Mapping[str, str] = field(default_factory=dict)


_LESS = re.compile(r"^(?:contains\s+)?(?:less\s+than|under|<)\s*", re.IGNORECASE)
_WEIGHT = re.compile(
    r"^(?P<number>.*?)\s*(?P<unit>mg|milligrams?|g|grams?|grammes?)?\.?$", re.IGNORECASE
)
_VOLUME_SHARE = re.compile(
    r"^(?:alc\.?\s*)?(?P<number>[\d.,]+)\s*%?\s*(?:vol\.?|abv)?$", re.IGNORECASE
)


def read_figure(text: str, rule: Rounding, unit: str = "g") -> Figure:
    """A printed figure, such as ``3.5 g``, ``<0.5 g``, ``less than 1 g`` or ``105 mg``, in grams.

    `unit` is that of a bare number: ``g`` or ``mg``. The value of “less than 1 g” is the middle of
    its interval. Raises ReadingError with a message for the reader.
    """
    shown = text.strip()
    less = _LESS.match(shown)
    match = _WEIGHT.match(shown[less.end() :] if less else shown)
    number = units.read(match["number"], "number")
    factor = 0.001 if (match["unit"] or unit).lower().startswith("m") else 1.0
    if number.value < 0:
        raise ReadingError("A pack prints nothing below 0. Leave the minus sign out.")
    grams = number.value * factor
    if less:
        meant = rule.meant_by_less(grams)
        return Figure(shown, (meant.low + meant.high) / 2, meant)
    return Figure(shown, grams, rule.meant(grams, number.half_unit * factor))


def read_alcohol(text: str) -> Figure:
    """Alcohol by volume as a drink prints it, such as ``5 % vol``, as a share of the volume."""
    match = _VOLUME_SHARE.match(text.strip())
    if not match:
        raise ReadingError("Write the alcohol as the pack prints it, such as 5 % vol.")
    number = units.read(match["number"], "number")
    if number.value > 100:
        raise ReadingError("Alcohol cannot be more than 100 % of the volume.")
    low = max(0.0, number.value - number.half_unit)
    high = min(100.0, number.value + number.half_unit)
    return Figure(text.strip(), number.value / 100, Interval(low / 100, high / 100))


def _read_density(text: str) -> Figure:
    reading = units.read(text, "density")
    if not 0.5 <= reading.value <= 2:
        raise ReadingError("A food weighs between 0.5 and 2 g in each ml. Check the density.")
    return Figure(text.strip(), reading.value, Interval.around(reading.value, reading.half_unit))


def _read_amount(text: str) -> tuple[Figure, bool]:
    """A serving in grams, ounces or millilitres, and whether it is a volume."""
    try:
        reading = units.read(text, "mass")
        by_volume = False
    except ReadingError:
        if "ml" not in text.lower():
            raise
        reading, by_volume = units.read(text.lower(), "volume"), True
    if reading.value <= 0:
        raise ReadingError("The serving must weigh more than nothing.")
    around = Interval.around(reading.value, reading.half_unit)
    return Figure(text.strip(), reading.value, around), by_volume


def read_panel(basis: str, group: str, **printed: str) -> Panel:
    """Read a panel from its printed texts.

    `basis` is a key of `BASES`; `group` a group of the composition table, or `ANY`. The texts are
    ``fat``, ``carbohydrate``, ``protein`` and ``sodium`` (US) or ``salt`` (EU), which must be
    there; ``fibre``, ``sugars``, ``alcohol`` and ``density``, which may be blank; and, for US
    panels, ``serving``. Raises PanelError with a message for each field that stops it.

    >>> pack = read_panel("eu-g", "dairy", fat="3.5", carbohydrate="4.7", protein="3.3", salt="0.1")
    >>> round(water_content(pack).value, 3)
    0.878
    """
    layout = BASES[basis]
    messages: dict[str, str] = {}

    def attempt(name: str, read: Callable, *rest: object) -> Figure | None:
        text = printed.get(name, "").strip()
        if not text:
            return None
        try:
            return read(text, *rest)
        except ReadingError as error:
            messages[name] = str(error)
            return None

    figures: dict[str, Figure] = {}
    for name, rule in layout.rules.items():
        figure = attempt(name, read_figure, rule, "mg" if name == "sodium" else "g")
        if figure:
            figures[name] = figure
        elif name not in messages and name not in ("fibre", "sugars"):
            messages[name] = f"Write the {name} as the pack prints it. Write 0 if it prints 0."
    density = attempt("density", _read_density)
    alcohol = attempt("alcohol", read_alcohol)
    exact = Figure(_EU_AMOUNT.get(basis, ""), 100.0, Interval.exactly(100.0))
    amount, by_volume = exact, basis == "eu-ml"
    if basis == "us":
        serving = attempt("serving", _read_amount)
        if serving:
            amount, by_volume = serving
        elif "serving" not in messages:
            messages["serving"] = "Write the weight of one serving, such as 240 g."
    if (by_volume or (alcohol and alcohol.value)) and not density and "density" not in messages:
        usual = _usual(group, _density_of)
        if usual:
            density = Figure("", usual.value, usual.range)
        else:
            messages["density"] = "Write the density, such as 1.03 g/ml: weigh 100 ml of it."
    if messages:
        raise PanelError(messages)
    panel = Panel(
        layout, group, amount, by_volume, figures, density, alcohol,
        {name: text for name, text in printed.items() if text.strip()},
    )  # fmt: skip
    _refuse_impossible(panel)
    return panel


def _refuse_impossible(panel: Panel) -> None:
    figures = panel.figures
    carbohydrate = figures["carbohydrate"]
    inside = ["sugars"] if panel.basis.fibre_apart else ["sugars", "fibre"]
    parts = [figures[name] for name in inside if name in figures]
    for name in inside:
        if name in figures and figures[name].range.low > carbohydrate.range.high:
            raise PanelError(
                {name: f"The {name} cannot be more than the carbohydrate, which counts them in."}
            )
    if sum(part.range.low for part in parts) > carbohydrate.range.high:
        raise PanelError(
            {"fibre": "Sugars and fibre together cannot be more than the total carbohydrate."}
        )
    most = _working(panel).bounds()["water"].high
    if most < 0:
        at_least = units.write((1 - most) * 100, "mass", step=0.1)
        raise PanelError(
            {
                "carbohydrate": f"With the minerals such a food holds, these figures come to at least {at_least} "
                "in 100 g. That cannot be. Check each figure, and that the panel is for this amount."
            }
        )


# From a panel to its water.


@dataclass(frozen=True)
class WaterContent:
    """Water as a share of the weight: the value, what it may be, and the working behind them.

    A share below 0 or above 1 that only the rounding allows is cut off.
    """

    value: float
    bounds: Interval
    working: Working


def water_content(panel: Panel) -> WaterContent:
    """The water content of what a panel describes."""
    working = _working(panel)
    bounds = working.bounds()["water"]
    return WaterContent(
        min(1.0, max(0.0, working.values()["water"])),
        Interval(min(1.0, max(0.0, bounds.low)), min(1.0, max(0.0, bounds.high))),
        working,
    )


def _working(panel: Panel) -> Working:
    working = Working("Water from the pack")
    density = None
    if panel.density and (panel.by_volume or panel.alcohol):
        density = _given(working, "density", "density", panel.density, "density")
    amount = _amount(working, panel, density)
    counted = ["fat", "protein", "carbohydrate"]
    figures = dict(panel.figures)
    if panel.basis.fibre_apart:
        counted.append("fibre")
        figures.setdefault("fibre", _usual_fibre(panel))
    solids = [_given(working, name, name, figures[name], "mass") for name in counted]
    solids.append(_salt(working, panel))
    usual = other_minerals(panel.group)
    minerals = working.given("minerals", "usual other minerals", usual.value, "share", usual.range)
    return _left_over(
        working, solids, amount, minerals, _alcohol(working, panel, density), to=0.001
    )


def _given(working: Working, key: str, label: str, figure: Figure, kind: str) -> Name:
    if not figure.text:
        label = f"usual {label}"
    elif _LESS.match(figure.text):
        label += f" (printed “{figure.text}”)"
    return working.given(key, label, figure.value, kind, figure.range)


def _usual_fibre(panel: Panel) -> Figure:
    """Fibre that the pack does not print: what the kind of food holds, in the panel's amount."""
    usual = _usual(panel.group, _fibre_of)
    grams = panel.amount.value * (panel.density.value if panel.by_volume else 1.0)
    return Figure(
        "", usual.value * grams, Interval(usual.range.low * grams, usual.range.high * grams)
    )


def _amount(working: Working, panel: Panel, density: Name | None) -> Name:
    if not panel.by_volume:
        return _given(working, "amount", "weight the panel is for", panel.amount, "mass")
    volume = _given(working, "volume", "volume the panel is for", panel.amount, "volume")
    return working.step(
        "amount",
        "weight the panel is for",
        volume * density,
        "mass",
        to=0.1,
        why="A volume must become a weight first: multiply it by the density.",
    )


def _salt(working: Working, panel: Panel) -> Name:
    figure = panel.figures[panel.basis.salt]
    if panel.basis.salt == "salt":
        return _given(working, "salt", "salt", figure, "mass")
    sodium = _given(working, "sodium", "sodium", figure, "mass")
    return _salt_step(working, sodium)


def _salt_step(working: Working, sodium: Name) -> Name:
    return working.step(
        "salt",
        "salt",
        sodium * SALT_PER_SODIUM,
        "mass",
        to=0.01,
        why="The salt that holds the sodium weighs 2.5 times as much.",
    )


def _alcohol(working: Working, panel: Panel, density: Name | None) -> Name | None:
    if not panel.alcohol or not panel.alcohol.value:
        return None
    volume = _given(working, "alcohol by volume", "alcohol by volume", panel.alcohol, "share")
    pure = working.given("pure alcohol", "density of pure alcohol", ALCOHOL_DENSITY, "density")
    return working.step(
        "alcohol",
        "alcohol by weight",
        volume * pure / density,
        "share",
        to=0.001,
        why="Alcohol is lighter than the drink, so its share of the weight is smaller.",
    )


def _left_over(
    working: Working,
    solids: list[Name],
    amount: Name,
    minerals: Name | None,
    alcohol: Name | None,
    to: float,
) -> Working:
    """The end that every panel shares: the solids, their share, and the water left over."""
    total = working.step(
        "solids",
        "solids on the panel",
        sum(solids[1:], solids[0]),
        "mass",
        to=0.1,
        why="Add up what the panel says is not water.",
    )
    share = working.step(
        "share",
        "their share of the weight",
        total / amount,
        "share",
        to=0.001,
        why="Compare them with the weight the panel is for.",
    )
    left = 1 - share
    for other in (minerals, alcohol):
        if other is not None:
            left = left - other
    working.step(
        "water",
        "water content",
        left,
        "share",
        to=to,
        why="What is left of 100 % is water."
        + (" The panel does not print the other minerals." if minerals else ""),
    )
    return working


@quantity(
    "water from a pack",
    "the water content of a food from the figures a pack prints for 100 g",
    Slot("fat", "mass", 0, 45),
    Slot("protein", "mass", 0, 20),
    Slot("carbohydrate", "mass", 0, 30),
    Slot("fibre", "mass", 0, 5, optional=True),
    Slot("salt", "mass", 0, 3, optional=True),
    Slot("other minerals", "share", 0, 0.02, optional=True),
    least=0.01,
    most=1.0,
)
def water_from_pack(
    fat: float,
    protein: float,
    carbohydrate: float,
    fibre: float = 0.0,
    salt: float = 0.0,
    other_minerals: float = 0.0,
) -> Working:
    """Water = 1 − solids ÷ 100 g − other minerals. Grams in 100 g; fibre where printed apart."""
    working = Working("Water from the pack")
    amount = working.given("amount", "weight the panel is for", 100.0, "mass")
    grams = {"fat": fat, "protein": protein, "carbohydrate": carbohydrate}
    grams |= {name: value for name, value in (("fibre", fibre), ("salt", salt)) if value}
    solids = [working.given(name, name, value, "mass") for name, value in grams.items()]
    minerals = None
    if other_minerals:
        minerals = working.given("minerals", "other minerals", other_minerals, "share")
    return _left_over(working, solids, amount, minerals, None, to=0.01)


@quantity(
    "water from a US pack",
    "the water content of a food from the figures a US pack prints for one serving",
    Slot("serving", "mass", 15, 500),
    Slot("fat", "mass", 0, 100),
    Slot("protein", "mass", 0, 60),
    Slot("carbohydrate", "mass", 0, 100),
    Slot("sodium", "mass", 0.005, 3),
    Slot("other minerals", "share", 0, 0.02, optional=True),
    least=0.01,
    most=1.0,
)
def water_from_us_pack(
    serving: float,
    fat: float,
    protein: float,
    carbohydrate: float,
    sodium: float,
    other_minerals: float = 0.0,
) -> Working:
    """Water = 1 − solids ÷ serving − other minerals. Grams in a serving; fibre is counted in."""
    working = Working("Water from a US pack")
    amount = working.given("amount", "one serving", serving, "mass", role="serving")
    grams = {"fat": fat, "protein": protein, "carbohydrate": carbohydrate}
    solids = [working.given(name, name, value, "mass") for name, value in grams.items()]
    salty = working.given("sodium", "sodium", sodium, "mass")
    solids.append(_salt_step(working, salty))
    minerals = None
    if other_minerals:
        minerals = working.given("minerals", "other minerals", other_minerals, "share")
    return _left_over(working, solids, amount, minerals, None, to=0.01)


# Rounding forwards: what a pack would print.


def print_us(
    food: Ingredient, serving: float, small: str = "zero", alcohol: float | None = None
) -> dict[str, str]:
    """A US panel for `food`, as texts for `read_panel`.

    `serving` is in whole grams; `small` as in `Rounding.printed`; `alcohol` a share of the volume.
    Raises ValueError when the food lacks a figure.
    """
    figures = _printable(food, "fat", "sodium", "carbohydrate", "fibre", "sugars", "protein")
    return {
        "serving": f"{serving:.0f} g",
        **_print(_US, figures, serving, small),
        **_print_alcohol(food, alcohol),
    }


def print_eu(
    food: Ingredient, small: str = "zero", alcohol: float | None = None, by_volume: bool = False
) -> dict[str, str]:
    """An EU panel for 100 g (or 100 ml) of `food`, as texts for `read_panel`."""
    figures = _printable(food, "fat", "carbohydrate", "sugars", "fibre", "protein", "salt")
    figures["carbohydrate"] = max(0.0, figures["carbohydrate"] - figures.get("fibre", 0.0))
    grams = 100 * food.density if by_volume else 100.0
    return {
        **_print(_EU, figures, grams, small),
        **_print_alcohol(food, alcohol, always_density=by_volume),
    }


def _printable(food: Ingredient, *names: str) -> dict[str, float]:
    shares = {
        name: food.salt / SALT_PER_SODIUM
        if name == "sodium" and food.salt is not None
        else getattr(food, name, None)
        for name in names
    }
    missing = [n for n, s in shares.items() if s is None and n not in ("fibre", "sugars")]
    if missing:
        raise ValueError(f"The table has no {' or '.join(missing)} for {food.name}.")
    return {name: share for name, share in shares.items() if share is not None}


def _print(
    rules: Mapping[str, Rounding], shares: Mapping[str, float], grams: float, small: str
) -> dict[str, str]:
    made = {}
    for name, rule in rules.items():
        if name not in shares:
            continue
        figure = rule.printed(shares[name] * grams, small)
        made[name] = f"less than {rule.less:g} g" if figure is None else _text(name, figure)
    return made


def _text(name: str, grams: float) -> str:
    return f"{grams * 1000:.0f} mg" if name == "sodium" else f"{grams:.6g} g"


def _print_alcohol(
    food: Ingredient, alcohol: float | None, always_density: bool = False
) -> dict[str, str]:
    made = {"alcohol": f"{alcohol * 100:.1f} % vol"} if alcohol else {}
    if food.density and (alcohol or always_density):
        made["density"] = f"{food.density:.3f} g/ml"
    return made
