"""A pack's nutrition panel read backwards: the water content, with bounds.

A panel does not print water. Water is what fat, protein, carbohydrate, fibre, minerals (ash), acid
and alcohol leave. Each printed figure was rounded by a rule (`panel_figures`), so it stands for an
interval; the bounds are those intervals carried through. What no panel prints, minerals and acid,
is what foods of that kind hold (`pack_kinds`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from calc import pack_kinds, units
from calc.composition import SALT_PER_SODIUM
from calc.expression import Name, summed
from calc.interval import Interval
from calc.pack_kinds import ANY, Kind, Usual
from calc.panel_figures import (
    EU_GRAM,
    EU_SALT,
    HEAVIEST,
    LIGHTEST,
    US_FAT,
    US_GRAM,
    US_SODIUM,
    Figure,
    Rounding,
    is_not_said,
    read_alcohol,
    read_amount,
    read_density,
    read_figure,
    read_salt,
    read_sodium,
)
from calc.registry import Slot, quantity
from calc.units import ReadingError
from calc.working import PART_OF_A_WHOLE, Working

__all__ = ["ANY", "BASES", "Panel", "PanelError", "WaterContent", "read_panel", "water_content"]

# Grams in 1 ml of pure alcohol at 20 °C: OIML R 22, the international alcohol tables (from memory).
ALCOHOL_DENSITY = 0.789


class PanelError(ValueError):
    """A panel that cannot be read or cannot be true: what is wrong, by field name.

    `panel` is the one whose figures were read and do not go together.
    """

    def __init__(self, messages: dict[str, str], panel: Panel | None = None) -> None:
        super().__init__(" ".join(messages.values()))
        self.messages = messages
        self.panel = panel


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
# A panel may leave these lines out.
_MAY_BE_BLANK = ("fibre", "sugars")


# Reading a panel.


@dataclass(frozen=True)
class Panel:
    """A panel that was read and can be true. Make one with `read_panel`.

    `amount` is what the panel is for: grams, or millilitres if `by_volume`. `figures` are grams in
    that amount. `alcohol` is a share of the volume; `density` is in g/ml, and has no text where it
    was estimated from the figures. `whole_grams`: all figures are whole, so each is taken so.
    """

    basis: Basis
    kind: Kind
    amount: Figure
    by_volume: bool
    figures: Mapping[str, Figure]
    density: Figure | None = None
    alcohol: Figure | None = None
    whole_grams: bool = False
    printed: Mapping[str, str] = field(default_factory=dict)

    @property
    def weight(self) -> Interval:
        """What the amount weighs, in grams."""
        if not self.by_volume or self.density is None:
            return self.amount.range
        low, high = self.amount.range.low, self.amount.range.high
        return Interval(low * self.density.range.low, high * self.density.range.high)

    def share(self, name: str) -> Interval:
        """What share of the weight a printed figure may be."""
        found = self.figures[name].range
        return Interval(found.low / self.weight.high, found.high / self.weight.low)

    @property
    def remarks(self) -> dict[str, str]:
        """How a field was read, where that may not be what its writer meant."""
        return {name: figure.remark for name, figure in self.figures.items() if figure.remark}


class _Fields:
    """Reads the texts of a panel one by one, and keeps a message for each that cannot be read."""

    def __init__(self, printed: Mapping[str, str]) -> None:
        self.printed = printed
        self.messages: dict[str, str] = {}

    def read(self, name: str, read: Callable, *rest: object) -> Figure | None:
        text = self.printed.get(name, "").strip()
        if is_not_said(text) or (name in _MAY_BE_BLANK and text in ("-", "–", "—")):
            return None
        try:
            return read(text, *rest)
        except ReadingError as error:
            self.messages[name] = str(error)
            return None

    def figure(self, name: str, rule: Rounding) -> Figure | None:
        if name == "sodium":
            return self.read(name, read_sodium)
        if name == "salt":
            return self.read(name, read_salt)
        return self.read(name, read_figure, rule, "g", name)

    def lacks(self, name: str, says: str) -> None:
        self.messages.setdefault(name, says)


def read_panel(basis: str, kind: str | Kind, **printed: str) -> Panel:
    """Read a panel from its printed texts.

    `basis` is a key of `BASES`; `kind` a kind or its key in `pack_kinds.kinds()`, such as `ANY`. The texts are
    ``fat``, ``carbohydrate``, ``protein`` and ``sodium`` (US) or ``salt`` (EU), which must be
    there; ``fibre``, ``sugars``, ``alcohol`` and ``density``, which may be blank; and, for US
    panels, ``serving``. Raises PanelError with a message for each field that stops it.

    >>> pack = read_panel("eu-g", "dairy", fat="3.5", carbohydrate="4.7", protein="3.3", salt="0.1")
    >>> round(water_content(pack).value, 3)
    0.878
    """
    layout, found = BASES[basis], kind if isinstance(kind, Kind) else pack_kinds.find(kind)
    if found is None:
        raise PanelError({"kind": "Choose a kind of food from the list."})
    fields = _Fields(printed)
    figures = _figures(fields, layout)
    density = fields.read("density", read_density)
    alcohol = fields.read("alcohol", read_alcohol)
    amount, by_volume = _amount_of(fields, layout)
    if fields.messages:
        raise PanelError(fields.messages)
    whole = layout.fibre_apart and _all_whole(figures)
    panel = Panel(
        layout, found, amount, by_volume,
        _as_whole_grams(figures) if whole else figures, density, alcohol, whole,
        {name: text for name, text in printed.items() if text.strip()},
    )  # fmt: skip
    panel = _with_density(panel)
    _refuse_impossible(panel)
    return panel


def _figures(fields: _Fields, layout: Basis) -> dict[str, Figure]:
    figures = {}
    for name, rule in layout.rules.items():
        figure = fields.figure(name, rule)
        if figure:
            figures[name] = figure
        elif name not in _MAY_BE_BLANK:
            fields.lacks(name, f"Write the {name} as the pack prints it. Write 0 if it prints 0.")
    return figures


def _amount_of(fields: _Fields, layout: Basis) -> tuple[Figure, bool]:
    exact = Figure(_EU_AMOUNT.get(layout.key, ""), 100.0, Interval.exactly(100.0))
    if layout.fibre_apart:
        return exact, layout.key == "eu-ml"
    text = fields.printed.get("serving", "").strip()
    if not text:
        fields.lacks("serving", "Write the weight of one serving, such as 240 g.")
        return exact, False
    try:
        return read_amount(text)
    except ReadingError as error:
        fields.lacks("serving", str(error))
        return exact, False


# Some packs round each figure to whole grams, coarser than the EU guidance asks.


def _is_whole(figure: Figure) -> bool:
    return figure.value == round(figure.value) and not re.search(r"\d[.,]\d", figure.text)


def _all_whole(figures: Mapping[str, Figure]) -> bool:
    grams = [figure for name, figure in figures.items() if name != "salt"]
    small = [figure for figure in grams if 0 < figure.value < 10]
    return len(small) > 1 and all(map(_is_whole, grams))


def _as_whole_grams(figures: Mapping[str, Figure]) -> dict[str, Figure]:
    def widened(name: str, figure: Figure) -> Figure:
        if name == "salt" or figure.value == 0:
            return figure
        return replace(figure, range=Interval.around(figure.value, 0.5))

    return {name: widened(name, figure) for name, figure in figures.items()}


# The density, where the panel needs one and the reader has none.

# What a gram in 1 ml adds to the density: 1 − 0.998 × its own volume. Densities of 0.92 for fat,
# 1.32 protein, 1.59 carbohydrate, 1.30 fibre, 2.2 salt in water (from memory, as handbooks of food
# engineering give them); compared with the USDA's weights of a fluid ounce.
_ADDS = {
    "fat": -0.088,
    "protein": 0.244,
    "carbohydrate": 0.373,
    "fibre": 0.235,
    "salt": 0.6,
    "sodium": 1.5,
}
_WATER_DENSITY = 0.998
# Pure alcohol takes 1.165 ml a gram in a drink: 0.991 g/ml at 5 % vol, 0.948 at 40 % (OIML R 22, from memory).
_ALCOHOL_ADDS = (1 - _WATER_DENSITY * 1.165) * ALCOHOL_DENSITY
# How far drinks and pastes lie from this, either way.
_DENSITY_DOUBT = 0.015


def _with_density(panel: Panel) -> Panel:
    needs = panel.by_volume or (panel.alcohol is not None and panel.alcohol.value > 0)
    if not needs or panel.density:
        return panel
    if panel.by_volume and not panel.kind.pours:
        raise PanelError({"density": "Write the density, such as 1.03 g/ml: weigh 100 ml of it."})
    return replace(panel, density=_estimated_density(panel))


def _estimated_density(panel: Panel) -> Figure:
    counted = [*_counted(panel.basis), panel.basis.salt]
    solids = {name: panel.figures[name] for name in counted if name in panel.figures}
    alcohol = _ALCOHOL_ADDS * (panel.alcohol.value if panel.alcohol else 0.0)

    def at(end: Callable[[str, Figure], float]) -> float:
        added = sum(_ADDS[name] * end(name, each) for name, each in solids.items())
        added /= panel.amount.value
        if panel.by_volume:
            return _of_a_food(_WATER_DENSITY + added + alcohol)
        return _of_a_food((_WATER_DENSITY + alcohol) / (1 - added)) if added < 1 else HEAVIEST

    low = at(lambda name, each: each.range.high if _ADDS[name] < 0 else each.range.low)
    high = at(lambda name, each: each.range.low if _ADDS[name] < 0 else each.range.high)
    around = Interval(low * (1 - _DENSITY_DOUBT), high * (1 + _DENSITY_DOUBT))
    return Figure("", at(lambda _, each: each.value), around)


def _of_a_food(density: float) -> float:
    """A density that a food can have: figures that cannot be true give any, and are refused by themselves."""
    return min(HEAVIEST, max(LIGHTEST, density))


def _counted(basis: Basis) -> list[str]:
    return ["fat", "protein", "carbohydrate", *(["fibre"] if basis.fibre_apart else [])]


# Panels that cannot be true.


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
    solids = sum(panel.share(name).low for name in _counted(panel.basis) if name in figures)
    # Sodium need not be salt: the sodium alone is sure to be there.
    least = solids + salt_share(panel).low / SALT_PER_SODIUM
    if least > 1:
        raise PanelError({"carbohydrate": _too_much(least)}, panel)
    if is_too_salty(panel) and _working(panel).bounds()["water"].high < 0:
        salt = panel.basis.salt
        says = f"Look at the {salt} first: g or mg, and where the decimal point is."
        raise PanelError({salt: f"{_too_much(solids + salt_share(panel).low)} {says}"}, panel)


def _too_much(share: float) -> str:
    at_least = units.write(share * 100, "mass", step=0.1)
    return (
        f"These figures come to at least {at_least} in 100 g, and such a food holds more besides. "
        "That cannot be. Check each figure, and that the panel is for this amount."
    )


# So much more salt than any food of the kind has is a slip, more likely than a new food.
_TOO_SALTY = 1.5


def is_too_salty(panel: Panel) -> bool:
    """Whether a panel has far more salt than any food of its kind that we know."""
    return salt_share(panel).low > _TOO_SALTY * panel.kind.most_salt


def salt_share(panel: Panel) -> Interval:
    """What share of the food the salt may be."""
    share = panel.share(panel.basis.salt)
    factor = SALT_PER_SODIUM if panel.basis.salt == "sodium" else 1.0
    return Interval(share.low * factor, share.high * factor)


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
    figures = dict(panel.figures)
    if panel.basis.fibre_apart:
        figures.setdefault("fibre", _usual_fibre(panel))
    solids = [_given(working, name, name, figures[name], "mass") for name in _counted(panel.basis)]
    solids.append(_salt(working, panel))
    usual = panel.kind.minerals(panel.share("protein"))
    unprinted = [
        working.given("minerals", "usual other minerals", usual.value, "share", usual.range)
    ]
    acid = _acid(panel)
    if acid.range.high:
        unprinted.append(working.given("acid", "usual acid", acid.value, "share", acid.range))
    alcohol = _alcohol(working, panel, density)
    if alcohol is not None:
        unprinted.append(alcohol)
    return _left_over(working, solids, amount, unprinted, to=0.001)


def _acid(panel: Panel) -> Usual:
    """Organic acid. US carbohydrate, being what is left of the whole, mostly counts it in already."""
    if panel.basis.fibre_apart or panel.kind.acid_everywhere:
        return panel.kind.acid
    return Usual(0.0, Interval.exactly(0.0))


def _given(working: Working, key: str, label: str, figure: Figure, kind: str) -> Name:
    if not figure.text:
        label = f"{label}, estimated" if key == "density" else f"usual {label}"
    elif re.match(r"[^\d.,]", figure.text):
        label += f" (printed “{figure.text}”)"
    return working.given(key, label, figure.value, kind, figure.range)


def _usual_fibre(panel: Panel) -> Figure:
    """Fibre that the pack does not print: what the kind of food holds, in the panel's amount."""
    usual = panel.kind.fibre
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
    unprinted: list[Name],
    to: float,
) -> Working:
    """The end that every panel shares: the solids, their share, and the water left over.

    `unprinted` are shares of the weight that no figure in grams tells: minerals, acid, alcohol.
    """
    total = working.step(
        "solids",
        "solids on the panel",
        summed(solids),
        "mass",
        to=0.1,
        why="Add up what the panel says is not water.",
    )
    share = working.step(
        "share",
        "share of the solids",
        total / amount,
        "share",
        to=0.001,
        role=PART_OF_A_WHOLE,
        why="Compare them with the weight the panel is for.",
    )
    left = 1 - share
    for other in unprinted:
        left = left - other
    working.step(
        "water",
        "water content",
        left,
        "share",
        to=to,
        role=PART_OF_A_WHOLE,
        why="What is left of 100 % is water."
        + (" The panel does not print the other minerals." if unprinted else ""),
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
    plausible_low=0.01,
    plausible_high=1.0,
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
    minerals = []
    if other_minerals:
        minerals.append(working.given("minerals", "other minerals", other_minerals, "share"))
    return _left_over(working, solids, amount, minerals, to=0.001)


@quantity(
    "water from a US pack",
    "the water content of a food from the figures a US pack prints for one serving",
    Slot("serving", "mass", 15, 500),
    Slot("fat", "mass", 0, 100),
    Slot("protein", "mass", 0, 60),
    Slot("carbohydrate", "mass", 0, 100),
    Slot("sodium", "mass", 0.005, 3),
    Slot("other minerals", "share", 0, 0.02, optional=True),
    plausible_low=0.01,
    plausible_high=1.0,
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
    salty = working.given("sodium", "sodium", sodium, "mass", role="sodium")
    solids.append(_salt_step(working, salty))
    minerals = []
    if other_minerals:
        minerals.append(working.given("minerals", "other minerals", other_minerals, "share"))
    return _left_over(working, solids, amount, minerals, to=0.001)
