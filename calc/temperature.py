"""Dough temperature: how warm the liquid must be, how much ice, and what to warm instead.

Heat capacities come from composition (`COMPONENTS`). A dough's heat balance is: what
the cold parts take up, the warm parts and the mixer give. `balance` finds the temperature of one
part, `ice_working` the ice, `plan` tries one help after the other. The trade's own short rules
(`water_temperature`, `ice_needed`, `friction_factor`) are beside them.

Heat capacities are in J/(g·K), temperatures in °C, masses in grams. Heat lost to the room while
mixing, and the heat that wet flour gives off, are part of the friction rise: measure it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from calc.composition import Ingredient, find
from calc.expression import Expression, Name, summed
from calc.formula import FormulaError
from calc.interval import Interval
from calc.registry import FLOUR, LIQUID_WEIGHT, Slot, quantity
from calc.words import capital, the
from calc.working import Working

# c = a + b t + c t² in J/(g·K), t in °C: Effects of temperature and composition on
# the thermal properties of foods, in Food Engineering and Process Applications 1 (1986). Not read
# in the paper: copies of protein, fat, carbohydrate, fibre, ash and ice in four public programs
# agree (one slip of a power for fat aside), and the library CoolProp gives the same numbers.
# Water: one copy prints 4.1762, two print 4.1289; at 20 °C the IAPWS-95 standard has 4.184, so the
# first is taken. Alcohol: a line through the ethanol row of a chemical engineers' handbook (2.26 at
# 3 °C, 2.41 at 23 °C, 2.60 at 41 °C).
COMPONENTS = {
    "water": (4.1762, -9.0864e-5, 5.4731e-6),
    "protein": (2.0082, 1.2089e-3, -1.3129e-6),
    "fat": (1.9842, 1.4733e-3, -4.8008e-6),
    "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6),
    "fibre": (1.8459, 1.8306e-3, -4.6509e-6),
    "ash": (1.0926, 1.8896e-3, -3.6817e-6),
    "ice": (2.0623, 6.0769e-3, 0.0),
    "alcohol": (2.23, 8.9e-3, 0.0),
    # Stainless steel, from memory.
    "steel": (0.50, 0.0, 0.0),
}
# Where the equations above hold, °C.
LOWEST, HIGHEST = -40.0, 150.0

# Heat to melt ice, J/g. ASHRAE Handbook Refrigeration (2006), chapter 9, counts with 333.6; NZIFST
# Unit Operations in Food Processing, appendix 7, with 335.
HEAT_OF_MELTING = 334.0
# Where water freezes, °C.
FREEZING = 0.0
# The same heat in degrees of water, as the trade counts it: 334 ÷ 4.18, rounded (144 °F).
MELTING_IN_DEGREES = 80.0

# A bowl takes part in the heat, not in the dough.
BOWL = Ingredient("bowl", "steel bowl", "bowl", 0.0, Interval.exactly(0.0))


# What a part holds, and its heat capacity.


def _shares(ingredient: Ingredient) -> dict[str, float]:
    """Shares by component; fibre is taken out of the carbohydrate by difference."""
    if ingredient == BOWL:
        return {"steel": 1.0}
    fibre = ingredient.fibre or 0.0
    shares = {
        "water": ingredient.water,
        "protein": ingredient.protein or 0.0,
        "fat": ingredient.fat or 0.0,
        "carbohydrate": max(0.0, (ingredient.carbohydrate or 0.0) - fibre),
        "fibre": fibre,
        "ash": ingredient.ash or 0.0,
        "alcohol": ingredient.alcohol or 0.0,
    }
    whole = sum(shares.values())
    return {part: share / max(1.0, whole) for part, share in shares.items() if share}


def _mean(component: str, start: float, end: float) -> float:
    """Mean of the component's equation from `start` to `end`: exact, for it is a polynomial."""
    a, b, c = COMPONENTS[component]
    return a + b * (start + end) / 2 + c * (start * start + start * end + end * end) / 3


def heat_capacity(ingredient: Ingredient, start: float, end: float | None = None) -> float:
    """Mean heat capacity between two temperatures (°C), or at one, in J/(g·K).

    What the table does not know of an ingredient's solids counts as half carbohydrate and half
    protein. Water counts as liquid. Measured values for dry foods are a little lower: for flour
    tables print 1.8 to 1.9 where this gives 2.0.
    """
    return sum(_between(ingredient, start, end)) / 2


def heat_capacity_range(
    ingredient: Ingredient, start: float, end: float | None = None
) -> Interval | None:
    """What `heat_capacity` may be, J/(g·K), when some solids are unknown; None when all are known."""
    low, high = _between(ingredient, start, end)
    return Interval(low, high) if high - low > 0.005 else None


def _between(
    ingredient: Ingredient, start: float, end: float | None, frozen: bool = False
) -> tuple[float, float]:
    start = min(max(start, LOWEST), HIGHEST)
    end = start if end is None else min(max(end, LOWEST), HIGHEST)
    shares = _shares(ingredient)
    if frozen:
        shares["ice"] = shares.pop("water", 0.0)
    known = sum(share * _mean(part, start, end) for part, share in shares.items())
    unknown = 1 - sum(shares.values())
    low, high = (unknown * _mean(part, start, end) for part in ("carbohydrate", "protein"))
    return known + low, known + high


# How warm a part may be made.


@dataclass(frozen=True)
class Warmest:
    """The temperature (°C) a part should not be warmed above, why, and who says so."""

    celsius: float
    why: str
    source: str = "Common practice, without a source"


_FOR_YEAST = Warmest(
    43.0,
    "warmer liquid may harm yeast that is dissolved in it, or crumbled into it",
    "Packs of dry yeast print 100 to 115 °F for that",
)
# Flour takes heat out of the liquid before the yeast meets it.
_YEAST_IN_FLOUR = Warmest(
    54.0,
    "warmer liquid may harm even yeast that is mixed into the flour",
    "Packs of instant yeast print 120 to 130 °F for that, and that yeast dies at 140 °F",
)
_WARMEST = {
    "egg": Warmest(38.0, "in a hotter bath its edge may set"),
    "flour": Warmest(40.0, "warmer flour may harm the yeast"),
    "bowl": Warmest(50.0, "a hotter bowl burns hands and may harm the yeast"),
    # Yogurt is made at 40 to 45 °C, so it does not split there; hotter, it may.
    "cultured": Warmest(43.0, "yogurt is made at 40 to 45 °C; hotter, cultured milk may split"),
}
# Dry yeast that is wetted colder than this may leak what weakens the dough, °C. From memory.
COLD_FOR_DRY_YEAST = 15.0
# As cold as a refrigerator makes flour and bowl, °C.
COLDEST_SOLID = 5.0


def warmest(ingredient: Ingredient, in_flour: bool = False) -> Warmest:
    """How warm an ingredient may go into a dough; `in_flour`: its yeast is mixed into the flour."""
    usual = _YEAST_IN_FLOUR if in_flour and ingredient.group == "water" else _FOR_YEAST
    return _WARMEST.get(ingredient.group, usual)


def is_mixed_into_flour(yeasts: Iterable[Ingredient]) -> bool:
    """Whether all of a dough's yeast is the kind that bakers mix dry into the flour."""
    kinds = {each.key for each in yeasts if each.group == "yeast"}
    return bool(kinds) and kinds <= {"instant-yeast"}


def is_dry_yeast(ingredient: Ingredient) -> bool:
    """Whether it is a yeast that was dried, and so can be wetted too cold."""
    return ingredient.group == "yeast" and ingredient.water < 0.2


@dataclass(frozen=True)
class Part:
    """Something that goes into the dough: grams, °C, and what it may be cooled or warmed to.

    `may` is None when it must go in as it is. Raises FormulaError for a liquid below 0 °C.
    """

    ingredient: Ingredient
    grams: float
    celsius: float
    may: Interval | None = None

    def __post_init__(self) -> None:
        if self.is_liquid and self.celsius < FREEZING:
            raise FormulaError(
                f"A liquid colder than 0 °C is ice. Give {the(self.ingredient.name)} 0 °C or more; "
                "the ice is worked out for you."
            )
        if not LOWEST <= self.celsius <= HIGHEST:
            raise FormulaError(
                f"{capital(self.ingredient.name)} cannot go in at {self.celsius:g} °C."
            )

    @property
    def is_liquid(self) -> bool:
        """Whether it counts as the dough's liquid."""
        return self.ingredient.is_liquid


def movable(part: Part, coldest: float, in_flour: bool = False) -> Part:
    """The part, free to be made as cold as `coldest` (°C) and as warm as is safe (see `warmest`)."""
    top = max(warmest(part.ingredient, in_flour).celsius, coldest)
    return replace(part, may=Interval(coldest, top))


# The heat balance.


def mixed(parts: Sequence[Part], friction: float) -> float:
    """The dough's temperature (°C) when the parts are mixed and the mixer adds `friction` degrees.

    Raises FormulaError when nothing is weighed.
    """
    weighed = [part for part in parts if part.grams]
    if not weighed:
        raise FormulaError("There is nothing to mix. Give the flour and the liquid a weight.")
    found = weighed[0].celsius
    for _ in range(50):
        heats = [p.grams * heat_capacity(p.ingredient, p.celsius, found) for p in weighed]
        found = sum(h * p.celsius for h, p in zip(heats, weighed, strict=True)) / sum(heats)
    return found + friction


def pull(parts: Sequence[Part], number: int) -> float:
    """By how many degrees part `number` must change for the dough to change by one.

    All heat capacities (weight × heat capacity, bowl and all) ÷ that part's own, at 20 °C. Common
    practice says about 2 for the water of a plain dough.
    """
    heats = [each.grams * heat_capacity(each.ingredient, 20.0) for each in parts]
    return sum(heats) / heats[number]


def preferment_part(flour: Ingredient, grams: float, hydration: float, celsius: float) -> Part:
    """A preferment of flour and water (`hydration` a share) as one part, which goes in as it is."""
    share = 1 / (1 + hydration)
    water = find("water")
    mixed_in = {
        name: share * (getattr(flour, name) or 0.0) + (1 - share) * (getattr(water, name) or 0.0)
        for name in ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
    }
    around = Interval.exactly(mixed_in["water"])
    made = Ingredient("preferment", "preferment", "preferment", water_range=around, **mixed_in)
    return Part(made, grams, celsius)


def balance(
    parts: Sequence[Part],
    sought: int,
    wanted: float,
    friction: float,
    thermometer: float = 0.0,
) -> Working:
    """The working of the temperature that part number `sought` must have.

    `wanted` is the dough's temperature (°C) after mixing, `friction` the rise by mixing,
    `thermometer` the step of the thermometer (0: temperatures as stated). The step ``temperature``
    is the answer.

    Raises FormulaError when the sought part weighs nothing.
    """
    part = parts[sought]
    _must_weigh(part)
    name = part.ingredient.name
    working = Working(f"Temperature of {the(name)}")
    before = _before(working, wanted, friction, thermometer)
    others = [(n, other) for n, other in enumerate(parts) if n != sought and other.grams]
    total = _heat(working, others, before, wanted - friction, thermometer, takes_up=True)
    weight = working.given(f"weight{sought}", f"weight of {name}", part.grams, "mass")
    capacity = _capacity(
        working,
        f"capacity{sought}",
        part.ingredient,
        wanted - friction,
        _needed(part, working.values()["heat"], wanted - friction),
    )
    _bring(working, name, before, total, weight * capacity)
    return working


def _bring(working: Working, name: str, before: Name, heat: Name, each_degree: Expression) -> Name:
    """How warm a part must be to bring the heat; `each_degree` is its weight × heat capacity."""
    warmer = working.step(
        "warmer",
        f"degrees that {the(name)} is warmer than the mix",
        heat / each_degree,
        "temperature difference",
        to=0.1,
        why=f"{capital(the(name))} must bring that heat. A minus sign means it must be colder.",
    )
    return working.step(
        "temperature",
        f"temperature of {the(name)}",
        before + warmer,
        "temperature",
        why="It starts from the temperature of the mix.",
    )


def ice_working(
    parts: Sequence[Part],
    iced: int,
    wanted: float,
    friction: float,
    ice: float = FREEZING,
    thermometer: float = 0.0,
) -> Working:
    """The working of how much of liquid number `iced` goes in frozen, at `ice` °C (0 or below).

    The frozen part is of the same liquid, so the formula does not change; the rest of it goes in at
    its own temperature. Freezing counts at 0 °C: milk and juice freeze a little lower. The step
    ``ice`` is the answer in grams: above the liquid's weight when ice alone is not enough, below 0
    when none is needed.

    Raises FormulaError when the part is no liquid or weighs nothing, or the ice is not frozen.
    """
    part = parts[iced]
    _must_weigh(part)
    if not part.is_liquid:
        raise FormulaError(f"{capital(part.ingredient.name)} is not a liquid, so it makes no ice.")
    if not LOWEST <= ice <= FREEZING:
        raise FormulaError("Ice is at 0 °C or colder. A home freezer makes it about −18 °C.")
    frozen = frozen_name(part.ingredient)
    working = Working(f"How much {frozen}")
    before = _before(working, wanted, friction, thermometer)
    weighed = [(n, each) for n, each in enumerate(parts) if each.grams]
    heat = _heat(working, weighed, before, wanted - friction, thermometer, takes_up=False)
    each = working.step(
        "each",
        f"heat that each gram of {frozen} takes away",
        _taken_by_ice(working, part, Name(f"celsius{iced}"), ice, frozen),
        "heat of melting",
        to=0.1,
        why=f"It melts, and {the(part.ingredient.name)} whose place it takes brings no heat.",
    )
    working.step(
        "ice",
        f"weight of {frozen}",
        heat / each,
        "mass",
        why="Share the heat that is too much among the grams of ice.",
    )
    return working


def frozen_name(liquid: Ingredient) -> str:
    """What a frozen liquid is called: ``ice`` for water, ``frozen whole milk``."""
    return "ice" if liquid.water == 1 else f"frozen {liquid.name}"


def _must_weigh(part: Part) -> None:
    if not part.grams:
        raise FormulaError(f"Give {the(part.ingredient.name)} a weight: nothing cannot be warmed.")


def _needed(part: Part, heat: float, before: float) -> float:
    """The temperature that gives a part `heat` (J) more than at `before` °C; its own heat capacity
    depends a little on the answer, so it is found by repeating."""
    found = before
    for _ in range(50):
        found = before + heat / (part.grams * heat_capacity(part.ingredient, before, found))
    return found


def _before(working: Working, wanted: float, friction: float, thermometer: float) -> Name:
    dough = working.given("wanted", "wanted dough temperature", wanted, "temperature")
    rise = working.given("friction", "rise by mixing", friction, "temperature difference")
    return working.step(
        "before",
        "temperature of the mix without friction",
        dough - rise,
        "temperature",
        why="Mixing warms the dough, so the ingredients together must start colder.",
    )


def _heat(
    working: Working,
    parts: Sequence[tuple[int, Part]],
    before: Name,
    mix: float,
    thermometer: float,
    takes_up: bool,
) -> Name:
    """The heat that parts take up (or give up) until they reach the temperature of the mix."""
    verb = "takes up" if takes_up else "gives up"
    heats = []
    for number, part in parts:
        name = part.ingredient.name
        weight = working.given(f"weight{number}", f"weight of {name}", part.grams, "mass")
        capacity = _capacity(working, f"capacity{number}", part.ingredient, part.celsius, mix)
        celsius = working.given(
            f"celsius{number}",
            f"temperature of {the(name)}",
            part.celsius,
            "temperature",
            Interval.around(part.celsius, thermometer / 2) if thermometer else None,
        )
        heats.append(
            working.step(
                f"heat{number}",
                f"heat that {the(name)} {verb}",
                weight * capacity * (before - celsius if takes_up else celsius - before),
                "heat",
                to=10.0,
                why="Heat is weight × heat capacity × degrees. A minus sign turns the direction round.",
            )
        )
    return working.step(
        "heat",
        "heat that the liquid must bring" if takes_up else "heat to take away",
        summed(heats) if heats else before * 0,
        "heat",
        to=10.0,
        why="Every part takes or gives some: add it up.",
    )


def _capacity(working: Working, key: str, ingredient: Ingredient, start: float, end: float) -> Name:
    return working.given(
        key,
        f"heat capacity of {ingredient.name}",
        round(heat_capacity(ingredient, start, end), 4),
        "heat capacity",
        heat_capacity_range(ingredient, start, end),
    )


def _taken_by_ice(
    working: Working, part: Part, celsius: Name, ice: float, frozen: str
) -> Expression:
    taken: Expression = working.given(
        "melting", "heat to melt ice", HEAT_OF_MELTING, "heat of melting"
    )
    if part.ingredient.water < 1:
        name = part.ingredient.name
        taken *= working.given(
            "water content", f"water content of {name}", part.ingredient.water, "share"
        )
    zero = working.given("freezing", "melting point", FREEZING, "temperature")
    if ice < FREEZING:
        cold = working.given("ice temperature", f"temperature of the {frozen}", ice, "temperature")
        capacity = round(sum(_between(part.ingredient, ice, FREEZING, frozen=True)) / 2, 4)
        taken += (zero - cold) * working.given(
            "ice capacity", f"heat capacity of {frozen}", capacity, "heat capacity"
        )
    if part.celsius > FREEZING:
        taken += (celsius - zero) * _capacity(
            working, "replaced capacity", part.ingredient, FREEZING, part.celsius
        )
    return taken


# One help after the other.


@dataclass(frozen=True)
class Plan:
    """What to do for a wanted dough temperature.

    `parts` are as they should go in; `changed` numbers those that had to be warmed or cooled, in
    the order in which they were tried; `ice` grams of part number `iced` go in frozen. `reached` is
    the dough's temperature, `enough` whether that is the wanted one. `working` explains the last
    step.
    """

    parts: tuple[Part, ...]
    changed: tuple[int, ...]
    working: Working
    reached: float
    enough: bool
    iced: int | None = None
    ice: float = 0.0


def plan(
    parts: Sequence[Part],
    wanted: float,
    friction: float,
    ice: float = FREEZING,
    thermometer: float = 0.0,
) -> Plan:
    """Warm or cool what may be: water first, then other liquids, flour, bowl.

    Each part goes no further than it may; the next one takes over what is left. A liquid that would
    have to be colder than it may takes ice (`ice` is its temperature, °C). Raises FormulaError when
    no part may be warmed or cooled.
    """
    helpers = sorted((n for n, p in enumerate(parts) if p.may and p.grams), key=_turn(parts))
    if not helpers:
        raise FormulaError("Nothing may be warmed or cooled. Let the flour or a liquid be free.")
    current = list(parts)
    for number in helpers:
        # The helpers that wait go in as they are.
        working = balance(current, number, wanted, friction, thermometer)
        needed = working.values()["temperature"]
        may = parts[number].may
        changed = tuple(helpers[: helpers.index(number) + 1])
        current[number] = replace(parts[number], celsius=min(max(needed, may.low), may.high))
        if needed in may:
            return Plan(tuple(current), changed, working, wanted, True)
        if needed < may.low and current[number].is_liquid:
            working = ice_working(current, number, wanted, friction, ice, thermometer)
            grams = working.values()["ice"]
            if grams <= current[number].grams:
                return Plan(tuple(current), changed, working, wanted, True, number, grams)
    return Plan(tuple(current), tuple(helpers), working, mixed(current, friction), False)


def _turn(parts: Sequence[Part]):
    groups = ("water", "", "flour", "bowl")

    def turn(number: int) -> int:
        group = parts[number].ingredient.group
        return groups.index(group) if group in groups else 1

    return turn


# The trade's short rules, as problem sets ask for them. Common practice: they take flour, room and
# water as equally heavy factors, which a heat balance does not. Their friction factor is not the
# dough's own rise: it is shared among the factors, so it is that many times the rise. With a
# preferment, most schools keep the mixer's factor as it is; by the algebra it would grow with the
# number of factors. The two differ by one rise in the water: see `docs/parts/dough_temperature`.
FACTORS = 3

# What problems on temperature give, °C.
DOUGH_TEMPERATURE = Slot("dough temperature", "temperature", 10, 40)
FLOUR_TEMPERATURE = Slot("flour temperature", "temperature", -5, 45)
ROOM_TEMPERATURE = Slot("room temperature", "temperature", 0, 45)
FRICTION = Slot("friction factor", "temperature difference", 0, 45)
PREFERMENT_TEMPERATURE = Slot("preferment temperature", "temperature", 0, 45, optional=True)
WATER_TEMPERATURE = Slot("water temperature", "temperature", 0, 60)


def _factors(
    working: Working, flour: float, room: float, preferment: float | None
) -> tuple[Expression, float]:
    """The sum of the temperatures that are known, and how many factors there are with the water."""
    known = working.given("flour", "flour temperature", flour, "temperature") + working.given(
        "room", "room temperature", room, "temperature"
    )
    if preferment is None:
        return known, float(FACTORS)
    return known + working.given(
        "preferment", "preferment temperature", preferment, "temperature"
    ), FACTORS + 1.0


@quantity(
    "water temperature",
    "how warm the water must be, by the trade's short rule",
    DOUGH_TEMPERATURE,
    FLOUR_TEMPERATURE,
    ROOM_TEMPERATURE,
    FRICTION,
    PREFERMENT_TEMPERATURE,
    plausible_low=0,
    plausible_high=60,
)
def water_temperature(
    dough_temperature: float,
    flour_temperature: float,
    room_temperature: float,
    friction_factor: float,
    preferment_temperature: float | None = None,
) -> Working:
    """Water = dough temperature × factors − (flour + room + friction factor). Common practice.

    There are three factors, and four with a preferment. Works alike in °C and °F. No source.
    """
    working = Working("Temperature of the water")
    wanted = working.given(
        "wanted", "wanted dough temperature", dough_temperature, "temperature", role="wanted"
    )
    known, factors = _factors(working, flour_temperature, room_temperature, preferment_temperature)
    friction = working.given(
        "friction", "friction factor", friction_factor, "temperature difference"
    )
    working.step(
        "water",
        "temperature of the water",
        wanted * factors - (known + friction),
        "temperature",
        why=f"The dough is counted as the mean of {factors:.0f} temperatures: take away those you know, "
        "and what the mixer adds.",
    )
    return working


@quantity(
    "friction factor",
    "the friction factor, from a dough that was measured, by the trade's short rule",
    DOUGH_TEMPERATURE,
    FLOUR_TEMPERATURE,
    ROOM_TEMPERATURE,
    WATER_TEMPERATURE,
    PREFERMENT_TEMPERATURE,
    plausible_low=0,
    plausible_high=60,
)
def friction_factor(
    dough_temperature: float,
    flour_temperature: float,
    room_temperature: float,
    water_temperature: float,
    preferment_temperature: float | None = None,
) -> Working:
    """Friction factor = measured dough temperature × factors − (flour + room + water).

    Common practice, no source. The dough itself rises by that ÷ factors. All in °C, or all in °F.
    """
    working = Working("Friction factor")
    dough = working.given(
        "dough", "measured dough temperature", dough_temperature, "temperature", role="wanted"
    )
    known, factors = _factors(working, flour_temperature, room_temperature, preferment_temperature)
    water = working.given("water", "water temperature", water_temperature, "temperature")
    working.step(
        "friction",
        "friction factor",
        dough * factors - (known + water),
        "temperature difference",
        why="What the dough has gained over its ingredients came from mixing.",
    )
    return working


@quantity(
    "ice needed",
    "how much of the water must be ice, by the trade's short rule",
    Slot("water weight", "mass", 50, 100_000),
    Slot("tap temperature", "temperature", 5, 45),
    WATER_TEMPERATURE,
    plausible_low=5,
)
def ice_needed(water_weight: float, tap_temperature: float, water_temperature: float) -> Working:
    """Ice = water × (tap − wanted) ÷ (tap + 80), in °C; in °F, tap + 112. Common practice.

    Ice at its melting point takes the place of tap water; 80 °C is the heat of melting counted in
    degrees of water (334 J/g ÷ 4.18 J/(g·K)).
    """
    working = Working("Ice for the water")
    water = working.given("water", "water in the formula", water_weight, "mass", role="liquid")
    tap = working.given("tap", "temperature of the tap water", tap_temperature, "temperature")
    wanted = working.given("wanted", "wanted water temperature", water_temperature, "temperature")
    zero = working.given("freezing", "melting point of ice", FREEZING, "temperature")
    melting = working.given(
        "melting",
        "degrees of melting",
        MELTING_IN_DEGREES,
        "temperature difference",
        role="melting",
    )
    cooling = working.step(
        "cooling",
        "degrees to cool",
        tap - wanted,
        "temperature difference",
        why="The tap water is too warm by that much.",
    )
    power = working.step(
        "power",
        "degrees of cooling that ice gives",
        tap - zero + melting,
        "temperature difference",
        why=f"Melting cools as much as {MELTING_IN_DEGREES:.0f} °C. Then the melted ice still warms up to the tap's "
        "temperature: add the two.",
    )
    working.step(
        "ice",
        "ice",
        water * cooling / power,
        "mass",
        to=1.0,
        why="The ice is the share of the water that these two make.",
    )
    return working


# The heat balance of two parts, as problem sets ask for it: the heat capacities are told.

FLOUR_CAPACITY = Slot("flour heat capacity", "heat capacity", 1.5, 2.5)
LIQUID_CAPACITY = Slot("liquid heat capacity", "heat capacity", 1.5, 4.3)
RISE = Slot("rise by mixing", "temperature difference", 0, 30)


@dataclass(frozen=True)
class _Told:
    """The givens of a part whose heat capacity is told: weight, heat capacity, temperature."""

    weight: Name
    capacity: Name
    celsius: Name | None = None

    @property
    def each_degree(self) -> Expression:
        return self.weight * self.capacity


def _told(
    working: Working, name: str, grams: float, capacity: float, celsius: float | None = None
) -> _Told:
    return _Told(
        working.given(f"{name} weight", name, grams, "mass"),
        working.given(
            f"{name} capacity", f"heat capacity of {the(name)}", capacity, "heat capacity"
        ),
        None
        if celsius is None
        else working.given(
            f"{name} celsius", f"temperature of {the(name)}", celsius, "temperature"
        ),
    )


@quantity(
    "dough temperature by heat",
    "how warm flour and a liquid come to be when they are mixed, by a heat balance",
    FLOUR,
    FLOUR_TEMPERATURE,
    FLOUR_CAPACITY,
    LIQUID_WEIGHT,
    Slot("liquid temperature", "temperature", 0, 60),
    LIQUID_CAPACITY,
    RISE,
    plausible_low=1,
    plausible_high=60,
)
def dough_temperature(
    flour: float,
    flour_temperature: float,
    flour_heat_capacity: float,
    liquid_weight: float,
    liquid_temperature: float,
    liquid_heat_capacity: float,
    rise_by_mixing: float,
) -> Working:
    """Heat above 0 °C ÷ (weight × heat capacity, added up) + the rise by mixing, in °C.

    The same balance as `mixed`, for two parts. Masses in grams, heat capacities in J/(g·K).
    """
    working = Working("Temperature of the dough")
    parts = {
        "flour": _told(working, "flour", flour, flour_heat_capacity, flour_temperature),
        "liquid": _told(working, "liquid", liquid_weight, liquid_heat_capacity, liquid_temperature),
    }
    rise = working.given("friction", "rise by mixing", rise_by_mixing, "temperature difference")
    one, two = (
        working.step(
            f"{name} heat",
            f"heat that {the(name)} brings, counted from 0 °C",
            part.each_degree * part.celsius,
            "heat",
            to=10.0,
            why="Heat is weight × heat capacity × degrees.",
        )
        for name, part in parts.items()
    )
    mix = working.step(
        "mix",
        "temperature of the mix",
        (one + two) / (parts["flour"].each_degree + parts["liquid"].each_degree),
        "temperature",
        to=0.1,
        why="Share all the heat among all that it must warm: each weight times its heat capacity.",
    )
    working.step(
        "dough",
        "temperature of the dough",
        mix + rise,
        "temperature",
        why="Mixing warms the dough.",
    )
    return working


@quantity(
    "liquid temperature by heat",
    "how warm the liquid must be for a wanted dough temperature, by a heat balance",
    FLOUR,
    FLOUR_TEMPERATURE,
    FLOUR_CAPACITY,
    LIQUID_WEIGHT,
    LIQUID_CAPACITY,
    DOUGH_TEMPERATURE,
    RISE,
    plausible_low=0,
    plausible_high=60,
)
def liquid_temperature(
    flour: float,
    flour_temperature: float,
    flour_heat_capacity: float,
    liquid_weight: float,
    liquid_heat_capacity: float,
    dough_temperature: float,
    rise_by_mixing: float,
) -> Working:
    """The same balance as `balance`, for flour and one liquid, in °C.

    Masses in grams, heat capacities in J/(g·K).
    """
    working = Working("Temperature of the liquid")
    before = _before(working, dough_temperature, rise_by_mixing, 0.0)
    dry = _told(working, "flour", flour, flour_heat_capacity, flour_temperature)
    liquid = _told(working, "liquid", liquid_weight, liquid_heat_capacity)
    heat = working.step(
        "heat",
        "heat that the flour takes up",
        dry.each_degree * (before - dry.celsius),
        "heat",
        to=10.0,
        why="Heat is weight × heat capacity × degrees.",
    )
    _bring(working, "liquid", before, heat, liquid.each_degree)
    return working
